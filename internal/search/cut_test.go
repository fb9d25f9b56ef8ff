package search

import (
	"slices"
	"strings"
	"testing"

	"pgregory.net/rapid"
)

// TestCuts wants parts that join to the whole, none of them empty or, but for one
// long item, more than twice the size wanted, and bounds by which every key is found
// in its own part.
func TestCuts(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		keys := rapid.SliceOfNDistinct(rapid.StringMatching(`[a-c]{1,6}`), 1, 200, rapid.ID[string]).Draw(t, "keys")
		slices.Sort(keys)
		sizes := rapid.SliceOfN(rapid.IntRange(1, 60), len(keys), len(keys)).Draw(t, "sizes")
		const want = 90
		starts := cuts(keys, func(i int) int { return sizes[i] }, want)
		ix := &Index{bounds: map[string][]string{}}
		readKeys(bounds(keys, starts), isSpace, func(key string, _ byte) { ix.bounds["p"] = append(ix.bounds["p"], key) })
		next := 0
		spans(len(keys), starts, func(part, start, end int) {
			full := 0
			for i := start; i < end; i++ {
				if got := ix.partOf("p", keys[i]); got != part {
					t.Fatalf("%q is looked for in part %d, and is in %d", keys[i], got, part)
				}
				full += sizes[i]
			}
			if start != next || start >= end || full > 2*want {
				t.Fatalf("part %d from %d to %d with %d bytes", part, start, end, full)
			}
			next = end
		})
		if next != len(keys) {
			t.Fatalf("%d of %d keys are in parts", next, len(keys))
		}
	})
}

// TestCutsBetweenWords wants a word and its inflections in one part.
func TestCutsBetweenWords(t *testing.T) {
	keys := strings.Fields("acid acids agitate agitated agitation foam foamed foaming foams gas gases mix mixed mixes mixing tank tanks")
	starts := cuts(keys, func(int) int { return 10 }, 50)
	var got []string
	for _, i := range starts {
		got = append(got, keys[i])
	}
	if want := []string{"foam", "mix"}; !slices.Equal(got, want) {
		t.Errorf("parts begin at %q, want %q", got, want)
	}
}
