package jar_test

import (
	"slices"
	"testing"

	"tankleaf.example/internal/jar"
	"tankleaf.example/internal/mix"
	"tankleaf.example/internal/unit"
)

func ppm(n int64) mix.Value { return mix.Known(unit.Int(n)) }

func TestAmmoniumSulfate(t *testing.T) {
	for _, c := range []struct {
		ions    jar.Ions
		want    string
		missing []string
		why     string
	}{
		{jar.Ions{Potassium: ppm(5), Sodium: ppm(50), Calcium: ppm(100), Magnesium: ppm(40), Iron: ppm(1)},
			"1.762 lb/100 gal", nil, "0.010 + 0.250 + 0.900 + 0.560 + 0.042, by hand from the published coefficients"},
		{jar.Ions{Calcium: ppm(100), Magnesium: ppm(0)}, "0.9 lb/100 gal", []string{"potassium", "sodium", "iron"},
			"what was not measured is named"},
		{jar.Ions{Potassium: ppm(0), Sodium: ppm(0), Calcium: ppm(0), Magnesium: ppm(0), Iron: ppm(0)}, "0 lb/100 gal", nil,
			"measured as nothing is known"},
	} {
		got, ok := jar.AmmoniumSulfate(c.ions)
		if !ok || got.Rate.String() != c.want || !slices.Equal(got.Missing, c.missing) {
			t.Errorf("got %v, missing %v, %v; want %s, %v: %s", got.Rate, got.Missing, ok, c.want, c.missing, c.why)
		}
	}
	if got, ok := jar.AmmoniumSulfate(jar.Ions{}); ok || len(got.Missing) != 5 || !got.Rate.IsZero() {
		t.Errorf("nothing measured: got %v, %v; want no answer", got, ok)
	}
	w := mix.WaterSource{Calcium: ppm(100), Sodium: ppm(50), Iron: ppm(1), Magnesium: ppm(40), Potassium: ppm(5)}
	if got, _ := jar.AmmoniumSulfate(jar.IonsOf(&w)); got.Rate.String() != "1.762 lb/100 gal" {
		t.Errorf("from a water: %v", got.Rate)
	}
}

func TestHardness(t *testing.T) {
	// WHO standard hard water, 342 ppm: 0.304 g CaCl2 and 0.139 g MgCl2·6H2O a liter,
	// as in a copy of the Chinese emulsion-stability standard. Ion in each by molar
	// mass (IUPAC, from memory): Ca 40.078 of 110.98, Mg 24.305 of 203.30.
	calcium := unit.PartPerMillion.Of(unit.Int(304).Mul(unit.Frac(40078, 110980)))
	magnesium := unit.PartPerMillion.Of(unit.Int(139).Mul(unit.Frac(24305, 203300)))
	if got := jar.HardnessOf(calcium, magnesium).Base().Fixed(1); got != "342.6" {
		t.Errorf("standard hard water = %s ppm, want 342.6", got)
	}
	// 50 mg/L as calcium carbonate is 1 meq/L (FAO glossary copy): 20.039 mg of calcium.
	if got := jar.HardnessOf(unit.PartPerMillion.Of(unit.Frac(20039, 1000)), unit.Content{}).Base().Fixed(1); got != "50.0" {
		t.Errorf("1 meq/L of calcium = %s ppm, want 50.0", got)
	}
	// 1 ppm is 0.058 gpg (North Dakota State Univ. page).
	if got := unit.PartPerMillion.Of(unit.Int(1)).In(unit.GrainPerGallon).Fixed(3); got != "0.058" {
		t.Errorf("1 ppm = %s gpg, want 0.058", got)
	}
}
