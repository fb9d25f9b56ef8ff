// What keeps an observation from being a record, told at the field that it is about.
// The rules are those of internal/dataset; a test holds that what passes here passes
// there.

import type { Num } from "../unit/number";
import { frac, int } from "../unit/number";
import { parseDuration, parseLength, parseNumber, parsePercent, parseSprayVolume, parseTemperature, parseVolume } from "../unit/parse";
import { parseRate } from "../unit/rate";
import { Refusal } from "../unit/text";
import * as u from "../unit/units";
import { type Choices, productOf } from "./choices";
import { type Draft, pouredAnything, ratedAnything, type Rating, type Reading, seenAnything } from "./draft";

/** One thing that is wrong. at is the path of the field: "readings.2.foam". */
export interface Problem {
  at: string;
  code: string; // of the catalogue: refuse.CODE when unit, else record.wrong.CODE
  unit: boolean;
  write: string[]; // what would be right
  found: string;
}

/** Everything that is wrong, in the order of the form. today is year-month-day. */
export function check(d: Draft, c: Choices, today: string): Problem[] {
  return new Checker(d, c, today).all();
}

// Bounds beyond which a number is not believed, as in internal/dataset/limit.go.
const spans = {
  ph: [int(0), int(14)],
  temperature: [int(-20), int(100)],
  rise: [int(-40), int(100)],
  duration: [int(0), int(366 * 24 * 60)],
  sprayVolume: [frac(5, 100), int(5000)],
} as const;

class Checker {
  private readonly problems: Problem[] = [];

  constructor(
    private readonly d: Draft,
    private readonly c: Choices,
    private readonly today: string,
  ) {}

  all(): Problem[] {
    const d = this.d;
    this.need("kind", d.kind);
    this.needText("title", d.title);
    this.date();
    this.need("by", d.by);
    this.products();
    this.quantity("spray_volume", d.spray_volume, (s) => this.within(parseSprayVolume(s).base, "sprayVolume"));
    this.quantity("water_share", d.water_share, (s) => {
      if (parsePercent(s).sign() === 0) throw new Refusal("zero", 0, ["25 %"]);
    });
    this.vessel();
    this.quantity("temperature", d.temperature, (s) => this.within(parseTemperature(s).in(u.celsius), "temperature"));
    this.quantity("ph_before", d.ph_before, (s) => this.within(parseNumber(s), "ph"));
    this.whole("inversions", d.inversions, 0, 200);
    this.readings();
    this.ratings();
    this.text("note", d.note);
    this.id();
    return this.problems;
  }

  private add(at: string, code: string, write: string[] = [], found = ""): void {
    if (!this.problems.some((p) => p.at === at)) this.problems.push({ at, code, unit: false, write, found });
  }

  private need(at: string, text: string): void {
    if (text.trim() === "") this.add(at, "missing");
  }

  private needText(at: string, text: string): void {
    this.need(at, text);
    this.text(at, text);
  }

  /** Text holds no invisible characters and no words in letters of two scripts. */
  private text(at: string, text: string): void {
    const bad = refusedIn(text);
    if (bad !== "") this.add(at, "character", [], bad);
    const word = mixedWord(text);
    if (word !== "") this.add(at, "scripts", [], word);
  }

  /** Reads a quantity that may be left out. */
  private quantity(at: string, text: string, read: (s: string) => void): void {
    if (text.trim() === "") return;
    try {
      read(text);
    } catch (e) {
      if (!(e instanceof Refusal)) throw e;
      this.problems.push({ at, code: e.code, unit: true, write: e.write, found: e.found });
    }
  }

  private within(n: Num, what: keyof typeof spans): void {
    const [low, high] = spans[what];
    if (n.cmp(low) < 0 || n.cmp(high) > 0) throw new Refusal("out-of-range", 0);
  }

