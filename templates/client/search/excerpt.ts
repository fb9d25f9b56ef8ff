// Excerpts: the part of a text that shows most of what was looked for, with the
// found words told from the rest.
import { Token, tokens } from "./fold";
import { Mark } from "./find";

// A Piece is a run of text, found or not.
export interface Piece {
	text: string;
	found: boolean;
}

// A Marker knows what was found.
export class Marker {
	private readonly forms: Set<string>;
	private readonly prefixes: string[];

	constructor(marks: Mark[]) {
		this.forms = new Set(marks.filter((m) => !m.prefix).map((m) => m.form));
		this.prefixes = marks.filter((m) => m.prefix).map((m) => m.form);
	}

	private finds(t: Token): boolean {
		return t.forms.some((f) => this.forms.has(f) || this.prefixes.some((p) => f.startsWith(p)));
	}

	// pieces cuts a text at the words that were found.
	pieces(text: string): Piece[] {
		const out: Piece[] = [];
		let at = 0;
		for (const t of tokens(text)) {
			if (!this.finds(t)) continue;
			if (t.start > at) out.push({ text: text.slice(at, t.start), found: false });
			out.push({ text: text.slice(t.start, t.end), found: true });
			at = t.end;
		}
		if (at < text.length) out.push({ text: text.slice(at), found: false });
		return out;
	}

	// excerpt returns about length characters of a text, from a word to a word,
	// where most different words were found; its beginning when none was.
	excerpt(text: string, length: number): string {
		if (text.length <= length) return text;
		const all = tokens(text), found = all.filter((t) => this.finds(t));
		let best = 0, most = 0;
		found.forEach((first, i) => {
			const different = new Set<string>();
			for (let j = i; j < found.length && found[j]!.end <= first.start + length * 3 / 4; j++) {
				different.add(found[j]!.forms[0]!);
			}
			if (different.size > most) {
				most = different.size;
				best = first.start;
			}
		});
		const from = best <= length / 4 ? 0 : all.find((t) => t.start >= best - length / 4)?.start ?? 0;
		const inside = all.filter((t) => t.start >= from && t.end <= from + length);
		const to = inside.length > 0 ? inside[inside.length - 1]!.end : from + length;
		return (from > 0 ? "… " : "") + text.slice(from, to) + (to < text.length ? " …" : "");
	}
}
