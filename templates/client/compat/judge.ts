// What is known about a mix of products. It combines what Go has judged of single
// statements and jars by the rules that internal/compat/doc.go states; a test holds
// its answers to Go's.

import type { Book, Doubt, Evidence, Gate, Item, JarSet, Rule, Verdict } from "./book";
import { clean, inference, steps, unknown } from "./book";
import { compareText, type Matching, matchings, type Stand } from "./match";
import { type Setting, settingOf, type Situation, truth } from "./situation";
import { settle } from "./settle";

export type Part = "none" | "decides" | "agrees" | "outvoted" | "relaxed" | "softened" | "off-gate" | "informative";

/** One piece of evidence as it bears on the mix. */
export interface Finding {
  evidence: Evidence;
  part: Part;
  verdict: Verdict; // what it says for this mix; unknown when it proves nothing here
  stated: Verdict; // what it says by itself
  grade: number;
  basis: number;
  symptoms: number;
  hazards: number;
  matches: { item: string; member: string }[];
  open: Gate[]; // not known to hold
  failed: Gate[];
  mend: number; // place among the rule's mends, -1 for none
  mendItem: string;
  doubts: Doubt[];
}

/** A finding with what resolution needs to know of it. */
export interface Holding extends Finding {
  rule: Rule | undefined;
  set: JarSet | undefined;
  items: number; // bits of positions
  all: boolean; // it speaks of all items
  exact: boolean; // it names the very items
  said: Verdict;
  clean: boolean; // evidence that this mix is clean
  larger: boolean; // its jars held more than this mix
  carried: string; // members that the liquid stands for, joined
}

/** The worst that is known, everything that bears on it, and what is untested. */
export interface Answer {
  items: Item[];
  verdict: Verdict;
  grade: number; // of the finding that decides
  nature: string; // its kind, when it is an interaction
  hazards: number;
  handling: number;
  findings: Finding[];
  doubts: Doubt[];
  untested: [string, string][];
  symptoms: { symptom: number; verdict: Verdict }[];
}

/** The finding that decided, if one did. */
export function deciding(a: Answer): Finding | undefined {
  return a.findings[0]?.part === "decides" ? a.findings[0] : undefined;
}

/** The most items of one mix. */
export const maxItems = 24;

/** Judges mixes in one situation, and keeps what it found of pairs. */
export class Judge {
  readonly setting: Setting;
  private readonly pairs = new Map<string, boolean>();

  constructor(
    readonly book: Book,
    situation: Situation,
  ) {
    this.setting = settingOf(book, situation);
  }

  /** What is known about a mix, given by IDs in any order. */
  mix(ids: readonly string[]): Answer {
    const list = [...new Set(ids)].sort(compareText).map((id) => this.book.itemOf(id));
    return this.judge(list);
  }

  /** Judges items in order of ID. */
  judge(items: Item[]): Answer {
    if (items.length > maxItems) throw new RangeError("too many items in a mix");
    return settle(this.hear(items));
  }

  /** Whether nothing is known of a pair by itself. */
  pairUntested(a: Item, b: Item): boolean {
    const key = a.id + " " + b.id;
    let known = this.pairs.get(key);
    if (known === undefined) {
      known = settle(this.hear([a, b])).untested.length > 0;
      this.pairs.set(key, known);
    }
    return known;
  }

  /** Forgets pairs: more has become known of their products. */
  forget(): void {
    this.pairs.clear();
  }

  private hear(items: Item[]): Inquiry {
    const q = new Inquiry(this, items);
    q.hearRules();
    q.hearJars();
    return q;
  }
}

/** The judgement of one mix under way. */
export class Inquiry {
  held: Holding[] = [];
  doubts: Doubt[] = [];
  readonly book: Book;
  readonly setting: Setting;
  readonly everyone: number; // bits of all items

  constructor(
    readonly judge: Judge,
    readonly items: Item[],
  ) {
    this.book = judge.book;
    this.setting = judge.setting;
    this.everyone = 2 ** items.length - 1;
  }

  /** Brings in every statement and notice whose members distinct items can stand for. */
  hearRules(): void {
    for (const r of this.candidates()) {
      for (const m of matchings(this.book, r, this.items, this.setting.carriers, this.setting.maybe)) {
        if (m.suppose.length > 0 && size(m.items) === 1 && this.items.length > 1) {
          this.doubts = addEvidence(this.doubts, "water-matters", r);
        } else {
          this.held.push(this.holdRule(r, m));
        }
      }
    }
  }

