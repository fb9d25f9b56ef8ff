// The search box: a combobox over a list of results, in the head of a page or,
// with the list below it, on a page of its own. Without it, its place leads to
// the lists of everything.
import { fill, h } from "../page/dom";
import { haveMessages, t } from "../page/words";
import { Engine } from "./engine";
import { Marker } from "./excerpt";
import { Answer } from "./find";
import { count, remark, Row, row, show } from "./list";
import { openEngine } from "./load";

// On a narrow screen the keys cover half of it, and what is below is not seen.
const shown = { narrow: 5, head: 8, page: 20, most: 100 };
const narrow = matchMedia("(max-width: 47.99rem)");
const excerptLength = 150;
const quietTime = 400; // ms without a keystroke before more is loaded or said aloud
const patience = 300; // ms without an answer before the box says that it is at work
const longest = 200; // characters of a question, in the field and in an address

// Place is where the box stands.
interface Place {
	index: string; // folder of the index
	home: string; // folder of the edition
	label: string; // for readers by ear
	hint: string; // in the empty field
	whole: boolean; // a page of its own
}

// startBox puts a search box into its place; words brings what it says.
export function startBox(into: HTMLElement, index: string, words: () => Promise<void>): void {
	const home = new URL(".", new URL(into.dataset["home"] ?? "", location.href)).href;
	const whole = into.classList.contains("seek-page");
	const box = new Box({ index, home, label: into.dataset["label"] ?? "", hint: into.dataset["hint"] ?? "", whole }, words);
	const glass = into.querySelector(".glass");
	into.replaceChildren(box.form);
	if (glass) box.field.prepend(glass);
	box.start();
}

class Box {
	readonly form: HTMLFormElement;
	readonly field: HTMLElement;
	private readonly input: HTMLInputElement;
	private readonly kinds = h("select", { id: "seek-kind", name: "kind", change: () => this.change() });
	private readonly head = h("div", { class: "seek-head" });
	private readonly count = h("p", { class: "seek-count" });
	private readonly note = h("p", { class: "seek-note" });
	private readonly list = h("div", { class: "seek-list", id: "seek-list", role: "listbox" });
	private readonly foot = h("p", { class: "seek-foot" });
	private readonly said = h("p", { class: "ear", role: "status" });
	private readonly panel: HTMLElement;
	private engine: Engine;
	private ready: Promise<void> | undefined;
	private limit: number;
	private readonly rows: Row[] = []; // of the list
	private listed = 0; // the question that they answer
	private active = -1;
	private asked = 0; // questions so far; only the last one is answered
	private quiet: ReturnType<typeof setTimeout> | undefined;

	constructor(private readonly place: Place, private readonly words: () => Promise<void>) {
		this.engine = openEngine(place.index, "");
		this.limit = this.first();
		this.input = h("input", {
			type: "search", name: "q", id: "seek-words", placeholder: place.hint, "aria-label": place.label, role: "combobox",
			"aria-autocomplete": "list", "aria-controls": "seek-list", "aria-expanded": "false", autocomplete: "off",
			autocapitalize: "off", spellcheck: "false", enterkeyhint: "search", maxlength: longest,
			focus: () => void this.prepare().catch(() => undefined), // tried again with the first letter
			 input: () => this.change(), keydown: (e) => this.key(e as KeyboardEvent),
		});
		this.panel = h("div", { class: "seek-panel", hidden: true, tabindex: -1 });
		this.field = h("span", { class: "seek-field" }, this.input, h("kbd", { "aria-hidden": "true" }, "/"));
		this.form = h("form", {
			class: "seek-form", action: place.home + "find.html", submit: (e) => this.submit(e),
			keydown: (e) => {
				if ((e as KeyboardEvent).key !== "Escape") return;
				e.preventDefault(); // a browser would empty the field at once
				this.close();
			},
		}, this.field, this.panel, this.said);
	}

	// start begins to listen, and answers what the address asks.
	start(): void {
		document.addEventListener("keydown", (e) => this.summon(e));
		for (const kind of ["pointerdown", "focusin"]) {
			document.addEventListener(kind, (e) => !this.form.contains(e.target as Node) && this.open(false));
		}
		if (!this.place.whole) return;
		const asked = new URLSearchParams(location.search);
		this.input.value = (asked.get("q") ?? "").slice(0, longest);
		if (this.input.value === "") return;
		void this.prepare().then(() => {
			this.kinds.value = asked.get("kind") ?? "";
			if (this.kinds.selectedIndex < 0) this.kinds.value = "";
			return this.ask();
		});
	}

	private first(): number {
		if (this.place.whole) return shown.page;
		return narrow.matches ? shown.narrow : shown.head;
	}

