package compat_test

import (
	"fmt"
	"slices"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	"tankleaf.example/internal/cause"
	"tankleaf.example/internal/compat"
	"tankleaf.example/internal/mix"
	"tankleaf.example/internal/unit"
)

// burndown is a pattern of common practice: a carbonate buffer and an auxin are
// quiet, the auxin with glyphosate foams and builds no pressure, all three build
// pressure, another buffer with both does not, another salt of glyphosate does as
// the first, order and spray volume change nothing, and a defoamer takes the foam
// and leaves the pressure.
func burndown() *book {
	b := newBook()
	b.class("carbonate-buffer", "")
	b.class("acetate-buffer", "")
	b.class("auxin", "")
	b.class("glyphosate", "")
	b.class("glyphosate-k", "glyphosate")
	b.class("glyphosate-ipa", "glyphosate")
	b.class("defoamer", "", func(c *mix.Class) { c.Suppresses = []mix.Symptom{mix.Foam} })
	for i := range b.Classes {
		b.Classes[i].Axis = mix.Chemistry
	}
	b.product("aux", "auxin")
	b.product("buf", "carbonate-buffer")
	b.product("ace", "acetate-buffer")
	b.product("gk", "glyphosate-k")
	b.product("gi", "glyphosate-ipa")
	b.product("gx", "glyphosate")
	b.product("def", "defoamer")
	group := func(o *mix.Observation) {
		o.Investigation = mix.Ref{ID: "walls"}
		o.SprayVolume = must(unit.ParseSprayVolume("15 gal/ac"))
		o.Temperature = mix.Known(unit.Int(20))
	}
	foams, presses, both := "gas=none foam=200 flakes=none", "gas=firm foam=0 flakes=none", "gas=firm foam=200 flakes=none"
	b.jar("w1", "2026-05-01", "buf aux: clean", group)
	b.jar("w2", "2026-05-02", "aux gk: "+foams, group)
	b.jar("w3", "2026-05-03", "buf aux gk: "+both, group)
	b.jar("w4", "2026-05-04", "ace aux gk: "+foams, group)
	b.jar("w5", "2026-05-05", "buf aux gi: "+both, group)
	b.jar("w6", "2026-05-06", "gk aux buf: "+both, group)
	b.jar("w7", "2026-05-07", "buf aux gk: "+both, group, func(o *mix.Observation) {
		o.SprayVolume = must(unit.ParseSprayVolume("10 gal/ac"))
	})
	b.jar("w8", "2026-05-08", "buf aux gk def: "+presses, group)
	return b
}

func caseOf(t *testing.T, list []compat.Case, s mix.Symptom) *compat.Case {
	t.Helper()
	for i := range list {
		if list[i].Symptom == s {
			return &list[i]
		}
	}
	t.Fatalf("no case of %v", s)
	return nil
}

func mixes(c *compat.Case) []string { return caseLines(c.Mixes) }

func caseLines(list []compat.CaseMix) []string {
	var all []string
	for _, m := range list {
		all = append(all, fmt.Sprintf("%v %v causes %v possible %v", m.Products, m.Status, m.Causes, m.Possible))
	}
	return all
}

