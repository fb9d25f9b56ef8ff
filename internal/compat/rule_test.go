package compat_test

import (
	"slices"
	"testing"

	"tankleaf.example/internal/compat"
	"tankleaf.example/internal/mix"
)

// TestMends holds rule 6 over the statement that oils and powders leave flakes.
func TestMends(t *testing.T) {
	mends := func(list ...mix.Mend) func(*book) {
		return func(b *book) { b.Interactions[1].Mends = list }
	}
	to := func(class string, v mix.Verdict) mix.Mend {
		return mix.Mend{Class: mix.Ref{ID: mix.ID(class)}, To: v}
	}
	for _, c := range []struct {
		why   string
		mix   string
		given func(*book)
		want  mix.Verdict
		item  mix.ID // that is the mend
	}{
		{"without it", "o1 p2", nothing, mix.Apart, ""},
		{"with it", "g1 o1 p2", nothing, mix.Steps, "g1"},
		{"one product of a class below", "g9 o1 p2", func(b *book) {
			b.class("fine-agent", "agent")
			b.product("g9", "fine-agent")
		}, mix.Steps, "g9"},
		{"of two that are there the first", "g0 g1 o1 p2", func(b *book) { b.product("g0", "agent") }, mix.Steps, "g0"},
		{"of two mends the one that does more", "oil powder agent wonder", func(b *book) {
			b.class("wonder", "")
			mends(to("agent", mix.Steps), to("wonder", mix.Clean))(b)
		}, mix.Steps, "agent"}, // two beside the named ones: the wonder is no longer all there is
		{"that leaves nothing to do, named alone", "oil powder wonder", func(b *book) {
			b.class("wonder", "")
			mends(to("agent", mix.Steps), to("wonder", mix.Clean))(b)
		}, mix.Clean, "wonder"},
		{"a mend of a class asked for is the class itself", "oil powder g1", func(b *book) { mends(to("agent", mix.Clean))(b) }, mix.Steps, "g1"},
		{"a mend that says no less than the statement", "g1 o1 p2", func(b *book) {
			b.Interactions[1].Verdict = mix.Steps
		}, mix.Steps, "g1"},
		{"a mend that says unknown leaves a step at least", "g1 o1 p2", mends(to("agent", mix.Unknown)), mix.Steps, "g1"},
		{"one of law has none", "g1 o1 p2", func(b *book) { b.Interactions[1].Kind = mix.Legal }, mix.Apart, ""},
		{"nor has a hazard", "g1 o1 p2", func(b *book) { b.Interactions[1].Hazards = []mix.Hazard{mix.ToxicGas} }, mix.Never, ""},
		{"nor gas that its steps deal with", "g1 o1 p2", func(b *book) { b.Interactions[1].Symptoms = []mix.Symptom{mix.Gas} }, mix.Apart, ""},
		{"nor one that says all is well", "oil powder agent", func(b *book) { b.Interactions[1].Verdict = mix.Clean }, mix.Unknown, ""},
	} {
		b := orchard()
		c.given(b)
		a := mixed(b.judge(), c.mix)
		f := finding(t, a, "curds")
		if a.Verdict != c.want || f.MendItem != c.item || (f.Mend != nil) != (c.item != "") {
			t.Errorf("%s: want %v by %q, got %q: %s", c.why, c.want, c.item, f.MendItem, tell(a))
		}
	}
}

