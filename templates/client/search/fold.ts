// How text is cut into the forms that are indexed. The same steps, on the same
// tables, as the Go package search.
import { FOLDS, JOINTS, MAX_FORM, TOKEN } from "./tables";

const foldOf = new Map<string, string>();
for (const line of FOLDS.split("\n")) {
	const cut = line.indexOf(" ");
	for (const c of line.slice(cut + 1)) foldOf.set(c, line.slice(0, cut));
}

function foldChar(c: string): string {
	const to = foldOf.get(c);
	if (to !== undefined) return to;
	const n = c.charCodeAt(0);
	// A-Z, Greek, Cyrillic; then the Cyrillic letters before those.
	if ((n >= 0x41 && n <= 0x5a) || (n >= 0x391 && n <= 0x3a9) || (n >= 0x410 && n <= 0x42f)) {
		return String.fromCharCode(n + 32);
	}
	if (n >= 0x400 && n <= 0x40f) return String.fromCharCode(n + 80);
	return n >= 0x300 && n <= 0x36f ? "" : c;
}

// fold returns the one spelling of a text: lower case, no accent.
export function fold(text: string): string {
	let out = "";
	for (const c of text) out += foldChar(c);
	return out;
}

const isDigit = (c: string | undefined): boolean => c !== undefined && c >= "0" && c <= "9";
const isJoint = (c: string): boolean => JOINTS.includes(c);

function betweenDigits(s: string, i: number): boolean {
	return (s[i] === "." || s[i] === ",") && isDigit(s[i - 1]) && isDigit(s[i + 1]);
}

const fits = (form: string): boolean => form.length > 0 && form.length <= MAX_FORM;

// forms returns what one token of text is indexed as, the whole first, then the
// parts of a compound.
export function forms(token: string): string[] {
	if (/^[0-9A-Za-z]+$/.test(token)) return [token.toLowerCase()].filter(fits); // as the steps below, and most are
	const s = fold(token).replaceAll("’", "'").replace(/'s$/, "");
	const parts: string[] = [];
	let part = "", joined = "", letters = false;
	for (let i = 0; i < s.length; i++) {
		const c = s[i]!;
		if (!isJoint(c) || betweenDigits(s, i)) {
			part += c;
			joined += c;
			letters ||= !isJoint(c) && !isDigit(c);
		} else if (c !== "'") {
			parts.push(part);
			part = "";
		}
	}
	if (parts.length === 0) return [joined].filter(fits);
	parts.push(part);
	const whole = letters ? joined : parts.join("-");
	return [whole, ...parts.filter((p) => p.length > 1)].filter(fits);
}

// A Token is a place in text and what stands there.
export interface Token {
	start: number;
	end: number;
	forms: string[];
}

const token = new RegExp(TOKEN, "gu");

// tokens cuts a text.
export function tokens(text: string): Token[] {
	const out: Token[] = [];
	token.lastIndex = 0;
	for (let m = token.exec(text); m; m = token.exec(text)) {
		const f = forms(m[0]);
		if (f.length > 0) out.push({ start: m.index, end: m.index + m[0].length, forms: f });
	}
	return out;
}
