// Moving about in the matrix: the row and column of a cell are lit under mouse and
// keyboard, and arrow keys go from cell to cell as in a grid. Tab stops at one place
// of it. Left of the first cell are the button that opens the class and the way to its
// page, above the first row the ways to the classes of the columns.

import { t } from "../page/words";
import type { Table } from "./table";

/** The places left of the cells of a row, and above those of a column. */
const [opener, head, above] = [-1, -2, -1];

export class Grid {
  private row = 0;
  private column = 0;
  private lit: HTMLElement[] = [];

  constructor(private readonly table: Table) {
    const e = table.element;
    e.setAttribute("role", "grid");
    for (const r of table.rows) for (const c of [...r.cells.map((cell) => this.target(cell)), ...stops(r.cell)]) c.tabIndex = -1;
    for (const cell of e.querySelectorAll("td.self:empty")) cell.setAttribute("aria-label", t("matrix.self"));
    for (const c of table.columns) for (const link of stops(c.cell)) link.tabIndex = -1;
    this.aim(0, 0);
    e.addEventListener("keydown", (event) => this.key(event));
    e.addEventListener("focusin", (event) => this.from(event.target));
    e.addEventListener("mouseover", (event) => this.light(this.find(event.target)));
    e.addEventListener("mouseleave", () => this.light(undefined));
  }

  /** Keeps Tab at a cell that is shown, after others were hidden. */
  settle(): void {
    if (shown(this.at(this.row, this.column))) return;
    const row = this.table.rows.findIndex((r) => shown(r.cell));
    const column = this.table.columns.findIndex((c) => shown(c.cell));
    if (row >= 0 && column >= 0) this.aim(row, column);
  }

  /** What takes the focus in a cell: its link, or the cell itself. */
  private target(cell: HTMLTableCellElement): HTMLElement {
    return cell.querySelector("a") ?? cell;
  }

  private find(target: EventTarget | null): [number, number] | undefined {
    const e = target as Element | null;
    const cell = e?.closest<HTMLTableCellElement>("td, th");
    const over = this.table.columns.findIndex((c) => c.cell === cell);
    if (over >= 0) return [above, over];
    const row = this.table.rows.findIndex((r) => r.line === cell?.closest("tr"));
    if (row < 0 || !cell) return undefined;
    if (this.table.rows[row]!.cell === cell) return [row, e!.closest(".opener") ? opener : head];
    const column = this.table.rows[row]!.cells.indexOf(cell);
    return column < 0 ? undefined : [row, column];
  }

  private from(target: EventTarget | null): void {
    const at = this.find(target);
    if (!at) return;
    this.aim(...at);
    this.light(at);
  }

  /** Makes one place the one that Tab reaches. */
  private aim(row: number, column: number): void {
    this.at(this.row, this.column)?.setAttribute("tabindex", "-1");
    [this.row, this.column] = [row, column];
    this.at(row, column)?.setAttribute("tabindex", "0");
  }

  private at(row: number, column: number): HTMLElement | undefined {
    if (row === above) return this.table.columns[column]?.cell.querySelector("a") ?? undefined;
    const r = column < head ? undefined : this.table.rows[row];
    if (column < 0) return r?.cell.querySelector<HTMLElement>(column === opener ? ".opener" : "a") ?? undefined;
    const cell = r?.cells[column];
    return cell && this.target(cell);
  }

  private key(e: KeyboardEvent): void {
    const [rows, columns] = [this.table.rows.length, this.table.columns.length];
    const ends: Record<string, [number, number]> = {
      ArrowUp: [-1, 0],
      ArrowDown: [1, 0],
      ArrowLeft: [0, -1],
      ArrowRight: [0, 1],
    };
    const step = ends[e.key];
    if (step) this.go(this.row, this.column, step);
    else if (e.key === "Home") this.go(e.ctrlKey ? -1 : this.row, -1, e.ctrlKey ? [1, 1] : [0, 1]);
    else if (e.key === "End") this.go(e.ctrlKey ? rows : this.row, columns, e.ctrlKey ? [-1, -1] : [0, -1]);
    else return;
    e.preventDefault();
  }

  /** Goes on in one direction to the next place that is shown. */
  private go(row: number, column: number, [down, right]: [number, number]): void {
    const { rows, columns } = this.table;
    let [r, c] = [row + down, column + right];
    while (down !== 0 && r >= 0 && r < rows.length && !shown(rows[r]!.cell)) r += down;
    while (right !== 0 && c >= 0 && c < columns.length && !shown(columns[c]!.cell)) c += right;
    const target = this.at(r, c);
    if (!shown(target)) return;
    this.aim(r, c);
    target!.focus();
    target!.scrollIntoView({ block: "nearest", inline: "nearest" });
  }

  /** Lights the row and the column of a cell. */
  private light(at: [number, number] | undefined): void {
    for (const e of this.lit) e.classList.remove("lit");
    const row = at && this.table.rows[at[0]];
    const column = at && this.table.columns[at[1]];
    this.lit = [...(row ? [row.line] : []), ...(column ? [column.cell, ...this.table.rows.map((r) => r.cells[at[1]]!)] : [])];
    for (const e of this.lit) e.classList.add("lit");
  }
}

/** What Tab would stop at in the head of a row or column. */
function stops(head: HTMLElement): HTMLElement[] {
  return [...head.querySelectorAll<HTMLElement>("a, button")];
}

function shown(e: HTMLElement | undefined): boolean {
  return e !== undefined && e.offsetParent !== null;
}
