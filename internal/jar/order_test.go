package jar_test

import (
	"testing"

	"github.com/google/go-cmp/cmp"
	"tankleaf.example/internal/jar"
	"tankleaf.example/internal/mix"
)

// table is a short order of addition: bags, conditioners, dry, flowable, emulsions,
// surfactants.
var table = []mix.OrderStep{
	{ID: "bags", Bags: true},
	{ID: "conditioner", Classes: refs("conditioner", "defoamer")},
	{ID: "dry", Forms: []mix.Form{"WG", "WP"}},
	{ID: "flowable", Forms: []mix.Form{"SC", "SE"}},
	{ID: "emulsion", Forms: []mix.Form{"EC", "EW"}},
	{ID: "surfactant", Classes: refs("surfactant")},
}

func TestOrder(t *testing.T) {
	ids := func(c ...mix.ID) []mix.ID { return c }
	for _, c := range []struct {
		products []jar.Product
		want     []string // name, step, reason
		why      string
	}{
		{[]jar.Product{{Name: "a", Form: "EC"}, {Name: "b", Form: "SC"}, {Name: "c", Form: "WG"}},
			[]string{"c dry form", "b flowable form", "a emulsion form"}, "by formulation code"},
		{[]jar.Product{{Name: "a", Form: "EC"}, {Name: "b", Form: "EW"}, {Name: "c", Form: "EC"}},
			[]string{"a emulsion form", "b emulsion form", "c emulsion form"}, "one step keeps the order given"},
		{[]jar.Product{{Name: "a", Form: "SC"}, {Name: "b", Form: "EC", Classes: ids("defoamer", "silicone")}},
			[]string{"b conditioner class", "a flowable form"}, "a class beats the code"},
		{[]jar.Product{{Name: "a", Form: "WG"}, {Name: "b", Form: "WP", Bag: true, Classes: ids("surfactant")}},
			[]string{"b bags bag", "a dry form"}, "a bag beats class and code"},
		{[]jar.Product{{Name: "a", Form: "SL", Classes: ids("surfactant", "conditioner")}, {Name: "b", Form: "WG"}},
			[]string{"a conditioner class", "b dry form"}, "of two classes the earlier step counts"},
		{[]jar.Product{{Name: "a"}, {Name: "b", Form: "SL"}, {Name: "c", Form: "EC"}},
			[]string{"c emulsion form", "a - not-known", "b - not-known"}, "what no step claims goes last and says so"},
		{[]jar.Product{{Name: "a", Form: "WG"}, {Name: "b", Form: "SC"}, {Name: "c", Form: "EC", Position: 1}},
			[]string{"c emulsion label", "a dry form", "b flowable form"}, "the label's position overrides"},
		{[]jar.Product{{Name: "a", Form: "WG", Position: 2}, {Name: "b", Form: "SC"}, {Name: "c", Form: "EC"}},
			[]string{"b flowable form", "a dry label", "c emulsion form"}, "in the middle too"},
		{[]jar.Product{{Name: "a", Form: "WG", Position: 9}, {Name: "b", Form: "SC"}},
			[]string{"b flowable form", "a dry label"}, "a position past the end is the end"},
		{[]jar.Product{{Name: "a", Form: "EC", Position: 1}, {Name: "b", Form: "WG", Position: 1}, {Name: "c", Form: "SC"}},
			[]string{"a emulsion label", "b dry label", "c flowable form"}, "two first ones go as given"},
		{nil, nil, "no products"},
	} {
		var got []string
		for i, p := range jar.Order(c.products, table) {
			step := "-"
			if p.Place.Step != nil {
				step = string(p.Place.Step.ID)
			}
			if p.Place.Number != i+1 {
				t.Errorf("%s: place %d is numbered %d", c.why, i+1, p.Place.Number)
			}
			got = append(got, c.products[p.Given].Name+" "+step+" "+p.Place.Reason.String())
		}
		if diff := cmp.Diff(c.want, got); diff != "" {
			t.Errorf("%s (-want +got)\n%s", c.why, diff)
		}
	}
}

func TestNames(t *testing.T) {
	for _, c := range []struct{ got, want string }{
		{jar.Reason(0).String(), "not-known"}, {jar.Reason(5).String(), "Reason(5)"},
		{jar.Fit(0).String(), "not-checked"}, {jar.Fit(4).String(), "Fit(4)"},
		{jar.State(0).String(), ""}, {jar.Dry.String(), "dry"}, {jar.State(3).String(), "State(3)"},
	} {
		if c.got != c.want {
			t.Errorf("got %q, want %q", c.got, c.want)
		}
	}
}
