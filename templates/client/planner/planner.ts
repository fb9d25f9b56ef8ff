// The planner: puts the parts of the page together and keeps them in step.

import { Book, type Doubt, type Gate, unknown, type Verdict } from "../compat/book";
import { conflicting, conflictsOf } from "../compat/conflict";
import { verdicts } from "../compat/enums";
import type { Core } from "../compat/json";
import { type Answer, Judge } from "../compat/judge";
import { type Change, type Replacement, replacements, withoutOne } from "../compat/whatif";
import { order } from "../jar/order";
import type { Product } from "../jar/product";
import { Address } from "../page/address";
import { byId, fill, h, mark, patch } from "../page/dom";
import { t } from "../page/words";
import { stepsOf } from "./amounts";
import { band, conflictList, doubtList, hazardBoxes, ledger, untestedPairs } from "./answer";
import { Finder, type Found } from "./find";
import { Form, valueOf } from "./form";
import type { Words } from "./json";
import { about, Card, Gap } from "./lines";
import { Amounts } from "./measure";
import { Notes } from "./notes";
import { Picker } from "./picker";
import { emptyState, fromAddress, maxLines, type PlanState, toAddress } from "./state";
import { Store } from "./store";
import { Telling } from "./telling";

export class Planner {
  private state: PlanState;
  private readonly book: Book;
  private readonly store: Store;
  private readonly tell: Telling;
  private readonly form: Form;
  private readonly picker: Picker;
  private readonly amounts: Amounts;
  private readonly cards = new Map<string, Card>();
  private gap: Gap | undefined; // where a product was taken out
  private judge: Judge;
  private judged = ""; // the situation of the judge
  private instead: Replacement[] = [];
  private sought = ""; // the answer that the replacements are of
  private seeking = ""; // the answer that they are sought for
  private readonly address = new Address(() => this.open(), () => this.keep());
  private mine = false; // the reader has changed the plan since it was opened
  private lossy = false; // the address that was opened holds what could not be read
  private known = 0; // grows with what is loaded
  private told = ""; // the reasons that stand on the page
  private boxes = 0; // of hazards, above the load card
  private shown: { key: string; verdict: Verdict } = { key: "", verdict: unknown };
  private readonly later = new Map<string, number>(); // what waits for a pause, by name

  private readonly lines = h("ul", { class: "picks" });
  private readonly notes = new Notes();
  private readonly answer = h("div", { class: "plan-answer" });
  private readonly inConflict = h("div", { class: "plan-conflicts" });
  private readonly reasons = h("div", { class: "plan-reasons" });
  private readonly live = h("p", { class: "ear", role: "status" });
  private readonly bar = h("a", { class: "plan-bar", href: "#answer", hidden: true, click: (e) => this.toAnswer(e) });

  constructor(
    private readonly root: HTMLElement,
    core: Core,
    words: Words,
  ) {
    const way = (name: string): string => root.dataset[name] ?? "";
    this.book = new Book(core);
    this.judge = new Judge(this.book, { numbers: {} });
    this.store = new Store(this.book, {
      shared: way("shared"),
      own: way("own"),
      grown: () => this.grown(),
      said: () => {
        this.known++;
        this.showAnswer();
      },
      failed: () => this.notes.say(t("planner.cannot-load")),
    });
    this.tell = new Telling(this.book, words, { of: (n) => this.store.saying(n) }, way("home"));
    this.form = new Form(this.book, words, () => this.edited());
    this.amounts = new Amounts(this.tell, this.form, () => this.keep(this.mine || !this.lossy));
    const finder = new Finder(this.book, words);
    this.picker = new Picker({
      find: (typed) => finder.find(typed, 8, this.places()),
      pick: (place) => this.add(this.book.ids[place]!),
      name: (place) => core.names[place]!,
      about: (f) => this.aboutFound(f),
      verdict: (place) => this.wouldBe(place),
    });
    this.state = emptyState(this.metricFirst());
    this.layOut();
    this.keepBarInSight();
    this.open();
  }

  /** Does something once, when nothing has changed for so many ms. */
  private pause(name: string, ms: number, work: () => void): void {
    window.clearTimeout(this.later.get(name));
    this.later.set(name, window.setTimeout(work, ms));
  }

  private metricFirst(): boolean {
    return this.root.dataset["metric"] === "true";
  }

