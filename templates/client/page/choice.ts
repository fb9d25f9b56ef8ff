// A choice from a list, with "not said" first: what is not said is not known. A
// value that the list does not have stays chosen and is marked, until its reader
// chooses another; it counts as not said.

import { fill, h } from "./dom";
import { t } from "./words";

export interface Option {
  value: string;
  label: string;
  lang?: string;
}

export class Choice {
  readonly select: HTMLSelectElement;
  readonly element: HTMLElement;
  private readonly note = h("div", { class: "field-note" });
  private stranger: HTMLOptionElement | undefined; // the option of a value that the list does not have

  constructor(id: string, label: string, options: readonly Option[], changed: () => void) {
    const chosen = (): void => {
      if (!this.strange) this.choose(this.select.value);
      changed();
    };
    this.select = h("select", { id, change: chosen }, options.map((o) => h("option", { value: o.value, lang: o.lang }, o.label)));
    this.note.id = id + "-note";
    this.element = h("div", { class: "field" }, h("label", { for: id }, label), this.select, this.note);
  }

  /** What is chosen, whether the list has it or not. */
  get value(): string {
    return this.select.value;
  }

  /** What is chosen from the list; "" for a value that it does not have. */
  get known(): string {
    return this.strange ? "" : this.value;
  }

  private get strange(): boolean {
    return this.stranger !== undefined && this.stranger.selected;
  }

  /** Chooses a value. One that is not in the list is kept and marked. Returns whether it was there. */
  choose(value: string): boolean {
    this.stranger?.remove();
    this.stranger = undefined;
    this.select.value = value;
    const there = this.select.value === value && this.select.selectedIndex >= 0;
    if (!there) {
      this.stranger = h("option", { value }, t("choice.strange", { value: short(value) }));
      this.select.append(this.stranger);
      this.stranger.selected = true;
    }
    this.mark(there ? "" : t("choice.strange-note", { value: short(value) }));
    return there;
  }

  private mark(words: string): void {
    this.element.classList.toggle("wrong", words !== "");
    if (words === "") {
      this.select.removeAttribute("aria-invalid");
      this.select.removeAttribute("aria-describedby");
    } else {
      this.select.setAttribute("aria-invalid", "true");
      this.select.setAttribute("aria-describedby", this.note.id);
    }
    fill(this.note, words !== "" && h("span", {}, words));
  }
}

/** The beginning of a value that somebody else wrote. */
function short(s: string): string {
  return s.length > 40 ? s.slice(0, 40) + "…" : s;
}
