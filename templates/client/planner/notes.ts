// What the planner says above the products: of the address that it was opened with,
// and of data that did not load.

import { fill, h } from "../page/dom";
import { lostNames } from "../page/lost";
import { t } from "../page/words";

/** What of an address this publication does not have, or cannot read. */
export interface Foreign {
  published: string; // the other publication that the plan was made with, "" for this one
  products: number; // that are not here
  choices: number; // that are not here
  lost: readonly string[]; // parts as they stand in the address
}

export class Notes {
  readonly element: HTMLElement;
  private readonly address = h("div", {});
  private readonly trouble = h("div", { role: "alert" });

  constructor() {
    this.element = h("div", { class: "plan-notes" }, this.address, this.trouble);
  }

  /** Says kindly what of an address is of elsewhere. */
  opened(f: Foreign): void {
    fill(
      this.address,
      note(f.published !== "" && t("planner.other-publication", { date: f.published })),
      note(f.products > 0 && t("planner.gone-some", { n: f.products })),
      note(f.choices > 0 && t("planner.strange-some", { n: f.choices })),
      note(f.lost.length > 0 && t("planner.not-understood", { n: f.lost.length, parts: lostNames(f.lost) })),
    );
    fill(this.trouble);
  }

  /** Says what stands in the way; "" when nothing does any more. */
  say(trouble: string): void {
    fill(this.trouble, note(trouble !== "" && trouble));
  }
}

function note(words: string | false): HTMLElement | false {
  return words !== false && h("p", { class: "note" }, words);
}
