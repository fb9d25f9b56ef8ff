// Starts the calculators once the page and its words are there.

import { openData, part } from "../page/data";
import { byId, fill, h } from "../page/dom";
import { t, takeMessages } from "../page/words";
import type { Bench } from "../planner/json";
import { gas, standing } from "./bench";
import { CalcCard, type Calculator } from "./calc";
import { Keeper } from "./keep";
import { calculators } from "./list";

function start(): void {
  const root = byId("calculators");
  const messages = part<Record<string, string>>("messages");
  if (!messages) return; // the page still says what to do without
  takeMessages(messages);
  const bench = part<Bench>("bench") ?? { actives: [], carbonates: [] };
  const metric = root.dataset["metric"] === "true";
  const changed = (): void => {
    cards.forEach((c) => c.show());
    keeper.edited("");
  };
  const units = h("select", { id: "units-first", change: changed }, h("option", { value: "us" }, "gal, lb, ac"), h("option", { value: "metric" }, "L, kg, ha"));
  units.value = metric ? "metric" : "us";
  const all: Calculator[] = [...calculators, ...(bench.actives.length > 0 ? [standing(bench)] : []), gas(bench)];
  const toAll = (e: Event): void => {
    e.preventDefault();
    nav.scrollIntoView();
    nav.querySelector("a")?.focus({ preventScroll: true });
  };
  const back = (): HTMLElement => h("p", { class: "calc-back no-print" }, h("a", { href: "#calculators", click: toAll }, t("calculators.all")));
  const cards: CalcCard[] = all.map((c) => new CalcCard(c, { system: () => (units.value === "metric" ? "metric" : "us"), changed: (id) => keeper.edited(id), address: (card) => keeper.addressOf(card), back: back() }));
  const keeper: Keeper = new Keeper(cards, units, metric);
  const way = (id: string): HTMLElement => h("a", { href: "#" + id, click: (e) => leap(e as MouseEvent, id) }, t(`calculators.about.${id}`));
  const leap = (e: MouseEvent, id: string): void => {
    if (e.ctrlKey || e.metaKey || e.shiftKey) return; // to another tab
    e.preventDefault();
    keeper.leap(id);
  };
  const nav = h("nav", { class: "calc-nav", "aria-label": t("calculators.title") }, h("ul", {}, all.map((c) => h("li", {}, way(c.id)))));
  fill(
    root,
    keeper.note,
    nav,
    h("div", { class: "field calc-units" }, h("label", { for: "units-first" }, t("planner.units")), units),
    h("div", { class: "calcs" }, cards.map((c) => c.element)),
  );
  keeper.open();
}

openData(() => undefined);
document.addEventListener("DOMContentLoaded", start);
