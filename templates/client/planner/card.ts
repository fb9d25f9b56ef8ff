// The load card: what goes in, in which order, how much for each load, and what to
// buy. It is the part of the page that is printed for the cab.

import type { Dose, Recipe } from "../jar/recipe";
import type { Load, Plan } from "../jar/load";
import { Amount } from "../unit/amount";
import { fromDecimal, int, type Num } from "../unit/number";
import type { System, Volume } from "../unit/quantity";
import { type Child, h, say } from "../page/dom";
import { t } from "../page/words";
import { amountShown, areaShown, doseShown, type Shown, sprayShown, tankShown, volumeShown } from "./show";
import type { Telling } from "./telling";

/** Loads that are filled alike, one after the other. */
interface Group {
  from: number;
  to: number;
  load: Load;
}

function groups(plan: Plan): Group[] {
  const out: Group[] = [];
  plan.loads.forEach((load, i) => {
    const last = out[out.length - 1];
    if (last && last.load.volume.cmp(load.volume) === 0 && last.load.fill.cmp(load.fill) === 0) last.to = i + 1;
    else out.push({ from: i + 1, to: i + 1, load });
  });
  return out;
}

function groupName(g: Group, of: number): string {
  if (g.from === g.to) return g.load.full || of === 1 ? t("load.single", { number: String(g.from) }) : t("load.part", { number: String(g.from) });
  return t("load.many", { from: String(g.from), to: String(g.to) });
}

/** Keeps each number with its unit: lines may break only between the terms of a sum. */
function firm(s: string): string {
  return s.replace(/(\d) /g, "$1\u00a0").replace(/fl oz/g, "fl\u00a0oz").replace(/\+ /g, "+\u00a0");
}

/** The texts of a table that change with the job; the rest of it stays. */
class Texts {
  private readonly nodes: Text[] = [];

  /** A text that can be set again. */
  add(s: string): Text {
    const node = document.createTextNode(s);
    this.nodes.push(node);
    return node;
  }

  /** Sets all texts, in the order in which they were added. */
  set(all: readonly string[]): void {
    this.nodes.forEach((node, i) => {
      if (node.data !== all[i]) node.data = all[i]!;
    });
  }
}

/** An amount in its column; on a narrow screen the column's name stands over it. */
function cell(first: Node | string, second: Node | string, of: string): HTMLElement {
  return h("td", { class: "number", role: "cell", "data-of": of }, h("b", {}, first), second !== "" && h("span", { class: "under" }, second));
}

/** How a product goes in: its step, what to do, how long to wait, why there. */
export function how(tell: Telling, d: Dose): Child {
  const step = d.place.step;
  if (!step) return h("span", { class: "under warn" }, t("order.not-known"));
  const n = tell.book.core.steps.findIndex((s) => s.id === step.id);
  const words = tell.words.steps[n]!;
  const wait = tell.book.core.steps[n]!.wait;
  const reason =
    d.place.reason === "label"
      ? t("order.by-label")
      : d.place.reason === "class"
        ? t("order.by-class", { step: words.name.text, class: tell.name(d.place.cls) })
        : t("order.by-form", { step: words.name.text });
  return [say(words.do), wait !== undefined && " " + t("recipe.wait", { time: wait }), " ", h("span", { class: "under reason" }, reason)];
}

/**
 * A table of amounts, a product in two lines: what, at which rate, how much; and how
 * it goes in. On a narrow screen each line is laid out as a block, which would take
 * the roles of a table away, so they are written out.
 */
function amountTable(kind: string, label: string, heads: readonly Child[], lines: readonly Child[]): HTMLElement {
  const head = (c: Child, i: number): HTMLElement => h("th", { scope: "col", role: "columnheader", class: i === 1 ? undefined : "number" }, c);
  return h(
    "div",
    { class: "wide", tabindex: 0, role: "region", "aria-label": label },
    h("table", { class: "amounts " + kind, role: "table", "aria-label": label }, h("thead", { role: "rowgroup" }, h("tr", { role: "row" }, heads.map(head))), h("tbody", { role: "rowgroup" }, lines)),
  );
}

/** The two lines of a product. */
function doseLines(tell: Telling, d: Dose, i: number, rate: Node | string, cells: readonly HTMLElement[], warning: Child = null): Child {
  return [
    h(
      "tr",
      { class: "dose", role: "row" },
      h("td", { class: "number place", role: "cell", rowspan: 2 }, String(i + 1)),
      h("th", { scope: "row", role: "rowheader" }, d.product.name, h("span", { class: "under" }, rate)),
      cells,
    ),
    h("tr", { class: "how", role: "row" }, h("td", { role: "cell", colspan: cells.length + 1 }, warning, d.amount.isDry && t("recipe.weigh") + " ", how(tell, d))),
  ];
}

/** A line of water, which has no step of its own. */
function waterLine(label: string, cells: readonly HTMLElement[]): HTMLElement {
  return h("tr", { class: "water", role: "row" }, h("td", { class: "number place", role: "cell" }), h("th", { scope: "row", role: "rowheader" }, label), cells);
}

/** The table of loads. While products and their order stay, so does the table, and only its numbers change. */
export class LoadTable {
  readonly element: HTMLElement;
  private readonly texts = new Texts();
  private readonly key: string;