// TestNoticeEffects holds rule 2 for each effect, on a mix of which nothing is known
// and on one that is clean.
func TestNoticeEffects(t *testing.T) {
	for _, c := range []struct {
		effect         mix.Effect
		unknown, clean mix.Verdict
		part           compat.Part // in the clean mix
		stated         mix.Verdict
	}{
		{mix.Forbids, mix.Never, mix.Never, compat.Decides, mix.Never},
		{mix.Requires, mix.Unknown, mix.Steps, compat.Decides, mix.Steps},
		{mix.Allows, mix.Unknown, mix.Clean, compat.Informative, mix.Unknown},
		{mix.Informs, mix.Unknown, mix.Clean, compat.Informative, mix.Unknown},
		{mix.NoEffect, mix.Unknown, mix.Clean, compat.Informative, mix.Unknown},
	} {
		b := orchard()
		b.notice("said", c.effect, "n1 n2")
		a := mixed(b.judge(), "n1 n2")
		if a.Verdict != c.unknown {
			t.Errorf("%v of an unknown mix: %s", c.effect, tell(a))
		}
		if untested := c.effect != mix.Forbids; (len(a.Untested) == 1) != untested {
			t.Errorf("%v tests nothing: untested %v", c.effect, a.Untested)
		}
		b.clean3("j", "n1 n2")
		a = mixed(b.judge(), "n1 n2")
		f := finding(t, a, "said")
		if a.Verdict != c.clean || f.Part != c.part || f.Stated != c.stated || f.Grade != mix.Rule {
			t.Errorf("%v of a clean mix: %s", c.effect, tell(a))
		}
		if a.Kind != mix.Legal && f.Part == compat.Decides {
			t.Errorf("%v: kind %v", c.effect, a.Kind)
		}
	}
}

// TestNoticePlaces holds where a notice applies: in its place and all its parts.
func TestNoticePlaces(t *testing.T) {
	for _, c := range []struct {
		why        string
		here, of   mix.ID
		want       mix.Verdict
		open, fail bool
	}{
		{"everywhere", "upper", "", mix.Never, false, false},
		{"in the place", "lower", "lower", mix.Never, false, false},
		{"in a part of it", "lower", "valley", mix.Never, false, false},
		{"in a part of a part", "field", "valley", mix.Never, false, false},
		{"in the whole that holds it: perhaps", "valley", "field", mix.Never, true, false},
		{"beside it", "upper", "lower", mix.Unknown, false, true},
		{"in a place that is in no book", "gone", "lower", mix.Unknown, false, true},
		{"nobody knows where: perhaps", "", "lower", mix.Never, true, false},
	} {
		b := orchard()
		b.Places = []mix.Place{{ID: "valley"}, {ID: "lower", PartOf: mix.Ref{ID: "valley"}}, {ID: "upper", PartOf: mix.Ref{ID: "valley"}},
			{ID: "field", PartOf: mix.Ref{ID: "lower"}}}
		b.notice("no", mix.Forbids, "n1 n2", func(n *mix.Notice) { n.Place.ID = c.of })
		a := b.judge().Mix(items("n1 n2"), mix.Situation{Place: c.here})
		f := finding(t, a, "no")
		if a.Verdict != c.want || hasDoubt(f.Doubts, compat.ElsewhereOnly) != c.open || (f.Part == compat.OffGate) != c.fail {
			t.Errorf("%s: %s", c.why, tell(a))
		}
	}
}

// TestNoticeConditions: a notice may have conditions of its own beside its place, and
// those of one notice are not those of another.
func TestNoticeConditions(t *testing.T) {
	b := orchard()
	b.notice("no", mix.Forbids, "n1 n2", func(n *mix.Notice) {
		n.When, n.Place.ID = []mix.Gate{ref(mix.CropFactor, "apple")}, "lower"
	})
	b.notice("other", mix.Informs, "n1 n2")
	j := b.judge()
	for _, c := range []struct {
		in           mix.Situation
		want         mix.Verdict
		open, failed int
	}{
		{mix.Situation{}, mix.Never, 2, 0},
		{mix.Situation{Crop: "apple"}, mix.Never, 1, 0},
		{mix.Situation{Crop: "pear"}, mix.Unknown, 1, 1},
		{mix.Situation{Crop: "apple", Place: "lower"}, mix.Never, 0, 0},
	} {
		a := j.Mix(items("n1 n2"), c.in)
		f := finding(t, a, "no")
		if a.Verdict != c.want || len(f.Open) != c.open || len(f.Failed) != c.failed {
			t.Errorf("%+v: %d open, %d failed: %s", c.in, len(f.Open), len(f.Failed), tell(a))
		}
	}
	if got := len(b.Notices[0].When); got != 1 {
		t.Errorf("the notice in the book has %d conditions now", got)
	}
}