  private whole(at: string, text: string, low: number, high: number): void {
    const s = text.trim();
    if (s === "") return;
    if (!/^(0|[1-9][0-9]{0,5})$/.test(s)) this.add(at, "whole");
    else if (Number(s) < low || Number(s) > high) this.add(at, "between", [], `${low}–${high}`);
  }

  private date(): void {
    const s = this.d.date.trim();
    this.need("date", s);
    if (s === "") return;
    if (!isDay(s)) this.add("date", "date", [this.today]);
    else if (s > this.today) this.add("date", "future", [this.today]);
  }

  private products(): void {
    const begun = this.d.products.map(pouredAnything);
    if (!begun.includes(true)) this.add("products.0.product", "missing");
    const seen = new Set<string>();
    this.d.products.forEach((p, i) => {
      if (!begun[i]) return;
      const at = `products.${i}.`;
      const known = productOf(this.c, p.product);
      if (p.product.trim() === "") this.add(at + "product", "missing");
      else if (!known) this.add(at + "product", "product", [], p.product.trim());
      else if (seen.has(known.id)) this.add(at + "product", "twice", [], known.name);
      if (known) seen.add(known.id);
      this.quantity(at + "rate", p.rate, (s) => {
        const weighed = parseRate(s).basis.startsWith("weight");
        if (known?.dry && !weighed) throw new Refusal("wrong-basis", 0, ["2 lb/ac"]);
        if (known && !known.dry && !known.dense && weighed) throw new Refusal("wrong-basis", 0, ["2 pt/ac"]);
      });
      this.text(at + "batch", p.batch);
    });
  }

  private vessel(): void {
    const v = this.d.vessel;
    const said = Object.values(v).some((s) => s.trim() !== "");
    if (v.type === "" && (said || this.d.kind === "jar")) this.add("vessel.type", "vessel");
    this.quantity("vessel.size", v.size, parseVolume);
    this.quantity("vessel.liquid", v.liquid, parseVolume);
    this.quantity("vessel.height", v.height, parseLength);
    const size = valueOf(v.size, parseVolume);
    const liquid = valueOf(v.liquid, parseVolume);
    if (size && liquid && liquid.cmp(size) > 0) this.add("vessel.liquid", "liquid");
  }

  private readings(): void {
    const last: { after?: Num } = {};
    this.d.readings.forEach((r, i) => {
      if (seenAnything(r)) this.reading(r, `readings.${i}.`, last);
    });
    if (!this.d.readings.some(seenAnything) && !this.d.ratings.some(ratedAnything)) this.add("readings", "nothing");
  }

  private reading(r: Reading, at: string, last: { after?: Num }): void {
    this.need(at + "after", r["after"]!);
    this.quantity(at + "after", r["after"]!, (s) => this.within(parseDuration(s).base, "duration"));
    const after = valueOf(r["after"]!, parseDuration)?.base;
    if (after && last.after && after.cmp(last.after) <= 0) this.add(at + "after", "later");
    if (after) last.after = after;
    this.quantity(at + "rise", r["rise"]!, (s) => this.within(riseOf(s), "rise"));
    this.quantity(at + "ph", r["ph"]!, (s) => this.within(parseNumber(s), "ph"));
    this.foam(r["foam"]!, at + "foam");
    if ((r["gas"] === "firm" || r["gas"] === "vented") && this.d.vessel.closed !== "true") this.add(at + "gas", "closed");
    const settled = ["flakes", "gel", "precipitate", "layers", "oil_film"].some((k) => r[k] !== "");
    if (r["redispersed"] !== "" && !settled) this.add(at + "redispersed", "settled");
    this.whole(at + "inversions", r["inversions"]!, 0, 200);
    this.whole(at + "mesh", r["mesh"]!, 5, 500);
    if (r["mesh"]!.trim() !== "" && r["screen"] === "") this.add(at + "screen", "mesh");
    this.text(at + "note", r["note"]!);
  }