func TestBurndown(t *testing.T) {
	cases := burndown().judge().Investigate("walls")
	if len(cases) != 2 {
		t.Fatalf("foam is a separate matter: want two cases, got %d", len(cases))
	}
	gas, foam := caseOf(t, cases, mix.Gas), caseOf(t, cases, mix.Foam)
	want := []string{
		"[aux buf gi] narrowed causes [] possible [[gi] [aux gi] [buf gi] [aux buf gi]]",
		"[aux buf gk] narrowed causes [] possible [[buf gk] [aux buf gk]]",
		"[aux buf def gk] narrowed causes [] possible [[buf gk] [aux buf gk]]",
	}
	if diff := cmp.Diff(want, mixes(gas)); diff != "" {
		t.Errorf("pressure: the buffer with glyphosate, or all three (-want +got)\n%s", diff)
	}
	want = []string{
		"[aux buf gk] narrowed causes [] possible [[buf gk] [aux buf gk]]",
		"[aux buf def gk] narrowed causes [] possible [[buf gk] [aux buf gk]]",
	}
	if diff := cmp.Diff(want, caseLines(gas.ByClass)); diff != "" || fmt.Sprint(gas.Alike) != "[[gk gi]]" {
		t.Errorf("the salts act alike: %v (-want +got)\n%s", gas.Alike, diff)
	}
	// By class both salts are one: the buffer and a glyphosate.
	classes := []compat.ClassCause{{Places: [][]mix.ID{{"carbonate-buffer"}, {"glyphosate"}}}}
	if diff := cmp.Diff(classes, gas.Classes); diff != "" {
		t.Errorf("by class (-want +got)\n%s", diff)
	}
	if gas.Next == nil || !slices.Equal(gas.Next.Products, items("buf gk")) {
		t.Errorf("next jar: the pair alone, got %+v", gas.Next)
	}
	if got := fmt.Sprint(foam.ByClass[0].Possible); got != "[[gk] [aux gk]]" {
		t.Errorf("foam comes of glyphosate, alone or with the auxin, got %s", got)
	}
	if len(foam.LeftOut) != 1 || foam.LeftOut[0].ID != "w8" {
		t.Errorf("a jar with a defoamer says nothing of foam: %v", foam.LeftOut)
	}
}

// TestAlike holds what makes one product stand for another.
func TestAlike(t *testing.T) {
	for _, c := range []struct {
		why   string
		given func(*book)
		want  string
	}{
		{"as it stands", nothing, "[[gk gi]]"},
		{"one difference and they are two", func(b *book) {
			b.Observations = append(b.Observations, b.Observations[4])
			o := &b.Observations[len(b.Observations)-1]
			o.ID, o.Readings = "w5-again", []mix.Reading{reading("5 min", "gas=none foam=0 flakes=none")}
		}, "[]"},
		{"that both were quiet shows nothing", func(b *book) {
			for _, i := range []int{2, 4, 5, 6, 7} { // all that reacted with the first buffer
				b.Observations[i].Readings = []mix.Reading{reading("5 min", "gas=none foam=0 flakes=none")}
			}
			b.jar("other1", "2026-05-09", "ace gk: gas=firm", func(o *mix.Observation) { o.Investigation.ID = "walls" })
			b.jar("other2", "2026-05-09", "buf aux ace gi: gas=firm", func(o *mix.Observation) { o.Investigation.ID = "walls" })
		}, "[]"},
		{"a role is not a chemistry", func(b *book) {
			for i := range b.Classes {
				b.Classes[i].Axis = mix.Role
			}
		}, "[]"},
		{"two that were in one jar are two", func(b *book) {
			b.jar("both", "2026-05-09", "gk gi: clean", func(o *mix.Observation) { o.Investigation.ID = "walls" })
		}, "[]"},
	} {
		b := burndown()
		c.given(b)
		if got := fmt.Sprint(caseOf(t, b.judge().Investigate("walls"), mix.Gas).Alike); got != c.want {
			t.Errorf("%s: want %s, got %s", c.why, c.want, got)
		}
	}
}

func factorLines(c *compat.Case) []string {
	var all []string
	for _, m := range c.Factors {
		all = append(all, fmt.Sprintf("%s same %d differ %d unsure %d", m.Circumstance, len(m.Same), len(m.Differ), m.Unsure))
	}
	return all
}

