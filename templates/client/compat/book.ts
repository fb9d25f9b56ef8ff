// The publication's data, made ready for judging: names become bits and numbers,
// and rules and jars are found by what they name.

import { frac, fromDigits, type Num } from "../unit/number";
import { grades, hazards, inJarSymptoms, symptoms, verdicts } from "./enums";
import type { Core, Count, Gate as GateJSON, Opposed, Rule as RuleJSON, Set as SetJSON, Shard, Uses } from "./json";

/** A verdict by its place in the list: 0 is no evidence, no point on the scale. */
export type Verdict = 0 | 1 | 2 | 3 | 4;
export const unknown = 0;
export const clean = 1;
export const steps = 2;
export const never = 4;

export function verdictOf(name: string): Verdict {
  return place(verdicts, name) as Verdict;
}

/** Grades by their place in the list: a higher one is stronger. */
export const inference = place(grades, "inference");
export const gradeOf = (name: string): number => place(grades, name);

function place(list: readonly string[], name: string): number {
  const n = list.indexOf(name);
  if (n < 0) throw new Error(`unknown word ${name}`);
  return n;
}

const bitsOf = (list: readonly string[]) => (names: readonly string[] | undefined): number =>
  (names ?? []).reduce((bits, name) => bits | (1 << place(list, name)), 0);

export const symptomBits = bitsOf(symptoms);
export const hazardBits = bitsOf(hazards);
const inJar = symptomBits(inJarSymptoms);

/** The names of the bits, in the order of the vocabulary. */
export const symptomNames = (bits: number): string[] => symptoms.filter((_, i) => (bits >> i) & 1);
export const hazardNames = (bits: number): string[] => hazards.filter((_, i) => (bits >> i) & 1);

/** A condition; n is its place in the data, -1 for one that was made here. */
export interface Gate {
  n: number;
  factor: string;
  low?: Num;
  lowOpen: boolean;
  high?: Num;
  highOpen: boolean;
  ref: string;
  first: string;
  then: string;
}

/** A number as data write it: whole or a fraction, perhaps below zero. */
export function ratio(s: string): Num {
  const [above = "", below = "1"] = s.replace("-", "").split("/");
  const n = below === "1" ? fromDigits(above) : frac(BigInt(above), BigInt(below));
  return s.startsWith("-") ? n.neg() : n;
}

export function gateOf(g: GateJSON, n: number): Gate {
  return {
    n,
    factor: g.factor,
    ...(g.low !== undefined && { low: ratio(g.low) }),
    lowOpen: g.low_open ?? false,
    ...(g.high !== undefined && { high: ratio(g.high) }),
    highOpen: g.high_open ?? false,
    ref: g.ref ?? "",
    first: g.first ?? "",
    then: g.then ?? "",
  };
}

/** What a reader can follow: a rule by its place, or a set of jars. */
export type Evidence = Rule | JarSet;

/** A qualification; which fields are set is up to the code. */
export interface Doubt {
  code: string;
  evidence?: Evidence[];
  gates?: Gate[];
  symptoms?: number;
  items?: string[];
  count?: Count;
  n?: number;
}

export interface Rule {
  kind: "rule";
  n: number; // place
  id: string;
  notice: boolean;
  members: number[]; // keys
  distinct: number;
  verdict: Verdict;
  stated: Verdict;
  nature: string; // physical, chemical, biological, legal
  grade: number;
  hazards: number;
  care: number;
  symptoms: number;
  firm: boolean;
  law: boolean;
  demand: boolean;
  inForce: boolean;
  when: Gate[];
  mends: { key: number; to: Verdict; n: number }[];
  doubts: Doubt[];
  opposed: Opposition[];
}

interface Opposition {
  part: string; // places of products, joined
  carriers: string; // members, joined
  relaxes: boolean;
  lenient: number;
}

export interface JarSet {
  kind: "jars";
  n: number;
  products: number[]; // places, in order of ID
  name: string; // the IDs of its products, as the order of findings takes them
  jars: string[];
  reacted: number;
  worst: Map<number, Verdict>; // by symptom's bit
  verdict: Verdict;
  clear: number;
  unjudged: boolean;
  quiet: boolean; // nothing was ever seen, and something was looked for
  hazards: number;
  grade: number;
  counts: Count[];
  doubts: Doubt[];
  ranAt: Gate[];
  orders: { order: string; set: JarSet }[]; // places joined; they stayed clean where others reacted
}

export interface Carrier {
  key: number;
  id: string;
  above: Set<number>;
  when: Gate[];
}

/** One thing in the mix. place -1: it is not in this publication. */
export interface Item {
  id: string;
  place: number;
  keys: ReadonlySet<number>;
  handling: number;
  hides: number;
}

const noKeys: ReadonlySet<number> = new Set();

export class Book {
  readonly keyOf = new Map<string, number>();
  readonly ids: string[];
  readonly placeOf = new Map<string, number>();
  readonly rules: Rule[];
  readonly rulesOf = new Map<number, Rule[]>(); // by member
  readonly carriers: Carrier[];
  readonly partOf = new Map<string, string>(); // of places
  readonly needed: number;
  readonly setsWith = new Map<number, JarSet[]>(); // by product, in order
  private readonly gates: Gate[];
  private readonly sets = new Map<number, JarSet>();
  private readonly items = new Map<number, Item>();

