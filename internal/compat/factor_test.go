package compat_test

import (
	"fmt"
	"slices"
	"testing"

	"github.com/google/go-cmp/cmp"
	"tankleaf.example/internal/compat"
	"tankleaf.example/internal/mix"
	"tankleaf.example/internal/unit"
)

// recorded is a jar of an investigation with every circumstance recorded.
func recorded(edit ...func(*mix.Observation)) func(*mix.Observation) {
	return func(o *mix.Observation) {
		o.Investigation = mix.Ref{ID: "x"}
		o.SprayVolume = must(unit.ParseSprayVolume("15 gal/ac"))
		o.Temperature = mix.Known(unit.Int(20))
		for _, f := range edit {
			f(o)
		}
	}
}

// TestEachCircumstance holds for every circumstance a pair of jars that differ in it
// and in nothing else: that it is noticed, with the same outcome and with another,
// and that it is unsure when it was not recorded.
func TestEachCircumstance(t *testing.T) {
	for _, c := range []struct {
		what   compat.Circumstance
		second string // its products
		edit   func(*mix.Observation)
		blank  func(*mix.Observation) // nil: leaving it out says something
	}{
		{compat.ByOrder, "n2 n1", func(*mix.Observation) {}, func(o *mix.Observation) { o.OrderKnown = false }},
		{compat.ByRates, "n1 n2", func(o *mix.Observation) { o.Products[1].Rate = must(unit.ParseRate("1 pt/ac")) },
			func(o *mix.Observation) { o.Products[1].Rate = unit.Rate{} }},
		{compat.BySprayVolume, "n1 n2", func(o *mix.Observation) { o.SprayVolume = must(unit.ParseSprayVolume("10 gal/ac")) },
			func(o *mix.Observation) { o.SprayVolume = unit.SprayVolume{} }},
		{compat.ByWaterShare, "n1 n2", func(o *mix.Observation) { o.WaterShare = mix.Known(unit.Frac(1, 4)) }, nil},
		{compat.ByTemperature, "n1 n2", func(o *mix.Observation) { o.Temperature = mix.Known(unit.Int(30)) },
			func(o *mix.Observation) { o.Temperature = mix.Value{} }},
		{compat.ByWater, "n1 n2", func(o *mix.Observation) { o.Water.ID = "rain" }, func(o *mix.Observation) { o.Water.ID = "" }},
		{compat.ByVessel, "n1 n2", func(o *mix.Observation) { o.Vessel.Closed = false }, func(o *mix.Observation) { o.Vessel.Recorded = false }},
		{compat.ByDefoamer, "n1 d1 n2", func(*mix.Observation) {}, nil},
	} {
		lines := func(second string, edit func(*mix.Observation)) []string {
			b := orchard()
			b.jar("j1", "2026-05-01", "n1 n2: gas=vented", recorded())
			b.jar("j2", "2026-05-02", second, recorded(edit))
			return factorLines(&b.judge().Investigate("x")[0])
		}
		want := []string{string(c.what) + " same 1 differ 0 unsure 0"}
		if diff := cmp.Diff(want, lines(c.second+": gas=vented", c.edit)); diff != "" {
			t.Errorf("%s, the same outcome (-want +got)\n%s", c.what, diff)
		}
		want = []string{string(c.what) + " same 0 differ 1 unsure 0"}
		if diff := cmp.Diff(want, lines(c.second+": gas=none", c.edit)); diff != "" {
			t.Errorf("%s, another outcome (-want +got)\n%s", c.what, diff)
		}
		if c.blank == nil {
			continue
		}
		other := compat.ByWater
		differ := func(o *mix.Observation) { o.Water.ID = "rain" }
		if c.what == compat.ByWater {
			other, differ = compat.ByTemperature, func(o *mix.Observation) { o.Temperature = mix.Known(unit.Int(30)) }
		}
		want = []string{string(other) + " same 0 differ 0 unsure 1"}
		got := lines("n1 n2: gas=none", func(o *mix.Observation) { c.blank(o); differ(o) })
		if diff := cmp.Diff(want, got); diff != "" {
			t.Errorf("%s not recorded leaves what else differs unsure (-want +got)\n%s", c.what, diff)
		}
	}
}