  /** Sets the page up: on a wide screen fields beside results, on a narrow one the answer right under the products. */
  private layOut(): void {
    const tank = h("section", { class: "plan-tank", "aria-labelledby": "in-tank" }, h("h2", { id: "in-tank" }, t("planner.in-tank")), this.notes.element, this.picker.element, this.lines);
    const fields = h("div", { class: "plan-fields" }, this.form.element());
    const top = h("div", { class: "answer-top" });
    const title = h("h2", { id: "answer-title", class: "ear" }, t("planner.answer"));
    const answer = h("section", { id: "answer", tabindex: "-1", "aria-labelledby": title.id }, title, top, this.answer, this.inConflict);
    new IntersectionObserver((list) => this.root.classList.toggle("in-sight", list.at(-1)!.isIntersecting), { rootMargin: "120px 0px 0px" }).observe(top);
    const { loads, jar } = this.amounts;
    const wide = window.matchMedia("(min-width: 60rem)");
    const lay = (): void => {
      if (wide.matches) fill(this.root, h("div", { class: "plan-inputs" }, tank, fields), h("div", { class: "plan-results" }, answer, loads, this.reasons, jar), this.bar, this.live);
      else fill(this.root, tank, answer, fields, loads, this.reasons, jar, this.bar, this.live);
    };
    wide.addEventListener("change", lay);
    lay();
  }

  private toAnswer(e: Event): void {
    e.preventDefault();
    this.goToAnswer();
  }

  /** Brings the answer to the top and its reader to it. The browser alone does not move a page of which a part is in sight. */
  private goToAnswer(): void {
    const answer = byId("answer");
    answer.scrollIntoView();
    answer.focus({ preventScroll: true });
  }

  /** Keeps the verdict above the keyboard of a touch screen, which covers the foot of the page. A page that is zoomed into is left alone. */
  private keepBarInSight(): void {
    const seen = window.visualViewport;
    const rise = (): void => {
      const covered = seen && seen.scale < 1.01 ? Math.round(window.innerHeight - seen.height - seen.offsetTop) : 0;
      this.bar.style.bottom = covered > 0 ? covered + "px" : "";
    };
    seen?.addEventListener("resize", rise);
    seen?.addEventListener("scroll", rise);
  }

  private places(): Set<number> {
    return new Set(this.state.lines.map((l) => this.book.placeOf.get(l.id) ?? -1));
  }

  private aboutFound(f: Found): string {
    const holds = about(this.tell, f.place);
    if (f.by === "name" || f.by === "active") return holds;
    return [holds, f.what].filter((w) => w !== "").join(" · ");
  }

  /** What the mix would be with one more product, when all of it is known. */
  private wouldBe(place: number): string {
    if (this.state.lines.length === 0 || ![...this.places(), place].every((p) => this.store.knows(p))) return "";
    return verdicts[this.judge.mix([...this.state.lines.map((l) => l.id), this.book.ids[place]!]).verdict]!;
  }

  /** Reads the address and shows its plan, with a kind word on what it could not read. */
  private open(): void {
    this.mine = this.lossy = false;
    const { state, lost } = fromAddress(this.address.read(), this.metricFirst());
    if (state.texts.jar === "") state.texts.jar = this.book.core.jar;
    this.state = state;
    this.lossy = lost.length > 0;
    this.cards.clear();
    this.gap = undefined;
    this.notes.opened({
      published: state.published === this.book.core.published ? "" : state.published,
      products: state.lines.filter((l) => !this.book.placeOf.has(l.id)).length,
      choices: this.form.put(state),
      lost,
    });
    this.changed();
  }

  private add(id: string): void {
    if (this.state.lines.length >= maxLines) {
      this.notes.say(t("planner.too-many", { n: maxLines }));
      return;
    }
    this.state.lines.push({ id, rate: "" });
    this.gap = undefined;
    this.edited();
  }

  private remove(id: string): void {
    this.leaveOut(id);
    this.gap?.focus();
  }

  private leaveOut(id: string): void {
    const at = this.state.lines.findIndex((l) => l.id === id);
    const line = this.state.lines[at];
    if (!line) return;
    this.state.lines.splice(at, 1);
    this.cards.delete(id);
    this.notes.say("");
    this.gap = new Gap(line, at, this.tell.name(id), () => this.putBack());
    this.edited();
  }

  /** Puts the product that was taken out last back where it stood, at its rate. */
  private putBack(): void {
    if (!this.gap) return;
    const { line, at } = this.gap;
    this.state.lines.splice(at, 0, line);
    this.gap = undefined;
    this.edited();
    this.cards.get(line.id)?.focus();
  }

  /** Leaves a product of a conflict out; the reader goes on at the answer. */
  private drop(id: string): void {
    this.leaveOut(id);
    this.goToAnswer();
  }

  private swap(s: Change): void {
    const at = this.state.lines.findIndex((l) => l.id === s.out);
    if (at < 0) return;
    this.state.lines[at] = { id: s.in, rate: "" };
    this.cards.delete(s.out);
    this.gap = undefined;
    this.edited();
    this.goToAnswer();
  }

