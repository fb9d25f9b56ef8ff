package unit_test

import (
	"strings"
	"testing"

	"pgregory.net/rapid"
	"tankleaf.example/internal/unit"
)

// numberText draws a number as an author may write it.
func numberText() *rapid.Generator[string] {
	digits := rapid.StringMatching(`0|[1-9][0-9]{0,8}`)
	return rapid.OneOf(
		digits,
		rapid.StringMatching(`(0|[1-9][0-9]{0,8})\.[0-9]{1,9}`),
		rapid.StringMatching(`[1-9][0-9]{0,3}/[1-9][0-9]{0,3}`),
		rapid.StringMatching(`[1-9][0-9]{0,4} 1/[2-9][0-9]{0,3}`),
		rapid.StringMatching(`([1-9][0-9]{0,4} ?)?[½⅓⅔¼¾⅛⅜⅝⅞]`),
	)
}

var amountUnits = []string{"gal", "qt", "pt", "fl oz", "L", "mL", "lb", "oz", "kg", "g", "mg"}
var baseUnits = []string{"ac", "ha", "1000 sq ft", "m²", "100 m²", "100 gal", "gal", "100 L", "L", "9999 mL"}

// Every accepted text prints to a text that reads back to the same rate, and
// printing again changes nothing.
func TestRateRoundTrip(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		u := rapid.SampledFrom(amountUnits).Draw(t, "unit") + "/" + rapid.SampledFrom(baseUnits).Draw(t, "base")
		u = rapid.SampledFrom([]string{u, u, u, "% v/v", "% w/v", "ppm"}).Draw(t, "written")
		in := numberText().Draw(t, "number") + " " + u
		r, err := unit.ParseRate(in)
		if err != nil {
			if strings.Trim(strings.TrimSuffix(in, u), "0. ") == "" {
				return // a rate of zero is refused
			}
			t.Fatalf("%q: %v", in, err)
		}
		back, err := unit.ParseRate(r.String())
		if err != nil || !back.Equal(r) || back.String() != r.String() {
			t.Fatalf("%q prints as %q, which reads as %v, %v", in, r, back, err)
		}
		if r.Unit() != u {
			t.Fatalf("%q keeps the unit %q", in, r.Unit())
		}
	})
}

// roundTrip checks one dimension.
func roundTrip[Q interface {
	String() string
	Equal(Q) bool
}](t *testing.T, parse func(string) (Q, error), units ...string) {
	t.Helper()
	rapid.Check(t, func(t *rapid.T) {
		in := numberText().Draw(t, "number") + " " + rapid.SampledFrom(units).Draw(t, "unit")
		q, err := parse(in)
		if err != nil {
			if strings.HasSuffix(err.Error(), "is zero") {
				return
			}
			t.Fatalf("%q: %v", in, err)
		}
		if back, err := parse(q.String()); err != nil || !back.Equal(q) {
			t.Fatalf("%q prints as %q, which reads as %v, %v", in, q, back, err)
		}
	})
}

func TestQuantityRoundTrip(t *testing.T) {
	roundTrip(t, unit.ParseVolume, "gal", "qt", "pt", "fl oz", "L", "mL")
	roundTrip(t, unit.ParseMass, "lb", "oz", "kg", "g", "mg")
	roundTrip(t, unit.ParseArea, "ac", "ha", "sq ft", "m²")
	roundTrip(t, unit.ParseLength, "in", "ft", "m", "cm", "mm")
	roundTrip(t, unit.ParseDensity, "g/mL", "g/L", "kg/L", "lb/gal")
	roundTrip(t, unit.ParseTemperature, "°F", "°C")
	roundTrip(t, unit.ParseDuration, "min", "h", "s", "d")
	roundTrip(t, unit.ParseFlow, "gal/min", "L/min", "fl oz/min", "mL/min")
	roundTrip(t, unit.ParseSpeed, "mph", "km/h", "ft/min", "m/min")
	roundTrip(t, unit.ParseSprayVolume, "gal/ac", "L/ha", "gal/1000 sq ft", "mL/m²")
	roundTrip(t, unit.ParseContent, "ppm", "mg/L", "gpg")
}

// fromParts sums the terms of a split in mL or g.
func fromParts(t *rapid.T, p unit.Parts) unit.Number {
	sum := unit.Int(0)
	for _, term := range p {
		// A split may have more digits than an author's text, so sum by units.
		one, err := unit.ParseAmount("1 " + term.Unit)
		if err != nil {
			t.Fatal(err)
		}
		sum = sum.Add(one.Base().Mul(term.Number))
	}
	return sum
}

// The parts of a split sum to the whole within half of the last digit shown,
// and every part but the last is a whole number below the next larger unit.
func TestSplitSums(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		n := unit.Frac(rapid.Int64Range(0, 1_000_000_000).Draw(t, "num"), rapid.Int64Range(1, 100_000).Draw(t, "den"))
		a := unit.Amount{Volume: unit.Milliliter.Of(n)}
		if rapid.Bool().Draw(t, "dry") {
			a = unit.Amount{Dry: true, Mass: unit.Gram.Of(n)}
		}
		sys := rapid.SampledFrom(unit.Systems).Draw(t, "system")
		parts := a.Split(sys)
		smallest := map[bool]map[unit.System]unit.Number{
			false: {unit.US: unit.FluidOunce.Of(unit.Int(1)).Base(), unit.Metric: unit.Int(1)},
			true:  {unit.US: unit.Ounce.Of(unit.Int(1)).Base(), unit.Metric: unit.Int(1)},
		}[a.Dry][sys]
		step := smallest.Mul(unit.Int(1))
		if sys == unit.US {
			step = step.Quo(unit.Int(10))
		}
		diff := fromParts(t, parts).Sub(n)
		if diff.Sign() < 0 {
			diff = diff.Neg()
		}
		if diff.Cmp(step.Quo(unit.Int(2))) > 0 {
			t.Fatalf("%v in %v splits into %v: off by %s", n.Short(9), sys, parts, diff.Short(9))
		}
		if n.Cmp(smallest.Quo(unit.Int(1000))) >= 0 && diff.Mul(unit.Int(200)).Cmp(n) > 0 {
			t.Fatalf("%v in %v splits into %v: off by more than 0.5 %%", n.Short(9), sys, parts)
		}
		for _, p := range parts[:len(parts)-1] {
			if !p.Number.IsInt() || p.Number.Sign() <= 0 {
				t.Fatalf("%v: %s %s is not a whole number of it", parts, p.Number.Short(9), p.Unit)
			}
		}
	})
}

// Scaling is linear and exact.
func TestScalingIsLinear(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		a := unit.Quart.Of(unit.Frac(rapid.Int64Range(0, 1e9).Draw(t, "a"), rapid.Int64Range(1, 1e6).Draw(t, "b")))
		k := unit.Frac(rapid.Int64Range(1, 1e6).Draw(t, "k"), rapid.Int64Range(1, 1e6).Draw(t, "l"))
		if !a.Add(a).Times(k).Equal(a.Times(k).Times(unit.Int(2))) {
			t.Fatal("(a + a) × k must be 2 × (a × k)")
		}
		if !a.Times(k).Over(k).Equal(a) || a.Sign() > 0 && !a.Times(k).Per(a).Equal(k) {
			t.Fatal("scaling must be undone exactly")
		}
	})
}
