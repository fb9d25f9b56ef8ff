package search

import (
	"strings"
	"unicode/utf8"
)

// Numbers and words are written as printable ASCII inside JavaScript strings:
// compressed, that is smaller than binary in base64 and than JSON, and a
// classic script is the only way to read a neighbor from a folder.
//
// A number below lastDigits is one character. A larger one starts with one of
// the moreDigits characters that say "and more of that":
//
//	v < 60             digit[v]
//	otherwise, v = x + 33·rest with x in 60..92: digit[x], then rest
const (
	lastDigits = 60
	moreDigits = 33
)

// digits are the printable ASCII characters that a JavaScript string holds
// without a backslash.
const digits = " !#$%&'()*+,-./0123456789:;<=>?@ABCDEFGHIJKLMNOPQRSTUVWXYZ[]^_`abcdefghijklmnopqrstuvwxyz{|}~"

// digitOf is the inverse of digits.
var digitOf = func() (table [128]int) {
	for i, c := range []byte(digits) {
		table[c] = i
	}
	return table
}()

// writeNumber appends v, which is not negative.
func writeNumber(b *strings.Builder, v int) {
	for v >= lastDigits {
		x := lastDigits + (v-lastDigits)%moreDigits
		b.WriteByte(digits[x])
		v = (v - x) / moreDigits
	}
	b.WriteByte(digits[v])
}

// A numbers reads what writeNumber wrote.
type numbers struct {
	s string
	i int
}

func (n *numbers) more() bool { return n.i < len(n.s) }

func (n *numbers) next() int {
	v, factor := 0, 1
	for n.i < len(n.s) {
		x := digitOf[n.s[n.i]&127]
		n.i++
		v += x * factor
		if x < lastDigits {
			break
		}
		factor *= moreDigits
	}
	return v
}

// A keyWriter writes words in order, each as the number of characters it
// shares with the one before, the rest, and an end mark that is in no word.
type keyWriter struct {
	b    strings.Builder
	last string
}

func (w *keyWriter) add(key string, end byte) {
	chars, bytes := sharedPrefix(w.last, key)
	w.b.WriteByte(digits[chars])
	w.b.WriteString(key[bytes:])
	w.b.WriteByte(end)
	w.last = key
}

// sharedPrefix returns how many characters two words have in common at the
// start, less than lastDigits, and how many bytes these are.
func sharedPrefix(a, b string) (chars, bytes int) {
	for i, r := range b {
		end := i + utf8.RuneLen(r)
		if end > len(a) || chars+1 >= lastDigits || a[i:end] != b[i:end] {
			break
		}
		chars, bytes = chars+1, end
	}
	return chars, bytes
}

// readKeys calls each with every word that a keyWriter wrote and its end mark;
// isEnd tells end marks from the characters of words.
func readKeys(s string, isEnd func(byte) bool, each func(key string, end byte)) {
	last := ""
	for i := 0; i < len(s); {
		shared := digitOf[s[i]&127]
		start := i + 1
		for i = start; i < len(s) && !isEnd(s[i]); i++ {
		}
		if i == len(s) {
			return // cut off: the rest is lost
		}
		last = firstChars(last, shared) + s[start:i]
		each(last, s[i])
		i++
	}
}

// firstChars returns the first n characters of s.
func firstChars(s string, n int) string {
	for i := range s {
		if n == 0 {
			return s[:i]
		}
		n--
	}
	return s
}

func isSpace(c byte) bool { return c == ' ' }
func isUpper(c byte) bool { return 'A' <= c && c <= 'Z' }
