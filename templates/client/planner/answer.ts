// The answer on the page: verdict band, hazards, what is untested, doubts, conflicts
// with what would remove them, and every piece of evidence. Nothing here can be
// folded away or filtered.

import { clean, hazardNames, steps, unknown } from "../compat/book";
import { type Conflict, conflictsOf } from "../compat/conflict";
import { verdicts } from "../compat/enums";
import { type Answer, deciding, type Finding } from "../compat/judge";
import type { Change, Replacement } from "../compat/whatif";
import { type Child, h, mark, say } from "../page/dom";
import { list, t } from "../page/words";
import type { Telling } from "./telling";

/** The verdict across the page, with what is untested in it. */
export function band(tell: Telling, a: Answer): HTMLElement {
  const v = verdicts[a.verdict]!;
  const todo = tell.steps(a);
  const instead = tell.instead(a);
  return h(
    "section",
    { class: `band tone-${v}`, "data-verdict": v, "aria-label": t("band.label") },
    mark(v),
    h("p", { class: "says" }, t(`verdict.${v}`)),
    h(
      "div",
      { class: "text" },
      h("p", { class: "why" }, tell.why(a)),
      todo.length > 0 && h("ol", { class: "steps" }, todo.map((s) => h("li", {}, say(s)))),
      h("p", { class: "instead" }, h("b", {}, t("band.instead")), " ", instead.text, instead.use.length > 0 && [" ", t("band.use"), " ", joined(instead.use.map((id) => tell.link(id))), "."]),
      untestedLine(a),
      waysOut(a),
      h("p", { class: "rest" }, rest(tell, a)),
    ),
  );
}

/** The second half of every answer: what nobody has tested. */
function untestedLine(a: Answer): Child {
  if (a.untested.length === 0 || (a.items.length === 2 && a.verdict === unknown)) return null;
  return h("p", { class: "untested-line" }, h("b", {}, t("planner.untested-in-it", { n: a.untested.length })), " ", t("planner.not-fine"));
}

/** The way from the verdict to what would remove it: cautions stand in between. */
function waysOut(a: Answer): Child {
  const n = conflictsOf(a).length;
  return n > 0 && h("p", { class: "ways-out no-print" }, h("a", { href: "#conflicts" }, t("planner.conflicts", { n })));
}

function rest(tell: Telling, a: Answer): string {
  const d = deciding(a);
  if (!d) return t("band.no-evidence");
  const doubts = tell.doubts(a.doubts).length;
  return t("band.grade", { grade: tell.grade(d) }) + (doubts > 0 ? " " + t("band.doubts", { n: doubts }) : "");
}

function joined(children: readonly Child[], between = ", "): Child[] {
  return children.flatMap((c, i) => (i === 0 ? [c] : [between, c]));
}

/** The boxes of all hazards of the mix, and of handling its products. */
export function hazardBoxes(tell: Telling, a: Answer): Child {
  const { mix, handling } = tell.hazards(a);
  const boxes = [...mix, ...handling].map((name) => {
    const c = tell.words.cautions.find((one) => one.hazard === name);
    const title = c ? say(c.title) : t(`hazard.${name}`);
    const lines = c ? c.lines.map((l) => say(l)) : [t(`hazard-line.${name}`)];
    const about = mix.includes(name) ? t("planner.hazard-of-mix") : t("planner.hazard-of-handling");
    return h("section", { class: "caution hazard", "data-caution": name }, h("h3", {}, title, " ", h("span", { class: "about" }, about)), h("ul", {}, lines.map((l) => h("li", {}, l))));
  });
  return boxes.length > 0 && h("div", { class: "cautions" }, boxes);
}

/** The pairs about which nothing is known. */
export function untestedPairs(tell: Telling, a: Answer): Child {
  if (a.untested.length === 0) return null;
  return h(
    "section",
    { class: "untested", "aria-labelledby": "untested" },
    h("h2", { id: "untested", class: "group-head" }, h("span", { class: "chip tone-unknown", "data-verdict": "unknown" }, mark("unknown")), t("planner.untested", { n: a.untested.length })),
    h("p", {}, t("meaning.unknown")),
    h("ul", { class: "pairs" }, a.untested.map(([x, y]) => h("li", {}, tell.link(x), " + ", tell.link(y)))),
  );
}

