// The planner: puts the parts of the page together and keeps them in step.

import { Book, never, type Rule, unknown, type Verdict } from "../compat/book";
import type { Core, Product as Label, Shard, Uses } from "../compat/json";
import { type Answer, Judge } from "../compat/judge";
import { plan } from "../jar/load";
import { order } from "../jar/order";
import { Problems } from "../jar/problem";
import type { Product } from "../jar/product";
import { recipe } from "../jar/recipe";
import { load, openData, part } from "../page/data";
import { byId, type Child, fill, h, mark } from "../page/dom";
import { list, t, takeMessages } from "../page/words";
import { none } from "../unit/quantity";
import { verdicts } from "../compat/enums";
import { firstWaterShare, jarRequestOf, type Job, loadRequestOf, stepsOf } from "./amounts";
import { band, conflictList, doubtList, hazardBoxes, ledger, untestedPairs } from "./answer";
import { jarTable, loadFacts, loadTable } from "./card";
import { candidates, type Conflict, conflictsOf, Purposes, type Swap, swapsFor } from "./conflict";
import { Finder, type Found } from "./find";
import { Form, valueOf } from "./form";
import type { Saying, Says, Words } from "./json";
import { about, Card } from "./lines";
import { Picker } from "./picker";
import { emptyState, fromAddress, maxLines, type PlanState, toAddress } from "./state";
import { Telling } from "./telling";

/** From this verdict on there is no card for one tank. */
const apart = 3;

/** The parts of the page that change. */
interface Regions {
  lines: HTMLElement;
  notes: HTMLElement;
  answer: HTMLElement;
  conflicts: HTMLElement;
  reasons: HTMLElement;
  loads: HTMLElement;
  jar: HTMLElement;
  bar: HTMLAnchorElement;
  live: HTMLElement;
}

class Planner {
  private state: PlanState;
  private readonly book: Book;
  private readonly tell: Telling;
  private readonly form: Form;
  private readonly picker: Picker;
  private readonly finder: Finder;
  private readonly cards = new Map<string, Card>();
  private readonly labels = new Map<number, Label>();
  private readonly shards = new Set<number>(); // asked for
  private readonly says = new Map<number, Saying>();
  private readonly saysAsked = new Set<number>();
  private purposes: Purposes | undefined;
  private judge: Judge;
  private judged = ""; // the situation of the judge
  private conflicts: Conflict[] = [];
  private address = ""; // as it was written last
  private sought = "";
  private readonly region: Regions;