func TestCircumstances(t *testing.T) {
	cases := burndown().judge().Investigate("walls")
	gas, foam := caseOf(t, cases, mix.Gas), caseOf(t, cases, mix.Foam)
	want := []string{"order same 1 differ 0 unsure 0", "spray-volume same 1 differ 0 unsure 0", "hides same 1 differ 0 unsure 0"}
	if diff := cmp.Diff(want, factorLines(gas)); diff != "" {
		t.Errorf("nothing made a difference to the gas (-want +got)\n%s", diff)
	}
	want = []string{"order same 1 differ 0 unsure 0", "spray-volume same 1 differ 0 unsure 0", "hides same 0 differ 1 unsure 0"}
	if diff := cmp.Diff(want, factorLines(foam)); diff != "" {
		t.Errorf("the defoamer made one to the foam (-want +got)\n%s", diff)
	}
	var got []string
	for _, s := range gas.Swaps {
		got = append(got, fmt.Sprintf("%s for %s by %q: same %d differ %d", s.Out, s.In, s.Class, len(s.Same), len(s.Differ)))
	}
	wantSwaps := []string{`ace for buf by "": same 0 differ 1`, `gi for gk by "glyphosate": same 1 differ 0`}
	if diff := cmp.Diff(wantSwaps, got); diff != "" {
		t.Errorf("another salt did the same, another buffer did not (-want +got)\n%s", diff)
	}
}

// TestBurndownSolved holds what one more jar settles, and how the cause is lifted.
func TestBurndownSolved(t *testing.T) {
	b := burndown()
	b.jar("w9", "2026-05-09", "buf gk: gas=vented foam=0 flakes=none", func(o *mix.Observation) { o.Investigation.ID = "walls" })
	gas := caseOf(t, b.judge().Investigate("walls"), mix.Gas)
	if got := fmt.Sprint(gas.Causes); got != "[[buf gk]]" {
		t.Fatalf("established: %s", got)
	}
	if !gas.Classes[0].Alone {
		t.Error("by class nothing else is needed")
	}
	if len(gas.Lifts) == 0 {
		t.Fatal("no lift")
	}
	var got []string
	for _, p := range gas.Lifts[0].Places {
		got = append(got, fmt.Sprintf("%s as %s: tested %v untested %v", p.Product, p.Class, p.Tested, p.Untested))
	}
	want := []string{
		"buf as carbonate-buffer: tested [buf] untested []",
		"gk as glyphosate: tested [gi gk] untested [gx]",
	}
	if diff := cmp.Diff(want, got); diff != "" {
		t.Errorf("(-want +got)\n%s", diff)
	}
	// A clean jar of another glyphosate, anywhere in the book, contradicts that claim.
	b.jar("far", "2026-06-01", "buf gx: clean")
	for _, l := range caseOf(t, b.judge().Investigate("walls"), mix.Gas).Lifts {
		for _, p := range l.Places {
			if p.Class == "glyphosate" {
				t.Errorf("lifted over a clean jar: %+v", l)
			}
		}
	}
}

