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

// Code names a kind of refusal, for catalogues of messages.
type Code string

// The kinds of refusal.
const (
	Empty         Code = "empty"
	TooLong       Code = "too-long"       // more than MaxLength characters
	NotText       Code = "not-text"       // not UTF-8, or a control character
	NoNumber      Code = "no-number"      // does not start with a number
	Negative      Code = "negative"       // an amount is never below zero
	Sign          Code = "sign"           // a plus sign
	Zero          Code = "zero"           // nothing, where we divide by it or it means nothing
	Comma         Code = "comma"          // a comma for a decimal point
	Thousands     Code = "thousands"      // a comma that may be either
	Mark          Code = "mark"           // another mark between digits
	Gap           Code = "gap"            // a space between digits
	Exponent      Code = "exponent"       // 1e3
	BadPoint      Code = "point"          // a leading, trailing or second point
	LeadingZero   Code = "leading-zero"   // 010
	TooLarge      Code = "too-large"      // more than MaxDigits before the point
	TooPrecise    Code = "too-precise"    // more than MaxDecimals after it
	BadFraction   Code = "fraction"       // divides by zero, too long, or above one
	TwoNumbers    Code = "two-numbers"    // one after the other
	Range         Code = "range"          // 1-2
	NoUnit        Code = "no-unit"        // a number alone
	UnknownUnit   Code = "unknown-unit"   // a spelling of no unit
	WrongUnit     Code = "wrong-unit"     // a unit of another dimension
	AmbiguousUnit Code = "ambiguous-unit" // a spelling of two units
	KitchenUnit   Code = "kitchen-unit"   // spoons and cups
	Trailing      Code = "trailing"       // more after the unit
	NoBase        Code = "no-base"        // a rate that is not per anything
	BadCount      Code = "count"          // the number before what a rate is per
	OfActive      Code = "of-active"      // a rate of active ingredient
	OutOfRange    Code = "out-of-range"   // above 100 %, below absolute zero
	WrongBasis    Code = "wrong-basis"    // a rate in a unit of another basis
)

// SyntaxError tells why a text is no quantity, in the form that an author sees:
// what is wrong, and what to write instead.
type SyntaxError struct {
	Code   Code   // its kind
	Offset int    // where in the text, counted in characters from 0
	Msg    string // lower case, no full stop, what was read in quotes
	Hint   string // what to write instead
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
		return nil, t.fail(TooLong, 0, noun+" is too long to be one", t.write(example))
	case !utf8.ValidString(s):
		return nil, t.fail(NotText, 0, noun+" is not valid UTF-8 text", t.write(example))
	}
	t.chars = []rune(s)
	for i, r := range t.chars {
		if r < ' ' && r != '\t' || r == 0x7f {
			return nil, t.fail(NotText, i, noun+" holds a control character", t.write(example))
		}
	}
	if len(t.chars) > MaxLength {
		return nil, t.bad(TooLong, MaxLength, " is too long", t.write(example))
	}
	t.skipSpace()
	if t.done() {
		return nil, t.fail(Empty, 0, noun+` "" is empty`, t.write(example))
	}
	return t, nil
}

func (t *text) fail(c Code, at int, msg, hint string) error {
	return &SyntaxError{Code: c, Offset: at, Msg: msg, Hint: hint}
}

// bad refuses the input at a place: its noun, what was read, and what is wrong.
func (t *text) bad(c Code, at int, what, hint string) error {
	return t.fail(c, at, t.noun+" "+t.quoted()+what, hint)
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
