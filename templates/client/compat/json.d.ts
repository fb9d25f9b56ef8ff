// Written from the Go structs by go test ./internal/planner -update. Do not edit.

export interface Signature {
  keys: number[];
  handling?: string[];
  hides?: string[];
}

export interface Carrier {
  key: number;
  above: number[];
  when?: number[];
}

export interface Place {
  id: string;
  part_of?: string;
}

export interface Gate {
  factor: string;
  low?: string;
  low_open?: boolean;
  high?: string;
  high_open?: boolean;
  ref?: string;
  first?: string;
  then?: string;
}

export interface Mend {
  key: number;
  to: string;
}

export interface Count {
  symptom: string;
  reacted?: number;
  recorded?: number;
  reports?: number;
  independent?: number;
  upper?: number;
}

export interface Doubt {
  code: string;
  symptoms?: string[];
  n?: number;
  count?: Count;
}

export interface Rule {
  id: string;
  notice?: boolean;
  members: number[];
  verdict: string;
  stated?: string;
  kind: string;
  grade: string;
  hazards?: string[];
  care?: string[];
  symptoms?: string[];
  firm?: boolean;
  law?: boolean;
  demand?: boolean;
  lapsed?: boolean;
  when?: number[];
  mends?: Mend[];
  doubts?: Doubt[];
}

export interface Step {
  id: string;
  bags?: boolean;
  forms?: string[];
  classes?: string[];
  wait?: string;
}

export interface Least {
  liquid?: string;
  dry?: string;
}

export interface Core {
  schema: number;
  published: string;
  per_shard: number;
  per_says: number;
  keys: string[];
  needed: string[];
  signatures: Signature[];
  carriers: Carrier[];
  places: Place[];
  gates: Gate[];
  rules: Rule[];
  steps: Step[];
  first_water: string;
  jar: string;
  least: Least;
  actives: string[];
  ids: string[];
  names: string[];
  of: number[];
  holds: number[][];
  also: Record<string, string[]>;
}

export interface Use {
  crop?: string;
  timing?: string;
  purpose?: string;
  rate?: [string, string];
}

export interface Product {
  form?: string;
  dry?: boolean;
  bag?: boolean;
  density?: string;
  position?: number;
  rate?: [string, string];
  spray?: [string, string];
  uses?: Use[];
}

export interface Ordered {
  order: number[];
  set: Set;
}

export interface Set {
  n: number;
  products: number[];
  jars: string[];
  reacted?: string[];
  worst?: string[];
  clear?: string[];
  unjudged?: boolean;
  hazards?: string[];
  grade: string;
  counts?: Count[];
  doubts?: Doubt[];
  ran_at?: Gate[];
  orders?: Ordered[];
}

export interface Opposed {
  rule: number;
  products: number[];
  carriers?: number[];
  relaxes?: boolean;
  lenient?: number;
}

export interface Shard {
  first: number;
  products: Product[];
  sets: Set[];
  opposed: Opposed[];
}

export interface Uses {
  crops: string[];
  purposes: string[];
  of: number[][];
  sets: Set[];
  opposed: Opposed[];
}
