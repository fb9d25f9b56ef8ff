package compat_test

import (
	"fmt"
	"math"
	"slices"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
	"pgregory.net/rapid"

	"tankleaf.example/internal/compat"
	"tankleaf.example/internal/mix"
)

// used gives a product its uses, written "apple/bloom/mildew".
func (b *book) used(product string, uses ...string) {
	for i := range b.Products {
		if b.Products[i].ID != mix.ID(product) {
			continue
		}
		for _, u := range uses {
			f := strings.Split(u, "/")
			b.Products[i].Uses = append(b.Products[i].Uses, mix.Use{
				Crop: mix.Ref{ID: mix.ID(f[0])}, Timing: mix.Ref{ID: mix.ID(f[1])}, Purpose: mix.Ref{ID: mix.ID(f[2])}})
		}
	}
}

// field is a book with four purposes: a soap and a kindred soap, an oil that
// curdles with soap, and things of no relation.
func fieldBook() *book {
	b := newBook()
	b.class("soap", "")
	b.class("soft-soap", "soap")
	b.class("hard-soap", "soap")
	b.class("oil", "")
	b.class("plain", "")
	b.class("defoamer", "", func(c *mix.Class) { c.Suppresses = []mix.Symptom{mix.Foam} })
	b.product("s1", "soft-soap")
	b.product("s2", "hard-soap")
	b.product("o1", "oil")
	b.product("x1", "plain")
	b.product("x2", "")
	b.says("curdle", "apart:soft-soap oil:flakes")
	return b
}

func gapLines(list []compat.Gap) []string {
	var all []string
	for _, g := range list {
		from := "-"
		if g.From != nil {
			from = evidenceName(g.From)
		}
		all = append(all, fmt.Sprintf("%v meet %.2f %v %s jar %v settles %d", g.Pair, g.Meet, g.Worst, from, g.Jar, g.Settles))
	}
	return all
}

