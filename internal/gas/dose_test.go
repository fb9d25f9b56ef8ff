package gas_test

import (
	"testing"

	"pgregory.net/rapid"

	"tankleaf.example/internal/gas"
	"tankleaf.example/internal/mix"
	"tankleaf.example/internal/unit"
)

// fizzy is a book of one carbonate product and a jar of it, 800 mL in a liter.
func fizzy(amount, density, rate string, edit ...func(*mix.Observation)) (*mix.Index, *mix.Observation) {
	b := orchard()
	b.Products[0].Actives = []mix.Active{{Name: "sulfur", Amount: "80 % w/w"}, {Name: "potassium bicarbonate", Amount: amount}}
	if density != "" {
		b.Products[0].Density = must(unit.ParseDensity(density))
	}
	b.jar("j", "2026-05-01", "a1 n1:", func(o *mix.Observation) {
		o.Products[0].Rate = must(unit.ParseRate(rate))
		o.SprayVolume = must(unit.ParseSprayVolume("100 L/ha"))
		o.Vessel = mix.Vessel{Size: must(unit.ParseVolume("1 L")), Liquid: must(unit.ParseVolume("800 mL"))}
	})
	for _, f := range edit {
		f(&b.Observations[0])
	}
	return b.index(), &b.Observations[0]
}

// TestGramsOfCarbonate holds the dose in a jar of 800 mL by hand, for every way in
// which labels state rates and contents.
func TestGramsOfCarbonate(t *testing.T) {
	for _, c := range []struct {
		why                   string
		amount, density, rate string
		grams                 float64 // of the carbonate; below 0: not known
	}{
		{"dry by area: 1 kg in 100 L is 8 g in 800 mL", "50 % w/w", "", "1 kg/ha", 4},
		{"dry by volume of spray", "50 % w/w", "", "500 g/100 L", 2},
		{"liquid by area, content by volume: 8 mL of 500 g/L", "500 g/L", "", "1 L/ha", 4},
		{"liquid by volume of spray", "500 g/L", "", "1 % v/v", 4},
		{"liquid, content by weight: 8 mL of 1.25 kg/L", "50 % w/w", "1.25 kg/L", "1 L/ha", 5},
		{"a liquid lighter than water: 8 mL of 0.9 kg/L", "50 % w/w", "0.9 kg/L", "1 L/ha", 3.6},
		{"dry rate, content by volume: 8 g of 1.25 kg/L are 6.4 mL", "500 g/L", "1.25 kg/L", "1 kg/ha", 3.2},
		{"weight and volume without a density", "50 % w/w", "", "1 L/ha", -1},
		{"volume and weight without a density", "500 g/L", "", "1 kg/ha", -1},
		{"a content that is no number", "plenty", "", "1 kg/ha", -1},
	} {
		j, o := fizzy(c.amount, c.density, c.rate)
		g := gas.Of(j, o)
		if c.grams < 0 {
			if len(g.Sources) != 0 || len(g.Unknown) != 1 || g.Unknown[0] != "a1" {
				t.Errorf("%s: that it holds a carbonate is told, how much is not known: %+v", c.why, g)
			}
			continue
		}
		if len(g.Sources) != 1 || len(g.Unknown) != 0 || !near(g.Sources[0].Grams, c.grams, 1e-9) {
			t.Errorf("%s: want %v g, got %+v", c.why, c.grams, g)
			continue
		}
		s := g.Sources[0]
		if s.Product != "a1" || s.Active != "potassium bicarbonate" || !near(s.Moles, c.grams/100.114, 1e-9) || g.Moles != s.Moles {
			t.Errorf("%s: got %+v", c.why, g)
		}
	}
}

