// BM25 over weighted frequencies, to the last bit as score.go in the Go package
// search has it: additions, multiplications and divisions in the same order.
import { Index } from "./index";
import { Reading, Weighted } from "./read";
import { HEAD_WEIGHT, K1, WEIGHT_PLURAL } from "./tables";

// Where a word was found, as bits: in the title or a name; as it was written;
// both at once; in the title or a name as written or in its plural or singular.
export const HEAD = 1, WRITTEN = 2, TITLED = 4, NEAR = 8;

// logarithm returns the logarithm of x, which is 1 or more, to base 2.
export function logarithm(x: number): number {
	let whole = 0;
	while (x >= 2) {
		x /= 2;
		whole++;
	}
	for (let bit = 0.5, i = 0; i < 30; i++, bit /= 2) {
		x *= x;
		if (x >= 2) {
			x /= 2;
			whole += bit;
		}
	}
	return whole;
}

// Hits are the documents that have a word, in parallel arrays.
export interface Hits {
	docs: Int32Array;
	score: Float64Array;
	marks: Uint8Array;
}

// markOf tells where a word was found whose form weighs so much in a reading.
function markOf(weight: number, head: boolean): number {
	const written = weight === 1 ? WRITTEN : 0;
	if (!head) return written;
	return written | HEAD | (weight === 1 ? TITLED : 0) | (weight >= WEIGHT_PLURAL ? NEAR : 0);
}

const REMEMBERED = 12; // words

// A Scorer holds what is needed by document while a query is worked on. A large
// office has 60,000 of them, so nothing of that length is made for a keystroke.
export class Scorer {
	private readonly freq: Int32Array;
	private readonly best: Float64Array;
	private readonly marks: Uint8Array;
	private readonly met: Int32Array;
	private readonly free: Sums[] = [];
	private readonly lately = new Map<string, Hits | undefined>();

	constructor(private readonly ix: Index) {
		this.freq = new Int32Array(ix.root.n);
		this.best = new Float64Array(ix.root.n);
		this.marks = new Uint8Array(ix.root.n);
		this.met = new Int32Array(ix.root.n);
	}

	// sums returns empty sums, to be given back to done.
	sums(): Sums {
		return this.free.pop() ?? new Sums(this.ix.root.n);
	}

	done(sums: Sums): void {
		sums.clear();
		this.free.push(sums);
	}

	// remember returns the hits of a word that was asked for lately: while the next
	// one is typed, those before it stay.
	remember(word: string, score: () => Hits | undefined): Hits | undefined {
		if (this.lately.has(word)) return this.lately.get(word);
		const hits = score();
		if (this.lately.size >= REMEMBERED) this.lately.clear();
		this.lately.set(word, hits);
		return hits;
	}

	// pool scores the forms of one reading as one word.
	pool(reading: Reading): Hits {
		if (reading.length === 1) return this.single(reading[0]!);
		const { freq, best, marks, met } = this;
		let n = 0;
		for (const { weight, list } of reading) {
			const body = markOf(weight, false), head = markOf(weight, true);
			for (let i = 0; i < list.docs.length; i++) {
				const doc = list.docs[i]!, w = list.weights[i]!;
				if (freq[doc] === 0) met[n++] = doc;
				freq[doc]! += w;
				if (weight > best[doc]!) best[doc] = weight;
				marks[doc]! |= w >= HEAD_WEIGHT ? head : body;
			}
		}
		const out = emptyHits(met.slice(0, n)), idf = this.rarity(n);
		for (let i = 0; i < n; i++) {
			const doc = out.docs[i]!;
			out.score[i] = this.score(best[doc]!, idf, freq[doc]!, doc);
			out.marks[i] = marks[doc]!;
			freq[doc] = best[doc] = marks[doc] = 0;
		}
		return out;
	}

	// single scores a form that is a reading of its own.
	private single({ weight, list }: Weighted): Hits {
		const out = emptyHits(list.docs), idf = this.rarity(list.docs.length);
		const body = markOf(weight, false), head = markOf(weight, true);
		for (let i = 0; i < list.docs.length; i++) {
			const w = list.weights[i]!;
			out.score[i] = this.score(weight, idf, w, list.docs[i]!);
			out.marks[i] = w >= HEAD_WEIGHT ? head : body;
		}
		return out;
	}

	private rarity(n: number): number {
		return logarithm((this.ix.root.n + 1) / (n + 0.5));
	}

