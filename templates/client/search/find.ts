// Answers a query from the parts of an index; find.go in the Go package search
// has the same steps. No step waits: when a part is missing the search stops, and
// goes on from what it knows when the part has come.
import { tokens } from "./fold";
import { Index } from "./index";
import { parse, Query, Slot, Word } from "./query";
import { candidates, corrections, isWord, lookUp, oneAway, Reading, readings } from "./read";
import { HEAD, Hits, NEAR, Scorer, Sums, TITLED, WRITTEN } from "./score";
import { PHRASE_DEPTH, TYPO_TITLES } from "./tables";

export interface Result {
	path: string;
	kind: string;
	title: string;
	summary: string;
	doc: number;
	words: number; // words of the query that it has
	score: number; // comparable within one answer only
}

export interface Answer {
	results: Result[];
	words: number; // of the query; a result with fewer lacks some
	total: number; // documents with as many words as the first result
	changed: Record<string, string[]>; // words read differently because of a typo
	loose: boolean; // no document has the words in quotes in this order
	marks: Mark[]; // what to mark in an excerpt
}

// A Mark is a form, or the beginning of forms, that was found.
export interface Mark {
	form: string;
	prefix: boolean;
}

// An Effort is how far a search goes to forgive a typo. They are made one after
// the other, until a document has all words.
interface Effort {
	unknownOnly: boolean; // leaves words alone that something was found for
	listed: boolean; // looks among all words, not only in titles
}

const efforts: Effort[] = [
	{ unknownOnly: true, listed: false }, { unknownOnly: true, listed: true }, { unknownOnly: false, listed: false }, { unknownOnly: false, listed: true },
];

interface Match {
	doc: number;
	words: number;
	rank: number;
	titled: number; // words in title or names as written, of a document that has all there
	score: number;
}

// A Finder works on one query. It keeps what it has found out while parts are
// loaded: ix.need names the ones that answer lacked.
export class Finder {
	private readonly q: Query;
	private readonly read = new Map<Word, Reading[]>();
	private readonly low: number = 0;
	private readonly high: number = 0;
	private readonly limit: number;
	private readonly words: number;
	private typos = new Map<string, Reading[]>();
	private best: Top | undefined;
	private settled = false; // nothing but cards and bodies is still to come
	private told = 0; // results that early has given
	private effort = 0;
	private used = new Set<string>();
	private written = 0;

	constructor(private readonly ix: Index, private readonly scorer: Scorer, text: string, kind: string, limit: number) {
		this.q = parse(ix, text);
		this.limit = this.q.phrases.length > 0 ? Math.max(limit, PHRASE_DEPTH) : limit;
		this.words = this.q.slots.reduce((n, s) => n + (s.words[0]!.extra ? 0 : s.words.length), 0);
		let end = 0;
		for (const k of ix.root.kinds) {
			end += k.n;
			if (k.kind === kind) [this.low, this.high] = [end - k.n, end];
		}
		if (kind === "") this.high = ix.root.n;
	}

	// answer returns the answer, or undefined when parts are missing.
	answer(): Answer | undefined {
		const { need } = this.ix;
		need.clear();
		const best = this.settle();
		if (!best) return undefined;
		this.settled = true;
		const list = best.list.slice(0, this.limit);
		const confirmed = this.q.phrases.length > 0 ? list.filter((m) => this.holdsPhrases(m.doc)) : list;
		const loose = confirmed.length === 0 && list.length > 0;
		const results = (loose ? list : confirmed).map((m) => this.result(m));
		return need.size > 0 ? undefined : this.give(results, loose);
	}

	// early returns the answer as far as its cards have come, if more have than the
	// last time. What a phrase leaves is not known before all have.
	early(): Answer | undefined {
		if (!this.settled || this.q.phrases.length > 0) return undefined;
		const results = this.best!.list.slice(0, this.limit).map((m) => this.result(m));
		const n = results.findIndex((r) => r.path === "");
		if (n <= this.told) return undefined; // all of them are for answer to give
		this.told = n;
		return this.give(results.slice(0, n), false);
	}

	private give(results: Result[], loose: boolean): Answer {
		return { results, words: this.words, total: this.best!.total, changed: this.changed(), loose, marks: this.marks() };
	}

