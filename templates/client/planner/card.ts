// The load card: what goes in, in which order, how much for each load, and what to
// buy. It is the part of the page that is printed for the cab.

import type { Dose, Recipe } from "../jar/recipe";
import type { Load, Plan } from "../jar/load";
import { Amount } from "../unit/amount";
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

function both(s: Shown): Child {
  return [h("b", {}, firm(s.first)), h("span", { class: "under" }, firm(s.second))];
}

/** Keeps each number with its unit: lines may break only between the terms of a sum. */
function firm(s: string): string {
  return s.replace(/(\d) /g, "$1\u00a0").replace(/fl oz/g, "fl\u00a0oz").replace(/\+ /g, "+\u00a0");
}

const cell = (s: Shown): HTMLElement => h("td", { class: "number" }, both(s));

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
  return [say(words.do), wait !== undefined && " " + t("recipe.wait", { time: wait }), h("span", { class: "under reason" }, reason)];
}

/** The table of loads. Under each product stands how it goes in. */
export function loadTable(tell: Telling, plan: Plan, s: System): HTMLElement {
  const list = groups(plan);
  const rows = (d: Dose, i: number): HTMLElement[] => [
    h(
      "tr",
      { class: "dose" },
      h("td", { class: "number", rowspan: 2 }, String(i + 1)),
      h("th", { scope: "row" }, d.product.name, h("span", { class: "under" }, d.product.rate.text())),
      list.map((g) => cell(amountShown(g.load.doses[i]!.amount, s))),
      cell(amountShown(plan.total[i]!.amount, s)),
    ),
    h("tr", { class: "how" }, h("td", { colspan: list.length + 2 }, d.amount.isDry && t("recipe.weigh") + " ", how(tell, d))),
  ];
  const water = (label: string, of: (l: Load) => Volume): HTMLElement =>
    h("tr", { class: "water" }, h("td", { class: "number" }, "·"), h("th", { scope: "row" }, label), list.map((g) => cell(tankShown(of(g.load), s))), h("td"));
  return h(
    "div",
    { class: "wide", tabindex: 0, role: "region", "aria-label": t("load.title") },
    h(
      "table",
      { class: "doses loads" },
      h(
        "thead",
        {},
        h(
          "tr",
          {},
          h("th", { scope: "col", class: "number" }, t("recipe.step")),
          h("th", { scope: "col" }, t("recipe.add")),
          list.map((g) => h("th", { scope: "col", class: "number" }, groupName(g, plan.loads.length), h("span", { class: "under" }, areaShown(g.load.area, s).first))),
          h("th", { scope: "col", class: "number" }, t("load.buy")),
        ),
      ),
      h("tbody", {}, water(t("recipe.first-water"), (l) => l.firstWater), list[0]!.load.doses.map(rows), water(t("recipe.top-up"), (l) => l.topUp), water(t("load.in-tank"), (l) => l.fill)),
    ),
  );
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

/** The jar of this very mix. */
export function jarTable(tell: Telling, r: Recipe, s: System): HTMLElement {
  const beside = s === "metric" ? "us" : s;
  const water = (label: string, v: Volume): HTMLElement =>
    h("tr", { class: "water" }, h("td", { class: "number" }, "·"), h("th", { scope: "row" }, label), h("td", { class: "number" }, h("b", {}, doseShown(Amount.liquid(v)))), h("td", { class: "number" }, volumeShown(v, beside).first));
  const rows = (d: Dose, i: number): HTMLElement[] => [
    h(
      "tr",
      { class: "dose" },
      h("td", { class: "number", rowspan: 2 }, String(i + 1)),
      h("th", { scope: "row" }, d.product.name, h("span", { class: "under" }, d.product.rate.text())),
      h("td", { class: "number" }, h("b", {}, doseShown(d.amount))),
      h("td", { class: "number" }, amountShown(d.amount, beside).first),
    ),
    h("tr", { class: "how" }, h("td", { colspan: 3 }, d.amount.isDry && t("recipe.weigh") + " ", how(tell, d))),
  ];
  const heads = [t("recipe.step"), t("recipe.add"), t("load.metric"), t("load.us")];
  return h(
    "div",
    { class: "wide" },
    h(
      "table",
      { class: "doses" },
      h("thead", {}, h("tr", {}, heads.map((text, i) => h("th", { scope: "col", class: i === 1 ? undefined : "number" }, text)))),
      h("tbody", {}, water(t("recipe.first-water"), r.firstWater), r.doses.map(rows), water(t("recipe.top-up"), r.topUp)),
    ),
  );
}
