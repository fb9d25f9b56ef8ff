package compat_test

import (
	"slices"
	"testing"

	"github.com/google/go-cmp/cmp"
	"tankleaf.example/internal/compat"
	"tankleaf.example/internal/mix"
	"tankleaf.example/internal/unit"
)

// TestSituationOfARecord holds what is taken from an observation, and what of it
// stays unknown.
func TestSituationOfARecord(t *testing.T) {
	known := func(n int64) mix.Value { return mix.Known(unit.Int(n)) }
	blank := func(o *mix.Observation) {
		*o = mix.Observation{ID: "j", Products: o.Products}
	}
	full := mix.Situation{WaterShare: known(1)}
	with := func(edit func(*mix.Situation)) mix.Situation {
		s := full
		edit(&s)
		return s
	}
	for _, c := range []struct {
		why  string
		edit func(*mix.Observation)
		want mix.Situation
	}{
		{"nothing recorded is full water", func(*mix.Observation) {}, full},
		{"a crowded fill", func(o *mix.Observation) { o.WaterShare = mix.Known(unit.Frac(1, 4)) }, mix.Situation{WaterShare: mix.Known(unit.Frac(1, 4))}},
		{"its water's measures", func(o *mix.Observation) { o.Water.ID = "well" }, with(func(s *mix.Situation) {
			s.Hardness, s.Bicarbonate, s.PH = known(300), known(200), known(8)
		})},
		{"its own pH before that of the water", func(o *mix.Observation) { o.Water.ID, o.PHBefore = "well", known(6) }, with(func(s *mix.Situation) {
			s.Hardness, s.Bicarbonate, s.PH = known(300), known(200), known(6)
		})},
		{"its own pH without a water", func(o *mix.Observation) { o.PHBefore = known(6) }, with(func(s *mix.Situation) { s.PH = known(6) })},
		{"a water that is in no book", func(o *mix.Observation) { o.Water.ID = "gone" }, full},
		{"temperature and place", func(o *mix.Observation) { o.Temperature, o.Place.ID = known(12), "valley" }, with(func(s *mix.Situation) {
			s.WaterTemp, s.Place = known(12), "valley"
		})},
		{"spray volume", func(o *mix.Observation) { o.SprayVolume = must(unit.ParseSprayVolume("20 gal/ac")) }, with(func(s *mix.Situation) {
			s.CarrierRate = mix.Known(must(unit.ParseSprayVolume("20 gal/ac")).Base())
		})},
		{"it stood until its last reading, in whatever order they stand", readings("5 min", "", "2 h", "", "30 min", ""), with(func(s *mix.Situation) {
			s.Standing = known(120)
		})},
		{"one reading at once", readings("0 min", ""), with(func(s *mix.Situation) { s.Standing = known(0) })},
		{"the order, when it is known", func(o *mix.Observation) { o.OrderKnown = true }, with(func(s *mix.Situation) { s.Order = items("n2 n1") })},
		{"a closed vessel", func(o *mix.Observation) { o.Vessel = mix.Vessel{Recorded: true, Closed: true} }, with(func(s *mix.Situation) { s.Vessel = "closed" })},
		{"an open one", func(o *mix.Observation) { o.Vessel = mix.Vessel{Recorded: true} }, with(func(s *mix.Situation) { s.Vessel = "open" })},
		{"not recorded which", func(o *mix.Observation) { o.Vessel = mix.Vessel{Closed: true} }, full},
	} {
		b := orchard()
		b.Waters = []mix.WaterSource{{ID: "well", Hardness: known(300), Bicarbonate: known(200), PH: known(8)}}
		b.jar("j", "2026-05-01", "n2 n1:", blank, c.edit)
		got := b.judge().Situation(&b.Observations[0])
		exact := cmp.Comparer(func(a, b unit.Number) bool { return a.Cmp(b) == 0 })
		if diff := cmp.Diff(c.want, got, exact); diff != "" {
			t.Errorf("%s: (-want +got)\n%s", c.why, diff)
		}
	}
}

// TestOrderGate holds an order over three members, where one may be on both sides.
func TestOrderGate(t *testing.T) {
	for _, c := range []struct {
		why         string
		first, then string
		order       string
		want        mix.Truth
	}{
		{"all three in the right order", "oil", "powder", "o1 both p2", mix.Holds},
		{"one pair of several in the right order is enough", "oil", "powder", "p2 o1 both", mix.Holds},
		{"every pair the other way round", "oil", "powder", "p2 both o1", mix.Fails},
		{"one of them of unknown place", "oil", "powder", "p2 o1", mix.NotKnown},
		{"none known", "oil", "powder", "", mix.NotKnown},
		{"an item is no pair with itself", "o1", "o1", "o1 p2 both", mix.NotKnown},
		{"what the gate names is not among the members", "agent", "powder", "g1 o1 both p2", mix.NotKnown},
	} {
		b := orchard()
		b.product("both", "oil powder")
		b.says("gated", "apart:o1 both p2:gel", gates(order(c.first, c.then)))
		f := finding(t, b.judge().Mix(items("o1 both p2"), mix.Situation{Order: items(c.order)}), "gated")
		got := mix.Holds
		switch {
		case len(f.Failed) > 0:
			got = mix.Fails
		case len(f.Open) > 0:
			got = mix.NotKnown
		}
		if got != c.want {
			t.Errorf("%s: want %v, got %v", c.why, c.want, got)
		}
	}
}

