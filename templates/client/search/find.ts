// Answers a query from the parts of an index; find.go in the Go package search
// has the same steps. No step waits: when a part is missing the search stops,
// and is started again when it has come.
import { tokens } from "./fold";
import { Index } from "./index";
import { parse, Query, Slot, Word } from "./query";
import { corrections, Reading, readings } from "./read";
import { HEAD, Hits, NEAR, Scorer, Sums, TITLED, WRITTEN } from "./score";
import { PHRASE_DEPTH, TYPO_FIRST, TYPO_READINGS } from "./tables";

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
	readings: number; // words tried for each
}

const efforts: Effort[] = [
	{ unknownOnly: true, readings: TYPO_FIRST }, { unknownOnly: true, readings: TYPO_READINGS }, { unknownOnly: false, readings: TYPO_READINGS },
];

interface Match {
	doc: number;
	words: number;
	rank: number;
	score: number;
}

// find returns the answer, or undefined when parts are missing: ix.need names
// them.
export function find(ix: Index, scorer: Scorer, text: string, kind: string, limit: number): Answer | undefined {
	ix.need.clear();
	const answer = new Finder(ix, scorer, parse(ix, text), kind).answer(limit);
	return ix.need.size > 0 ? undefined : answer;
}

class Finder {
	private readonly typos = new Map<string, Reading[]>();
	private readonly low: number = 0;
	private readonly high: number = 0;
	private readonly words: number;

	constructor(private readonly ix: Index, private readonly scorer: Scorer, private readonly q: Query, kind: string) {
		this.words = q.slots.reduce((n, s) => n + (s.words[0]!.extra ? 0 : s.words.length), 0);
		let end = 0;
		for (const k of ix.root.kinds) {
			end += k.n;
			if (k.kind === kind) [this.low, this.high] = [end - k.n, end];
		}
		if (kind === "") this.high = ix.root.n;
	}

	answer(limit: number): Answer | undefined {
		if (this.q.phrases.length > 0) limit = Math.max(limit, PHRASE_DEPTH);
		let { list, total } = this.search(limit);
		for (const effort of efforts) {
			if (this.ix.need.size > 0) return undefined;
			if (list[0]?.words === this.words || !this.correct(effort)) continue;
			({ list, total } = this.search(limit));
		}
		if (this.ix.need.size > 0) return undefined;
		const confirmed = this.q.phrases.length > 0 ? list.filter((m) => this.holdsPhrases(m.doc)) : list;
		const loose = confirmed.length === 0 && list.length > 0;
		return {
			results: (loose ? list : confirmed).map((m) => this.result(m)),
			words: this.words, total, changed: this.changed(), loose, marks: this.marks(),
		};
	}

	private correct(effort: Effort): boolean {
		let changed = false;
		for (const slot of this.q.slots) {
			for (const w of slot.words) {
				if (w.exact || w.extra || (effort.unknownOnly && readings(this.ix, w).length > 0)) continue;
				const found = corrections(this.ix, w.form, effort.readings);
				changed ||= found.length > (this.typos.get(w.form)?.length ?? 0);
				this.typos.set(w.form, found);
			}
		}
		return changed;
	}

	private changed(): Record<string, string[]> {
		const out: Record<string, string[]> = {};
		for (const [form, found] of this.typos) {
			if (found.length > 0) out[form] = found.map((r) => r[0]!.list.form);
		}
		return out;
	}

	private hits(w: Word): Hits | undefined {
		const own = readings(this.ix, w);
		const all = [...own, ...(this.typos.get(w.form) ?? [])].map((r) => this.scorer.pool(r));
		if (all.length === 0) return undefined;
		const out = this.scorer.highest(all);
		if (w.typing && own[0]?.[0]?.weight !== 1) { // what is written so far is written
			for (let i = 0; i < out.marks.length; i++) {
				out.marks[i] = WRITTEN | (out.marks[i]! & HEAD ? HEAD | TITLED | NEAR : 0);
			}
		}
		return out;
	}

	private search(limit: number): { list: Match[]; total: number } {
		const all = new Sums(this.ix.root.n), quoted = new Sums(this.ix.root.n);
		let quotes = 0;
		for (const slot of this.q.slots) {
			const own = this.sumSlot(slot), exact = slot.words[0]!.exact;
			for (const doc of own.docs) {
				if (slot.words[0]!.extra) {
					if (all.words[doc]! > 0) all.score[doc]! += own.score[doc]!;
					continue;
				}
				all.addSum(doc, own);
				if (exact) quoted.addSum(doc, own);
			}
			if (exact) quotes++;
		}
		const best = new Top(limit);
		for (const doc of all.docs) {
			if (this.low <= doc && doc < this.high && quoted.words[doc] === quotes) best.add(this.match(doc, all));
		}
		return best;
	}

	private match(doc: number, all: Sums): Match {
		let rank = 0;
		if (all.titled[doc] === this.words) rank = 4;
		else if (all.near[doc] === this.words) rank = 3;
		else if (all.heads[doc] === this.words) rank = 2;
		else if (all.written[doc] === this.words) rank = 1;
		return { doc, words: all.words[doc]!, rank, score: all.score[doc]! };
	}

	private sumSlot(slot: Slot): Sums {
		const own = this.sumWords(slot.words);
		for (const o of slot.others) {
			const other = this.sumWords(o.words);
			for (const doc of other.docs) {
				if (other.words[doc] !== o.words.length) continue;
				const allHeads = other.heads[doc] === other.words[doc];
				own.raise(doc, slot.words.length, allHeads, o.weight * other.score[doc]!);
			}
		}
		return own;
	}

	private sumWords(words: Word[]): Sums {
		const out = new Sums(this.ix.root.n);
		for (const w of words) {
			const hits = this.hits(w);
			if (hits) out.addHits(hits);
		}
		return out;
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
		const add = (w: Word): void => {
			if (w.typing) out.push({ form: w.form, prefix: true });
			for (const r of [...readings(this.ix, w), ...(this.typos.get(w.form) ?? [])]) {
				for (const { list } of r) out.push({ form: list.form, prefix: false });
			}
		};
		for (const slot of this.q.slots) {
			slot.words.forEach(add);
			for (const o of slot.others) o.words.forEach(add);
		}
		return out;
	}
}

// A Top keeps the best matches in order.
class Top {
	readonly list: Match[] = [];
	total = 0; // matches with as many words as the first
	private most = 0;

	constructor(private readonly limit: number) {}

	add(m: Match): void {
		const { list, limit } = this;
		if (m.words > this.most) {
			this.most = m.words;
			this.total = 0;
		}
		if (m.words === this.most) this.total++;
		if (limit === 0 || (list.length === limit && after(m, list[limit - 1]!))) return;
		let i = list.length;
		while (i > 0 && after(list[i - 1]!, m)) i--;
		list.splice(i, 0, m);
		if (list.length > limit) list.pop();
	}
}

// after reports whether a stands below b in a list of results.
function after(a: Match, b: Match): boolean {
	if (a.words !== b.words) return a.words < b.words;
	if (a.rank !== b.rank) return a.rank < b.rank;
	if (a.score !== b.score) return a.score < b.score;
	return a.doc > b.doc;
}
