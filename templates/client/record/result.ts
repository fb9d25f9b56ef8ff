// What comes of the form: the record with the ways to hand it over, or what is still
// missing, each with the way to its field.

import { fill, h } from "../page/dom";
import { t } from "../page/words";
import type { Problem } from "./check";
import type { Choices } from "./choices";
import type { Draft } from "./draft";
import { yamlOf } from "./yaml";

/** The longest record that goes into an address for mail; programs cut longer ones. */
const longestMail = 1800;

export class Result {
  readonly element = h("section", { class: "record-result", "aria-labelledby": "result" });
  private readonly live = h("p", { class: "record-state", role: "status" });
  private readonly body = h("div", {});
  private address = "";

  constructor(
    private readonly mail: string,
    private readonly handedOver: () => void,
    private readonly goTo: (at: string) => void,
  ) {
    fill(this.element, h("h2", { id: "result" }, t("record.result")), this.live, this.body);
  }

  show(d: Draft, c: Choices, problems: readonly Problem[], label: (p: Problem) => string): void {
    if (problems.length > 0) {
      fill(this.live, t("record.missing", { n: problems.length }));
      fill(this.body, h("ul", { class: "record-missing" }, problems.map((p) => h("li", {}, this.link(p, label(p))))));
      return;
    }
    const text = yamlOf(d, c);
    fill(this.live, t("record.ready"));
    fill(this.body, d.date > c.published && h("p", { class: "note" }, t("record.newer")), h("pre", { tabindex: 0, id: "yaml" }, text), this.ways(d, text));
  }

  private link(p: Problem, label: string): HTMLElement {
    const words = p.unit ? t(`refuse.${p.code}`, { found: p.found }) : t(`record.wrong.${p.code}`, { found: p.found });
    return h("button", { type: "button", class: "go-to", click: () => this.goTo(p.at) }, h("b", {}, label), " ", words);
  }

  private ways(d: Draft, text: string): HTMLElement {
    if (this.address !== "") URL.revokeObjectURL(this.address);
    this.address = URL.createObjectURL(new Blob([text], { type: "application/yaml" }));
    const name = d.id + ".yaml";
    const said = h("p", { class: "quiet", role: "status" });
    const save = h("a", { class: "act", href: this.address, download: name, click: () => this.handedOver() }, t("record.save", { file: name }));
    const copy = h("button", { type: "button", class: "act", click: () => void this.copy(text, said) }, t("record.copy"));
    const mail = text.length <= longestMail && h("a", { class: "act", href: this.mailto(name, text), click: () => this.handedOver() }, t("record.mail"));
    return h("div", {}, h("div", { class: "card-tools" }, save, copy, mail), said, !mail && h("p", { class: "quiet" }, t("record.too-long")), h("p", { class: "quiet" }, t("record.where", { file: name })));
  }

  private mailto(name: string, text: string): string {
    return `mailto:${this.mail}?subject=${encodeURIComponent(name)}&body=${encodeURIComponent(text.replace(/\n/g, "\r\n"))}`;
  }

  /** Copies the record, by the clipboard or by selecting it for the reader. */
  private async copy(text: string, said: HTMLElement): Promise<void> {
    try {
      await navigator.clipboard.writeText(text);
      fill(said, t("record.copied"));
      this.handedOver();
    } catch {
      const shown = document.getElementById("yaml");
      if (shown) getSelection()?.selectAllChildren(shown);
      fill(said, t("record.select"));
    }
  }
}