	// summon takes a reader who presses a slash to the box, unless it is typed
	// somewhere.
	private summon(e: KeyboardEvent): void {
		const at = e.target as HTMLElement;
		if (e.key !== "/" || e.ctrlKey || e.metaKey || e.altKey || at.isContentEditable || /^(INPUT|TEXTAREA|SELECT)$/.test(at.tagName)) return;
		e.preventDefault();
		this.input.focus();
		this.input.select();
	}

	// prepare loads words and root once, and fills in what depends on them.
	private prepare(): Promise<void> {
		this.ready ??= Promise.all([this.words(), this.engine.open()]).then(() => {
			if (this.panel.contains(this.list)) return;
			const option = (value: string, label: string): HTMLElement => h("option", { value }, label);
			fill(this.kinds, option("", t("site.everything")),
				this.engine.kinds().map((k) => option(k.kind, t(`find.kind.${k.kind}`))));
			this.list.setAttribute("aria-label", t("site.list"));
			this.input.title = t("site.key");
			fill(this.head, this.count, h("label", { for: "seek-kind" }, t("site.show"), " ", this.kinds));
			fill(this.panel, this.head, this.note, this.list, this.foot);
		});
		return this.ready;
	}

	private change(): void {
		this.limit = this.first();
		void this.ask();
	}

	// ask answers what is in the box. An answer that comes after the next question
	// is not shown. When the parts of two publications meet, it starts over once.
	private async ask(): Promise<void> {
		const question = ++this.asked, text = this.input.value.slice(0, longest);
		const slow = setTimeout(() => question === this.asked && text.trim() !== "" && this.working(), patience);
		// Where nothing stands yet, a first result is better than none.
		const early = this.list.hasChildNodes() ? undefined : (answer: Answer): void => {
			clearTimeout(slow);
			if (question === this.asked) this.begin(answer, text);
		};
		for (const last of [false, true]) {
			try {
				await this.prepare();
				const answer = text.trim() === "" ? undefined : await this.engine.find(text, this.kinds.value, this.limit, early);
				clearTimeout(slow);
				if (question === this.asked) this.show(answer, text);
				return;
			} catch {
				if (last) clearTimeout(slow);
				if (question !== this.asked) return;
				this.listed = 0; // what came of it may be of another publication
				this.engine = openEngine(this.place.index, String(Date.now()));
				this.ready = undefined;
				if (last) this.fail();
			}
		}
	}

	// working says that an answer is on its way, over a slow line. What stands there
	// already, from the question before, stays and is marked as old.
	private working(): void {
		if (!haveMessages()) return; // on their way too
		this.panel.setAttribute("aria-busy", "true");
		this.panel.classList.add("late");
		this.head.hidden = false;
		fill(this.panel.contains(this.list) ? this.count : this.panel, t("site.working"));
		this.open(true);
	}

	private fail(): void {
		if (!haveMessages()) return; // not even words: the form still leads on
		const failed = t("site.failed");
		this.panel.removeAttribute("aria-busy");
		this.panel.classList.remove("late");
		fill(this.panel, h("p", { class: "seek-note" }, failed, " ",
			h("button", { type: "button", class: "seek-more", click: () => this.change() }, t("site.again"))), this.lists());
		this.say(failed);
		this.open(true);
	}

	private lists(): HTMLElement {
		return h("p", { class: "seek-foot" }, h("a", { href: this.place.home + "find.html" }, t("site.lists")));
	}

	// begin shows the first results while others are on their way.
	private begin(answer: Answer, text: string): void {
		this.panel.setAttribute("aria-busy", "true");
		this.panel.classList.remove("late");
		this.fillList(answer, text);
		fill(this.foot); // it led on from the question before
		this.open(true);
	}

	private show(answer: Answer | undefined, text: string): void {
		this.panel.removeAttribute("aria-busy");
		this.panel.classList.remove("late");
		if (this.place.whole) history.replaceState(null, "", text.trim() === "" ? location.pathname : this.address());
		if (!answer) {
			this.empty();
			this.say("");
			this.open(false);
			return;
		}
		const note = this.fillList(answer, text);
		fill(this.foot, this.onward(answer));
		this.open(true);
		this.say([count(answer), note].filter((s) => s !== "").join(". "), () => this.deepen(answer));
	}

	// fillList lists an answer, and returns what a reader has to know about it. What
	// stands of it already stays, and stays chosen.
	private fillList(answer: Answer, text: string): string {
		if (this.listed !== this.asked) this.empty();
		this.listed = this.asked;
		const marker = new Marker(answer.marks);
		const more = answer.results.slice(this.rows.length, this.limit).map((r) => row(r, answer.words, this.place.home, marker));
		more.forEach((r, i) => this.asOption(r.link, this.rows.length + i));
		this.list.append(...more.map((r) => r.link));
		this.rows.push(...more);
		fill(this.count, count(answer));
		this.list.hidden = this.rows.length === 0;
		this.head.hidden = this.list.hidden && this.kinds.value === ""; // nothing to narrow
		const note = remark(answer, text);
		fill(this.note, note);
		this.note.hidden = note === "";
		return note;
	}

