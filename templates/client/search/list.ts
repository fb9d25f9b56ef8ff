// What a list of results looks like.
import { fill, h, mark } from "../page/dom";
import { list, t } from "../page/words";
import { Marker } from "./excerpt";
import { Answer, Result } from "./find";

const longest = 60; // characters of what was typed that a remark repeats

const verdicts = ["unknown", "clean", "steps", "apart", "never"];

// verdictOf returns the verdict that the summary of a page about two partners
// begins with, and the rest. What cannot be told is not known.
function verdictOf(summary: string): { verdict: string; rest: string } {
	for (const verdict of verdicts) {
		const said = t(`verdict.${verdict}`) + ".";
		if (summary.startsWith(said)) return { verdict, rest: summary.slice(said.length).trim() };
	}
	return { verdict: verdicts[0]!, rest: summary };
}

// A Row is one result; excerpt is where its text stands.
export interface Row {
	link: HTMLAnchorElement;
	excerpt: HTMLElement;
	marked: boolean; // title or excerpt shows a word that was looked for
}

// row makes one result for a query of so many words. A page about two partners says its verdict by word and
// mark, so that being found is never taken for leave to mix.
export function row(r: Result, of: number, home: string, marker: Marker): Row {
	const title = h("span", { class: "found-title" }), excerpt = h("span", { class: "found-excerpt" });
	let rest = r.summary;
	let verdict: HTMLElement | undefined;
	if (r.kind === "together") {
		const said = verdictOf(r.summary);
		rest = said.rest;
		verdict = h("span", { class: "verdict verdict-" + said.verdict, "data-verdict": said.verdict },
			mark(said.verdict), t(`verdict.${said.verdict}`));
	}
	const marked = [show(title, r.title, marker), show(excerpt, rest, marker)].includes(true);
	excerpt.classList.toggle("later", !marked); // keeps the room that a longer one may need
	const link = h("a", { class: "found", href: home + r.path }, title, h("span", { class: "found-kind" }, t(`find.kind.${r.kind}`)),
		verdict, r.words < of && h("span", { class: "found-lacks" }, t("site.lacks")), excerpt);
	return { link, excerpt, marked };
}

// show writes a text with what was found in it marked, and reports whether
// anything was.
export function show(e: HTMLElement, text: string, marker: Marker): boolean {
	const pieces = marker.pieces(text);
	fill(e, pieces.map((p) => p.found ? h("mark", {}, p.text) : p.text));
	return pieces.some((p) => p.found);
}

// quotable returns what was typed as a sentence can hold it: not longer than a
// line, without what cannot be seen, and with a script that runs from right to
// left kept from turning the sentence round.
export function quotable(text: string): string {
	const seen = [...text.replace(/[\p{Cc}\p{Cf}\s]+/gu, " ").trim()];
	const short = seen.length > longest ? seen.slice(0, longest).join("").trim() + "…" : seen.join("");
	return /[\u0590-\u08ff\ufb1d-\ufeff]/.test(short) ? "\u2068" + short + "\u2069" : short;
}

// count says how many pages were found.
export function count(a: Answer): string {
	return a.results.length > 0 ? t("site.results", { n: a.total }) : "";
}

// remark says what a reader has to know about an answer: that nothing was found
// is no evidence, that words are missing, that one was read differently.
export function remark(a: Answer, text: string): string {
	if (a.words === 0) return t("site.no-word");
	if (a.results.length === 0) return t("site.none", { words: quotable(text) }) + " " + t("site.none-do");
	if (a.loose) return t("site.loose");
	if (a.results[0]!.words < a.words) return t("site.some");
	return Object.entries(a.changed).map(([word, as]) => t("site.changed", { word, others: list(as.slice(0, 3)) })).join(" ");
}
