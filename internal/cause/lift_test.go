package cause_test

import (
	"slices"
	"testing"

	"github.com/google/go-cmp/cmp"
	"pgregory.net/rapid"

	. "tankleaf.example/internal/cause"
)

// The order of the tables below: elements 0 to 5, groups from 6.
//
//	     9            11
//	   ╱   ╲         ╱  ╲
//	  6     7       8    10
//	 ╱ ╲   ╱ ╲     ╱ ╲    │
//	0   1 1   2   3   4   5
func orderOf(t fataler) *Order {
	t.Helper()
	o, err := NewOrder(6, [][]int{{6}, {7, 6}, {7}, {8}, {8}, {10}, {9}, {9}, {11}, nil, {11}, nil})
	if err != nil {
		t.Fatalf("%v", err)
	}
	return o
}

func TestGeneralize(t *testing.T) {
	// {0 3} reacted and neither of them alone.
	base := []Run{reacted(0, 3), clean(0), clean(3)}
	place := func(e, g int, tested, untested Set) Place {
		return Place{Element: e, Group: g, Tested: tested, Untested: untested}
	}
	tests := []struct {
		name, why string
		more      []Run
		want      []Lift
	}{{
		"nothing against it", "the widest groups, with all else untested",
		nil,
		[]Lift{{Of(0, 3), []Place{place(0, 9, Of(0), Of(1, 2)), place(3, 11, Of(3), Of(4, 5))}}},
	}, {
		"one member is clean", "2 with 3 is clean, so neither 7 nor 9 can hold it",
		[]Run{clean(2, 3)},
		[]Lift{{Of(0, 3), []Place{place(0, 6, Of(0), Of(1)), place(3, 11, Of(3), Of(4, 5))}}},
	}, {
		"a choice", "1 with 5 is clean: either place can be wide, not both",
		[]Run{clean(1, 5)},
		[]Lift{
			{Of(0, 3), []Place{place(0, 0, Of(0), 0), place(3, 11, Of(3), Of(4, 5))}},
			{Of(0, 3), []Place{place(0, 9, Of(0), Of(1, 2)), place(3, 8, Of(3), Of(4))}},
		},
	}, {
		"clean in company", "a clean run speaks for all pairs inside it",
		[]Run{clean(1, 2, 4, 5)},
		[]Lift{
			{Of(0, 3), []Place{place(0, 0, Of(0), 0), place(3, 11, Of(3), Of(4, 5))}},
			{Of(0, 3), []Place{place(0, 9, Of(0), Of(1, 2)), place(3, 3, Of(3), 0)}},
		},
	}, {
		"tested members", "1 and 4 each reacted where nothing else of their group was",
		[]Run{reacted(1, 3), reacted(0, 4)},
		[]Lift{{Of(0, 3), []Place{place(0, 9, Of(0, 1), Of(2)), place(3, 11, Of(3, 4), Of(5))}}},
	}, {
		"not tested in company", "{0 3} alone explains the run with 2, so 2 is not tested",
		[]Run{reacted(0, 2, 3)},
		[]Lift{{Of(0, 3), []Place{place(0, 9, Of(0), Of(1, 2)), place(3, 11, Of(3), Of(4, 5))}}},
	}, {
		"another cause", "{4 5} reacts by itself, which tests neither 4 nor 5 in place of 3",
		[]Run{reacted(4, 5), clean(4), clean(5), reacted(1, 4, 5)},
		[]Lift{{Of(0, 3), []Place{place(0, 9, Of(0), Of(1, 2)), place(3, 11, Of(3), Of(4, 5))}}},
	}, {
		"not established", "0 may do it alone, so there is nothing to lift",
		[]Run{reacted(0)}, nil,
	}}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			got := Generalize(Of(0, 3), orderOf(t), append(slices.Clone(base), tt.more...))
			if d := cmp.Diff(tt.want, got); d != "" {
				t.Errorf("%s (-want +got):\n%s", tt.why, d)
			}
		})
	}
}

