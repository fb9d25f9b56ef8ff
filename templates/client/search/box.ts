// The search box of a page: a combobox over a list of results. The form works
// without it; with it, nothing is sent anywhere.
import { Engine } from "./engine";
import { Marker } from "./excerpt";
import { Answer, Result } from "./find";
import { openEngine } from "./load";

// Words are what the box says, from the catalogue, in data-words as JSON. {n}
// stands for a number, {words} for words.
export interface Words {
	results: string; // "{n} results"
	one: string; // "1 result"
	none: string; // "Nothing has these words."
	some: string; // "No page has all words; these have some:"
	changed: string; // "Nothing for {words} as written; also searched: "
	loose: string; // "No page has these words in this order; these have all of them:"
	failed: string; // "Search could not be loaded."
	all: string; // label of the filter that takes every kind
	filter: string; // label of the filters
	list: string; // label of the list of results
	more: string; // "More results"
	kinds: Record<string, string>; // label of each kind
}

const firstResults = 8;
const moreResults = 40;
const excerptLength = 160;
const quietTime = 350; // ms without a keystroke before a screen reader is told

// startBox makes a form into a search box.
export function startBox(form: HTMLFormElement): void {
	const input = form.querySelector<HTMLInputElement>("input[type=search]");
	const folder = form.dataset["search"];
	if (!input || folder === undefined) return;
	new Box(form, input, JSON.parse(form.dataset["words"] ?? "{}") as Words, openEngine(folder));
}

function element<K extends keyof HTMLElementTagNameMap>(tag: K, className: string, text = ""): HTMLElementTagNameMap[K] {
	const e = document.createElement(tag);
	if (className !== "") e.className = className;
	e.textContent = text;
	return e;
}

class Box {
	private readonly panel = element("div", "search-panel");
	private readonly note = element("p", "search-note");
	private readonly status = element("p", "search-status");
	private readonly filters = element("div", "search-filters");
	private readonly list = element("div", "search-results");
	private readonly more: HTMLButtonElement;
	private kind = "";
	private limit = firstResults;
	private active = -1;
	private asked = 0; // questions so far; only the last one is answered
	private quiet: ReturnType<typeof setTimeout> | undefined;

	constructor(
		private readonly form: HTMLFormElement,
		private readonly input: HTMLInputElement,
		private readonly words: Words,
		private readonly engine: Engine,
	) {
		this.more = element("button", "search-more", words.more);
		this.more.type = "button";
		this.build();
		this.listen();
	}

	private build(): void {
		const { input, list, panel, status, filters } = this;
		list.id = (input.id || "search") + "-results";
		list.setAttribute("role", "listbox");
		list.setAttribute("aria-label", this.words.list);
		filters.setAttribute("role", "group");
		filters.setAttribute("aria-label", this.words.filter);
		status.setAttribute("role", "status");
		input.setAttribute("role", "combobox");
		input.setAttribute("aria-autocomplete", "list");
		input.setAttribute("aria-controls", list.id);
		input.autocomplete = "off";
		panel.append(filters, this.note, list, this.more);
		this.form.append(panel, status);
		this.open(false);
	}

	private listen(): void {
		const { input } = this;
		input.addEventListener("focus", () => void this.engine.open().then(() => this.buildFilters(), () => this.fail()));
		input.addEventListener("input", () => {
			this.limit = firstResults;
			void this.ask();
		});
		input.addEventListener("keydown", (e) => this.key(e));
		this.more.addEventListener("click", () => {
			this.limit = moreResults;
			void this.ask().then(() => this.list.querySelectorAll("a")[firstResults]?.focus());
		});
		this.form.addEventListener("submit", (e) => {
			if (input.value.trim() === "" || this.list.childElementCount === 0) return; // the form leads on
			e.preventDefault();
			this.option(Math.max(this.active, 0))?.click();
		});
		this.form.addEventListener("keydown", (e) => {
			if (e.key === "Escape") this.close();
		});
		document.addEventListener("click", (e) => {
			if (!this.form.contains(e.target as Node)) this.open(false);
		});
	}

	private buildFilters(): void {
		if (this.filters.childElementCount > 0) return;
		const add = (kind: string, label: string): void => {
			const b = element("button", "search-filter", label);
			b.type = "button";
			b.setAttribute("aria-pressed", String(kind === this.kind));
			b.addEventListener("click", () => {
				this.kind = kind;
				for (const other of this.filters.children) other.setAttribute("aria-pressed", String(other === b));
				this.limit = firstResults;
				void this.ask();
			});
			this.filters.append(b);
		};
		add("", this.words.all);
		for (const k of this.engine.kinds()) add(k.kind, this.words.kinds[k.kind] ?? k.kind);
	}

