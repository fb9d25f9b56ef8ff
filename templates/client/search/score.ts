// BM25 over weighted frequencies, to the last bit as score.go in the Go package
// search has it: additions, multiplications and divisions in the same order.
import { Index } from "./index";
import { Reading } from "./read";
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
	docs: number[];
	score: Float64Array;
	marks: Uint8Array;
}

// A Scorer holds the sums by document while a query is worked on.
export class Scorer {
	private readonly freq: Int32Array;
	private readonly best: Float64Array;
	private readonly marks: Uint8Array;

	constructor(private readonly ix: Index) {
		this.freq = new Int32Array(ix.root.n);
		this.best = new Float64Array(ix.root.n);
		this.marks = new Uint8Array(ix.root.n);
	}

	// pool scores the forms of one reading as one word.
	pool(reading: Reading): Hits {
		const { freq, best, marks } = this;
		const docs: number[] = [];
		for (const { weight, list } of reading) {
			const written = weight === 1 ? WRITTEN : 0;
			const head = written | HEAD | (weight === 1 ? TITLED : 0) | (weight >= WEIGHT_PLURAL ? NEAR : 0);
			for (let i = 0; i < list.docs.length; i++) {
				const doc = list.docs[i]!, w = list.weights[i]!;
				if (freq[doc] === 0) docs.push(doc);
				freq[doc]! += w;
				if (weight > best[doc]!) best[doc] = weight;
				marks[doc]! |= w >= HEAD_WEIGHT ? head : written;
			}
		}
		return this.collect(docs);
	}

	private collect(docs: number[]): Hits {
		const { freq, best, marks } = this;
		const out: Hits = { docs, score: new Float64Array(docs.length), marks: new Uint8Array(docs.length) };
		const idf = logarithm((this.ix.root.n + 1) / (docs.length + 0.5));
		for (let i = 0; i < docs.length; i++) {
			const doc = docs[i]!, f = freq[doc]!;
			out.score[i] = best[doc]! * idf * (f * (K1 + 1) / (f + this.ix.slack[doc]!));
			out.marks[i] = marks[doc]!;
			freq[doc] = best[doc] = marks[doc] = 0;
		}
		return out;
	}

	// highest joins the hits of several readings: each document has its best.
	highest(all: Hits[]): Hits {
		if (all.length === 1) return all[0]!;
		const { freq, best, marks } = this; // freq tells who has been met
		const docs: number[] = [];
		for (const hits of all) {
			hits.docs.forEach((doc, i) => {
				if (freq[doc] === 0) docs.push(doc);
				freq[doc] = 1;
				if (hits.score[i]! > best[doc]!) best[doc] = hits.score[i]!;
				marks[doc]! |= hits.marks[i]!;
			});
		}
		const out: Hits = { docs, score: new Float64Array(docs.length), marks: new Uint8Array(docs.length) };
		docs.forEach((doc, i) => {
			out.score[i] = best[doc]!;
			out.marks[i] = marks[doc]!;
			freq[doc] = best[doc] = marks[doc] = 0;
		});
		return out;
	}
}

// Sums adds up what documents have of a query.
export class Sums {
	readonly docs: number[] = [];
	readonly words: Uint8Array; // how many of its words
	readonly heads: Uint8Array; // how many in title or names
	readonly written: Uint8Array; // how many as written
	readonly titled: Uint8Array; // how many in title or names as written
	readonly near: Uint8Array; // how many there so, or in the plural or singular
	readonly score: Float64Array;

	constructor(n: number) {
		this.words = new Uint8Array(n);
		this.heads = new Uint8Array(n);
		this.written = new Uint8Array(n);
		this.titled = new Uint8Array(n);
		this.near = new Uint8Array(n);
		this.score = new Float64Array(n);
	}

	// addHits counts one word.
	addHits(hits: Hits): void {
		for (let i = 0; i < hits.docs.length; i++) {
			const doc = hits.docs[i]!, marks = hits.marks[i]!;
			if (this.words[doc]!++ === 0) this.docs.push(doc);
			this.heads[doc]! += marks & HEAD;
			this.written[doc]! += (marks & WRITTEN) >> 1;
			this.titled[doc]! += (marks & TITLED) >> 2;
			this.near[doc]! += (marks & NEAR) >> 3;
			this.score[doc]! += hits.score[i]!;
		}
	}

	// addSum counts what a document has in other sums.
	addSum(doc: number, other: Sums): void {
		if (this.words[doc] === 0) this.docs.push(doc);
		this.words[doc]! += other.words[doc]!;
		this.heads[doc]! += other.heads[doc]!;
		this.written[doc]! += other.written[doc]!;
		this.titled[doc]! += other.titled[doc]!;
		this.near[doc]! += other.near[doc]!;
		this.score[doc]! += other.score[doc]!;
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
		if (have === 0) this.docs.push(doc);
		this.words[doc] = n;
		this.heads[doc] = allHeads ? n : 0;
		this.written[doc] = this.titled[doc] = this.near[doc] = 0;
		this.score[doc] = score;
	}
}
