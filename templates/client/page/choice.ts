// A choice from a list, with "not said" first: what is not said is not known.

import { h } from "./dom";

export interface Option {
  value: string;
  label: string;
  lang?: string;
}

export class Choice {
  readonly select: HTMLSelectElement;
  readonly element: HTMLElement;

  constructor(id: string, label: string, options: readonly Option[], changed: () => void) {
    this.select = h("select", { id, change: changed }, options.map((o) => h("option", { value: o.value, lang: o.lang }, o.label)));
    this.element = h("div", { class: "field" }, h("label", { for: id }, label), this.select);
  }

  get value(): string {
    return this.select.value;
  }

  /** Chooses a value; one that is not in the list is left out. Returns whether it was there. */
  choose(value: string): boolean {
    this.select.value = value;
    if (this.select.value === value) return true;
    this.select.selectedIndex = 0;
    return value === "";
  }
}
