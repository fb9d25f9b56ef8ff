// The order of addition by a table of steps. As internal/jar/order.go.

import type { Product } from "./product";

export type Reason = "not-known" | "form" | "class" | "bag" | "label";

export interface Step {
  id: string;
  bags: boolean;
  forms: readonly string[];
  classes: readonly string[];
}

/** Where a product stands; step is undefined when none claims it. */
export interface Placed {
  given: number; // index in the list it came in
  step?: Step;
  reason: Reason;
  cls: string; // the class that decided, with reason "class"
}

type Ranked = Placed & { rank: number };

/**
 * The products in their order of addition, first to last. Products of one step
 * keep the order they were given in; a label's position counts from 1 in the whole
 * sequence.
 */
export function order(products: readonly Product[], steps: readonly Step[]): Placed[] {
  const free: Ranked[] = [];
  const fixed: Ranked[] = [];
  products.forEach((p, given) => {
    const r = rankOf(p, given, steps);
    if (p.position > 0) fixed.push({ ...r, reason: "label", rank: p.position });
    else free.push(r);
  });
  free.sort((a, b) => a.rank - b.rank);
  fixed.sort((a, b) => a.rank - b.rank);
  let last = 0;
  for (const f of fixed) {
    const at = Math.min(Math.max(f.rank - 1, last), free.length);
    free.splice(at, 0, f);
    last = at + 1;
  }
  return free;
}

/** The step that claims p, with its index as rank; behind all of them when none does. */
function rankOf(p: Product, given: number, steps: readonly Step[]): Ranked {
  const found = (rank: number, reason: Reason, cls = ""): Ranked => ({ given, rank, reason, cls, step: steps[rank]! });
  const bag = steps.findIndex((s) => s.bags && p.bag);
  if (bag >= 0) return found(bag, "bag");
  for (let i = 0; i < steps.length; i++) {
    const cls = steps[i]!.classes.find((c) => p.classes.includes(c));
    if (cls !== undefined) return found(i, "class", cls);
  }
  const form = steps.findIndex((s) => p.form !== "" && s.forms.includes(p.form));
  if (form >= 0) return found(form, "form");
  return { given, rank: steps.length, reason: "not-known", cls: "" };
}