func TestGeneralizeSameGroup(t *testing.T) {
	runs := []Run{reacted(0, 1), clean(0), clean(1)}
	// 0 and 1 in the same two groups: exchanging them is the same claim.
	o, err := NewOrder(3, [][]int{{3, 4}, {3, 4}, {3}, nil, nil})
	if err != nil {
		t.Fatal(err)
	}
	var got [][2]int
	for _, l := range Generalize(Of(0, 1), o, runs) {
		got = append(got, [2]int{l.Places[0].Group, l.Places[1].Group})
	}
	if d := cmp.Diff([][2]int{{3, 3}, {3, 4}, {4, 4}}, got); d != "" {
		t.Errorf("(-want +got):\n%s", d)
	}
	// The two members of a pair are different: {0} is no example of {3}{3}.
	if l := Generalize(Of(0, 1), o, append(runs, clean(2))); len(l) != 3 {
		t.Errorf("a single element contradicts a pair: %v", l)
	}
	if l := Generalize(Of(5), o, []Run{reacted(5)}); l != nil {
		t.Errorf("an element outside the order is lifted: %v", l)
	}
}

// TestGeneralizeRandom compares with all ways to replace the elements by
// themselves and the groups above.
func TestGeneralizeRandom(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		o := orderOf(t)
		above := [][]int{{0, 6, 9}, {1, 6, 7, 9}, {2, 7, 9}, {3, 8, 11}, {4, 8, 11}, {5, 10, 11}}
		runs := genAgreeing(6).Draw(t, "runs")
		for _, c := range Explain(runs).Causes {
			var holds [][]int // claims that no clean run contradicts
			var try func(groups []int, rest []int)
			try = func(groups, rest []int) {
				if len(rest) > 0 {
					for _, g := range above[rest[0]] {
						try(append(slices.Clip(groups), g), rest[1:])
					}
				} else if !slices.ContainsFunc(runs, func(r Run) bool { return !r.Reacted && example(o, groups, r.Members) }) {
					holds = append(holds, groups)
				}
			}
			try(nil, c.Elements())
			var got [][]int
			for _, l := range Generalize(c, o, shuffled(t, runs)) {
				var groups []int
				for i, p := range l.Places {
					groups = append(groups, p.Group)
					if p.Tested|p.Untested != o.Members(p.Group) || p.Tested&p.Untested != 0 || !p.Tested.Has(p.Element) {
						t.Fatalf("place %d of %+v", i, l)
					}
				}
				got = append(got, slices.Sorted(slices.Values(groups)))
			}
			for _, h := range holds {
				top := !slices.ContainsFunc(holds, func(w []int) bool { return wider(above, w, h) })
				if is := slices.ContainsFunc(got, func(g []int) bool {
					return slices.Equal(g, slices.Sorted(slices.Values(h)))
				}); is != top {
					t.Fatalf("cause %v: %v is widest: %v; given %v", c, h, top, got)
				}
			}
		}
	})
}

// example reports whether members has a different member of each group, by
// trying all of them in turn.
func example(o *Order, groups []int, members Set) bool {
	if len(groups) == 0 {
		return true
	}
	for e := range 6 {
		if members.Has(e) && o.Members(groups[0]).Has(e) && example(o, groups[1:], members&^Of(e)) {
			return true
		}
	}
	return false
}

// wider reports whether w is h with some groups replaced by ones above.
func wider(above [][]int, w, h []int) bool {
	over := map[int][]int{6: {6, 9}, 7: {7, 9}, 8: {8, 11}, 10: {10, 11}, 9: {9}, 11: {11}}
	for e, groups := range above {
		over[e] = groups
	}
	for i := range w {
		if !slices.Contains(over[h[i]], w[i]) {
			return false
		}
	}
	return !slices.Equal(w, h)
}

func TestOrder(t *testing.T) {
	o := orderOf(t)
	for i, want := range map[int]Set{1: Of(1), 6: Of(0, 1), 9: Of(0, 1, 2), 11: Of(3, 4, 5), -1: 0, 12: 0} {
		if got := o.Members(i); got != want {
			t.Errorf("members of %d are %v, want %v", i, got, want)
		}
	}
	for why, parents := range map[string][][]int{
		"a parent that is an element":  {{1}, nil, nil},
		"a parent out of range":        {{3}, nil, nil},
		"a negative parent":            {{-1}, nil, nil},
		"a group above itself":         {nil, nil, {2}},
		"groups above each other":      {{2}, nil, {3}, {2}},
		"fewer numbers than elements":  {nil},
		"a cycle with nothing below":   {nil, nil, {4}, {2}, {3}},
		"a cycle above another branch": {{2}, {5}, {3}, {4}, {3}, nil},
	} {
		if _, err := NewOrder(2, parents); err == nil {
			t.Errorf("%s: no error", why)
		}
	}
	if _, err := NewOrder(65, make([][]int, 65)); err == nil {
		t.Error("65 elements: no error")
	}
}
