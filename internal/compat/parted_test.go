package compat_test

import (
	"testing"

	"github.com/google/go-cmp/cmp"

	"tankleaf.example/internal/compat"
	"tankleaf.example/internal/mix"
)

// TestParted: foam without gas, and under a defoamer gas without foam, are two
// matters. Flakes that nobody looked for part nothing.
func TestParted(t *testing.T) {
	j := burndown().judge()
	cases := j.Investigate("walls")
	got := j.Parted(cases)
	if len(got) != 1 || got[0].A != mix.Gas || got[0].B != mix.Foam {
		t.Fatalf("got %+v", got)
	}
	ids := func(list []*mix.Observation) (all []mix.ID) {
		for _, o := range list {
			all = append(all, o.ID)
		}
		return all
	}
	if diff := cmp.Diff([]mix.ID{"w8"}, ids(got[0].OnlyA)); diff != "" {
		t.Errorf("gas without foam (-want +got)\n%s", diff)
	}
	if diff := cmp.Diff([]mix.ID{"w2", "w4"}, ids(got[0].OnlyB)); diff != "" {
		t.Errorf("foam without gas (-want +got)\n%s", diff)
	}
}

// TestPartedNeedsBothWays: gas that never came without foam is not told apart from
// it, and what was not recorded is not its absence.
func TestPartedNeedsBothWays(t *testing.T) {
	for _, c := range []struct {
		why   string
		lines []string
	}{
		{"foam once without gas, gas always with foam", []string{"a b: gas=firm foam=200", "a c: gas=none foam=200"}},
		{"gas where foam was not recorded", []string{"a b: gas=firm", "a c: gas=none foam=200"}},
		{"one symptom", []string{"a b: gas=firm foam=0"}},
	} {
		b := newBook()
		for _, p := range []string{"a", "b", "c"} {
			b.product(p, "")
		}
		for i, line := range c.lines {
			b.jar([]string{"j1", "j2"}[i], "2026-05-01", line, func(o *mix.Observation) { o.Investigation = mix.Ref{ID: "x"} })
		}
		j := b.judge()
		if got := j.Parted(j.Investigate("x")); len(got) > 0 {
			t.Errorf("%s: got %+v", c.why, got)
		}
	}
	var none []compat.Case
	if got := burndown().judge().Parted(none); got != nil {
		t.Errorf("no cases: got %+v", got)
	}
}
