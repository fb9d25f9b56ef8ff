// A field for a quantity: what is typed is read at once, and what is wrong is said
// beside it with what to write instead. Nothing that was typed is ever lost.

import { Refusal } from "../unit/text";
import { h, fill } from "./dom";
import { t } from "./words";

/** What a field gives: a value, nothing at all, or a text that cannot be read. */
export type Reading<T> = { is: "value"; value: T } | { is: "empty" } | { is: "wrong" };

export interface FieldOptions<T> {
  id: string;
  label: string;
  read: (s: string) => T;
  hint?: string; // under the label: examples, or the label's range
  example?: string; // what would be right, where that is not the hint; "" where the hint alone is enough
  needed?: boolean; // empty is said to be missing
  spoken?: string; // the whole name for readers by ear, where the label alone is not enough; begins with it
  more?: string; // ID of what else describes it
  changed: () => void;
}

export class Field<T> {
  readonly input: HTMLInputElement;
  readonly element: HTMLElement;
  private readonly note = h("div", { class: "field-note" });
  private readonly hint = h("span", { class: "field-hint" });
  private read: { text: string; reading: Reading<T> } | undefined; // what was read last

  constructor(private readonly o: FieldOptions<T>) {
    const described = [`${o.id}-hint`, `${o.id}-note`, ...(o.more ? [o.more] : [])].join(" ");
    this.input = h("input", {
      id: o.id,
      type: "text",
      autocomplete: "off",
      autocapitalize: "off",
      spellcheck: "false",
      enterkeyhint: "done",
      "aria-label": o.spoken,
      "aria-describedby": described,
      input: () => {
        this.check();
        o.changed();
      },
    });
    this.hint.id = o.id + "-hint";
    this.note.id = o.id + "-note";
    this.describe(o.hint ?? "");
    this.element = h("div", { class: "field" }, h("label", { for: o.id }, o.label), this.input, this.hint, this.note);
  }

  /** Sets what stands under the field. */
  describe(hint: string): void {
    if (this.hint.textContent !== hint) fill(this.hint, hint);
  }

  get text(): string {
    return this.input.value;
  }

  /** A break of lines becomes a space: a browser would drop it and join the figures beside it. */
  set text(s: string) {
    this.input.value = s.replace(/[\r\n]+/g, " ");
    this.check();
  }

  /** Reads the field and says what is wrong with it. */
  check(): Reading<T> {
    const text = this.text;
    if (this.read?.text !== text) this.read = { text, reading: this.readText(text) };
    return this.read.reading;
  }

  private readText(text: string): Reading<T> {
    if (text.trim() === "") {
      this.show(this.o.needed && text !== "" ? new Refusal("empty", 0) : undefined);
      return { is: "empty" };
    }
    try {
      const value = this.o.read(text);
      this.show(undefined);
      return { is: "value", value };
    } catch (e) {
      if (!(e instanceof Refusal)) throw e;
      this.show(e);
      return { is: "wrong" };
    }
  }

  private show(e: Refusal | undefined): void {
    this.input.toggleAttribute("aria-invalid", e !== undefined);
    if (e) this.input.setAttribute("aria-invalid", "true");
    this.element.classList.toggle("wrong", e !== undefined);
    if (!e) {
      fill(this.note);
      return;
    }
    fill(this.note, h("span", {}, refusalWords(e)), e.invented ? this.such(e) : e.write.map((s) => this.offer(s)));
  }

  /** What could stand here. A number that its reader never wrote is not one tap from the plan. */
  private such(e: Refusal): HTMLElement | false {
    const text = this.o.example ?? this.o.hint ?? e.write.join(", ");
    return text !== "" && h("small", {}, t("refuse.such-as", { text }));
  }

  /** A button that writes what would be right. */
  private offer(s: string): HTMLElement {
    return h(
      "button",
      {
        type: "button",
        class: "offer",
        click: () => {
          this.text = s;
          this.input.focus();
          this.o.changed();
        },
      },
      s,
    );
  }
}

/** Why a text is refused, in words. */
export function refusalWords(e: Refusal): string {
  return t(`refuse.${e.code}`, { found: e.found });
}
