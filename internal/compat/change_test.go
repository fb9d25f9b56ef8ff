package compat_test

import (
	"fmt"
	"testing"

	"github.com/google/go-cmp/cmp"
	"tankleaf.example/internal/compat"
	"tankleaf.example/internal/mix"
	"tankleaf.example/internal/unit"
)

// changeLines tells changes a line each: what is left out, then what takes a place,
// with the conflicts that stay and what is untested with it.
func changeLines(all compat.Changes) []string {
	list := all.Without
	for _, r := range all.Instead {
		list = append(list, r.Best...)
	}
	var lines []string
	for _, c := range list {
		line := fmt.Sprintf("%s>%s %v", c.Out, c.In, c.Answer.Verdict)
		if c.Left > 0 {
			line += fmt.Sprint(" left ", c.Left)
		}
		for _, id := range c.Untested {
			line += " ?" + string(id)
		}
		lines = append(lines, line)
	}
	return lines
}

// TestReplacements holds what is offered in place of o1 in a mix with p2, which it
// must be kept apart from.
func TestReplacements(t *testing.T) {
	with := func(b *book, product string, uses ...string) { b.used(product, uses...) }
	for _, c := range []struct {
		why   string
		given func(*book)
		in    mix.Situation
		want  []string // beyond the two left-outs
	}{
		{"nothing of its purpose", func(b *book) { with(b, "o1", "apple/bloom/mites") }, mix.Situation{}, nil},
		{"one of which nothing is known", func(b *book) {
			with(b, "o1", "apple/bloom/mites")
			with(b, "n1", "pear/fruit/mites")
		}, mix.Situation{}, []string{"o1>n1 unknown ?p2"}},
		{"not on the crop that is sprayed", func(b *book) {
			with(b, "o1", "apple/bloom/mites")
			with(b, "n1", "pear/fruit/mites")
		}, mix.Situation{Crop: "apple"}, nil},
		{"on that crop, whatever the timing", func(b *book) {
			with(b, "o1", "apple/bloom/mites", "pear/bloom/scale")
			with(b, "n1", "apple/fruit/mites")
			with(b, "n2", "apple/fruit/scale") // which o1 does not serve there
		}, mix.Situation{Crop: "apple"}, []string{"o1>n1 unknown ?p2"}},
		{"no better than what it replaces", func(b *book) {
			with(b, "o1", "apple/bloom/mites")
			with(b, "o2", "apple/bloom/mites")
		}, mix.Situation{}, nil},
		{"the known before the unknown, the less cautious first, the less untested first", func(b *book) {
			for _, id := range []string{"o1", "n1", "n2", "d1", "g1"} {
				with(b, id, "apple/bloom/mites")
			}
			b.says("mild", "steps:d1 p2:foam")
			b.jar("j", "2026-05-01", "n2 p2: clean")
		}, mix.Situation{}, []string{"o1>n2 clean", "o1>d1 steps", "o1>g1 unknown ?p2", "o1>n1 unknown ?p2"}},
		{"each once, however many purposes it shares", func(b *book) {
			with(b, "o1", "apple/bloom/mites", "apple/bloom/scale")
			with(b, "n1", "apple/bloom/mites", "apple/bloom/scale", "pear/bloom/scale")
		}, mix.Situation{}, []string{"o1>n1 unknown ?p2"}},
		{"a use without a purpose is a use for nothing", func(b *book) {
			with(b, "o1", "apple/bloom/")
			with(b, "n1", "apple/bloom/")
		}, mix.Situation{}, nil},
		{"six at most", func(b *book) {
			with(b, "o1", "apple/bloom/mites")
			for i := range 12 {
				b.product(fmt.Sprintf("z%02d", i), "")
				with(b, fmt.Sprintf("z%02d", i), "apple/bloom/mites")
			}
		}, mix.Situation{}, []string{"o1>z00 unknown ?p2", "o1>z01 unknown ?p2", "o1>z02 unknown ?p2", "o1>z03 unknown ?p2",
			"o1>z04 unknown ?p2", "o1>z05 unknown ?p2"}},
		{"what is in the mix already replaces nothing", func(b *book) {
			with(b, "o1", "apple/bloom/mites")
			with(b, "p2", "apple/bloom/mites")
		}, mix.Situation{}, nil},
	} {
		b := orchard()
		c.given(b)
		got := changeLines(b.judge().WhatIf(items("p2 o1"), c.in))
		want := append([]string{"o1> unknown", "p2> unknown"}, c.want...)
		if diff := cmp.Diff(want, got); diff != "" {
			t.Errorf("%s (-want +got)\n%s", c.why, diff)
		}
	}
}

// TestReplacementsThatAreMended: a pair that must be kept apart by itself may do in a
// mix that holds its mend, or in a situation where its condition fails.
func TestReplacementsThatAreMended(t *testing.T) {
	b := orchard()
	b.used("a2", "apple/bloom/feed")
	b.used("o1", "apple/bloom/feed") // curds with p2, which the agent g1 mends
	b.says("burn", "apart:a2 p2:injury")
	got := changeLines(b.judge().WhatIf(items("a2 p2 g1"), mix.Situation{}))
	want := []string{"a2> unknown", "g1> apart left 1", "p2> unknown", "a2>o1 steps ?g1"}
	if diff := cmp.Diff(want, got); diff != "" {
		t.Errorf("mended (-want +got)\n%s", diff)
	}
	b = orchard()
	b.used("a2", "apple/bloom/feed")
	b.used("n1", "apple/bloom/feed")
	b.says("burn", "apart:a2 p2:injury")
	b.says("warm", "apart:n1 p2:gel", gates(over(mix.WaterTemp, 30)))
	cold := mix.Situation{WaterTemp: mix.Known(unit.Int(10))}
	got = changeLines(b.judge().WhatIf(items("a2 p2"), cold))
	want = []string{"a2> unknown", "p2> unknown", "a2>n1 unknown ?p2"}
	if diff := cmp.Diff(want, got); diff != "" {
		t.Errorf("where its condition fails (-want +got)\n%s", diff)
	}
	if got := changeLines(b.judge().WhatIf(items("a2 p2"), mix.Situation{})); len(got) != 2 {
		t.Errorf("where it may hold: %v", got)
	}
}