export function doubtList(tell: Telling, a: Answer): Child {
  const lines = tell.doubts(a.doubts);
  if (lines.length === 0) return null;
  return h(
    "section",
    { "aria-labelledby": "doubts" },
    h("h2", { id: "doubts" }, t("doubts.title")),
    h(
      "ol",
      { class: "doubts" },
      lines.map((l, i) => h("li", {}, h("span", { class: "figure", "aria-hidden": "true" }, String(i + 1)), l.text, l.records.length > 0 && [" ", h("span", { class: "quiet" }, joined(l.records.slice(0, 4).map((r) => h("a", { href: r.href }, r.text))))])),
    ),
  );
}

/** What changes of one product would make of a mix, and how far the search for them is. */
export interface Found {
  without: Change[]; // each product of a conflict left out
  instead: Replacement[];
  search: "under-way" | "done" | "failed";
}

/** What the buttons of a conflict do. */
export interface Changing {
  drop: (out: string) => void;
  swap: (c: Change) => void;
}

/** What keeps the mix from one tank, and what would remove each. */
export function conflictList(tell: Telling, conflicts: readonly Conflict[], found: Found, change: Changing): Child {
  if (conflicts.length === 0) return null;
  return h(
    "section",
    { "aria-labelledby": "conflicts" },
    h("h2", { id: "conflicts" }, t("planner.conflicts", { n: conflicts.length })),
    h("p", { class: "quiet" }, t("planner.conflicts-how")),
    h("ol", { class: "conflicts" }, conflicts.map((c) => conflict(tell, c, found, change))),
  );
}

const searchWords: Record<Found["search"], () => string> = {
  done: () => t("planner.no-swap"),
  failed: () => t("planner.cannot-load"),
  "under-way": () => t("planner.seeking"),
};

function conflict(tell: Telling, c: Conflict, found: Found, change: Changing): HTMLElement {
  const v = verdicts[c.verdict]!;
  const drops = found.without.filter((d) => c.items.includes(d.out));
  const instead = found.instead.filter((r) => c.items.includes(r.out));
  return h(
    "li",
    {},
    h("p", { class: "who" }, h("span", { class: "verdict", "data-verdict": v }, mark(v), t(`verdict.${v}`)), ": ", joined(c.items.map((id) => tell.link(id)), " + ")),
    h("p", {}, tell.what(c.findings[0]!), c.findings.length > 1 && [" ", h("a", { class: "quiet", href: "#reasons" }, t("planner.more-reasons", { n: c.findings.length - 1 }))]),
    drops.length > 0 && h("div", { class: "swaps", role: "group", "aria-label": t("planner.leave-out") }, h("p", {}, t("planner.leave-out")), h("ul", {}, drops.map((d) => h("li", {}, dropButton(tell, d, change.drop))))),
    instead.map((r) =>
      h(
        "div",
        { class: "swaps", role: "group", "aria-label": t("planner.instead-of", { name: tell.name(r.out) }) },
        h("p", {}, t("planner.instead-of", { name: tell.name(r.out) })),
        h("ul", {}, r.best.map((s) => h("li", {}, swapButton(tell, s, change.swap)))),
        r.found > r.best.length && h("p", { class: "quiet" }, t("whatif.more", { n: r.found - r.best.length })),
      ),
    ),
    instead.length === 0 && h("p", { class: "quiet" }, searchWords[found.search]()),
  );
}

/** Leaves a product out; says what the mix is without it. */
function dropButton(tell: Telling, d: Change, drop: (out: string) => void): HTMLElement {
  const v = verdicts[d.answer.verdict]!;
  const rest = d.answer.items;
  const words = [rest.length === 1 ? t("planner.only-left", { name: tell.name(rest[0]!.id) }) : t(`verdict.${v}`), ...changeNotes(tell, d)];
  return h(
    "button",
    { type: "button", class: "drop", "data-out": d.out, "data-left": d.left, click: () => drop(d.out) },
    rest.length > 1 && h("span", { class: `chip tone-${v}`, "data-verdict": v }, mark(v)),
    h("span", {}, h("b", {}, t("whatif.without", { out: tell.name(d.out) })), h("span", { class: "about" }, words.join("; "))),
  );
}

function swapButton(tell: Telling, s: Change, swap: (c: Change) => void): HTMLElement {
  const v = verdicts[s.answer.verdict]!;
  const words = [t(`verdict.${v}`), ...changeNotes(tell, s)];
  return h(
    "button",
    { type: "button", class: "swap", "data-out": s.out, "data-in": s.in, "data-left": s.left, click: () => swap(s) },
    h("span", { class: `chip tone-${v}`, "data-verdict": v }, mark(v)),
    h("span", {}, h("b", {}, tell.name(s.in)), h("span", { class: "about" }, words.join("; "))),
  );
}

