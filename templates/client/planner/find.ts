// Finds products by name, active ingredient, class or a known misspelling, and
// forgives one slip in a word of four letters or more.

import type { Book } from "../compat/book";
import { fold } from "../search/fold";
import { distance } from "../unit/near";
import type { Words } from "./json";

/** Why a product was found, best first. */
const reasons = ["name", "also", "active", "class"] as const;
export type FoundBy = (typeof reasons)[number];

export interface Found {
  place: number;
  by: FoundBy;
  what: string; // the active, class or other name that matched; "" for the name itself
  slip: boolean;
}

interface Entry {
  place: number;
  by: FoundBy;
  what: string;
  words: string[];
}

const wordsOf = (s: string): string[] => fold(s).split(/[^\p{L}\p{N}]+/u).filter((w) => w !== "");

export class Finder {
  private readonly entries: Entry[] = [];
  private readonly classes = new Map<number, Entry[]>(); // of keys

  constructor(
    private readonly book: Book,
    words: Words,
  ) {
    const core = book.core;
    words.keys.forEach((name, key) => {
      const also = words.also[String(key)] ?? [];
      this.classes.set(key, [name.text, ...also].map((n) => ({ place: -1, by: "class", what: name.text, words: wordsOf(n) })));
    });
    const actives = core.actives.map(wordsOf);
    core.names.forEach((name, place) => {
      this.entries.push({ place, by: "name", what: "", words: wordsOf(name) });
      for (const other of core.also[String(place)] ?? []) this.entries.push({ place, by: "also", what: other, words: wordsOf(other) });
      for (const a of core.holds[place] ?? []) this.entries.push({ place, by: "active", what: core.actives[a]!, words: actives[a]! });
    });
  }

  /** The products that fit what was typed, best first, with how many there are. */
  find(typed: string, most: number, without: ReadonlySet<number>): { found: Found[]; all: number } {
    const query = wordsOf(typed);
    if (query.length === 0) return { found: [], all: 0 };
    let hits = this.search(query, (q, w) => w.startsWith(q));
    if (hits.size < 3) {
      const near = this.search(query, nearStart);
      for (const [place, f] of near) if (!hits.has(place)) hits.set(place, { ...f, slip: true });
    }
    hits = new Map([...hits].filter(([place]) => !without.has(place)));
    const list = [...hits.values()].sort((a, b) => rank(a) - rank(b) || a.place - b.place);
    return { found: list.slice(0, most), all: list.length };
  }

  private search(query: readonly string[], fits: (q: string, w: string) => boolean): Map<number, Found> {
    const hits = new Map<number, Found>();
    const note = (e: Entry, place: number): void => {
      const old = hits.get(place);
      const found = { place, by: e.by, what: e.what, slip: false };
      if (!old || rank(found) < rank(old)) hits.set(place, found);
    };
    const matches = (e: Entry): boolean => query.every((q) => e.words.some((w) => fits(q, w)));
    for (const e of this.entries) if (matches(e)) note(e, e.place);
    const keys = new Map<number, Entry>();
    for (const [key, entries] of this.classes) {
      const e = entries.find(matches);
      if (e) keys.set(key, e);
    }
    if (keys.size === 0) return hits;
    this.book.core.of.forEach((signature, place) => {
      const key = this.book.core.signatures[signature]!.keys.find((k) => keys.has(k));
      if (key !== undefined) note(keys.get(key)!, place);
    });
    return hits;
  }
}

/** Whether a word begins, but for one slip, with what was typed. */
function nearStart(q: string, w: string): boolean {
  if (w.startsWith(q)) return true;
  if (q.length < 4) return false;
  for (const n of [q.length, q.length - 1, q.length + 1]) {
    if (n <= w.length && distance(q, w.slice(0, n), 2) < 2) return true;
  }
  return false;
}

function rank(f: Found): number {
  return reasons.indexOf(f.by) + (f.slip ? reasons.length : 0);
}
