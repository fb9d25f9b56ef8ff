package cause_test

import (
	"cmp"
	"slices"
	"testing"

	. "tankleaf.example/internal/cause"
)

// TestExplanationsAreSorted: the most probable first, then fewer causes, then by
// the causes themselves; and asking for a few gives the start of asking for all.
func TestExplanationsAreSorted(t *testing.T) {
	s, err := NewSearch(Question{Runs: []Run{reacted(0, 1, 2, 3)}, Within: full(4), Limits: Limits{Causes: 2, Size: 2}})
	if err != nil {
		t.Fatal(err)
	}
	all := s.Explanations(-1)
	compare := func(a, b Explanation) int {
		return cmp.Or(cmp.Compare(b.P, a.P), cmp.Compare(len(a.Causes), len(b.Causes)), slices.CompareFunc(a.Causes, b.Causes, Set.Compare))
	}
	ties := 0
	for i, e := range all[1:] {
		if compare(all[i], e) >= 0 {
			t.Errorf("%v (%g) stands before %v (%g)", all[i].Causes, all[i].P, e.Causes, e.P)
		}
		if len(e.Causes) == 2 && len(all[i].Causes) == 2 && e.P == all[i].P && e.Causes[0] == all[i].Causes[0] {
			ties++
		}
	}
	if ties < 5 {
		t.Errorf("%d neighbors differ in their second cause alone: the test shows little", ties)
	}
	for n := range 8 {
		for i, e := range s.Explanations(n) {
			if compare(e, all[i]) != 0 {
				t.Errorf("of %d, number %d is %v, want %v", n, i, e.Causes, all[i].Causes)
			}
		}
	}
}
