package compat_test

import (
	"fmt"
	"slices"
	"testing"

	"github.com/google/go-cmp/cmp"
	"tankleaf.example/internal/compat"
	"tankleaf.example/internal/mix"
)

// TestDoubts holds for each doubt a case that has it and one, in its first line,
// that has not.
func TestDoubts(t *testing.T) {
	for _, c := range []struct {
		code          compat.DoubtCode
		mix           string
		without, with func(*book)
	}{
		{compat.SomeMembers, "acid carbonate", nothing, func(b *book) { b.Interactions[0].Members = refs("phosphite carbonate") }},
		{compat.SomeMembers, "oil agent", nothing, func(b *book) { b.jar("j", "2026-05-01", "o1 g1: flakes=heavy") }},
		{compat.Disagree, "o1 p2", nothing, func(b *book) { b.jar("j", "2026-05-01", "o1 p2: clean") }},
		{compat.Disagree, "oil powder", nothing, func(b *book) { b.says("fine", "clean:oil powder:flakes") }},
		{compat.CleanByLarger, "n1 n2", func(b *book) { b.jar("j", "2026-05-01", "n1 n2: clean") },
			func(b *book) { b.jar("j", "2026-05-01", "n1 n2 p1: clean") }},
		{compat.FewJars, "n1 n2", func(b *book) { b.jar("j", "2026-05-01", "n1 n2: flakes=heavy") },
			func(b *book) { b.jar("j", "2026-05-01", "n1 n2: clean") }},
		{compat.FewJars, "n1 n2", func(b *book) {
			for n := range 59 {
				b.jar(fmt.Sprint("j", n), fmt.Sprintf("2026-%02d-%02d", 1+n/28, 1+n%28), "n1 n2: clean")
			}
		}, func(b *book) {
			for n := range 58 {
				b.jar(fmt.Sprint("j", n), fmt.Sprintf("2026-%02d-%02d", 1+n/28, 1+n%28), "n1 n2: clean")
			}
		}},
		{compat.OneBatch, "n1 n2", func(b *book) { b.clean3("j", "n1 n2") },
			func(b *book) { b.clean3("j", "n1 n2", func(o *mix.Observation) { o.Date = date("2026-05-01") }) }},
		{compat.JarBlind, "n1 n2", nothing, func(b *book) { b.jar("j", "2026-05-01", "n1 n2: clean") }},
		{compat.NotRecorded, "n1 n2", func(b *book) { b.jar("j", "2026-05-01", "n1 n2: clean") },
			func(b *book) { b.jar("j", "2026-05-01", "n1 n2: gas=vented") }},
		{compat.HazardStands, "a1 c1", nothing, func(b *book) { b.jar("j", "2026-05-01", "a1 c1: clean") }},
		{compat.FromClass, "o1 p2", func(b *book) { b.jar("j", "2026-05-01", "o1 p2: clean") }, nothing},
		{compat.NoSourceSeen, "o1 p2", nothing, func(b *book) { b.Interactions[1].Sources[0].ID = "practice" }},
		{compat.Disputed, "o1 p2", nothing, func(b *book) { b.Interactions[1].Disputes = []mix.Dispute{{}} }},
		{compat.Old, "n1 n2", func(b *book) { b.jar("j", "2021-11-21", "n1 n2: clean") },
			func(b *book) { b.jar("j", "2021-11-20", "n1 n2: clean") }},
		{compat.Old, "n1 n2", func(b *book) { b.jar("j", "2021-12-01", "n1 n2: clean") },
			func(b *book) { b.jar("j", "2020-12-01", "n1 n2: clean") }},
		{compat.Tentative, "n1 n2", func(b *book) { b.clean3("j", "n1 n2") },
			func(b *book) { b.jar("j", "2026-05-01", "n1 n2: clean") }},
		{compat.Suspect, "n1 n2", func(b *book) { b.jar("j", "2026-05-01", "n1 n2 p1: clean") },
			func(b *book) { b.jar("j", "2026-05-01", "n1 n2 p1: gas=vented") }},
		{compat.PairsOnly, "n1 n2 d1", func(b *book) { b.jar("j", "2026-05-01", "n1 n2: clean") }, func(b *book) {
			b.jar("j1", "2026-05-01", "n1 n2: clean")
			b.jar("j2", "2026-05-01", "n1 d1: clean")
			b.jar("j3", "2026-05-01", "n2 d1: clean")
		}},
		{compat.Alone, "n1 n2", nothing, func(b *book) { b.jar("j", "2026-05-01", "n1: flakes=heavy") }},
	} {
		for _, given := range []struct {
			f    func(*book)
			want bool
		}{{c.without, false}, {c.with, true}} {
			b := orchard()
			given.f(b)
			if a := mixed(b.judge(), c.mix); hasDoubt(a.Doubts, c.code) != given.want {
				t.Errorf("%s: doubt %q: want %v in %s", c.mix, c.code, given.want, tell(a))
			}
		}
	}
}