	// settle scores the documents, and again for every effort that is worth it.
	private settle(): Top | undefined {
		if (!this.gather()) return undefined;
		this.best ??= this.search();
		for (; this.effort < efforts.length; this.effort++) {
			if ((this.best.list[0]?.words ?? 0) >= this.reach()) continue;
			this.ix.used = new Set(this.used); // the same on every try
			this.ix.written = this.written; // and of this query, not of another in between
			const { typos, changed } = this.correct(efforts[this.effort]!);
			if (this.ix.need.size > 0) return undefined;
			this.typos = typos;
			this.used = this.ix.used;
			if (changed) this.best = this.search();
		}
		return this.best;
	}

	// gather reads every word: first as written, then what it may stand for, as far as
	// the parts that a query reads allow. It reports whether all of these are there:
	// nothing is scored in vain.
	private gather(): boolean {
		if (this.read.size > 0) return true;
		this.ix.used = new Set();
		const all = this.eachWord();
		for (const w of all) lookUp(this.ix, w.form);
		this.written = this.ix.used.size;
		for (const w of all) this.read.set(w, readings(this.ix, w));
		this.used = this.ix.used;
		if (this.ix.need.size === 0) return true;
		this.read.clear();
		return false;
	}

	private eachWord(): Word[] {
		return this.q.slots.flatMap((s) => [...s.words, ...s.others.flatMap((o) => o.words)]);
	}

	// reach is how many words a document can have: not those that no document has,
	// however they are read. Other words are not doubted for their sake.
	private reach(): number {
		return this.q.slots.reduce((n, s) => n - (this.lost(s) ? 1 : 0), this.words);
	}

	private lost({ words, others }: Slot): boolean {
		const w = words[0]!, unread = (w: Word): boolean => this.read.get(w)!.length === 0;
		if (w.extra || words.length > 1 || !unread(w) || others.some((o) => !o.words.some(unread))) return false;
		return w.exact || !isWord(w.form) || this.typos.get(w.form)?.length === 0;
	}

	// correct forgives a typo: the readings of words with one, and whether any is new.
	private correct(effort: Effort): { typos: Map<string, Reading[]>; changed: boolean } {
		const typos = new Map(this.typos);
		const titles = effort.listed ? [] : this.titleWords();
		let changed = false;
		for (const { form } of this.doubted(effort)) {
			const had = typos.get(form) ?? [];
			const more = corrections(this.ix, effort.listed ? candidates(this.ix, form) : oneAway(titles, form), had);
			if (effort.listed || more.length > 0) typos.set(form, [...had, ...more]);
			changed ||= more.length > 0;
		}
		return { typos, changed };
	}

	// doubted returns the words that may have a typo, the rarest first.
	private doubted({ unknownOnly }: Effort): Word[] {
		const occurrences = (w: Word): number => this.read.get(w)!.flat().reduce((n, { list }) => n + list.docs.length, 0);
		return this.q.slots.flatMap((s) => s.words)
			.filter((w) => !w.exact && !w.extra && (!unknownOnly || this.read.get(w)!.length === 0))
			.sort((a, b) => occurrences(a) - occurrences(b));
	}

	// titleWords returns the words in the titles of the best documents so far.
	private titleWords(): string[] {
		const best = this.best!.list.slice(0, TYPO_TITLES);
		return best.flatMap((m) => tokens(this.card(m.doc)[0]).flatMap((token) => token.forms));
	}

	private changed(): Record<string, string[]> {
		const out: Record<string, string[]> = {};
		for (const [form, found] of this.typos) {
			if (found.length > 0) out[form] = found.map((r) => r[0]!.list.form);
		}
		return out;
	}

	private hits(w: Word): Hits | undefined {
		const typos = this.typos.get(w.form);
		if (w.typing || typos?.length) return this.score(w, typos);
		const as = this.read.get(w)!.flat().map((r) => r.list.form);
		return this.scorer.remember([w.form, ...as].join(" "), () => this.score(w));
	}

	private score(w: Word, typos: Reading[] = []): Hits | undefined {
		const own = this.read.get(w)!;
		const all = [...own, ...typos].map((r) => this.scorer.pool(r));
		if (all.length === 0) return undefined;
		const out = this.scorer.highest(all);
		if (w.typing && own[0]?.[0]?.weight !== 1) { // what is written so far is written
			for (let i = 0; i < out.marks.length; i++) {
				out.marks[i] = WRITTEN | (out.marks[i]! & HEAD ? HEAD | TITLED | NEAR : 0);
			}
		}
		return out;
	}

