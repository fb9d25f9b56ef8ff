// The parsers, one a quantity, as in internal/unit/parse.go. Each throws a Refusal.

import { frac, int, Num } from "./number";
import { scanNumber } from "./scan";
import { Amount } from "./amount";
import type { Dimension, Quantity, Unit } from "./quantity";
import { fold, Refusal, Text, trim } from "./text";
import * as u from "./units";
import * as words from "./words";
import { type Vocabulary } from "./words";

export const parseVolume = (s: string) => parse(s, words.volumes);
export const parseMass = (s: string) => parse(s, words.masses);
export const parseArea = (s: string) => parse(s, words.areas);
export const parseLength = (s: string) => parse(s, words.lengths);
export const parseDensity = (s: string) => above0(s, words.densities);
export const parseDuration = (s: string) => parse(s, words.durations);
export const parseFlow = (s: string) => parse(s, words.flows);
export const parseSpeed = (s: string) => parse(s, words.speeds);
export const parseSprayVolume = (s: string) => above0(s, words.sprayVolumes);
export const parseContent = (s: string) => parse(s, words.contents);

/** Reads a temperature, which alone may be below zero, not below absolute zero. */
export function parseTemperature(s: string): Quantity<"temperature"> {
  const t = new Text(s, words.temperatures.example);
  let sign = int(1);
  if (t.peek() === "-" || t.peek() === "−") {
    t.pos++;
    sign = int(-1);
  }
  const q = numberAndUnit(t, words.temperatures, sign);
  if (q.cmp(u.celsius.of(frac(-27315, 100))) < 0) throw t.unlike("out-of-range", 0);
  return q;
}

/** Reads a difference of temperature, in °C; no offset is applied. */
export function parseRise(s: string): Num {
  const t = new Text(s, "2 °C");
  const n = scanNumber(t);
  return n.mul(unitIn(t, words.temperatures).factor);
}

/** Reads an amount of product, a volume or a weight. */
export function parseAmount(s: string): Amount {
  const t = new Text(s, "2.5 gal");
  const n = scanNumber(t);
  const mark = t.pos;
  const r = t.rest();
  const mass = words.masses.find(r);
  if (mass) return Amount.dry(mass.of(n));
  const volume = words.volumes.find(r);
  if (volume) return Amount.liquid(volume.of(n));
  throw unknownUnit(t, r, mark, amountWords);
}

/** Reads a percentage from 0 to 100 as the fraction it stands for. */
export function parsePercent(s: string): Num {
  const t = new Text(s, "5 %");
  const n = scanNumber(t);
  const at = t.pos;
  const r = t.rest();
  if (r === "") throw t.bad("no-unit", at, t.whole() + " %");
  if (r !== "%" && fold(r) !== "percent") throw t.unlike("trailing", at);
  if (n.cmp(int(100)) > 0) throw t.bad("out-of-range", 0, "100 %");
  return n.quo(int(100));
}

/** Reads a plain number that is not negative. */
export function parseNumber(s: string): Num {
  const t = new Text(s, "0.25");
  const n = scanNumber(t);
  const at = t.pos;
  const r = t.rest();
  if (r !== "") throw t.bad("trailing", at, t.upTo(at));
  return n;
}

function parse<D extends Dimension>(s: string, v: Vocabulary<D>): Quantity<D> {
  return numberAndUnit(new Text(s, v.example), v, int(1));
}

/** parse for what must not be nothing, because we divide by it. */
function above0<D extends Dimension>(s: string, v: Vocabulary<D>): Quantity<D> {
  const q = parse(s, v);
  if (q.isZero()) throw new Refusal("zero", 0, [v.example], "", true);
  return q;
}

function numberAndUnit<D extends Dimension>(t: Text, v: Vocabulary<D>, sign: Num): Quantity<D> {
  const n = scanNumber(t);
  return unitIn(t, v).of(n.mul(sign));
}

/** Takes the rest of t as a unit of v. */
function unitIn<D extends Dimension>(t: Text, v: Vocabulary<D>): Unit<D> {
  t.skipSpace();
  const at = t.pos;
  const r = t.rest();
  const c = compound(r);
  const found = v.find(r) ?? (c === undefined ? undefined : v.find(c));
  if (found) return found;
  throw unknownUnit(t, r, at, wordsOf(v));
}

