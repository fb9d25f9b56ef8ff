package unit

import (
	"slices"
	"strconv"
	"strings"
)

// ParseRate reads the rate of a product above 0, by area or by volume of
// finished spray:
//
//	rate  = number ( amount ( "/" | "per" ) [ count ] base | percent | "ppm" )
//	base  = area | volume
//	percent = "% v/v" | "% w/v"
//
// as in "10 fl oz/ac", "1 1/2 qt/ac", "2 lb/100 gal", "3 fl oz/1000 sq ft",
// "0.25 % v/v", "50 ppm". The count is a whole number of up to four digits.
// A percentage w/v is grams in 100 mL of spray, and 1 ppm is 1 mg of product in
// a liter of it. A rate by weight of active ingredient is refused: only the
// content of the product can turn it into a rate of product, see the package
// jar. A bare "oz" is a weight.
func ParseRate(s string) (Rate, error) {
	t, err := newText(s, "rate", "1.5 pt/ac")
	if err != nil {
		return Rate{}, err
	}
	n, err := t.number()
	if err != nil {
		return Rate{}, err
	}
	t.skipSpace()
	at := t.pos
	r, err := t.rateUnit(t.rest(), at)
	if err != nil {
		return Rate{}, err
	}
	if n.Sign() == 0 {
		return Rate{}, t.bad(Zero, 0, " is zero", "leave the product out, or "+t.write(t.example))
	}
	r.n = n.Mul(r.factor)
	return r, nil
}

// fixedRates are the rates whose unit is no amount per base.
var fixedRates = []struct {
	unit  Rate
	names []string // in the form of foldPercent
}{
	{Rate{basis: VolumePerVolume, written: "% v/v", factor: Frac(1, 100)},
		[]string{"%v/v", "%vol/vol", "%byvolume", "%volume/volume"}},
	{Rate{basis: MassPerVolume, written: "% w/v", factor: Frac(1, 100)},
		[]string{"%w/v", "%wt/v", "%wt/vol", "%m/v", "%weight/volume"}},
	{Rate{basis: MassPerVolume, written: "ppm", factor: Frac(1, 1000000)},
		[]string{"ppm", "partspermillion"}},
}

// foldPercent takes out of s what writers of percentages differ in.
func foldPercent(s string) string {
	s = strings.ReplaceAll(foldName(s), " ", "")
	s = strings.Replace(s, "percent", "%", 1)
	return strings.NewReplacer("(", "", ")", "").Replace(s)
}

// rateUnit reads what follows the number of a rate.
func (t *text) rateUnit(r string, at int) (Rate, error) {
	folded := foldPercent(r)
	for _, f := range fixedRates {
		if slices.Contains(f.names, folded) {
			return f.unit, nil
		}
	}
	if strings.HasPrefix(folded, "%") {
		return Rate{}, t.badPercent(folded, at)
	}
	if below, ok := ofActive(r); ok {
		return Rate{}, t.bad(OfActive, at, " is a rate of active ingredient or acid equivalent",
			"write the rate of the product"+below)
	}
	above, below, ok := cutPer(r)
	if !ok || below == "" {
		return Rate{}, t.noBase(above, at)
	}
	return t.perBase(above, below, at)
}

func (t *text) badPercent(folded string, at int) error {
	key := "%"
	if folded == "%w/w" {
		key = "% w/w"
	}
	return t.bad(AmbiguousUnit, at, ": "+traps[key].msg, traps[key].hint)
}

// ofActive reports whether a rate is by active ingredient or acid equivalent.
func ofActive(r string) (hint string, ok bool) {
	for _, word := range strings.FieldsFunc(foldName(r), func(c rune) bool { return c == ' ' || c == '/' }) {
		switch word {
		case "ai", "ae", "active":
			return ", worked out from its content of active", true
		}
	}
	return "", false
}

