// The products of the plan: a card each, with its rate and how that stands to the
// label. Cards are kept while the list changes, so that what is being typed stays.

import type { Book } from "../compat/book";
import type { Product as Label } from "../compat/json";
import { type Fit, fitRate, fitSpray } from "../jar/fit";
import type { Product } from "../jar/product";
import { fill, h } from "../page/dom";
import { Field } from "../page/field";
import { list, t } from "../page/words";
import type { SprayVolume } from "../unit/quantity";
import { none } from "../unit/quantity";
import { parseRate, type Rate } from "../unit/rate";
import { likely } from "../unit/text";
import { labelRange, middle, productOf } from "./amounts";
import type { Line } from "./state";
import type { Telling } from "./telling";

/** One product of the plan on the page. */
export class Card {
  readonly element: HTMLElement;
  readonly rate: Field<Rate>;
  private readonly fit: HTMLElement;
  private label: Label | undefined;
  private crop = "";
  private plain: Product | undefined; // with no rate yet

  constructor(
    tell: Telling,
    readonly line: Line,
    remove: () => void,
    changed: () => void,
  ) {
    const place = tell.book.placeOf.get(line.id);
    const name = tell.name(line.id);
    this.fit = h("p", { class: "fit", id: "fit-" + line.id });
    this.rate = new Field({
      id: "rate-" + line.id,
      label: t("planner.rate"),
      spoken: t("planner.rate-of", { name }),
      more: "fit-" + line.id,
      read: likely(parseRate, () => (this.label ? unitsOf(labelRange(this.label, this.crop)) : [])),
      needed: true,
      changed: () => {
        line.rate = this.rate.text;
        changed();
      },
    });
    this.rate.input.addEventListener("change", () => {
      if (this.rate.text.trim() !== "") return;
      line.rate = "";
      this.settle(changed);
    });
    this.element = h(
      "li",
      { class: "pick-card" + (place === undefined ? " gone" : "") },
      h("div", { class: "pick-head" }, h("span", { class: "name" }, place === undefined ? line.id : tell.link(line.id)), h("button", { type: "button", class: "remove", "aria-label": t("planner.remove-name", { name }), click: remove }, t("planner.remove"))),
      place === undefined ? h("p", { class: "note" }, t("planner.gone"), line.rate !== "" && " " + t("planner.gone-rate", { rate: line.rate })) : h("p", { class: "about" }, about(tell, place)),
      place !== undefined && this.rate.element,
      place !== undefined && this.fit,
    );
    if (line.rate !== "") this.rate.text = line.rate;
  }

  /** Takes the label in, once it is loaded. */
  know(label: Label): void {
    if (label !== this.label) this.plain = undefined;
    this.label = label;
  }

  /** Sets the crop, and the rate to the middle of its range unless one was written. */
  sow(crop: string): void {
    const before = this.label && labelRange(this.label, this.crop).join("|");
    this.crop = crop;
    if (this.label && labelRange(this.label, crop).join("|") !== before) this.plain = undefined;
    if (this.label && this.line.rate === "" && document.activeElement !== this.rate.input) this.rate.text = middle(labelRange(this.label, crop));
  }

  /** Puts the reader at the product. */
  focus(): void {
    (this.element.querySelector("input") ?? this.element.querySelector("button"))?.focus();
  }

  private settle(changed: () => void): void {
    if (this.label) this.rate.text = middle(labelRange(this.label, this.crop));
    changed();
  }

  /** The product for the arithmetic; undefined while its label is not loaded or its rate cannot be read. */
  product(book: Book): Product | undefined {
    const place = book.placeOf.get(this.line.id);
    const r = this.rate.check();
    if (place === undefined || !this.label || r.is !== "value") return undefined;
    this.plain ??= productOf(book, place, this.label, this.crop);
    return { ...this.plain, rate: r.value };
  }

  /** Says how the rate and the spray volume stand to the label. */
  showFit(book: Book, spray: SprayVolume | undefined): void {
    if (!this.label) return;
    const [low, high] = labelRange(this.label, this.crop);
    const range = high === "" ? "" : low === "" || low === high ? high : t("rate.range", { low, high });
    const p = this.product(book);
    const volume = spray ?? none("depth");
    const rate = p ? fitRate(p.rate, p.range, volume, p.density) : "not-checked";
    const put = fitSpray(volume, p?.spray ?? [none("depth"), none("depth")]);
    this.rate.describe([range === "" ? t("planner.no-range") : t("planner.label-range", { range }), p && range !== "" ? this.quietFit(rate) : ""].join(" ").trim());
    const warn = [
      (rate === "below" || rate === "above") && t(`planner.fit-${rate}`, { range }),
      (put === "below" || put === "above") && t(`planner.spray-${put}`, { range: sprayRange(this.label) }),
    ].filter((w): w is string => typeof w === "string");
    const words = warn.join(" ");
    if (this.fit.textContent !== words) fill(this.fit, words !== "" && h("span", { class: "warn" }, words));
  }

  private quietFit(rate: Fit): string {
    if (rate === "within") return this.line.rate === "" ? t("planner.fit-middle") : t("planner.fit-within");
    return rate === "not-checked" ? t("planner.fit-not-checked") : "";
  }
}

/** What stands in the place of a product that was taken out last: a slip of the thumb costs one tap. */
export class Gap {
  readonly element: HTMLElement;
  private readonly button: HTMLElement;

  constructor(
    readonly line: Line,
    readonly at: number, // its place in the plan
    name: string,
    back: () => void,
  ) {
    this.button = h("button", { type: "button", class: "remove", "aria-label": t("planner.put-back-name", { name }), click: back }, t("planner.put-back"));
    this.element = h("li", { class: "taken-out" }, h("span", {}, t("planner.taken-out", { name })), this.button);
  }

  focus(): void {
    this.button.focus();
  }
}

/** The units of a label's range, that of its upper end first. */
function unitsOf([low, high]: readonly [string, string]): string[] {
  return [...new Set([high, low].map((rate) => rate.replace(/^[0-9][0-9.,/ ]*/, "")))].filter((unit) => unit !== "");
}

function sprayRange(label: Label): string {
  const [low, high] = label.spray ?? ["", ""];
  if (high === "") return t("bound.from", { value: low });
  return low === "" ? t("bound.up-to", { value: high }) : t("rate.range", { low, high });
}

/** What a product is, in one line: formulation and active ingredients. */
export function about(tell: Telling, place: number): string {
  const core = tell.book.core;
  return list((core.holds[place] ?? []).map((a) => core.actives[a]!));
}