func TestCaseOddities(t *testing.T) {
	in := func(o *mix.Observation) {
		o.Investigation = mix.Ref{ID: "x"}
		o.SprayVolume = must(unit.ParseSprayVolume("15 gal/ac"))
		o.Temperature = mix.Known(unit.Int(20))
	}
	for _, c := range []struct {
		why   string
		given func(*book)
		check func(*testing.T, []compat.Case)
	}{
		{"nothing seen: no case", func(b *book) { b.jar("j", "2026-05-01", "n1 n2: clean", in) },
			func(t *testing.T, list []compat.Case) {
				if len(list) != 0 {
					t.Errorf("got %d", len(list))
				}
			}},
		{"a symptom never recorded is left out, not quiet", func(b *book) {
			b.jar("j1", "2026-05-01", "n1 n2 p1: gas=vented", in)
			b.jar("j2", "2026-05-01", "n1 n2: foam=0", in)
		}, func(t *testing.T, list []compat.Case) {
			if c := list[0]; len(c.LeftOut) != 1 || len(c.Clear) != 0 || len(c.Mixes[0].Possible) != 7 {
				t.Errorf("got %+v", mixes(&c))
			}
		}},
		{"a quiet field report rules nothing out", func(b *book) {
			b.jar("j1", "2026-05-01", "n1 n2 p1: gas=vented", in)
			b.jar("j2", "2026-05-01", "n1 n2: clean", in, field)
		}, func(t *testing.T, list []compat.Case) {
			if c := list[0]; len(c.LeftOut) != 1 || len(c.Mixes[0].Possible) != 7 {
				t.Errorf("got %v", mixes(&c))
			}
		}},
		{"one product that reacts alone is its own cause", func(b *book) {
			b.jar("j1", "2026-05-01", "n1: flakes=heavy", in)
		}, func(t *testing.T, list []compat.Case) {
			if c := list[0]; c.Mixes[0].Status != cause.Established || fmt.Sprint(c.Causes) != "[[n1]]" {
				t.Errorf("got %v", mixes(&c))
			}
		}},
		{"contradictory records are named with where they differ", func(b *book) {
			b.jar("j1", "2026-05-01", "n1 n2: gas=vented", in)
			b.jar("j2", "2026-05-02", "n1 n2 p1: clean", in, func(o *mix.Observation) { o.Water.ID = "rain"; o.Vessel.Closed = false })
		}, func(t *testing.T, list []compat.Case) {
			c := list[0]
			if c.Mixes[0].Status != cause.Contradicted || len(c.Causes) != 0 || len(c.Conflicts) != 1 {
				t.Fatalf("got %v", mixes(&c))
			}
			k := c.Conflicts[0]
			if k.ReactedJars[0].ID != "j1" || k.ClearJars[0].ID != "j2" || !slices.Equal(k.Differ, []compat.Circumstance{compat.ByWater, compat.ByVessel}) {
				t.Errorf("got %+v", k)
			}
		}},
		{"an order that matters is no contradiction", func(b *book) {
			b.jar("j1", "2026-05-01", "n1 n2: gas=vented", in)
			b.jar("j2", "2026-05-02", "n2 n1: clean", in)
			b.jar("j3", "2026-05-03", "n1: clean", in)
			b.jar("j4", "2026-05-03", "n2: clean", in)
		}, func(t *testing.T, list []compat.Case) {
			c := list[0]
			if fmt.Sprint(c.Causes) != "[[n1 n2]]" || len(c.Otherwise) != 1 || c.Otherwise[0].ID != "j2" || !c.Conflicts[0].Explained {
				t.Errorf("got %v, %+v", mixes(&c), c.Conflicts)
			}
		}},
		{"as far as the other circumstances were recorded", func(b *book) {
			b.jar("j1", "2026-05-01", "n1 n2: gas=vented", in)
			b.jar("j2", "2026-05-02", "n2 n1: clean", in, func(o *mix.Observation) { o.Temperature = mix.Value{} })
		}, func(t *testing.T, list []compat.Case) {
			if c := list[0]; c.Mixes[0].Status != cause.Contradicted || c.Factors[0].Unsure != 1 {
				t.Errorf("got %v, %+v", mixes(&c), c.Factors)
			}
		}},
		{"an order that nobody wrote down may be the one that reacts", func(b *book) {
			b.jar("j1", "2026-05-01", "n1 n2: gas=vented", in)
			b.jar("j2", "2026-05-02", "n2 n1: clean", in)
			b.jar("j3", "2026-05-03", "n2 n1: gas=vented", in, func(o *mix.Observation) { o.OrderKnown = false })
		}, func(t *testing.T, list []compat.Case) {
			c := list[0]
			if k := c.Conflicts[0]; c.Mixes[0].Status != cause.Narrowed || !k.Explained || !k.Partly || !slices.Equal(k.Differ, []compat.Circumstance{compat.ByOrder}) {
				t.Errorf("got %v, %+v", mixes(&c), k)
			}
		}},
		{"half the rate may be too little, and warmth is then not shown to matter", func(b *book) {
			half := func(o *mix.Observation) { o.Products[0].Rate = must(unit.ParseRate("1 pt/ac")) }
			b.jar("j1", "2026-05-01", "n1 n2: gas=vented", in)
			b.jar("j2", "2026-05-02", "n1 n2: clean", in, half)
			b.jar("j3", "2026-05-03", "n1 n2: gas=vented", in, func(o *mix.Observation) { o.Temperature = mix.Known(unit.Int(35)) })
		}, func(t *testing.T, list []compat.Case) {
			c := list[0]
			want := []string{"rates same 0 differ 1 unsure 0", "temperature same 1 differ 0 unsure 0"}
			if diff := cmp.Diff(want, factorLines(&c)); diff != "" || c.Mixes[0].Status != cause.Narrowed {
				t.Errorf("got %v\n%s", mixes(&c), diff)
			}
		}},
		{"what else the quiet one held is named, and shown to be no more than that", func(b *book) {
			b.jar("j1", "2026-05-01", "n1 n2: gas=vented", in)
			b.jar("j2", "2026-05-02", "n1 n2 p1: clean", in)
		}, func(t *testing.T, list []compat.Case) {
			c := list[0]
			if k := c.Conflicts[0]; c.Mixes[0].Status != cause.Contradicted || k.Explained || !slices.Equal(k.Beside, items("p1")) {
				t.Errorf("got %v, %+v", mixes(&c), k)
			}
		}},
		{"quiet with what a source names as its mend rules nothing out", func(b *book) {
			b.jar("j1", "2026-05-01", "o1 p1: flakes=heavy", in)
			b.jar("j2", "2026-05-02", "o1 p1 g1: clean", in)
			b.jar("j3", "2026-05-02", "o1: clean", in)
			b.jar("j4", "2026-05-02", "p1 g1: clean", in)
		}, func(t *testing.T, list []compat.Case) {
			c := list[0]
			if fmt.Sprint(c.Causes) != "[[o1 p1]]" || len(c.Conflicts) != 0 || len(c.LeftOut) != 1 || c.LeftOut[0].ID != "j2" {
				t.Errorf("the pair without its mend: causes %v, left out %v, %+v", c.Causes, c.LeftOut, c.Conflicts)
			}
			if diff := cmp.Diff([]string{"mends same 0 differ 1 unsure 0"}, factorLines(&c)); diff != "" {
				t.Errorf("what the mend did (-want +got)\n%s", diff)
			}
		}},
		{"a mend of one symptom says nothing of a hazard", func(b *book) {
			b.jar("j1", "2026-05-01", "o1 p1: gas=vented", in)
			b.jar("j2", "2026-05-02", "o1 p1 g1: clean", in)
		}, func(t *testing.T, list []compat.Case) {
			if c := list[0]; c.Mixes[0].Status != cause.Contradicted || len(c.LeftOut) != 0 {
				t.Errorf("got %v, left out %v", mixes(&c), c.LeftOut)
			}
		}},
		{"unless one of the reactions was in that order", func(b *book) {
			b.jar("j1", "2026-05-01", "n1 n2: gas=vented", in)
			b.jar("j2", "2026-05-02", "n2 n1: clean", in)
			b.jar("j3", "2026-05-03", "n2 n1: gas=vented", in)
		}, func(t *testing.T, list []compat.Case) {
			if c := list[0]; c.Mixes[0].Status != cause.Contradicted || c.Conflicts[0].Explained || len(c.Otherwise) != 0 {
				t.Errorf("got %v, %+v", mixes(&c), c.Conflicts)
			}
		}},
		{"a duplicated jar changes nothing", func(b *book) {
			b.jar("j1", "2026-05-01", "n1 n2: gas=vented", in)
			b.jar("j2", "2026-05-01", "n1 n2: gas=vented", in)
			b.jar("j3", "2026-05-01", "n1: clean", in)
		}, func(t *testing.T, list []compat.Case) {
			if c := list[0]; len(c.Mixes) != 1 || fmt.Sprint(c.Mixes[0].Possible) != "[[n2] [n1 n2]]" {
				t.Errorf("got %v", mixes(&c))
			}
		}},
		{"a three-way reaction stays one", func(b *book) {
			b.jar("j1", "2026-05-01", "n1 n2 p1: gas=vented", in)
			b.jar("j2", "2026-05-01", "n1 n2: clean", in)
			b.jar("j3", "2026-05-01", "n1 p1: clean", in)
			b.jar("j4", "2026-05-01", "n2 p1: clean", in)
		}, func(t *testing.T, list []compat.Case) {
			if c := list[0]; fmt.Sprint(c.Causes) != "[[n1 n2 p1]]" {
				t.Errorf("got %v", mixes(&c))
			}
		}},
		{"injury beyond what each does alone needs two", func(b *book) {
			b.rating("r", mix.Injury, 40, 2, 2)
			b.Observations[0].Investigation.ID = "x"
		}, func(t *testing.T, list []compat.Case) {
			if c := list[0]; c.Symptom != mix.Injury || fmt.Sprint(c.Causes) != "[[n1 n2]]" {
				t.Errorf("got %v", mixes(&c))
			}
		}},
	} {
		t.Run(strings.ReplaceAll(c.why, " ", "_"), func(t *testing.T) {
			b := orchard()
			c.given(b)
			c.check(t, b.judge().Investigate("x"))
		})
	}
}