// TestRequiredStepsOfParts holds of which parts of a mix that nobody tested the steps
// asked for by law are kept.
func TestRequiredStepsOfParts(t *testing.T) {
	for _, c := range []struct {
		why   string
		mix   string
		given func(*book)
		want  mix.Verdict
	}{
		{"a part that jars hold", "n1 n2 p1", func(b *book) { b.jar("j", "2026-05-01", "n1 n2: clean") }, mix.Steps},
		{"what two larger jars have in common", "n1 n2 p1", func(b *book) {
			b.jar("j", "2026-05-01", "n1 n2 p1 p2: clean")
			b.jar("k", "2026-05-01", "n1 n2 d1: foam=0")
		}, mix.Steps},
		{"what two parts have in common", "n1 n2 p1 p2", func(b *book) {
			b.jar("j", "2026-05-01", "n1 n2 p1: gas=none foam=0")
			b.jar("k", "2026-05-01", "n1 n2 p2: flakes=none")
		}, mix.Steps}, // neither is clean by itself; n1 n2 is, by both
		{"a part that a source calls clean", "oil agent n2", func(b *book) {
			b.says("fine", "clean:oil agent:flakes")
			b.notice("oily", mix.Requires, "oil")
		}, mix.Steps},
		{"with the mend that makes it so", "oil powder agent n2", func(b *book) {
			b.Interactions[1].Mends[0].To = mix.Clean
			b.notice("oily", mix.Requires, "oil")
		}, mix.Steps},
		{"not a part that nobody asks anything of", "n1 n2 p1", func(b *book) { b.jar("j", "2026-05-01", "n2 p1: clean") }, mix.Unknown},
		{"not a part that has not been seen clean", "n1 n2 p1", func(b *book) { b.jar("j", "2026-05-01", "n1 n2: foam=0") }, mix.Unknown},
		{"not one product alone", "n1 n2 p1", func(b *book) { b.jar("j", "2026-05-01", "n1: clean") }, mix.Unknown},
		{"nor where it is not in force", "n1 n2 p1", func(b *book) {
			b.Notices[0].Until = date("2020-01-01")
			b.jar("j", "2026-05-01", "n1 n2: clean")
		}, mix.Unknown},
	} {
		b := orchard()
		b.notice("so", mix.Requires, "n1")
		c.given(b)
		a := mixed(b.judge(), c.mix)
		if a.Verdict != c.want {
			t.Errorf("%s: want %v, got %s", c.why, c.want, tell(a))
		}
		for _, f := range a.Findings {
			if _, law := f.Evidence.(compat.Ruling); law && f.Part != compat.OffGate && (f.Verdict == mix.Steps) != (c.want == mix.Steps) {
				t.Errorf("%s: a demand that is shelved is shown and asks for nothing: %s", c.why, tell(a))
			}
		}
	}
}