	private search(): Top {
		const all = this.scorer.sums(), quoted = this.scorer.sums();
		let quotes = 0;
		for (const slot of this.q.slots) {
			const { exact, extra } = slot.words[0]!;
			if (!exact && !extra && slot.others.length === 0) {
				this.addWords(slot.words, all);
				continue;
			}
			const own = this.sumSlot(slot);
			if (extra) all.lift(own);
			else all.addSums(own);
			if (exact) { // never extra
				quoted.addSums(own);
				quotes++;
			}
			this.scorer.done(own);
		}
		const best = new Top(Math.max(this.limit, TYPO_TITLES), this.words);
		for (let i = 0; i < all.n; i++) {
			const doc = all.docs[i]!;
			if (this.low <= doc && doc < this.high && quoted.words[doc] === quotes) best.add(doc, all);
		}
		this.scorer.done(all);
		this.scorer.done(quoted);
		return best;
	}

	private sumSlot(slot: Slot): Sums {
		const own = this.addWords(slot.words, this.scorer.sums());
		for (const o of slot.others) {
			const other = this.addWords(o.words, this.scorer.sums());
			for (let i = 0; i < other.n; i++) {
				const doc = other.docs[i]!;
				if (other.words[doc] !== o.words.length) continue;
				const allHeads = other.heads[doc] === other.words[doc];
				own.raise(doc, slot.words.length, allHeads, o.weight * other.score[doc]!);
			}
			this.scorer.done(other);
		}
		return own;
	}

	private addWords(words: Word[], to: Sums): Sums {
		for (const w of words) {
			const hits = this.hits(w);
			if (hits) to.addHits(hits);
		}
		return to;
	}

	private holdsPhrases(doc: number): boolean {
		const [title, , summary] = this.card(doc);
		let text = " ";
		for (const t of [title, summary, this.ix.body(doc)]) {
			for (const token of tokens(t)) text += token.forms[0] + " ";
			text += "\n ";
		}
		return this.q.phrases.every((run) => text.includes(" " + run.join(" ") + " "));
	}

	private card(doc: number): [string, string, string] {
		const [title = "", path = "", summary = ""] = this.ix.card(doc).split("\n");
		return [title, path, summary];
	}

	private result(m: Match): Result {
		const [title, path, summary] = this.card(m.doc);
		return { path, title, summary, kind: this.ix.kindOf(m.doc), doc: m.doc, words: m.words, score: m.score };
	}

	// marks lists every form that any word was read as.
	private marks(): Mark[] {
		const out: Mark[] = [];
		for (const w of this.eachWord()) {
			if (w.extra) continue; // too little to show anything by
			if (w.typing) out.push({ form: w.form, prefix: true });
			for (const r of [...this.read.get(w)!, ...(this.typos.get(w.form) ?? [])]) {
				for (const { list } of r) out.push({ form: list.form, prefix: false });
			}
		}
		return out;
	}
}

// A Top keeps the best matches in order.
class Top {
	readonly list: Match[] = [];
	total = 0; // matches with as many words as the first
	private most = 0;

	// words is how many the query has.
	constructor(private readonly limit: number, private readonly words: number) {}

	// add takes in what a document has.
	add(doc: number, s: Sums): void {
		const { list, limit } = this, words = s.words[doc]!;
		if (words > this.most) {
			this.most = words;
			this.total = 0;
		}
		if (words === this.most) this.total++;
		const last = list[limit - 1];
		if (limit === 0 || (last && words < last.words)) return; // most are
		const titled = s.heads[doc] === this.words ? s.titled[doc]! : 0;
		const m = { doc, words, rank: this.rank(doc, s), titled, score: s.score[doc]! };
		if (last && after(m, last)) return;
		let i = list.length;
		while (i > 0 && after(list[i - 1]!, m)) i--;
		list.splice(i, 0, m);
		if (list.length > limit) list.pop();
	}

	private rank(doc: number, s: Sums): number {
		const { words } = this;
		if (s.titled[doc] === words) return 4;
		if (s.near[doc] === words) return 3;
		if (s.heads[doc] === words) return 2;
		return s.written[doc] === words ? 1 : 0;
	}
}

// after reports whether a stands below b in a list of results.
function after(a: Match, b: Match): boolean {
	if (a.words !== b.words) return a.words < b.words;
	if (a.rank !== b.rank) return a.rank < b.rank;
	if (a.titled !== b.titled) return a.titled < b.titled;
	if (a.score !== b.score) return a.score < b.score;
	return a.doc > b.doc;
}
