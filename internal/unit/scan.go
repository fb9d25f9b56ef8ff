package unit

import (
	"math/big"
	"strings"
)

// vulgar holds the fractions that have a character of their own.
var vulgar = map[rune]Number{
	'½': Frac(1, 2), '⅓': Frac(1, 3), '⅔': Frac(2, 3), '¼': Frac(1, 4), '¾': Frac(3, 4),
	'⅕': Frac(1, 5), '⅖': Frac(2, 5), '⅗': Frac(3, 5), '⅘': Frac(4, 5), '⅙': Frac(1, 6),
	'⅚': Frac(5, 6), '⅛': Frac(1, 8), '⅜': Frac(3, 8), '⅝': Frac(5, 8), '⅞': Frac(7, 8),
}

// number takes a number as the trade writes it:
//
//	number   = decimal | fraction | whole " " fraction | whole glyph | glyph
//	decimal  = digits [ "." digits ]          0.25  12
//	fraction = digits ( "/" | "⁄" ) digits    1/2
//	glyph    = "½" and the like
//
// Signs, exponents, commas, gaps between digits, a leading or trailing point and
// leading zeros are refused with what to write instead: each of them is read
// differently by different people.
func (t *text) number() (Number, error) {
	t.skipSpace()
	if err := t.refuseStart(); err != nil {
		return Number{}, err
	}
	if n, ok := vulgar[t.peek()]; ok {
		t.pos++
		return n, t.refuseEnd()
	}
	start := t.pos
	whole := t.digits()
	if err := t.refuseWhole(start, whole); err != nil {
		return Number{}, err
	}
	n := fromDigits(whole)
	var err error
	switch {
	case t.peek() == '.':
		n, err = t.decimals(whole)
	case isBar(t.peek()) && isDigit(t.peekAt(1)):
		n, err = t.fraction(start, whole)
	default:
		n, err = t.mixed(n)
	}
	if err != nil {
		return Number{}, err
	}
	return n, t.refuseEnd()
}

func isBar(r rune) bool { return r == '/' || r == '⁄' }

// fromDigits reads a run of digits; "" is 0.
func fromDigits(s string) Number {
	i, _ := new(big.Int).SetString("0"+s, 10)
	return Number{new(big.Rat).SetInt(i)}
}

// decimals takes the point and what follows it.
func (t *text) decimals(whole string) (Number, error) {
	point := t.pos
	t.pos++
	d := t.digits()
	switch {
	case d == "":
		return Number{}, t.bad(BadPoint, point, " ends its number with a point",
			t.write(whole)+" without the point")
	case len(d) > MaxDecimals:
		return Number{}, t.bad(TooPrecise, point+1+MaxDecimals, " has more than 9 decimals",
			"write at most 9 digits after the point")
	case t.peek() == '.':
		return Number{}, t.bad(BadPoint, t.pos, " has two points in its number",
			t.write(whole+"."+d)+", with one point")
	}
	scale := new(big.Int).Exp(big.NewInt(10), big.NewInt(int64(len(d))), nil)
	return fromDigits(whole + d).Quo(Number{new(big.Rat).SetInt(scale)}), nil
}

// fraction takes the bar and the digits below it.
func (t *text) fraction(start int, above string) (Number, error) {
	t.pos++
	below := t.digits()
	switch {
	case len(above) > MaxFraction || len(below) > MaxFraction:
		return Number{}, t.bad(BadFraction, start, " has a fraction of too many digits",
			"write it as a decimal with a point")
	case strings.Trim(below, "0") == "":
		return Number{}, t.bad(BadFraction, start, " divides by zero", t.write("1/2"))
	}
	return fromDigits(above).Quo(fromDigits(below)), nil
}

