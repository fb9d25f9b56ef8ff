package cause_test

import (
	"testing"

	"github.com/google/go-cmp/cmp"
	"pgregory.net/rapid"

	. "tankleaf.example/internal/cause"
)

func TestCover(t *testing.T) {
	tests := []struct {
		why    string
		within Set
		runs   []Run
		want   Coverage
	}{
		{"nothing run: all but the empty set is open",
			full(2), nil, Coverage{Clean: 1, Open: 3, Widest: []Set{full(2)}}},
		{"a reacting run decides what holds it, a clean one what is inside",
			full(3), []Run{reacted(0, 1), clean(1, 2)}, Coverage{Reacting: 2, Clean: 4, Open: 2, Widest: []Set{Of(0, 2)}}},
		{"leave-one-out runs of a cause close everything",
			full(3), []Run{reacted(0, 1), clean(1, 2), clean(0, 2)}, Coverage{Reacting: 2, Clean: 6}},
		{"a clean run counts with its part inside, a reacting one does not",
			Of(0, 1), []Run{clean(1, 5), reacted(0, 6)}, Coverage{Clean: 2, Open: 2, Widest: []Set{Of(0, 1)}}},
		{"a conflict decides nothing",
			Of(0), []Run{clean(0), reacted(0)}, Coverage{Clean: 1, Open: 1, Widest: []Set{Of(0)}}},
	}
	for _, tt := range tests {
		got, err := Cover(tt.within, tt.runs)
		if err != nil {
			t.Fatal(err)
		}
		if d := cmp.Diff(tt.want, got); d != "" {
			t.Errorf("%s (-want +got):\n%s", tt.why, d)
		}
	}
	if _, err := Cover(full(17), nil); err == nil {
		t.Error("17 elements are covered")
	}
}

func TestCoverRandom(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		n := rapid.IntRange(1, 7).Draw(t, "n")
		runs := genAgreeing(n).Draw(t, "runs")
		within := genSet(n).Draw(t, "within")
		var want Coverage
		var open []Set
		for q := Set(0); q <= full(n); q++ {
			if !within.Contains(q) {
				continue
			}
			reacts, clean := false, q == 0
			for _, r := range runs {
				reacts = reacts || r.Reacted && q.Contains(r.Members)
				clean = clean || !r.Reacted && r.Members.Contains(q)
			}
			switch {
			case reacts:
				want.Reacting++
			case clean:
				want.Clean++
			default:
				want.Open++
				open = append(open, q)
			}
		}
		got, err := Cover(within, shuffled(t, runs))
		if err != nil {
			t.Fatal(err)
		}
		widest := map[Set]bool{}
		for _, q := range got.Widest {
			widest[q] = true
		}
		for _, q := range open {
			inside := false
			for _, p := range open {
				inside = inside || p != q && p.Contains(q)
			}
			if inside == widest[q] {
				t.Fatalf("%v is widest=%v among %v", q, widest[q], open)
			}
		}
		got.Widest = nil
		if d := cmp.Diff(want, got); d != "" {
			t.Fatalf("%v (-want +got):\n%s", runs, d)
		}
	})
}
