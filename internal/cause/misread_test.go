package cause_test

import (
	"math"
	"math/rand/v2"
	"os"
	"slices"
	"testing"

	"github.com/google/go-cmp/cmp"
	"github.com/google/go-cmp/cmp/cmpopts"
	"pgregory.net/rapid"

	. "tankleaf.example/internal/cause"
)

// bayes multiplies prior and likelihood run by run.
func bayes(runs []Run, n int, r Rates) []Explanation {
	all := naive(nil, n, 2, 3)
	total := 0.0
	for i := range all {
		e := &all[i]
		for _, run := range runs {
			switch reacts := truth(e.Causes).reacts(run.Members); {
			case reacts && run.Reacted:
				e.P *= 1 - r.Missed
			case reacts:
				e.P *= r.Missed
				e.Missed++
			case run.Reacted:
				e.P *= r.False
				e.False++
			default:
				e.P *= 1 - r.False
			}
		}
		total += e.P
	}
	all = slices.DeleteFunc(all, func(e Explanation) bool { return e.P == 0 })
	for i := range all {
		all[i].P /= total
	}
	slices.SortFunc(all, func(a, b Explanation) int { return slices.CompareFunc(a.Causes, b.Causes, Set.Compare) })
	return all
}

func TestPosterior(t *testing.T) {
	about := cmpopts.EquateApprox(0, 1e-9)
	rapid.Check(t, func(t *rapid.T) {
		n := rapid.IntRange(1, 4).Draw(t, "n")
		r := Rates{rapid.Float64Range(0.01, 0.4).Draw(t, "missed"), rapid.Float64Range(0.01, 0.4).Draw(t, "false")}
		runs := genAny(n).Draw(t, "runs")
		switch rapid.IntRange(0, 3).Draw(t, "one rate") {
		case 0:
			r.Missed = 0
		case 1:
			r.False = 0
		}
		s, err := NewSearch(Question{Runs: runs, Within: full(n), Rates: r})
		if err != nil {
			t.Fatal(err)
		}
		got := s.Explanations(-1)
		slices.SortFunc(got, func(a, b Explanation) int { return slices.CompareFunc(a.Causes, b.Causes, Set.Compare) })
		want := bayes(runs, n, r)
		if len(want) == 0 {
			return // a rate of 0 leaves nothing; TestOneRate has what happens then
		}
		if d := cmp.Diff(want, got, about, cmpopts.EquateEmpty()); d != "" {
			t.Fatalf("posterior (-want +got):\n%s", d)
		}
		checkReading(t, s, want, n, r)
		same, err := NewSearch(Question{Runs: rapid.Permutation(runs).Draw(t, "order"), Within: full(n), Rates: r})
		if err != nil {
			t.Fatal(err)
		}
		if d := cmp.Diff(s.Explanations(-1), same.Explanations(-1)); d != "" {
			t.Fatalf("order changed the posterior:\n%s", d)
		}
	})
}

// checkReading holds the proposed run against all by the information of its
// reading: the entropy before less the mean entropy after.
func checkReading(t *rapid.T, s *Search, all []Explanation, n int, r Rates) {
	step, ok := s.Next()
	best := 0.0
	for _, q := range upTo(n, n) {
		best = max(best, reading(all, q, r))
	}
	if !ok && best > 1e-8 || ok && (math.Abs(step.Bits-reading(all, step.Run, r)) > 1e-7 || step.Bits < best-1e-7) {
		t.Fatalf("step %+v of %v bits; the best has %v", step, reading(all, step.Run, r), best)
	}
}

func reading(all []Explanation, q Set, r Rates) float64 {
	after := [2]map[int]float64{{}, {}}
	before := 0.0
	for i, e := range all {
		p := r.False
		if truth(e.Causes).reacts(q) {
			p = 1 - r.Missed
		}
		after[0][i], after[1][i] = e.P*p, e.P*(1-p)
		before += bitsOf(e.P)
	}
	for _, a := range after {
		total := 0.0
		for _, w := range a {
			total += w
		}
		for _, w := range a {
			before -= total * bitsOf(w/total)
		}
	}
	return before
}

