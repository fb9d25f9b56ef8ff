// What is known of a mix apart from its products, and which conditions hold in it.
// As internal/compat/situation.go.

import type { Num } from "../unit/number";
import type { Book, Carrier, Gate, Item } from "./book";

/** What is known; what is left out is not known, and conditions on it are taken to hold. */
export interface Situation {
  /** By factor, in base units: hardness, ph, bicarbonate, temperature, spray_volume, standing, water_share. */
  numbers: Partial<Record<string, Num>>;
  order?: string[]; // IDs in order of addition
  vessel?: "open" | "closed";
  place?: string;
  crop?: string;
  carrier?: string[]; // IDs of carrier classes
}

export type Truth = "holds" | "fails" | "not-known";

/** A situation with the carriers that follow from it, by ID. */
export interface Setting {
  situation: Situation;
  carriers: Carrier[]; // known to be in the tank
  maybe: Carrier[]; // that may be
}

export function settingOf(book: Book, situation: Situation): Setting {
  const stated = situation.carrier ?? [];
  const carriers = book.carriers.filter((c) => stated.includes(c.id) || (c.when.length > 0 && waterIs(c, situation) === "holds"));
  const setting: Setting = { situation, carriers, maybe: [] };
  setting.maybe = book.carriers.filter((c) => inCarrier(book, setting, c.id) === "not-known");
  return setting;
}

/** Whether the water belongs to a carrier class that is known by what is dissolved. */
function waterIs(c: Carrier, s: Situation): Truth {
  let all: Truth = "holds";
  for (const g of c.when) all = both(all, inside(g, s.numbers[g.factor]));
  return all;
}

function both(a: Truth, b: Truth): Truth {
  if (a === "fails" || b === "fails") return "fails";
  return a === "not-known" || b === "not-known" ? "not-known" : "holds";
}

/** Whether a number lies between a gate's bounds. */
export function inside(g: Gate, n: Num | undefined): Truth {
  if (n === undefined) return "not-known";
  const low = g.low ? n.cmp(g.low) : 1;
  const high = g.high ? n.cmp(g.high) : -1;
  const out = low < 0 || (low === 0 && g.lowOpen) || high > 0 || (high === 0 && g.highOpen);
  return out ? "fails" : "holds";
}

/** Whether a gate holds; the items stand for the members of the statement whose gate it is. */
export function truth(book: Book, g: Gate, s: Setting, items: readonly Item[]): Truth {
  switch (g.factor) {
    case "order":
      return inOrder(book, g, s.situation.order, items);
    case "vessel":
      return equal(s.situation.vessel, g.ref);
    case "crop":
      return equal(s.situation.crop, g.ref);
    case "place":
      return inPlace(book, s.situation.place, g.ref);
    case "carrier":
      return inCarrier(book, s, g.ref);
    default:
      return inside(g, s.situation.numbers[g.factor]);
  }
}

function equal(got: string | undefined, want: string): Truth {
  if (got === undefined) return "not-known";
  return got === want ? "holds" : "fails";
}

/** Holds when one item that is First went in before another that is Then; fails when every such pair went in the other way round. */
function inOrder(book: Book, g: Gate, order: string[] | undefined, items: readonly Item[]): Truth {
  let result: Truth = "not-known";
  for (const a of items) {
    for (const b of items) {
      if (a === b || !book.isA(a, g.first) || !book.isA(b, g.then)) continue;
      const first = order?.indexOf(a.id) ?? -1;
      const then = order?.indexOf(b.id) ?? -1;
      if (first < 0 || then < 0) return "not-known";
      if (first < then) return "holds";
      result = "fails";
    }
  }
  return result;
}

/** Holds in a place and its parts; in a larger whole it is not known. */
function inPlace(book: Book, here: string | undefined, place: string): Truth {
  if (here === undefined) return "not-known";
  if (within(book, here, place)) return "holds";
  return within(book, place, here) ? "not-known" : "fails";
}

function within(book: Book, part: string, whole: string): boolean {
  for (let n = 0; n <= book.partOf.size; n++) {
    if (part === whole) return true;
    part = book.partOf.get(part) ?? "";
    if (part === "") return false;
  }
  return false;
}

/** Whether the liquid of the tank belongs to a carrier class. */
function inCarrier(book: Book, s: Setting, id: string): Truth {
  const key = book.keyOf.get(id);
  if (key !== undefined && s.carriers.some((c) => c.above.has(key))) return "holds";
  const c = book.carriers.find((one) => one.id === id);
  if (c && c.when.length > 0) return waterIs(c, s.situation);
  return s.situation.carrier ? "fails" : "not-known";
}
