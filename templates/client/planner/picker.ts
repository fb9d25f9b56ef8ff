// The box in which products are found as one types: a combobox with a list, by the
// ARIA pattern of that name.

import { h, fill, mark, type Child } from "../page/dom";
import { t } from "../page/words";
import type { Found } from "./find";

export interface PickerOptions {
  find: (typed: string) => { found: Found[]; all: number };
  pick: (place: number) => void;
  name: (place: number) => string;
  about: (f: Found) => string; // under the name
  verdict: (place: number) => string; // what the mix would be with it, "" when not known yet
}

export class Picker {
  readonly element: HTMLElement;
  readonly input: HTMLInputElement;
  private readonly list = h("ul", { id: "picker-list", role: "listbox", class: "picker-list", hidden: true, "aria-label": t("planner.found") });
  private readonly status = h("p", { class: "ear", role: "status" });
  private readonly more = h("p", { class: "quiet picker-more", hidden: true });
  private found: Found[] = [];
  private active = -1;

  constructor(private readonly o: PickerOptions) {
    this.input = h("input", {
      id: "picker",
      type: "text",
      role: "combobox",
      autocomplete: "off",
      autocapitalize: "off",
      spellcheck: "false",
      enterkeyhint: "search",
      "aria-autocomplete": "list",
      "aria-expanded": "false",
      "aria-controls": "picker-list",
      "aria-describedby": "picker-hint",
      input: () => this.search(),
      focus: () => {
        this.rise();
        this.search();
      },
      blur: () => this.close(),
      keydown: (e) => this.key(e as KeyboardEvent),
    });
    this.element = h(
      "div",
      { class: "field picker" },
      h("label", { for: "picker" }, t("planner.pick")),
      this.input,
      h("span", { id: "picker-hint", class: "field-hint" }, t("planner.pick-hint")),
      this.list,
      this.more,
      this.status,
    );
  }

  /** On a touch screen the keyboard takes the lower half: the box goes to the top, so that what it finds is seen. */
  private rise(): void {
    if (window.matchMedia("(pointer: coarse)").matches) this.element.scrollIntoView({ block: "start" });
  }

  private search(): void {
    const typed = this.input.value;
    const { found, all } = this.o.find(typed);
    this.found = found;
    this.active = found.length > 0 ? 0 : -1;
    fill(this.list, found.map((f, i) => this.option(f, i)));
    this.open(found.length > 0);
    this.say(typed, found.length, all);
    this.point();
  }

  private say(typed: string, shown: number, all: number): void {
    const nothing = typed.trim() !== "" && shown === 0;
    const text = nothing ? t("planner.found-none", { typed: typed.trim() }) : all > shown ? t("planner.found-more", { n: all - shown }) : "";
    fill(this.more, text);
    this.more.hidden = text === "";
    const heard = shown > 0 ? t("planner.found-count", { n: all }) : text;
    if (this.status.textContent !== heard) fill(this.status, heard); // the same is not told again
  }

  private option(f: Found, i: number): HTMLElement {
    const verdict = this.o.verdict(f.place);
    const hint: Child = verdict === "" ? null : h("span", { class: `chip tone-${verdict}`, "data-verdict": verdict }, mark(verdict), h("span", { class: "ear" }, t("planner.would-be", { verdict: t(`verdict.${verdict}`) })));
    return h(
      "li",
      {
        id: `picker-${i}`,
        role: "option",
        "aria-selected": "false",
        mousedown: (e) => e.preventDefault(), // keeps the box focused
        click: () => this.choose(i),
      },
      h("span", { class: "name" }, this.o.name(f.place)),
      h("span", { class: "about" }, this.o.about(f)),
      hint,
    );
  }

  private key(e: KeyboardEvent): void {
    const n = this.found.length;
    if (e.key === "ArrowDown" && n > 0) this.active = (this.active + 1) % n;
    else if (e.key === "ArrowUp" && n > 0) this.active = (this.active - 1 + n) % n;
    else if (e.key === "Enter" && this.active >= 0) this.choose(this.active);
    else if (e.key === "Escape") this.clear();
    else return;
    e.preventDefault();
    this.open(this.found.length > 0);
    this.point();
  }

  private choose(i: number): void {
    const f = this.found[i];
    if (!f) return;
    this.clear();
    this.o.pick(f.place);
    this.input.focus();
  }

  private clear(): void {
    this.input.value = "";
    this.close();
  }

  private close(): void {
    this.found = [];
    this.active = -1;
    fill(this.list);
    fill(this.more);
    this.more.hidden = true;
    this.open(false);
  }

  private open(open: boolean): void {
    this.list.hidden = !open;
    this.input.setAttribute("aria-expanded", String(open));
  }

  /** Marks the option that Enter would take. */
  private point(): void {
    [...this.list.children].forEach((li, i) => {
      li.setAttribute("aria-selected", String(i === this.active));
      if (i === this.active) li.scrollIntoView({ block: "nearest" });
    });
    if (this.active >= 0) this.input.setAttribute("aria-activedescendant", `picker-${this.active}`);
    else this.input.removeAttribute("aria-activedescendant");
  }
}
