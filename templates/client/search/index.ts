// The parts of an exported index as far as they have been loaded. A step that
// meets a part which is not there yet notes its name in need and goes on as if
// the part were empty; its caller loads what is needed and asks again.
import { BitReader, keys, numbers } from "./bits";
import { tokens } from "./fold";
import { B, HEAD_WEIGHT, K1, WEIGHT_SAME, WIDE_MARK } from "./tables";

// Root is the part that is read first, as root in shard.go.
export interface Root {
	lang: string;
	n: number;
	total: number;
	kinds: { kind: string; n: number }[];
	lengths: string;
	p: string;
	a: string;
	b: string;
	cards: number; // documents in a part of cards
	bodies: number; // and of bodies
	stop: string;
	same: string[][] | null;
	wrong: Record<string, string> | null;
}

// A List says in which documents a form stands, and with what weight.
export interface List {
	form: string;
	docs: Int32Array;
	weights: Uint8Array | Uint16Array;
}

// A NearWord is a word that may be meant, and how likely it is.
export interface NearWord {
	key: string;
	rank: string;
}

// A Phrase has others of the same meaning, or is a misspelling of one.
export interface Phrase {
	forms: string[];
	others: { forms: string[]; weight: number }[];
}

// upperBound returns how many of the sorted keys are not above key.
function upperBound(sorted: string[], key: string): number {
	let low = 0, high = sorted.length;
	while (low < high) {
		const mid = (low + high) >> 1;
		if (sorted[mid]! > key) high = mid;
		else low = mid + 1;
	}
	return low;
}

// A FormPart is one part of the forms. A list is read when it is asked for, and with
// it those before: they are written one after the other.
export class FormPart {
	readonly forms: string[] = []; // in order
	private readonly lists: List[] = [];
	private readonly bits: BitReader;

	constructor(text: string, private readonly all: number) {
		this.bits = new BitReader(text);
		for (let key = "", n = this.bits.count() - 1; n > 0; n--) {
			key = this.bits.key(key);
			this.forms.push(key);
		}
	}

	// find returns how many of the forms are below form.
	find(form: string): number {
		let low = 0, high = this.forms.length;
		while (low < high) {
			const mid = (low + high) >> 1;
			if (this.forms[mid]! < form) low = mid + 1;
			else high = mid;
		}
		return low;
	}

	list(i: number): List {
		while (this.lists.length <= i) this.lists.push(readList(this.bits, this.forms[this.lists.length]!, this.all));
		return this.lists[i]!;
	}
}

export class Index {
	readonly need = new Set<string>();
	used = new Set<string>(); // parts of words that the query has read
	written = 0; // how many of those are of what is written
	readonly stop: Set<string>;
	readonly phrases: Phrase[] = [];
	readonly slack: Float64Array; // of BM25, by number of document
	private readonly parts = new Map<string, string[]>();
	private readonly bounds: Record<string, string[]> = { p: [], a: [], b: [] };
	private readonly formed = new Map<number, FormPart>();
	private readonly near = new Map<string, NearWord[]>();

	constructor(readonly root: Root) {
		this.stop = new Set(root.stop.split(" "));
		for (const name of ["p", "a", "b"] as const) {
			keys(root[name], / /, (key) => this.bounds[name]!.push(key));
		}
		this.slack = this.slacks();
		this.readPhrases();
	}

	// add takes in a part that has been loaded.
	add(name: string, texts: string[]): void {
		this.parts.set(name, texts);
	}

	has(name: string): boolean {
		return this.parts.has(name);
	}

	private slacks(): Float64Array {
		const { root } = this;
		const out = new Float64Array(root.n);
		const average = root.total / root.n;
		const steps = numbers(root.lengths);
		let doc = 0, end = 0, i = 0;
		for (const kind of root.kinds) {
			end += kind.n;
			for (let length = 0; doc < end && i < steps.length;) {
				length += steps[i++]!;
				const slack = K1 * (1 - B + B * (length / average));
				for (let n = steps[i++]!; n >= 0; n--) out[doc++] = slack;
			}
		}
		return out;
	}

	private readPhrases(): void {
		for (const group of this.root.same ?? []) {
			group.forEach((text, i) => group.forEach((other, j) => {
				if (i !== j) this.addPhrase(text, other, WEIGHT_SAME);
			}));
		}
		const wrong = this.root.wrong ?? {};
		for (const text of Object.keys(wrong).sort()) this.addPhrase(text, wrong[text]!, 1);
		this.phrases.sort((a, b) => b.forms.length - a.forms.length);
	}

	private addPhrase(text: string, other: string, weight: number): void {
		const forms = this.wholes(text), meaning = { forms: this.wholes(other), weight };
		if (forms.length === 0 || meaning.forms.length === 0) return;
		const run = forms.join(" ");
		const known = this.phrases.find((p) => p.forms.join(" ") === run);
		if (known) known.others.push(meaning);
		else this.phrases.push({ forms, others: [meaning] });
	}

	private wholes(text: string): string[] {
		return tokens(text).map((t) => t.forms[0]!).filter((f) => !this.stop.has(f));
	}

	// part returns the texts of a part, or notes that it is needed.
	private part(name: string): string[] | undefined {
		const texts = this.parts.get(name);
		if (texts === undefined) this.need.add(name);
		return texts;
	}

	partOf(name: string, key: string): number {
		return upperBound(this.bounds[name]!, key);
	}

	// affords reports whether the query may read a part: one it has read, or when it
	// has read less than limit.
	affords(name: string, limit: number): boolean {
		return this.used.size < limit || this.used.has(name);
	}

	// forms returns part n of the forms, undefined if it is not there.
	forms(n: number): FormPart | undefined {
		this.used.add("p" + n);
		let part = this.formed.get(n);
		if (part === undefined) {
			const texts = this.part("p" + n);
			if (texts === undefined) return undefined;
			part = new FormPart(texts[0] ?? "", this.root.n);
			this.formed.set(n, part);
		}
		return part;
	}

	// nearWords returns part n of list a or b.
	nearWords(name: string, n: number): NearWord[] {
		const id = name + n;
		this.used.add(id);
		let words = this.near.get(id);
		if (words === undefined) {
			const texts = this.part(id);
			if (texts === undefined) return [];
			words = [];
			keys(texts[0] ?? "", /[A-Z]/, (key, rank) => words!.push({ key, rank }));
			this.near.set(id, words);
		}
		return words;
	}

	// card returns what a list of results shows of a document, a line each.
	card(doc: number): string {
		return this.grouped("c", this.root.cards, doc);
	}

	// body returns the text of a document.
	body(doc: number): string {
		return this.grouped("t", this.root.bodies, doc);
	}

	private grouped(name: string, size: number, doc: number): string {
		const i = doc % size;
		return this.part(name + (doc - i) / size)?.[i] ?? "";
	}

	kindOf(doc: number): string {
		let end = 0;
		for (const k of this.root.kinds) {
			end += k.n;
			if (doc < end) return k.kind;
		}
		return "";
	}
}

function readList(r: BitReader, form: string, all: number): List {
	const n = Math.min(r.count(), all), wide = form.endsWith(WIDE_MARK);
	const docs = new Int32Array(n), weights = new Uint16Array(n);
	r.places(docs, 0, n, 0, all - 1);
	for (let i = 0; i < n; i++) weights[i] = wide ? HEAD_WEIGHT : r.weight();
	return { form, docs, weights };
}
