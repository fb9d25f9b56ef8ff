// Written from the Go structs by go test ./internal/planner -update. Do not edit.

export interface Phrase {
  text: string;
  lang?: string;
}

export interface Named {
  id: string;
  name: Phrase;
}

export interface Water {
  id: string;
  name: Phrase;
  hardness?: string;
  ph?: string;
  bicarbonate?: string;
  measured?: string;
}

export interface StepWords {
  name: Phrase;
  do: Phrase;
}

export interface Caution {
  hazard: string;
  title: Phrase;
  lines: Phrase[];
}

export interface Words {
  keys: Phrase[];
  also: Record<string, string[]>;
  crops: Named[];
  places: Named[];
  carriers: Named[];
  purposes: Named[];
  waters: Water[];
  gates: string[];
  steps: StepWords[];
  forms: Record<string, string>;
  cautions: Caution[];
  example: string;
}

export interface Saying {
  what: Phrase;
  why?: Phrase;
  steps?: Phrase[];
  mends?: Phrase[];
  instead?: Phrase;
  use?: string[];
  who: string[];
}

export interface Says {
  first: number;
  rules: Saying[];
}

export interface HalfPoint {
  ph: [number, number];
  stable?: boolean;
  about?: boolean;
  low?: number;
  high?: number;
}

export interface Record {
  points: HalfPoint[];
  where?: string;
  who: string[];
}

export interface Lasting {
  active: string;
  records: Record[];
}

export interface Carbonate {
  id: string;
  name: string;
  per_gram: number;
}

export interface Bench {
  actives: Lasting[];
  carbonates: Carbonate[];
}
