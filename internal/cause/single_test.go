package cause

import (
	"slices"
	"testing"

	"pgregory.net/rapid"
)

func TestSingles(t *testing.T) {
	abc := Of(0, 1, 2)
	for _, c := range []struct {
		why   string
		runs  []Run
		limit int
		want  []Set
	}{
		{"nothing reacted: there is nothing to explain", []Run{{Members: abc}}, 3, nil},
		{"one run: each of its parts", []Run{{abc, true}}, 3, []Set{Of(0), Of(1), Of(2), Of(0, 1), Of(0, 2), Of(1, 2), abc}},
		{"no larger than the limit", []Run{{abc, true}}, 1, []Set{Of(0), Of(1), Of(2)}},
		{"what a clean run held is none", []Run{{abc, true}, {Members: Of(0, 1)}}, 2, []Set{Of(2), Of(0, 2), Of(1, 2)}},
		{"it has to be in all that reacted", []Run{{abc, true}, {Of(1, 2, 3), true}}, 3, []Set{Of(1), Of(2), Of(1, 2)}},
		{"two matters have no single cause", []Run{{Of(0), true}, {Of(1), true}}, 3, nil},
		{"a run that did both leaves nothing", []Run{{abc, true}, {Members: abc}}, 3, nil},
	} {
		if got := Singles(c.runs, c.limit); !slices.Equal(got, c.want) {
			t.Errorf("got %v, want %v: %s", got, c.want, c.why)
		}
	}
}

// TestSinglesRandom: a single is one by its definition and no other set is.
func TestSinglesRandom(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		runs := rapid.SliceOfN(rapid.Custom(func(t *rapid.T) Run {
			return Run{Set(rapid.Uint64Range(0, 31).Draw(t, "members")), rapid.Bool().Draw(t, "reacted")}
		}), 1, 8).Draw(t, "runs")
		got := Singles(runs, 3)
		any := slices.ContainsFunc(runs, func(r Run) bool { return r.Reacted })
		for s := Set(1); s < 32; s++ {
			want := any && s.Len() <= 3 && !slices.ContainsFunc(runs, func(r Run) bool { return r.Reacted != r.Members.Contains(s) })
			if slices.Contains(got, s) != want {
				t.Fatalf("%v: listed %v, want %v", s, !want, want)
			}
		}
	})
}