// TestVesselOfGas holds what is taken of the vessel and its water.
func TestVesselOfGas(t *testing.T) {
	for _, c := range []struct {
		why  string
		edit func(*mix.Observation)
		want gas.Enclosed
		gas  float64 // times that of 4 g
	}{
		{"worked at 25 °C when no temperature is recorded", func(*mix.Observation) {}, gas.Enclosed{Liquid: 0.8, Headspace: 0.2, Celsius: 25}, 1},
		{"at its own temperature", func(o *mix.Observation) { o.Temperature = mix.Known(unit.Int(10)) }, gas.Enclosed{Liquid: 0.8, Headspace: 0.2, Celsius: 10}, 1},
		{"a crowded fill", func(o *mix.Observation) { o.WaterShare = mix.Known(unit.Frac(1, 2)) }, gas.Enclosed{Liquid: 0.8, Headspace: 0.2, Celsius: 25}, 2},
		{"no water at all is no fill", func(o *mix.Observation) { o.WaterShare = mix.Known(unit.Int(0)) }, gas.Enclosed{Liquid: 0.8, Headspace: 0.2, Celsius: 25}, 1},
		{"half the liquid", func(o *mix.Observation) { o.Vessel.Liquid = must(unit.ParseVolume("400 mL")) }, gas.Enclosed{Liquid: 0.4, Headspace: 0.6, Celsius: 25}, 0.5},
	} {
		j, o := fizzy("50 % w/w", "", "1 kg/ha", c.edit)
		g := gas.Of(j, o)
		moles := c.gas * 4 / 100.114
		if !near(g.Enclosed.Liquid, c.want.Liquid, 1e-9) || !near(g.Enclosed.Headspace, c.want.Headspace, 1e-9) || g.Enclosed.Celsius != c.want.Celsius {
			t.Errorf("%s: got %+v", c.why, g.Enclosed)
		}
		kPa, _ := g.Enclosed.Pressure(moles)
		if !near(g.Moles, moles, 1e-9) || !near(g.Volume, gas.Volume(moles, c.want.Celsius), 1e-9) || !near(g.Pressure, kPa, 1e-9) || !g.Closed {
			t.Errorf("%s: want %v mol, %v kPa; got %+v", c.why, moles, kPa, g)
		}
	}
}

// TestBicarbonateOfTheWater: it gives off gas as a product does, none when there is
// none or when nobody measured it.
func TestBicarbonateOfTheWater(t *testing.T) {
	for _, c := range []struct {
		water   mix.ID
		sources int
	}{{"well", 2}, {"soft", 1}, {"unmeasured", 1}, {"gone", 1}, {"", 1}} {
		b := orchard()
		b.Products[0].Actives = []mix.Active{{Name: "potassium carbonate", Amount: "1 % w/w"}, {Name: "sulfur"}, {Name: "trona", Amount: ""}}
		b.Waters = []mix.WaterSource{{ID: "well", Bicarbonate: mix.Known(unit.Int(61))}, {ID: "soft", Bicarbonate: mix.Known(unit.Int(0))}, {ID: "unmeasured"}}
		b.jar("j", "2026-05-01", "a1 gone:", func(o *mix.Observation) {
			o.Water.ID = c.water
			o.Products[0].Rate = must(unit.ParseRate("100 g/100 L"))
			o.Vessel = mix.Vessel{Size: must(unit.ParseVolume("1 L"))}
		})
		g := gas.Of(b.index(), &b.Observations[0])
		if len(g.Sources) != c.sources || len(g.Unknown) != 1 {
			t.Errorf("water %q: %+v", c.water, g)
		}
		if w := g.Sources[len(g.Sources)-1]; c.sources == 2 && (w.Product != "" || !near(w.Grams, 0.061, 1e-9) || !near(w.Moles, 0.061/61.016, 1e-6)) {
			t.Errorf("61 ppm in a liter is 61 mg: %+v", w)
		}
	}
}

// TestGasGrows: more of the carbonate, more of it in the water, and less room never
// mean less gas or pressure.
func TestGasGrows(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		dose := rapid.Int64Range(1, 5000).Draw(t, "g/ha")
		warm := rapid.Int64Range(0, 59).Draw(t, "celsius")
		liquid := rapid.Int64Range(50, 950).Draw(t, "mL")
		off := func(dose, warm, liquid int64) gas.Potential {
			j, o := fizzy("85 % w/w", "", "1 kg/ha", func(o *mix.Observation) {
				o.Products[0].Rate = must(unit.ParseRate("1 g/ha")).Times(unit.Int(dose))
				o.Temperature = mix.Known(unit.Int(warm))
				o.Vessel.Liquid = unit.Milliliter.Of(unit.Int(liquid))
			})
			return gas.Of(j, o)
		}
		g := off(dose, warm, liquid)
		if more := off(2*dose, warm, liquid); !near(more.Moles, 2*g.Moles, 1e-12+1e-9*g.Moles) || !near(more.Pressure, 2*g.Pressure, 1e-9*(1+g.Pressure)) {
			t.Fatalf("twice the dose is twice the gas: %+v, %+v", g, more)
		}
		if hot := off(dose, warm+1, liquid); hot.Pressure <= g.Pressure || hot.Volume <= g.Volume || hot.Moles != g.Moles {
			t.Fatalf("warmth raises the pressure and makes no gas: %+v, %+v", g, hot)
		}
		if full := off(dose, warm, liquid+10); full.Pressure <= g.Pressure || full.Moles <= g.Moles {
			t.Fatalf("a fuller vessel holds more dose in less room: %+v, %+v", g, full)
		}
	})
}
