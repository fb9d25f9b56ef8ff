package cause_test

import (
	"math"
	"slices"
	"testing"

	"github.com/google/go-cmp/cmp"
	"github.com/google/go-cmp/cmp/cmpopts"
	"pgregory.net/rapid"

	. "tankleaf.example/internal/cause"
)

// naive lists, by the definition, the explanations of runs within the first n
// elements by up to most causes of up to size elements, with the prior weight
// of each that the package documents.
func naive(runs []Run, n, most, size int) []Explanation {
	sets := upTo(n, size)
	all := []truth{nil}
	for _, s := range sets {
		all = append(all, truth{s})
	}
	ones, twos := float64(len(sets)), float64(len(pairsOf(sets)))
	if most == 2 {
		all = append(all, pairsOf(sets)...)
	}
	if twos == 0 || most == 1 {
		twos = 1
	}
	weights := []float64{4 * ones * twos, 3 * twos, ones}
	var out []Explanation
	total := 0.0
	for _, is := range all {
		if !slices.ContainsFunc(runs, func(r Run) bool { return is.reacts(r.Members&full(n)) != r.Reacted }) {
			w := weights[len(is)]
			total += w
			out = append(out, Explanation{Causes: is, P: w})
		}
	}
	for i := range out {
		out[i].P /= total
	}
	return out
}

func TestSearchAgainstEnumeration(t *testing.T) {
	about := cmpopts.EquateApprox(0, 1e-12)
	rapid.Check(t, func(t *rapid.T) {
		n := rapid.IntRange(1, 6).Draw(t, "n")
		lim := Limits{Causes: rapid.IntRange(1, 2).Draw(t, "causes"), Size: rapid.IntRange(1, 3).Draw(t, "size")}
		runs := genAgreeing(n).Draw(t, "runs")
		want := naive(runs, n, lim.Causes, lim.Size)
		s, err := NewSearch(Question{Runs: runs, Within: full(n), Limits: lim})
		if err != nil {
			t.Fatal(err)
		}
		if len(want) == 0 {
			if s.Limits == lim && s.Given == nil && s.Within == full(n) {
				t.Fatalf("no explanation is left, and the search did not widen")
			}
			return
		}
		got := s.Explanations(-1)
		byCauses := func(a, b Explanation) int { return slices.CompareFunc(a.Causes, b.Causes, Set.Compare) }
		slices.SortFunc(want, byCauses)
		sorted := slices.Clone(got)
		slices.SortFunc(sorted, byCauses)
		if d := cmp.Diff(want, sorted, about, cmpopts.EquateEmpty()); d != "" {
			t.Fatalf("explanations (-want +got):\n%s", d)
		}
		for i := 1; i < len(got); i++ {
			if got[i].P > got[i-1].P {
				t.Fatalf("explanations out of order: %v", got)
			}
		}
		checkBeliefs(t, s.Beliefs(), want)
		checkNext(t, s, runs, want, n)
		again, err := NewSearch(Question{Runs: shuffled(t, runs), Within: full(n), Limits: lim})
		if err != nil {
			t.Fatal(err)
		}
		if d := cmp.Diff(got, again.Explanations(-1)); d != "" {
			t.Fatalf("order and repeats changed the search:\n%s", d)
		}
	})
}

func checkBeliefs(t *rapid.T, got []Belief, all []Explanation) {
	want := map[Set]float64{}
	for _, e := range all {
		for _, c := range e.Causes {
			want[c] += e.P
		}
	}
	if len(got) != len(want) {
		t.Fatalf("%d beliefs, want %d", len(got), len(want))
	}
	for _, b := range got {
		if math.Abs(b.P-want[b.Cause]) > 1e-12 {
			t.Fatalf("belief in %v is %v, want %v", b.Cause, b.P, want[b.Cause])
		}
	}
}

