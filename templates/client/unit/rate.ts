// Rates: how much of a product goes on an area or into a volume of finished spray,
// kept with the unit they were written in. As internal/unit/rate.go and parserate.go.

import { spell } from "./format";
import { frac, int, type Num, zero } from "./number";
import { amountWords, cutPer, either, splitCount, unknownUnit } from "./parse";
import { scanNumber } from "./scan";
import { fold, maxCount, maxDecimals, Refusal, Text, trim } from "./text";
import * as words from "./words";

/** What a rate is measured by; "" is no rate. */
export type Basis = "" | "volume per area" | "weight per area" | "volume per volume of spray" | "weight per volume of spray";

export const isDryBasis = (b: Basis): boolean => b.startsWith("weight");
export const isPerArea = (b: Basis): boolean => b.endsWith("area");

export class Rate {
  constructor(
    readonly basis: Basis,
    readonly base: Num, // in mL or g per m² or mL
    readonly unit: string, // as the trade writes it: "pt/ac"
    readonly factor: Num, // base units in one written unit
  ) {}

  isZero(): boolean {
    return this.basis === "" || this.base.sign() === 0;
  }
  /** In the unit it was written in. */
  number(): Num {
    return this.basis === "" ? zero : this.base.quo(this.factor);
  }
  times(n: Num): Rate {
    return new Rate(this.basis, this.base.mul(n), this.unit, this.factor);
  }
  comparable(s: Rate): boolean {
    return this.basis === s.basis;
  }
  text(): string {
    if (this.basis === "") return "no rate";
    const n = this.number();
    return (spell(n) ?? n.short(maxDecimals)) + " " + this.unit;
  }
}

export const noRate = new Rate("", zero, "", int(1));

/** The rate that is n base units of basis b, written in a unit of that basis. */
export function rateIn(written: string, b: Basis, n: Num): Rate {
  const like = parseRate("1 " + written);
  if (like.basis !== b) throw new Refusal("wrong-basis", 0);
  return new Rate(b, n, like.unit, like.factor);
}

/** Reads the rate of a product above 0, by area or by volume of finished spray. */
export function parseRate(s: string): Rate {
  const t = new Text(s, "1.5 pt/ac");
  const n = scanNumber(t);
  t.skipSpace();
  const at = t.pos;
  const like = rateUnit(t, t.rest(), at);
  if (n.sign() === 0) throw t.unlike("zero", 0);
  return new Rate(like.basis, n.mul(like.factor), like.unit, like.factor);
}

const fixedRates: { unit: Rate; names: string[] }[] = [
  { unit: unitRate("volume per volume of spray", "% v/v", frac(1, 100)), names: ["%v/v", "%vol/vol", "%byvolume", "%volume/volume"] },
  { unit: unitRate("weight per volume of spray", "% w/v", frac(1, 100)), names: ["%w/v", "%wt/v", "%wt/vol", "%m/v", "%weight/volume"] },
  { unit: unitRate("weight per volume of spray", "ppm", frac(1, 1000000)), names: ["ppm", "partspermillion"] },
];

function unitRate(basis: Basis, written: string, factor: Num): Rate {
  return new Rate(basis, zero, written, factor);
}

/** Takes out what writers of percentages differ in. */
export function foldPercent(s: string): string {
  return fold(s).replace(/ /g, "").replace("percent", "%").replace(/[()]/g, "");
}

/** Reads what follows the number of a rate. */
function rateUnit(t: Text, r: string, at: number): Rate {
  const folded = foldPercent(r);
  const fixed = fixedRates.find((f) => f.names.includes(folded));
  if (fixed) return fixed.unit;
  if (folded.startsWith("%")) {
    const write = folded === "%w/w" ? ["% w/v"] : ["% v/v", "% w/v"];
    throw t.bad("ambiguous-unit", at, ...write.map((w) => t.joined(at, w)));
  }
  if (ofActive(r)) throw t.bad("of-active", at);
  const cut = cutPer(r);
  if (!cut || cut[1] === "") throw noBase(t, cut ? cut[0] : trim(r), at);
  return perBase(t, cut[0], cut[1], at);
}

function ofActive(r: string): boolean {
  return fold(r).split(/[ /]/).some((w) => w === "ai" || w === "ae" || w === "active");
}

/** Says what is wrong with a rate that has no "/" part. */
function noBase(t: Text, above: string, at: number): Refusal {
  const symbol = amountWords.find(above);
  if (above === "") return t.bad("no-unit", at, t.upTo(at) + " pt/ac", t.upTo(at) + " oz/ac", t.upTo(at) + " L/ha");
  if (symbol === undefined) return perSome(unknownUnit(t, above, at, amountWords));
  const [area, volume] = isMetric(symbol) ? ["ha", "100 L"] : ["ac", "100 gal"];
  const num = t.upTo(at) + " " + symbol + "/";
  return t.bad("no-base", t.chars.length, num + area, num + volume);
}

/** A refusal of an amount alone, with what a rate may be per put after each offer. */
function perSome(e: Refusal): Refusal {
  return withBase(e, (offer) => (isMetric(offer.split(" ").at(-1)!) ? "ha" : "ac"));
}

function withBase(e: Refusal, base: (offer: string) => string): Refusal {
  return new Refusal(e.code, e.offset, e.write.map((w) => w + "/" + base(w)), e.found);
}

function isMetric(symbol: string): boolean {
  return ["L", "mL", "kg", "g", "mg"].includes(symbol);
}

const baseWords = either("area or volume", words.areas, words.volumes);

/** Reads "amount per count base". */
function perBase(t: Text, above: string, below: string, at: number): Rate {
  const volume = words.volumes.find(above);
  const mass = volume ? undefined : words.masses.find(above);
  const top = volume ?? mass;
  if (!top) throw withBase(unknownUnit(t, above, at, amountWords), () => below);
  const baseAt = t.chars.length - [...below].length;
  const [count, name] = readCount(t, below, baseAt);
  const area = words.areas.find(name);
  const base = area ?? words.volumes.find(name);
  if (!base) throw unknownUnit(t, name, baseAt, baseWords);
  const written = top.name + "/" + (count === 1 ? "" : count + " ") + base.name;
  return unitRate(basisOf(mass !== undefined, area !== undefined), written, top.factor.quo(base.factor.mul(int(count))));
}

/** Reads the number before the base; none means 1. */
function readCount(t: Text, below: string, at: number): [count: number, name: string] {
  const [taken, name] = splitCount(below);
  const digits = trim(taken);
  if (name.startsWith(",") || name.startsWith(".")) throw t.bad("count", at);
  if (digits === "") return [1, name];
  if (digits.length > maxCount || digits.startsWith("0")) throw t.bad("count", at);
  return [Number(digits), name];
}

function basisOf(dry: boolean, perArea: boolean): Basis {
  return `${dry ? "weight" : "volume"} per ${perArea ? "area" : "volume of spray"}`;
}
