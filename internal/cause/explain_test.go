package cause_test

import (
	"fmt"
	"slices"
	"testing"

	"github.com/google/go-cmp/cmp"
	"pgregory.net/rapid"

	. "tankleaf.example/internal/cause"
)

func reacted(e ...int) Run { return Run{Members: Of(e...), Reacted: true} }
func clean(e ...int) Run   { return Run{Members: Of(e...)} }

func TestExplain(t *testing.T) {
	tests := []struct {
		name, why string
		runs      []Run
		want      []string // run status possible
	}{{
		"nothing", "no runs, no findings",
		nil, nil,
	}, {
		"only clean", "a clean run needs no cause",
		[]Run{clean(0, 1)}, nil,
	}, {
		"one reacting", "every subset may be the cause, so none is established",
		[]Run{reacted(0, 1)},
		[]string{"{0 1} narrowed {0} {1} {0 1}"},
	}, {
		"a single element", "nothing smaller is left that could react",
		[]Run{reacted(3)},
		[]string{"{3} established {3}"},
	}, {
		"three together", "all pairs clean: it stays a matter of three",
		[]Run{reacted(0, 1, 2), clean(0, 1), clean(0, 2), clean(1, 2)},
		[]string{"{0 1 2} established {0 1 2}"},
	}, {
		"smallest left was never run", "{0 1} is in both, but only running it shows that all three are not needed",
		[]Run{reacted(0, 1, 2), clean(0, 2), clean(1, 2), reacted(0, 1, 3), clean(0, 3)},
		[]string{"{0 1 2} narrowed {0 1} {0 1 2}", "{0 1 3} narrowed {0 1} {1 3} {0 1 3}"},
	}, {
		"smaller run inside", "what reacted in the small run accounts for the large one",
		[]Run{reacted(0, 1, 2, 3), reacted(1, 2), clean(1), clean(2)},
		[]string{"{1 2} established {1 2}", "{0 1 2 3} established {1 2}"},
	}, {
		"clean run with others in it", "a clean run speaks for what it shares with the reacting one",
		[]Run{reacted(0, 1), clean(0, 5, 6)},
		[]string{"{0 1} narrowed {1} {0 1}"},
	}, {
		"read both ways", "the same set clean and reacting is a conflict",
		[]Run{reacted(0, 1), clean(0, 1)},
		[]string{"{0 1} contradicted {0} {1} {0 1} clash {0 1}"},
	}, {
		"inside a clean run", "and the disputed clean run excludes nothing elsewhere",
		[]Run{reacted(0, 1), clean(0, 1, 2), reacted(2, 3), clean(3)},
		[]string{"{0 1} contradicted {0} {1} {0 1} clash {0 1 2}", "{2 3} narrowed {2} {2 3}"},
	}, {
		"nothing reacted", "the empty set is clean, so its reaction is in conflict",
		[]Run{{Members: 0, Reacted: true}},
		[]string{"{} contradicted clash {}"},
	}}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			if d := cmp.Diff(tt.want, lines(Explain(tt.runs))); d != "" {
				t.Errorf("%s (-want +got):\n%s", tt.why, d)
			}
		})
	}
}

func lines(r Report) []string {
	var out []string
	for _, f := range r.Findings {
		l := fmt.Sprint(f.Run, " ", f.Status)
		for _, s := range f.Possible {
			l += " " + s.String()
		}
		if f.Clash != nil {
			l += " clash"
		}
		for _, c := range f.Clash {
			l += " " + c.String()
		}
		out = append(out, l)
	}
	return out
}

// TestPattern is the worked pattern of common practice (no source): a
// conditioner that is quiet with one element and builds pressure with two.
func TestPattern(t *testing.T) {
	const p1, p2, b1, b2, defoamer, p3 = 0, 1, 2, 3, 4, 5
	pressure := []Run{
		clean(b1, p1), clean(p1, p2), reacted(p1, p2, b1), clean(p1, p2, b2),
		reacted(p1, p2, b1, defoamer), // the defoamer does not help
	}
	foam := []Run{clean(b1, p1), reacted(p1, p2), reacted(p1, p2, b1), reacted(p1, p2, b2)}
	want := []string{"{0 1 2} narrowed {1 2} {0 1 2}", "{0 1 2 4} narrowed {1 2} {0 1 2}"}
	if d := cmp.Diff(want, lines(Explain(pressure))); d != "" {
		t.Errorf("pressure (-want +got):\n%s", d)
	}
	if got, want := next(t, Question{Runs: pressure}), Of(p2, b1); got != want {
		t.Errorf("next run for pressure %v, want %v", got, want)
	}
	if got, want := next(t, Question{Runs: foam}), Of(p2); got != want {
		t.Errorf("next run for foam %v, want %v: another matter", got, want)
	}
	// Another form of p2 behaves as p2 does.
	both := append(slices.Clone(pressure), clean(p1, p3), reacted(p1, p3, b1))
	if got, want := next(t, Question{Runs: both}), Of(p2, b1); got != want {
		t.Errorf("next run with p3 %v, want %v", got, want)
	}
	for _, result := range []bool{true, false} {
		rep := Explain(append(slices.Clone(pressure), Run{Of(p2, b1), result}, clean(p2), clean(b1)))
		want := []Set{Of(p1, p2, b1)}
		if result {
			want = []Set{Of(p2, b1)}
		}
		if d := cmp.Diff(want, rep.Causes); d != "" {
			t.Errorf("after {p2 b1} reacted=%v (-want +got):\n%s", result, d)
		}
	}
}

