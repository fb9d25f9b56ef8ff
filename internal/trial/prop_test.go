package trial_test

import (
	"errors"
	"slices"
	"testing"

	"github.com/google/go-cmp/cmp"
	"pgregory.net/rapid"
	"tankleaf.example/internal/jar"
	"tankleaf.example/internal/mix"
	"tankleaf.example/internal/trial"
	"tankleaf.example/internal/unit"
)

// anyRequest draws a request for products of the demonstration office at a rate
// somewhere on their labels.
func anyRequest(t *rapid.T) trial.Request {
	products := demo().Index().Book().Products
	q := trial.Request{
		Question:    rapid.SampledFrom([]trial.Question{trial.Cause, trial.Order, trial.Water, trial.Workshop}).Draw(t, "question"),
		SprayVolume: unit.GallonPerAcre.Of(unit.Int(rapid.Int64Range(5, 120).Draw(t, "spray"))),
		Jars:        rapid.IntRange(2, 14).Draw(t, "jars"),
		Replicates:  rapid.IntRange(0, 3).Draw(t, "replicates"),
		Seed:        rapid.Uint64().Draw(t, "seed"),
		Share:       unit.Frac(rapid.SampledFrom([]int64{0, 25, 50}).Draw(t, "share"), 100),
		AsUsed:      rapid.Bool().Draw(t, "as used"),
	}
	q.Adaptive = q.Question == trial.Cause && q.Replicates < 2 && rapid.Bool().Draw(t, "adaptive")
	for _, i := range rapid.SliceOfNDistinct(rapid.IntRange(0, len(products)-1), 2, 4, rapid.ID[int]).Draw(t, "mix") {
		p := &products[i]
		part := unit.Frac(rapid.Int64Range(0, 4).Draw(t, "part"), 4)
		rate := p.Rate.Low.Times(unit.Int(1))
		if p.Rate.Low.Comparable(p.Rate.High) {
			span := p.Rate.High.Base().Sub(p.Rate.Low.Base()).Mul(part)
			if r, err := unit.RateIn(p.Rate.Low.Unit(), p.Rate.Low.Basis(), p.Rate.Low.Base().Add(span)); err == nil {
				rate = r
			}
		}
		q.Mix = append(q.Mix, planner().Product(string(p.ID), rate))
	}
	return q
}

// TestEveryTrial holds the invariants of the package comment on trials of all kinds.
func TestEveryTrial(t *testing.T) {
	planned := 0
	rapid.Check(t, func(t *rapid.T) {
		q := anyRequest(t)
		got, err := planner().Trial(q)
		if err != nil {
			var ps jar.Problems
			if !errors.As(err, &ps) || len(ps) == 0 || slices.ContainsFunc(ps, func(p jar.Problem) bool { return p.Msg == "" || p.Hint == "" }) {
				t.Fatalf("a problem without a way out: %v", err)
			}
			return
		}
		planned++
		checkTrial(t, q, got)
		again, err := planner().Trial(q)
		if err != nil || !cmp.Equal(codesOf(got), codesOf(again)) {
			t.Fatalf("the same request gives %v and %v", codesOf(got), codesOf(again))
		}
		k, err := planner().Kit(got, trial.People{Persons: rapid.IntRange(1, 30).Draw(t, "persons")})
		if err != nil {
			t.Fatal(err)
		}
		checkKit(t, got, k)
	})
	if planned == 0 {
		t.Error("no request was planned: the test shows nothing")
	}
}

func codesOf(tr *trial.Trial) (all []string) {
	for _, j := range tr.Jars {
		all = append(all, j.Code)
	}
	return all
}

func checkTrial(t *rapid.T, q trial.Request, got *trial.Trial) {
	if n := len(got.Jars); n > q.Jars && !q.Adaptive {
		t.Fatalf("%d jars, allowed are %d", n, q.Jars)
	}
	carriers := 0
	seen := map[string]bool{}
	for i := range got.Jars {
		j := &got.Jars[i]
		if seen[j.Code] || j.Run != i+1 {
			t.Fatalf("code %q twice, or run %d at %d", j.Code, j.Run, i)
		}
		seen[j.Code] = true
		if j.Role == trial.Carrier {
			carriers++
		}
		if !j.Card.Passes() || len(j.Card.Doses) != len(j.Products) {
			t.Fatalf("jar of %v cannot be poured", got.Names(j.Products))
		}
		for _, l := range j.Card.Doses {
			if off := l.Rate.Max(l.Rate.Neg()); off.Cmp(unit.Frac(5, 100)) > 0 {
				t.Fatalf("%s is %s off", l.Dose.Product.Name, l.Rate.Short(4))
			}
		}
		if room := got.Vessel.Size.Times(unit.Frac(3, 4)); j.Card.Recipe.Finished.Cmp(room) > 0 {
			t.Fatalf("%v in a vessel of %v leaves too little headspace", j.Card.Recipe.Finished, got.Vessel.Size)
		}
		if slices.Contains(j.Hazards, mix.Pressure) && j.Opening != trial.Vented {
			t.Fatalf("pressure, and the jar is %v", j.Opening)
		}
		if slices.Contains(j.Hazards, mix.ToxicGas) && len(j.Products) > 1 {
			t.Fatalf("toxic gas in a jar of %v", got.Names(j.Products))
		}
	}
	if carriers == 0 {
		t.Fatal("no control of carrier alone")
	}
}

func checkKit(t *rapid.T, tr *trial.Trial, k trial.Kit) {
	for _, p := range k.Products {
		if p.Bring.Base().Cmp(p.Cards.Base()) < 0 || p.Cards.Base().Sign() <= 0 {
			t.Fatalf("bring %v for %v", p.Bring, p.Cards)
		}
	}
	for _, w := range k.Waters {
		if w.Bring.Cmp(w.Cards) < 0 {
			t.Fatalf("bring %v of water for %v", w.Bring, w.Cards)
		}
	}
	if (tr.Plan == nil || len(tr.Plan.Steps) == 0) && k.Jars != k.Groups*len(tr.Jars) {
		t.Fatalf("%d jars for %d groups of %d", k.Jars, k.Groups, len(tr.Jars))
	}
}
