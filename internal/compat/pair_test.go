package compat_test

import (
	"fmt"
	"slices"
	"testing"

	"github.com/google/go-cmp/cmp"
	"tankleaf.example/internal/compat"
	"tankleaf.example/internal/mix"
)

// TestSpecialPairs: what is known of a very product never spreads to its kin, nor is
// it lost for having asked of the kin before.
func TestSpecialPairs(t *testing.T) {
	for _, c := range []struct {
		why        string
		given      func(*book)
		with       string
		kin, other mix.Verdict // of o1 and o2, one signature
	}{
		{"a statement on the product", func(b *book) { b.says("named", "never:o1 n1:gas") }, "n1", mix.Never, mix.Unknown},
		{"a notice on it", func(b *book) { b.notice("no", mix.Forbids, "o1") }, "n1", mix.Never, mix.Unknown},
		{"a jar of both", func(b *book) { b.jar("j", "2026-05-01", "o1 n1: flakes=heavy") }, "n1", mix.Apart, mix.Unknown},
		{"a clean one", func(b *book) { b.jar("j", "2026-05-01", "o1 n1: clean") }, "n1", mix.Clean, mix.Unknown},
		{"a larger clean one", func(b *book) { b.jar("j", "2026-05-01", "o1 n1 p1: clean") }, "n1", mix.Clean, mix.Unknown},
		{"a jar of it alone that gave off gas", func(b *book) { b.jar("j", "2026-05-01", "o1: gas=vented") }, "n1", mix.Never, mix.Unknown},
		{"a reaction of it within a class that is said to be clean", func(b *book) {
			b.says("fine", "clean:oil agent:flakes")
			b.jar("j", "2026-05-01", "o1 g1: flakes=heavy")
		}, "agent", mix.Unknown, mix.Unknown},
	} {
		for _, first := range []mix.ID{"o1", "o2"} {
			b := orchard()
			c.given(b)
			j := b.judge()
			j.Pair(first, mix.ID(c.with)) // whichever is asked first
			one, two := j.Pair("o1", mix.ID(c.with)), j.Pair(mix.ID(c.with), "o2")
			if one.Verdict != c.kin || two.Verdict != c.other {
				t.Errorf("%s, %s asked first: want %v and %v, got %s\nand %s", c.why, first, c.kin, c.other, tell(*one), tell(*two))
			}
			for id, a := range map[mix.ID]*compat.Answer{"o1": one, "o2": two} {
				if !slices.Contains(a.Items, id) {
					t.Errorf("%s: asked of %s, answered of %v", c.why, id, a.Items)
				}
			}
		}
	}
}

// TestMemberOfClassStaysWithItself: that one product of a class reacted is told of
// that product beside the other class, and not of its kin.
func TestMemberOfClassStaysWithItself(t *testing.T) {
	b := orchard()
	b.jar("j", "2026-05-01", "o1 g1: flakes=heavy")
	j := b.judge()
	if a := j.Pair("o2", "agent"); len(a.Findings) != 0 {
		t.Errorf("o2 was never seen: %s", tell(*a))
	}
	if a := j.Pair("o1", "agent"); len(a.Findings) != 1 || a.Verdict != mix.Unknown {
		t.Errorf("o1 was, beside one member of the class: %s", tell(*a))
	}
	if a := j.Pair("oil", "agent"); len(a.Findings) != 1 {
		t.Errorf("so were members of both: %s", tell(*a))
	}
}

// TestSharedAnswerIsRenamed: an answer of kin names the product that was asked for
// everywhere, in its own chain of classes.
func TestSharedAnswerIsRenamed(t *testing.T) {
	b := orchard()
	b.class("spray-oil", "oil")
	b.product("o8", "spray-oil")
	b.product("o9", "spray-oil oil") // the same classes in the end, by a shorter way
	b.product("p8", "sulfur")
	b.product("g9", "agent")
	j := b.judge()
	j.Pair("o8", "p1")
	a := j.Pair("o9", "p8")
	if !slices.Equal(a.Items, items("o9 p8")) || a.Verdict != mix.Apart {
		t.Fatalf("%s of %v", tell(*a), a.Items)
	}
	var got []string
	for _, m := range a.Findings[0].Matches {
		got = append(got, fmt.Sprint(m.Item, " for ", m.Member, " by ", m.Path))
	}
	if diff := cmp.Diff([]string{"o9 for oil by [o9 oil]", "p8 for powder by [p8 sulfur powder]"}, got); diff != "" {
		t.Errorf("(-want +got)\n%s", diff)
	}
	for _, d := range append(slices.Clone(a.Doubts), a.Findings[0].Doubts...) {
		if d.Items != nil && !slices.Equal(d.Items, items("o9 p8")) {
			t.Errorf("doubt %q is of %v", d.Code, d.Items)
		}
	}
	if was := j.Pair("o8", "p1"); !slices.Equal(was.Findings[0].Doubts[0].Items, items("o8 p1")) || was.Findings[0].Matches[0].Item != "o8" {
		t.Errorf("the answer that was kept has changed: %+v", was.Findings[0])
	}
	// A pair about which nothing is known lists the products that were asked for.
	if a := j.Pair("o9", "g9"); !slices.Equal(a.Untested[0], items("g9 o9")) {
		t.Errorf("untested %v", a.Untested)
	}
	j.Pair("o8", "g1")
	if a := j.Pair("o9", "g1"); !slices.Equal(a.Untested[0], items("g1 o9")) {
		t.Errorf("untested %v", a.Untested)
	}
}

