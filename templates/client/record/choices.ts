// What the office knows, for the form: written by internal/page, which a test holds
// to this.

export interface Named {
  id: string;
  name: string;
  lang?: string;
}

export interface ProductChoice {
  id: string;
  name: string;
  dry?: boolean; // weighed
  dense?: boolean; // its density is known
}

/** One thing that a reading may hold: words to choose from, or a quantity. */
export interface Sign {
  field: string;
  name: string;
  words?: string[];
  unit?: string;
}

export interface Choices {
  schema: number;
  lang: string; // of the page
  own: string; // of the office
  untranslated: string; // in the office's language: that a text stands in another
  published: string; // day of the publication
  times: string[]; // at which the office reads its jars
  roles: string[];
  vessels: string[];
  products: ProductChoice[];
  places: Named[];
  waters: Named[];
  investigations: Named[];
  signs: Sign[];
}

/** The product that a writer means by a name or id, if the office knows it. */
export function productOf(c: Choices, text: string): ProductChoice | undefined {
  const wanted = simple(text);
  return c.products.find((p) => simple(p.name) === wanted || p.id === wanted);
}

/** Spaces made single, and letters of one case, for comparing names. */
function simple(s: string): string {
  return s.trim().replace(/\s+/g, " ").replace(/[A-Z]/g, (c) => String.fromCharCode(c.charCodeAt(0) + 32));
}
