// Reads what the Go package search writes: numbers and keys in printable
// characters, and streams of bits. bits.go and code.go there tell the format.
import { BIT_CHARS, DIGITS, HEAD_WEIGHT, KEY_LETTERS, LAST_DIGITS, MORE_DIGITS } from "./tables";

function inverse(chars: string): Uint8Array {
	const table = new Uint8Array(128);
	for (let i = 0; i < chars.length; i++) table[chars.charCodeAt(i)] = i;
	return table;
}

const digitOf = inverse(DIGITS);
const bitsOf = inverse(BIT_CHARS);

// numbers reads all numbers of a text.
export function numbers(s: string): number[] {
	const out: number[] = [];
	let v = 0, factor = 1;
	for (let i = 0; i < s.length; i++) {
		const x = digitOf[s.charCodeAt(i) & 127]!;
		v += x * factor;
		factor *= MORE_DIGITS;
		if (x < LAST_DIGITS) {
			out.push(v);
			v = 0;
			factor = 1;
		}
	}
	return out;
}

// keys reads words in order; end matches the character that ends one.
export function keys(s: string, end: RegExp, each: (key: string, end: string) => void): void {
	let last = "";
	for (let i = 0; i < s.length;) {
		const shared = digitOf[s.charCodeAt(i) & 127]!;
		const start = i + 1;
		for (i = start; i < s.length && !end.test(s[i]!); i++);
		if (i === s.length) return; // cut off: the rest is lost
		last = last.slice(0, shared) + s.slice(start, i);
		each(last, s[i]!);
		i++;
	}
}

// A BitReader reads a stream of bits; past its end they are zeros.
export class BitReader {
	private i = 0;
	private held = 0; // the last n bits of it are still to be read
	private n = 0;

	constructor(private readonly s: string) {}

	bit(): number {
		return this.bits(1);
	}

	// bits reads up to 24 bits as a number.
	bits(n: number): number {
		while (this.n < n) {
			const next = this.i < this.s.length ? bitsOf[this.s.charCodeAt(this.i++) & 127]! : 0;
			this.held = ((this.held << 6) | next) & 0x3fffffff;
			this.n += 6;
		}
		this.n -= n;
		return (this.held >> this.n) & ((1 << n) - 1);
	}

	unary(): number {
		let v = 0;
		while (this.bit() === 1) v++;
		return v;
	}

	rice(k: number): number {
		const high = this.unary();
		return (high << k) | this.bits(k);
	}

	// among reads one of 0 to n-1.
	among(n: number): number {
		if (n < 2) return 0;
		const long = 32 - Math.clz32(n - 1), short = (1 << long) - n;
		let v = this.bits(long - 1);
		if (v >= short) v = 2 * v + this.bit() - short;
		v += (n - short) >> 1;
		return v < n ? v : v - n;
	}

	// places reads a rising list of numbers from low to high into a part of out.
	places(out: Int32Array, from: number, to: number, low: number, high: number): void {
		while (from < to) {
			const m = (from + to) >> 1, least = low + m - from;
			const v = least + this.among(high - (to - 1 - m) - least + 1);
			out[m] = v;
			this.places(out, from, m, low, v - 1);
			from = m + 1;
			low = v + 1;
		}
	}

	count(): number {
		const n = this.unary();
		return (1 << n) | this.bits(n);
	}

	weight(): number {
		if (this.bit() === 0) return 1;
		if (this.bit() === 0) return 2;
		return this.bit() === 1 ? 3 + this.unary() : HEAD_WEIGHT + this.rice(1);
	}

	key(last: string): string {
		let key = last.slice(0, this.rice(2));
		for (let n = this.rice(1) + 1; n > 0; n--) key += this.letter();
		return key;
	}

	private letter(): string {
		if (this.bit() === 0) return KEY_LETTERS[this.bits(3)]!;
		if (this.bit() === 0) return KEY_LETTERS[8 + this.bits(3)]!;
		return KEY_LETTERS[16 + this.bits(5)] ?? String.fromCharCode(this.bits(16));
	}
}