func next(t *testing.T, q Question) Set {
	t.Helper()
	s, err := NewSearch(q)
	if err != nil {
		t.Fatal(err)
	}
	step, _ := s.Next()
	return step.Run
}

// reports checks a report against all reactions that agree with the runs.
// possible has the sets that are a cause in one of them.
func checkReport(t *testing.T, n int, runs []Run, possible uint32) {
	t.Helper()
	var ran, clean uint32
	for _, r := range runs {
		if r.Reacted {
			ran |= 1 << r.Members
		} else {
			clean |= below(r.Members)
		}
	}
	for _, f := range Explain(runs).Findings {
		least := leastTrue(upward(ran, n)&below(f.Run), n)
		var may uint32
		sure := false
		for _, v := range list(least) {
			may |= possible & below(v)
			sure = sure || possible&below(v) == 1<<v
		}
		want := Finding{Run: f.Run, Via: list(least), Possible: list(may), Status: Narrowed, Causes: f.Causes}
		if sure {
			want.Status = Established
		}
		if d := cmp.Diff(want, f); d != "" {
			t.Fatalf("%v (-want +got):\n%s", runs, d)
		}
		for _, c := range f.Causes {
			if possible&below(c) != 1<<c || ran>>c&1 == 0 || !f.Run.Contains(c) {
				t.Fatalf("%v: %v is not established in %v", runs, c, f.Run)
			}
		}
		if sure != (len(f.Causes) > 0) {
			t.Fatalf("%v: causes %v of %v", runs, f.Causes, f.Run)
		}
	}
}

// upward adds all supersets.
func upward(f uint32, n int) uint32 {
	for s := range 1 << n {
		if anyBelow(f, s, n) {
			f |= 1 << s
		}
	}
	return f
}

// TestExplainEveryInstance enumerates, for up to 3 elements, every way in
// which every set was not run, clean, reacting, or both: 4^7 instances.
func TestExplainEveryInstance(t *testing.T) {
	const n = 3
	tables := monotone(n)
	agree, conflicts := 0, 0
	for code := range 1 << 14 {
		var runs []Run
		var yes, no uint32
		for s := 1; s < 8; s++ {
			if how := code >> (2*s - 2) & 3; how&1 == 1 {
				runs, no = append(runs, Run{Members: Set(s)}), no|1<<s
			}
			if how := code >> (2*s - 2) & 3; how&2 == 2 {
				runs, yes = append(runs, Run{Set(s), true}), yes|1<<s
			}
		}
		possible, any := uint32(0), false
		for _, f := range tables {
			if yes&^f == 0 && no&f == 0 {
				possible, any = possible|leastTrue(f, n), true
			}
		}
		if rep := Explain(runs); any != (len(rep.Conflicts) == 0) {
			t.Fatalf("%v: conflicts %v, and a reaction that agrees is %v", runs, rep.Conflicts, any)
		}
		if any {
			agree++
			checkReport(t, n, runs, possible)
		} else {
			conflicts++
			checkConflicts(t, runs)
		}
	}
	t.Logf("%d instances agree, %d contradict themselves", agree, conflicts)
}

type fataler interface {
	Helper()
	Fatalf(string, ...any)
}

// checkConflicts checks that runs in conflict change nothing for the others.
func checkConflicts(t fataler, runs []Run) {
	t.Helper()
	rep := Explain(runs)
	disputed := map[Run]bool{}
	for _, c := range rep.Conflicts {
		if !c.Clean.Contains(c.Reacting) {
			t.Fatalf("%v is no conflict", c)
		}
		disputed[Run{c.Reacting, true}], disputed[Run{c.Clean, false}] = true, true
	}
	rest := slices.DeleteFunc(slices.Clone(runs), func(r Run) bool { return disputed[r] })
	alone := Explain(rest)
	if len(alone.Conflicts) > 0 {
		t.Fatalf("%v: conflicts left %v", runs, alone.Conflicts)
	}
	others := slices.DeleteFunc(rep.Findings, func(f Finding) bool { return f.Status == Contradicted })
	if d := cmp.Diff(alone.Findings, others); d != "" && len(alone.Findings)+len(others) > 0 {
		t.Fatalf("%v (-without the conflicts +with):\n%s", runs, d)
	}
}

