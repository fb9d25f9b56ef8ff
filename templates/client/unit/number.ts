// Exact rational numbers, as unit.Number in Go. Nothing here passes through
// floating point; the one rounding is round, half away from zero.

/** An exact rational in lowest terms; the sign is the numerator's. */
export class Num {
  private constructor(
    readonly n: bigint,
    readonly d: bigint,
  ) {}

  /** n/d; d is not 0. */
  static of(n: bigint, d: bigint): Num {
    if (d === 0n) throw new RangeError("division by zero");
    if (d === 1n) return new Num(n, d);
    if (d < 0n) [n, d] = [-n, -d];
    const g = gcd(n < 0n ? -n : n, d);
    return g === 1n ? new Num(n, d) : new Num(n / g, d / g);
  }

  add(m: Num): Num {
    return Num.of(this.n * m.d + m.n * this.d, this.d * m.d);
  }
  sub(m: Num): Num {
    return Num.of(this.n * m.d - m.n * this.d, this.d * m.d);
  }
  mul(m: Num): Num {
    return Num.of(this.n * m.n, this.d * m.d);
  }
  /** this ÷ m; m is not 0. */
  quo(m: Num): Num {
    return Num.of(this.n * m.d, this.d * m.n);
  }
  neg(): Num {
    return new Num(-this.n, this.d);
  }
  cmp(m: Num): -1 | 0 | 1 {
    return sign(this.n * m.d - m.n * this.d);
  }
  sign(): -1 | 0 | 1 {
    return sign(this.n);
  }
  equals(m: Num): boolean {
    return this.n === m.n && this.d === m.d;
  }
  isInt(): boolean {
    return this.d === 1n;
  }
  min(m: Num): Num {
    return this.cmp(m) <= 0 ? this : m;
  }
  max(m: Num): Num {
    return this.cmp(m) >= 0 ? this : m;
  }

  /** The largest whole number that is not above this. */
  floor(): Num {
    const q = this.n / this.d;
    return new Num(this.n < 0n && q * this.d !== this.n ? q - 1n : q, 1n);
  }

  /** The square root, cut off after twelve decimals; for flow factors. */
  sqrt(): Num {
    return Num.of(wholeRoot((this.n * 10n ** 24n) / this.d), 10n ** 12n);
  }

  /** To so many decimals, half away from zero. */
  round(decimals: number): Num {
    return Num.of(this.scaled(decimals), 10n ** BigInt(decimals));
  }

  /** Rounded, with exactly so many decimals: "946.353". Zero has no minus. */
  fixed(decimals: number): string {
    const v = this.scaled(decimals);
    const digits = (v < 0n ? -v : v).toString().padStart(decimals + 1, "0");
    const cut = digits.length - decimals;
    const s = decimals === 0 ? digits : digits.slice(0, cut) + "." + digits.slice(cut);
    return v < 0n ? "-" + s : s;
  }

  /** fixed without trailing zeros: "7.9", "12". */
  short(decimals: number): string {
    const s = this.fixed(decimals);
    return decimals === 0 ? s : s.replace(/\.?0+$/, "");
  }

  /** The nearest float: for drawings, never for a dose. */
  float(): number {
    return Number(this.fixed(15));
  }

  /** Tenths, hundredths …, rounded half away from zero, as one whole number. */
  private scaled(decimals: number): bigint {
    const twice = this.n * 10n ** BigInt(decimals) * 2n;
    return (twice < 0n ? twice - this.d : twice + this.d) / (this.d * 2n);
  }
}

/** A whole number. */
export function int(i: number | bigint): Num {
  return Num.of(BigInt(i), 1n);
}

/** num/den. */
export function frac(num: number | bigint, den: number | bigint): Num {
  return Num.of(BigInt(num), BigInt(den));
}

/** 10 to a power that is not negative. */
export function pow10(n: number): Num {
  return Num.of(10n ** BigInt(n), 1n);
}

/** A run of digits; "" is 0. */
export function fromDigits(s: string): Num {
  return Num.of(BigInt("0" + s), 1n);
}

/** A decimal as data and JSON of ours write it: "-12.5". Throws on anything else. */
export function fromDecimal(s: string): Num {
  const m = /^(-?)(\d+)(?:\.(\d+))?$/.exec(s);
  if (m === null) throw new SyntaxError(`no decimal: ${s}`);
  const [, minus, whole = "", part = ""] = m;
  const n = Num.of(BigInt(whole + part), 10n ** BigInt(part.length));
  return minus === "-" ? n.neg() : n;
}

export const zero = int(0);
export const one = int(1);

function sign(n: bigint): -1 | 0 | 1 {
  return n < 0n ? -1 : n > 0n ? 1 : 0;
}

function gcd(a: bigint, b: bigint): bigint {
  while (b !== 0n) [a, b] = [b, a % b];
  return a;
}

/** The whole part of a square root, by Newton's steps from above. */
function wholeRoot(n: bigint): bigint {
  if (n < 2n) return n;
  let x = 1n << BigInt((n.toString(2).length + 1) >> 1);
  for (;;) {
    const y = (x + n / x) >> 1n;
    if (y >= x) return x;
    x = y;
  }
}