// mixed takes the fraction after a whole number, if there is one.
func (t *text) mixed(whole Number) (Number, error) {
	mark := t.pos
	t.skipSpace()
	if n, ok := vulgar[t.peek()]; ok {
		t.pos++
		return whole.Add(n), nil
	}
	start := t.pos
	above := t.digits()
	if above == "" {
		t.pos = mark
		return whole, nil
	}
	if !isBar(t.peek()) || !isDigit(t.peekAt(1)) {
		return Number{}, t.bad(Gap, mark, " has a gap between its digits",
			t.write(whole.Short(0)+above)+" without the gap")
	}
	n, err := t.fraction(start, above)
	if err == nil && n.Cmp(Int(1)) >= 0 {
		err = t.bad(BadFraction, start, " has a fraction of 1 or more after a whole number",
			"write it as one decimal number")
	}
	return whole.Add(n), err
}

// refuseStart refuses what cannot start a number here.
func (t *text) refuseStart() error {
	switch r := t.peek(); {
	case r == '-' || r == '−' || r == '–':
		return t.bad(Negative, t.pos, " is negative", t.write(t.example))
	case r == '+':
		return t.bad(Sign, t.pos, ` starts with "+"`, "write it without the sign")
	case r == '.' && isDigit(t.peekAt(1)):
		return t.bad(BadPoint, t.pos, " starts with a point, which is easily lost in print",
			`write a 0 before the point, as in "0.5"`)
	case r == '.':
		return t.bad(NoNumber, t.pos, " has no number", t.write(t.example))
	case isDigit(r) || vulgar[r].Sign() > 0:
		return nil
	}
	return t.bad(NoNumber, t.pos, " does not start with a number", t.write(t.example))
}

// refuseWhole refuses a run of digits that is too long or starts with zeros.
func (t *text) refuseWhole(start int, whole string) error {
	trimmed := strings.TrimLeft(whole, "0")
	switch {
	case len(trimmed) > MaxDigits:
		return t.bad(TooLarge, start, " is too large: more than 9 digits", "check the number and its unit")
	case len(whole) > 1 && whole[0] == '0':
		if trimmed == "" {
			trimmed = "0"
		}
		return t.bad(LeadingZero, start, " has a number with leading zeros", t.write(trimmed))
	}
	return nil
}

// refuseEnd refuses what must not follow a number: a comma, an exponent, a
// second number, a range.
func (t *text) refuseEnd() error {
	r, next := t.peek(), t.peekAt(1)
	switch {
	case r == ',' || r == '\'' || r == '’' || r == '_':
		return t.refuseMark(r)
	case (r == 'e' || r == 'E') && (isDigit(next) || next == '-' || next == '+'):
		return t.bad(Exponent, t.pos, " has an exponent", "write all digits of the number")
	}
	mark := t.pos
	defer func() { t.pos = mark }()
	t.skipSpace()
	if r := t.peek(); r == '.' || isDigit(r) || vulgar[r].Sign() > 0 {
		return t.bad(TwoNumbers, mark, " has two numbers", t.write(t.example))
	}
	if strings.ContainsRune("-–—−~", t.peek()) || strings.HasPrefix(string(t.chars[t.pos:]), "to ") {
		return t.bad(Range, t.pos, " is a range", "write one number; a range has a key for each end")
	}
	return nil
}

// refuseMark refuses a comma or another mark inside a number. With exactly three
// digits after a comma nobody can say which of two numbers was meant.
func (t *text) refuseMark(mark rune) error {
	at := t.pos
	before := t.pos
	for before > 0 && (isDigit(t.chars[before-1])) {
		before--
	}
	whole := string(t.chars[before:at])
	t.pos++
	after := t.digits()
	if mark != ',' {
		return t.bad(Mark, at, " has a mark between its digits", t.write(whole+after))
	}
	if len(after) == 3 && whole != "0" {
		return t.bad(Thousands, at, " has a comma that may be a decimal point or a mark for thousands",
			t.write(whole+after)+` or "`+whole+"."+after+`"`)
	}
	if after == "" {
		return t.bad(Comma, at, " has a comma after its number", "write it without the comma")
	}
	return t.bad(Comma, at, " has a comma in its number", t.write(whole+"."+after)+" with a point")
}