/** How many products are named with which a replacement is untested. */
const mostNamed = 3;

/** What stands beside the verdict of a changed mix; pages say the same of theirs. */
function changeNotes(tell: Telling, c: Change): string[] {
  const notes = tell.hazards(c.answer).mix.map((x) => t(`hazard.${x}`));
  if (c.left > 0) notes.push(t("whatif.stay", { n: c.left }));
  const [pairs, brought] = [c.answer.untested.length, c.untested.length];
  if (brought > mostNamed) notes.push(t("whatif.untested-many", { n: brought }));
  else if (brought > 0) notes.push(t("whatif.untested-with", { items: tell.names(c.untested) }));
  if (pairs > brought) notes.push(brought > 0 ? t("whatif.untested-all", { n: pairs }) : t("whatif.untested", { n: pairs }));
  return notes;
}

/** Every piece of evidence: what counts in full, the rest in a line each. */
export function ledger(tell: Telling, a: Answer): Child {
  if (a.findings.length === 0) return null;
  const counts = a.findings.filter((f) => f.verdict !== unknown || f.part === "relaxed" || f.part === "outvoted");
  const others = a.findings.filter((f) => !counts.includes(f));
  return [
    counts.length > 0 && h("section", { "aria-labelledby": "reasons" }, h("h2", { id: "reasons" }, t("planner.reasons", { n: counts.length })), h("ol", { class: "ledger" }, counts.map((f) => entry(tell, f)))),
    others.length > 0 &&
      h(
        "section",
        { "aria-labelledby": "looked-at" },
        h("h2", { id: "looked-at" }, t("planner.looked-at", { n: others.length })),
        h("ul", { class: "looked-at" }, others.map((f) => h("li", {}, h("span", { class: "part" }, tell.part(f)), hazardMarks(f), " ", tell.what(f), records(tell, f)))),
      ),
  ];
}

function entry(tell: Telling, f: Finding): HTMLElement {
  const v = verdicts[f.verdict]!;
  const s = f.evidence.kind === "rule" ? tell.sayings.of(f.evidence.n) : undefined;
  return h(
    "li",
    { class: "entry" },
    h("div", { class: "grade" }, h("b", {}, tell.grade(f)), h("span", { class: "part" }, tell.part(f)), h("span", { class: `verdict verdict-${v}`, "data-verdict": v }, mark(v), t(`verdict.${v}`))),
    h(
      "div",
      {},
      h("p", { class: "what" }, hazardMarks(f), tell.what(f)),
      h(
        "dl",
        { class: "facts" },
        fact(t("fact.because"), tell.because(f)),
        fact(t("fact.when"), f.open.map((g) => tell.gate(g))),
        s?.why?.text ? [h("dt", {}, t("fact.mechanism")), h("dd", {}, say(s.why))] : null,
        f.verdict >= steps && s?.steps && [h("dt", {}, t("fact.steps")), h("dd", {}, h("ul", {}, s.steps.map((x) => h("li", {}, say(x)))))],
        s && fact(t("fact.says-who"), s.who),
        [h("dt", {}, t("fact.record")), h("dd", {}, joined(tell.records(f.evidence).map((r) => h("a", { href: r.href }, r.text))))],
      ),
      tell.doubts(f.doubts).map((d) => h("p", { class: "quiet" }, d.text)),
    ),
  );
}

function fact(label: string, lines: readonly string[]): Child {
  if (lines.length === 0) return null;
  return [h("dt", {}, label), h("dd", {}, lines.length === 1 ? lines[0]! : h("ul", {}, lines.map((l) => h("li", {}, l))))];
}

function records(tell: Telling, f: Finding): Child {
  return [" ", h("span", { class: "quiet" }, joined(tell.records(f.evidence).slice(0, 3).map((r) => h("a", { href: r.href }, r.text))))];
}

/** The hazards that a finding speaks of, named before it. */
function hazardMarks(f: Finding): Child {
  if (f.hazards === 0 || f.stated <= clean) return null;
  return h("b", { class: "hazard-word" }, list(hazardNames(f.hazards).map((x) => t(`hazard.${x}`))) + ". ");
}
