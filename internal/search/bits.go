package search

import (
	"math/bits"
	"slices"
	"strings"
	"unicode/utf8"
)

// Forms and occurrences are written as bits, six to a character. Compressing
// bytes does worse, all the more when letters and numbers are mixed in one file.
// With 64 characters equally frequent, gzip restores the bits as they were.
//
//	places a rising list: the middle one first, among the places that leave room
//	       for the others, then both halves in the same way. Moffat and Stuiver,
//	       "Binary interpolative coding for effective index compression"
//	       (Information Retrieval 3, 2000). A list that is dense somewhere, as
//	       of near twins or of long texts, is told in less
//	among  one of n, in as few bits as can be, the middle ones in one less
//	count  Elias gamma
//	weight 1: 0   2: 10   3 and more: 111 and unary   headWeight and more: 110
//	       and Rice with k = 1
//	key    Rice, k = 2: characters shared with the key before; k = 1: one less
//	       than the characters that follow; each of these by its place among
//	       keyLetters: the first 8 as 0 and 3 bits, the next 8 as 10 and 3, the
//	       next 31 as 11 and 5, any other as seven ones and 16 bits
const charBits = 6

// bitChars are the characters for six bits.
const bitChars = "ABCDEFGHIJKLMNOPQRSTUVWXYZabcdefghijklmnopqrstuvwxyz0123456789-_"

// bitsOf is the inverse of bitChars.
var bitsOf = func() (table [128]int) {
	for i, c := range []byte(bitChars) {
		table[c] = i
	}
	return table
}()

// keyLetters are the characters of keys from the common to the rare.
const keyLetters = "eaiotrnslcdpmuhgbfyvwkxzjq0123456789-.,*"

// A bitWriter appends bits to a text.
type bitWriter struct {
	b    strings.Builder
	held int // bits not written yet
	n    int // how many
}

// bits appends the low n bits of v, the highest first.
func (w *bitWriter) bits(v, n int) {
	for i := n - 1; i >= 0; i-- {
		w.held = w.held<<1 | v>>i&1
		if w.n++; w.n == charBits {
			w.b.WriteByte(bitChars[w.held])
			w.held, w.n = 0, 0
		}
	}
}

// unary appends v ones and a zero.
func (w *bitWriter) unary(v int) {
	for range v {
		w.bits(1, 1)
	}
	w.bits(0, 1)
}

func (w *bitWriter) rice(v, k int) {
	w.unary(v >> k)
	w.bits(v, k)
}

// among appends v, which is one of 0 to n-1.
func (w *bitWriter) among(v, n int) {
	long := bits.Len(uint(n - 1)) // bits of most
	short := 1<<long - n          // how many take one less
	v = (v - (n-short)/2 + n) % n
	if v < short {
		w.bits(v, long-1)
		return
	}
	w.bits(v+short, long)
}

// places appends a rising list of numbers from low to high.
func (w *bitWriter) places(list []occurrence, low, high int) {
	if len(list) == 0 || len(list) == high-low+1 {
		return
	}
	m := len(list) / 2
	v, least := list[m].doc, low+m
	w.among(v-least, high-(len(list)-1-m)-least+1)
	w.places(list[:m], low, v-1)
	w.places(list[m+1:], v+1, high)
}

// count appends v, which is 1 or more.
func (w *bitWriter) count(v int) {
	n := 0
	for v>>(n+1) > 0 {
		n++
	}
	w.unary(n)
	w.bits(v, n)
}

func (w *bitWriter) weight(v int) {
	switch {
	case v == 1:
		w.bits(0b0, 1)
	case v == 2:
		w.bits(0b10, 2)
	case v < headWeight:
		w.bits(0b111, 3)
		w.unary(v - 3)
	default:
		w.bits(0b110, 3)
		w.rice(v-headWeight, 1)
	}
}

// key appends a key that follows last.
func (w *bitWriter) key(last, key string) {
	chars, bytes := sharedPrefix(last, key)
	w.rice(chars, 2)
	rest := key[bytes:]
	w.rice(utf8.RuneCountInString(rest)-1, 1)
	for _, r := range rest {
		w.letter(r)
	}
}

func (w *bitWriter) letter(r rune) {
	switch i := strings.IndexRune(keyLetters, r); {
	case i < 0:
		w.bits(0b1111111, 7)
		w.bits(int(r), 16)
	case i < 8:
		w.bits(i, 4)
	case i < 16:
		w.bits(0b10000+i-8, 5)
	default:
		w.bits(0b1100000+i-16, 7)
	}
}

// text returns what was written, filled up with zeros.
func (w *bitWriter) text() string {
	if w.n > 0 {
		w.bits(0, charBits-w.n)
	}
	return w.b.String()
}

// size returns how many bytes text will return.
func (w *bitWriter) size() int { return w.b.Len() + min(w.n, 1) }

// A bitReader reads what a bitWriter wrote.
type bitReader struct {
	s    string
	i    int // next character
	held int
	n    int
}

func (r *bitReader) bit() int {
	if r.n == 0 {
		if r.i >= len(r.s) {
			return 0 // cut off: reads as zeros
		}
		r.held, r.n = bitsOf[r.s[r.i]&127], charBits
		r.i++
	}
	r.n--
	return r.held >> r.n & 1
}

func (r *bitReader) bits(n int) int {
	v := 0
	for range n {
		v = v<<1 | r.bit()
	}
	return v
}

func (r *bitReader) unary() int {
	v := 0
	for r.bit() == 1 {
		v++
	}
	return v
}

func (r *bitReader) rice(k int) int {
	high := r.unary()
	return high<<k | r.bits(k)
}

// among reads one of 0 to n-1.
func (r *bitReader) among(n int) int {
	if n < 2 {
		return 0
	}
	long := bits.Len(uint(n - 1))
	short := 1<<long - n
	v := r.bits(long - 1)
	if v >= short {
		v = (v<<1 | r.bit()) - short
	}
	return (v + (n-short)/2) % n
}

// places reads a rising list of numbers from low to high.
func (r *bitReader) places(list []occurrence, low, high int) {
	if len(list) == 0 {
		return
	}
	m := len(list) / 2
	least := low + m
	v := least + r.among(high-(len(list)-1-m)-least+1)
	list[m].doc = v
	r.places(list[:m], low, v-1)
	r.places(list[m+1:], v+1, high)
}

func (r *bitReader) count() int {
	n := r.unary()
	return 1<<n | r.bits(n)
}

func (r *bitReader) weight() int {
	if r.bit() == 0 {
		return 1
	}
	if r.bit() == 0 {
		return 2
	}
	if r.bit() == 1 {
		return 3 + r.unary()
	}
	return headWeight + r.rice(1)
}

func (r *bitReader) key(last []rune) []rune {
	shared := r.rice(2)
	key := slices.Clone(last[:min(shared, len(last))])
	for range r.rice(1) + 1 {
		key = append(key, r.letter())
	}
	return key
}

func (r *bitReader) letter() rune {
	if r.bit() == 0 {
		return rune(keyLetters[r.bits(3)])
	}
	if r.bit() == 0 {
		return rune(keyLetters[8+r.bits(3)])
	}
	if i := 16 + r.bits(5); i < len(keyLetters) {
		return rune(keyLetters[i])
	}
	return rune(r.bits(16))
}