// TestExplainEveryPair takes, for 4 and 5 elements, every pair of a list of
// smallest reacting runs and a list of widest clean ones that agree. Any other
// runs that agree decide the same sets as one of these. With 5 elements the
// reacting lists are taken up to renumbering, and but for the long run every third
// of them.
func TestExplainEveryPair(t *testing.T) {
	for n := 1; n <= 5; n++ {
		tables := monotone(n)
		least := map[uint32]uint32{}
		for _, f := range tables {
			least[f] = leastTrue(f, n)
		}
		pairs, kinds := 0, 0
		for _, low := range tables {
			if n == 5 && !firstOfItsKind(low, n) {
				continue
			}
			if kinds++; n == 5 && !soak && kinds%3 != 0 {
				continue
			}
			above := slices.DeleteFunc(slices.Clone(tables), func(f uint32) bool { return low&^f != 0 })
			for _, high := range above {
				possible := uint32(0)
				for _, f := range above {
					if f&^high == 0 {
						possible |= least[f]
					}
				}
				var runs []Run
				for _, s := range list(least[low]) {
					runs = append(runs, Run{s, true})
				}
				for _, s := range list(mostFalse(high, n)) {
					runs = append(runs, Run{s, false})
				}
				checkReport(t, n, runs, possible)
				pairs++
			}
		}
		t.Logf("%d elements: %d instances", n, pairs)
	}
}

// firstOfItsKind reports whether no renumbering of the elements gives a
// smaller table.
func firstOfItsKind(f uint32, n int) bool {
	ok := true
	permute(n, func(p []int) {
		var g uint32
		for s := range 1 << n {
			if f>>s&1 == 1 {
				to := 0
				for e := range n {
					to |= s >> e & 1 << p[e]
				}
				g |= 1 << to
			}
		}
		ok = ok && g >= f
	})
	return ok
}

func permute(n int, visit func([]int)) {
	p := make([]int, 0, n)
	var rec func()
	rec = func() {
		if len(p) == n {
			visit(p)
			return
		}
		for e := range n {
			if !slices.Contains(p, e) {
				p = append(p, e)
				rec()
				p = p[:len(p)-1]
			}
		}
	}
	rec()
}

// TestExplainRandom holds instances of up to 8 elements against the
// definition: a set may be a cause if the reaction of just it and the reacting
// runs agrees with every clean run, and has it among its smallest sets.
func TestExplainRandom(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		n := rapid.IntRange(1, 8).Draw(t, "n")
		runs := genAgreeing(n).Draw(t, "runs")
		rep := Explain(runs)
		if d := cmp.Diff(rep, Explain(shuffled(t, runs))); d != "" {
			t.Fatalf("order and repeats changed the report:\n%s", d)
		}
		for _, f := range rep.Findings {
			var want []Set
			for _, s := range upTo(n, n) {
				if mayCause(s, runs) && slices.ContainsFunc(f.Via, func(v Set) bool { return v.Contains(s) }) {
					want = append(want, s)
				}
			}
			if d := cmp.Diff(want, f.Possible); d != "" {
				t.Fatalf("%v of %v (-want +got):\n%s", f.Run, runs, d)
			}
			if len(f.Possible) == 0 {
				t.Fatalf("%v holds no possible cause", f.Run)
			}
		}
		for _, c := range rep.Causes {
			for _, s := range upTo(n, n) {
				if c.Contains(s) && mayCause(s, runs) != (s == c) {
					t.Fatalf("%v is established and %v may be the cause", c, s)
				}
			}
		}
	})
}

func mayCause(s Set, runs []Run) bool {
	for _, r := range runs {
		if r.Reacted && r.Members != s && s.Contains(r.Members) {
			return false
		}
		if !r.Reacted && r.Members.Contains(s) {
			return false
		}
	}
	return true
}

func TestExplainConflictsRandom(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		runs := genAny(rapid.IntRange(1, 8).Draw(t, "n")).Draw(t, "runs")
		checkConflicts(t, runs)
		if d := cmp.Diff(Explain(runs), Explain(shuffled(t, runs))); d != "" {
			t.Fatalf("order and repeats changed the report:\n%s", d)
		}
	})
}

func TestExplainLargeRun(t *testing.T) {
	runs := []Run{{full(20), true}, {full(19), false}}
	f := Explain(runs).Findings[0]
	// The element 19 alone, with one and with two of the other 19.
	if want := 1 + 19 + 19*18/2; !f.Partial || f.Status != Narrowed || len(f.Possible) != want {
		t.Errorf("partial %v, %v, %d possible; want %d listed and said to be part of them",
			f.Partial, f.Status, len(f.Possible), want)
	}
	runs = append(runs, Run{Of(19), true})
	if f := Explain(runs).Findings[1]; f.Partial || f.Status != Established {
		t.Errorf("with {19} reacting: partial %v, %v", f.Partial, f.Status)
	}
}

func TestStatusString(t *testing.T) {
	for s, want := range map[Status]string{Unknown: "unknown", Contradicted: "contradicted",
		Narrowed: "narrowed", Established: "established", 7: "Status(7)"} {
		if s.String() != want {
			t.Errorf("%d is %q, want %q", uint8(s), s, want)
		}
	}
}
