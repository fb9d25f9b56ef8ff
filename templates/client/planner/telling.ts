// An answer in words: the same words that pages use, from the same catalogue.

import { type Book, clean, type Doubt, type Evidence, type Gate, hazardNames, inference, type JarSet, type Rule, symptomNames, unknown, type Verdict } from "../compat/book";
import { grades, verdicts } from "../compat/enums";
import type { Count } from "../compat/json";
import { type Answer, deciding, type Finding } from "../compat/judge";
import { type Child, h, say } from "../page/dom";
import { list, percent, t } from "../page/words";
import type { Phrase, Saying, Words } from "./json";

/** What rules say, as far as it has been loaded. */
export interface Sayings {
  of(rule: number): Saying | undefined;
}

/** A piece of a page that a text leads to. */
export interface Place {
  href: string;
  text: string;
}

export class Telling {
  constructor(
    readonly book: Book,
    readonly words: Words,
    readonly sayings: Sayings,
    readonly home: string, // way to the top of the edition
  ) {}

  /** The name of a product, class or whatever has an ID. */
  name(id: string): string {
    const place = this.book.placeOf.get(id);
    if (place !== undefined) return this.book.core.names[place]!;
    const key = this.book.keyOf.get(id);
    return key === undefined ? id : this.words.keys[key]!.text;
  }

  /** The page of a product or class, "" for neither. */
  page(id: string): string {
    if (this.book.placeOf.has(id)) return `${this.home}product/${id}.html`;
    return this.book.keyOf.has(id) ? `${this.home}class/${id}.html` : "";
  }

  /** A name that leads to its page. */
  link(id: string): Child {
    const href = this.page(id);
    return href === "" ? this.name(id) : h("a", { href }, this.name(id));
  }

  names(ids: readonly string[]): string {
    return list(ids.map((id) => this.name(id)));
  }

  /** What a finding found, in one line. */
  what(f: Finding): Child {
    if (f.evidence.kind === "jars") return this.jars(f.evidence);
    const s = this.sayings.of(f.evidence.n);
    return s ? say(s.what) : t("planner.loading");
  }

  private jars(s: JarSet): string {
    const saw = s.counts.flatMap((c) => [
      ...(c.reacted ? [t("jars.reacted", { symptom: t(`symptom.${c.symptom}`), k: c.reacted, n: c.recorded ?? 0 })] : []),
      ...(c.reports ? [t("jars.reported", { symptom: t(`symptom.${c.symptom}`), n: c.reports })] : []),
    ]);
    const mix = list(s.products.map((p) => (p < 0 ? "?" : this.book.core.names[p]!)));
    return saw.length > 0 ? t("jars.saw", { mix, what: list(saw) }) : t("jars.saw-nothing", { n: s.jars.length, mix });
  }

  /** The reason in one line, and what to do, for the first screen. */
  why(a: Answer): Child {
    const d = deciding(a);
    if (d) return this.what(d);
    return a.items.length > 2 ? t("planner.why-unknown") : t("why.unknown");
  }

  /** The steps that the deciding finding asks for, its mend first. */
  steps(a: Answer): Phrase[] {
    const d = deciding(a);
    if (!d || a.verdict <= clean || d.evidence.kind !== "rule") return [];
    const s = this.sayings.of(d.evidence.n);
    if (!s) return [];
    const mend = d.mend < 0 ? undefined : s.mends?.[d.mend];
    return [...(mend && mend.text !== "" ? [mend] : []), ...(s.steps ?? [])];
  }

  /** What to do instead: advice of the statement that asks for as much caution, else the verdict's own. */
  instead(a: Answer): { text: Child; use: string[] } {
    for (const f of a.findings) {
      if (f.evidence.kind !== "rule" || f.verdict !== a.verdict || a.verdict === unknown) continue;
      const s = this.sayings.of(f.evidence.n);
      if (s?.instead?.text || s?.use) return { text: s.instead?.text ? say(s.instead) : null, use: s.use ?? [] };
    }
    return { text: t(`instead.${verdicts[a.verdict]}`), use: [] };
  }

  grade(f: Finding): string {
    if (f.grade === inference && f.basis > inference) return t("grade.through-class", { basis: t(`grade.${grades[f.basis]}`) });
    return t(`grade.${grades[f.grade]}`);
  }

  part(f: Finding): string {
    const part = t(`part.${f.part}`);
    if (f.verdict !== unknown || f.stated === unknown) return part;
    return t("part.by-itself", { part, verdict: this.verdict(f.stated) });
  }

  verdict(v: Verdict): string {
    return t(`verdict.${verdicts[v]}`);
  }

  gate(g: Gate): string {
    if (g.n >= 0) return this.words.gates[g.n]!;
    if (g.factor === "carrier") return t("gate.carrier", { name: this.name(g.ref) });
    const bound = t("bound.range", { low: g.low?.short(3) ?? "", high: g.high?.short(3) ?? "" });
    return t(`gate.${g.factor.replace(/_/g, "-")}`, { bound });
  }

  /** A doubt in words; which arguments they use is up to the code. */
  doubt(d: Doubt): string {
    const n = d.count ? d.count.recorded ?? 0 : d.n ?? 0;
    return t(`doubt.${d.code}`, {
      gates: list((d.gates ?? []).map((g) => this.gate(g))),
      symptoms: list(symptomNames(d.symptoms ?? 0).map((s) => t(`symptom.${s}`))),
      items: this.names(d.items ?? []),
      years: d.n ?? 0,
      n,
      ...countArgs(d.count),
    });
  }

  /** Doubts in words, each once, with the records they rest on. */
  doubts(all: readonly Doubt[]): { text: string; records: Place[] }[] {
    const lines: { text: string; records: Place[] }[] = [];
    for (const d of all) {
      const text = this.doubt(d);
      if (!lines.some((l) => l.text === text)) lines.push({ text, records: (d.evidence ?? []).flatMap((e) => this.records(e)) });
    }
    return lines;
  }

  /** The records of a piece of evidence. */
  records(e: Evidence): Place[] {
    if (e.kind === "jars") return e.jars.map((id) => ({ href: `${this.home}observation/${id}.html`, text: id }));
    return [this.record(e)];
  }

  private record(r: Rule): Place {
    if (r.notice) return { href: `${this.home}notices.html#${r.id}`, text: t("record.notice", { id: r.id }) };
    return { href: `${this.home}interactions.html#${r.id}`, text: t("record.interaction", { id: r.id }) };
  }

  /** How a rule reaches the products: through which of their classes. */
  because(f: Finding): string[] {
    return f.matches.filter((m) => m.item !== m.member).map((m) => t("planner.kind-of", { item: this.name(m.item), cls: this.name(m.member) }));
  }

  /** Hazards of the mix, then those that only call for care in handling. */
  hazards(a: Answer): { mix: string[]; handling: string[] } {
    return { mix: hazardNames(a.hazards), handling: hazardNames(a.handling & ~a.hazards) };
  }
}

function countArgs(c: Count | undefined): Record<string, string | number> {
  if (!c) return {};
  return { upper: percent(c.upper ?? 0), independent: c.independent ?? 0, symptom: t(`symptom.${c.symptom}`) };
}
