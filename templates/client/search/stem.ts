// Stems of English (M. F. Porter, "The English (Porter2) stemming algorithm",
// snowballstem.org) and Spanish (J. Savoy's light stemmer), step for step as the
// ones the index is made with. A consonant y is written Y while at work.

const unchanged = " andes atlas bias cosmos howe news sky ";
const unchangedLater = " canning earring exceed herring inning outing proceed succeed ";
const irregular: Record<string, string> = {
	skis: "ski", skies: "sky", dying: "die", lying: "lie", tying: "tie", idly: "idl",
	gently: "gentl", ugly: "ugli", early: "earli", only: "onli", singly: "singl",
};

const shortSyllable = /(^[aeiouy]|[^aeiouy][aeiouy])[^aeiouy]$/;
const hasVowel = /[aeiouy]/;

function isShort(word: string): boolean {
	return shortSyllable.test(word) && !/[^aeiouy][aeiouy][wxY]$/.test(word);
}

// after returns where the region after the first consonant that follows a vowel
// begins, from a place on.
function after(word: string, from: number): number {
	const m = /[aeiouy][^aeiouy]/.exec(word.slice(from));
	return m ? from + m.index + 2 : word.length;
}

type Ending = readonly [suffix: string, to: string];

function endings(list: string): Ending[] {
	return list.split(" ").map((pair) => pair.split(">") as unknown as Ending)
		.sort((a, b) => b[0].length - a[0].length);
}

const step2 = endings("tional>tion enci>ence anci>ance abli>able entli>ent izer>ize ization>ize ational>ate " +
	"ation>ate ator>ate alism>al aliti>al alli>al fulness>ful ousli>ous ousness>ous iveness>ive iviti>ive biliti>ble " +
	"bli>ble ogi>og fulli>ful lessli>less li>");
const step3 = endings("tional>tion ational>ate alize>al icate>ic iciti>ic ical>ic ful> ness> ative>");
const step4 = endings("al> ance> ence> er> ic> able> ible> ant> ement> ment> ent> ism> ate> iti> ous> ive> ize> ion>");

// replace replaces the longest ending of a list, if it stands in a region and
// what is before it will do.
function replace(word: string, list: Ending[], region: number, may: (suffix: string, before: string) => boolean): string {
	for (const [suffix, to] of list) {
		if (word.endsWith(suffix)) {
			const before = word.slice(0, -suffix.length);
			return before.length >= region && may(suffix, before) ? before + to : word;
		}
	}
	return word;
}

function step1a(word: string): string {
	if (word.endsWith("sses")) return word.slice(0, -2);
	if (/ie[ds]$/.test(word)) return word.slice(0, word.length > 4 ? -2 : -1);
	if (/[us]s$/.test(word) || !word.endsWith("s")) return word;
	return hasVowel.test(word.slice(0, -2)) ? word.slice(0, -1) : word;
}

function step1b(word: string, r1: number): string {
	const m = /(eed|ed|ing)(ly)?$/.exec(word);
	if (!m) return word;
	const before = word.slice(0, m.index);
	if (m[1] === "eed") return m.index >= r1 ? before + "ee" : word;
	if (!hasVowel.test(before)) return word;
	if (/(at|bl|iz)$/.test(before)) return before + "e";
	if (/(bb|dd|ff|gg|mm|nn|pp|rr|tt)$/.test(before)) return before.slice(0, -1);
	return before.length <= r1 && isShort(before) ? before + "e" : before;
}

function step5(word: string, r1: number, r2: number): string {
	const n = word.length - 1;
	const before = word.slice(0, n);
	if (word.endsWith("e") && (n >= r2 || (n >= r1 && !isShort(before)))) return before;
	if (word.endsWith("ll") && n >= r2) return before;
	return word;
}

function english(form: string): string {
	if (form.length < 3) return form;
	if (unchanged.includes(" " + form + " ")) return form;
	if (Object.hasOwn(irregular, form)) return irregular[form]!;
	let word = form.replace(/(^|[aeiouy])y/g, "$1Y");
	const special = /^(gener|commun|arsen)/.exec(word);
	const r1 = special ? special[0].length : after(word, 0);
	const r2 = after(word, r1);
	word = step1a(word);
	if (unchangedLater.includes(" " + word + " ")) return word;
	word = step1b(word, r1);
	word = word.replace(/(.[^aeiouy])[yY]$/, "$1i");
	word = replace(word, step2, r1, (suffix, before) => suffix === "ogi" ? before.endsWith("l")
		: suffix !== "li" || /[cdeghkmnrt]$/.test(before));
	word = replace(word, step3, r1, (suffix, before) => suffix !== "ative" || before.length >= r2);
	word = replace(word, step4, r2, (suffix, before) => suffix !== "ion" || /[st]$/.test(before));
	return step5(word, r1, r2).replace(/Y/g, "y");
}

function spanish(form: string): string {
	if (form.length < 5) return form;
	if (/[oae]$/.test(form)) return form.slice(0, -1);
	if (form.endsWith("eses")) return form.slice(0, -2);
	if (form.endsWith("ces")) return form.slice(0, -3) + "z";
	return form.replace(/[oae]s$/, "");
}

// stem returns what a form has in common with its inflections. A form with
// anything but the letters a to z in it is a code or a number and is its own
// stem.
export function stem(lang: string, form: string): string {
	if (!/^[a-z]+$/.test(form)) return form;
	return lang === "es" ? spanish(form) : english(form);
}