	// ask answers what is in the box. An answer that comes after the next question
	// is not shown.
	private async ask(): Promise<void> {
		const question = ++this.asked, text = this.input.value;
		if (text.trim() === "") {
			this.list.replaceChildren();
			this.open(false);
			return;
		}
		try {
			const answer = this.engine.findNow(text, this.kind, this.limit) ?? await this.engine.find(text, this.kind, this.limit);
			if (question === this.asked) this.show(answer);
		} catch {
			if (question === this.asked) this.fail();
		}
	}

	private fail(): void {
		this.list.replaceChildren();
		this.say(this.words.failed);
		this.note.textContent = this.words.failed;
		this.more.hidden = true;
		this.open(true);
	}

	private show(answer: Answer): void {
		this.buildFilters();
		this.active = -1;
		this.input.removeAttribute("aria-activedescendant");
		const marker = new Marker(answer.marks);
		const options = answer.results.slice(0, this.limit).map((r, i) => {
			const row = this.row(r, i, marker);
			if (r.words < answer.words) row.classList.add("search-partial");
			return row;
		});
		this.list.replaceChildren(...options);
		this.note.textContent = this.remark(answer);
		this.note.hidden = this.note.textContent === "";
		this.more.hidden = this.limit === moreResults || answer.results.length < this.limit;
		this.open(true);
		this.say([this.count(answer), this.remark(answer)].filter((s) => s !== "").join(". "));
	}

	private count(answer: Answer): string {
		if (answer.results.length === 0) return "";
		return answer.total === 1 ? this.words.one : this.words.results.replace("{n}", String(answer.total));
	}

	// remark says what a reader has to know about the results: which words were
	// read differently, that some are missing, that a phrase was not found.
	private remark(answer: Answer): string {
		const changed = Object.entries(answer.changed).map(([typed, as]) =>
			this.words.changed.replace("{words}", typed) + as.slice(0, 3).join(", "));
		if (answer.results.length === 0) return this.words.none;
		if (answer.loose) return this.words.loose;
		if (answer.results[0]!.words < answer.words) return this.words.some;
		return changed.join(". ");
	}

	private row(r: Result, i: number, marker: Marker): HTMLAnchorElement {
		const a = element("a", "search-result");
		a.id = `${this.list.id}-${i}`;
		a.href = (this.form.dataset["root"] ?? "") + r.path;
		a.tabIndex = -1;
		a.setAttribute("role", "option");
		a.setAttribute("aria-selected", "false");
		const title = element("span", "search-title"), excerpt = element("span", "search-excerpt");
		fill(title, r.title, marker);
		fill(excerpt, r.summary, marker);
		a.append(title, element("span", "search-kind", this.words.kinds[r.kind] ?? r.kind), excerpt);
		if (!title.querySelector("mark") && !excerpt.querySelector("mark")) void this.deepen(r, excerpt, marker);
		return a;
	}

	// deepen replaces the summary by the place in the body where the words were
	// found, when neither title nor summary shows any.
	private async deepen(r: Result, excerpt: HTMLElement, marker: Marker): Promise<void> {
		const question = this.asked;
		await new Promise((done) => setTimeout(done, quietTime));
		if (question !== this.asked) return;
		try {
			const cut = marker.excerpt(await this.engine.body(r.doc), excerptLength);
			if (question === this.asked && marker.pieces(cut).some((p) => p.found)) fill(excerpt, cut, marker);
		} catch {
			// The summary stays: it is true, only less telling.
		}
	}

	private key(e: KeyboardEvent): void {
		if (e.isComposing) return;
		const step = { ArrowDown: 1, ArrowUp: -1 }[e.key];
		if (step === undefined) return;
		const n = this.list.childElementCount;
		if (n === 0) return;
		e.preventDefault();
		this.open(true);
		// -1 is the box itself: the arrows go round through it.
		this.choose((this.active + 1 + step + n + 1) % (n + 1) - 1);
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
		this.panel.hidden = !open;
		this.input.setAttribute("aria-expanded", String(open));
	}

	// close closes the list first, and empties the box the second time.
	private close(): void {
		if (this.panel.hidden) this.input.value = "";
		this.choose(-1);
		this.open(false);
		this.input.focus();
	}

	// say tells a screen reader, once the reader of it has stopped typing.
	private say(text: string): void {
		clearTimeout(this.quiet);
		this.quiet = setTimeout(() => {
			this.status.textContent = text;
		}, quietTime);
	}
}

// fill writes a text into an element, with what was found marked.
function fill(e: HTMLElement, text: string, marker: Marker): void {
	e.replaceChildren(...marker.pieces(text).map((p) => p.found ? element("mark", "", p.text) : document.createTextNode(p.text)));
}
