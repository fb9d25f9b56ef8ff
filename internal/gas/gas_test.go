package gas_test

import (
	"math"
	"testing"

	"pgregory.net/rapid"

	"tankleaf.example/internal/gas"
	"tankleaf.example/internal/mix"
	"tankleaf.example/internal/unit"
)

// TestCarbonates holds molar masses, mol and grams of gas against figures worked
// separately from IUPAC's abridged atomic weights, printed to the digits given.
func TestCarbonates(t *testing.T) {
	for _, c := range []struct {
		name                        string
		molar, molPerKg, grams, lit float64 // lit: L of gas a gram at 25 °C and one atmosphere
	}{
		{"sodium bicarbonate", 84.006, 11.90, 0.524, 0.291},
		{"potassium bicarbonate", 100.114, 9.99, 0.440, 0.244},
		{"ammonium bicarbonate", 79.055, 12.65, 0.557, 0.309},
		{"sodium carbonate", 105.988, 9.44, 0.415, 0.231},
		{"sodium carbonate decahydrate", 286.138, 3.49, 0.154, 0.0855},
		{"potassium carbonate", 138.204, 7.24, 0.318, 0.177},
		{"calcium carbonate", 100.086, 9.99, 0.440, 0.244},
		{"magnesium carbonate", 84.313, 11.86, 0.522, 0.290},
		{"dolomite", 184.399, 10.85, 0.477, 0.265},
		{"trona", 226.024, 8.85, 0.389, 0.2165}, // 2·24.465/226.024 = 0.21648; a list that rounds twice prints 0.217
	} {
		k, ok := gas.CarbonateOf(c.name)
		if !ok {
			t.Errorf("no %s", c.name)
			continue
		}
		off := k.PerGram()
		for _, v := range []struct{ got, want, within float64 }{
			{k.Molar, c.molar, 0.0015}, {1000 * off, c.molPerKg, 0.00501}, {off * 44.009, c.grams, 0.000501},
			{gas.Volume(off, 25), c.lit, 0.000501},
		} {
			if !near(v.got, v.want, v.within) {
				t.Errorf("%s: want %v, got %v", c.name, v.want, v.got)
			}
		}
	}
	if _, ok := gas.CarbonateOf("sulfur"); ok {
		t.Error("sulfur is no carbonate")
	}
}

// TestMolarVolume holds the volume of a mole of ideal gas: 22.414 L at 0 °C agrees
// with CODATA 2014 (arXiv:1507.07956), the others follow from R.
func TestMolarVolume(t *testing.T) {
	for celsius, want := range map[float64]float64{0: 22.414, 20: 24.055, 25: 24.465, 40: 25.696} {
		if got := gas.Volume(1, celsius); !near(got, want, 0.0005) {
			t.Errorf("%v °C: want %v, got %v", celsius, want, got)
		}
	}
}

// TestDissolved holds the grams of gas in a litre under one atmosphere, worked
// from Sander's constants (Atmos. Chem. Phys. 23 (2023) 10901).
func TestDissolved(t *testing.T) {
	for celsius, want := range map[float64]float64{5: 2.63, 10: 2.25, 20: 1.69, 25: 1.47, 30: 1.29, 40: 1.00} {
		if got := gas.Dissolved(celsius); !near(got, want, 0.00501) {
			t.Errorf("%v °C: want %v, got %v", celsius, want, got)
		}
	}
}

