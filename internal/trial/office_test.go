package trial_test

import (
	"errors"
	"os"
	"strings"
	"sync"
	"testing"

	"tankleaf.example/internal/compat"
	"tankleaf.example/internal/dataset"
	"tankleaf.example/internal/jar"
	"tankleaf.example/internal/mix"
	"tankleaf.example/internal/trial"
	"tankleaf.example/internal/unit"
)

// must parses a constant of a test.
func must[T any](t testing.TB, parse func(string) (T, error), s string) T {
	t.Helper()
	v, err := parse(s)
	if err != nil {
		t.Fatal(err)
	}
	return v
}

// demo is the judge of the demonstration office, read once.
var demo = sync.OnceValue(func() *compat.Judge {
	b, problems := dataset.Load(os.DirFS("../.."))
	if problems.Stops() {
		panic(problems.String())
	}
	return compat.New(mix.NewIndex(b))
})

func planner() *trial.Planner { return trial.New(demo()) }

// ask builds a request for a mix of the demonstration office at the highest rates of
// its labels, or at rates written "NAME=RATE".
func ask(t testing.TB, q trial.Question, spray string, names ...string) trial.Request {
	t.Helper()
	r := trial.Request{Question: q, Seed: 1, SprayVolume: must(t, unit.ParseSprayVolume, spray)}
	for _, n := range names {
		r.Mix = append(r.Mix, product(t, n))
	}
	return r
}

func product(t testing.TB, s string) jar.Product {
	t.Helper()
	name, rate, ok := strings.Cut(s, "=")
	if !ok {
		return planner().Product(name, unit.Rate{})
	}
	return planner().Product(name, must(t, unit.ParseRate, rate))
}

// plan plans a trial that must succeed.
func plan(t testing.TB, q trial.Request) *trial.Trial {
	t.Helper()
	got, err := planner().Trial(q)
	if err != nil {
		t.Fatal(err)
	}
	return got
}

// trouble returns the problems of a request that must fail.
func trouble(t testing.TB, err error) jar.Problems {
	t.Helper()
	var ps jar.Problems
	if !errors.As(err, &ps) {
		t.Fatalf("got %v, want problems", err)
	}
	return ps
}
