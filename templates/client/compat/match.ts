// Which items of a mix can stand for the members of a rule. As internal/compat/match.go
// for mixes of products: a class is never asked for here.

import type { Book, Carrier, Item, Rule } from "./book";

/** One way to let distinct items stand for the members. */
export interface Matching {
  items: number; // bits of positions, without carriers
  stand: Stand[]; // of each member
  exact: boolean; // every item is itself the member it stands for
  suppose: string[]; // carriers that are not known to be in the tank
}

/** An item or a carrier that stands for a member. */
export interface Stand {
  id: string;
  carrier: boolean;
}

interface Found {
  stand: number[]; // positions in the pool
  cost: number;
}

const supposing = 1000;

/** One matching for each set of items that can stand for the members, in order of what stands. */
export function matchings(book: Book, r: Rule, items: readonly Item[], carriers: readonly Carrier[], maybe: readonly Carrier[]): Matching[] {
  const supposed = maybe.filter((c) => r.members.includes(c.key));
  const known = items.length + carriers.length;
  const fits = (i: number, member: number): boolean => {
    if (i < items.length) return items[i]!.keys.has(member);
    if (i < known) return carriers[i - items.length]!.above.has(member);
    return supposed[i - known]!.key === member;
  };
  const best = search(r, items.length, known, known + supposed.length, fits);
  const idAt = (i: number): string => {
    if (i < items.length) return items[i]!.id;
    return i < known ? carriers[i - items.length]!.id : supposed[i - known]!.id;
  };
  const all: Matching[] = [];
  for (const [set, f] of best) {
    all.push({
      items: set,
      stand: f.stand.map((i) => ({ id: idAt(i), carrier: i >= items.length })),
      exact: f.stand.every((i, n) => i >= items.length || idAt(i) === book.core.keys[r.members[n]!]),
      suppose: f.stand.filter((i) => i >= known).map(idAt),
    });
  }
  return all.sort((a, b) => compareStands(a.stand, b.stand));
}

/** Tries every free position for each member; of two ways for one set of items the cheaper, then the first, counts. */
function search(r: Rule, mixed: number, known: number, size: number, fits: (i: number, member: number) => boolean): Map<number, Found> {
  const best = new Map<number, Found>();
  const stand: number[] = [];
  const place = (n: number, set: number, cost: number): void => {
    if (n === r.members.length) {
      const old = best.get(set);
      if (set !== 0 && (!old || cost < old.cost)) best.set(set, { stand: [...stand], cost });
      return;
    }
    for (let i = 0; i < size; i++) {
      if (stand.includes(i) || !fits(i, r.members[n]!)) continue;
      stand.push(i);
      place(n + 1, i < mixed ? set | (1 << i) : set, i < known ? cost : cost + supposing);
      stand.pop();
    }
  };
  place(0, 0, 0);
  return best;
}

function compareStands(a: readonly Stand[], b: readonly Stand[]): number {
  for (let i = 0; i < a.length; i++) {
    const c = compareText(a[i]!.id, b[i]!.id);
    if (c !== 0) return c;
  }
  return 0;
}

/** The order of bytes, which for IDs is that of their characters. */
export function compareText(a: string, b: string): number {
  return a < b ? -1 : a > b ? 1 : 0;
}