func nothing(*book) {}

// TestTrace holds rule 7: what decided, what was outvoted and why.
func TestTrace(t *testing.T) {
	for _, c := range []struct {
		why, mix string
		given    func(*book)
		want     string
	}{
		{"one clean jar against a class statement", "o1 p2", func(b *book) { b.jar("j", "2026-05-01", "o1 p2: clean") },
			"apart inference disagree\ndecides apart curds\noutvoted clean [o1 p2]"},
		{"three", "o1 p2", func(b *book) { b.clean3("j", "o1 p2") },
			"clean jars few-jars jar-blind\ndecides clean [o1 p2]\nrelaxed unknown curds"},
		{"against a hazard", "a2 c1", func(b *book) { b.clean3("j", "a2 c1") },
			"never inference hazard-stands\ndecides never fizz\noutvoted clean [a2 c1]"},
		{"softened and still the worst", "o1 p2 g1", nothing,
			"steps inference from-class\ndecides steps curds"},
		{"softened beside something worse", "o1 p2 g1", func(b *book) { b.says("burn", "apart:o1 p2:injury") },
			"apart study\ndecides apart burn\nsoftened steps curds"},
		{"clean jars say nothing of injury", "o1 p2", func(b *book) {
			b.Interactions = nil
			b.says("burn", "apart:o1 p2:injury")
			b.jar("j", "2026-05-01", "o1 p2: clean")
		}, "apart study\ndecides apart burn\ninformative clean [o1 p2]"},
		{"law before a study of equal verdict", "a2 c1", func(b *book) { b.notice("no", mix.Forbids, "acid carbonate") },
			"never rule\ndecides never no\nagrees never fizz"},
		{"without a condition before one with", "n1 n2", func(b *book) {
			b.says("a-hot", "apart:n1 n2:gel", gates(over(mix.WaterTemp, 20)))
			b.says("b-any", "apart:n1 n2:gel")
		}, "apart study\ndecides apart b-any\nagrees apart a-hot"},
		{"jars of the very mix before a larger", "n1 n2", func(b *book) {
			b.clean3("big", "n1 n2 p1")
			b.jar("own", "2026-05-01", "n1 n2: clean")
		}, "clean single-jar tentative few-jars jar-blind\ndecides clean [n1 n2]\nagrees clean [n1 n2 p1]"},
		{"each symptom from where it was looked for", "n1 n2", func(b *book) {
			b.jar("j1", "2026-05-01", "n1 n2: foam=0 flakes=none")
			b.jar("j2", "2026-05-01", "n1 n2 d1: clean")
		}, "clean single-jar tentative few-jars jar-blind not-recorded\ndecides clean [n1 n2]\nagrees clean [d1 n1 n2]"},
	} {
		b := orchard()
		c.given(b)
		if diff := cmp.Diff(c.want, tell(mixed(b.judge(), c.mix))); diff != "" {
			t.Errorf("%s: (-want +got)\n%s", c.why, diff)
		}
	}
}

