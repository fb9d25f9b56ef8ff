package compat_test

import (
	"slices"
	"testing"

	"github.com/google/go-cmp/cmp"
	"tankleaf.example/internal/compat"
	"tankleaf.example/internal/mix"
)

// TestJarsInOrder holds rule 5 for jars: n1 before n2 stayed clean three times, n2
// before n1 left flakes.
func TestJarsInOrder(t *testing.T) {
	noOrder := func(o *mix.Observation) { o.OrderKnown = false }
	turned := func(b *book) { b.jar("turned", "2026-05-09", "n2 n1: gas=none foam=0 flakes=heavy") }
	both := func(b *book) {
		b.clean3("right", "n1 n2")
		turned(b)
	}
	for _, c := range []struct {
		why   string
		order string
		given func(*book)
		want  mix.Verdict
	}{
		{"in the order that stayed clean", "n1 n2", both, mix.Clean},
		{"with others between and around them", "g1 n1 o1 n2 d1", both, mix.Clean},
		{"in the order that reacted", "n2 n1", both, mix.Apart},
		{"the order is not known: the worst case", "", both, mix.Apart},
		{"nor that of one of them", "n1", both, mix.Apart},
		{"an order of others", "g1 o1", both, mix.Apart},
		{"two clean jars do not outweigh one that reacted", "n1 n2", func(b *book) {
			both(b)
			b.Observations = slices.Delete(b.Observations, 0, 1)
		}, mix.Apart},
		{"nor three of one day, water and batch", "n1 n2", func(b *book) {
			b.clean3("right", "n1 n2", func(o *mix.Observation) { o.Date = date("2026-05-01") })
			turned(b)
		}, mix.Apart},
		{"nor three that never looked for gas", "n1 n2", func(b *book) {
			b.clean3("right", "n1 n2", func(o *mix.Observation) { o.Readings[0].Gas = mix.GasNotRecorded })
			turned(b)
		}, mix.Apart},
		{"nor three reports", "n1 n2", func(b *book) {
			b.clean3("right", "n1 n2", field)
			turned(b)
		}, mix.Apart},
		{"nor three of unknown order", "n1 n2", func(b *book) {
			b.clean3("right", "n1 n2", noOrder)
			turned(b)
		}, mix.Apart},
		{"a fourth in this order reacted", "n1 n2", func(b *book) {
			both(b)
			b.jar("fourth", "2026-05-10", "n1 n2: gas=none foam=100 flakes=none")
		}, mix.Apart},
		{"one that reacted may have gone in in any order", "n1 n2", func(b *book) {
			both(b)
			b.jar("any", "2026-05-10", "n1 n2: gas=none foam=100 flakes=none", noOrder)
		}, mix.Apart},
		{"so may a report", "n1 n2", func(b *book) {
			both(b)
			b.jar("seen", "2026-05-10", "n1 n2: flakes=heavy", field, noOrder)
		}, mix.Apart},
		{"one product went in twice: there is no order", "n1 n2", func(b *book) {
			both(b)
			b.jar("twice", "2026-05-10", "n2 n1 n2: gas=none foam=100 flakes=none")
		}, mix.Apart},
		{"something was seen and not judged, in whatever order", "n1 n2", func(b *book) {
			both(b)
			b.jar("unjudged", "2026-05-10", "n2 n1: gas=none foam=40 flakes=none", func(o *mix.Observation) { o.Vessel = mix.Vessel{} })
		}, mix.Apart},
		{"a hazard is one in any order", "n1 n2", func(b *book) {
			b.clean3("right", "n1 n2")
			b.jar("turned", "2026-05-09", "n2 n1: gas=vented foam=0 flakes=none")
		}, mix.Never},
		{"also beside a nuisance", "n1 n2", func(b *book) {
			both(b)
			b.jar("gas", "2026-05-10", "n2 n1: gas=vented foam=0 flakes=none")
		}, mix.Never},
		{"a statement still speaks", "n1 n2", func(b *book) {
			both(b)
			b.says("said", "steps:n1 n2:injury")
		}, mix.Steps},
		{"and what it says of one order holds in that order", "n1 n2", func(b *book) {
			both(b)
			b.says("said", "apart:n1 n2:flakes", gates(order("n2", "n1")))
		}, mix.Clean},
		{"what a rule requires makes steps of it", "n1 n2", func(b *book) {
			both(b)
			b.notice("so", mix.Requires, "n1")
		}, mix.Steps},
		{"a jar of one product has no order", "n1 n2", func(b *book) { b.jar("one", "2026-05-01", "n1: gas=vented") }, mix.Never},
	} {
		b := orchard()
		c.given(b)
		a := b.judge().Mix(items("n1 n2"), mix.Situation{Order: items(c.order)})
		if a.Verdict != c.want {
			t.Errorf("%s: want %v, got %s", c.why, c.want, tell(a))
		}
		if told := hasDoubt(a.Doubts, compat.OtherOrder); told != (c.want == mix.Clean) {
			t.Errorf("%s: that another order reacted is a doubt, and only where it was set aside: %s", c.why, tell(a))
		}
	}
}

// TestOrderedTrace holds what the reader is shown of both orders.
func TestOrderedTrace(t *testing.T) {
	b := orchard()
	b.clean3("right", "n1 n2")
	b.jar("turned", "2026-05-09", "n2 n1: gas=none foam=0 flakes=heavy")
	j := b.judge()
	a := j.Mix(items("n1 n2"), mix.Situation{Order: items("n1 n2")})
	want := "clean jars few-jars jar-blind other-order\ndecides clean [n1 n2]\noff-gate unknown [n1 n2]"
	if diff := cmp.Diff(want, tell(a)); diff != "" {
		t.Errorf("(-want +got)\n%s", diff)
	}
	on, off := a.Findings[0].Evidence.(*compat.JarSet), a.Findings[1].Evidence.(*compat.JarSet)
	if len(on.Jars) != 3 || on.Counts[2].Reacted != 0 || on.Counts[2].Recorded != 3 {
		t.Errorf("what decides is the jars of this order alone: %+v", on)
	}
	if len(off.Jars) != 4 || off.Counts[2].Reacted != 1 || a.Findings[1].Stated != mix.Apart {
		t.Errorf("all jars are shown beside them: %+v", off)
	}
	if e := a.Findings[0].Doubts; len(e) == 0 || e[len(e)-1].Evidence[0] != compat.Evidence(off) {
		t.Errorf("the doubt leads to them: %+v", e)
	}
	// With a third product the clean order proves nothing of all three, and the
	// reaction is not expected either.
	a = j.Mix(items("n1 n2 d1"), mix.Situation{Order: items("n1 d1 n2")})
	if a.Verdict != mix.Unknown || len(a.Untested) != 2 {
		t.Errorf("part of a larger mix: %s, untested %v", tell(a), a.Untested)
	}
	b.notice("so", mix.Requires, "n1")
	if a := b.judge().Mix(items("n1 n2 d1"), mix.Situation{Order: items("n1 n2")}); a.Verdict != mix.Steps {
		t.Errorf("steps asked of a part that is clean in its order: %s", tell(a))
	}
	if a := j.Mix(items("n1 n2 d1"), mix.Situation{Order: items("n2 d1 n1")}); a.Verdict != mix.Apart {
		t.Errorf("the order that reacted in part of a larger mix: %s", tell(a))
	}
}
