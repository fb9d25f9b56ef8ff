// What of the matrix is shown: the rows of one role, the classes of one crop, or
// those of the reader's own products. What a filter leaves out is counted, and cells
// that forbid a mix are counted by themselves. On a narrow screen the same filter
// stands folded up over the list of partners, which shows the rows that it leaves.

import { Book } from "../compat/book";
import type { Core, Uses } from "../compat/json";
import { load } from "../page/data";
import { type Child, fill, h } from "../page/dom";
import { Choice } from "../page/choice";
import { t } from "../page/words";
import { Finder } from "../planner/find";
import type { Words } from "../planner/json";
import { Picker } from "../planner/picker";
import { type Table, verdictOf } from "./table";

const store = "tankleaf.my-products";

export class Filter {
  readonly element: HTMLElement;
  private readonly said = h("p", { class: "filter-said", role: "status" });
  private readonly more = h("div", { class: "filter-more" });
  private readonly chosen = h("span", { class: "filter-chosen" });
  private readonly role: Choice;
  private crops: Choice | undefined;
  private mine: string[] = [];
  private onlyMine = false;
  private book: Book | undefined;
  private uses: Uses | undefined;

  constructor(
    private readonly table: Table,
    private readonly from: { shared: string; own: string }, // folders of data
    private readonly applied: () => void, // rows and columns were shown or hidden
  ) {
    const groups = table.groups.filter((g) => g.name !== "");
    this.role = new Choice("filter-role", t("matrix.role"), [{ value: "", label: t("matrix.all-roles") }, ...groups.map((g) => ({ value: g.name, label: g.name }))], () => this.apply());
    this.element = h("section", { class: "filter no-print", "aria-label": t("matrix.filter") });
    this.mine = remembered();
  }

  /** Lays the filter out: open beside the grid, or folded up on a narrow screen. */
  lay(narrow: boolean): void {
    const { role, more, said, chosen } = this;
    const open = narrow ? this.chosenNames().length > 0 : this.book !== undefined;
    const fold = (summary: Child, ...inside: Child[]): HTMLElement => h("details", { class: "more", open, toggle: () => void this.open() }, h("summary", {}, summary), inside);
    if (narrow) fill(this.element, fold([t("matrix.filter"), chosen], role.element, more));
    else fill(this.element, h("div", { class: "filter-line" }, role.element), fold(t("matrix.more-filters"), more), said);
  }

  /** Loads what crops and products need, once they are asked for. */
  private async open(): Promise<void> {
    if (this.book) return;
    try {
      const [core, words, uses] = await Promise.all([load<Core>(this.from.shared, "core"), load<Words>(this.from.own, "words"), load<Uses>(this.from.shared, "uses")]);
      this.book = new Book(core);
      this.uses = uses;
      this.layMore(words);
    } catch {
      fill(this.more, h("p", { class: "note" }, t("planner.cannot-load")));
    }
  }

  private layMore(words: Words): void {
    const crops = (this.crops = new Choice("filter-crop", t("planner.crop"), [{ value: "", label: t("matrix.all-crops") }, ...words.crops.map((c) => ({ value: c.id, label: c.name.text, lang: c.name.lang }))], () => this.apply()));
    const book = this.book!;
    const finder = new Finder(book, words);
    const kept = h("ul", { class: "mine" });
    const tick = h("input", {
      type: "checkbox",
      id: "only-mine",
      change: () => {
        this.onlyMine = tick.checked;
        this.apply();
      },
    });
    const show = (): void => {
      fill(kept, this.mine.map((id) => this.mineItem(id, show)));
      tick.checked = this.onlyMine;
      tick.disabled = this.mine.length === 0;
      this.apply();
    };
    const picker = new Picker({
      find: (typed) => finder.find(typed, 8, new Set(this.mine.map((id) => book.placeOf.get(id) ?? -1))),
      pick: (place) => {
        this.mine.push(book.ids[place]!);
        this.onlyMine = true;
        remember(this.mine);
        show();
      },
      name: (place) => book.core.names[place]!,
      about: (f) => f.what,
      verdict: () => "",
    });
    fill(this.more, h("div", { class: "filter-line" }, crops.element), h("fieldset", { class: "plan-group" }, h("legend", {}, t("matrix.mine")), h("p", { class: "quiet" }, t("matrix.mine-how")), picker.element, kept, h("label", { class: "tick" }, tick, h("span", {}, t("matrix.only-mine")))));
    show();
  }