// checkNext holds the proposed run against all others by the rule.
func checkNext(t *rapid.T, s *Search, runs []Run, all []Explanation, n int) {
	step, ok := s.Next()
	fewest := 3
	for _, e := range all {
		fewest = min(fewest, len(e.Causes))
	}
	var front []Explanation
	for _, e := range all {
		if len(e.Causes) == fewest {
			front = append(front, e)
		}
	}
	ran := func(q Set) bool { return slices.ContainsFunc(runs, func(r Run) bool { return r.Members == q }) }
	if len(front) == 1 {
		for _, c := range front[0].Causes {
			if !ran(c) {
				if !ok || step.Run != c || step.Why != Confirm {
					t.Fatalf("step %+v, want %v confirmed", step, c)
				}
				return
			}
		}
		front = all
	}
	best, bits := Set(0), 0.0
	for _, q := range upTo(n, n) { // by size, so that a tie goes to the first
		if b := tells(front, q); b > bits+1e-9 && !ran(q) {
			best, bits = q, b
		}
	}
	if ok != (best != 0) || ok && tells(front, step.Run) < bits-1e-8 {
		t.Fatalf("step %+v tells %v, want %v which tells %v", step, tells(front, step.Run), best, bits)
	}
	if ok && (step.Run.Len() > best.Len() || math.Abs(step.Bits-tells(all, step.Run)) > 1e-9 || ran(step.Run)) {
		t.Fatalf("step %+v, want %v", step, best)
	}
}

// tells is the information of a result about equally scaled explanations.
func tells(all []Explanation, q Set) float64 {
	yes, total := 0.0, 0.0
	for _, e := range all {
		total += e.P
		if truth(e.Causes).reacts(q) {
			yes += e.P
		}
	}
	p := yes / total
	if p <= 0 || p >= 1-1e-15 {
		return 0
	}
	return -p*math.Log2(p) - (1-p)*math.Log2(1-p)
}

func TestNext(t *testing.T) {
	tests := []struct {
		name, why string
		q         Question
		want      Set
		is        Why
	}{{
		"nothing known", "whether anything reacts at all comes first",
		Question{Within: full(4)}, full(4), Split,
	}, {
		"all clean", "then nothing reacts, and there is nothing to run",
		Question{Within: full(4), Runs: []Run{{full(4), false}}}, 0, None,
	}, {
		"nothing asked", "without a reaction and a set there is nothing to search",
		Question{}, 0, None,
	}, {
		"two elements", "three causes are possible; each single element splits them 1 to 2, and 0 is first",
		Question{Runs: []Run{reacted(0, 1)}}, Of(0), Split,
	}, {
		"one left of one cause", "{1} is left and was never run by itself",
		Question{Runs: []Run{reacted(0, 1, 2), clean(0, 2), reacted(0, 1), reacted(1, 2)}}, Of(1), Confirm,
	}, {
		"established", "{1} is a cause; {0 2} is the one thing it does not explain",
		Question{Runs: []Run{reacted(0, 1, 2), reacted(1), clean(0), clean(2)}}, Of(0, 2), Exclude,
	}, {
		"nothing else can", "all that does not hold {1} is clean",
		Question{Runs: []Run{reacted(0, 1, 2), reacted(1), clean(0, 2)}}, 0, None,
	}, {
		"told one cause", "then nothing is to be excluded",
		Question{Runs: []Run{reacted(0, 1, 2), reacted(1), clean(0)}, Limits: Limits{Causes: 1}}, 0, None,
	}, {
		"within a part", "the reaction of a larger set says nothing of the part",
		Question{Runs: []Run{reacted(0, 1, 2)}, Within: Of(0, 1)}, Of(0, 1), Split,
	}, {
		"only conflicts", "what is in conflict is set aside, and nothing is left to explain",
		Question{Runs: []Run{reacted(0, 1), clean(0, 1)}}, 0, None,
	}, {
		"conflict elsewhere", "the search goes on with the rest",
		Question{Runs: []Run{reacted(0, 1), clean(0, 1), reacted(2, 3), clean(3)}}, Of(2), Split,
	}}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			s, err := NewSearch(tt.q)
			if err != nil {
				t.Fatal(err)
			}
			step, ok := s.Next()
			if step.Run != tt.want || step.Why != tt.is || ok != (tt.is != None) {
				t.Errorf("next %v to %v, want %v to %v: %s", step.Run, step.Why, tt.want, tt.is, tt.why)
			}
		})
	}
}

