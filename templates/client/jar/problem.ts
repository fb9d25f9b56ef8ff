// Why there is no recipe or no plan. The words for each code are in the catalogue
// under problem.CODE.

import { Refusal } from "../unit/text";

export type Code =
  | "bad-text"
  | "no-products"
  | "no-name"
  | "two-of-a-name"
  | "no-jar"
  | "no-rate"
  | "no-spray-volume"
  | "no-density"
  | "overfull"
  | "too-small"
  | "bad-share"
  | "bad-state"
  | "bad-code"
  | "no-area"
  | "no-tank"
  | "bad-fill"
  | "too-many-loads";

/** One reason; product is its name, "" when it is about the whole. */
export interface Problem {
  code: Code;
  product: string;
  refusal?: Refusal; // of a text that could not be read
  field?: string; // the key of that text in its request
}

/** Everything that is wrong with one request, in order of reading. */
export class Problems extends Error {
  constructor(readonly list: Problem[]) {
    super(list.map((p) => p.code).join(", "));
    this.name = "Problems";
  }
}
