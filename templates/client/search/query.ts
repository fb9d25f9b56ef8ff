// A query cut into slots; query.go in the Go package search has the same steps.
import { tokens } from "./fold";
import { Index, Phrase } from "./index";
import { WEIGHT_SAME } from "./tables";

export interface Word {
	form: string;
	parts: string[]; // of a compound
	typing: boolean; // the last word, perhaps not finished
	exact: boolean; // inside quotes: as written or not at all
	extra: boolean; // may become another word; a document need not have it
}

export interface Slot {
	words: Word[];
	others: { words: Word[]; weight: number }[];
}

export interface Query {
	slots: Slot[];
	phrases: string[][]; // runs of words in quotes
}

export function parse(ix: Index, text: string): Query {
	const { words, phrases } = queryWords(ix, text);
	const slots: Slot[] = [];
	for (let i = 0; i < words.length;) {
		const slot: Slot = { words: [words[i]!], others: [] };
		const p = phraseAt(ix, words, i);
		if (p) {
			slot.words = words.slice(i, i + p.forms.length);
			for (const o of p.others) slot.others.push({ words: plainWords(o.forms), weight: o.weight });
		}
		const first = words[i]!;
		if (slot.words.length === 1 && first.parts.length > 0 && !first.exact) {
			slot.others.push({ words: plainWords(first.parts), weight: WEIGHT_SAME });
		}
		slots.push(slot);
		i += slot.words.length;
	}
	return { slots, phrases };
}

function queryWords(ix: Index, text: string): { words: Word[]; phrases: string[][] } {
	const words: Word[] = [], phrases: string[][] = [];
	const pieces = text.replace(/[“”«»„]/g, '"').split('"');
	pieces.forEach((piece, i) => {
		const exact = i % 2 === 1;
		const run: string[] = [];
		for (const t of tokens(piece)) {
			const form = t.forms[0]!;
			run.push(form);
			const typing = !exact && i === pieces.length - 1 && t.end === piece.length;
			words.push({ form, parts: t.forms.slice(1), typing, exact, extra: false });
		}
		if (exact && run.length > 1) phrases.push(run);
	});
	const telling = words.map((w) => ({ ...w, extra: ix.stop.has(w.form) || (w.typing && /^[a-z]$/.test(w.form)) }))
		.filter((w) => !w.extra || w.typing);
	return { words: telling.length > 0 && !telling[0]!.extra ? telling : words, phrases };
}

function phraseAt(ix: Index, words: Word[], i: number): Phrase | undefined {
	return ix.phrases.find((p) => p.forms.every((form, j) => {
		const w = words[i + j];
		return w !== undefined && w.form === form && !w.exact && !w.extra;
	}));
}

function plainWords(forms: string[]): Word[] {
	return forms.map((form) => ({ form, parts: [], typing: false, exact: false, extra: false }));
}