// noBase says what is wrong with a rate that has no "/" part.
func (t *text) noBase(above string, at int) error {
	sym, ok := amountWords.find(above)
	switch {
	case above == "":
		return t.bad(NoUnit, at, " has no unit", t.write(t.example)+" or another amount per area or per volume of spray")
	case !ok:
		return t.unknownUnit(above, at, amountWords)
	}
	area, volume := "ac", "100 gal"
	if isMetric(sym) {
		area, volume = "ha", "100 L"
	}
	num := t.upTo(at) + " " + sym + "/"
	return t.bad(NoBase, len(t.chars), " has no area",
		t.write(num+area)+`, or "`+num+volume+`" for a rate by volume of spray`)
}

// isMetric reports whether the symbol of an amount's unit is metric.
func isMetric(symbol string) bool {
	switch symbol {
	case "L", "mL", "kg", "g", "mg":
		return true
	}
	return false
}

// perBase reads "amount per count base".
func (t *text) perBase(above, below string, at int) (Rate, error) {
	factor, symbol, dry, err := t.amountUnit(above, at)
	if err != nil {
		return Rate{}, err
	}
	baseAt := len(t.chars) - len([]rune(below))
	count, name, err := t.count(below, baseAt)
	if err != nil {
		return Rate{}, err
	}
	if u, ok := areas.find(name); ok {
		return newRate(dry, true, symbol, count, u.Name, factor.Quo(u.factor.Mul(Int(count)))), nil
	}
	if u, ok := volumes.find(name); ok {
		return newRate(dry, false, symbol, count, u.Name, factor.Quo(u.factor.Mul(Int(count)))), nil
	}
	return Rate{}, t.unknownUnit(name, baseAt, baseWords)
}

// baseWords is the vocabulary of what a rate is per.
var baseWords = words{
	what:    "area or volume",
	symbols: areas.symbols() + ", " + volumes.symbols(),
	find: func(s string) (string, bool) {
		if c, ok := areas.symbol(s); ok {
			return c, true
		}
		return volumes.symbol(s)
	},
	near: func(s string) string {
		a, v := areas.near(s), volumes.near(s)
		if a != "" && v != "" {
			return ""
		}
		return a + v
	},
}

// amountUnit reads the unit above the bar.
func (t *text) amountUnit(above string, at int) (factor Number, symbol string, dry bool, err error) {
	if u, ok := volumes.find(above); ok {
		return u.factor, u.Name, false, nil
	}
	if u, ok := masses.find(above); ok {
		return u.factor, u.Name, true, nil
	}
	return Number{}, "", false, t.unknownUnit(above, at, amountWords)
}

// count reads the number before the base; none means 1.
func (t *text) count(below string, at int) (n int64, name string, err error) {
	digits, name := splitCount(below)
	digits = strings.TrimSpace(digits)
	switch {
	case strings.HasPrefix(name, ","):
		return 0, "", t.bad(BadCount, at, " has a comma in the count of its base", t.write("1000")+" without a comma")
	case strings.HasPrefix(name, "."):
		return 0, "", t.bad(BadCount, at, " has a fraction in the count of its base", "use a whole number")
	case digits == "":
		return 1, name, nil
	case len(digits) > MaxCount:
		return 0, "", t.bad(BadCount, at, " is per too many of its base", "use a count of at most 4 digits")
	case digits[0] == '0':
		return 0, "", t.bad(BadCount, at, " is per a count that starts with 0", t.write(t.example))
	}
	n, err = strconv.ParseInt(digits, 10, 64)
	return n, name, err
}

func newRate(dry, perArea bool, above string, count int64, below string, factor Number) Rate {
	r := Rate{basis: basisOf(dry, perArea), factor: factor, written: above + "/" + below}
	if count != 1 {
		r.written = above + "/" + strconv.FormatInt(count, 10) + " " + below
	}
	return r
}

func basisOf(dry, perArea bool) Basis {
	switch {
	case dry && perArea:
		return MassPerArea
	case dry:
		return MassPerVolume
	case perArea:
		return VolumePerArea
	}
	return VolumePerVolume
}
