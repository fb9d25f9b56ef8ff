// Moving about in the matrix: the row and column of a cell are lit under mouse and
// keyboard, and arrow keys go from cell to cell as in a grid.

import type { Table } from "./table";

export class Grid {
  private row = 0;
  private column = 0;
  private lit: HTMLElement[] = [];

  constructor(private readonly table: Table) {
    const e = table.element;
    e.setAttribute("role", "grid");
    for (const r of table.rows) for (const c of r.cells) this.target(c).tabIndex = -1;
    this.aim(0, 0);
    e.addEventListener("keydown", (event) => this.key(event));
    e.addEventListener("focusin", (event) => this.from(event.target));
    e.addEventListener("mouseover", (event) => this.light(this.find(event.target)));
    e.addEventListener("mouseleave", () => this.light(undefined));
  }

  /** What takes the focus in a cell: its link, or the cell itself. */
  private target(cell: HTMLTableCellElement): HTMLElement {
    return cell.querySelector("a") ?? cell;
  }

  private find(target: EventTarget | null): [number, number] | undefined {
    const cell = (target as Element | null)?.closest("td");
    const line = cell?.closest("tr");
    const row = this.table.rows.findIndex((r) => r.line === line);
    const column = row < 0 || !cell ? -1 : this.table.rows[row]!.cells.indexOf(cell);
    return column < 0 ? undefined : [row, column];
  }

  private from(target: EventTarget | null): void {
    const at = this.find(target);
    if (!at) return;
    this.aim(...at);
    this.light(at);
  }

  /** Makes one cell the one that Tab reaches. */
  private aim(row: number, column: number): void {
    this.at(this.row, this.column)?.setAttribute("tabindex", "-1");
    [this.row, this.column] = [row, column];
    this.at(row, column)?.setAttribute("tabindex", "0");
  }

  private at(row: number, column: number): HTMLElement | undefined {
    const cell = this.table.rows[row]?.cells[column];
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

  /** Goes on in one direction to the next cell that is shown. */
  private go(row: number, column: number, [down, right]: [number, number]): void {
    const { rows, columns } = this.table;
    const shown = (list: readonly { cell: HTMLElement }[], i: number): boolean => i >= 0 && i < list.length && list[i]!.cell.offsetParent !== null;
    let [r, c] = [row + down, column + right];
    while (down !== 0 && r >= 0 && r < rows.length && !shown(rows, r)) r += down;
    while (right !== 0 && c >= 0 && c < columns.length && !shown(columns, c)) c += right;
    if (!shown(rows, r) || !shown(columns, c)) return;
    this.aim(r, c);
    const target = this.at(r, c);
    target?.focus();
    target?.scrollIntoView({ block: "nearest", inline: "nearest" });
  }

  /** Lights the row and the column of a cell. */
  private light(at: [number, number] | undefined): void {
    for (const e of this.lit) e.classList.remove("lit");
    this.lit = [];
    if (!at) return;
    const row = this.table.rows[at[0]]!;
    const column = this.table.columns[at[1]];
    this.lit = [row.line, ...(column ? [column.cell] : []), ...this.table.rows.map((r) => r.cells[at[1]]!)];
    for (const e of this.lit) e.classList.add("lit");
  }
}
