package cause_test

import (
	"testing"

	"github.com/google/go-cmp/cmp"

	. "tankleaf.example/internal/cause"
)

// TestMatchedPairsAreSorted: whoever reads the pairs reads them by their first run,
// then by their second, not as they were found.
func TestMatchedPairsAreSorted(t *testing.T) {
	var same, differ []Setting
	for level := range 4 {
		same = append(same, Setting{reacted(0, 1), []int{level + 1}})
		run := reacted(0, 1)
		if level%2 == 1 {
			run = clean(0, 1)
		}
		differ = append(differ, Setting{run, []int{level + 1}})
	}
	all := []Pair{{0, 1}, {0, 2}, {0, 3}, {1, 2}, {1, 3}, {2, 3}}
	if diff := cmp.Diff([]Factor{{Same: all}}, Matched(same, 1)); diff != "" {
		t.Error(diff)
	}
	want := []Factor{{Same: []Pair{{0, 2}, {1, 3}}, Differ: []Pair{{0, 1}, {0, 3}, {1, 2}, {2, 3}}}}
	if diff := cmp.Diff(want, Matched(differ, 1)); diff != "" {
		t.Error(diff)
	}
}
