// A number as the trade writes it. The grammar and every refusal are those of
// internal/unit/scan.go; what is offered instead can be taken with one touch, so it is
// the whole text, and never a number that leaves out digits.

import { frac, fromDigits, int, Num, pow10 } from "./number";
import { isDigit, maxDecimals, maxDigits, maxFraction, Refusal, type Text, trim } from "./text";

const vulgar = new Map<string, Num>([
  ["½", frac(1, 2)],
  ["⅓", frac(1, 3)],
  ["⅔", frac(2, 3)],
  ["¼", frac(1, 4)],
  ["¾", frac(3, 4)],
  ["⅕", frac(1, 5)],
  ["⅖", frac(2, 5)],
  ["⅗", frac(3, 5)],
  ["⅘", frac(4, 5)],
  ["⅙", frac(1, 6)],
  ["⅚", frac(5, 6)],
  ["⅛", frac(1, 8)],
  ["⅜", frac(3, 8)],
  ["⅝", frac(5, 8)],
  ["⅞", frac(7, 8)],
]);

/** Takes a number: decimal, fraction, mixed number or a fraction's own character. */
export function scanNumber(t: Text): Num {
  t.skipSpace();
  refuseStart(t);
  const glyph = vulgar.get(t.peek());
  if (glyph) {
    t.pos++;
    refuseEnd(t);
    return glyph;
  }
  const start = t.pos;
  const whole = t.digits();
  refuseWhole(t, start, whole);
  const n = afterWhole(t, start, whole);
  refuseEnd(t);
  return n;
}

function afterWhole(t: Text, start: number, whole: string): Num {
  if (t.peek() === ".") return decimals(t, whole);
  if (isBar(t.peek()) && isDigit(t.peek(1))) return fraction(t, start, whole);
  return mixed(t, fromDigits(whole));
}

function isBar(c: string): boolean {
  return c === "/" || c === "⁄";
}

function decimals(t: Text, whole: string): Num {
  const point = t.pos;
  t.pos++;
  const d = t.digits();
  if (d === "") throw t.bad("point", point, t.put(point, point + 1, ""));
  if (d.length > maxDecimals) throw t.bad("too-precise", point + 1 + maxDecimals);
  if (t.peek() === ".") {
    const one = grouped(t, point - whole.length);
    throw one === undefined ? t.unlike("point", t.pos) : t.bad("point", t.pos, one);
  }
  return fromDigits(whole + d).quo(pow10(d.length));
}

function fraction(t: Text, start: number, above: string): Num {
  t.pos++;
  const below = t.digits();
  if (above.length > maxFraction || below.length > maxFraction) throw t.bad("fraction", start);
  if (/^0*$/.test(below)) throw t.unlike("fraction", start);
  return fromDigits(above).quo(fromDigits(below));
}

/** Takes the fraction after a whole number, if there is one. */
function mixed(t: Text, whole: Num): Num {
  const mark = t.pos;
  t.skipSpace();
  const glyph = vulgar.get(t.peek());
  if (glyph) {
    t.pos++;
    return whole.add(glyph);
  }
  const start = t.pos;
  const above = t.digits();
  if (above === "") {
    t.pos = mark;
    return whole;
  }
  if (!isBar(t.peek()) || !isDigit(t.peek(1))) throw t.bad("gap", mark, t.put(mark, start, ""));
  const n = fraction(t, start, above);
  if (n.cmp(int(1)) >= 0) throw t.bad("fraction", start);
  return whole.add(n);
}

/** Refuses what cannot start a number here. */
function refuseStart(t: Text): void {
  const c = t.peek();
  if (c === "-" || c === "−" || c === "–") throw t.bad("negative", t.pos, t.put(t.pos, t.pos + 1, ""));
  if (c === "+") throw t.bad("sign", t.pos);
  if (c === "." && isDigit(t.peek(1))) throw t.bad("point", t.pos, "0" + t.chars.slice(t.pos).join(""));
  if (isDigit(c) || vulgar.has(c)) return;
  throw t.unlike("no-number", t.pos);
}

