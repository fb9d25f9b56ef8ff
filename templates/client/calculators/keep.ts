// Keeps what is entered into the calculators in the address of the page, and opens
// what an address holds: each text in its field, where it is read as if it was typed.

import { Address } from "../page/address";
import { fill, h } from "../page/dom";
import { lostNames } from "../page/lost";
import { t } from "../page/words";
import type { CalcCard } from "./calc";
import { type CalcKeys, fromAddress, toAddress } from "./state";

export class Keeper {
  readonly note = h("div", { class: "calc-note" });
  private readonly keys: CalcKeys;
  private readonly address = new Address(() => this.open(), () => this.keep());
  private at = ""; // the calculator that was used last
  private mine = false; // the reader has changed something since the address was opened
  private lossy = false; // the address that was opened holds what could not be read
  private later = 0;

  constructor(
    private readonly cards: readonly CalcCard[],
    private readonly units: HTMLSelectElement,
    metric: boolean, // units that come first when nothing is said
  ) {
    this.keys = { fields: cards.flatMap((c) => c.keys), calculators: cards.map((c) => c.id), metric };
  }

  /** Fills in what the address holds, and says kindly what of it could not be read. */
  open(): void {
    const { state, lost } = fromAddress(this.address.read(), this.keys);
    this.mine = false;
    this.lossy = lost.length > 0;
    this.units.value = state.metric ? "metric" : "us";
    for (const c of this.cards) c.put(state.texts);
    const part = location.hash.slice(1);
    this.at = this.keys.calculators.includes(part) ? part : state.at;
    fill(this.note, this.lossy && h("p", { class: "note" }, t("calculators.not-understood", { n: lost.length, parts: lostNames(lost) })));
    const first = this.cards.find((c) => (this.at === "" ? c.used : c.id === this.at));
    if (!this.lossy) first?.element.scrollIntoView();
  }

  /** The reader has changed a calculator, or for "" what holds for all: from here on the address is theirs. */
  edited(id: string): void {
    this.mine = true;
    if (id !== "") this.at = id;
    window.clearTimeout(this.later);
    this.later = window.setTimeout(() => this.keep(), 200); // browsers make it slow
  }

  /** Goes to a calculator, without a step for the way back. */
  leap(id: string): void {
    this.at = id;
    this.keep(this.mine || !this.lossy);
    const there = this.cards.find((c) => c.id === id)?.element;
    there?.scrollIntoView();
    there?.focus({ preventScroll: true });
  }

  /** The whole address of one calculator with what is entered into it. */
  addressOf(card: CalcCard): string {
    const state = { texts: card.texts(), metric: this.units.value === "metric", at: card.id };
    return location.href.replace(/#.*$/s, "") + "#" + toAddress(state, this.keys);
  }

  private keep(whole = this.mine): void {
    if (!whole) return;
    const texts = Object.assign({}, ...this.cards.map((c) => c.texts())) as Record<string, string>;
    this.address.write(toAddress({ texts, metric: this.units.value === "metric", at: this.at }, this.keys));
  }
}
