package unit

import "strings"

// words is what an error message needs to know of a vocabulary.
type words struct {
	what    string // what was asked for
	symbols string // what may be written
	find    func(string) (symbol string, ok bool)
	near    func(string) string
}

func (v *vocabulary[D]) words() words {
	return words{what: v.what, symbols: v.symbols(), find: v.symbol, near: v.near}
}

// amountWords is the vocabulary of volumes and weights together.
var amountWords = words{
	what:    "volume or weight",
	symbols: volumes.symbols() + ", " + masses.symbols(),
	find: func(s string) (string, bool) {
		if c, ok := volumes.symbol(s); ok {
			return c, true
		}
		return masses.symbol(s)
	},
	near: func(s string) string {
		v, m := volumes.near(s), masses.near(s)
		if v != "" && m != "" {
			return ""
		}
		return v + m
	},
}

// unknownUnit says what is wrong with unit r at the given place, when w was
// asked for.
func (t *text) unknownUnit(r string, at int, w words) error {
	if r == "" {
		return t.bad(NoUnit, at, " has no unit", t.write(t.example)+"; units are "+w.symbols)
	}
	if w.what == "volume" && masses.has(r) && strings.HasPrefix(foldName(r), "o") {
		return t.bad(WrongUnit, at, ` is in ounces of weight`,
			t.write(t.upTo(at)+" fl oz")+" for a liquid")
	}
	if code, msg, hint, ok := trap(r); ok {
		return t.bad(code, at, ": "+msg, hint)
	}
	if what := whatIs(canonical(r)); what != "" {
		return t.bad(WrongUnit, at, " is in a unit of "+what, "write a unit of "+w.what+": "+w.symbols)
	}
	if symbol, tail, ok := cutTail(r, w.find); ok {
		return t.bad(Trailing, at, ` has "`+tail+`" after its unit`,
			t.write(t.joined(at, symbol)))
	}
	if n := w.near(r); n != "" {
		return t.bad(UnknownUnit, at, ` has the unknown unit "`+r+`"`, `did you mean "`+n+`"?`)
	}
	return t.bad(UnknownUnit, at, ` has the unknown unit "`+r+`"`, "units are "+w.symbols)
}

// upTo returns the input before a place: the number as it was written.
func (t *text) upTo(at int) string { return strings.TrimSpace(string(t.chars[:at])) }

// joined is the input before a place with a unit's symbol set after it.
func (t *text) joined(at int, symbol string) string {
	if before := t.upTo(at); strings.HasSuffix(before, "/") {
		return before + symbol
	}
	return t.upTo(at) + " " + symbol
}

// canonical is the compound form of s when it has one, else s.
func canonical(s string) string {
	if c, ok := compound(s); ok {
		return c
	}
	return s
}

// cutTail splits r at the last space before which it is a unit.
func cutTail(r string, find func(string) (string, bool)) (symbol, tail string, ok bool) {
	for i := strings.LastIndexByte(r, ' '); i > 0; i = strings.LastIndexByte(r[:i], ' ') {
		if symbol, ok = find(canonical(r[:i])); ok {
			return symbol, r[i+1:], true
		}
	}
	return "", "", false
}