// TestPressure holds a closed vessel of 1 L with 0.8 L of liquid, in kPa above
// the start, against figures worked separately by the same formula.
func TestPressure(t *testing.T) {
	for _, c := range []struct {
		salt              string
		grams             float64
		at10, at25, at40C float64
	}{
		{"potassium bicarbonate", 1, 20, 29, 39},
		{"potassium bicarbonate", 5, 102, 145, 195},
		{"sodium bicarbonate", 5, 122, 173, 232},
		{"potassium carbonate", 5, 74, 105, 141},
	} {
		k, _ := gas.CarbonateOf(c.salt)
		for celsius, want := range map[float64]float64{10: c.at10, 25: c.at25, 40: c.at40C} {
			v := gas.Enclosed{Liquid: 0.8, Headspace: 0.2, Celsius: celsius}
			if got, ok := v.Pressure(c.grams * k.PerGram()); !ok || !near(got, want, 0.6) {
				t.Errorf("%v g %s at %v °C: want %v, got %v", c.grams, c.salt, celsius, want, got)
			}
		}
	}
	// By hand at 25 °C, to five digits: 0.2 L of room take 8.0679e-8 mol/Pa, 0.8 L of water
	// 2.64e-7; 0.05 mol in the two are 145.06 kPa.
	if got, _ := (gas.Enclosed{Liquid: 0.8, Headspace: 0.2, Celsius: 25}).Pressure(0.05); !near(got, 145.06, 0.006) {
		t.Errorf("by hand 145.06 kPa, got %v", got)
	}
	for _, v := range []gas.Enclosed{{}, {Liquid: 1, Headspace: -0.1, Celsius: 20}, {Liquid: 1, Celsius: -1}, {Liquid: 1, Celsius: 61}, {Liquid: 1, Celsius: math.NaN()}} {
		if _, ok := v.Pressure(1); ok {
			t.Errorf("%+v is no vessel to say anything of", v)
		}
	}
}

// TestPressureDirections holds the published directions (Mueller and Steckel,
// Weed Technol. 36 (2022)): warmth raises the pressure, and without the
// carbonate there is none. That more headspace and less gas lower it is physics.
func TestPressureDirections(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		v := gas.Enclosed{
			Liquid:    rapid.Float64Range(0.1, 1000).Draw(t, "liquid"),
			Headspace: rapid.Float64Range(0, 1000).Draw(t, "headspace"),
			Celsius:   rapid.Float64Range(0, 59).Draw(t, "celsius"),
		}
		n := rapid.Float64Range(0.001, 10).Draw(t, "moles")
		p, _ := v.Pressure(n)
		warmer, roomier := v, v
		warmer.Celsius++
		roomier.Headspace += 0.1
		if w, _ := warmer.Pressure(n); w <= p {
			t.Fatalf("%+v: %v kPa, and %v when warmer", v, p, w)
		}
		if r, _ := roomier.Pressure(n); r >= p {
			t.Fatalf("%+v: %v kPa, and %v with more room", v, p, r)
		}
		if none, ok := v.Pressure(0); !ok || none != 0 {
			t.Fatalf("%+v: %v kPa from nothing", v, none)
		}
	})
}

// TestVesselsOfKnownWater: Henry's constant is given for 0 to 60 °C, ends included.
func TestVesselsOfKnownWater(t *testing.T) {
	for _, c := range []struct {
		v     gas.Enclosed
		known bool
		why   string
	}{
		{gas.Enclosed{Liquid: 1, Headspace: 1, Celsius: 0}, true, "the coldest water"},
		{gas.Enclosed{Liquid: 1, Headspace: 1, Celsius: 60}, true, "the hottest"},
		{gas.Enclosed{Liquid: 1, Headspace: 1, Celsius: -0.1}, false, "ice"},
		{gas.Enclosed{Liquid: 1, Headspace: 1, Celsius: 60.1}, false, "beyond what is published"},
		{gas.Enclosed{Liquid: 1, Headspace: 0, Celsius: 25}, true, "filled to the brim"},
		{gas.Enclosed{Liquid: 1, Headspace: -0.1, Celsius: 25}, false, "fuller than full"},
		{gas.Enclosed{Liquid: 0, Headspace: 1, Celsius: 25}, false, "nothing in it"},
	} {
		if kPa, known := c.v.Pressure(0.01); known != c.known || known != (kPa > 0) {
			t.Errorf("%s: %v kPa, known %v", c.why, kPa, known)
		}
	}
}