// TestWarmth: temperatures that hang together within two degrees are one.
func TestWarmth(t *testing.T) {
	for _, c := range []struct {
		why     string
		degrees []int64
		differ  int // pairs that are told apart
	}{
		{"two degrees are the same", []int64{20, 22}, 0},
		{"three are not", []int64{20, 23}, 1},
		{"a chain hangs together", []int64{20, 22, 24}, 0},
		{"in whatever order", []int64{24, 20, 22}, 0},
		{"two chains", []int64{20, 21, 30, 31}, 4},
		{"three chains", []int64{10, 20, 30}, 3},
		{"the same twice", []int64{20, 20, 30}, 2},
	} {
		b := orchard()
		for i, d := range c.degrees {
			b.jar(fmt.Sprint("j", i), fmt.Sprintf("2026-05-0%d", i+1), "n1 n2: gas=vented", recorded(func(o *mix.Observation) {
				o.Temperature = mix.Known(unit.Int(d))
			}))
		}
		got := 0
		for _, m := range b.judge().Investigate("x")[0].Factors {
			if m.Circumstance == compat.ByTemperature {
				got = len(m.Same)
			}
		}
		if got != c.differ {
			t.Errorf("%s: %v: want %d pairs that differ, got %d", c.why, c.degrees, c.differ, got)
		}
	}
}

func swapLines(c *compat.Case) []string {
	var all []string
	for _, s := range c.Swaps {
		line := fmt.Sprintf("%s %s by %q", s.Out, s.In, s.Class)
		for _, r := range s.Same {
			line += fmt.Sprintf(" same %s %s", r[0].ID, r[1].ID)
		}
		for _, r := range s.Differ {
			line += fmt.Sprintf(" differ %s %s", r[0].ID, r[1].ID)
		}
		all = append(all, line)
	}
	return all
}

// TestSwaps holds which records are compared as one product in place of another.
func TestSwaps(t *testing.T) {
	axis := func(b *book, class mix.ID, a mix.Axis) {
		for i := range b.Classes {
			if b.Classes[i].ID == class {
				b.Classes[i].Axis = a
			}
		}
	}
	jars := func(list ...string) func(*book) {
		return func(b *book) {
			for i, what := range list {
				b.jar(fmt.Sprint("j", i), "2026-05-01", what, recorded())
			}
		}
	}
	for _, c := range []struct {
		why   string
		given func(*book)
		want  []string
	}{
		{"the same outcome", jars("n1 o1: gas=vented", "n1 o2: gas=vented"), []string{`o1 o2 by "oil" same j0 j1`}},
		{"another", jars("n1 o1: gas=vented", "n1 o2: gas=none"), []string{`o1 o2 by "oil" differ j0 j1`}},
		{"in its place in the order", jars("o1 n1: gas=vented", "n1 o2: gas=vented"), nil},
		{"with a defoamer beside it", jars("n1 o1: gas=vented", "n1 o2 d1: gas=vented"), nil},
		{"two products changed", jars("n1 o1: gas=vented", "n2 o2: gas=vented"), nil},
		{"one more product is no swap", jars("n1 o1: gas=vented", "n1 o1 o2: gas=vented"), nil},
		{"nor is one alone", jars("o1: gas=vented", "o2: gas=vented"), nil},
		{"not recorded tells nothing", jars("n1 o1: gas=vented", "n1 o2: foam=0"), nil},
		{"no class in common", jars("n1 o1: gas=vented", "n1 g1: gas=vented"), []string{`g1 o1 by "" same j0 j1`}},
		{"the narrowest class in common", func(b *book) {
			b.class("spray-oil", "oil")
			b.product("o8", "spray-oil")
			b.product("o9", "spray-oil")
			jars("n1 o8: gas=vented", "n1 o9: gas=vented")(b)
		}, []string{`o8 o9 by "spray-oil" same j0 j1`}},
		{"of chemistry before a narrower one of role", func(b *book) {
			b.class("wetter", "agent")
			axis(b, "oil", mix.Chemistry)
			b.product("o8", "oil wetter")
			b.product("o9", "oil wetter")
			jars("n1 o8: gas=vented", "n1 o9: gas=vented")(b)
		}, []string{`o8 o9 by "oil" same j0 j1`}},
		{"of salt as well", func(b *book) {
			b.class("wetter", "agent")
			axis(b, "oil", mix.Salt)
			b.product("o8", "oil wetter")
			b.product("o9", "oil wetter")
			jars("n1 o8: gas=vented", "n1 o9: gas=vented")(b)
		}, []string{`o8 o9 by "oil" same j0 j1`}},
		{"each pair of products once, in order", jars("n1 o2: gas=vented", "n1 o1: gas=vented", "n1 p1: gas=none"),
			[]string{`o1 o2 by "oil" same j0 j1`, `o1 p1 by "" differ j1 j2`, `o2 p1 by "" differ j0 j2`}},
	} {
		b := orchard()
		c.given(b)
		got := swapLines(&b.judge().Investigate("x")[0])
		if diff := cmp.Diff(c.want, got); diff != "" {
			t.Errorf("%s: (-want +got)\n%s", c.why, diff)
		}
	}
}

