package unit_test

import (
	"testing"

	"tankleaf.example/internal/unit"
)

// value parses "1 gal" and returns how many of a unit that is.
func value[D any](t *testing.T, parse func(string) (D, error), s string) D {
	t.Helper()
	v, err := parse(s)
	if err != nil {
		t.Fatal(err)
	}
	return v
}

// Definitions and exact values, each with where it was read or how it follows.
func TestDefinitions(t *testing.T) {
	vol := func(s string) unit.Number { return value(t, unit.ParseVolume, s).In(unit.Milliliter) }
	mass := func(s string) unit.Number { return value(t, unit.ParseMass, s).In(unit.Gram) }
	area := func(s string) unit.Number { return value(t, unit.ParseArea, s).In(unit.SquareMeter) }
	for _, c := range []struct {
		what     string
		got      unit.Number
		decimals int
		want     string
		source   string
	}{
		{"gallon", vol("1 gal"), 6, "3785.411784", "231 in³, NIST Handbook 44 appendix C p. 382; 231 × 2.54³"},
		{"quart", vol("1 qt"), 6, "946.352946", "gallon / 4"},
		{"pint", vol("1 pt"), 6, "473.176473", "gallon / 8"},
		{"fluid ounce", vol("1 fl oz"), 10, "29.5735295625", "gallon / 128"},
		{"pound", mass("1 lb"), 5, "453.59237", "agreement of 1 July 1959: 0.45359237 kg"},
		{"ounce", mass("1 oz"), 9, "28.349523125", "pound / 16"},
		{"acre", area("1 ac"), 7, "4046.8564224", "43,560 sq ft, international foot"},
		{"acre in sq ft", value(t, unit.ParseArea, "1 ac").In(unit.SquareFoot), 6, "43560.000000",
			"National certification core manual, appendix C p. 263"},
		{"2.5 gal in fl oz", value(t, unit.ParseVolume, "2.5 gal").In(unit.FluidOunce), 6, "320.000000",
			"the same appendix"},
		{"gal in fl oz", value(t, unit.ParseVolume, "1 gal").In(unit.FluidOunce), 6, "128.000000", "the same appendix"},
		{"mph", value(t, unit.ParseSpeed, "1 mph").In(unit.FootPerMinute), 6, "88.000000", "5280 / 60"},
		{"GPA", value(t, unit.ParseSprayVolume, "1 GPA").In(unit.LiterPerHectare), 6, "9.353956",
			"3.785411784 / 0.40468564224"},
		{"gpg", value(t, unit.ParseContent, "1 gpg").In(unit.MilligramPerLiter), 6, "17.118061",
			"64.79891 mg / 3.785411784 L"},
	} {
		if got := c.got.Fixed(c.decimals); got != c.want {
			t.Errorf("%s = %s, want %s (%s)", c.what, got, c.want, c.source)
		}
	}
}

// Rates in other units, from the definitions above.
func TestRateFactors(t *testing.T) {
	for _, c := range []struct {
		in       string
		scale    unit.Number // of the base unit, mL/m² or g/m²
		decimals int
		want     string
	}{
		{"1 pt/ac", unit.Int(10_000), 2, "1169.24"},        // mL/ha
		{"1 qt/ac", unit.Int(10), 6, "2.338489"},           // L/ha
		{"1 fl oz/ac", unit.Int(10_000), 4, "73.0778"},     // mL/ha
		{"1 lb/ac", unit.Int(10), 6, "1.120851"},           // kg/ha
		{"1 oz/ac", unit.Int(10_000), 4, "70.0532"},        // g/ha
		{"1 % v/v", unit.Int(100), 3, "1.000"},             // mL in 100 mL
		{"1 % w/v", unit.Int(100), 3, "1.000"},             // g in 100 mL
		{"50 ppm", unit.Int(1_000_000), 3, "50.000"},       // mg in 1 L
		{"1 L/100 L", unit.Int(100), 3, "1.000"},           // the same as 1 % v/v
		{"1 gal/100 gal", unit.Int(100), 3, "1.000"},       // and this
		{"8.5 lb/100 gal", unit.Int(1_000), 4, "10.1852"},  // g/L
		{"3 fl oz/1000 sq ft", unit.Int(1), 6, "0.954980"}, // mL/m²
	} {
		r := value(t, unit.ParseRate, c.in)
		if got := r.Base().Mul(c.scale).Fixed(c.decimals); got != c.want {
			t.Errorf("%s = %s, want %s", c.in, got, c.want)
		}
	}
}

// Printed tables that round: the exact value must lie within half of the last
// digit printed, or be named as a trap.
func TestPrintedTables(t *testing.T) {
	near := func(printed, step, exact unit.Number) bool {
		d := printed.Sub(exact)
		if d.Sign() < 0 {
			d = d.Neg()
		}
		return d.Mul(unit.Int(2)).Cmp(step) <= 0
	}
	for _, c := range []struct {
		name          string
		printed, step unit.Number
		exact         unit.Number
		trap          bool // the printed value is not the rounded exact one
		source        string
	}{
		{"fl oz in mL", unit.Int(30), unit.Int(1), unit.FluidOunce.Of(unit.Int(1)).Base(), false, "NIST SP 430"},
		{"pint in mL", unit.Int(473), unit.Int(1), unit.Pint.Of(unit.Int(1)).Base(), false, "NIST SP 430"},
		{"quart in mL", unit.Int(946), unit.Int(1), unit.Quart.Of(unit.Int(1)).Base(), false, "NIST SP 430"},
		{"gallon in mL", unit.Int(3785), unit.Int(1), unit.Gallon.Of(unit.Int(1)).Base(), false, "PNW Handbooks"},
		{"ounce in g", unit.Frac(284, 10), unit.Frac(1, 10), unit.Ounce.Of(unit.Int(1)).Base(), true,
			"PNW Handbooks; 28.3495 rounds to 28.3"},
		{"pound in g", unit.Int(454), unit.Int(1), unit.Pound.Of(unit.Int(1)).Base(), false, "PNW Handbooks"},
		{"pint in mL, cooking", unit.Int(480), unit.Int(10), unit.Pint.Of(unit.Int(1)).Base(), true,
			"NIST cooking equivalencies, not for dosing"},
		{"gallon in L, cooking", unit.Frac(384, 100), unit.Frac(1, 100), unit.Gallon.Of(unit.Int(1)).In(unit.Liter), true,
			"NIST cooking equivalencies, not for dosing"},
		{"GPA in L/ha", unit.Frac(935, 100), unit.Frac(1, 100), unit.GallonPerAcre.Of(unit.Int(1)).In(unit.LiterPerHectare),
			false, "Pesticide Environmental Stewardship"},
		{"gpg in ppm", unit.Frac(171, 10), unit.Frac(1, 10), unit.GrainPerGallon.Of(unit.Int(1)).Base(), false,
			"Univ. of Florida bulletin"},
		{"acre in ha", unit.Frac(405, 1000), unit.Frac(1, 1000), unit.Acre.Of(unit.Int(1)).In(unit.Hectare), false,
			"Core Manual, appendix C p. 263"},
		{"acre, survey foot", unit.Frac(4046873, 1000), unit.Frac(1, 1000), unit.Acre.Of(unit.Int(1)).Base(), true,
			"survey acre, 4 parts in a million larger; we use the international one"},
	} {
		if near(c.printed, c.step, c.exact) == c.trap {
			t.Errorf("%s: printed %s, exact %s, trap %v (%s)", c.name, c.printed.Short(6), c.exact.Fixed(6), c.trap, c.source)
		}
	}
}
