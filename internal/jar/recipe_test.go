package jar_test

import (
	"errors"
	"slices"
	"testing"

	"github.com/google/go-cmp/cmp"
	"tankleaf.example/internal/jar"
	"tankleaf.example/internal/mix"
	"tankleaf.example/internal/unit"
)

// mL prints a volume for comparing.
func mL(v unit.Volume) string { return v.Base().Fixed(3) }

func TestRecipeVolumes(t *testing.T) {
	two := []jar.ProductInput{{Name: "liquid", Rate: "100 mL/L"}, {Name: "dry", Rate: "50 g/L"}}
	heavy := []jar.ProductInput{{Name: "liquid", Rate: "100 mL/L"}, {Name: "dry", Rate: "50 g/L", Density: "0.5 g/mL"}}
	for _, c := range []struct {
		in                            jar.RecipeInput
		finished, water, first, topUp string
		why                           string
	}{
		{jar.RecipeInput{Jar: "1 L", FirstWater: "50 %", Products: two}, "1000.000", "900.000", "500.000", "400.000",
			"liquids are part of the jar, a dry product of unknown density counts as nothing"},
		{jar.RecipeInput{Jar: "1 L", FirstWater: "50 %", Products: heavy}, "1000.000", "800.000", "500.000", "300.000",
			"a dry product of known density takes room"},
		{jar.RecipeInput{Jar: "1 L", FirstWater: "95 %", Products: two}, "1000.000", "900.000", "900.000", "0.000",
			"first water is at most all the water"},
		{jar.RecipeInput{Jar: "1 L", Products: two}, "1000.000", "900.000", "0.000", "900.000", "no first water stated"},
		{jar.RecipeInput{Jar: "1 L", FirstWater: "50 %", WaterShare: "25 %", Products: two},
			"325.000", "225.000", "162.500", "62.500", "crowded fill: a quarter of 900 mL, and 100 mL of product"},
		{jar.RecipeInput{Jar: "1 L", FirstWater: "100 %", WaterShare: "100 %", Products: two},
			"1000.000", "900.000", "900.000", "0.000", "full water said outright"},
	} {
		r := recipe(t, c.in)
		got := []string{mL(r.Finished), mL(r.Water), mL(r.FirstWater), mL(r.TopUp)}
		if want := []string{c.finished, c.water, c.first, c.topUp}; !slices.Equal(got, want) {
			t.Errorf("finished, water, first, top-up = %v, want %v: %s", got, want, c.why)
		}
	}
}

func TestDosesByState(t *testing.T) {
	for _, c := range []struct {
		p    jar.ProductInput
		want string
		why  string
	}{
		{jar.ProductInput{Rate: "1 % v/v"}, "10 mL", "a volume of a free name is poured"},
		{jar.ProductInput{Rate: "1 % w/v"}, "10 g", "a weight of a free name is weighed"},
		{jar.ProductInput{Rate: "1 % w/v", Form: "WG"}, "10 g", "granules are weighed"},
		{jar.ProductInput{Rate: "1 % w/v", Form: "SC", Density: "1.25 g/mL"}, "8 mL", "a liquid by weight is poured"},
		{jar.ProductInput{Rate: "1 % v/v", Form: "WP", Density: "0.5 g/mL"}, "5 g", "a powder by volume is weighed"},
		{jar.ProductInput{Rate: "1 % w/v", Form: "XX", State: "liquid", Density: "2 g/mL"}, "5 mL", "the state decides for XX"},
		{jar.ProductInput{Rate: "1 % w/v", Form: "XX"}, "10 g", "XX says nothing of the state"},
		{jar.ProductInput{Rate: "1 % v/v", Form: "WG", State: "liquid"}, "10 mL", "what is stated beats the code"},
	} {
		c.p.Name = "a"
		r := recipe(t, jar.RecipeInput{Jar: "1 L", Products: []jar.ProductInput{c.p}})
		if got := r.Doses[0].Amount.String(); got != c.want {
			t.Errorf("%+v = %s, want %s: %s", c.p, got, c.want, c.why)
		}
	}
}

// codes lists the kinds of problem in an error.
func codes(t testing.TB, err error) []jar.Code {
	t.Helper()
	var ps jar.Problems
	if !errors.As(err, &ps) {
		t.Fatalf("%v is no list of problems", err)
	}
	var all []jar.Code
	for _, p := range ps {
		if p.Msg == "" || p.Hint == "" {
			t.Errorf("problem %s without message or hint: %+v", p.Code, p)
		}
		all = append(all, p.Code)
	}
	return all
}

