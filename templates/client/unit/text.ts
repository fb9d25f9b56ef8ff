// A reader's input on its way through a parser, and why it is refused. Nothing here
// knows words of any language: a refusal is a code with what to write instead.

/** Limits of what the parsers read, as in Go. */
export const maxLength = 64;
export const maxDigits = 9;
export const maxDecimals = 9;
export const maxFraction = 4;
export const maxCount = 4;

/** The kinds of refusal; the words for each are in the catalogue under refuse.CODE. */
export type Code =
  | "empty"
  | "too-long"
  | "not-text"
  | "no-number"
  | "negative"
  | "sign"
  | "zero"
  | "comma"
  | "thousands"
  | "mark"
  | "gap"
  | "exponent"
  | "point"
  | "leading-zero"
  | "too-large"
  | "too-precise"
  | "fraction"
  | "two-numbers"
  | "range"
  | "no-unit"
  | "unknown-unit"
  | "wrong-unit"
  | "ambiguous-unit"
  | "kitchen-unit"
  | "trailing"
  | "no-base"
  | "count"
  | "of-active"
  | "out-of-range"
  | "wrong-basis";

/** Why a text is no quantity. */
export class Refusal extends Error {
  /**
   * write: texts or units that would be right, best first; offset in characters;
   * invented: they are examples and hold nothing of what was written, so nobody means them.
   */
  constructor(
    readonly code: Code,
    readonly offset: number,
    readonly write: string[] = [],
    readonly found = "",
    readonly invented = false,
  ) {
    super(code);
    this.name = "Refusal";
  }
}

/** A reader that offers the units that are likely where it stands, when a number has none; of those what it can read. */
export function likely<T>(read: (s: string) => T, units: () => readonly string[]): (s: string) => T {
  return (s) => {
    try {
      return read(s);
    } catch (e) {
      if (!(e instanceof Refusal) || e.code !== "no-unit") throw e;
      const list = units().map((u) => `${trim(s)} ${u}`).filter((w) => reads(read, w));
      throw list.length > 0 ? new Refusal(e.code, e.offset, list) : e;
    }
  };
}

function reads(read: (s: string) => unknown, s: string): boolean {
  try {
    read(s);
    return true;
  } catch (e) {
    if (!(e instanceof Refusal)) throw e;
    return false;
  }
}

export class Text {
  readonly chars: string[];
  pos = 0;

  /** Refuses input that is not worth looking into. */
  constructor(
    s: string,
    readonly example: string,
  ) {
    if (byteLength(s) > 4 * maxLength) throw new Refusal("too-long", 0, [example], "", true);
    this.chars = [...s];
    this.chars.forEach((c, i) => {
      if ((c < " " && c !== "\t") || c === "\x7f" || isHalf(c)) throw new Refusal("not-text", i, [example], "", true);
    });
    if (this.chars.length > maxLength) throw this.unlike("too-long", maxLength);
    this.skipSpace();
    if (this.done()) throw new Refusal("empty", 0, [example], "", true);
  }

  bad(code: Code, at: number, ...write: string[]): Refusal {
    return new Refusal(code, at, write);
  }

  /** A refusal of what nothing can be made of: all that can be shown is an example. */
  unlike(code: Code, at: number): Refusal {
    return new Refusal(code, at, [this.example], "", true);
  }

  done(): boolean {
    return this.pos === this.chars.length;
  }

  /** The character n places on, "" past the end. */
  peek(n = 0): string {
    return this.chars[this.pos + n] ?? "";
  }

  skipSpace(): void {
    while (isSpace(this.peek())) this.pos++;
  }

  digits(): string {
    const start = this.pos;
    while (isDigit(this.peek())) this.pos++;
    return this.chars.slice(start, this.pos).join("");
  }

  /** All that is left, inner space made single and outer space gone. */
  rest(): string {
    const s = this.chars.slice(this.pos).join("");
    this.pos = this.chars.length;
    return s.split(/[ \t\u00a0\u2009\u202f]+/).filter((w) => w !== "").join(" ");
  }

  whole(): string {
    return trim(this.chars.join(""));
  }

  /** The input before a place: the number as it was written. */
  upTo(at: number): string {
    return trim(this.chars.slice(0, at).join(""));
  }

  /** The input with other text in place of what stands from one place to another. */
  put(from: number, to: number, s: string): string {
    return trim(this.chars.slice(0, from).join("") + s + this.chars.slice(to).join(""));
  }

  /** The input before a place with a unit set after it. */
  joined(at: number, symbol: string): string {
    const before = this.upTo(at);
    return before.endsWith("/") ? before + symbol : before + " " + symbol;
  }
}

/** Half of a character that takes two: what no text has alone. */
function isHalf(c: string): boolean {
  return c.length === 1 && c >= "\ud800" && c <= "\udfff";
}

export function isSpace(c: string): boolean {
  return c !== "" && " \t\u00a0\u2009\u202f".includes(c);
}

export function isDigit(c: string): boolean {
  return c >= "0" && c <= "9" && c.length === 1;
}

/** Takes outer white space away, by the list that Go's TrimSpace knows. */
export function trim(s: string): string {
  return s.replace(outerSpace, "");
}

const space = "[\\t-\\r \\u0085\\u00a0\\u1680\\u2000-\\u200a\\u2028\\u2029\\u202f\\u205f\\u3000]+";
const outerSpace = new RegExp(`^${space}|${space}$`, "g");

/**
 * Takes case and full stops away. Only what can become an ASCII letter is turned:
 * the spellings of units hold no others, and no rule of a language may step in.
 */
export function fold(s: string): string {
  return s.replace(/[.A-Z\u0130\u212a]/g, (c) => {
    if (c === ".") return "";
    if (c === "\u0130") return "i";
    if (c === "\u212a") return "k";
    return String.fromCharCode(c.charCodeAt(0) + 32);
  });
}

export function hasOwn(o: object, key: string): boolean {
  return Object.prototype.hasOwnProperty.call(o, key);
}

function byteLength(s: string): number {
  let n = 0;
  for (const c of s) {
    const p = c.codePointAt(0) ?? 0;
    n += p < 0x80 ? 1 : p < 0x800 ? 2 : p < 0x10000 ? 3 : 4;
  }
  return n;
}