// TestCasesOfMix holds which records bear on a mix without an investigation.
func TestCasesOfMix(t *testing.T) {
	b := orchard()
	b.jar("j1", "2026-05-01", "n1 n2 p1: gas=vented")
	b.jar("j2", "2026-05-02", "n1 n2 a1: clean")   // larger, as far as it held the mix
	b.jar("j3", "2026-05-03", "n1 a1: gas=vented") // another mix
	c := caseOf(t, b.judge().CasesOf(items("p1 n2 n1")), mix.Gas)
	want := []string{"[n1 n2 p1] narrowed causes [] possible [[p1] [n1 p1] [n2 p1] [n1 n2 p1]]"}
	if diff := cmp.Diff(want, mixes(c)); diff != "" {
		t.Errorf("(-want +got)\n%s", diff)
	}
}

func TestBeliefsAndPlan(t *testing.T) {
	c := caseOf(t, burndown().judge().Investigate("walls"), mix.Gas)
	beliefs, next := c.Beliefs(compat.MisreadRates)
	if len(beliefs) == 0 || next == nil {
		t.Fatalf("no beliefs: %v, %v", beliefs, next)
	}
	for i, b := range beliefs {
		if b.P < 0 || b.P > 1 || i > 0 && b.P > beliefs[i-1].P {
			t.Errorf("belief %d of %v: %v", i, b.Products, b.P)
		}
	}
	if got, _ := c.Beliefs(cause.Rates{Missed: 0.6}); got != nil {
		t.Error("rates over one half say nothing")
	}
	p := c.Plan(0)
	if p == nil || p.Jar == nil || !slices.Equal(p.Jar.Products, c.Next.Products) {
		t.Fatalf("a plan starts with the next jar: %+v", p)
	}
	var ends func(n *compat.PlanNode) int
	ends = func(n *compat.PlanNode) int {
		switch {
		case n == nil:
			return 0
		case n.Jar == nil:
			if n.Possible == 1 != n.Settled {
				t.Errorf("an end with one explanation names it: %+v", n)
			}
			return 1
		default:
			return ends(n.Reacts) + ends(n.Clear)
		}
	}
	if ends(p) < 2 {
		t.Error("a plan has an end for each course of results")
	}
	var possible []int
	for _, s := range c.Shrinking() {
		possible = append(possible, s.Possible)
	}
	if len(possible) != 8 || possible[7] != c.Possible || !slices.IsSortedFunc(possible, func(a, b int) int { return b - a }) {
		t.Errorf("possibilities shrink jar by jar to those left, got %v, %d left", possible, c.Possible)
	}
}