  private foam(text: string, at: string): void {
    this.quantity(at, text, (s) => {
      if (!valueOf(s, parseLength)) parseVolume(s);
    });
    const volume = valueOf(text, parseVolume);
    const size = valueOf(this.d.vessel.size, parseVolume);
    if (volume && size && size.sign() > 0 && volume.cmp(size) > 0) this.add(at, "foam");
  }

  private ratings(): void {
    this.d.ratings.forEach((r, i) => {
      if (ratedAnything(r)) this.rating(r, `ratings.${i}.`);
    });
  }

  private rating(r: Rating, at: string): void {
    this.need(at + "symptom", r.symptom);
    this.needText(at + "target", r.target);
    this.need(at + "days", r.days);
    this.whole(at + "days", r.days, 0, 400);
    this.need(at + "mix", r.mix);
    this.quantity(at + "mix", r.mix, parsePercent);
    this.quantity(at + "untreated", r.untreated, parsePercent);
    r.singles.forEach((s, n) => {
      this.quantity(`${at}singles.${n}`, s, parsePercent);
      if (s.trim() !== "" && !productOf(this.c, this.d.products[n]?.product ?? "")) this.add(`${at}singles.${n}`, "single");
    });
  }

  private id(): void {
    const s = this.d.id;
    if (!/^[a-z0-9]+(-[a-z0-9]+)*$/.test(s) || s.length > 64 || /^(con|prn|aux|nul|com[0-9]|lpt[0-9])$/.test(s)) this.add("id", "id");
  }
}

/** What a parser gives, undefined when it refuses. */
export function valueOf<T>(text: string, read: (s: string) => T): T | undefined {
  if (text.trim() === "") return undefined;
  try {
    return read(text);
  } catch (e) {
    if (e instanceof Refusal) return undefined;
    throw e;
  }
}

/** A difference of temperature in °C; no offset is applied. */
function riseOf(s: string): Num {
  const t = parseTemperature(s);
  if (/f(ahrenheit)?\.?\s*$/i.test(s)) return t.in(u.fahrenheit).mul(frac(5, 9));
  return t.in(u.celsius);
}

/** Whether a text is a day of the calendar, year-month-day. */
export function isDay(s: string): boolean {
  const m = /^(\d{4})-(\d{2})-(\d{2})$/.exec(s);
  if (!m || Number(m[1]) < 1900) return false;
  const day = new Date(Date.UTC(Number(m[1]), Number(m[2]) - 1, Number(m[3])));
  return day.getUTCMonth() === Number(m[2]) - 1 && day.getUTCDate() === Number(m[3]);
}

/** The first character that no record may hold, as U+XXXX; line ends of a note are let pass. */
function refusedIn(s: string): string {
  for (const c of s) {
    const p = c.codePointAt(0)!;
    const control = (p < 0x20 && c !== "\t" && c !== "\n" && c !== "\r") || (p >= 0x7f && p < 0xa0);
    const turns = (p >= 0x202a && p <= 0x202e) || (p >= 0x2066 && p <= 0x2069) || p === 0x200e || p === 0x200f || p === 0x61c;
    const unseen = p === 0x2028 || p === 0x2029 || p === 0x200b || p === 0x2060 || p === 0xfeff || p === 0xad;
    const none = (p & 0xfffe) === 0xfffe || (p >= 0xe000 && p <= 0xf8ff) || p >= 0xf0000 || (p >= 0xd800 && p <= 0xdfff);
    if (control || turns || unseen || none) return "U+" + p.toString(16).toUpperCase().padStart(4, "0");
  }
  return "";
}

/** The first word that holds Latin letters beside look-alikes of another script. */
function mixedWord(s: string): string {
  for (const [word] of s.matchAll(/\p{L}+/gu)) {
    const others = word.replace(/[αβγδλμΩΔπ]/g, "");
    if (/\p{Script=Latin}/u.test(word) && /[\p{Script=Cyrillic}\p{Script=Greek}\p{Script=Armenian}\p{Script=Cherokee}]/u.test(others)) return word;
  }
  return "";
}
