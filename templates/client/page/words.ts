// The words of the edition, from the catalogue that Go wrote. As internal/message.

let texts: Record<string, string> = {};

/** Takes the catalogue in. */
export function takeMessages(all: Record<string, string>): void {
  texts = all;
}

/** Whether the messages have come. */
export function haveMessages(): boolean {
	return Object.keys(texts).length > 0;
}

export type Args = Record<string, string | number>;

/**
 * The text of a key with its places filled. A key that is missing comes back in
 * brackets, so that it is seen. Keys are written out where they are asked for: Go
 * reads them there to pick the messages that are sent along.
 */
export function t(key: string, args: Args = {}): string {
  const text = texts[key] ?? texts[key + (args["n"] === 1 ? ".one" : ".other")];
  if (text === undefined) return missing(key);
  return text.replace(/\{([^}]*)\}/g, (_, name: string) => {
    const value = args[name];
    return value === undefined ? missing(name) : typeof value === "number" ? count(value) : value;
  });
}

const missing = (name: string): string => "[" + name + "]";

/** A whole number with its thousands set apart. */
export function count(n: number): string {
  const digits = String(Math.abs(n));
  const grouped = digits.length < 5 ? digits : digits.replace(/\B(?=(\d{3})+$)/g, texts["number.group"] ?? "");
  return n < 0 ? "−" + grouped : grouped;
}

/** A share from 0 to 1 as a whole percentage; one that is neither nothing nor all never prints as 0 or 100. */
export function percent(share: number): string {
  const n = Math.floor(share * 100 + 0.5);
  if (n === 0 && share > 0) return t("number.percent-below", { n: 1 });
  if (n === 100 && share < 1) return t("number.percent-above", { n: 99 });
  return t("number.percent", { n });
}

/** Terms as a sentence joins them: "a, b and c". */
export function list(terms: readonly string[]): string {
  const last = terms[terms.length - 1];
  if (last === undefined || terms.length === 1) return last ?? "";
  const before = terms.slice(0, -1).join(t("list.comma"));
  return /^(i|í|hi(?![ea]))/i.test(last) ? t("list.last-before-i", { before, last }) : t("list.last", { before, last });
}