  private grown(): void {
    this.known++;
    this.judge.forget();
    this.changed();
  }

  /** The reader has changed something: from here on the address is this plan's. */
  private edited(): void {
    this.mine = true;
    this.changed();
  }

  /** Brings everything in step with the state. */
  private changed(): void {
    this.form.take(this.state);
    this.state.published = this.book.core.published;
    void this.store.products([...this.places()]);
    this.showLines();
    const products = this.state.lines.map((l) => ({ name: this.tell.name(l.id), gone: !this.book.placeOf.has(l.id), product: this.cards.get(l.id)?.product(this.book) }));
    this.judgeIn(this.orderOf(products.map((p) => p.product)));
    const verdict = this.showAnswer();
    this.amounts.show(products, verdict, this.state.metric ? "metric" : "us");
    this.fitPaper();
    this.root.classList.add("moving");
    this.pause("rest", 400, () => this.root.classList.remove("moving"));
    this.pause("keep", 200, () => this.keep());
  }

  /** Sets how closely the load card is printed, so that it stays one page. A box of a hazard takes as much of it as three products. */
  private fitPaper(): void {
    const weight = this.state.lines.length + 3 * this.boxes;
    this.root.classList.toggle("close-print", weight > 3);
    this.root.classList.toggle("closer-print", weight > 6);
    this.root.classList.toggle("closest-print", weight > 10);
  }

