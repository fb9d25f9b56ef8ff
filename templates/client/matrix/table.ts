// The matrix as the page holds it: rows and columns of classes with their cells.

/** A class at the head of a row or column. */
export interface Head {
  id: string;
  name: string;
  group: string;
  cell: HTMLElement; // its th
}

export interface Row extends Head {
  line: HTMLTableRowElement;
  cells: HTMLTableCellElement[]; // one a column
}

export class Table {
  readonly rows: Row[] = [];
  readonly columns: Head[] = [];
  readonly groups: { name: string; line: HTMLTableRowElement | null; rows: Row[] }[] = [];

  constructor(readonly element: HTMLTableElement) {
    for (const body of element.tBodies) this.readGroup(body);
    for (const th of element.tHead?.rows[0]?.cells ?? []) {
      const link = th.querySelector("a");
      if (!link) continue;
      const id = classOf(link);
      const row = this.rows.find((r) => r.id === id);
      this.columns.push({ id, name: textOf(link), group: row?.group ?? "", cell: th });
    }
  }

  private readGroup(body: HTMLTableSectionElement): void {
    const line = body.querySelector<HTMLTableRowElement>("tr.group");
    const group = { name: line ? textOf(line) : "", line, rows: [] as Row[] };
    for (const tr of body.rows) {
      const link = tr.querySelector("th[scope=row] a");
      if (!link) continue;
      const cells = [...tr.cells].filter((c) => c.tagName === "TD");
      group.rows.push({ id: classOf(link), name: textOf(link), group: group.name, cell: tr.cells[0]!, line: tr, cells });
    }
    this.rows.push(...group.rows);
    this.groups.push(group);
  }
}

/** The class that a link to its page is about. */
function classOf(link: Element): string {
  return /class\/([a-z0-9-]+)\.html/.exec(link.getAttribute("href") ?? "")?.[1] ?? "";
}

export const textOf = (e: Element): string => (e.textContent ?? "").trim();

/** The verdict of a cell, "" for a class against itself of which nothing is stated. */
export const verdictOf = (cell: HTMLElement): string => cell.dataset["verdict"] ?? "";