/** Brings "gallons per acre" to the form "gal/ac"; undefined when it has none. */
export function compound(s: string): string | undefined {
  const cut = cutPer(s);
  if (!cut) return undefined;
  const [count, name] = splitCount(cut[1]);
  const a = simple(cut[0]);
  const b = simple(name);
  return a === undefined || b === undefined ? undefined : a + "/" + count + b;
}

/** Cuts at the bar, or at the word "per". */
export function cutPer(s: string): [above: string, below: string] | undefined {
  for (const mark of ["/", " per "]) {
    const at = s.indexOf(mark);
    if (at >= 0) return [trim(s.slice(0, at)), trim(s.slice(at + mark.length))];
  }
  return undefined;
}

/** Takes the leading digits of "1000 sq ft", with one space after them. */
export function splitCount(s: string): [count: string, name: string] {
  const digits = /^[0-9]*/.exec(s)![0];
  return digits === "" ? ["", s] : [digits + " ", trim(s.slice(digits.length))];
}

function simple(s: string): string | undefined {
  const v = [words.volumes, words.masses, words.areas, words.lengths, words.durations].find((w) => w.has(s));
  return v?.symbol(s);
}

/** What a refusal needs to know of a vocabulary. */
export interface Words {
  what: string;
  symbols: string[];
  find(s: string): string | undefined;
  near(s: string): string;
}

export function wordsOf<D extends Dimension>(v: Vocabulary<D>): Words {
  return { what: v.what, symbols: v.symbols(), find: (s) => v.symbol(s), near: (s) => v.near(s) };
}

/** Two vocabularies together; a name that is near to both is near to none. */
export function either<A extends Dimension, B extends Dimension>(what: string, a: Vocabulary<A>, b: Vocabulary<B>): Words {
  return {
    what,
    symbols: [...a.symbols(), ...b.symbols()],
    find: (s) => a.symbol(s) ?? b.symbol(s),
    near(s) {
      const [x, y] = [a.near(s), b.near(s)];
      return x !== "" && y !== "" ? "" : x + y;
    },
  };
}

export const amountWords = either("volume or weight", words.volumes, words.masses);

/** Says what is wrong with unit r at a place, when w was asked for. */
export function unknownUnit(t: Text, r: string, at: number, w: Words): Refusal {
  if (r === "") return t.bad("no-unit", at, ...w.symbols.slice(0, 3).map((s) => t.joined(at, s)));
  if (w.what === "volume" && words.masses.has(r) && fold(r).startsWith("o")) {
    return t.bad("wrong-unit", at, t.upTo(at) + " fl oz");
  }
  const caught = words.trap(r);
  if (caught) return t.bad(caught.code, at, ...measuring(caught.write, w).map((s) => t.joined(at, s)));
  if (words.whatIs(canonical(r)) !== "") return t.bad("wrong-unit", at, ...w.symbols.slice(0, 3).map((s) => t.joined(at, s)));
  const symbol = beforeTail(r, w);
  if (symbol !== undefined) return t.bad("trailing", at, t.joined(at, symbol));
  const near = w.near(r);
  const write = near !== "" ? [near] : w.symbols.slice(0, 3);
  return new Refusal("unknown-unit", at, write.map((s) => t.joined(at, s)), r);
}

/** Those of some units that measure what was asked for; else its usual ones. */
function measuring(units: readonly string[], w: Words): readonly string[] {
  const some = units.filter((s) => w.find(s) !== undefined);
  return some.length > 0 || units.length === 0 ? some : w.symbols.slice(0, 3);
}

function canonical(s: string): string {
  return compound(s) ?? s;
}

/** The unit before the last space before which there is one. */
function beforeTail(r: string, w: Words): string | undefined {
  for (let i = r.lastIndexOf(" "); i > 0; i = r.lastIndexOf(" ", i - 1)) {
    const symbol = w.find(canonical(r.slice(0, i)));
    if (symbol !== undefined) return symbol;
  }
  return undefined;
}
