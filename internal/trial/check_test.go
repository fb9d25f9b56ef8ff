package trial_test

import (
	"strings"
	"testing"

	"tankleaf.example/internal/compat"
	"tankleaf.example/internal/mix"
	"tankleaf.example/internal/trial"
)

// TestOfficeWithoutJars: nothing is poured where there is nothing to pour into.
func TestOfficeWithoutJars(t *testing.T) {
	book := *demo().Index().Book()
	book.Site.Jars = nil
	_, err := trial.New(compat.New(mix.NewIndex(&book))).Trial(ask(t, trial.Order, "100 gal/ac", orchard...))
	if err == nil {
		t.Fatal("planned")
	}
	if p := trouble(t, err)[0]; p.Code != trial.NoVessel || p.Msg != "the office has no jars" || p.Hint != "list their sizes under jars: in data/site.yaml" {
		t.Errorf("%+v", p)
	}
}

// TestCheck holds that the office's trials can be poured, and that one that cannot is
// told at its place with a way out.
func TestCheck(t *testing.T) {
	if list := planner().Check(); len(list) > 0 {
		t.Fatal(list)
	}
	book := *demo().Index().Book()
	faulty := book.Trials[0]
	faulty.ID, faulty.Jars = "too-small", 2
	nobody := book.Trials[0]
	nobody.ID, nobody.Persons, nobody.Groups = "too-many-groups", 2, 6
	book.Trials = []mix.Trial{faulty, nobody}
	got := trial.New(compat.New(mix.NewIndex(&book))).Check().String()
	for _, want := range []string{faulty.At.String() + `: trial "too-small" cannot be poured: the trial needs`, "\tallow ",
		`trial "too-many-groups" cannot be poured: 6 groups of 2 people`, "\twrite 2 groups or fewer"} {
		if !strings.Contains(got, want) {
			t.Errorf("%q is not in\n%s", want, got)
		}
	}
}
