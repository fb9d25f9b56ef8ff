// Makes the matrix of the page one that can be moved about in.

import { openData, part } from "../page/data";
import { h } from "../page/dom";
import { takeMessages } from "../page/words";
import { expandable } from "./expand";
import { Filter } from "./filter";
import { Grid } from "./grid";
import { pickOne } from "./list";
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
  new Grid(table);
  expandable(table, shared);
  const filter = new Filter(table, shared, own);
  box.before(filter.element);
  document.querySelector(".pick-one")?.replaceWith(h("div", { class: "pick-one" }, pickOne(table, notes)));
  document.body.classList.add("matrix-ready");
}

openData(() => undefined);
document.addEventListener("DOMContentLoaded", start);