  /** The rules each of whose members some item, or a carrier, can stand for. */
  private candidates(): Rule[] {
    const keys = new Set<number>();
    for (const c of this.setting.maybe) keys.add(c.key);
    for (const c of this.setting.carriers) for (const k of c.above) keys.add(k);
    for (const item of this.items) for (const k of item.keys) keys.add(k);
    const hits = new Map<Rule, number>();
    for (const k of keys) for (const r of this.book.rulesOf.get(k) ?? []) hits.set(r, (hits.get(r) ?? 0) + 1);
    return [...hits].filter(([r, n]) => n === r.distinct).map(([r]) => r).sort((a, b) => a.n - b.n);
  }

  private holdRule(r: Rule, m: Matching): Holding {
    const h: Holding = {
      evidence: r,
      rule: r,
      set: undefined,
      part: "none",
      verdict: r.verdict,
      stated: r.stated,
      grade: m.exact || r.law ? r.grade : inference,
      basis: r.grade,
      symptoms: r.symptoms,
      hazards: r.hazards,
      matches: m.stand.map((s, n) => ({ item: s.id, member: this.book.core.keys[r.members[n]!]! })),
      open: m.suppose.map(carrierGate),
      failed: [],
      mend: -1,
      mendItem: "",
      doubts: [...r.doubts],
      items: m.items,
      all: m.items === this.everyone,
      exact: m.exact,
      said: unknown,
      clean: false,
      larger: false,
      carried: carriedBy(m.stand),
    };
    this.gate(h, r);
    this.mend(h, r);
    reach(h, m);
    return h;
  }

  /** Rule 5: a failing gate takes the statement out, an unknown one leaves it in with a doubt. */
  private gate(h: Holding, r: Rule): void {
    const matched = this.itemsOf(h.items);
    for (const g of r.when) {
      const t = truth(this.book, g, this.setting, matched);
      if (t === "fails") h.failed.push(g);
      if (t === "not-known") h.open.push(g);
    }
    if (!r.inForce) h.doubts.push({ code: "not-in-force" });
    if (h.failed.length > 0 || !r.inForce) [h.part, h.verdict] = ["off-gate", unknown];
    const place = h.open.filter((g) => g.factor === "place");
    const other = h.open.filter((g) => g.factor !== "place");
    if (place.length > 0) h.doubts.push({ code: "elsewhere", gates: place });
    if (other.length > 0) h.doubts.push({ code: "conditional", gates: other });
  }

  /** Rule 6: a mend in the mix softens its statement, and only that one. */
  private mend(h: Holding, r: Rule): void {
    if (r.firm || h.verdict < steps) return;
    for (const d of r.mends) {
      const n = this.items.findIndex((item, i) => !has(h.items, i) && item.keys.has(d.key));
      if (n < 0) continue;
      const item = this.items[n]!;
      const whole = h.exact && item.id === this.book.core.keys[d.key] && size(h.items) + 1 === this.items.length;
      const to = Math.max(d.to, whole ? clean : steps) as Verdict;
      if (to < h.verdict || (h.mend < 0 && to === h.verdict)) {
        [h.verdict, h.mend, h.mendItem] = [to, d.n, item.id];
        h.all ||= whole;
      }
    }
  }

  /** Rule 1 for jars: what reacted in part of the mix is expected in all of it; what stayed quiet in a larger mix speaks for this one. */
  hearJars(): void {
    const larger = this.items.length > 1 && this.items.every((item) => item.place >= 0);
    for (const [set, part] of this.bearing()) {
      const whole = size(part) === set.products.length;
      const sub = whole ? this.inOrder(set) : undefined;
      if (sub) this.holdOrdered(set, sub, part);
      else if (whole && set.reacted !== 0) this.holdReaction(set, part);
      else if (whole) this.holdQuiet(set, part);
      else if (larger && part === this.everyone) this.hearLarger(set, part);
    }
  }

  /** The sets that share a product with the mix, with the positions of what they share, in order. */
  bearing(): [JarSet, number][] {
    const parts = new Map<JarSet, number>();
    this.items.forEach((item, i) => {
      for (const s of this.book.setsWith.get(item.place) ?? []) parts.set(s, (parts.get(s) ?? 0) | (1 << i));
    });
    return [...parts].sort((a, b) => a[0].n - b[0].n);
  }

  private hold(s: JarSet, part: number): Holding {
    const h: Holding = {
      evidence: s,
      rule: undefined,
      set: s,
      part: "none",
      verdict: unknown,
      stated: unknown,
      grade: s.grade,
      basis: s.grade,
      symptoms: 0,
      hazards: 0,
      matches: [],
      open: [],
      failed: [],
      mend: -1,
      mendItem: "",
      doubts: [...s.doubts],
      items: part,
      all: part === this.everyone,
      exact: true,
      said: unknown,
      clean: false,
      larger: false,
      carried: "",
    };
    this.held.push(h);
    return h;
  }