  /** The IDs in order of addition; none while a product cannot be placed. */
  private orderOf(products: readonly (Product | undefined)[]): string[] {
    if (!this.form.ordered.checked || products.some((p) => p === undefined)) return [];
    return order(products as Product[], stepsOf(this.book)).map((p) => this.state.lines[p.given]!.id);
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

  private showLines(): void {
    const spray = valueOf(this.form.fields.spray.check());
    const elements = this.state.lines.map((line) => {
      let card = this.cards.get(line.id);
      if (!card) {
        card = new Card(this.tell, line, () => this.remove(line.id), () => this.edited());
        this.cards.set(line.id, card);
      }
      const label = this.store.labels.get(this.book.placeOf.get(line.id) ?? -1);
      if (label) card.know(label);
      card.sow(this.form.choices.crop.known);
      card.showFit(this.book, spray);
      return card.element;
    });
    if (this.gap) elements.splice(this.gap.at, 0, this.gap.element);
    const now = [...this.lines.children];
    if (now.length !== elements.length || now.some((e, i) => e !== elements[i])) this.lines.replaceChildren(...elements);
  }

  /** Shows what is known of the mix, unless it is shown already; returns its verdict. */
  private showAnswer(): Verdict {
    const ids = this.state.lines.map((l) => l.id);
    const key = [...ids, this.judged, this.known].join(" ");
    if (key === this.shown.key) return this.shown.verdict;
    this.shown = { key, verdict: ids.length === 0 ? this.showNothing() : this.showMix(this.judge.mix(ids)) };
    return this.shown.verdict;
  }

  private showMix(a: Answer): Verdict {
    const waiting = a.items.some((item) => !this.store.knows(item.place));
    const told = [tellingOf(a), this.known, waiting].join(" ");
    if (told !== this.told) {
      this.told = told;
      this.tellMix(a, waiting);
    }
    if (this.seeking !== this.answerKey(a)) this.seeking = "";
    if (!waiting && a.verdict >= conflicting && this.sought !== this.answerKey(a)) this.pause("seek", 0, () => void this.seek(a));
    return a.verdict;
  }

  /** The answer, and behind it every reason. */
  private tellMix(a: Answer, waiting: boolean): void {
    const { mix, handling } = this.tell.hazards(a);
    const alone = a.items.length === 1;
    this.boxes = mix.length + handling.length;
    patch(
      this.answer,
      waiting && h("p", { class: "quiet" }, t("planner.loading")),
      alone ? h("p", { class: "lead" }, t("planner.one-more")) : !waiting && band(this.tell, a),
      hazardBoxes(this.tell, a),
    );
    this.showBar(a, alone || waiting);
    this.reasons.setAttribute("aria-busy", "true");
    this.pause("reasons", 0, () => this.showReasons(a));
  }

  private showNothing(): Verdict {
    const example = this.tell.words.example;
    fill(this.answer, h("div", { class: "plan-empty" }, h("p", { class: "lead" }, t("planner.empty")), example !== "" && h("p", {}, h("a", { href: encodeURI(example) }, t("planner.example")))));
    fill(this.reasons);
    fill(this.inConflict);
    this.bar.hidden = true;
    window.clearTimeout(this.later.get("reasons"));
    this.told = "";
    return unknown;
  }

  private showReasons(a: Answer): void {
    const sought = this.sought === this.answerKey(a);
    const conflicts = conflictsOf(a);
    const outs = a.items.length < 2 ? [] : a.items.filter((item) => conflicts.some((c) => c.items.includes(item.id)));
    const search = sought ? "done" : this.store.failing ? "failed" : "under-way";
    const found = { without: outs.map((item) => withoutOne(this.judge, a, item.id)), instead: sought ? this.instead : [], search } as const;
    fill(this.inConflict, conflictList(this.tell, conflicts, found, { drop: (out) => this.drop(out), swap: (c) => this.swap(c) }));
    fill(this.reasons, untestedPairs(this.tell, a), doubtList(this.tell, a), ledger(this.tell, a));
    this.reasons.removeAttribute("aria-busy");
  }

  /** The verdict that stays in sight on a small screen, and is told to readers by ear. */
  private showBar(a: Answer, hidden: boolean): void {
    const v = verdicts[a.verdict]!;
    const hazards = this.tell.hazards(a).mix.map((x) => t(`hazard.${x}`));
    const words = [t(`verdict.${v}`), ...hazards, ...(a.untested.length > 0 ? [t("whatif.untested", { n: a.untested.length })] : [])];
    this.bar.hidden = hidden;
    this.bar.className = `plan-bar tone-${v}`;
    this.bar.setAttribute("data-verdict", v);
    fill(this.bar, mark(v), h("span", {}, words.join(" · ")));
    if (!hidden) this.announce(words.join(". ") + ".");
  }

  /** Tells readers by ear, once typing has paused. */
  private announce(text: string): void {
    this.pause("announce", 600, () => {
      if (this.live.textContent !== text) fill(this.live, text);
    });
  }

  private answerKey(a: Answer): string {
    return [...a.items.map((item) => item.id), this.judged, this.store.labels.size].join(" ");
  }

  /**
   * Seeks replacements for the products of conflicts behind the answer, a little at a
   * time, until the reader has changed the mix.
   */
  private async seek(a: Answer): Promise<void> {
    const key = this.answerKey(a);
    if (this.seeking === key) return;
    this.seeking = key;
    const found = await this.search(a, key);
    if (this.seeking !== key) return;
    this.seeking = "";
    if (found) [this.instead, this.sought] = [found, key];
    this.showReasons(a);
  }

  /** The replacements, or nothing when they do not load or nobody waits for them any more. */
  private async search(a: Answer, key: string): Promise<Replacement[] | undefined> {
    const purposes = await this.store.purposes();
    if (!purposes) return undefined;
    const steps = replacements(this.judge, purposes, a);
    for (let step = steps.next(), since = performance.now(); this.seeking === key; step = steps.next()) {
      if (step.done) return step.value;
      if (performance.now() - since < 6) continue;
      await new Promise((go) => window.setTimeout(go, 0));
      since = performance.now();
    }
    return undefined;
  }

  /**
   * Keeps the plan in the address, with the rates as they stand. Browsers make this
   * slow, so it waits for a pause. An address that was opened stays as it is, with what
   * could not be read in it, until its reader changes the plan or copies it.
   */
  private keep(whole = this.mine): void {
    if (!whole) return;
    const lines = this.state.lines.map((l) => ({ id: l.id, rate: this.cards.get(l.id)?.rate.text ?? l.rate }));
    const jar = this.state.texts.jar === this.book.core.jar ? "" : this.state.texts.jar;
    this.address.write(toAddress({ ...this.state, lines, texts: { ...this.state.texts, jar } }));
  }
}

/** All that the answer and the reasons on the page are made of, as a text to compare. */
function tellingOf(a: Answer): string {
  const gate = (g: Gate): unknown => (g.n >= 0 ? g.n : [g.factor, g.ref, g.low?.short(3), g.high?.short(3)]);
  const doubt = (d: Doubt): unknown => [d.code, d.n, d.items, d.symptoms, d.gates?.map(gate), d.count, d.evidence?.map((e) => (e.kind === "rule" ? e.n : "j" + e.n))];
  const told = a.findings.map((f) => [
    f.evidence.kind === "rule" ? f.evidence.n : "j" + f.evidence.n,
    [f.part, f.verdict, f.stated, f.grade, f.basis, f.hazards, f.mend],
    f.open.map(gate),
    f.doubts.map(doubt),
    f.matches.map((m) => m.item + ">" + m.member),
  ]);
  return JSON.stringify([a.verdict, a.hazards, a.handling, a.items.map((i) => i.id), told, a.doubts.map(doubt), a.untested]);
}
