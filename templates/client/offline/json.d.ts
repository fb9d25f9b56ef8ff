// What internal/site writes before the worker, as Copy and CopyEdition there.

/** What the worker knows of the publication that it came with. */
export interface Copy {
  version: string; // of the publication
  editions: Edition[];
  rest: string[] | null; // sums of the lists of all other files, offline/rest-N.txt
}

/** What readers of one language keep. */
export interface Edition {
  lang: string;
  folder: string; // of its pages, with a last slash; "" for the office's own language
  list: string; // path of the list of its files
  sum: string; // of the list
}