// TestSeveralGates: all must hold, and each that does not, or is not known, is named.
func TestSeveralGates(t *testing.T) {
	b := orchard()
	b.says("gated", "apart:n1 n2:gel", gates(over(mix.WaterTemp, 20), over(mix.Hardness, 300), ref(mix.VesselFactor, "closed"), ref(mix.PlaceFactor, "valley")))
	j := b.judge()
	known := func(n int64) mix.Value { return mix.Known(unit.Int(n)) }
	for _, c := range []struct {
		why                      string
		in                       mix.Situation
		verdict                  mix.Verdict
		failed, open, conditions int
	}{
		{"all hold", mix.Situation{WaterTemp: known(30), Hardness: known(400), Vessel: "closed", Place: "valley"}, mix.Apart, 0, 0, 0},
		{"one fails", mix.Situation{WaterTemp: known(10), Hardness: known(400), Vessel: "closed", Place: "valley"}, mix.Unknown, 1, 0, 0},
		{"one fails and the others are not known", mix.Situation{WaterTemp: known(10)}, mix.Unknown, 1, 3, 2},
		{"two fail", mix.Situation{WaterTemp: known(10), Vessel: "open"}, mix.Unknown, 2, 2, 1},
		{"none known", mix.Situation{}, mix.Apart, 0, 4, 3},
	} {
		a := j.Mix(items("n1 n2"), c.in)
		f := finding(t, a, "gated")
		if a.Verdict != c.verdict || len(f.Failed) != c.failed || len(f.Open) != c.open {
			t.Errorf("%s: %d failed, %d open: %s", c.why, len(f.Failed), len(f.Open), tell(a))
		}
		for _, d := range f.Doubts {
			if d.Code == compat.Conditional && len(d.Gates) != c.conditions {
				t.Errorf("%s: want %d conditions, got %v", c.why, c.conditions, gateNames(d.Gates))
			}
			if d.Code == compat.ElsewhereOnly && !slices.Equal(gateNames(d.Gates), []string{"placevalley"}) {
				t.Errorf("%s: the place is told apart: %v", c.why, gateNames(d.Gates))
			}
		}
	}
}

// TestWaterClasses holds which carriers a situation stands for: those it names, and
// waters known by what is dissolved in them.
func TestWaterClasses(t *testing.T) {
	known := func(n int64) mix.Value { return mix.Known(unit.Int(n)) }
	for _, c := range []struct {
		why     string
		in      mix.Situation
		applies bool // to the tank's liquid
		verdict mix.Verdict
	}{
		{"hard and alkaline", mix.Situation{Hardness: known(400), Bicarbonate: known(500)}, true, mix.Steps},
		{"hard, and of unknown bicarbonate", mix.Situation{Hardness: known(400)}, false, mix.Unknown},
		{"hard, and low in bicarbonate", mix.Situation{Hardness: known(400), Bicarbonate: known(5)}, false, mix.Unknown},
		{"of unknown hardness, and low in bicarbonate", mix.Situation{Bicarbonate: known(5)}, false, mix.Unknown},
		{"named", mix.Situation{Carrier: items("harsh")}, true, mix.Steps},
		{"another is named, and nothing was measured", mix.Situation{Carrier: items("uan")}, false, mix.Unknown},
		{"another is named, and the water measured", mix.Situation{Carrier: items("uan"), Hardness: known(400), Bicarbonate: known(500)}, true, mix.Steps},
		{"named and measured is one", mix.Situation{Carrier: items("harsh"), Hardness: known(400), Bicarbonate: known(500)}, true, mix.Steps},
	} {
		b := orchard()
		b.class("harsh", "", func(k *mix.Class) {
			k.Carrier, k.When = true, []mix.Gate{over(mix.Hardness, 300), over(mix.Bicarbonate, 300)}
		})
		b.class("uan", "", func(k *mix.Class) { k.Carrier = true })
		b.says("scum", "steps:oil harsh:gel")
		a := b.judge().Mix(items("o1 n1"), c.in)
		if a.Verdict != c.verdict || (len(a.Findings) > 0) != c.applies {
			t.Errorf("%s: got %s", c.why, tell(a))
		}
		low := c.in.Bicarbonate.Known && c.in.Bicarbonate.N.Cmp(unit.Int(300)) < 0
		if want := !c.applies && !low; hasDoubt(a.Doubts, compat.WaterMatters) != want {
			t.Errorf("%s: that more is known in some water is a doubt only while the water is unknown: %s", c.why, tell(a))
		}
	}
}