  constructor(readonly core: Core) {
    core.keys.forEach((id, n) => this.keyOf.set(id, n));
    this.ids = core.names.map((name, n) => core.ids[n] || slug(name));
    this.ids.forEach((id, n) => this.placeOf.set(id, n));
    this.gates = core.gates.map(gateOf);
    this.needed = symptomBits(core.needed);
    for (const p of core.places) this.partOf.set(p.id, p.part_of ?? "");
    this.carriers = core.carriers.map((c) => ({
      key: c.key,
      id: core.keys[c.key]!,
      above: new Set(c.above),
      when: (c.when ?? []).map((g) => this.gates[g]!),
    }));
    this.rules = core.rules.map((r, n) => this.rule(r, n));
    for (const r of this.rules) for (const m of new Set(r.members)) push(this.rulesOf, m, r);
  }

  private rule(r: RuleJSON, n: number): Rule {
    const verdict = verdictOf(r.verdict);
    return {
      kind: "rule",
      n,
      id: r.id,
      notice: r.notice ?? false,
      members: r.members,
      distinct: new Set(r.members).size,
      verdict,
      stated: r.stated === undefined ? verdict : verdictOf(r.stated),
      nature: r.kind,
      grade: gradeOf(r.grade),
      hazards: hazardBits(r.hazards),
      care: hazardBits(r.care),
      symptoms: symptomBits(r.symptoms),
      firm: r.firm ?? false,
      law: r.law ?? false,
      demand: r.demand ?? false,
      inForce: !r.lapsed,
      when: (r.when ?? []).map((g) => this.gates[g]!),
      mends: (r.mends ?? []).map((m, i) => ({ key: m.key, to: verdictOf(m.to), n: i })),
      doubts: (r.doubts ?? []).map(doubtOf),
      opposed: [],
    };
  }

  /** Takes in what is known of some products; the same again changes nothing. */
  add(shard: Shard): void {
    const grown = new Set<JarSet[]>();
    for (const s of shard.sets) {
      if (this.sets.has(s.n)) continue;
      const set = this.jarSet(s);
      this.sets.set(s.n, set);
      for (const p of set.products) if (p >= 0) grown.add(push(this.setsWith, p, set));
    }
    for (const list of grown) list.sort((a, b) => a.n - b.n);
    for (const o of shard.opposed) this.oppose(o);
  }

  /**
   * Takes in what is known of products by themselves. With it a product can be judged
   * beside those that have been taken in, before all of its own is.
   */
  addAlone(uses: Uses): void {
    this.add({ first: 0, products: [], sets: uses.sets, opposed: uses.opposed });
  }

  private oppose(o: Opposed): void {
    const one = { part: o.products.join(), carriers: (o.carriers ?? []).join(), relaxes: o.relaxes ?? false, lenient: o.lenient ?? 0 };
    const list = this.rules[o.rule]!.opposed;
    if (!list.some((k) => k.part === one.part && k.carriers === one.carriers)) list.push(one);
  }

  private jarSet(s: SetJSON): JarSet {
    const reacted = symptomBits(s.reacted);
    const clear = symptomBits(s.clear);
    const worst = new Map<number, Verdict>();
    (s.reacted ?? []).forEach((name, i) => worst.set(place(symptoms, name), verdictOf(s.worst![i]!)));
    return {
      kind: "jars",
      n: s.n,
      products: s.products,
      name: s.products.map((p) => this.ids[p] + " ").join(""),
      jars: s.jars,
      reacted,
      worst,
      verdict: Math.max(unknown, ...worst.values()) as Verdict,
      clear,
      unjudged: s.unjudged ?? false,
      quiet: reacted === 0 && !s.unjudged && (clear & inJar) !== 0,
      hazards: hazardBits(s.hazards),
      grade: gradeOf(s.grade),
      counts: s.counts ?? [],
      doubts: (s.doubts ?? []).map(doubtOf),
      ranAt: (s.ran_at ?? []).map((g) => gateOf(g, -1)),
      orders: (s.orders ?? []).map((o) => ({ order: o.order.join(), set: this.jarSet(o.set) })),
    };
  }

  /** The product of a place, as an item of a mix. */
  item(n: number): Item {
    const known = this.items.get(n);
    if (known) return known;
    const signature = this.core.signatures[this.core.of[n]!]!;
    const keys = new Set(signature.keys);
    const own = this.keyOf.get(this.ids[n]!);
    if (own !== undefined) keys.add(own);
    const made = { id: this.ids[n]!, place: n, keys, handling: hazardBits(signature.handling), hides: symptomBits(signature.hides) };
    this.items.set(n, made);
    return made;
  }

  /** The item of an ID; of one that is not in this publication nothing is known. */
  itemOf(id: string): Item {
    const n = this.placeOf.get(id);
    return n === undefined ? { id, place: -1, keys: noKeys, handling: 0, hides: 0 } : this.item(n);
  }

  /** Whether an item, by ID, is a class or product or lies below it. */
  isA(item: Item, id: string): boolean {
    const key = this.keyOf.get(id);
    return item.id === id || (key !== undefined && item.keys.has(key));
  }
}

function doubtOf(d: { code: string; symptoms?: string[]; n?: number; count?: Count }): Doubt {
  return {
    code: d.code,
    ...(d.symptoms && { symptoms: symptomBits(d.symptoms) }),
    ...(d.n !== undefined && { n: d.n }),
    ...(d.count && { count: d.count }),
  };
}

function push<K, V>(map: Map<K, V[]>, key: K, value: V): V[] {
  const list = map.get(key);
  if (!list) {
    const made = [value];
    map.set(key, made);
    return made;
  }
  list.push(value);
  return list;
}

/** The ID that most products have: their name in lower case with hyphens. */
export function slug(name: string): string {
  const lower = name.replace(/[A-Z]/g, (c) => String.fromCharCode(c.charCodeAt(0) + 32));
  return lower.replace(/[^a-z0-9]+/g, "-").replace(/^-|-$/g, "");
}