  constructor(tell: Telling, plan: Plan, s: System) {
    this.key = keyOf(plan);
    const all = textsOf(plan, s);
    const next = (): Text => this.texts.add(all.shift()!);
    const names = namesOf(plan);
    const buy = t("load.buy");
    const amounts = (of: readonly string[]): HTMLElement[] => of.map((name) => cell(next(), next(), name));
    const water = (label: string): HTMLElement => waterLine(label, [...amounts(names), h("td", { role: "cell", class: "number" })]);
    this.element = amountTable(
      "loads",
      t("load.title"),
      [t("recipe.step"), t("recipe.add"), ...names.map((name) => [name, h("span", { class: "under" }, next())]), buy],
      [water(t("recipe.first-water")), plan.total.map((d, i) => doseLines(tell, d, i, next(), amounts([...names, buy]))), water(t("recipe.top-up")), water(t("load.in-tank"))],
    );
  }

  /** Shows another plan, when the table can. */
  take(plan: Plan, s: System): boolean {
    if (keyOf(plan) !== this.key) return false;
    this.texts.set(textsOf(plan, s));
    return true;
  }
}

function namesOf(plan: Plan): string[] {
  return groups(plan).map((g) => groupName(g, plan.loads.length));
}

/** What a table cannot change: its columns, and products with how they go in. */
function keyOf(plan: Plan): string {
  const dose = (d: Dose): string => [d.product.name, d.amount.isDry, d.place.step?.id, d.place.reason, d.place.cls].join(" ");
  return [...namesOf(plan), ...plan.total.map(dose)].join("|");
}

/** The texts that change, from left to right and down. */
function textsOf(plan: Plan, s: System): string[] {
  const list = groups(plan).map((g) => g.load);
  const both = (shown: readonly Shown[]): string[] => shown.flatMap((one) => [firm(one.first), firm(one.second)]);
  const water = (of: (l: Load) => Volume): string[] => both(list.map((l) => tankShown(of(l), s)));
  return [
    ...list.map((l) => areaShown(l.area, s).first),
    ...water((l) => l.firstWater),
    ...plan.total.flatMap((d, i) => [d.product.rate.text(), ...both([...list.map((l) => l.doses[i]!.amount), d.amount].map((a) => amountShown(a, s)))]),
    ...water((l) => l.topUp),
    ...water((l) => l.fill),
  ];
}

/** The job in one line, and what there is to know of it. */
export function loadFacts(plan: Plan, s: System): Child {
  const notes = [
    plan.evened && t("load.evened"),
    plan.belowMinimum && t("load.below-minimum"),
    !plan.leftOver.isZero() && t("load.left-over", { volume: tankShown(plan.leftOver, s).first }),
  ];
  return [
    h(
      "p",
      { class: "card-head" },
      h("b", {}, t("load.count", { n: plan.loads.length })),
      " · ",
      areaShown(plan.area, s).first,
      " · ",
      sprayShown(plan.sprayVolume, s).first,
      " · ",
      t("load.covers", { area: areaShown(plan.areaPerLoad, s).first }),
    ),
    notes.map((n) => n && h("p", { class: "note" }, n)),
  ];
}

/** The largest jar that is proposed; in more a stock is easier. In mL. */
const largestJar = int(5000);

/** Says that no tool of the office measures a dose, and what jar it takes. */
function tooLittle(tell: Telling, d: Dose, jar: Volume): Child {
  const { least } = tell.book.core;
  const low = fromDecimal((d.amount.isDry ? least.dry : least.liquid) ?? "0");
  const dose = d.amount.base();
  if (dose.cmp(low) >= 0) return null;
  const parts = [10, 100].find((n) => dose.mul(int(n)).cmp(low) >= 0) ?? 1000;
  const words = { dose: doseShown(d.amount), least: `${low.short(3)} ${d.amount.baseUnit()}`, parts: String(parts) };
  const needed = jar.base.mul(low).quo(dose);
  const text = needed.cmp(largestJar) > 0 ? t("jar.too-little-stock", words) : t("jar.too-little", { ...words, jar: jarShown(needed) });
  return h("span", { class: "under warn" }, text);
}

/** A volume of so many mL, rounded up to tens of mL or to tenths of a liter. */
function jarShown(n: Num): string {
  const [step, unit] = n.cmp(int(1000)) < 0 ? [int(10), "mL"] : [int(100), "L"];
  const up = n.quo(step).neg().floor().neg().mul(step);
  return (unit === "mL" ? up : up.quo(int(1000))).short(1) + " " + unit;
}

/** The jar of this very mix. */
export function jarTable(tell: Telling, r: Recipe, s: System): HTMLElement {
  const beside = s === "metric" ? "us" : s;
  const [metric, us] = [t("load.metric"), t("load.us")];
  const cells = (dose: string, other: string): HTMLElement[] => [cell(dose, "", metric), h("td", { class: "number", role: "cell", "data-of": us }, other)];
  const water = (label: string, v: Volume): HTMLElement => waterLine(label, cells(doseShown(Amount.liquid(v)), volumeShown(v, beside).first));
  const dose = (d: Dose, i: number): Child => doseLines(tell, d, i, d.product.rate.text(), cells(doseShown(d.amount), amountShown(d.amount, beside).first), tooLittle(tell, d, r.jar));
  return amountTable(
    "in-jar",
    t("planner.jar-title"),
    [t("recipe.step"), t("recipe.add"), metric, us],
    [water(t("recipe.first-water"), r.firstWater), r.doses.map(dose), water(t("recipe.top-up"), r.topUp)],
  );
}