func TestCounts(t *testing.T) {
	b := orchard()
	b.jar("j1", "2026-05-01", "n1 n2: gas=none foam=0 flakes=none")
	b.jar("j2", "2026-05-01", "n2 n1: gas=none foam=100") // order of addition makes no other set
	b.jar("j3", "2026-05-02", "n1 n2: gas=none flakes=some")
	b.jar("f1", "2026-05-03", "n1 n2: foam=100 flakes=none", field)
	a := mixed(b.judge(), "n1 n2")
	set := a.Findings[0].Evidence.(*compat.JarSet)
	var got []string
	for _, c := range set.Counts {
		got = append(got, fmt.Sprintf("%v %d/%d reports %d independent %d", c.Symptom, c.Reacted, c.Recorded, c.Reports, c.Independent))
	}
	want := []string{"gas 0/3 reports 0 independent 2", "foam 1/2 reports 1 independent 1", "flakes 1/2 reports 0 independent 2"}
	if diff := cmp.Diff(want, got); diff != "" {
		t.Errorf("reports are counted apart; what was not recorded is not counted (-want +got)\n%s", diff)
	}
	if set.Counts[0].Upper < 0.63 || set.Counts[0].Upper > 0.64 {
		t.Errorf("0 of 3 still allows up to 63 %%, got %v", set.Counts[0].Upper)
	}
	if diff := cmp.Diff([]compat.SymptomVerdict{{Symptom: mix.Foam, Verdict: mix.Steps}, {Symptom: mix.Flakes, Verdict: mix.Apart}}, a.Symptoms); diff != "" {
		t.Errorf("(-want +got)\n%s", diff)
	}
}

// TestIndependent holds what makes jars independent, through the count.
func TestIndependent(t *testing.T) {
	water := func(id string) func(*mix.Observation) {
		return func(o *mix.Observation) { o.Water.ID = mix.ID(id) }
	}
	batch := func(id string) func(*mix.Observation) {
		return func(o *mix.Observation) { o.Products[0].Batch = id }
	}
	type jar struct {
		day  string
		edit func(*mix.Observation)
	}
	same := func(*mix.Observation) {}
	for _, c := range []struct {
		why  string
		jars []jar
		want int
	}{
		{"one", []jar{{"01", same}}, 1},
		{"the same twice", []jar{{"01", same}, {"01", same}}, 1},
		{"two days", []jar{{"01", same}, {"02", same}}, 2},
		{"two waters", []jar{{"01", same}, {"01", water("rain")}}, 2},
		{"two batches", []jar{{"01", same}, {"01", batch("B2")}}, 2},
		{"a water not recorded may be the same", []jar{{"01", same}, {"01", water("")}}, 1},
		{"it takes nothing from those that are known", []jar{{"01", water("")}, {"01", water("rain")}, {"01", water("well")}}, 2},
		{"a batch not recorded may be the same", []jar{{"01", same}, {"01", batch("")}}, 1},
	} {
		b := orchard()
		for i, x := range c.jars {
			b.jar(fmt.Sprint("j", i), "2026-05-"+x.day, "n1 n2: clean", x.edit)
		}
		set := mixed(b.judge(), "n1 n2").Findings[0].Evidence.(*compat.JarSet)
		if got := set.Counts[0].Independent; got != c.want {
			t.Errorf("%s: want %d, got %d", c.why, c.want, got)
		}
	}
}

func TestUntested(t *testing.T) {
	b := orchard()
	b.jar("j1", "2026-05-01", "n1 n2: clean")
	b.jar("j2", "2026-05-01", "n1 p1 d1: flakes=heavy")
	a := mixed(b.judge(), "n1 n2 o1 p1 d1")
	var got []string
	for _, p := range a.Untested {
		got = append(got, fmt.Sprint(p))
	}
	// n1 n2 was clean, o1 p1 is known by class, n1 p1 d1 reacted together.
	want := []string{"[d1 n2]", "[d1 o1]", "[n1 o1]", "[n2 o1]", "[n2 p1]"}
	if !slices.Equal(got, want) || a.Verdict != mix.Apart {
		t.Errorf("want %v untested beside the verdict, got %v, %s", want, got, tell(a))
	}
}

func TestHandling(t *testing.T) {
	b := orchard()
	b.class("strong-acid", "acid", func(c *mix.Class) { c.Hazards = []mix.Hazard{mix.Concentrate} })
	b.product("s1", "strong-acid")
	b.says("warm", "steps:strong-acid n1:heat")
	j := b.judge()
	if got := j.Solo("s1").Handling; !slices.Equal(got, []mix.Hazard{mix.Concentrate}) {
		t.Errorf("by its class: %v", got)
	}
	a := mixed(j, "s1 n1")
	if !slices.Equal(a.Handling, []mix.Hazard{mix.HotMix, mix.Concentrate}) || len(a.Hazards) != 0 {
		t.Errorf("heat that steps deal with calls for care: %v, %v", a.Handling, a.Hazards)
	}
	if a := mixed(j, "s1 c1"); !slices.Equal(a.Hazards, []mix.Hazard{mix.Pressure}) {
		t.Errorf("the hazard of the mix: %v", a.Hazards)
	}
}