	private score(best: number, idf: number, freq: number, doc: number): number {
		return best * idf * (freq * (K1 + 1) / (freq + this.ix.slack[doc]!));
	}

	// highest joins the hits of several readings: each document has its best.
	highest(all: Hits[]): Hits {
		if (all.length === 1) return all[0]!;
		const { freq, best, marks, met } = this; // freq tells who has been met
		let n = 0;
		for (const { docs, score, marks: found } of all) {
			for (let i = 0; i < docs.length; i++) {
				const doc = docs[i]!;
				if (freq[doc] === 0) met[n++] = doc;
				freq[doc] = 1;
				if (score[i]! > best[doc]!) best[doc] = score[i]!;
				marks[doc]! |= found[i]!;
			}
		}
		const out = emptyHits(met.slice(0, n));
		for (let i = 0; i < n; i++) {
			const doc = out.docs[i]!;
			out.score[i] = best[doc]!;
			out.marks[i] = marks[doc]!;
			freq[doc] = best[doc] = marks[doc] = 0;
		}
		return out;
	}
}

function emptyHits(docs: Int32Array): Hits {
	return { docs, score: new Float64Array(docs.length), marks: new Uint8Array(docs.length) };
}

// Sums adds up what documents have of a query.
export class Sums {
	readonly docs: Int32Array; // those that have any, n of them
	n = 0;
	readonly words: Uint8Array; // how many of its words
	readonly heads: Uint8Array; // how many in title or names
	readonly written: Uint8Array; // how many as written
	readonly titled: Uint8Array; // how many in title or names as written
	readonly near: Uint8Array; // how many there so, or in the plural or singular
	readonly score: Float64Array;

	constructor(all: number) {
		this.docs = new Int32Array(all);
		this.words = new Uint8Array(all);
		this.heads = new Uint8Array(all);
		this.written = new Uint8Array(all);
		this.titled = new Uint8Array(all);
		this.near = new Uint8Array(all);
		this.score = new Float64Array(all);
	}

	clear(): void {
		for (let i = 0; i < this.n; i++) {
			const doc = this.docs[i]!;
			this.words[doc] = this.heads[doc] = this.written[doc] = this.titled[doc] = this.near[doc] = this.score[doc] = 0;
		}
		this.n = 0;
	}

	// addHits counts one word.
	addHits({ docs, marks, score }: Hits): void {
		for (let i = 0; i < docs.length; i++) {
			const doc = docs[i]!, mark = marks[i]!;
			if (this.words[doc]!++ === 0) this.docs[this.n++] = doc;
			this.heads[doc]! += mark & HEAD;
			this.written[doc]! += (mark & WRITTEN) >> 1;
			this.titled[doc]! += (mark & TITLED) >> 2;
			this.near[doc]! += (mark & NEAR) >> 3;
			this.score[doc]! += score[i]!;
		}
	}

	// addSums counts what documents have in other sums.
	addSums(other: Sums): void {
		for (let i = 0; i < other.n; i++) {
			const doc = other.docs[i]!;
			if (this.words[doc] === 0) this.docs[this.n++] = doc;
			this.words[doc]! += other.words[doc]!;
			this.heads[doc]! += other.heads[doc]!;
			this.written[doc]! += other.written[doc]!;
			this.titled[doc]! += other.titled[doc]!;
			this.near[doc]! += other.near[doc]!;
			this.score[doc]! += other.score[doc]!;
		}
	}

	// lift raises the scores of documents that are there already.
	lift(other: Sums): void {
		for (let i = 0; i < other.n; i++) {
			const doc = other.docs[i]!;
			if (this.words[doc]! > 0) this.score[doc]! += other.score[doc]!;
		}
	}

	// raise gives a document what it has of all n words by another name, if that is
	// more words. If it is as many, it keeps having what it has as written.
	raise(doc: number, n: number, allHeads: boolean, score: number): void {
		const have = this.words[doc]!;
		if (have > n) return;
		if (have === n) {
			this.score[doc] = Math.max(this.score[doc]!, score);
			if (allHeads) this.heads[doc] = n;
			return;
		}
		if (have === 0) this.docs[this.n++] = doc;
		this.words[doc] = n;
		this.heads[doc] = allHeads ? n : 0;
		this.written[doc] = this.titled[doc] = this.near[doc] = 0;
		this.score[doc] = score;
	}
}
