package jar_test

import (
	"os"
	"testing"

	"tankleaf.example/internal/dataset"
	"tankleaf.example/internal/jar"
	"tankleaf.example/internal/mix"
	"tankleaf.example/internal/unit"
)

// TestStandardHardWater works the two published recipes of the 342 ppm water (CIPAC
// water D, equal to WHO standard hard water) from salts to ions to hardness.
func TestStandardHardWater(t *testing.T) {
	for _, c := range []struct {
		salts    []mix.Reagent
		hardness string
		ratio    string
		why      string
	}{
		{[]mix.Reagent{{Name: "calcium chloride", Amount: must(t, unit.ParseContent, "304 mg/L")},
			{Name: "magnesium chloride hexahydrate", Amount: must(t, unit.ParseContent, "139 mg/L")}}, "342.6", "4.0",
			"0.304 g CaCl2 and 0.139 g MgCl2·6H2O a liter: published 342 ppm, checked as 342.6"},
		// 2.740 g CaCO3 and 0.276 g MgO to 100 mL, of which 10 mL to 1 L: a tenth of them a liter.
		{[]mix.Reagent{{Name: "calcium carbonate", Amount: must(t, unit.ParseContent, "274 mg/L")},
			{Name: "magnesium oxide", Amount: must(t, unit.ParseContent, "27.6 mg/L")}}, "342.5", "4.0",
			"the stock of carbonate and oxide: checked as 342.5"},
	} {
		ca, mg, ok := jar.IonsOfSalts(c.salts)
		if !ok {
			t.Fatal(c.why)
		}
		if got := jar.HardnessOf(ca, mg).Base().Fixed(1); got != c.hardness {
			t.Errorf("%s: got %s ppm", c.why, got)
		}
		mol := ca.Base().Quo(unit.Frac(40078, 1000)).Quo(mg.Base().Quo(unit.Frac(24305, 1000)))
		if got := mol.Fixed(1); got != c.ratio {
			t.Errorf("%s: calcium to magnesium %s by mol", c.why, got)
		}
	}
	if _, _, ok := jar.IonsOfSalts([]mix.Reagent{{Name: "table salt"}}); ok {
		t.Error("a salt nobody knows must not count as none")
	}
	if _, _, ok := jar.IonsOfSalts(nil); ok {
		t.Error("a water without salts is not made up")
	}
}

// TestMadeWatersOfTheData holds that what the data says of a made water follows from
// its salts: hardness to 1 ppm, ions to a tenth.
func TestMadeWatersOfTheData(t *testing.T) {
	b, problems := dataset.Load(os.DirFS("../.."))
	if problems.Stops() {
		t.Fatal(problems)
	}
	made := 0
	near := func(v mix.Value, n unit.Number, by unit.Number) bool {
		d := v.N.Sub(n)
		return v.Known && d.Max(d.Neg()).Cmp(by) <= 0
	}
	for i := range b.Waters {
		w := &b.Waters[i]
		if len(w.MadeFrom) == 0 {
			continue
		}
		made++
		ca, mg, ok := jar.IonsOfSalts(w.MadeFrom)
		if !ok || !near(w.Hardness, jar.HardnessOf(ca, mg).Base(), unit.Int(1)) || !near(w.Calcium, ca.Base(), unit.Frac(1, 10)) ||
			!near(w.Magnesium, mg.Base(), unit.Frac(1, 10)) {
			t.Errorf("%s: salts give %s and %s ppm, %s ppm hard", w.ID, ca.Base().Fixed(1), mg.Base().Fixed(1), jar.HardnessOf(ca, mg).Base().Fixed(1))
		}
	}
	if made == 0 {
		t.Error("no made water in the data")
	}
}

func TestWeighSalt(t *testing.T) {
	p := bench(t).Weigh(mix.Reagent{Name: "calcium chloride", Amount: must(t, unit.ParseContent, "304 mg/L")}, must(t, unit.ParseVolume, "5 L"))
	if p.Poured.String() != "1.52 g" || p.Tool.ID != "scale-001" {
		t.Errorf("5 L take %v by %v", p.Poured, p.Tool)
	}
}
