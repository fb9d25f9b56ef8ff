// A calculator: fields, and what follows from them at once, with the formula and the
// numbers put in. While a field is missing or cannot be read nothing is shown that
// looks like a result.

import { type Child, fill, h } from "../page/dom";
import { Field } from "../page/field";
import { list, t } from "../page/words";

/** One field of a calculator. */
export interface Ask<T = unknown> {
  key: string; // of its messages, calculators.ask.KEY
  hint: string; // what would be right
  read: (s: string) => T;
  optional?: boolean;
}

/** What follows. */
export interface Result {
  answers: { label: string; first: string; second?: string }[];
  numbers: readonly string[]; // the formulas with the numbers put in, a line each
  notes?: string[]; // caveats that these very numbers call for
}

export interface Calculator {
  id: string; // messages: calculators.ID.title, .formula, .source
  asks: readonly Ask[];
  extra?: HTMLElement; // a choice from a list
  /** undefined: the values do not go together; a text says what is missing. */
  work: (v: Record<string, unknown>, system: "us" | "metric") => Result | string | undefined;
}

/** A calculator on the page. */
export class CalcCard {
  readonly element: HTMLElement;
  private readonly fields: [Ask, Field<unknown>][];
  private readonly out = h("div", { class: "calc-out" });
  private readonly heard = h("p", { class: "ear", role: "status" });
  private later = 0;

  constructor(
    private readonly calc: Calculator,
    private readonly system: () => "us" | "metric",
  ) {
    const some = calc.asks.some((ask) => !ask.optional);
    const hint = (ask: Ask): string => (some && ask.optional ? t("calculators.may-stay-empty", { hint: ask.hint }) : ask.hint);
    this.fields = calc.asks.map((ask) => [ask, new Field({ id: `${calc.id}-${ask.key}`, label: t(`calculators.ask.${ask.key}`), hint: hint(ask), read: ask.read, changed: () => this.changed() })]);
    this.element = h(
      "section",
      { class: "calc", id: calc.id, "aria-labelledby": calc.id + "-title" },
      h("h2", { id: calc.id + "-title" }, t(`calculators.about.${calc.id}`)),
      h("div", { class: "fields" }, calc.extra, this.fields.map(([, f]) => f.element)),
      this.out,
      this.heard,
      h("p", { class: "formula" }, t(`calculators.formula.${calc.id}`)),
      h("p", { class: "quiet" }, t("calculators.source"), " ", t(`calculators.source-of.${calc.id}`)),
    );
    this.show();
  }

  /** Shows what follows at once, and tells it to readers by ear when typing has paused. */
  private changed(): void {
    this.show();
    this.element.classList.toggle("used", this.fields.some(([, f]) => f.text.trim() !== ""));
    window.clearTimeout(this.later);
    this.later = window.setTimeout(() => {
      const words = spoken(this.out);
      if (this.heard.textContent !== words) fill(this.heard, words);
    }, 700);
  }

  /** Works it out again, or says what is missing. */
  show(): void {
    const values: Record<string, unknown> = {};
    const missing: string[] = [];
    const wrong: string[] = [];
    for (const [ask, f] of this.fields) {
      const r = f.check();
      if (r.is === "value") values[ask.key] = r.value;
      else if (r.is === "wrong") wrong.push(t(`calculators.ask.${ask.key}`));
      else if (!ask.optional) missing.push(t(`calculators.ask.${ask.key}`));
    }
    fill(this.out, this.result(values, missing, wrong));
  }

  private result(values: Record<string, unknown>, missing: readonly string[], wrong: readonly string[]): Child {
    if (wrong.length > 0) return h("p", { class: "note" }, t("calculators.wrong", { fields: list(wrong) }));
    if (missing.length > 0) return h("p", { class: "quiet" }, t("calculators.fill-in", { fields: list(missing) }));
    const r = this.calc.work(values, this.system());
    if (r === undefined) return h("p", { class: "note" }, t("calculators.cannot"));
    if (typeof r === "string") return h("p", { class: "quiet" }, r);
    return [
      h("dl", { class: "answers" }, r.answers.map((a) => h("div", {}, h("dt", {}, a.label), h("dd", {}, h("b", {}, a.first), a.second !== undefined && a.second !== a.first && h("span", { class: "under" }, a.second))))),
      r.numbers.map((line) => h("p", { class: "numbers" }, line)),
      (r.notes ?? []).map((n) => h("p", { class: "note" }, n)),
    ];
  }
}

/** A result as it is told: each answer with what it is, then what is to be noted; not the formulas. */
function spoken(out: HTMLElement): string {
  const answers = [...out.querySelectorAll(".answers > div")].map((e) => [...e.querySelectorAll("dt, b")].map((part) => part.textContent).filter((s) => s !== "").join(": "));
  const notes = [...out.querySelectorAll(".note, .quiet")].map((e) => e.textContent!);
  return [...answers, ...notes].join(". ");
}
