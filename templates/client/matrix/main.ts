// Makes the matrix of the page one that can be moved about in.

import { openData, part } from "../page/data";
import { h } from "../page/dom";
import { t, takeMessages } from "../page/words";
import { expandable } from "./expand";
import { Filter } from "./filter";
import { Grid } from "./grid";
import { PickOne } from "./list";
import { Table, textOf } from "./table";

function start(): void {
  const box = document.querySelector<HTMLElement>(".matrix-box");
  const element = box?.querySelector("table");
  const messages = part<Record<string, string>>("messages");
  if (!box || !element || !messages) return;
  takeMessages(messages);
  const table = new Table(element);
  const shared = box.dataset["shared"] ?? "";
  const own = box.dataset["own"] ?? "";
  const notes = [...document.querySelectorAll(".notes li")].map(textOf);
  expandable(table, shared);
  const grid = new Grid(table);
  const filter = new Filter(table, { shared, own }, () => {
    grid.settle();
    pick.settle();
  });
  const pick = new PickOne(table, notes, filter);
  const keys = h("p", { id: "matrix-keys", class: "quiet no-print" }, t("matrix.keys"));
  box.before(keys);
  const narrow = window.matchMedia("(max-width: 47.99rem)"); // as in the style sheet
  const lay = (): void => {
    filter.lay(narrow.matches);
    if (narrow.matches) pick.hold(filter.element);
    else keys.before(filter.element);
    grid.settle(); // what is hidden on a narrow screen has no place for Tab
  };
  narrow.addEventListener("change", lay);
  lay();
  box.removeAttribute("tabindex"); // the grid inside scrolls with its focus
  element.setAttribute("aria-label", box.getAttribute("aria-label") ?? "");
  element.setAttribute("aria-describedby", "matrix-keys");
  document.querySelector(".pick-one")?.replaceWith(h("div", { class: "pick-one" }, pick.element));
  document.body.classList.add("matrix-ready");
}

openData(() => undefined);
document.addEventListener("DOMContentLoaded", start);
