// How what was heard becomes an answer. As internal/compat/settle.go, whole.go,
// demand.go and reach.go.

import type { Book, Doubt, Gate, Item, JarSet, Verdict } from "./book";
import { clean, never, steps, unknown } from "./book";
import { symptoms as symptomList } from "./enums";
import { addEvidence, type Answer, has, type Holding, type Inquiry, type Part, size } from "./judge";
import { compareText } from "./match";

export function settle(q: Inquiry): Answer {
  for (const h of q.held) oppose(q, h);
  const verdict = combine(q);
  bound(q);
  parts(q, verdict);
  q.held.sort((a, b) => partOrder[a.part] - partOrder[b.part]);
  const first = q.held[0]?.part === "decides" ? q.held[0] : undefined;
  return {
    items: q.items,
    verdict,
    grade: first?.grade ?? 0,
    nature: first?.rule?.nature ?? "none",
    findings: q.held,
    hazards: hazards(q),
    handling: handling(q),
    symptoms: bySymptom(q),
    ...ending(q, verdict, first?.doubts ?? []),
  };
}

const partOrder: Record<Part, number> = {
  decides: 0,
  none: 0,
  agrees: 1,
  softened: 1,
  outvoted: 1,
  relaxed: 2,
  informative: 3,
  "off-gate": 4,
};

/** Weighs clean jars against a finding that speaks for caution: they relax it by rule 3, or add a doubt. */
function oppose(q: Inquiry, h: Holding): void {
  const r = h.rule;
  const part = q.itemsOf(h.items);
  const sets = together(q.book, part);
  if (r && h.part !== "off-gate" && !h.exact && !r.law && part.length > 1 && sets.length === 0) {
    h.doubts.push({ code: "from-class", items: part.map((item) => item.id) });
  }
  if (h.verdict < steps || (r?.law && r.hazards === 0)) return;
  const quiet = sets.filter((s) => {
    const told = s.clear & ~q.hidden(s, part).hidden; // what else was in the jar may hide all it was looked at for
    return s.quiet && told !== 0 && overlap(h.symptoms, told);
  });
  const firm = h.verdict === never || (r?.firm ?? false);
  const code = firm ? "hazard-stands" : "disagree";
  const known = r && opposition(h, part);
  if (!firm && !h.exact && known?.relaxes) [h.part, h.verdict] = ["relaxed", unknown];
  for (const s of quiet) h.doubts = addEvidence(h.doubts, code, s);
  for (const o of q.held) {
    if (!o.rule || !says(o, clean) || (h.items & ~o.items) !== 0 || !overlap(h.symptoms, o.symptoms)) continue;
    h.doubts = addEvidence(h.doubts, code, o.evidence);
    o.doubts = addEvidence(o.doubts, "disagree", h.evidence);
  }
  if (h.part !== "relaxed" && !firm && known && known.lenient > 0) h.doubts.push({ code: "lenient", n: known.lenient });
}

/** What Go found quiet jars of the part to do to the rule. */
function opposition(h: Holding, part: readonly Item[]): { relaxes: boolean; lenient: number } | undefined {
  if (h.rule!.opposed.length === 0) return undefined;
  const places = part.map((item) => item.place).join();
  return h.rule!.opposed.find((o) => o.part === places && o.carriers === h.carried);
}

function says(h: Holding, v: Verdict): boolean {
  return h.part !== "off-gate" && h.part !== "relaxed" && h.stated === v;
}

/** Whether two pieces of evidence speak of a common symptom; one that names none speaks of all. */
function overlap(a: number, b: number): boolean {
  return a === 0 || b === 0 || (a & b) !== 0;
}

/** The sets of jars that held all the items, in order. */
function together(book: Book, items: readonly Item[]): JarSet[] {
  const [first, ...rest] = items;
  return (book.setsWith.get(first!.place) ?? []).filter((s) => rest.every((item) => s.products.includes(item.place)));
}

const demands = (h: Holding): boolean => h.rule?.demand ?? false;

/** The worst that any finding asks for; else clean when it is proved; else unknown. */
function combine(q: Inquiry): Verdict {
  let worst: Verdict = unknown;
  let cover = 0;
  let sourced = false;
  let asked = false;
  for (const h of q.held) {
    if (demands(h)) {
      asked ||= h.verdict === steps;
      continue;
    }
    if (h.verdict > worst) worst = h.verdict;
    if (h.clean && h.set) cover |= h.symptoms;
    sourced ||= h.clean && h.rule !== undefined;
  }
  const needed = q.book.needed;
  const covered = needed !== 0 && (needed & ~cover) === 0;
  if (covered) for (const h of q.held) if (h.clean && h.set) h.verdict = clean;
  if (worst <= clean && (covered || sourced)) worst = clean;
  if (asked && (worst === clean || (worst === unknown && cleanPart(q)))) return steps;
  if (worst === unknown) for (const h of q.held) if (demands(h)) h.verdict = unknown;
  return worst;
}

/** Whether steps are asked for of a part of the mix that is known to be clean. */
function cleanPart(q: Inquiry): boolean {
  return cleanParts(q).some((part) => q.judge.judge(q.itemsOf(part)).verdict === steps);
}

const mostParts = 256;

