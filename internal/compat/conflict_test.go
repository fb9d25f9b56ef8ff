package compat_test

import (
	"fmt"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	"tankleaf.example/internal/compat"
	"tankleaf.example/internal/mix"
)

func conflictLines(a compat.Answer) []string {
	var lines []string
	for _, c := range a.Conflicts() {
		line := fmt.Sprintf("%v %v", c.Verdict, c.Items)
		for _, f := range c.Findings {
			line += fmt.Sprint(" ", f.Verdict)
		}
		lines = append(lines, line)
	}
	return lines
}

// TestConflicts holds which products a mix's conflicts are about.
func TestConflicts(t *testing.T) {
	for _, c := range []struct {
		why   string
		given func(*book)
		mix   string
		want  []string
	}{
		{"nothing against it", func(*book) {}, "n1 n2", nil},
		{"steps are no conflict", func(b *book) { b.says("mild", "steps:n1 n2:foam") }, "n1 n2", nil},
		{"the worst first, whoever they are about", func(b *book) {
			b.says("bad", "apart:n1 n2:gel")
			b.says("worse", "never:n3 n4:gas")
		}, "n1 n2 n3 n4", []string{"never [n3 n4] never", "apart [n1 n2] apart"}},
		{"several reasons for one", func(b *book) {
			b.says("bad", "apart:n1 n2:gel")
			b.says("worse", "never:n1 n2:gas")
		}, "n1 n2", []string{"never [n1 n2] never apart"}},
		{"what is said of more belongs to what is said of fewer, with its caution", func(b *book) {
			b.says("bad", "apart:n1 n2:gel")
			b.says("three", "never:n1 n2 n3:gas")
		}, "n1 n2 n3", []string{"never [n1 n2] never apart"}},
		{"a jar is about what was in it", func(b *book) {
			b.jar("j", "2026-05-01", "n1 n2: gas=vented")
		}, "n1 n2 n3", []string{"never [n1 n2] never"}},
		{"a water stands beside the product that it reacts with", func(b *book) {
			b.class("brine", "", func(k *mix.Class) { k.Carrier = true })
			b.says("salt", "apart:n1 brine:gel")
		}, "n1 n2 brine", []string{"apart [brine n1] apart"}},
		{"jars of what a class holds name no item, so it is about all", func(b *book) {
			b.says("says", "clean:agent oil:gel")
			b.jar("j", "2026-05-01", "g1 o1: gas=vented")
		}, "agent oil", []string{"never [agent oil] never"}},
	} {
		b := orchard()
		b.product("n3", "")
		b.product("n4", "")
		c.given(b)
		if diff := cmp.Diff(c.want, conflictLines(b.judge().Mix(items(c.mix), mix.Situation{}))); diff != "" {
			t.Errorf("%s (-want +got)\n%s", c.why, diff)
		}
	}
}

