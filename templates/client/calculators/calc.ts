// A calculator: fields, and what follows from them at once, with the formula and the
// numbers put in. While a field is missing or cannot be read nothing is shown that
// looks like a result.

import { Choice, type Option } from "../page/choice";
import { copyButton } from "../page/copy";
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
  pick?: { key: string; options: readonly Option[] }; // a choice from a list, as a text under its key
  /** undefined: the values do not go together; a text says what is missing. */
  work: (v: Record<string, unknown>, system: "us" | "metric") => Result | string | undefined;
}

/** What a calculator on the page is told. */
export interface CardOptions {
  system: () => "us" | "metric";
  changed: (id: string) => void; // its reader has changed what is entered
  address: (card: CalcCard) => string; // that opens it as it stands
  back: HTMLElement; // the way to all calculators
}

/** A calculator on the page. */
export class CalcCard {
  readonly element: HTMLElement;
  private readonly fields: [Ask, Field<unknown>][];
  private readonly choice: Choice | undefined;
  private readonly out = h("div", { class: "calc-out" });
  private readonly heard = h("p", { class: "ear", role: "status" });
  private readonly tools = h("p", { class: "calc-tools no-print" });
  private emptied: Record<string, string> | undefined; // what stood in the fields before they were emptied
  private later = 0;

  constructor(
    private readonly calc: Calculator,
    private readonly o: CardOptions,
  ) {
    const some = calc.asks.some((ask) => !ask.optional);
    const hint = (ask: Ask): string => (some && ask.optional ? t("calculators.may-stay-empty", { hint: ask.hint }) : ask.hint);
    const changed = (): void => {
      this.emptied = undefined;
      this.changed();
    };
    this.choice = calc.pick && new Choice(this.keyOf(calc.pick.key), t(`calculators.ask.${calc.pick.key}`), [{ value: "", label: t("planner.not-said") }, ...calc.pick.options], changed);
    this.fields = calc.asks.map((ask) => [ask, new Field({ id: this.keyOf(ask.key), label: t(`calculators.ask.${ask.key}`), hint: hint(ask), example: "", read: ask.read, changed })]);
    this.element = h(
      "section",
      { class: "calc", id: calc.id, tabindex: "-1", "aria-labelledby": calc.id + "-title" },
      h("h2", { id: calc.id + "-title" }, t(`calculators.about.${calc.id}`)),
      h("div", { class: "fields" }, this.choice?.element, this.fields.map(([, f]) => f.element)),
      this.out,
      this.heard,
      h("p", { class: "formula" }, t(`calculators.formula.${calc.id}`)),
      h("p", { class: "quiet" }, t("calculators.source"), " ", t(`calculators.source-of.${calc.id}`)),
      this.tools,
      o.back,
    );
    this.show();
  }

  get id(): string {
    return this.calc.id;
  }

  /** The keys of what is entered, which are the IDs of the fields. */
  get keys(): string[] {
    const { pick, asks } = this.calc;
    return [...(pick ? [pick.key] : []), ...asks.map((ask) => ask.key)].map((key) => this.keyOf(key));
  }

  /** Whether anything is entered. */
  get used(): boolean {
    return Object.values(this.texts()).some((s) => s.trim() !== "");
  }

  private keyOf(key: string): string {
    return `${this.calc.id}-${key}`;
  }

  /** What is entered, as it was typed. */
  texts(): Record<string, string> {
    const { choice, calc } = this;
    return Object.fromEntries([...(choice && calc.pick ? [[this.keyOf(calc.pick.key), choice.value]] : []), ...this.fields.map(([ask, f]) => [this.keyOf(ask.key), f.text])]) as Record<string, string>;
  }

  /** Enters texts; fields of which there is none become empty. */
  put(texts: Readonly<Record<string, string>>): void {
    if (this.choice && this.calc.pick) this.choice.choose(texts[this.keyOf(this.calc.pick.key)] ?? "");
    for (const [ask, f] of this.fields) f.text = texts[this.keyOf(ask.key)] ?? "";
    this.emptied = undefined;
    window.clearTimeout(this.later);
    fill(this.heard);
    this.show();
  }

  /** Shows what follows at once, and tells it to readers by ear when typing has paused. */
  private changed(): void {
    this.show();
    this.o.changed(this.id);
    window.clearTimeout(this.later);
    this.later = window.setTimeout(() => this.tell(spoken(this.out)), 700);
  }

  private tell(words: string): void {
    if (this.heard.textContent !== words) fill(this.heard, words);
  }

  /** Offers to copy the address of what is entered, and to empty the fields; after that, to put all back. */
  private offer(): void {
    const copy = (): HTMLElement => copyButton({ label: t("calculators.copy"), copied: t("calculators.copied"), byHand: t("calculators.copy-by-hand"), address: () => this.o.address(this), tell: (words) => this.tell(words) });
    const button = (label: string, click: () => void): HTMLElement => h("button", { type: "button", class: "remove", click }, label);
    if (this.emptied) fill(this.tools, button(t("calculators.put-back"), () => this.exchange(this.emptied!, undefined)));
    else fill(this.tools, this.used && [copy(), button(t("calculators.empty"), () => this.exchange({}, this.texts()))]);
  }

  /** Enters other texts by a button, which keeps the focus in the calculator. */
  private exchange(texts: Readonly<Record<string, string>>, emptied: Record<string, string> | undefined): void {
    this.put(texts);
    this.emptied = emptied;
    this.changed();
    (emptied ? this.tools.querySelector("button") : this.fields[0]?.[1].input)?.focus();
  }

  /** Works it out again, or says what is missing. */
  show(): void {
    const values: Record<string, unknown> = this.choice && this.calc.pick ? { [this.calc.pick.key]: this.choice.known } : {};
    const missing: string[] = [];
    const wrong: string[] = [];
    for (const [ask, f] of this.fields) {
      const r = f.check();
      if (r.is === "value") values[ask.key] = r.value;
      else if (r.is === "wrong") wrong.push(t(`calculators.ask.${ask.key}`));
      else if (!ask.optional) missing.push(t(`calculators.ask.${ask.key}`));
    }
    fill(this.out, this.result(values, missing, wrong));
    this.element.classList.toggle("used", this.used);
    this.offer();
  }

  private result(values: Record<string, unknown>, missing: readonly string[], wrong: readonly string[]): Child {
    if (wrong.length > 0) return h("p", { class: "note" }, t("calculators.wrong", { fields: list(wrong) }));
    if (missing.length > 0) return h("p", { class: "quiet" }, t("calculators.fill-in", { fields: list(missing) }));
    const r = this.calc.work(values, this.o.system());
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
