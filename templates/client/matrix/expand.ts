// A class opens into its products, each with a way to its page and into a plan.

import { Book } from "../compat/book";
import type { Core } from "../compat/json";
import { load } from "../page/data";
import { fill, h } from "../page/dom";
import { t } from "../page/words";
import type { Row, Table } from "./table";

export function expandable(table: Table, shared: string): void {
  let book: Promise<Book> | undefined;
  const products = async (id: string): Promise<[string, string][]> => {
    const b = await (book ??= load<Core>(shared, "core").then((core) => new Book(core)));
    const key = b.keyOf.get(id);
    return b.ids.map((product, n): [string, string] => [product, b.core.names[n]!]).filter(([, ], n) => key !== undefined && b.item(n).keys.has(key));
  };
  for (const row of table.rows) row.cell.appendChild(button(table, row, products));
}

function button(table: Table, row: Row, products: (id: string) => Promise<[string, string][]>): HTMLElement {
  const cell = h("td", { colspan: table.columns.length + 1, class: "opened" });
  const line = h("tr", { class: "opened-line", hidden: true }, cell);
  const b = h(
    "button",
    {
      type: "button",
      class: "opener",
      "aria-expanded": "false",
      "aria-label": t("matrix.open-class", { name: row.name }),
      click: () => {
        if (!line.isConnected) row.line.after(line);
        line.hidden = !line.hidden;
        b.setAttribute("aria-expanded", String(!line.hidden));
        b.textContent = line.hidden ? "+" : "−";
        if (!line.hidden && cell.childElementCount === 0) void show();
      },
    },
    "+",
  );
  const show = async (): Promise<void> => {
    fill(cell, t("planner.loading"));
    try {
      const list = await products(row.id);
      fill(cell, list.length === 0 ? t("matrix.no-products") : h("ul", { class: "inline" }, list.map(([id, name]) => h("li", {}, h("a", { href: `product/${id}.html` }, name), " ", h("a", { class: "quiet", href: `planner.html#v=1&p=${id}`, "aria-label": t("matrix.plan-name", { name }) }, t("matrix.plan"))))));
    } catch {
      fill(cell, t("planner.cannot-load"));
    }
  };
  return b;
}