func bitsOf(p float64) float64 {
	if !(p > 0) {
		return 0
	}
	return -p * math.Log2(p)
}

// TestDoubt: evidence against what is believed lowers it, and readings both
// ways leave doubt instead of an error.
func TestDoubt(t *testing.T) {
	rates := Rates{0.05, 0.02}
	sure := []Run{reacted(0, 1, 2), reacted(0, 1), clean(0, 2), clean(1, 2), clean(0, 2), clean(1, 2)}
	p := belief(t, sure, rates, Of(0, 1))
	if p < 0.95 {
		t.Fatalf("{0 1} has %.3f after six runs for it", p)
	}
	once := append(slices.Clone(sure), clean(0, 1))
	twice := append(slices.Clone(once), clean(0, 1))
	p1, p2 := belief(t, once, rates, Of(0, 1)), belief(t, twice, rates, Of(0, 1))
	if !(p2 < p1 && p1 < p) {
		t.Errorf("{0 1} has %.3f, %.3f after one clean run and %.3f after two", p, p1, p2)
	}
	if back := belief(t, append(once, reacted(0, 1), reacted(0, 1)), rates, Of(0, 1)); back <= p1 {
		t.Errorf("two reactions more lowered it from %.3f to %.3f", p1, back)
	}
	if rep := Explain(once); len(rep.Conflicts) != 1 || len(rep.Causes) != 0 {
		t.Errorf("taken at their word: conflicts %v, causes %v", rep.Conflicts, rep.Causes)
	}
}

func belief(t *testing.T, runs []Run, r Rates, c Set) float64 {
	t.Helper()
	s, err := NewSearch(Question{Runs: runs, Rates: r})
	if err != nil {
		t.Fatal(err)
	}
	for _, b := range s.Beliefs() {
		if b.Cause == c {
			return b.P
		}
	}
	return 0
}

// TestRepeat: with two possible causes of which one run decides, and a reading
// that may be wrong, that run is worth making again.
func TestRepeat(t *testing.T) {
	runs := []Run{reacted(0, 1), reacted(0, 1), clean(0), clean(0), clean(1)}
	for _, rates := range []Rates{{0.2, 0.02}, {}} {
		s, err := NewSearch(Question{Runs: runs, Rates: rates, Limits: Limits{Causes: 1}})
		if err != nil {
			t.Fatal(err)
		}
		step, ok := s.Next()
		if want := rates != (Rates{}); ok != want || ok && (step.Run != Of(1) || step.Why != Repeat) {
			t.Errorf("rates %v: step %+v", rates, step)
		}
		if rates != (Rates{}) && (step.IfReacts != s.Left() || step.IfClean != s.Left()) {
			t.Errorf("with rates no explanation goes: %+v of %d", step, s.Left())
		}
	}
}

// TestMisreadWithin: of runs that reach outside the set asked about, the clean
// ones count with their part inside, and the reacting ones not at all.
func TestMisreadWithin(t *testing.T) {
	rates := Rates{0.05, 0.02}
	outside := Question{Runs: []Run{reacted(0, 1), clean(0, 7), reacted(1, 7), clean(7)}, Within: Of(0, 1), Rates: rates}
	inside := Question{Runs: []Run{reacted(0, 1), clean(0)}, Within: Of(0, 1), Rates: rates}
	a, err := NewSearch(outside)
	if err != nil {
		t.Fatal(err)
	}
	b, err := NewSearch(inside)
	if err != nil {
		t.Fatal(err)
	}
	if d := cmp.Diff(b.Explanations(-1), a.Explanations(-1)); d != "" {
		t.Errorf("(-inside +outside):\n%s", d)
	}
	if step, _ := a.Next(); step.Why == Repeat && step.Run == Of(0) {
		t.Error("{0} was only run with 7, and running it alone is no repeat")
	}
}

