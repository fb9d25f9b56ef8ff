// For each conflict of a mix, what leaving out one of its products would change, and
// the products of the same purpose that remove it without bringing another.

import { type Book, type Item, unknown, type Verdict } from "../compat/book";
import type { Uses } from "../compat/json";
import type { Answer, Finding, Judge } from "../compat/judge";
import { type Without, withoutOne } from "../compat/whatif";

/** From this verdict on a finding is a conflict: keep apart. */
export const conflicting: Verdict = 3;

export interface Swap {
  out: string;
  in: string;
  verdict: Verdict; // of the mix after it
  untested: number; // pairs in it
  left: number; // other conflicts that it does not remove
}

/** A mix without one product. */
export interface Drop extends Without {
  left: number; // conflicts that stay
}

/** Products that may not share a tank, with all the evidence that says so. */
export interface Conflict {
  items: string[];
  verdict: Verdict;
  findings: Finding[]; // most cautious first
  drops: Drop[]; // each of its products left out
  swaps: Swap[]; // known answers first, no evidence last
}

const conflictFindings = (a: Answer): Finding[] => a.findings.filter((f) => f.verdict >= conflicting);

/**
 * The conflicts of a mix by the products that they are about. What is said of more
 * products than another conflict names belongs to that one.
 */
export function conflictsOf(a: Answer): Conflict[] {
  const all = conflictFindings(a).map((f) => ({ f, items: itemsOf(a, f).map((i) => i.id) }));
  all.sort((x, y) => x.items.length - y.items.length);
  const list: Conflict[] = [];
  for (const { f, items } of all) {
    const known = list.find((c) => c.items.every((id) => items.includes(id)));
    if (known) {
      known.findings.push(f);
      if (f.verdict > known.verdict) known.verdict = f.verdict;
    } else list.push({ items, verdict: f.verdict, findings: [f], drops: [], swaps: [] });
  }
  for (const c of list) c.findings.sort((x, y) => a.findings.indexOf(x) - a.findings.indexOf(y));
  return list.sort((x, y) => y.verdict - x.verdict);
}

function itemsOf(a: Answer, f: Finding): Item[] {
  if (f.evidence.kind === "jars") {
    const places = new Set(f.evidence.products);
    return a.items.filter((item) => places.has(item.place));
  }
  const ids = new Set(f.matches.map((m) => m.item));
  return a.items.filter((item) => ids.has(item.id));
}

/** The mix without each product of a conflict. A product that stands alone in its conflict, or is not known, can be left out as well. */
export function dropsOf(judge: Judge, a: Answer, c: Conflict): Drop[] {
  if (a.items.length < 2) return [];
  return c.items.map((id) => {
    const w = withoutOne(judge, a, id);
    return { ...w, left: conflictsOf(w.answer).length };
  });
}

/** Products with a use for a purpose that another also serves, on the crop when one is given. */
export class Purposes {
  private readonly by = new Map<string, number[]>();

  constructor(private readonly uses: Uses) {
    uses.of.forEach((list, place) => {
      for (let i = 0; i < list.length; i += 2) {
        for (const crop of new Set([-1, list[i + 1]!])) {
          const key = `${list[i]} ${crop}`;
          const others = this.by.get(key);
          if (others) others.push(place);
          else this.by.set(key, [place]);
        }
      }
    });
  }

  same(place: number, crop: string): number[] {
    const c = crop === "" ? -1 : this.uses.crops.indexOf(crop);
    if (crop !== "" && c < 0) return [];
    const own = this.uses.of[place] ?? [];
    const found = new Set<number>();
    for (let i = 0; i < own.length; i += 2) {
      if (crop !== "" && own[i + 1] !== c) continue;
      for (const p of this.by.get(`${own[i]} ${c}`) ?? []) found.add(p);
    }
    found.delete(place);
    return [...found].sort((a, b) => a - b);
  }
}

/** Candidates by the product that they would replace. */
export type Candidates = ReadonlyMap<string, readonly number[]>;

/** The candidates for a conflict, so that what is known of them can be loaded first. */
export function candidates(book: Book, purposes: Purposes, a: Answer, c: Conflict, crop: string): Candidates {
  const held = new Set(a.items.map((item) => item.place));
  const out = new Map<string, number[]>();
  for (const id of c.items) {
    const place = book.placeOf.get(id);
    if (place !== undefined) out.set(id, purposes.same(place, crop).filter((p) => !held.has(p)));
  }
  return out;
}

/** How many replacements are shown for a product. */
const mostSwaps = 6;

/** The replacements that remove a conflict without bringing another: none that the new product takes part in. */
export function swapsFor(judge: Judge, a: Answer, tried: Candidates): Swap[] {
  const swaps: Swap[] = [];
  for (const [out, places] of tried) {
    const rest = a.items.filter((item) => item.id !== out).map((item) => item.id);
    const found: Swap[] = [];
    for (const place of places) {
      const id = judge.book.ids[place]!;
      const now = judge.mix([...rest, id]);
      const left = conflictsOf(now);
      const brings = conflictFindings(now).some((f) => itemsOf(now, f).some((item) => item.id === id));
      if (!brings) found.push({ out, in: id, verdict: now.verdict, untested: now.untested.length, left: left.length });
    }
    swaps.push(...found.sort(compareSwaps).slice(0, mostSwaps));
  }
  return swaps;
}

/** What is known before what nobody has tested, then the less cautious, then the less untested. */
function compareSwaps(x: Swap, y: Swap): number {
  return x.left - y.left || Number(x.verdict === unknown) - Number(y.verdict === unknown) || x.verdict - y.verdict || x.untested - y.untested;
}
