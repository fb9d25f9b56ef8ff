package unit

import (
	"strings"
	"unicode/utf8"
)

// Limits of what the parsers read. They keep hostile or pasted text cheap to
// refuse and every accepted number short enough to print in full.
const (
	MaxLength   = 64 // characters of a whole quantity or rate
	MaxDigits   = 9  // digits before the point
	MaxDecimals = 9  // digits after the point
	MaxFraction = 4  // digits above and below a fraction bar
	MaxCount    = 4  // digits of the count in a rate such as "2 lb/100 gal"
)

// SyntaxError tells why a text is no quantity, in the form that an author sees:
// what is wrong, and what to write instead.
type SyntaxError struct {
	Offset int    // where in the text, counted in characters from 0
	Msg    string // lower case, no full stop, what was read in quotes
	Hint   string // what to write instead; may be empty
}

// Error returns what is wrong, without the hint.
func (e *SyntaxError) Error() string { return e.Msg }

// text is an author's input on its way through a parser.
type text struct {
	noun    string // what the input should be: "rate"
	example string // one that would be right
	chars   []rune
	pos     int // of the next character
}

// newText refuses input that is not worth looking into: too long, not UTF-8,
// blank, or with control characters.
func newText(s, noun, example string) (*text, error) {
	t := &text{noun: noun, example: example}
	switch {
	case len(s) > 4*MaxLength:
		return nil, t.errorf(0, noun+" is too long to be one", t.write(example))
	case !utf8.ValidString(s):
		return nil, t.errorf(0, noun+" is not valid UTF-8 text", t.write(example))
	}
	t.chars = []rune(s)
	for i, r := range t.chars {
		if r < ' ' && r != '\t' || r == 0x7f {
			return nil, t.errorf(i, noun+" holds a control character", t.write(example))
		}
	}
	if len(t.chars) > MaxLength {
		return nil, t.errorf(MaxLength, noun+" "+t.quoted()+" is too long", t.write(example))
	}
	t.skipSpace()
	if t.done() {
		return nil, t.errorf(0, noun+` "" is empty`, t.write(example))
	}
	return t, nil
}

func (t *text) errorf(at int, msg, hint string) error {
	return &SyntaxError{Offset: at, Msg: msg, Hint: hint}
}

// write is the hint that shows what would be right.
func (t *text) write(example string) string { return `write "` + example + `"` }

// whole returns the input without outer space; quoted is it in quotes, cut
// when long.
func (t *text) whole() string { return strings.TrimSpace(string(t.chars)) }

func (t *text) quoted() string {
	w := []rune(t.whole())
	if len(w) > 40 {
		w = append(w[:39:39], '…')
	}
	return `"` + strings.ReplaceAll(string(w), `"`, "'") + `"`
}

func (t *text) done() bool { return t.pos == len(t.chars) }

// peek returns the next character, 0 at the end.
func (t *text) peek() rune { return t.peekAt(0) }

func (t *text) peekAt(n int) rune {
	if t.pos+n >= len(t.chars) {
		return 0
	}
	return t.chars[t.pos+n]
}

func isSpace(r rune) bool {
	switch r {
	case ' ', '\t', '\u00a0', '\u2009', '\u202f':
		return true
	}
	return false
}

func isDigit(r rune) bool { return r >= '0' && r <= '9' }

func (t *text) skipSpace() {
	for isSpace(t.peek()) {
		t.pos++
	}
}

// digits takes a run of digits, perhaps an empty one.
func (t *text) digits() string {
	start := t.pos
	for isDigit(t.peek()) {
		t.pos++
	}
	return string(t.chars[start:t.pos])
}

// rest takes all that is left, with inner space made single and outer space
// gone.
func (t *text) rest() string {
	s := string(t.chars[t.pos:])
	t.pos = len(t.chars)
	return strings.Join(strings.FieldsFunc(s, isSpace), " ")
}
