// On a narrow screen the matrix is a choice of one class and the list of its
// partners, most caution first, and those without evidence apart and last.

import { verdicts } from "../compat/enums";
import { h, fill, mark, type Child } from "../page/dom";
import { t } from "../page/words";
import { type Row, type Table, verdictOf } from "./table";

interface Partner {
  name: string;
  verdict: string;
  href: string;
  note: string;
}

export function pickOne(table: Table, notes: readonly string[]): HTMLElement {
  const out = h("div", { class: "picked" });
  const heard = h("p", { class: "ear", role: "status" });
  const groups = table.groups.filter((g) => g.rows.length > 0);
  const select = h(
    "select",
    { id: "pick-class", change: () => show(select.value) },
    h("option", { value: "" }, "–"),
    groups.map((g) => h("optgroup", { label: g.name }, g.rows.map((r) => h("option", { value: r.id }, r.name)))),
  );
  const show = (id: string): void => {
    const row = table.rows.find((r) => r.id === id);
    fill(out, row && partnersOf(table, row, notes));
    fill(heard, row && summary(out, row.name));
  };
  return h("div", { class: "pick-class" }, h("div", { class: "field" }, h("label", { for: "pick-class" }, t("matrix.pick")), select), heard, out);
}

/** What a reader by ear is told of a list: how many partners of each verdict. */
function summary(list: HTMLElement, name: string): string {
  return name + ": " + [...list.querySelectorAll("h3")].map((h3) => `${h3.textContent} ${h3.nextElementSibling!.children.length}`).join(", ");
}

function partnersOf(table: Table, row: Row, notes: readonly string[]): Child {
  const list = table.columns.map((c, i) => partner(c.name, row.cells[i]!, notes)).filter((p) => p.verdict !== "");
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