	private empty(): void {
		this.choose(-1);
		this.rows.length = 0;
		fill(this.list);
	}

	private asOption(link: HTMLAnchorElement, i: number): void {
		link.id = "seek-" + i;
		link.tabIndex = -1;
		link.setAttribute("role", "option");
		link.setAttribute("aria-selected", "false");
	}

	private address(): string {
		const q = new URLSearchParams({ q: this.input.value.trim() });
		if (this.kinds.value !== "") q.set("kind", this.kinds.value);
		return this.form.action + "?" + q.toString();
	}

	// onward leads from the end of the list to what is not in it.
	private onward(answer: Answer): HTMLElement | undefined {
		if (answer.results.length === 0) return this.elsewhere();
		if (answer.results.length < this.limit || this.limit >= shown.most) return undefined;
		if (!this.place.whole) return h("a", { href: this.address() }, t("site.all"));
		return h("button", { type: "button", class: "seek-more", click: () => {
			const from = this.limit;
			this.limit = Math.min(this.limit + shown.page, shown.most);
			void this.ask().then(() => this.option(from)?.focus());
		} }, t("site.more"));
	}

	// elsewhere leads on from nothing: to every kind of page when only one was
	// looked through, else to the lists, which a page of its own has below the box.
	private elsewhere(): HTMLElement | undefined {
		if (this.kinds.value !== "") {
			return h("button", { type: "button", class: "seek-more", click: () => {
				this.kinds.value = "";
				this.change();
				this.input.focus();
			} }, t("site.every"));
		}
		return this.place.whole ? undefined : this.lists().firstElementChild as HTMLElement;
	}

	// deepen shows, where neither title nor summary has any of the words, the place
	// in the text that has.
	private deepen(answer: Answer): void {
		const question = this.asked, marker = new Marker(answer.marks);
		this.rows.forEach(({ marked, excerpt }, i) => {
			if (marked) return;
			this.engine.body(answer.results[i]!.doc).then((body) => {
				const cut = marker.excerpt(body, excerptLength);
				if (question === this.asked && marker.pieces(cut).some((p) => p.found)) show(excerpt, cut, marker);
			}, () => undefined); // the summary stays: it is true, only less telling
		});
	}

	private key(e: KeyboardEvent): void {
		const step = { ArrowDown: 1, ArrowUp: -1 }[e.key], n = this.list.childElementCount;
		if (step === undefined || e.isComposing || n === 0) return;
		e.preventDefault();
		this.open(true);
		// -1 is the box itself: the arrows go round through it.
		this.choose((this.active + 1 + step + n + 1) % (n + 1) - 1);
	}

	private submit(e: Event): void {
		const option = this.option(this.active);
		if (option || this.place.whole) e.preventDefault();
		if (option) option.click();
		else if (this.place.whole) this.option(0)?.focus();
		else if (this.kinds.value === "") {
			this.kinds.disabled = true; // keeps the address short
			setTimeout(() => (this.kinds.disabled = false));
		}
	}

	private option(i: number): HTMLAnchorElement | undefined {
		return this.list.children[i] as HTMLAnchorElement | undefined;
	}

	private choose(i: number): void {
		this.option(this.active)?.setAttribute("aria-selected", "false");
		this.active = i;
		const option = this.option(i);
		if (!option) {
			this.input.removeAttribute("aria-activedescendant");
			return;
		}
		option.setAttribute("aria-selected", "true");
		option.scrollIntoView({ block: "nearest" });
		this.input.setAttribute("aria-activedescendant", option.id);
	}

	private open(open: boolean): void {
		if (this.place.whole && this.input.value.trim() !== "") open = true;
		// The keys of a phone leave little room: it goes to the list.
		if (open && this.panel.hidden && narrow.matches) this.form.scrollIntoView({ block: "start" });
		this.panel.hidden = !open;
		this.input.setAttribute("aria-expanded", String(open && this.list.hasChildNodes()));
	}

	// close closes the list first, and empties the box the second time.
	private close(): void {
		if (this.panel.hidden || this.place.whole) this.input.value = "";
		this.input.focus();
		this.choose(-1);
		if (this.input.value === "") this.change();
		this.open(false);
	}

	// say tells a screen reader, once nothing has been typed for a while, and then
	// does what can wait as long.
	private say(text: string, then: () => void = () => undefined): void {
		clearTimeout(this.quiet);
		this.quiet = setTimeout(() => {
			fill(this.said, text);
			then();
		}, quietTime);
	}
}