func TestRecipeProblems(t *testing.T) {
	a := func(rate string) []jar.ProductInput { return []jar.ProductInput{{Name: "a", Rate: rate}} }
	for _, c := range []struct {
		in   jar.RecipeInput
		want []jar.Code
		why  string
	}{
		{jar.RecipeInput{}, []jar.Code{jar.NoJar, jar.NoProducts}, "everything missing, all at once"},
		{jar.RecipeInput{Jar: "0 mL", Products: a("1 % v/v")}, []jar.Code{jar.NoJar}, "an empty jar"},
		{jar.RecipeInput{Jar: "1 qt", Products: a("1 pt/ac")}, []jar.Code{jar.NoSprayVolume}, "a rate by area alone"},
		{jar.RecipeInput{Jar: "1 qt", Products: a("")}, []jar.Code{jar.NoRate}, "no rate"},
		{jar.RecipeInput{Jar: "1 qt", Products: []jar.ProductInput{{Rate: "1 % v/v"}}}, []jar.Code{jar.NoName}, "no name"},
		{jar.RecipeInput{Jar: "1 qt", Products: append(a("1 % v/v"), a("2 % v/v")...)}, []jar.Code{jar.TwoOfAName}, "twice"},
		{jar.RecipeInput{Jar: "1 qt", Products: a("100 % v/v")}, []jar.Code{jar.Overfull}, "no room for water"},
		{jar.RecipeInput{Jar: "1 qt", SprayVolume: "2 gal/ac", Products: a("3 gal/ac")}, []jar.Code{jar.Overfull}, "nor here"},
		{jar.RecipeInput{Jar: "50 mL", SprayVolume: "100 gal/ac", Products: a("0.01 fl oz/ac")}, []jar.Code{jar.TooSmall},
			"a dose that would print as 0.000"},
		{jar.RecipeInput{Jar: "1 qt", Products: []jar.ProductInput{{Name: "a", Rate: "1 % w/v", Form: "EC"}}},
			[]jar.Code{jar.NoDensity}, "a weight of a liquid of unknown density"},
		{jar.RecipeInput{Jar: "1 qt", Products: []jar.ProductInput{{Name: "a", Rate: "1 % v/v", Form: "WG"}}},
			[]jar.Code{jar.NoDensity}, "a volume of granules"},
	} {
		q, err := c.in.Request()
		if err == nil {
			_, err = q.Recipe()
		}
		if got := codes(t, err); !slices.Equal(got, c.want) {
			t.Errorf("%s: got %v, want %v", c.why, got, c.want)
		}
	}
}

// Shares outside 0 to 1 cannot be written, and are refused when they are set.
func TestShareBounds(t *testing.T) {
	q := jar.Request{Jar: must(t, unit.ParseVolume, "1 qt"), WaterShare: unit.Frac(5, 4), FirstWater: unit.Int(-1),
		Products: []jar.Product{{Name: "a", Rate: must(t, unit.ParseRate, "1 % v/v")}}}
	_, err := q.Recipe()
	if got := codes(t, err); !slices.Equal(got, []jar.Code{jar.BadShare, jar.BadShare}) {
		t.Errorf("got %v, want two bad shares", got)
	}
	if err.Error() != "water share 125 % is outside 0 to 100 %\nfirst water -100 % is outside 0 to 100 %" {
		t.Errorf("got %q", err)
	}
}

func TestInputProblems(t *testing.T) {
	in := jar.RecipeInput{Jar: "1 cup", SprayVolume: "15 gal", WaterShare: "0 %", FirstWater: "half",
		Products: []jar.ProductInput{
			{Name: "a", Rate: "2 L", Density: "0 g/mL", Form: "WDG", State: "solid", Range: [2]string{"1", "2 pt/ac"}},
			{Name: "b", Rate: "1 pt/ac", Form: "AE"}}}
	_, err := in.Request()
	want := []jar.Code{jar.BadText, jar.BadText, jar.BadText, jar.BadText, jar.BadText, jar.BadText, jar.BadCode,
		jar.BadState, jar.BadText, jar.BadCode}
	if got := codes(t, err); !slices.Equal(got, want) {
		t.Errorf("got %v, want %v:\n%v", got, want, err)
	}
	var ps jar.Problems
	errors.As(err, &ps)
	if j := ps.JSON(); len(j) != len(ps) || j[4].Product != "a" || j[4].Msg != `rate "2 L" has no area` {
		t.Errorf("JSON of the problems: %+v", j)
	}
	if got := ps[6].Hint; got != `write "WG"` {
		t.Errorf("hint for WDG: %q", got)
	}
}

// book is a small office: two products, a table of two steps, a recipe.
func book() *mix.Book {
	rate := func(s string) unit.Rate { r, _ := unit.ParseRate(s); return r }
	return &mix.Book{
		Site:    mix.Site{FirstWater: unit.Frac(1, 2)},
		Classes: []mix.Class{{ID: "oil"}, {ID: "crop-oil", KindOf: refs("oil")}},
		Products: []mix.Product{
			{ID: "p-oil", Name: "Tern Oil", Form: "EC", Classes: refs("crop-oil"),
				Rate: mix.RateRange{Low: rate("1 pt/ac"), High: rate("2 pt/ac")}},
			{ID: "p-dry", Name: "Sedge WG", Form: "WG", Dry: true},
		},
		Order: []mix.OrderStep{{ID: "solids", Forms: []mix.Form{"WG", "WP"}}, {ID: "oils", Classes: refs("oil")}},
		Recipes: []mix.Recipe{{ID: "r", Jar: unit.Quart.Of(unit.Int(1)), SprayVolume: unit.GallonPerAcre.Of(unit.Int(15)),
			Products: []mix.Portion{{Ref: mix.Ref{ID: "p-oil"}, Rate: rate("1 pt/ac")}, {Ref: mix.Ref{ID: "p-dry"}, Rate: rate("1 lb/ac")},
				{Ref: mix.Ref{ID: "nowhere"}, Rate: rate("1 lb/ac")}}}},
	}
}

func TestFromRecipe(t *testing.T) {
	x := mix.NewIndex(book())
	r, err := jar.FromRecipe(x, x.Recipe("r")).Recipe()
	if err != nil {
		t.Fatal(err)
	}
	type line struct{ Name, Amount, Step, Reason, Class, Label string }
	var got []line
	for _, it := range r.JSON().Items {
		got = append(got, line{it.Name, it.Amount + " " + it.Unit, string(it.Step), it.Reason, string(it.Class), it.Label})
	}
	want := []line{
		{"Sedge WG", "7.560 g", "solids", "form", "", "not-checked"},
		{"Tern Oil", "7.886 mL", "oils", "class", "oil", "within"},
	}
	if diff := cmp.Diff(want, got); diff != "" {
		t.Errorf("(-want +got)\n%s", diff)
	}
	if mL(r.FirstWater) != "473.176" {
		t.Errorf("first water %s, want half a quart", mL(r.FirstWater))
	}
}
