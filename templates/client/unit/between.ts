// Readers with bounds. They are set wide, by common sense, to catch a slip of a unit or
// of zeros before it becomes a result that looks right.

import { int } from "./number";
import { isPerArea, type Rate } from "./rate";
import { Refusal } from "./text";

const beyond = (): Refusal => new Refusal("out-of-range", 0, [], "", true);

/** A reader that takes nothing below or above two values, written as a reader of the field would. */
export function between<T extends { cmp(other: T): number }>(read: (s: string) => T, low: string, high: string): (s: string) => T {
  const [least, most] = [read(low), read(high)];
  return (s) => {
    const v = read(s);
    if (v.cmp(least) < 0 || v.cmp(most) > 0) throw beyond();
    return v;
  };
}

/** A reader of rates that could be: no more than 10 L or kg/m², and in a volume of spray no more than twice its weight. */
export function possible(read: (s: string) => Rate): (s: string) => Rate {
  return (s) => {
    const r = read(s);
    if (r.base.cmp(isPerArea(r.basis) ? int(10_000) : int(2)) > 0) throw beyond();
    return r;
  };
}
