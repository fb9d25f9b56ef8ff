package compat_test

import (
	"slices"
	"testing"

	"github.com/google/go-cmp/cmp"
	"pgregory.net/rapid"

	"tankleaf.example/internal/mix"
)

// TestAgainstOracle holds every answer on random books to that of a judge that
// tries everything: the verdict, each finding with its part, grade and doubts, the
// hazards, the symptoms, and what is untested.
func TestAgainstOracle(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		b := drawBook(t)
		o, j := newOracle(b), b.judge()
		for range 4 {
			m, s := drawMix(t), drawSituation(t)
			slices.Sort(m)
			a := j.Mix(m, s)
			want, got := o.judge(j, m, &s), answerLines(&a)
			if diff := cmp.Diff(want.lines(), got); diff != "" {
				t.Fatalf("%v in %+v: (-oracle +judge)\n%s", m, s, diff)
			}
			if d := a.Deciding(); d != nil {
				first := want.claims[slices.IndexFunc(want.claims, func(c *claim) bool { return c.verdict == a.Verdict })]
				if first.name != evidenceName(d.Evidence) || first.grade != a.Grade {
					t.Fatalf("%v: want %s to decide, got %s", m, first.name, tell(a))
				}
			}
		}
	})
}

// TestOracleSpans counts what the random books hold, so that agreement over nothing
// is seen.
func TestOracleSpans(t *testing.T) {
	verdicts, parts, doubts := map[mix.Verdict]int{}, map[string]int{}, map[string]int{}
	for seed := range 400 {
		b := rapid.Custom(drawBook).Example(seed)
		m, s := rapid.Custom(drawMix).Example(seed), rapid.Custom(drawSituation).Example(seed)
		a := b.judge().Mix(m, s)
		verdicts[a.Verdict]++
		for _, f := range a.Findings {
			parts[f.Part.String()]++
			for _, d := range f.Doubts {
				doubts[string(d.Code)]++
			}
		}
	}
	t.Logf("%v %v %v", verdicts, parts, doubts)
	for _, v := range mix.Verdicts() {
		if verdicts[v] == 0 {
			t.Errorf("no answer was %v", v)
		}
	}
}