func TestGaps(t *testing.T) {
	for _, c := range []struct {
		why   string
		given func(*book)
		want  []string
	}{
		{"products that share no crop and timing do not meet", func(b *book) {
			b.used("s1", "apple/bloom/wash")
			b.used("x1", "apple/fruit/feed")
			b.used("x2", "pear/bloom/feed")
		}, nil},
		{"nor do those of one purpose", func(b *book) {
			b.used("x1", "apple/bloom/feed")
			b.used("x2", "apple/bloom/feed")
		}, nil},
		{"what is known is no gap", func(b *book) {
			b.used("s1", "apple/bloom/wash")
			b.used("o1", "apple/bloom/mites")
		}, nil},
		{"the next of kin of what is known is a bad gap", func(b *book) {
			b.used("s2", "apple/bloom/wash")
			b.used("o1", "apple/bloom/mites")
		}, []string{"[o1 s2] meet 1.00 apart curdle jar [o1 s2] settles 1"}},
		{"before one that meets as often and has no kin", func(b *book) {
			b.used("s2", "apple/bloom/wash")
			b.used("o1", "apple/bloom/mites")
			b.used("x1", "apple/bloom/feed")
		}, []string{
			"[o1 s2] meet 1.00 apart curdle jar [o1 s2 x1] settles 3",
			"[o1 x1] meet 1.00 unknown - jar [o1 s2 x1] settles 3",
			"[s2 x1] meet 1.00 unknown - jar [o1 s2 x1] settles 3",
		}},
		{"but after one that meets much more often", func(b *book) {
			b.used("s2", "apple/bloom/wash")
			b.used("o1", "apple/bloom/mites")
			b.used("x1", "pear/a/feed", "pear/b/feed", "pear/c/feed", "pear/d/feed")
			b.used("x2", "pear/a/weeds", "pear/b/weeds", "pear/c/weeds", "pear/d/weeds")
		}, []string{
			"[x1 x2] meet 4.00 unknown - jar [x1 x2] settles 1",
			"[o1 s2] meet 1.00 apart curdle jar [o1 s2] settles 1",
		}},
		{"two products of one purpose share the chance", func(b *book) {
			b.product("x3", "oil")
			b.used("x1", "apple/bloom/feed")
			b.used("x2", "apple/bloom/weeds")
			b.used("x3", "apple/bloom/weeds")
		}, []string{
			"[x1 x2] meet 0.50 unknown - jar [x1 x2] settles 1",
			"[x1 x3] meet 0.50 unknown - jar [x1 x3] settles 1",
		}},
		{"products of one signature are one gap", func(b *book) {
			b.product("x3", "plain")
			b.used("x2", "apple/bloom/weeds")
			b.used("x1", "apple/bloom/feed")
			b.used("x3", "apple/bloom/feed")
		}, []string{"[x1 x2] meet 1.00 unknown - jar [x1 x2] settles 1"}},
		{"and may meet each other", func(b *book) {
			b.product("x3", "plain")
			b.used("x1", "apple/bloom/feed")
			b.used("x3", "apple/bloom/weeds")
		}, []string{"[x1 x3] meet 1.00 unknown - jar [x1 x3] settles 1"}},
		{"a jar of kindred products makes it plausible", func(b *book) {
			b.product("x3", "plain")
			b.product("s3", "hard-soap")
			b.used("s2", "apple/bloom/wash")
			b.used("x1", "apple/bloom/feed")
			b.used("x2", "apple/bloom/weeds")
			b.jar("j", "2026-05-01", "s3 x3: gas=vented")
		}, []string{
			"[s2 x1] meet 1.00 never [s3 x3] jar [s2 x1] settles 1", // a hazard is looked for alone
			"[s2 x2] meet 1.00 unknown - jar [s2 x2] settles 1",
			"[x1 x2] meet 1.00 unknown - jar [x1 x2] settles 1",
		}},
		{"seen in a larger mix that reacted", func(b *book) {
			b.used("s2", "apple/bloom/wash")
			b.used("x1", "apple/bloom/feed")
			b.jar("j", "2026-05-01", "s2 x1 o1: gas=vented")
		}, []string{"[s2 x1] meet 1.00 never [o1 s2 x1] jar [s2 x1] settles 1"}},
		{"a defoamer joins no jar, and settles its own pair alone", func(b *book) {
			b.product("d1", "defoamer")
			b.used("d1", "apple/bloom/foam")
			b.used("x1", "apple/bloom/feed")
			b.used("x2", "apple/bloom/weeds")
		}, []string{
			"[x1 x2] meet 1.00 unknown - jar [x1 x2] settles 1",
			"[d1 x2] meet 1.00 unknown - jar [d1 x2] settles 1",
			"[d1 x1] meet 1.00 unknown - jar [d1 x1] settles 1",
		}},
		{"what is known to react joins no jar", func(b *book) {
			b.used("s1", "apple/bloom/wash")
			b.used("o1", "apple/bloom/mites")
			b.used("x1", "apple/bloom/feed")
		}, []string{
			"[o1 x1] meet 1.00 unknown - jar [o1 x1] settles 1",
			"[s1 x1] meet 1.00 unknown - jar [s1 x1] settles 1",
		}},
	} {
		b := fieldBook()
		c.given(b)
		got := gapLines(b.judge().Gaps(10))
		// Gaps of one score stand in the order of signatures, which is none of the test's business.
		slices.Sort(c.want)
		slices.Sort(got)
		if diff := cmp.Diff(c.want, got); diff != "" {
			t.Errorf("%s: (-want +got)\n%s", c.why, diff)
		}
		list := b.judge().Gaps(10)
		for i := 1; i < len(list); i++ {
			if list[i-1].Score < list[i].Score {
				t.Errorf("%s: the most pressing first: %v", c.why, got)
			}
		}
		if n := len(b.judge().Gaps(1)); n != min(1, len(c.want)) {
			t.Errorf("%s: asked for one, got %d", c.why, n)
		}
	}
}

// TestMeet holds that the meetings of all kinds add up to those of all pairs of
// products, counted one by one.
func TestMeet(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		b := newBook()
		b.class("c0", "")
		b.class("c1", "")
		serving := map[string]float64{}
		var uses [][]string
		for i := range rapid.IntRange(2, 6).Draw(t, "products") {
			b.product(fmt.Sprint("p", i), rapid.SampledFrom([]string{"", "c0", "c1"}).Draw(t, "class"))
			u := rapid.SliceOfNDistinct(rapid.SampledFrom([]string{"a/1/x", "a/1/y", "a/2/x", "b/1/z"}), 0, 3, rapid.ID).Draw(t, "uses")
			b.used(fmt.Sprint("p", i), u...)
			for _, s := range u {
				serving[s]++
			}
			uses = append(uses, u)
		}
		want := 0.0
		for i, us := range uses {
			for _, vs := range uses[i+1:] {
				for _, u := range us {
					for _, v := range vs {
						if u != v && u[:3] == v[:3] {
							want += 1 / serving[u] / serving[v]
						}
					}
				}
			}
		}
		got := 0.0
		for _, g := range b.judge().Gaps(1000) { // nothing is known, so that every pair that meets is a gap
			got += g.Meet
		}
		if math.Abs(got-want) > 1e-9 {
			t.Fatalf("want %v meetings, got %v", want, got)
		}
	})
}