func TestGasOf(t *testing.T) {
	given := func(edit func(*book, *mix.Observation)) (*mix.Index, *mix.Observation) {
		b := orchard()
		b.Products[0].Actives = []mix.Active{{Name: "potassium bicarbonate", Amount: "85 % w/w"}} // a1
		b.Products[1].Actives = []mix.Active{{Name: "potassium carbonate", Amount: "400 g/L"}}    // a2
		b.Waters = []mix.WaterSource{{ID: "well", Bicarbonate: mix.Known(unit.Int(305))}, {ID: "rain"}}
		b.jar("j", "2026-05-01", "a1 c1 d1:", func(o *mix.Observation) {
			o.Products[0].Rate = must(unit.ParseRate("5 lb/ac"))
			o.SprayVolume = must(unit.ParseSprayVolume("100 gal/ac"))
			o.Water = mix.Ref{ID: "rain"}
			o.Vessel = mix.Vessel{Size: must(unit.ParseVolume("1 L")), Liquid: must(unit.ParseVolume("800 mL"))}
			edit(b, o)
		})
		return b.index(), &b.Observations[0]
	}
	// 5 lb in 100 gal is 5·453.59237/378.5411784 = 5.99132 g/L; of 800 mL 4.79306 g,
	// 85 % of it 4.07410 g potassium bicarbonate, 0.0406946 mol.
	const mol = 0.0406946
	for _, c := range []struct {
		why     string
		edit    func(*book, *mix.Observation)
		moles   float64
		closed  bool
		unknown int
	}{
		{"by hand", func(*book, *mix.Observation) {}, mol, true, 0},
		{"a crowded fill holds the doses of all its water", func(_ *book, o *mix.Observation) {
			o.WaterShare = mix.Known(unit.Frac(1, 4))
		}, 4 * mol, true, 0},
		{"bicarbonate of the water: 305 mg/L of 61.017 g/mol", func(_ *book, o *mix.Observation) {
			o.Water = mix.Ref{ID: "well"}
		}, mol + 0.8*0.305/61.017, true, 0},
		{"a full vessel has no room but its liquid", func(_ *book, o *mix.Observation) {
			o.Vessel.Liquid = unit.Volume{}
		}, mol * 1.25, true, 0},
		{"a vessel of unknown size", func(_ *book, o *mix.Observation) { o.Vessel.Size = unit.Volume{} }, mol, false, 0},
		{"spray volume not recorded", func(_ *book, o *mix.Observation) { o.SprayVolume = unit.SprayVolume{} }, 0, true, 1},
		{"rate not recorded", func(_ *book, o *mix.Observation) { o.Products[0].Rate = unit.Rate{} }, 0, true, 1},
		{"content not stated", func(b *book, _ *mix.Observation) { b.Products[0].Actives[0].Amount = "" }, 0, true, 1},
		{"a liquid by volume, 2 % v/v of 400 g/L: 6.4 g of 138.204 g/mol", func(_ *book, o *mix.Observation) {
			o.Products[0] = mix.Portion{Ref: mix.Ref{ID: "a2"}, Rate: must(unit.ParseRate("2 % v/v"))}
		}, 6.4 / 138.204, true, 0},
		{"rate of a liquid not recorded", func(_ *book, o *mix.Observation) {
			o.Products[0] = mix.Portion{Ref: mix.Ref{ID: "a2"}}
		}, 0, true, 1},
		{"content of a dense liquid not stated", func(b *book, o *mix.Observation) {
			b.Products[1].Actives[0].Amount, b.Products[1].Density = "", must(unit.ParseDensity("1.2 kg/L"))
			o.Products[0] = mix.Portion{Ref: mix.Ref{ID: "a2"}, Rate: must(unit.ParseRate("2 % v/v"))}
		}, 0, true, 1},
		{"nothing in the vessel", func(_ *book, o *mix.Observation) {
			o.Vessel = mix.Vessel{}
		}, 0, false, 1},
		{"no carbonate", func(_ *book, o *mix.Observation) { o.Products = o.Products[1:] }, 0, true, 0},
	} {
		j, o := given(c.edit)
		g := gas.Of(j, o)
		if !near(g.Moles, c.moles, 1e-5) || g.Closed != c.closed || len(g.Unknown) != c.unknown {
			t.Errorf("%s: want %.6f mol, closed %v, %d unknown; got %+v", c.why, c.moles, c.closed, c.unknown, g)
		}
		if g.Closed && (g.Pressure > 0) != (c.moles > 0) {
			t.Errorf("%s: pressure %v from %v mol", c.why, g.Pressure, g.Moles)
		}
	}
}