/** The parts of the mix that may be clean: what quiet jars held of it, what statements call clean. What several of them have in common is found in the parts of a part. */
function cleanParts(q: Inquiry): number[] {
  const list: number[] = [];
  const add = (part: number): void => {
    const n = size(part);
    if (n > 1 && n < q.items.length && !list.includes(part) && list.length < mostParts) list.push(part);
  };
  q.items.forEach((_, i) => {
    for (const [s, part] of q.bearing()) if ((s.quiet || q.inOrder(s)) && has(part, i) && (part & ((1 << i) - 1)) === 0) add(part);
  });
  for (const h of q.held) {
    if (h.exact && h.rule && h.stated === clean) add(h.items);
  }
  return list;
}

/** Adds to clean jars the doubt that this mix lies outside what they were run at. */
function bound(q: Inquiry): void {
  for (const h of q.held) {
    if (!h.set || h.verdict !== clean) continue;
    const gates = h.set.ranAt.filter((g) => outside(q, g));
    if (gates.length > 0) h.doubts.push({ code: "beyond", gates });
  }
}

/** A mix that stands for less time, in more water or a larger spray volume, is inside. */
function outside(q: Inquiry, g: Gate): boolean {
  const at = q.setting.situation.numbers[g.factor];
  if (!at || !g.low || !g.high) return false;
  const under = at.cmp(g.low) < 0 && g.factor !== "standing";
  const over = at.cmp(g.high) > 0 && g.factor !== "spray_volume" && g.factor !== "water_share";
  return under || over;
}

/** Tells each finding what it did. */
function parts(q: Inquiry, verdict: Verdict): void {
  q.held.sort(compareHoldings);
  let decided = false;
  for (const h of q.held) {
    if (h.part === "off-gate" || h.part === "relaxed") continue;
    if (h.verdict === unknown) {
      h.part = h.clean && verdict > clean && outvoted(q, h) ? "outvoted" : "informative";
    } else if (h.verdict === verdict && !decided) {
      h.part = "decides";
      decided = true;
    } else if (h.verdict === clean && verdict > clean) {
      h.part = outvoted(q, h) ? "outvoted" : "informative";
    } else {
      h.part = h.mend >= 0 && h.verdict < h.rule!.verdict ? "softened" : "agrees";
    }
  }
}

function outvoted(q: Inquiry, one: Holding): boolean {
  return q.held.some((h) => h.verdict >= steps && overlap(h.symptoms, one.symptoms));
}

/** By caution, then those without conditions, then those that speak of the very items, then by grade, then by identity. */
function compareHoldings(a: Holding, b: Holding): number {
  return (
    b.verdict - a.verdict ||
    Math.min(a.open.length, 1) - Math.min(b.open.length, 1) ||
    Number(a.larger) - Number(b.larger) ||
    jarSize(a) - jarSize(b) ||
    b.grade - a.grade ||
    b.basis - a.basis ||
    b.stated - a.stated ||
    rank(a) - rank(b) ||
    compareText(name(a), name(b)) ||
    a.items - b.items
  );
}

const rank = (h: Holding): number => (h.set ? 2 : h.rule!.notice ? 1 : 0);
const jarSize = (h: Holding): number => (h.set && h.larger ? h.set.products.length : 0);
const name = (h: Holding): string => h.set?.name ?? h.rule!.id;

function hazards(q: Inquiry): number {
  return q.held.reduce((bits, h) => (h.verdict >= steps ? bits | h.hazards : bits), 0);
}

/** Hazards that call for care: of handling the items, and of gas or heat that steps deal with. */
function handling(q: Inquiry): number {
  const own = q.items.reduce((bits, item) => bits | item.handling, 0);
  return q.held.reduce((bits, h) => (h.rule && (h.verdict === steps || h.verdict === 3) ? bits | h.rule.care : bits), own);
}

/** The worst that is known of each symptom by itself. */
function bySymptom(q: Inquiry): Answer["symptoms"] {
  const worst = new Map<number, Verdict>();
  for (const h of q.held) {
    let v: Verdict = h.clean && h.set ? clean : h.verdict;
    if (v === unknown) continue;
    symptomList.forEach((_, x) => {
      if (!has(h.symptoms, x)) return;
      if (h.set && v >= steps) v = h.set.worst.get(x) ?? unknown;
      worst.set(x, Math.max(worst.get(x) ?? unknown, v) as Verdict);
    });
  }
  const out: Answer["symptoms"] = [];
  symptomList.forEach((_, x) => {
    const v = worst.get(x) ?? unknown;
    if (v !== unknown) out.push({ symptom: x, verdict: v });
  });
  return out;
}

/** The untested pairs, and the doubts on the answer as a whole. */
function ending(q: Inquiry, verdict: Verdict, first: Doubt[]): { untested: [string, string][]; doubts: Doubt[] } {
  const pairs = untested(q);
  const doubts = q.doubts.filter((d) => d.code !== "suspect" || verdict <= clean);
  if (q.items.length > 2 && verdict === unknown && pairs.length === 0) doubts.push({ code: "pairs-only" });
  return { untested: pairs, doubts: [...first, ...doubts] };
}

/** The pairs about which nothing is known: no evidence that counts speaks of both, here or of the pair by itself. */
function untested(q: Inquiry): [string, string][] {
  const list: [string, string][] = [];
  q.items.forEach((a, i) => {
    q.items.slice(i + 1).forEach((b, k) => {
      const pair = (1 << i) | (1 << (i + 1 + k));
      if (q.held.some((h) => h.verdict !== unknown && !demands(h) && (pair & ~h.items) === 0)) return;
      if (q.items.length > 2 && !q.judge.pairUntested(a, b)) return;
      list.push([a.id, b.id]);
    });
  });
  return list;
}
