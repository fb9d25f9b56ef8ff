package compat

import (
	"slices"
	"testing"

	"tankleaf.example/internal/mix"
	"tankleaf.example/internal/unit"
)

// TestMendsOfAPart: a record of which only a part is compared has the mends of the
// whole, also when nobody asked for those of the whole before: a source says that the
// agent keeps oil and powder from making flakes, and the oil is left out.
func TestMendsOfAPart(t *testing.T) {
	in := func(ids ...mix.ID) (all []mix.Ref) {
		for _, id := range ids {
			all = append(all, mix.Ref{ID: id})
		}
		return all
	}
	whole := mix.Observation{ID: "jar"}
	for _, id := range []mix.ID{"a", "o", "p"} {
		whole.Products = append(whole.Products, mix.Portion{Ref: mix.Ref{ID: id}})
	}
	b := &mix.Book{
		Classes:  []mix.Class{{ID: "oil"}, {ID: "powder"}, {ID: "agent"}},
		Products: []mix.Product{{ID: "o", Classes: in("oil")}, {ID: "p", Classes: in("powder")}, {ID: "a", Classes: in("agent")}},
		Interactions: []mix.Interaction{{ID: "curds", Members: in("oil", "powder"), Verdict: mix.Apart, Symptoms: []mix.Symptom{mix.Flakes},
			Mends: []mix.Mend{{Class: mix.Ref{ID: "agent"}, To: mix.Steps}}}},
		Observations: []mix.Observation{whole},
	}
	part := whole
	part.Products = []mix.Portion{whole.Products[0], whole.Products[2]}
	unknown := part
	unknown.ID = "another"
	for _, c := range []struct {
		why  string
		of   *mix.Observation
		s    mix.Symptom
		want []mix.ID
	}{
		{"the whole", &whole, mix.Flakes, []mix.ID{"a"}},
		{"a part of it", &part, mix.Flakes, []mix.ID{"a"}},
		{"a part, of another symptom", &part, mix.Foam, nil},
		{"a record of no book, which has its own products alone", &unknown, mix.Flakes, nil},
	} {
		j := New(mix.NewIndex(b)) // which has answered nothing yet
		if got := j.mendsIn(c.of, c.s); !slices.Equal(got, c.want) {
			t.Errorf("%s: %v, want %v", c.why, got, c.want)
		}
	}
}

// TestRangeOfJars: what jars were run at reaches from the least to the most, ends
// included, and no further to either side.
func TestRangeOfJars(t *testing.T) {
	g := rangeGate(mix.WaterTemp, unit.Int(5), unit.Int(20))
	if g.Factor != mix.WaterTemp || g.Written != "5 to 20" {
		t.Errorf("%+v", g)
	}
	for n, want := range map[int64]mix.Truth{4: mix.Fails, 5: mix.Holds, 12: mix.Holds, 20: mix.Holds, 21: mix.Fails} {
		if got := g.Inside(mix.Known(unit.Int(n))); got != want {
			t.Errorf("%d °C %v, want %v", n, got, want)
		}
	}
}
