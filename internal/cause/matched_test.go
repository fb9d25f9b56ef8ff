package cause_test

import (
	"testing"

	"github.com/google/go-cmp/cmp"
	"pgregory.net/rapid"

	. "tankleaf.example/internal/cause"
)

func TestMatched(t *testing.T) {
	at := func(r Run, factors ...int) Setting { return Setting{r, factors} }
	tests := []struct {
		name, why string
		runs      []Setting
		want      []Factor
	}{{
		"no runs", "each factor has its place", nil, []Factor{{}, {}},
	}, {
		"order made none", "one factor differs and the outcome does not",
		[]Setting{at(reacted(0, 1), 1, 1), at(reacted(0, 1), 2, 1)},
		[]Factor{{Same: []Pair{{0, 1}}}, {}},
	}, {
		"the second did", "one factor differs and the outcome too",
		[]Setting{at(reacted(0, 1), 1, 1), at(clean(0, 1), 1, 2)},
		[]Factor{{}, {Differ: []Pair{{0, 1}}}},
	}, {
		"two differ", "nobody can say which of them it was",
		[]Setting{at(reacted(0, 1), 1, 1), at(clean(0, 1), 2, 2)},
		[]Factor{{}, {}},
	}, {
		"a plain repeat", "no factor differs",
		[]Setting{at(reacted(0, 1), 1, 1), at(clean(0, 1), 1, 1)},
		[]Factor{{}, {}},
	}, {
		"other members", "the sets differ, so the factors are not compared",
		[]Setting{at(reacted(0, 1), 1, 1), at(reacted(0, 2), 2, 1)},
		[]Factor{{}, {}},
	}, {
		"other factor not recorded", "it may have differed too: counted, not used",
		[]Setting{at(reacted(0, 1), 1), at(reacted(0, 1), 2, 1), at(clean(0, 1), 2, 0)},
		[]Factor{{Unsure: 2}, {}},
	}, {
		"this factor not recorded", "no one knows that it differs",
		[]Setting{at(reacted(0, 1), 0, 1), at(reacted(0, 1), 2, 1), at(reacted(0, 1), -3, 1)},
		[]Factor{{}, {}},
	}, {
		"three alike", "each two runs are a pair",
		[]Setting{at(reacted(4), 1, 1), at(reacted(4), 2, 1), at(clean(4), 3, 1)},
		[]Factor{{Same: []Pair{{0, 1}}, Differ: []Pair{{0, 2}, {1, 2}}}, {}},
	}}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			if d := cmp.Diff(tt.want, Matched(tt.runs, 2)); d != "" {
				t.Errorf("%s (-want +got):\n%s", tt.why, d)
			}
		})
	}
	if got := Matched(tests[1].runs, -1); len(got) != 0 {
		t.Errorf("factors of none: %v", got)
	}
}

// TestMatchedRandom counts pairs by the definition, in another order of runs.
func TestMatchedRandom(t *testing.T) {
	type counts struct{ Same, Differ, Unsure int }
	rapid.Check(t, func(t *rapid.T) {
		const factors = 3
		runs := rapid.SliceOfN(rapid.Custom(func(t *rapid.T) Setting {
			return Setting{Run{genSet(2).Draw(t, "set"), rapid.Bool().Draw(t, "reacted")},
				rapid.SliceOfN(rapid.IntRange(0, 2), 0, factors).Draw(t, "factors")}
		}), 0, 12).Draw(t, "runs")
		var want, got [factors]counts
		for i, a := range runs {
			for _, b := range runs[:i] {
				differ, unknown, which := 0, 0, 0
				for f := range factors {
					x, y := 0, 0
					if f < len(a.Factors) {
						x = a.Factors[f]
					}
					if f < len(b.Factors) {
						y = b.Factors[f]
					}
					if x == 0 || y == 0 {
						unknown++
					} else if x != y {
						differ, which = differ+1, f
					}
				}
				switch {
				case a.Members != b.Members || differ != 1:
				case unknown > 0:
					want[which].Unsure++
				case a.Reacted == b.Reacted:
					want[which].Same++
				default:
					want[which].Differ++
				}
			}
		}
		for f, m := range Matched(rapid.Permutation(runs).Draw(t, "order"), factors) {
			got[f] = counts{len(m.Same), len(m.Differ), m.Unsure}
		}
		if d := cmp.Diff(want, got); d != "" {
			t.Fatalf("(-want +got):\n%s", d)
		}
	})
}
