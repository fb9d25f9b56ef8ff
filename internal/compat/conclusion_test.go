package compat_test

import (
	"fmt"
	"testing"

	"tankleaf.example/internal/cause"
	"tankleaf.example/internal/compat"
	"tankleaf.example/internal/mix"
)

// TestConclusion: of the smallest mixes that reacted the one of which least is
// known decides, and larger ones decide nothing.
func TestConclusion(t *testing.T) {
	for _, c := range []struct {
		why      string
		jars     []string
		want     cause.Status
		smallest string
	}{
		{"a pair whose parts were quiet", []string{"a b: gas=firm", "a: gas=none", "b: gas=none"}, cause.Established, "[[a b]]"},
		{"a pair with one part untested", []string{"a b: gas=firm", "a: gas=none"}, cause.Narrowed, "[[a b]]"},
		{"one pair established, another open", []string{"a b: gas=firm", "a: gas=none", "b: gas=none", "c d: gas=firm"}, cause.Narrowed, "[[a b] [c d]]"},
		{"a larger mix is explained by the pair in it", []string{"a b: gas=firm", "a: gas=none", "b: gas=none", "a b c: gas=firm"}, cause.Established, "[[a b]]"},
		{"the same mix did both", []string{"a b: gas=firm", "a b: gas=none"}, cause.Contradicted, "[[a b]]"},
	} {
		b := newBook()
		for _, p := range []string{"a", "b", "c", "d"} {
			b.product(p, "")
		}
		for i, line := range c.jars {
			b.jar(fmt.Sprintf("j%d", i), "2026-05-01", line, func(o *mix.Observation) { o.Investigation = mix.Ref{ID: "x"} })
		}
		k := caseOf(t, b.judge().Investigate("x"), mix.Gas)
		var smallest [][]mix.ID
		for _, m := range k.Smallest() {
			smallest = append(smallest, m.Products)
		}
		if got := k.Conclusion(); got != c.want || fmt.Sprint(smallest) != c.smallest {
			t.Errorf("%s: got %v of %v, want %v of %s", c.why, got, smallest, c.want, c.smallest)
		}
	}
	var none compat.Case
	if got := none.Conclusion(); got != cause.Unknown {
		t.Errorf("a case of nothing is %v", got)
	}
	if got := (&compat.Case{TooMany: true, ByClass: []compat.CaseMix{{Status: cause.Established}}}).Conclusion(); got != cause.Unknown {
		t.Errorf("a case of too many suspects is %v", got)
	}
}