  /** A nuisance seen in one product by itself is a doubt; a hazard stays a hazard. */
  private holdReaction(s: JarSet, part: number): void {
    const h = this.hold(s, part);
    [h.symptoms, h.hazards] = [s.reacted, s.hazards];
    h.verdict = h.stated = h.said = s.verdict;
    if (s.products.length > 1 || h.verdict === 4) return;
    [h.part, h.verdict] = ["informative", unknown];
    this.doubts = addEvidence(this.doubts, "alone", s);
  }

  private holdQuiet(s: JarSet, part: number): void {
    const h = this.hold(s, part);
    h.part = "informative";
    h.symptoms = s.clear;
    if (s.quiet) {
      h.stated = clean;
      h.clean = h.all && s.products.length > 1;
    }
  }

  /** Rule 5 for jars: those that went in in the order of this mix, where they stayed clean and others reacted. */
  inOrder(s: JarSet): JarSet | undefined {
    const order = this.setting.situation.order ?? [];
    if (s.orders.length === 0) return undefined;
    const own = order.map((id) => this.book.itemOf(id).place).filter((p) => p >= 0 && s.products.includes(p)).join();
    return s.orders.find((o) => o.order === own)?.set;
  }

  private holdOrdered(s: JarSet, sub: JarSet, part: number): void {
    const off = this.hold(s, part);
    [off.symptoms, off.hazards, off.stated, off.part] = [s.reacted, s.hazards, s.verdict, "off-gate"];
    off.doubts.push({ code: "other-order" });
    this.holdQuiet(sub, part);
    this.held.at(-1)!.doubts.push({ code: "other-order", evidence: [s] });
  }

  private hearLarger(s: JarSet, part: number): void {
    if (s.reacted !== 0) this.doubts = addEvidence(this.doubts, "suspect", s);
    if (!s.quiet) return;
    const h = this.hold(s, part);
    [h.part, h.stated, h.larger] = ["informative", clean, true];
    const { hidden, by } = this.hidden(s, this.items);
    h.symptoms = s.clear & ~hidden;
    h.clean = h.symptoms !== 0;
    h.doubts.push({ code: "clean-by-larger", evidence: [s] });
    if ((s.clear & hidden) !== 0) h.doubts.push({ code: "hidden", symptoms: s.clear & hidden, items: by });
  }

  /** The symptoms that other products of the jars suppress, and those products. */
  hidden(s: JarSet, items: readonly Item[]): { hidden: number; by: string[] } {
    let hidden = 0;
    const by: string[] = [];
    for (const p of s.products) {
      if (p < 0 || items.some((item) => item.place === p)) continue;
      const other = this.book.item(p);
      if (other.hides !== 0) by.push(other.id);
      hidden |= other.hides;
    }
    return { hidden, by };
  }

  itemsOf(set: number): Item[] {
    return this.items.filter((_, i) => has(set, i));
  }
}

/** What a rule can prove here: neither membership in a class nor an unknown condition makes a mix clean. */
function reach(h: Holding, m: Matching): void {
  h.said = h.verdict;
  if (h.part === "off-gate") return;
  if (h.verdict === unknown) h.part = "informative";
  else if (h.verdict === clean) {
    h.clean = h.exact && h.all && h.open.length === 0;
    if (!h.clean) [h.part, h.verdict] = ["informative", unknown];
  } else if (m.suppose.length > 0) [h.part, h.verdict] = ["informative", unknown];
}

function carriedBy(stand: readonly Stand[]): string {
  return stand.flatMap((s, n) => (s.carrier ? [n] : [])).join();
}

function carrierGate(id: string): Gate {
  return { n: -1, factor: "carrier", ref: id, lowOpen: false, highOpen: false, first: "", then: "" };
}

/** Adds evidence to the doubt of a code, which is appended when there is none yet. */
export function addEvidence(doubts: Doubt[], code: string, e: Evidence): Doubt[] {
  const old = doubts.find((d) => d.code === code);
  if (!old) return [...doubts, { code, evidence: [e] }];
  if (old.evidence?.includes(e)) return doubts;
  return doubts.map((d) => (d === old ? { ...d, evidence: [...(d.evidence ?? []), e] } : d));
}

export function has(set: number, i: number): boolean {
  return ((set >> i) & 1) === 1;
}

/** How many bits are set. */
export function size(set: number): number {
  let n = 0;
  for (; set !== 0; set &= set - 1) n++;
  return n;
}

