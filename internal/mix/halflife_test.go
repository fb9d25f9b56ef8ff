package mix_test

import (
	"testing"

	"github.com/google/go-cmp/cmp"
	"tankleaf.example/internal/mix"
)

func TestHalfLivesOf(t *testing.T) {
	b := &mix.Book{HalfLives: []mix.HalfLife{
		{ID: "a", Active: "captan"}, {ID: "b", Class: mix.Ref{ID: "carbamate"}}, {ID: "c", Active: "captan"}, {ID: "d", Active: "glyphosate"},
	}}
	ids := func(list []*mix.HalfLife) (all []mix.ID) {
		for _, h := range list {
			all = append(all, h.ID)
		}
		return all
	}
	for _, c := range []struct {
		got  []*mix.HalfLife
		want []mix.ID
		why  string
	}{
		{b.HalfLivesOf("captan"), []mix.ID{"a", "c"}, "every source, side by side"},
		{b.HalfLivesOf("glyphosate potassium salt"), nil, "a salt is not the acid that was measured"},
		{b.HalfLivesOf(""), nil, "a record of a class is of no active, not of every nameless one"},
		{b.HalfLivesOfClass("carbamate"), []mix.ID{"b"}, "of the class itself"},
		{b.HalfLivesOfClass(""), nil, "a record of an active is of no class"},
	} {
		if diff := cmp.Diff(c.want, ids(c.got)); diff != "" {
			t.Errorf("%s (-want +got)\n%s", c.why, diff)
		}
	}
}