// TestSharedPairIsJudgedOnce: kin get the very answer, which is kept.
func TestSharedPairIsJudgedOnce(t *testing.T) {
	j := orchard().judge()
	if j.Pair("o1", "p2") != j.Pair("p2", "o1") {
		t.Error("asked twice, judged twice")
	}
	b := orchard()
	b.jar("j", "2026-05-01", "o1 p2: clean")
	j = b.judge()
	if first, again := j.Pair("o1", "p2"), j.Pair("o1", "p2"); first == again {
		t.Error("a pair with jars of its own is not kept under the signatures")
	}
}

// TestOneItem holds what is said of an item by itself.
func TestOneItem(t *testing.T) {
	b := orchard()
	b.notice("care", mix.Requires, "n1")
	b.jar("j", "2026-05-01", "n1: flakes=heavy")
	b.jar("gas", "2026-05-01", "n2: gas=vented")
	j := b.judge()
	for _, c := range []struct {
		why, item string
		want      string
	}{
		{"a rule and a nuisance by itself", "n1", "unknown none alone\ninformative unknown care\ninformative unknown [n1]"},
		{"a hazard by itself", "n2", "never single-jar tentative not-recorded\ndecides never [n2]"},
		{"nothing", "o1", "unknown none"},
		{"in no book", "gone", "unknown none"},
	} {
		a := j.Solo(mix.ID(c.item))
		if diff := cmp.Diff(c.want, tell(*a)); diff != "" {
			t.Errorf("%s: (-want +got)\n%s", c.why, diff)
		}
		if p := j.Pair(mix.ID(c.item), mix.ID(c.item)); tell(*p) != tell(*a) || len(p.Items) != 1 {
			t.Errorf("%s: a product beside itself is one product: %s", c.why, tell(*p))
		}
	}
	if a := j.Mix(items("n1 n1 n1"), mix.Situation{}); len(a.Items) != 1 {
		t.Errorf("repeated items are one: %v", a.Items)
	}
}

// TestItemsOfAMix: they are sorted, in any number up to the limit.
func TestItemsOfAMix(t *testing.T) {
	j := orchard().judge()
	var list []mix.ID
	for i := range compat.MaxItems {
		list = append(list, mix.ID(fmt.Sprintf("x%02d", compat.MaxItems-i)))
	}
	a := j.Mix(list, mix.Situation{})
	if len(a.Items) != compat.MaxItems || !slices.IsSorted(a.Items) || len(a.Untested) != compat.MaxItems*(compat.MaxItems-1)/2 {
		t.Errorf("%d items, %d pairs untested", len(a.Items), len(a.Untested))
	}
	if list[0] == a.Items[0] {
		t.Error("the caller's list was sorted")
	}
	defer func() {
		if recover() == nil {
			t.Error("one more than the limit was judged")
		}
	}()
	j.Mix(append(list, "x00"), mix.Situation{})
}

// TestAnythingSaid: evidence or a doubt, whatever the verdict.
func TestAnythingSaid(t *testing.T) {
	b := orchard()
	b.notice("may", mix.Allows, "n1 n2")
	b.jar("j", "2026-05-01", "p1 n1: flakes=heavy")
	b.jar("k", "2026-05-01", "p2 n1 g1: flakes=heavy")
	j := b.judge()
	for pair, want := range map[string]bool{"n1 n2": true, "p1 n1": true, "p2 n1": true, "p2 n2": false} {
		if a := mixed(j, pair); a.AnythingSaid() != want {
			t.Errorf("%s: %s", pair, tell(a))
		}
	}
	for _, a := range []compat.Answer{{Findings: []compat.Finding{{}}}, {Doubts: []compat.Doubt{{}}}} {
		if !a.AnythingSaid() || a.Deciding() != nil {
			t.Errorf("%+v", a)
		}
	}
	if (&compat.Answer{}).AnythingSaid() {
		t.Error("nothing was said")
	}
}