// TestOneRate: a rate of 0 refutes, also beside one that is not.
func TestOneRate(t *testing.T) {
	s, err := NewSearch(Question{Runs: []Run{reacted(0, 1), clean(0), clean(0)}, Rates: Rates{Missed: 0.1}})
	if err != nil {
		t.Fatal(err)
	}
	for _, e := range s.Explanations(-1) {
		if e.False > 0 || len(e.Causes) == 0 {
			t.Errorf("%v calls a reaction false, which never happens", e)
		}
	}
	if s.Left() != 4 { // {0}, {1}, {0 1}, {0} and {1}
		t.Errorf("%d explanations left, want 4", s.Left())
	}
	// A clean run that cannot be wrong refutes all: the search must not fail.
	s, err = NewSearch(Question{Runs: []Run{reacted(0, 1), clean(0, 1)}, Rates: Rates{False: 0.1}})
	if err != nil {
		t.Fatal(err)
	}
	if e := s.Explanations(1); len(e) != 1 || len(e[0].Causes) != 0 || e[0].False != 1 {
		t.Errorf("explanations %v, want nothing reacts and one false", e)
	}
}

// soak asks for the long runs: more walks, more elements.
var soak = os.Getenv("TANKLEAF_SOAK") != ""

// trial walks once with misreadings and says whether the planted causes ended
// on top.
func trial(t *testing.T, n, open int, is truth, rng *rand.Rand) (made []Made, top bool) {
	t.Helper()
	rates := Rates{Missed: 0.05, False: 0.02}
	q := Question{Runs: []Run{{full(n), true}}, Limits: Limits{Causes: open}, Rates: rates}
	made, s, err := Walk(q, Stop{Most: 60}, func(q Set) bool {
		if is.reacts(q) {
			return rng.Float64() >= rates.Missed
		}
		return rng.Float64() < rates.False
	})
	if err != nil {
		t.Fatal(err)
	}
	return made, slices.Equal(s.Explanations(1)[0].Causes, is)
}

// TestMisread simulates plans with 5 % of reactions missed and 2 % false, with
// a fixed seed, and compares with plans without misreadings to the end.
func TestMisread(t *testing.T) {
	tests := []struct {
		name   string
		n      int
		open   int // the causes that the plan is open to
		causes int
		trials int
	}{
		{"one, told one", 10, 1, 1, 1000},
		{"one, open to two", 8, 2, 1, 200},
		{"two", 8, 2, 2, 200},
		{"one, open to two, of 10", 10, 2, 1, 80},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			planted := pairsOf(upTo(tt.n, 3))
			if tt.causes == 1 {
				planted = nil
				for _, c := range upTo(tt.n, 3) {
					planted = append(planted, truth{c})
				}
			}
			rng := rand.New(rand.NewPCG(11, 13))
			runs, top, repeats := 0, 0, 0
			if soak {
				tt.trials *= 5
			}
			for range tt.trials {
				made, ok := trial(t, tt.n, tt.open, planted[rng.IntN(len(planted))], rng)
				runs += len(made)
				if ok {
					top++
				}
				for _, m := range made {
					if m.Why == Repeat {
						repeats++
					}
				}
			}
			share, mean := float64(top)/float64(tt.trials), float64(runs)/float64(tt.trials)
			exact := plan(t, tt.n, tt.open).mean(tt.causes)
			t.Logf("%d elements: on top in %.1f %%, mean %.2f runs, %.2f times the %.2f without misreading, %.2f of them repeats",
				tt.n, 100*share, mean, mean/exact, exact, float64(repeats)/float64(tt.trials))
			if share < 0.95 {
				t.Errorf("on top in %.3f of the trials, want 0.95", share)
			}
			if mean > 2*exact {
				t.Errorf("mean %.2f runs, more than twice %.2f", mean, exact)
			}
		})
	}
}