  constructor(
    private readonly root: HTMLElement,
    core: Core,
    words: Words,
  ) {
    this.book = new Book(core);
    this.judge = new Judge(this.book, { numbers: {} });
    this.tell = new Telling(this.book, words, { of: (n) => this.saying(n) }, root.dataset["home"] ?? "");
    this.finder = new Finder(this.book, words);
    this.form = new Form(this.book, words, () => this.changed());
    this.picker = new Picker({
      find: (typed) => this.finder.find(typed, 8, this.places()),
      pick: (place) => this.add(this.book.ids[place]!),
      name: (place) => core.names[place]!,
      about: (f) => this.aboutFound(f),
      verdict: (place) => this.wouldBe(place),
    });
    this.region = this.build();
    this.state = emptyState(this.metricFirst());
    this.open();
    window.addEventListener("hashchange", () => {
      if (location.hash.replace(/^#/, "") !== this.address) this.open();
    });
  }

  private metricFirst(): boolean {
    return this.root.dataset["metric"] === "true";
  }

  /** Sets the page up. */
  private build(): Regions {
    const region = (tag: "div" | "ul" | "p", cls: string): HTMLElement => h(tag, { class: cls });
    const r: Regions = {
      lines: region("ul", "picks"),
      notes: region("div", "plan-notes"),
      answer: region("div", "plan-answer"),
      conflicts: region("div", "plan-conflicts"),
      reasons: region("div", "plan-reasons"),
      loads: region("div", "plan-loads"),
      jar: region("div", "plan-jar"),
      bar: h("a", { class: "plan-bar", href: "#answer", hidden: true, click: (e) => this.toAnswer(e) }),
      live: h("p", { class: "ear", role: "status" }),
    };
    const tank = h("section", { class: "plan-tank", "aria-labelledby": "in-tank" }, h("h2", { id: "in-tank" }, t("planner.in-tank")), r.notes, this.picker.element, r.lines);
    const fields = h("div", { class: "plan-fields" }, this.form.element());
    const answer = h("section", { id: "answer", tabindex: "-1", "aria-label": t("planner.answer") }, r.answer, r.conflicts);
    const loads = h("section", { class: "load-card", "aria-labelledby": "loads" }, r.loads);
    const jar = h("section", { class: "plan-jar-section", "aria-labelledby": "jar-of-mix" }, h("h2", { id: "jar-of-mix" }, t("planner.jar-title")), this.form.fields.jar.element, r.jar);
    const wide = window.matchMedia("(min-width: 60rem)");
    const lay = (): void => {
      if (wide.matches) fill(this.root, h("div", { class: "plan-inputs" }, tank, fields), h("div", { class: "plan-results" }, answer, loads, r.reasons, jar), r.bar, r.live);
      else fill(this.root, tank, answer, fields, loads, r.reasons, jar, r.bar, r.live);
    };
    wide.addEventListener("change", lay);
    lay();
    return r;
  }

  private toAnswer(e: Event): void {
    e.preventDefault();
    const answer = byId("answer");
    answer.scrollIntoView();
    answer.focus({ preventScroll: true });
  }

  private places(): Set<number> {
    return new Set(this.state.lines.map((l) => this.book.placeOf.get(l.id) ?? -1));
  }

  private aboutFound(f: Found): string {
    const holds = about(this.tell, f.place);
    if (f.by === "name" || f.by === "active") return holds;
    return list([holds, f.what].filter((w) => w !== ""));
  }

  /** What the mix would be with one more product, when all of it is known. */
  private wouldBe(place: number): string {
    const known = [...this.places(), place].every((p) => p < 0 || this.labels.has(p));
    if (!known || this.state.lines.length === 0) return "";
    return verdicts[this.judge.mix([...this.state.lines.map((l) => l.id), this.book.ids[place]!]).verdict]!;
  }

  /** Reads the address and shows its plan. */
  private open(): void {
    const { state, lost } = fromAddress(location.hash, this.metricFirst());
    this.state = state;
    this.cards.clear();
    const gone = this.form.put(state);
    const older = state.published !== "" && state.published !== this.book.core.published;
    const unknown = state.lines.filter((l) => !this.book.placeOf.has(l.id)).length;
    fill(
      this.region.notes,
      older && h("p", { class: "note" }, t("planner.other-publication", { date: state.published })),
      unknown > 0 && h("p", { class: "note" }, t("planner.gone-some", { n: unknown })),
      lost + gone.length > 0 && h("p", { class: "note" }, t("planner.not-understood", { n: lost + gone.length })),
    );
    this.changed();
  }

  private add(id: string): void {
    if (this.state.lines.length >= maxLines) {
      fill(this.region.notes, h("p", { class: "note" }, t("planner.too-many", { n: maxLines })));
      return;
    }
    this.state.lines.push({ id, rate: "" });
    this.changed();
  }

  private remove(id: string): void {
    this.state.lines = this.state.lines.filter((l) => l.id !== id);
    this.cards.delete(id);
    this.changed();
    this.picker.input.focus();
  }

  private swap(s: Swap): void {
    const at = this.state.lines.findIndex((l) => l.id === s.out);
    if (at < 0) return;
    this.state.lines[at] = { id: s.in, rate: "" };
    this.cards.delete(s.out);
    this.changed();
    byId("answer").focus();
  }

  /** Brings everything in step with the state. */
  private changed(): void {
    this.form.take(this.state);
    this.state.published = this.book.core.published;
    this.loadProducts(this.state.lines.map((l) => this.book.placeOf.get(l.id) ?? -1));
    this.showLines();
    const products = this.products();
    const placed = order(products.filter((p): p is Product => p !== undefined), stepsOf(this.book)).map((p) => p.given);
    const ids = this.state.lines.map((l) => l.id);
    this.judgeIn(products.every((p) => p !== undefined) ? placed.map((n) => ids[n]!) : []);
    this.showAnswer();
    this.showAmounts(products);
    this.keep();
  }

  /** Makes the judge of the situation, or keeps the one there is. */
  private judgeIn(order: readonly string[]): void {
    const situation = this.form.situation(order);
    const { numbers, ...rest } = situation;
    const key = JSON.stringify([rest, Object.entries(numbers).map(([f, n]) => `${f} ${n!.n}/${n!.d}`)]);
    if (key === this.judged) return;
    this.judge = new Judge(this.book, situation);
    this.judged = key;
  }

  private products(): (Product | undefined)[] {
    return this.state.lines.map((l) => this.cards.get(l.id)?.product(this.book));
  }

  private showLines(): void {
    const spray = valueOf(this.form.fields.spray.check());
    const elements = this.state.lines.map((line) => {
      let card = this.cards.get(line.id);
      if (!card) {
        card = new Card(this.tell, line, () => this.remove(line.id), () => this.changed());
        this.cards.set(line.id, card);
      }
      const label = this.labels.get(this.book.placeOf.get(line.id) ?? -1);
      if (label) card.know(label);
      card.sow(this.form.choices.crop.value);
      card.showFit(this.book, spray);
      return card.element;
    });
    const now = [...this.region.lines.children];
    if (now.length !== elements.length || now.some((e, i) => e !== elements[i])) this.region.lines.replaceChildren(...elements);
  }

  private showAnswer(): void {
    const ids = this.state.lines.map((l) => l.id);
    if (ids.length === 0) {
      this.showNothing();
      return;
    }
    const a = this.judge.mix(ids);
    this.showVerdict(a, this.waiting(a));
    this.seek(a);
  }

  /** Whether more will be known of the mix in a moment. */
  private waiting(a: Answer): boolean {
    return a.items.some((item) => item.place >= 0 && !this.labels.has(item.place));
  }

  private showNothing(): void {
    const example = this.tell.words.example;
    fill(this.region.answer, h("div", { class: "plan-empty" }, h("p", { class: "lead" }, t("planner.empty")), example !== "" && h("p", {}, h("a", { href: encodeURI(example) }, t("planner.example")))));
    fill(this.region.reasons);
    fill(this.region.conflicts);
    this.region.bar.hidden = true;
    this.verdict = unknown;
  }

  private showVerdict(a: Answer, waiting: boolean): void {
    const alone = a.items.length === 1;
    fill(
      this.region.answer,
      waiting && h("p", { class: "quiet" }, t("planner.loading")),
      alone ? h("p", { class: "lead" }, t("planner.one-more")) : !waiting && band(this.tell, a),
      hazardBoxes(this.tell, a),
    );
    this.showReasons(a);
    const v = verdicts[a.verdict]!;
    this.verdict = a.verdict;
    this.region.bar.hidden = alone || waiting;
    this.region.bar.className = `plan-bar tone-${v}`;
    this.region.bar.setAttribute("data-verdict", v);
    const hazards = this.tell.hazards(a).mix.map((x) => t(`hazard.${x}`));
    const words: string[] = [t(`verdict.${v}`), ...hazards, ...(a.untested.length > 0 ? [t("planner.untested-short", { n: a.untested.length })] : [])];
    fill(this.region.bar, mark(v), h("span", {}, words.join(" · ")));
    if (!alone && !waiting) this.announce(words.join(". ") + ".");
  }

  private showReasons(a: Answer): void {
    const sought = this.sought === this.conflictKey(a);
    fill(this.region.conflicts, conflictList(this.tell, sought ? this.conflicts : conflictsOf(a), sought, (s) => this.swap(s)));
    fill(
      this.region.reasons,
      untestedPairs(this.tell, a),
      doubtList(this.tell, a),
      ledger(this.tell, a),
    );
  }

  private announced = 0;
  private verdict: Verdict = unknown; // of the mix shown

  /** Tells readers by ear, once typing has paused. */
  private announce(text: string): void {
    window.clearTimeout(this.announced);
    this.announced = window.setTimeout(() => {
      if (this.region.live.textContent !== text) fill(this.region.live, text);
    }, 600);
  }

  private conflictKey(a: Answer): string {
    return a.items.map((item) => item.id).join() + this.judged + this.labels.size;
  }

  /** Seeks replacements for conflicts, behind the answer. */
  private seek(a: Answer): void {
    const key = this.conflictKey(a);
    if (a.verdict < apart || this.sought === key) return;
    window.setTimeout(() => void this.seekNow(a, key), 0);
  }

  private async seekNow(a: Answer, key: string): Promise<void> {
    this.purposes ??= new Purposes(await load<Uses>(this.shared(), "uses"));
    if (key !== this.conflictKey(a)) return;
    const crop = this.form.choices.crop.value;
    const conflicts = conflictsOf(a);
    const tried = conflicts.map((c) => candidates(this.book, this.purposes!, a, c, crop));
    await this.loadAll(tried.flatMap((m) => [...m.values()].flat()));
    if (!this.current(a)) return;
    conflicts.forEach((c, i) => (c.swaps = swapsFor(this.judge, a, c, tried[i]!)));
    this.conflicts = conflicts;
    this.sought = this.conflictKey(a);
    this.showReasons(a);
  }

  private current(a: Answer): boolean {
    const ids = a.items.map((item) => item.id).join();
    return [...this.state.lines.map((l) => l.id)].sort().join() === ids;
  }

  /** What is known of the candidates, of the first few shards at most. */
  private async loadAll(places: readonly number[]): Promise<void> {
    const shards = [...new Set(places.map((p) => Math.floor(p / this.book.core.per_shard)))].slice(0, 12);
    await Promise.all(shards.map((n) => this.loadShard(n)));
  }

  private showAmounts(products: readonly (Product | undefined)[]): void {
    const system = this.state.metric ? "metric" : "us";
    const job = this.job(products);
    const stop = this.verdict >= apart && h("p", { class: "note stop" }, this.verdict === never ? t("load.stop-never") : t("load.stop-apart"));
    fill(this.region.loads, h("h2", { id: "loads" }, t("load.title")), stop || [this.handFields(), this.loads(job, system)], this.cardEnd(!stop));
    fill(this.region.jar, this.verdict === never ? h("p", { class: "note stop" }, t("load.stop-jar")) : this.jar(job, system));
  }

  /** What the arithmetic works on, or what is missing for it. */
  private job(products: readonly (Product | undefined)[]): Job | string {
    if (products.length === 0) return t("load.no-products");
    const missing = this.state.lines.filter((_, i) => products[i] === undefined).map((l) => this.tell.name(l.id));
    if (missing.length > 0) return t("load.no-rate", { names: list(missing) });
    const spray = this.form.fields.spray.check();
    if (spray.is === "wrong") return t("load.wrong-field", { field: t("planner.spray") });
    return {
      products: products as Product[],
      steps: stepsOf(this.book),
      firstWater: firstWaterShare(this.book),
      sprayVolume: spray.is === "value" ? spray.value : none("depth"),
    };
  }

  private loads(job: Job | string, system: "us" | "metric"): Child {
    if (typeof job === "string") return h("p", { class: "note" }, job);
    const f = this.form.fields;
    for (const key of ["area", "spray", "tank", "fill", "minimum", "heel"] as const) {
      const r = f[key].check();
      if (r.is === "wrong") return h("p", { class: "note" }, t("load.wrong-field", { field: t(`planner.${key}`) }));
      if (r.is === "empty" && ["area", "spray", "tank"].includes(key)) return h("p", { class: "note" }, t("load.give", { field: t(`planner.${key}`) }));
    }
    const limit = (key: "fill" | "minimum" | "heel") => valueOf(f[key].check());
    const [fillTo, minimum, heel] = [limit("fill"), limit("minimum"), limit("heel")];
    const limits = { ...(fillTo && { maxFill: fillTo }), ...(minimum && { minimum }), ...(heel && { heel }) };
    return this.worked(() => {
      const p = plan(loadRequestOf(job, valueOf(f.area.check())!, valueOf(f.tank.check())!, limits));
      return [loadFacts(p, system), loadTable(this.tell, p, system)];
    });
  }

  private jar(job: Job | string, system: "us" | "metric"): Child {
    if (typeof job === "string") return h("p", { class: "note" }, job);
    const r = this.form.fields.jar.check();
    if (r.is === "wrong") return h("p", { class: "note" }, t("load.wrong-field", { field: t("planner.jar") }));
    const jar = r.is === "value" ? r.value : undefined;
    if (!jar) return h("p", { class: "note" }, t("load.give", { field: t("planner.jar") }));
    return this.worked(() => [jarTable(this.tell, recipe(jarRequestOf(job, jar)), system), h("p", { class: "quiet" }, t("planner.jar-how"))]);
  }

  /** Does the arithmetic, or says why it cannot be done. */
  private worked(work: () => Child): Child {
    try {
      return work();
    } catch (e) {
      if (!(e instanceof Problems)) throw e;
      return e.list.map((p) => h("p", { class: "note" }, t(`problem.${p.code}`, { product: p.product })));
    }
  }

  /** Lines to fill in by hand, and the verdict, on the printed card. */
  private handFields(): Child {
    return h("p", { class: "only-print by-hand" }, [t("load.date"), t("load.field"), t("load.by")].map((label) => h("span", {}, label)));
  }

  private cardEnd(print: boolean): Child {
    return h(
      "p",
      { class: "no-print card-tools" },
      print && h("button", { type: "button", class: "act", click: () => window.print() }, t("load.print")),
      h("button", { type: "button", class: "act", click: (e) => void copyAddress(e.currentTarget as HTMLElement) }, t("planner.copy")),
    );
  }

  /** Keeps the plan in the address, with the rates as they stand. */
  private keep(): void {
    const lines = this.state.lines.map((l) => ({ id: l.id, rate: this.cards.get(l.id)?.rate.text ?? l.rate }));
    this.address = toAddress({ ...this.state, lines });
    if (location.hash.replace(/^#/, "") === this.address) return;
    history.replaceState(null, "", this.address === "" ? location.pathname + location.search : "#" + this.address);
  }

  private shared(): string {
    return this.root.dataset["shared"] ?? "";
  }

  private loadProducts(places: readonly number[]): void {
    for (const p of places) if (p >= 0) void this.loadShard(Math.floor(p / this.book.core.per_shard));
  }

  /** Loads what is known of some products; the page is brought in step when it is there. */
  private async loadShard(n: number): Promise<void> {
    if (this.shards.has(n)) {
      await load<Shard>(this.shared(), `products-${n}`);
      return;
    }
    this.shards.add(n);
    try {
      const shard = await load<Shard>(this.shared(), `products-${n}`);
      this.book.add(shard);
      shard.products.forEach((label, i) => this.labels.set(shard.first + i, label));
      this.judge.forget();
      this.changed();
    } catch {
      this.shards.delete(n);
      fill(this.region.notes, h("p", { class: "note" }, t("planner.cannot-load")));
    }
  }

  /** What a rule says; asked for, and undefined, until it is loaded. */
  private saying(rule: Rule["n"]): Saying | undefined {
    const file = Math.floor(rule / this.book.core.per_says);
    if (!this.saysAsked.has(file)) {
      this.saysAsked.add(file);
      void load<Says>(this.root.dataset["own"] ?? "", `says-${file}`).then((s) => {
        s.rules.forEach((one, i) => this.says.set(s.first + i, one));
        this.showAnswer();
      });
    }
    return this.says.get(rule);
  }
}

async function copyAddress(button: HTMLElement): Promise<void> {
  try {
    await navigator.clipboard.writeText(location.href);
    button.textContent = t("planner.copied");
  } catch {
    button.textContent = t("planner.copy-by-hand");
  }
}

function start(): void {
  const root = byId("planner");
  const core = part<Core>("core");
  const words = part<Words>("words");
  takeMessages(part<Record<string, string>>("messages") ?? {});
  if (!core || !words || core.schema !== 1) {
    root.classList.add("broken");
    return;
  }
  new Planner(root, core, words);
  root.classList.add("ready");
}

openData(() => {
  const root = byId("planner");
  root.prepend(h("p", { class: "note" }, t("planner.reload")));
});
document.addEventListener("DOMContentLoaded", start);

