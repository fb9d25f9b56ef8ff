// Starts the calculators once the page and its words are there.

import { openData, part } from "../page/data";
import { byId, fill, h } from "../page/dom";
import { t, takeMessages } from "../page/words";
import type { Bench } from "../planner/json";
import { gas, standing } from "./bench";
import { CalcCard, type Calculator } from "./calc";
import { calculators } from "./list";

function start(): void {
  const root = byId("calculators");
  const messages = part<Record<string, string>>("messages");
  if (!messages) return; // the page still says what to do without
  takeMessages(messages);
  const bench = part<Bench>("bench") ?? { actives: [], carbonates: [] };
  const units = h("select", { id: "units", change: () => cards.forEach((c) => c.show()) }, h("option", { value: "us" }, "gal, lb, ac"), h("option", { value: "metric" }, "L, kg, ha"));
  units.value = root.dataset["metric"] === "true" ? "metric" : "us";
  const system = (): "us" | "metric" => (units.value === "metric" ? "metric" : "us");
  const cards: CalcCard[] = [];
  const again = (): void => cards.forEach((c) => c.show());
  const all: Calculator[] = [...calculators, ...(bench.actives.length > 0 ? [standing(bench, again)] : []), gas(bench, again)];
  for (const c of all) cards.push(new CalcCard(c, system));
  fill(
    root,
    h("nav", { class: "calc-nav", "aria-label": t("calculators.title") }, h("ul", {}, all.map((c) => h("li", {}, h("a", { href: "#" + c.id }, t(`calculators.about.${c.id}`)))))),
    h("div", { class: "field calc-units" }, h("label", { for: "units" }, t("planner.units")), units),
    h("div", { class: "calcs" }, cards.map((c) => c.element)),
  );
  if (location.hash.length > 1) document.getElementById(location.hash.slice(1))?.scrollIntoView();
}

openData(() => undefined);
document.addEventListener("DOMContentLoaded", start);