// TestReplacementsOfOneConflict holds what is offered where a mix has more than one
// conflict, and where the one that comes in has its own.
func TestReplacementsOfOneConflict(t *testing.T) {
	for _, c := range []struct {
		why   string
		given func(*book)
		order string
		mix   string
		want  []string // beyond what is left out
	}{
		{"another conflict stays, and is told", func(b *book) {
			b.says("one", "apart:n1 n2:gel")
			b.says("two", "never:n3 n4:gas")
		}, "", "n1 n2 n3 n4", []string{"n1>o1 never left 1 ?n2 ?n3 ?n4"}},
		{"what was tested with all of the tank comes before what was not, whatever is known of the rest", func(b *book) {
			b.says("one", "apart:n1 n2:gel")
			b.used("p1", "apple/bloom/feed")
			b.says("two", "steps:p1 n2:foam")
			b.says("three", "steps:p1 n3:foam")
			b.says("four", "steps:n2 n3:foam")
			b.says("five", "clean:o1 n2:foam")
		}, "", "n1 n2 n3", []string{"n1>p1 steps", "n1>o1 steps ?n3"}},
		{"one that mends the other conflict as well comes before one that was tested with all of the tank", func(b *book) {
			b.says("one", "apart:n1 n2:gel")
			b.used("g1", "apple/bloom/feed")
			b.used("p1", "apple/bloom/feed")
			b.says("two", "apart:n3 n4:gel", func(i *mix.Interaction) {
				i.Mends = []mix.Mend{{Class: mix.Ref{ID: "agent"}, To: mix.Steps}}
			})
			for i, other := range items("n2 n3 n4") {
				b.says(fmt.Sprint("mild", i), "steps:p1 "+string(other)+":foam")
			}
		}, "", "n1 n2 n3 n4", []string{"n1>g1 steps ?n2 ?n3 ?n4", "n1>p1 apart left 1", "n1>o1 apart left 1 ?n2 ?n3 ?n4"}},
		{"it brings a conflict milder than the one that it removes", func(b *book) {
			b.says("one", "never:n1 n2:gas")
			b.says("own", "apart:o1 n2:gel")
		}, "", "n1 n2", nil},
		{"it is never used at all", func(b *book) {
			b.says("one", "apart:n1 n2:gel")
			b.jar("j", "2026-05-01", "o1: gas=vented")
		}, "", "n1 n2", nil},
		{"no product helps beside one that is never used at all", func(b *book) {
			b.says("one", "apart:n1 n2:gel")
			b.jar("j", "2026-05-01", "n2: gas=vented")
		}, "", "n1 n2", nil},
		{"but it speaks of no other", func(b *book) {
			b.says("one", "apart:n1 n3:gel")
			b.jar("j", "2026-05-01", "n2: gas=vented")
		}, "", "n1 n2 n3", []string{"n1>o1 never left 1 ?n2 ?n3"}},
		{"a product that is no part of the conflict is not replaced, though jars of all reacted", func(b *book) {
			b.says("one", "apart:n2 n3:gel")
			b.jar("j", "2026-05-01", "n1 n2 n3: gas=vented")
		}, "", "n1 n2 n3", nil},
		{"what reacted in another order only", func(b *book) {
			b.says("one", "apart:n1 n2:gel")
			for day := range 3 {
				b.jar(fmt.Sprint("q", day), fmt.Sprint("2026-05-0", day+1), "o1 n2: clean", func(o *mix.Observation) { o.OrderKnown = true })
			}
			b.jar("f", "2026-05-04", "n2 o1: flakes=heavy", func(o *mix.Observation) { o.OrderKnown = true })
		}, "o1 n2", "n1 n2", []string{"n1>o1 clean"}},
	} {
		b := orchard()
		b.product("n3", "")
		b.product("n4", "")
		b.used("n1", "apple/bloom/feed")
		b.used("o1", "apple/bloom/feed")
		c.given(b)
		s := mix.Situation{}
		if c.order != "" {
			s.Order = items(c.order)
		}
		var got []string
		for _, line := range changeLines(b.judge().WhatIf(items(c.mix), s)) {
			if !strings.Contains(line, "> ") {
				got = append(got, line)
			}
		}
		if diff := cmp.Diff(c.want, got); diff != "" {
			t.Errorf("%s (-want +got)\n%s", c.why, diff)
		}
	}
}

// TestReplacementsAreCounted tells how many there are of those that are not listed.
func TestReplacementsAreCounted(t *testing.T) {
	b := orchard()
	b.used("o1", "apple/bloom/mites")
	for i := range 9 {
		b.product(fmt.Sprint("z", i), "")
		b.used(fmt.Sprint("z", i), "apple/bloom/mites")
	}
	all := b.judge().WhatIf(items("p2 o1"), mix.Situation{})
	if len(all.Instead) != 1 || all.Instead[0].Found != 9 || len(all.Instead[0].Best) != 6 {
		t.Errorf("%+v", all.Instead)
	}
}