/** Refuses a run of digits that is too long or starts with zeros. */
function refuseWhole(t: Text, start: number, whole: string): void {
  const trimmed = whole.replace(/^0+/, "");
  if (trimmed.length > maxDigits) throw t.bad("too-large", start);
  if (whole.length > 1 && whole.startsWith("0")) throw t.bad("leading-zero", start, t.put(start, start + whole.length, trimmed === "" ? "0" : trimmed));
}

/** Refuses what must not follow a number: a comma, an exponent, another, a range. */
function refuseEnd(t: Text): void {
  const c = t.peek();
  const next = t.peek(1);
  if (c === "," || c === "'" || c === "’" || c === "_") throw markRefusal(t, c);
  if ((c === "e" || c === "E") && (isDigit(next) || next === "-" || next === "+")) throw t.bad("exponent", t.pos);
  const mark = t.pos;
  t.skipSpace();
  const after = t.peek();
  if (after === "." || isDigit(after) || vulgar.has(after)) throw t.unlike("two-numbers", mark);
  const rest = t.chars.slice(t.pos, t.pos + 3).join("");
  if ((after !== "" && "-–—−~".includes(after)) || rest === "to ") throw t.bad("range", t.pos, ...ends(t, mark));
  t.pos = mark;
}

/**
 * Refuses a comma or another mark inside a number. With exactly three digits after
 * a comma nobody can say which of two numbers was meant.
 */
function markRefusal(t: Text, mark: string): Refusal {
  const at = t.pos;
  let before = at;
  while (before > 0 && isDigit(t.chars[before - 1]!)) before--;
  const whole = t.chars.slice(before, at).join("");
  t.pos++;
  const after = t.digits();
  const put = (n: string): string => t.put(before, t.pos, n);
  const plain = grouped(t, before);
  if (mark !== ",") return t.bad("mark", at, put(whole + after));
  if (after.length === 3 && whole !== "0") return t.bad("thousands", at, ...(plain ? [plain] : [put(whole + after), put(whole + "." + after)]));
  return t.bad("comma", at, plain ?? put(after === "" ? whole : whole + "." + after));
}

/**
 * The input with a number in which the marks of thousands cannot be taken for a point
 * written plainly: in several groups of three, or before the other mark.
 */
function grouped(t: Text, at: number): string | undefined {
  let from = at;
  while (from > 0 && isPart(t.chars[from - 1]!)) from--;
  let to = at;
  while (isPart(t.chars[to] ?? "")) to++;
  const n = t.chars.slice(from, to).join("");
  if (/^\d{1,3}((,\d{3})+(\.\d+)|(,\d{3}){2,})$/.test(n)) return t.put(from, to, n.replace(/,/g, ""));
  if (/^\d{1,3}((\.\d{3})+(,\d+)|(\.\d{3}){2,})$/.test(n)) return t.put(from, to, n.replace(/\./g, "").replace(",", "."));
  return undefined;
}

const isPart = (c: string): boolean => c === "." || c === "," || isDigit(c);

/** The ends of a range, each with its unit; of what may be a mixed number with a bar, that number. */
function ends(t: Text, mark: number): string[] {
  const rest = t.chars.slice(t.pos).join("");
  const m = /^(?:to |[-–—−~])\s*(\d+[/⁄]\d+|\d+(?:\.\d+)?[½⅓⅔¼¾⅛⅜⅝⅞]?)\s*(.*)$/.exec(rest);
  if (!m) return [];
  const [, second = "", unit = ""] = m;
  const first = t.upTo(mark);
  const written = (n: string): string => trim(n + " " + unit);
  return /[/⁄]/.test(second) && /^\d+$/.test(first) ? [written(first + " " + second)] : [written(first), written(second)];
}