// TestWiden: truths outside the limits are found by widening them.
func TestWiden(t *testing.T) {
	tests := []struct {
		name, why string
		n         int
		is        truth
	}{
		{"four together", "a cause larger than the limit", 6, truth{Of(0, 2, 3, 5)}},
		{"all six", "nothing but the whole set reacts", 6, truth{full(6)}},
		{"three apart", "more causes than the limit", 6, truth{Of(0), Of(1, 2), Of(3, 4)}},
		{"five apart", "established causes are given, and two more sought again and again",
			7, truth{Of(0), Of(1), Of(2, 3), Of(4, 5), Of(3, 6)}},
		{"large and small", "one of each", 7, truth{Of(1), Of(2, 3, 4, 5, 6)}},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			var runs []Run
			for _, c := range tt.is { // each was met with a bystander, so that all must be explained
				runs = append(runs, Run{c | 1<<(tt.n), true})
			}
			q := Question{Runs: runs}
			made, _ := walk(t, q, tt.is)
			for _, m := range made {
				runs = append(runs, Run{m.Run, m.Reacted})
			}
			want := slices.SortedFunc(slices.Values(tt.is), Set.Compare)
			if d := cmp.Diff(want, Explain(runs).Causes); d != "" {
				t.Errorf("%s (-want +got):\n%s", tt.why, d)
			}
		})
	}
}

// TestGiven: three established causes are more than the limits hold. They are
// given, and what may react beside them is searched.
func TestGiven(t *testing.T) {
	runs := []Run{reacted(0), reacted(1), reacted(2), reacted(0, 3, 4)}
	s, err := NewSearch(Question{Runs: runs, Within: full(5)})
	if err != nil {
		t.Fatal(err)
	}
	if d := cmp.Diff([]Set{Of(0), Of(1), Of(2)}, s.Given); d != "" {
		t.Errorf("given (-want +got):\n%s", d)
	}
	// Beside the given ones {3}, {4}, {3 4}, {3} and {4}, or nothing.
	if s.Left() != 5 || s.Total != 5 {
		t.Errorf("%d explanations of %d left, want 5", s.Left(), s.Total)
	}
	step, _ := s.Next()
	if step.Run != Of(3, 4) || step.Why != Exclude {
		t.Errorf("next %+v, want {3 4}", step)
	}
	if f := s.Fixed(9); len(f.Runs) != 3 || f.Runs[0] != Of(3, 4) || f.Alone < 1-1e-9 {
		t.Errorf("fixed %+v, want {3 4}, {3} and {4}", f)
	}
}

// TestWideUnion: more than 16 elements in all are searched a run at a time.
func TestWideUnion(t *testing.T) {
	is := truth{Of(0, 1), Of(20, 21), Of(40)}
	runs := []Run{{full(8), true}, {full(30) &^ full(18), true}, {full(45) &^ full(38), true}}
	made, s := walk(t, Question{Runs: runs}, is)
	for _, m := range made {
		runs = append(runs, Run{m.Run, m.Reacted})
	}
	if d := cmp.Diff([]Set{Of(40), Of(0, 1), Of(20, 21)}, Explain(runs).Causes); d != "" {
		t.Errorf("(-want +got):\n%s", d)
	}
	if s.Within != 0 || len(s.Given) != 3 {
		t.Errorf("at the end within %v with %v given", s.Within, s.Given)
	}
}

func TestNewSearchErrors(t *testing.T) {
	nan := math.NaN()
	tests := []struct {
		why string
		q   Question
	}{
		{"a rate of half tells nothing", Question{Rates: Rates{Missed: 0.5}}},
		{"a rate is not negative", Question{Rates: Rates{False: -0.1}}},
		{"a rate is a number", Question{Rates: Rates{False: nan}}},
		{"three causes are not searched", Question{Limits: Limits{Causes: 3}}},
		{"causes are not negative", Question{Limits: Limits{Causes: -1}}},
		{"sizes are not negative", Question{Limits: Limits{Size: -1}}},
		{"17 elements are too many", Question{Within: full(17)}},
		{"17 in one run are too many", Question{Runs: []Run{{full(17), true}}}},
		{"pairs of any size are too many", Question{Within: full(16), Limits: Limits{Size: 16}}},
	}
	for _, tt := range tests {
		if s, err := NewSearch(tt.q); err == nil || s != nil {
			t.Errorf("%s: no error", tt.why)
		}
		if _, _, err := Walk(tt.q, Stop{Most: 1}, func(Set) bool { return true }); err == nil {
			t.Errorf("%s: Walk has no error", tt.why)
		}
	}
	if _, err := NewSearch(Question{Within: full(16), Limits: Limits{Size: 16, Causes: 1}}); err != nil {
		t.Errorf("one cause of any size among 16: %v", err)
	}
}

func TestWhyString(t *testing.T) {
	for w, want := range map[Why]string{None: "none", Split: "split", Confirm: "confirm",
		Exclude: "exclude", Repeat: "repeat", 9: "Why(9)"} {
		if w.String() != want {
			t.Errorf("%d is %q, want %q", uint8(w), w, want)
		}
	}
}
