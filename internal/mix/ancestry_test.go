package mix_test

import (
	"slices"
	"testing"

	"github.com/google/go-cmp/cmp"
	"tankleaf.example/internal/mix"
)

func refs(ids ...mix.ID) []mix.Ref {
	var all []mix.Ref
	for _, id := range ids {
		all = append(all, mix.Ref{ID: id})
	}
	return all
}

// ladder is potassium glyphosate, a kind of glyphosate, a kind of acid; a
// suspension class by formulation code; and a loop, which data must not have.
func ladder() *mix.Book {
	return &mix.Book{
		Classes: []mix.Class{
			{ID: "acid"},
			{ID: "glyphosate", KindOf: refs("acid")},
			{ID: "glyphosate-k", KindOf: refs("glyphosate", "acid", "nowhere")},
			{ID: "suspension", Forms: []mix.Form{"SC", "WP"}, KindOf: refs("particle")},
			{ID: "particle"},
			{ID: "loop-a", KindOf: refs("loop-b")},
			{ID: "loop-b", KindOf: refs("loop-a")},
			{ID: "acid", KindOf: refs("particle")},
		},
		Products: []mix.Product{
			{ID: "p1", Form: "SL", Classes: refs("glyphosate-k")},
			{ID: "p2", Form: "SC", Classes: refs("acid")},
			{ID: "p3", Form: "WP", Classes: refs("acid", "missing")},
			{ID: "p4", Form: "SL"},
		},
	}
}

func TestAncestors(t *testing.T) {
	x := mix.NewIndex(ladder())
	for _, c := range []struct {
		id   mix.ID
		want []mix.ID
		why  string
	}{
		{"acid", []mix.ID{"acid"}, "the first of two records with one ID counts"},
		{"glyphosate-k", []mix.ID{"acid", "glyphosate", "glyphosate-k"}, "transitive; unknown parents passed over"},
		{"loop-a", []mix.ID{"loop-a", "loop-b"}, "a cycle ends"},
		{"p1", []mix.ID{"acid", "glyphosate", "glyphosate-k", "p1"}, "a product is an item like a class"},
		{"p3", []mix.ID{"acid", "p3", "particle", "suspension"}, "classes by formulation code, with theirs"},
		{"p9", nil, "no such item"},
	} {
		if diff := cmp.Diff(c.want, x.Ancestors(c.id)); diff != "" {
			t.Errorf("%s: %s (-want +got)\n%s", c.id, c.why, diff)
		}
		for _, a := range c.want {
			if !x.IsA(c.id, a) {
				t.Errorf("%s is not a %s: %s", c.id, a, c.why)
			}
		}
	}
	if x.IsA("acid", "glyphosate") || x.IsA("p9", "p9") {
		t.Error("a parent is no kind of its child, and nothing is known of an unknown item")
	}
}

func TestSignatures(t *testing.T) {
	x := mix.NewIndex(ladder())
	want := [][]mix.ID{
		{},
		{"acid", "glyphosate", "glyphosate-k"},
		{"acid", "particle", "suspension"},
	}
	if diff := cmp.Diff(want, x.Signatures()); diff != "" {
		t.Errorf("(-want +got)\n%s", diff)
	}
	for id, want := range map[mix.ID]int{"p1": 1, "p2": 2, "p3": 2, "p4": 0, "p9": -1} {
		if got := x.Signature(id); got != want {
			t.Errorf("Signature(%s) = %d, want %d", id, got, want)
		}
	}
	if got, want := x.Members("acid"), []mix.ID{"p1", "p2", "p3"}; !slices.Equal(got, want) {
		t.Errorf("Members(acid) = %v, want %v", got, want)
	}
}

func TestSignaturesIgnoreOrder(t *testing.T) {
	a, b := ladder(), ladder()
	b.Classes = b.Classes[:7] // the repeated ID is the one thing that order decides
	a.Classes = a.Classes[:7]
	slices.Reverse(b.Classes)
	slices.Reverse(b.Products)
	if diff := cmp.Diff(mix.NewIndex(a).Signatures(), mix.NewIndex(b).Signatures()); diff != "" {
		t.Errorf("order of records changed the signatures (-want +got)\n%s", diff)
	}
}
