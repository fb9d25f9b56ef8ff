package trial_test

import (
	"slices"
	"testing"

	"tankleaf.example/internal/mix"
	"tankleaf.example/internal/trial"
)

// TestGasStaysOpen holds that no jar of a mix that makes gas is shaken under a lid,
// nor part of one.
func TestGasStaysOpen(t *testing.T) {
	q := ask(t, trial.Workshop, "100 gal/ac", "tartpitcher=1 qt/100 gal", "sallowmere=5 lb/ac", "larkstile=4 oz/ac")
	got := plan(t, q)
	if !slices.Contains(got.Hazards, mix.Pressure) {
		t.Errorf("hazards %v", got.Hazards)
	}
	for _, j := range got.Jars {
		if len(j.Products) > 1 && (j.Opening != trial.Vented || j.Opening.Closed()) {
			t.Errorf("jar of %v is %v", got.Names(j.Products), j.Opening)
		}
		if j.Role == trial.Carrier && j.Opening != trial.Watched {
			t.Errorf("water alone is %v", j.Opening)
		}
	}
}

// TestPartOfGasStaysOpen holds that what is left of a mix that makes gas stays open
// too: which of its products does it may be what is asked.
func TestPartOfGasStaysOpen(t *testing.T) {
	q := ask(t, trial.Substitute, "100 gal/ac", "tartpitcher=1 qt/100 gal", "sallowmere=5 lb/ac", "larkstile=4 oz/ac")
	q.For = "sallowmere"
	q.Substitutes = append(q.Substitutes, product(t, "brimbarrow"))
	parts := 0
	for _, j := range plan(t, q).Jars {
		if j.Role != trial.Without {
			continue
		}
		parts++
		if j.Opening != trial.Vented || !slices.Contains(j.Hazards, mix.Pressure) {
			t.Errorf("the jar without bicarbonate is %v, hazards %v", j.Opening, j.Hazards)
		}
	}
	if parts != 1 {
		t.Errorf("%d jars without bicarbonate", parts)
	}
}

// TestSettledByRecords holds that nobody is sent to pour what the records have
// answered.
func TestSettledByRecords(t *testing.T) {
	for _, adaptive := range []bool{false, true} {
		q := ask(t, trial.Cause, "100 gal/ac", "tartpitcher=1 qt/100 gal", "sallowmere=5 lb/ac", "larkstile=4 oz/ac")
		q.Adaptive = adaptive
		if _, err := planner().Trial(q); err == nil || trouble(t, err)[0].Code != trial.Settled {
			t.Errorf("adaptive %v: %v", adaptive, err)
		}
	}
}

// TestCarbonateStaysOpen holds that a carbonate beside anything keeps its lid off,
// also where nothing is recorded.
func TestCarbonateStaysOpen(t *testing.T) {
	got := plan(t, ask(t, trial.Order, "100 gal/ac", "sallowmere=5 lb/ac", "firkinlow=5.5 fl oz/ac"))
	for _, j := range got.Jars {
		if len(j.Products) > 1 && j.Opening != trial.Vented {
			t.Errorf("jar of %v is %v", got.Names(j.Products), j.Opening)
		}
	}
}

// TestNameOfNoBook: a product that the office does not know is poured like any other; it
// makes no gas by its name, and what is known of the others still opens the jar.
func TestNameOfNoBook(t *testing.T) {
	got := plan(t, ask(t, trial.Order, "100 gal/ac", "Mystery Oil=1 qt/ac", "larkstile=4 oz/ac"))
	if len(got.Products) != 2 || got.Untested != 1 {
		t.Errorf("%v, %d untested", got.Names(got.Mix), got.Untested)
	}
	for _, j := range got.Jars {
		if j.Opening != trial.Watched {
			t.Errorf("%v is %v", got.Names(j.Products), j.Opening)
		}
	}
	got = plan(t, ask(t, trial.Order, "100 gal/ac", "Mystery Oil=1 qt/ac", "sallowmere=5 lb/ac"))
	for _, j := range got.Jars {
		if open := j.Opening == trial.Vented; open != (len(j.Products) == 2) {
			t.Errorf("%v is %v: bicarbonate beside something", got.Names(j.Products), j.Opening)
		}
	}
}

// TestSymptomGas holds that a search for gas opens every jar with a product.
func TestSymptomGas(t *testing.T) {
	q := ask(t, trial.Cause, "100 gal/ac", orchard...)
	q.Symptom = mix.Gas
	for _, j := range plan(t, q).Jars {
		if len(j.Products) > 0 && j.Opening != trial.Vented {
			t.Errorf("%v is %v", j.Role, j.Opening)
		}
	}
}

// TestNeverPoured holds that nobody is told to pour what makes toxic gas, whatever
// is asked, and that the quiet mixes of the same products may be.
func TestNeverPoured(t *testing.T) {
	var acid, lime mix.ID
	x := demo().Index()
	for _, p := range x.Members("lime-sulfur") {
		lime = p
	}
	for _, p := range x.Members("phosphoric-acid") {
		acid = p
	}
	if acid == "" || lime == "" {
		t.Fatal("the data holds no lime-sulfur or no acid")
	}
	for _, question := range []trial.Question{trial.Cause, trial.Order, trial.Water, trial.Workshop} {
		q := ask(t, question, "100 gal/ac", string(acid), string(lime))
		q.AsUsed = true
		_, err := planner().Trial(q)
		if err == nil {
			t.Fatalf("%v: a plan to pour %s with %s", question, acid, lime)
		}
		if p := trouble(t, err)[0]; p.Code != trial.Unsafe {
			t.Errorf("%v: %s", question, p.Msg)
		}
	}
	// A substitute that would make it is refused as well.
	q := ask(t, trial.Substitute, "100 gal/ac", string(lime), "larkstile=4 oz/ac")
	q.AsUsed, q.For = true, "larkstile"
	q.Substitutes = append(q.Substitutes, product(t, string(acid)))
	_, err := planner().Trial(q)
	if err == nil || trouble(t, err)[0].Code != trial.Unsafe {
		t.Errorf("in place of: %v", err)
	}
}

// TestOpeningWords holds the zero rule to the careful one.
func TestOpeningWords(t *testing.T) {
	var zero trial.Opening
	if zero != trial.Vented || zero.Closed() || zero.String() != "vented" || trial.Watched.String() != "watched" || trial.Opening(7).String() != "Opening(7)" {
		t.Error("the zero rule is the careful one")
	}
	if trial.NoQuestion.String() != "none" || trial.Role(99).String() != "Role(99)" {
		t.Error("words of questions and roles")
	}
	for _, w := range trial.Questions() {
		if q, ok := trial.ParseQuestion(w); !ok || q.String() != w {
			t.Errorf("question %q is read as %v", w, q)
		}
	}
	if _, ok := trial.ParseQuestion("none"); ok {
		t.Error("none is no question")
	}
}
