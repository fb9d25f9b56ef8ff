// How a word may be read; read.go and typo.go in the Go package search have the
// same steps.
import { Index, List, NearWord } from "./index";
import { Word } from "./query";
import { stem } from "./stem";
import {
	COMPLETED_PARTS, CORRECTED_PARTS, INFLECTED_PARTS, MAX_TYPO, MIN_TYPO, RANGE_PARTS, SHORT_PREFIX, TYPO_READINGS, WEIGHT_COMPLETION, WEIGHT_PLURAL,
	WEIGHT_TYPO, WEIGHT_VARIANT, WIDE_MARK,
} from "./tables";

export interface Weighted {
	weight: number;
	list: List;
}

export type Reading = Weighted[];

const end = "\uffff"; // sorts after every key

// readings returns how a word may be read: as itself with its inflections, and
// as the beginning of a longer word.
export function readings(ix: Index, w: Word): Reading[] {
	const out: Reading[] = [];
	const own = inflections(ix, w);
	if (own.length > 0) out.push(own);
	if (w.typing) {
		const longer = completions(ix, w.form);
		if (longer.length > 0) out.push(longer);
	}
	return out;
}

function inflections(ix: Index, w: Word): Reading {
	const out: Reading = [];
	const list = lookUp(ix, w.form);
	if (list) out.push({ weight: 1, list });
	if (w.exact) return out;
	const lang = ix.root.lang, s = stem(lang, w.form);
	if (s === w.form && !isWord(s)) return out;
	for (const list of formsWith(ix, stemBase(s), INFLECTED_PARTS, (form) => form !== w.form && stem(lang, form) === s)) {
		out.push({ weight: samePlural(list.form, w.form) ? WEIGHT_PLURAL : WEIGHT_VARIANT, list });
	}
	return out;
}

function stemBase(s: string): string {
	return s.length > 2 && /[iez]$/.test(s) ? s.slice(0, -1) : s;
}

function samePlural(a: string, b: string): boolean {
	if (a.length > b.length) [a, b] = [b, a];
	const n = a.length - 1, rest = b.slice(n);
	if (!b.startsWith(a.slice(0, n))) return false;
	return rest === a[n] + "s" || rest === a[n] + "es" || (rest === "ies" && a[n] === "y") || (rest === "ces" && a[n] === "z");
}

function completions(ix: Index, prefix: string): Reading {
	const first = ix.partOf("p", prefix), last = ix.partOf("p", prefix + end);
	// Whether it is wide the first tells; the next, if there is no other, is asked for
	// with it: that costs less than waiting twice.
	const parts = last - first < 2 ? [ix.forms(last), ix.forms(first)] : [ix.forms(ix.partOf("p", prefix + WIDE_MARK))];
	if (parts.includes(undefined)) return [];
	const wide = lookUp(ix, prefix + WIDE_MARK);
	if (wide) return [{ weight: WEIGHT_COMPLETION, list: wide }];
	if (prefix.length < SHORT_PREFIX && last - first > 1) return [];
	return formsWith(ix, prefix, COMPLETED_PARTS).map((list) => ({ weight: WEIGHT_COMPLETION, list }));
}

export function lookUp(ix: Index, form: string): List | undefined {
	const part = ix.forms(ix.partOf("p", form)), i = part?.find(form) ?? 0;
	return part?.forms[i] === form ? part.list(i) : undefined;
}

// formsWith returns the lists of the forms with a prefix that are meant, as far as a
// query that reads so many parts comes.
function formsWith(ix: Index, prefix: string, limit: number, meant: (form: string) => boolean = () => true): List[] {
	const out: List[] = [];
	const first = ix.partOf("p", prefix), last = ix.partOf("p", prefix + end);
	for (let n = first; n <= last && n < first + RANGE_PARTS; n++) {
		const part = ix.affords("p" + n, limit) && ix.forms(n);
		if (!part) continue;
		for (let i = part.find(prefix), form; (form = part.forms[i])?.startsWith(prefix); i++) {
			if (!form.endsWith(WIDE_MARK) && meant(form)) out.push(part.list(i));
		}
	}
	return out;
}

// corrections returns a reading for each of the words that has none yet.
export function corrections(ix: Index, words: string[], had: Reading[]): Reading[] {
	const out: Reading[] = [];
	for (const c of new Set(words)) {
		if (had.some((r) => r[0]!.list.form === c)) continue;
		const list = ix.affords("p" + ix.partOf("p", c), ix.written + CORRECTED_PARTS) && lookUp(ix, c);
		if (list) out.push([{ weight: WEIGHT_TYPO, list }]);
	}
	return out;
}

// oneAway returns those of the words that are one letter away from a form.
export function oneAway(words: string[], form: string): string[] {
	return isWord(form) ? words.filter((w) => isWord(w) && oneEdit(w, form)) : [];
}

// isWord reports whether a form may be corrected.
export function isWord(form: string): boolean {
	return form.length >= MIN_TYPO && form.length <= MAX_TYPO && /^[a-z]+$/.test(form);
}

// candidates returns the likeliest words one letter away.
export function candidates(ix: Index, form: string): string[] {
	if (!isWord(form)) return [];
	const found = near(ix, "a", form);
	for (const w of near(ix, "b", reverse(form))) found.push({ key: reverse(w.key), rank: w.rank });
	if (ix.need.size > 0) return [];
	const differs = (w: string): number => w[0] === form[0] || form.length < 6 ? 0 : 1;
	found.sort((x, y) => differs(x.key) - differs(y.key) || compare(y.rank, x.rank) || compare(x.key, y.key));
	const out = [...new Set(found.map((w) => w.key))].slice(0, TYPO_READINGS);
	if (form.length === 4) out.push(form[0]! + form[2] + form[1] + form[3]);
	return out;
}

function compare(a: string, b: string): number {
	return a < b ? -1 : a > b ? 1 : 0;
}

function reverse(s: string): string {
	return [...s].reverse().join("");
}

function near(ix: Index, name: string, form: string): NearWord[] {
	const length = (n: number): string => String.fromCharCode(48 + n);
	const low = form.slice(0, 2) + length(form.length - 1);
	const high = form.slice(0, 2) + length(form.length + 1) + end;
	const out: NearWord[] = [];
	for (let n = ix.partOf(name, low); n <= ix.partOf(name, high); n++) {
		if (!ix.affords(name + n, ix.written + CORRECTED_PARTS)) continue;
		for (const w of ix.nearWords(name, n)) {
			if (w.key < low || w.key >= high) continue;
			const word = w.key.slice(0, 2) + w.key.slice(3);
			if (oneEdit(word, form)) out.push({ key: word, rank: w.rank });
		}
	}
	return out;
}

// oneEdit reports whether b is a with one letter replaced, left out or added, or
// two neighbors swapped.
export function oneEdit(a: string, b: string): boolean {
	if (a.length > b.length) [a, b] = [b, a];
	let i = 0;
	while (i < a.length && a[i] === b[i]) i++;
	if (b.length - a.length === 1) return a.slice(i) === b.slice(i + 1);
	if (b.length !== a.length || i === a.length) return false;
	if (a.slice(i + 1) === b.slice(i + 1)) return true;
	return a[i] === b[i + 1] && a[i + 1] === b[i] && i + 1 < a.length && a.slice(i + 2) === b.slice(i + 2);
}