// TestNoReplacementWhenTheTroubleLiesElsewhere: taking it out changes nothing.
func TestNoReplacementWhenTheTroubleLiesElsewhere(t *testing.T) {
	b := orchard()
	for _, id := range []string{"n1", "n2", "o1", "g1"} {
		b.used(id, "apple/bloom/"+map[bool]string{true: "feed", false: "mites"}[id[0] == 'n'])
	}
	got := changeLines(b.judge().WhatIf(items("o1 p2 n1"), mix.Situation{}))
	want := []string{"n1> apart left 1", "o1> unknown", "p2> unknown", "o1>g1 unknown ?n1 ?p2"}
	if diff := cmp.Diff(want, got); diff != "" {
		t.Errorf("(-want +got)\n%s", diff)
	}
	// A mix that asks for no caution has nothing to replace.
	if got := changeLines(b.judge().WhatIf(items("n1 o1"), mix.Situation{})); len(got) != 2 {
		t.Errorf("got %v", got)
	}
	b.says("mild", "steps:n1 o1:foam")
	if got := changeLines(b.judge().WhatIf(items("n1 o1"), mix.Situation{})); len(got) != 2 {
		t.Errorf("its steps answer a mix that asks for steps: %v", got)
	}
	if got := b.judge().Replacements(items("n1 o1"), mix.Situation{}, mix.Steps); len(got) != 2 || got[0].Out != "n1" || got[1].Found != 1 {
		t.Errorf("a trial may seek what needs no steps: %+v", got)
	}
}

// TestProductPartners yields each product that something is said of, once, and ends
// when asked to.
func TestProductPartners(t *testing.T) {
	b := orchard()
	b.Products = append(b.Products, b.Products[5]) // p1 once more; the first counts
	b.jar("j", "2026-05-01", "o1 n1: flakes=heavy")
	j := b.judge()
	var got []string
	for p := range j.ProductPartners("o1") {
		got = append(got, fmt.Sprint(p.Item, " ", p.Answer.Verdict))
	}
	if diff := cmp.Diff([]string{"p1 apart", "p2 apart", "n1 apart"}, got); diff != "" {
		t.Errorf("(-want +got)\n%s", diff)
	}
	n := 0
	for range j.ProductPartners("o1") {
		n++
		break
	}
	for range j.Pairs() {
		n++
		break
	}
	if n != 2 {
		t.Errorf("went on after the first: %d", n)
	}
}

// TestPartnerNeedsBoth: what is said of one of the two makes no partners, what is said
// of both does, or what was seen of both in a larger mix.
func TestPartnerNeedsBoth(t *testing.T) {
	for _, c := range []struct {
		why   string
		given func(*book)
		want  []string // partners of n1
	}{
		{"a rule on it alone", func(b *book) { b.notice("no", mix.Forbids, "n1") }, nil},
		{"a jar of it alone", func(b *book) { b.jar("j", "2026-05-01", "n1: gas=vented") }, nil},
		{"a rule on both", func(b *book) { b.notice("no", mix.Allows, "n1 n2") }, []string{"unknown n2"}},
		{"a statement that does not apply now", func(b *book) {
			b.notice("no", mix.Forbids, "n1 n2", func(n *mix.Notice) { n.Until = date("2020-01-01") })
		}, []string{"unknown n2"}},
		{"a jar of both", func(b *book) { b.jar("j", "2026-05-01", "n1 n2: foam=0") }, []string{"unknown n2"}},
		{"a larger one that reacted", func(b *book) { b.jar("j", "2026-05-01", "n1 n2 p1: gas=vented") }, []string{"unknown n2", "unknown p1"}},
		{"with a water beside them", func(b *book) {
			b.class("brine", "", func(k *mix.Class) { k.Carrier = true })
			b.says("salt", "apart:n1 brine:gel")
		}, []string{"apart brine"}},
		{"the worst first, then by ID", func(b *book) {
			b.says("mild", "steps:n1 p1:foam")
			b.says("bad", "never:n1 p2:gas")
			b.says("worse", "never:n1 o1:gas")
		}, []string{"never o1", "never p2", "steps p1"}},
	} {
		b := orchard()
		c.given(b)
		if diff := cmp.Diff(c.want, partnerLines(b.judge().Partners("n1"))); diff != "" {
			t.Errorf("%s (-want +got)\n%s", c.why, diff)
		}
	}
}

// TestPartnersOfClasses: as statements name them, exactly or from above or below.
func TestPartnersOfClasses(t *testing.T) {
	b := orchard()
	b.class("wax", "oil")
	b.says("waxy", "steps:wax agent:gel")
	b.says("two", "steps:oil oil:layers")
	j := b.judge()
	for item, want := range map[mix.ID][]string{
		"oil":    {"apart powder", "steps agent", "steps oil"},
		"wax":    {"apart powder", "steps agent", "steps oil"},
		"powder": {"apart oil"},
		"n1":     nil,
	} {
		if diff := cmp.Diff(want, partnerLines(j.Partners(item))); diff != "" {
			t.Errorf("%s (-want +got)\n%s", item, diff)
		}
	}
}
