// On a narrow screen the matrix is a choice of one class and the list of its
// partners, most caution first, and those without evidence apart and last. It shows
// what the filter leaves of the table: the class is picked among the columns, its
// partners are the rows. What is left out is counted, as under the grid.

import { verdicts } from "../compat/enums";
import { h, fill, mark, type Child } from "../page/dom";
import { t } from "../page/words";
import type { Filter } from "./filter";
import { type Table, verdictOf } from "./table";

interface Partner {
  name: string;
  verdict: string;
  href: string;
  note: string;
}

export class PickOne {
  readonly element: HTMLElement;
  private readonly select = h("select", { id: "pick-class", change: () => this.show() });
  private readonly left = h("p", { class: "list-said" });
  private readonly heard = h("p", { class: "ear", role: "status" });
  private readonly out = h("div", { class: "picked" });
  private readonly place = h("div", {});

  constructor(
    private readonly table: Table,
    private readonly notes: readonly string[],
    private readonly filter: Filter,
  ) {
    this.offer();
    this.element = h("div", { class: "pick-class" }, h("div", { class: "field" }, h("label", { for: "pick-class" }, t("matrix.pick")), this.select), this.place, this.left, this.heard, this.out);
  }

  /** Takes the filter in, under the choice of a class. */
  hold(filter: HTMLElement): void {
    this.place.append(filter);
  }

  /** Follows the filter. */
  settle(): void {
    this.offer();
    this.show();
  }

  /** Offers the classes whose columns are shown. The one that is picked stays. */
  private offer(): void {
    const picked = this.select.value;
    const shown = new Set([picked, ...this.table.columns.filter((c) => !c.cell.hidden).map((c) => c.id)]);
    const groups = this.table.groups.map((g): [string, Child[]] => [g.name, g.rows.filter((r) => shown.has(r.id)).map((r) => h("option", { value: r.id }, r.name))]);
    fill(this.select, h("option", { value: "" }, t("matrix.pick-blank")), groups.map(([name, options]) => options.length > 0 && h("optgroup", { label: name }, options)));
    this.select.value = picked;
  }

  private show(): void {
    const at = this.table.columns.findIndex((c) => c.id === this.select.value);
    const picked = this.table.columns[at];
    const shown = this.table.rows.filter((r) => !r.line.hidden);
    fill(this.out, picked && byVerdict(shown.map((r) => partner(r.name, r.cells[at]!, this.notes))));
    const hidden = picked ? this.table.rows.filter((r) => r.line.hidden).map((r) => verdictOf(r.cells[at]!)) : this.hiddenPairs();
    const left = hidden.filter((v) => v !== "").length;
    const count = picked ? t("matrix.left-partners", { n: left }) : t("matrix.left-pairs", { n: left });
    const itself = picked?.cell.hidden ? t("matrix.picked-left", { name: picked.name }) : "";
    fill(this.left, itself, itself !== "" && " ", (left > 0 || itself !== "") && this.filter.leftOut(count, hidden.filter((v) => v === "never").length));
    this.tell(picked?.name);
  }

  /** The verdicts of the pairs that no choice of a class would show. */
  private hiddenPairs(): string[] {
    const { rows, columns } = this.table;
    const seen = (row: string, column: string): boolean => rows.some((r) => r.id === row && !r.line.hidden) && columns.some((c) => c.id === column && !c.cell.hidden);
    return rows.flatMap((r) => columns.flatMap((c, i) => (c.id < r.id || seen(r.id, c.id) || seen(c.id, r.id) ? [] : [verdictOf(r.cells[i]!)])));
  }

  /** Tells readers by ear how many partners there are of each verdict, and what is left out. */
  private tell(name: string | undefined): void {
    const groups = [...this.out.querySelectorAll("h3")].map((h3) => `${h3.textContent} ${h3.nextElementSibling!.children.length}`).join(", ");
    const left = [...this.left.childNodes].filter((n) => !(n instanceof HTMLButtonElement)).map((n) => n.textContent).join("");
    fill(this.heard, name !== undefined && `${name}: ${groups}. `, left);
  }
}

function byVerdict(all: readonly Partner[]): Child {
  const list = all.filter((p) => p.verdict !== "");
  const known = [...verdicts].reverse().filter((v) => v !== "unknown");
  return [...known, "unknown"].map((v) => {
    const some = list.filter((p) => p.verdict === v);
    return some.length > 0 && [h("h3", { class: "group-head" }, h("span", { class: `chip tone-${v}`, "data-verdict": v }, mark(v)), t(`verdict.${v}`)), h("ul", { class: v === "unknown" ? "names-list" : "partners" }, some.map((p) => h("li", {}, line(p))))];
  });
}

function partner(name: string, cell: HTMLElement, notes: readonly string[]): Partner {
  const n = Number(cell.querySelector("sup")?.textContent ?? "0");
  return { name, verdict: verdictOf(cell), href: cell.querySelector("a")?.getAttribute("href") ?? "", note: notes[n - 1] ?? "" };
}

function line(p: Partner): HTMLElement {
  const words = [h("span", { class: "name" }, p.name), p.note !== "" && h("span", { class: "line" }, p.note)];
  if (p.href === "") return h("span", { class: p.verdict === "unknown" ? "plain" : "partner" }, words);
  const chip = p.verdict !== "unknown" && h("span", { class: `chip tone-${p.verdict}`, "data-verdict": p.verdict }, mark(p.verdict));
  return h("a", { class: p.verdict === "unknown" ? "" : "partner", href: p.href }, chip, words);
}
