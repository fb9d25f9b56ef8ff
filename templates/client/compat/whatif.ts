// What becomes of a mix when one product is left out of it or another takes its place.
// As internal/compat/whatif.go, which a test holds this to.

import { unknown } from "./book";
import { conflictsOf, graveOf } from "./conflict";
import type { Uses } from "./json";
import type { Answer, Judge } from "./judge";

/** A mix without one of its items, with another in its place or with none. */
export interface Change {
  out: string;
  in: string; // "" for none
  answer: Answer; // of the changed mix, which may be a single item
  left: number; // conflicts in it
  untested: string[]; // its items with which nobody has tested what came in
}

/** What serves a purpose of an item that takes part in a conflict, and takes part in none in its place. */
export interface Replacement {
  out: string;
  found: number; // how many there are
  best: Change[]; // of these the first few
}

/** Each item of a mix left out, in item order; none when there is nothing else in it. */
export function without(judge: Judge, a: Answer): Change[] {
  if (a.items.length < 2) return [];
  return a.items.map(({ id }) => withoutOne(judge, a, id));
}

/** A mix with one item left out. */
export function withoutOne(judge: Judge, a: Answer, out: string): Change {
  return changed(out, "", judge.judge(a.items.filter((item) => item.id !== out)));
}

function changed(out: string, taken: string, answer: Answer): Change {
  const pairs = answer.untested.filter((pair) => pair.includes(taken));
  return { out, in: taken, answer, left: conflictsOf(answer).length, untested: pairs.map(([x, y]) => (x === taken ? y : x)) };
}

/** Which products serve a purpose, on one crop or on any. */
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

  /** The places of the products with a use for a purpose that another also serves, on the crop when one is given. */
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

/** How many replacements of one item are listed: as many as fit a phone's screen. */
const mostReplacements = 6;

/**
 * For each item of a conflict what may take its place, in item order. It yields after
 * each product that it tries, so that a page can answer its reader in between.
 */
export function* replacements(judge: Judge, purposes: Purposes, a: Answer): Generator<undefined, Replacement[]> {
  const list: Replacement[] = [];
  if (a.items.length < 2) return list;
  const conflicts = conflictsOf(a);
  for (const item of a.items) {
    if (!conflicts.some((c) => c.items.includes(item.id))) continue; // the trouble lies elsewhere
    const r: Replacement = { out: item.id, found: 0, best: [] };
    for (const place of purposes.same(item.place, judge.setting.situation.crop ?? "")) {
      if (!a.items.some((other) => other.place === place)) tryOne(judge, a, r, judge.book.item(place).id);
      yield;
    }
    if (r.found > 0) list.push(r);
  }
  return list;
}

function tryOne(judge: Judge, a: Answer, r: Replacement, taken: string): void {
  const now = judge.mix([...a.items.map((item) => item.id).filter((id) => id !== r.out), taken]);
  if (graveOf(now).some((g) => g.items.includes(taken))) return;
  r.found++;
  r.best = [...r.best, changed(r.out, taken, now)].sort(compareChanges).slice(0, mostReplacements);
}

/** The fewest other conflicts, then what was tested with most of the tank, then what is known, then the less cautious; else by ID. */
function compareChanges(a: Change, b: Change): number {
  return (
    a.left - b.left ||
    a.untested.length - b.untested.length ||
    Number(a.answer.verdict === unknown) - Number(b.answer.verdict === unknown) ||
    a.answer.verdict - b.answer.verdict
  );
}

/** All of a generator at once. */
export function whole<T>(g: Generator<undefined, T>): T {
  for (;;) {
    const { done, value } = g.next();
    if (done) return value;
  }
}
