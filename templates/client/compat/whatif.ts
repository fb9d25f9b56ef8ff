// What becomes of a mix when one product is left out of it. As
// internal/compat/whatif.go, which a test holds this to.

import type { Answer, Judge } from "./judge";

/** A mix without one of its items. */
export interface Without {
  out: string;
  answer: Answer; // of the rest, which may be a single item
}

/** Each item of a mix left out, in item order; none when there is nothing else in it. */
export function without(judge: Judge, a: Answer): Without[] {
  if (a.items.length < 2) return [];
  return a.items.map((item) => withoutOne(judge, a, item.id));
}

/** A mix with one item left out. */
export function withoutOne(judge: Judge, a: Answer, out: string): Without {
  return { out, answer: judge.judge(a.items.filter((item) => item.id !== out)) };
}