// TestHazardsOfTheMix: those of every finding that asks for caution, whichever
// decides, and not of what does not apply.
func TestHazardsOfTheMix(t *testing.T) {
	hazard := func(h ...mix.Hazard) func(*mix.Interaction) {
		return func(n *mix.Interaction) { n.Hazards = h }
	}
	b := orchard()
	b.says("fire", "never:n1 n2:fire", hazard(mix.FireHazard))
	b.says("toxic", "apart:n1 n2:vapor", hazard(mix.ToxicGas, mix.Concentrate))
	b.says("cold", "never:n1 n2:gas", hazard(mix.Pressure), gates(ref(mix.VesselFactor, "closed")))
	b.says("care", "steps:n1 n2:heat", hazard(mix.Concentrate))
	b.says("dilute", "steps:n1 n2:gas heat")
	a := b.judge().Mix(items("n1 n2"), mix.Situation{Vessel: "open"})
	if want := []mix.Hazard{mix.ToxicGas, mix.FireHazard, mix.Concentrate}; !slices.Equal(a.Hazards, want) {
		t.Errorf("hazards: want %v, got %v", want, a.Hazards)
	}
	if want := []mix.Hazard{mix.Pressure, mix.HotMix}; !slices.Equal(a.Handling, want) {
		t.Errorf("what steps deal with calls for care: want %v, got %v", want, a.Handling)
	}
	for name, want := range map[string]mix.Verdict{"fire": mix.Never, "toxic": mix.Never, "care": mix.Steps, "dilute": mix.Steps, "cold": mix.Unknown} {
		if f := finding(t, a, name); f.Verdict != want {
			t.Errorf("%s: want %v, got %v", name, want, f.Verdict)
		}
	}
}

// TestSymptomsOneByOne holds rule 4: the worst that is known of each.
func TestSymptomsOneByOne(t *testing.T) {
	b := orchard()
	b.says("mild", "steps:n1 n2:foam gel")
	b.says("bad", "apart:n1 n2:gel")
	b.says("off", "never:n1 n2:injury", gates(ref(mix.CropFactor, "pear")))
	b.clean3("j", "n1 n2")
	a := b.judge().Mix(items("n1 n2"), mix.Situation{Crop: "apple"})
	want := []compat.SymptomVerdict{{Symptom: mix.Gas, Verdict: mix.Clean}, {Symptom: mix.Foam, Verdict: mix.Steps}, {Symptom: mix.Flakes, Verdict: mix.Clean},
		{Symptom: mix.Gel, Verdict: mix.Apart}}
	if !slices.Equal(a.Symptoms, want) {
		t.Errorf("want %v, got %v", want, a.Symptoms)
	}
	b = orchard()
	b.jar("j", "2026-05-01", "n1 n2: gas=firm foam=300 flakes=some back=fully")
	want = []compat.SymptomVerdict{{Symptom: mix.Gas, Verdict: mix.Never}, {Symptom: mix.Foam, Verdict: mix.Steps}, {Symptom: mix.Flakes, Verdict: mix.Steps}}
	if a := mixed(b.judge(), "n1 n2"); !slices.Equal(a.Symptoms, want) {
		t.Errorf("each as its own reading has it: want %v, got %v", want, a.Symptoms)
	}
}

// TestRepeatedRecords: of two records with one ID the first counts, and a rule without
// members says nothing.
func TestRepeatedRecords(t *testing.T) {
	b := orchard()
	b.says("curds", "never:n1 n2:gas")
	b.notice("no", mix.Informs, "n1")
	b.notice("no", mix.Forbids, "n1 n2")
	b.notice("all", mix.Forbids, "")
	b.jar("j", "2026-05-01", "n1 n2: foam=0")
	b.jar("j", "2026-05-02", "n1 n2: gas=vented")
	b.product("n1", "acid")
	b.class("acid", "carbonate")
	j := b.judge()
	if a := mixed(j, "n1 n2"); a.Verdict != mix.Unknown {
		t.Errorf("the second of one ID was heard: %s", tell(a))
	}
	if j.Outcome("j").Sign(mix.Gas).State != compat.NotSeen || j.Outcome("gone") != nil {
		t.Error("outcomes are those of the first")
	}
	if a := mixed(j, "n1 c1"); a.Verdict != mix.Unknown {
		t.Errorf("a product written twice is in the classes of the first: %s", tell(a))
	}
	if n := len(j.FullMatrix().Classes()); n != 8 {
		t.Errorf("a class written twice is one: %d", n)
	}
}