// TestSwapNeedsTheRestAlike: what is recorded of both and differs makes no swap;
// what is recorded of one only does not stand in its way.
func TestSwapNeedsTheRestAlike(t *testing.T) {
	for _, c := range []struct {
		why  string
		edit func(*mix.Observation)
		want int
	}{
		{"all alike", func(*mix.Observation) {}, 1},
		{"warmer", func(o *mix.Observation) { o.Temperature = mix.Known(unit.Int(30)) }, 0},
		{"of unknown temperature", func(o *mix.Observation) { o.Temperature = mix.Value{} }, 1},
		{"another water", func(o *mix.Observation) { o.Water.ID = "rain" }, 0},
		{"a crowded fill", func(o *mix.Observation) { o.WaterShare = mix.Known(unit.Frac(1, 4)) }, 0},
		{"of unknown order", func(o *mix.Observation) { o.OrderKnown = false }, 1},
	} {
		b := orchard()
		b.jar("j1", "2026-05-01", "n1 o1: gas=vented", recorded())
		b.jar("j2", "2026-05-02", "n1 o2: gas=vented", recorded(c.edit))
		if got := swapLines(&b.judge().Investigate("x")[0]); len(got) != c.want {
			t.Errorf("%s: %v", c.why, got)
		}
	}
}

// TestRecordsOfACase: with what hides a symptom set aside as a circumstance, records
// that never looked are compared with none.
func TestRecordsOfACase(t *testing.T) {
	b := orchard()
	b.jar("late", "2026-05-09", "n1 n2: foam=300", recorded())
	b.jar("early", "2026-05-01", "n1 n2: foam=300", recorded(func(o *mix.Observation) { o.Water.ID = "rain" }))
	b.jar("quiet", "2026-05-02", "n1 n2 d1: foam=0", recorded())
	b.jar("blind", "2026-05-03", "n1 n2 d1: gas=none", recorded())
	c := caseOf(t, b.judge().Investigate("x"), mix.Foam)
	var left []mix.ID
	for _, o := range c.LeftOut {
		left = append(left, o.ID)
	}
	if !slices.Equal(left, items("quiet blind")) {
		t.Errorf("a defoamer says nothing of foam, nor does what was not looked at: %v", left)
	}
	for _, m := range c.Factors {
		for _, r := range append(slices.Clone(m.Same), m.Differ...) {
			if r[0].Date.Compare(r[1].Date) > 0 || r[0].ID == "blind" || r[1].ID == "blind" {
				t.Errorf("%s: %s beside %s", m.Circumstance, r[0].ID, r[1].ID)
			}
		}
	}
	want := []string{"water same 1 differ 0 unsure 0", "hides same 0 differ 1 unsure 0"}
	if diff := cmp.Diff(want, factorLines(c)); diff != "" {
		t.Errorf("(-want +got)\n%s", diff)
	}
}
