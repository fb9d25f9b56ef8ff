package jar_test

import (
	"flag"
	"testing"

	"tankleaf.example/internal/jar"
	"tankleaf.example/internal/mix"
	"tankleaf.example/internal/unit"
)

var update = flag.Bool("update", false, "rewrite the wants of the vectors")

// must parses a constant of a test.
func must[T any](t testing.TB, parse func(string) (T, error), s string) T {
	t.Helper()
	v, err := parse(s)
	if err != nil {
		t.Fatal(err)
	}
	return v
}

// recipe works out one jar from texts.
func recipe(t testing.TB, in jar.RecipeInput) jar.Recipe {
	t.Helper()
	q, err := in.Request()
	if err != nil {
		t.Fatal(err)
	}
	r, err := q.Recipe()
	if err != nil {
		t.Fatal(err)
	}
	return r
}

// one is the dose of a single rate in a jar.
func one(t testing.TB, rate, vessel, sprayVolume string) unit.Amount {
	t.Helper()
	r := recipe(t, jar.RecipeInput{Jar: vessel, SprayVolume: sprayVolume,
		Products: []jar.ProductInput{{Name: "a", Rate: rate}}})
	return r.Doses[0].Amount
}

// in returns an amount in a unit named by its symbol.
func in(t testing.TB, a unit.Amount, symbol string) unit.Number {
	t.Helper()
	u := must(t, unit.ParseAmount, "1 "+symbol)
	if u.Dry != a.Dry {
		t.Fatalf("%v is not measured in %s", a, symbol)
	}
	return a.Base().Quo(u.Base())
}

// plan works out loads from texts.
func plan(t testing.TB, in jar.LoadInput) jar.Plan {
	t.Helper()
	q, err := in.Request()
	if err != nil {
		t.Fatal(err)
	}
	p, err := q.Plan()
	if err != nil {
		t.Fatal(err)
	}
	return p
}

// refs makes references of a test's ids.
func refs(ids ...mix.ID) []mix.Ref {
	var all []mix.Ref
	for _, id := range ids {
		all = append(all, mix.Ref{ID: id})
	}
	return all
}
