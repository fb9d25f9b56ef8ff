package cause_test

import (
	"math"
	"math/rand/v2"
	"slices"
	"testing"

	"github.com/google/go-cmp/cmp"
	"pgregory.net/rapid"

	. "tankleaf.example/internal/cause"
)

// together is what a fixed plan keeps small: the chance that two explanations
// drawn by their probabilities give the same results in all runs. It also
// returns the other figures, computed anew.
func together(all []Explanation, runs []Set) (t float64, f Fixed) {
	f.Runs = runs
	for _, e := range all {
		same, p := 0, 0.0
		for _, g := range all {
			if !slices.ContainsFunc(runs, func(q Set) bool {
				return truth(e.Causes).reacts(q) != truth(g.Causes).reacts(q)
			}) {
				same++
				p += g.P
			}
		}
		t += e.P * p
		f.Left += e.P * float64(same)
		if same == 1 {
			f.Alone += e.P
		}
	}
	return t, f
}

func TestFixedFigures(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		n := rapid.IntRange(1, 5).Draw(t, "n")
		q := Question{Runs: genAgreeing(n).Draw(t, "runs"), Within: full(n)}
		s, err := NewSearch(q)
		if err != nil {
			t.Fatal(err)
		}
		k := rapid.IntRange(0, 6).Draw(t, "k")
		got := s.Fixed(k)
		if len(got.Runs) > k {
			t.Fatalf("%d runs planned, asked for %d", len(got.Runs), k)
		}
		all := s.Explanations(-1)
		chance, want := together(all, got.Runs)
		if math.Abs(want.Alone-got.Alone) > 1e-9 || math.Abs(want.Left-got.Left) > 1e-6 {
			t.Fatalf("alone %v and left %v, want %v and %v", got.Alone, got.Left, want.Alone, want.Left)
		}
		for i, r := range got.Runs {
			if slices.Contains(got.Runs[:i], r) || slices.ContainsFunc(q.Runs, func(old Run) bool { return old.Members == r }) {
				t.Fatalf("%v is run twice", r)
			}
			if less, _ := together(all, slices.Delete(slices.Clone(got.Runs), i, i+1)); less <= chance {
				t.Fatalf("%v tells nothing in %v", r, got.Runs)
			}
		}
		q.Runs = shuffled(t, q.Runs)
		again, err := NewSearch(q)
		if err != nil {
			t.Fatal(err)
		}
		if d := cmp.Diff(got, again.Fixed(k)); d != "" {
			t.Fatalf("order and repeats changed the plan:\n%s", d)
		}
	})
}

// TestFixedAgainstBest tries all plans of up to 3 runs among 3 and 4 elements.
func TestFixedAgainstBest(t *testing.T) {
	for _, tt := range []struct{ n, k int }{{3, 1}, {3, 2}, {3, 3}, {4, 1}, {4, 2}, {4, 3}} {
		s, err := NewSearch(Question{Runs: []Run{{full(tt.n), true}}})
		if err != nil {
			t.Fatal(err)
		}
		all := s.Explanations(-1)
		got, _ := together(all, s.Fixed(tt.k).Runs)
		best := 1.0
		var try func(runs, rest []Set)
		try = func(runs, rest []Set) {
			if len(runs) == tt.k {
				chance, _ := together(all, runs)
				best = min(best, chance)
				return
			}
			for i, q := range rest {
				try(append(slices.Clip(runs), q), rest[i+1:])
			}
		}
		try(nil, upTo(tt.n, tt.n-1))
		t.Logf("%d runs of %d elements: chance to stay together %.4f, best of all %.4f", tt.k, tt.n, got, best)
		if tt.k == 1 && got > best+1e-9 || got > 1.1*best {
			t.Errorf("%d runs of %d elements: %.4f, more than 1.1 times the best %.4f", tt.k, tt.n, got, best)
		}
	}
}

// TestFixedSettles compares fixed plans for one cause of 10 elements with
// plans drawn at random, and with leaving out one element at a time, which
// nothing in the package knows of.
func TestFixedSettles(t *testing.T) {
	const n = 10
	s, err := NewSearch(Question{Runs: []Run{{full(n), true}}, Limits: Limits{Causes: 1}})
	if err != nil {
		t.Fatal(err)
	}
	all := s.Explanations(-1)
	rng := rand.New(rand.NewPCG(3, 4))
	for _, k := range []int{6, 8, 9, 10} {
		got := s.Fixed(k)
		random := 0.0
		for range 50 {
			var runs []Set
			for range k {
				runs = append(runs, 1+Set(rng.Uint64N(uint64(full(n))-1)))
			}
			_, f := together(all, runs)
			random += f.Left / 50
		}
		var leave []Set
		for e := range k {
			leave = append(leave, full(n)&^Of(e))
		}
		_, one := together(all, leave)
		t.Logf("%d runs leave %.2f of %d explanations; random ones %.2f, leave-one-out %.2f",
			k, got.Left, s.Left(), random, one.Left)
		if got.Left > random || got.Left > one.Left+1e-9 {
			t.Errorf("%d runs leave %.2f; random ones %.2f, leave-one-out %.2f", k, got.Left, random, one.Left)
		}
	}
	if f := s.Fixed(100); len(f.Runs) != n || f.Alone < 1-1e-9 {
		t.Errorf("%d runs settle it with probability %.3f; 10 that leave out one element each do", len(f.Runs), f.Alone)
	}
}

// TestFixedThinned: where two causes are thinned out the plan still divides
// them, and more runs never divide less.
func TestFixedThinned(t *testing.T) {
	s, err := NewSearch(Question{Runs: []Run{{full(11), true}}})
	if err != nil {
		t.Fatal(err)
	}
	last := float64(s.Left())
	for k := 1; k <= 5; k += 2 {
		f := s.Fixed(k)
		if len(f.Runs) != k || f.Left >= last {
			t.Errorf("%d runs leave %.0f of %.0f", len(f.Runs), f.Left, last)
		}
		last = f.Left
	}
	if last > float64(s.Left())/8 {
		t.Errorf("5 runs leave %.0f of %d", last, s.Left())
	}
}

// TestFixedConflict: a run in conflict tells nothing, but it is not made again.
func TestFixedConflict(t *testing.T) {
	s, err := NewSearch(Question{Runs: []Run{reacted(0, 1), clean(0, 1)}, Within: full(2)})
	if err != nil {
		t.Fatal(err)
	}
	f := s.Fixed(3)
	if d := cmp.Diff([]Set{Of(0), Of(1)}, f.Runs); d != "" {
		t.Errorf("(-want +got):\n%s", d)
	}
	if f.Alone >= 1 {
		t.Errorf("without {0 1} nothing tells whether both are needed: %+v", f)
	}
}