  private mineItem(id: string, show: () => void): HTMLElement {
    const place = this.book!.placeOf.get(id);
    const name = place === undefined ? id : this.book!.core.names[place]!;
    const remove = (): void => {
      this.mine = this.mine.filter((m) => m !== id);
      if (this.mine.length === 0) this.onlyMine = false;
      remember(this.mine);
      show();
    };
    return h("li", {}, name, h("button", { type: "button", class: "remove", "aria-label": t("planner.remove-name", { name }), click: remove }, t("planner.remove")));
  }

  /** The classes that stay when only some products count; undefined: all do. */
  private classes(): Set<string> | undefined {
    const chosen = this.crops?.value ?? "";
    if (!this.book || (chosen === "" && !this.onlyMine)) return undefined;
    const { book } = this;
    const places = this.onlyMine ? this.mine.map((id) => book.placeOf.get(id) ?? -1).filter((p) => p >= 0) : book.ids.map((_, i) => i);
    const crop = this.uses!.crops.indexOf(chosen);
    const used = (place: number): boolean => chosen === "" || this.uses!.of[place]!.some((n, i) => i % 2 === 1 && n === crop);
    const ids = new Set<string>();
    for (const p of places) if (used(p)) for (const key of book.item(p).keys) ids.add(book.core.keys[key]!);
    return ids;
  }

  /** Shows and hides rows and columns, and says what is left out. */
  apply(): void {
    const kept = this.classes();
    const keeps = (id: string): boolean => kept === undefined || kept.has(id) || this.waters(id);
    const columns = this.table.columns.map((c) => keeps(c.id));
    let left = 0;
    let never = 0;
    this.table.columns.forEach((c, i) => (c.cell.hidden = !columns[i]));
    for (const g of this.table.groups) {
      for (const r of g.rows) {
        const shown = keeps(r.id) && (this.role.value === "" || this.role.value === g.name);
        r.line.hidden = !shown;
        r.cells.forEach((cell, i) => {
          cell.hidden = !columns[i];
          if (shown && columns[i]) return;
          left++;
          if (verdictOf(cell) === "never") never++;
        });
      }
      if (g.line) g.line.hidden = g.rows.every((r) => r.line.hidden);
    }
    fill(this.said, left > 0 && this.leftOut(t("matrix.left-out", { n: left }), never));
    const names = this.chosenNames();
    fill(this.chosen, names.length > 0 && ": " + names.join(" · "));
    this.applied();
  }

  /** What is chosen, in words. */
  private chosenNames(): string[] {
    const choices = [this.role, ...(this.crops ? [this.crops] : [])].filter((c) => c.value !== "");
    return [...choices.map((c) => c.select.selectedOptions[0]!.textContent!), ...(this.onlyMine ? [t("matrix.mine-short")] : [])];
  }

  /** Waters and carriers belong to every tank, so that no filter on products leaves them out. */
  private waters(id: string): boolean {
    const key = this.book?.keyOf.get(id);
    return key !== undefined && this.book!.carriers.some((c) => c.key === key);
  }

  /** What is left out, how much of it forbids a mix, and the way to see it. */
  leftOut(count: string, never: number): Child {
    return [
      count,
      never > 0 && [" ", h("b", { class: "hazard-word" }, t("matrix.left-never", { n: never }))],
      " ",
      h("button", { type: "button", class: "offer", click: () => this.all() }, t("matrix.show-all")),
    ];
  }

  private all(): void {
    this.role.choose("");
    this.crops?.choose("");
    this.onlyMine = false;
    for (const e of this.more.querySelectorAll<HTMLInputElement>("input[type=checkbox]")) e.checked = false;
    this.apply();
  }
}

/** The reader's own products, kept on this device and nowhere else. */
function remembered(): string[] {
  try {
    const list: unknown = JSON.parse(localStorage.getItem(store) ?? "[]");
    return Array.isArray(list) ? list.filter((id): id is string => typeof id === "string") : [];
  } catch {
    return [];
  }
}

function remember(list: readonly string[]): void {
  try {
    if (list.length === 0) localStorage.removeItem(store);
    else localStorage.setItem(store, JSON.stringify(list));
  } catch {
    // a browser that keeps nothing: the list lives as long as the page
  }
}
