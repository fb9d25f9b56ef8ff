package jar_test

import (
	"strings"
	"testing"

	"tankleaf.example/internal/jar"
	"tankleaf.example/internal/unit"
)

func TestFromActive(t *testing.T) {
	const pnw = "PNW Pest Management Handbooks, S27"
	for _, c := range []struct{ active, strength, as, want, source string }{
		{"3 lb/ac", "8 lb/gal", "pt/ac", "3 pt/ac", montana + ", S6"},
		{"3 lb/ac", "8 lb/gal", "qt/ac", "1.5 qt/ac", montana + ", S6"},
		{"3 lb/ac", "8 lb/gal", "gal/ac", "0.375 gal/ac", montana + ", S6"},
		{"1/2 lb/ac", "2 lb/gal", "qt/ac", "1 qt/ac", montana + ", S7"},
		{"2 lb/ac", "80 % w/w", "lb/ac", "2.5 lb/ac", montana + ", example 5, S10"},
		{"0.25 lb/ac", "4 lb/gal", "pt/ac", "0.5 pt/ac", pnw}, {"0.5 lb/ac", "4 lb/gal", "pt/ac", "1 pt/ac", pnw},
		{"0.75 lb/ac", "4 lb/gal", "pt/ac", "1.5 pt/ac", pnw}, {"1 lb/ac", "4 lb/gal", "pt/ac", "2 pt/ac", pnw},
		{"1.5 lb/ac", "4 lb/gal", "pt/ac", "3 pt/ac", pnw}, {"2 lb/ac", "4 lb/gal", "pt/ac", "4 pt/ac", pnw},
		{"0.25 lb/ac", "2 lb/gal", "pt/ac", "1 pt/ac", pnw}, {"0.5 lb/ac", "2 lb/gal", "pt/ac", "2 pt/ac", pnw},
		{"0.75 lb/ac", "2 lb/gal", "pt/ac", "3 pt/ac", pnw}, {"1 lb/ac", "2 lb/gal", "pt/ac", "4 pt/ac", pnw},
		{"1.5 lb/ac", "2 lb/gal", "pt/ac", "6 pt/ac", pnw}, {"2 lb/ac", "2 lb/gal", "pt/ac", "8 pt/ac", pnw},
		{"0.25 lb/ac", "8 lb/gal", "pt/ac", "0.25 pt/ac", pnw}, {"0.5 lb/ac", "8 lb/gal", "pt/ac", "0.5 pt/ac", pnw},
		{"0.75 lb/ac", "8 lb/gal", "pt/ac", "0.75 pt/ac", pnw}, {"1 lb/ac", "8 lb/gal", "pt/ac", "1 pt/ac", pnw},
		{"1.5 lb/ac", "8 lb/gal", "pt/ac", "1.5 pt/ac", pnw}, {"2 lb/ac", "8 lb/gal", "pt/ac", "2 pt/ac", pnw},
		{"0.25 lb/ac", "5 lb/gal", "pt/ac", "0.4 pt/ac", pnw}, {"0.5 lb/ac", "5 lb/gal", "pt/ac", "0.8 pt/ac", pnw},
		{"0.75 lb/ac", "5 lb/gal", "pt/ac", "1.2 pt/ac", pnw}, {"1 lb/ac", "5 lb/gal", "pt/ac", "1.6 pt/ac", pnw},
		{"1.5 lb/ac", "5 lb/gal", "pt/ac", "2.4 pt/ac", pnw}, {"2 lb/ac", "5 lb/gal", "pt/ac", "3.2 pt/ac", pnw},
		{"480 g/ha", "480 g/L", "L/ha", "1 L/ha", "metric, by hand"},
		{"1 kg/ha", "500 g/kg", "kg/ha", "2 kg/ha", "metric, by hand"},
		{"1 g/L", "25 % w/v", "% v/v", "0.4 % v/v", "by volume of spray, by hand"},
	} {
		got, err := jar.FromActive(must(t, unit.ParseRate, c.active), must(t, unit.ParseStrength, c.strength), c.as, unit.Density{})
		if err != nil || got.String() != c.want {
			t.Errorf("%s of active at %s = %v, %v; want %s (%s)", c.active, c.strength, got, err, c.want, c.source)
		}
	}
}

// S28, PNW Pest Management Handbooks: product per 1000 sq ft for 1 lb of active an
// acre, printed to whole mL and g.
func TestFromActivePerThousandSquareFeet(t *testing.T) {
	for _, c := range []struct{ strength, as, exact, printed string }{
		{"4 lb/gal", "mL/1000 sq ft", "21.73", "22"}, {"2 lb/gal", "mL/1000 sq ft", "43.45", "43"},
		{"1 lb/gal", "mL/1000 sq ft", "86.90", "87"}, {"100 % w/w", "g/1000 sq ft", "10.41", "10"},
		{"50 % w/w", "g/1000 sq ft", "20.83", "21"}, {"20 % w/w", "g/1000 sq ft", "52.07", "52"},
	} {
		got, err := jar.FromActive(must(t, unit.ParseRate, "1 lb/ac"), must(t, unit.ParseStrength, c.strength), c.as, unit.Density{})
		if err != nil {
			t.Fatal(err)
		}
		if n := got.Number(); n.Fixed(2) != c.exact || !near(t, n, c.printed, "1") {
			t.Errorf("%s: %s, want %s, printed %s", c.strength, n.Fixed(2), c.exact, c.printed)
		}
	}
}

// S26, Ohio State Univ. Extension column: pounds an acre ÷ 43.56 per 1000 sq ft.
func TestConvertLawnRates(t *testing.T) {
	for _, c := range []struct{ rate, as, exact, printed, step string }{
		{"43.56 lb/ac", "lb/1000 sq ft", "1.0000", "1", "0.01"},
		{"1 oz/sq ft", "lb/ac", "2722.5000", "2722.5", "0.1"},
		{"1 oz/100 sq ft", "lb/ac", "27.2250", "27.2", "0.1"},
	} {
		got, ok := jar.Convert(must(t, unit.ParseRate, c.rate), c.as, unit.SprayVolume{}, unit.Density{})
		if !ok || got.Number().Fixed(4) != c.exact || !near(t, got.Number(), c.printed, c.step) {
			t.Errorf("%s = %v, want %s, printed %s", c.rate, got, c.exact, c.printed)
		}
	}
}

func TestFromActiveRefuses(t *testing.T) {
	rate := func(s string) unit.Rate { return must(t, unit.ParseRate, s) }
	strength := must(t, unit.ParseStrength, "4 lb/gal")
	for _, c := range []struct {
		active unit.Rate
		s      unit.Strength
		as     string
		want   string
	}{
		{rate("1 pt/ac"), strength, "pt/ac", "is no weight"},
		{unit.Rate{}, strength, "pt/ac", "is no weight"},
		{rate("1 lb/ac"), unit.Strength{}, "pt/ac", "content of active is not known"},
		{rate("1 lb/ac"), strength, "lb/ac", "cannot be written"},
		{rate("1 lb/ac"), strength, "pt/100 gal", "cannot be written"},
		{rate("1 lb/ac"), strength, "furlong", "cannot be written"},
	} {
		if got, err := jar.FromActive(c.active, c.s, c.as, unit.Density{}); err == nil || !strings.Contains(err.Error(), c.want) {
			t.Errorf("%v as %s = %v, %v; want an error that %s", c.active, c.as, got, err, c.want)
		}
	}
}
