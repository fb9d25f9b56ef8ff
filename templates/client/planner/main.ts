// Starts the planner once the page and its data are there.

import type { Core } from "../compat/json";
import { openData, part } from "../page/data";
import { byId, h } from "../page/dom";
import { t, takeMessages } from "../page/words";
import type { Words } from "./json";
import { Planner } from "./planner";

function start(): void {
  const root = byId("planner");
  const core = part<Core>("core");
  const words = part<Words>("words");
  takeMessages(part<Record<string, string>>("messages") ?? {});
  if (!core || !words || core.schema !== 1) return; // the page still says what to do without
  new Planner(root, core, words);
  root.classList.add("ready");
}

openData(() => byId("planner").prepend(h("p", { class: "note" }, t("planner.reload"))));
document.addEventListener("DOMContentLoaded", start);
