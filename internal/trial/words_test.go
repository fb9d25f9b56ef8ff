package trial_test

import (
	"encoding/json"
	"slices"
	"testing"

	"github.com/google/go-cmp/cmp"

	"tankleaf.example/internal/jar"
	"tankleaf.example/internal/mix"
	"tankleaf.example/internal/trial"
)

// back is what a script reads of a trial's JSON.
type back struct {
	Question, Seed, Verdict, Symptom, Replaced, Tolerance string
	Untested                                              int      `json:"untested_pairs"`
	Work                                                  string   `json:"work_min"`
	Readings                                              []string `json:"readings_min"`
	Inversions                                            int
	Hazards                                               []string
	LeftOut                                               []string `json:"left_out"`
	Vessel                                                struct{ Size, Fill struct{ ML string } }
	Products                                              []struct{ Name, ID, Rate string }
	Jars                                                  []struct {
		Code, Role, About, Says, Water, Order, Opening string
		Run, Block                                     int
		Products, Hazards                              []string
	}
	Stocks []struct {
		Name  string
		Times int
	}
	Plan *struct {
		Records, Possible int
		Assumed, Cut      bool
		Alone, Left       string
		Steps             []struct {
			Jar, Why string
			Reacts   end `json:"if_reacts"`
			Clear    end `json:"if_clear"`
		}
	}
	Kit struct {
		Persons, Groups, Jars int
		Products, Waters      []struct {
			Name, Cards, Bring, Unit string
			Salts                    []struct{ Name, Cards, Bring, Unit string }
		}
		Vessels            things
		Tools, Wear, Other []things
	}
}

type end struct {
	Step, Possible int
	Causes         [][]string
}

type things struct {
	ID            string
	Needed, Spare int
}

func read(t *testing.T, tr *trial.Trial, who trial.People) (b back) {
	t.Helper()
	k := kit(t, tr, who)
	text, err := json.Marshal(tr.JSON(&k))
	if err == nil {
		err = json.Unmarshal(text, &b)
	}
	if err != nil {
		t.Fatal(err)
	}
	return b
}

// TestJSONOfTheWorkshop: the trial that [TestKitByHand] adds up, as a script reads it.
func TestJSONOfTheWorkshop(t *testing.T) {
	tr := workshop(t)
	b := read(t, tr, trial.People{Persons: 24, Groups: 6})
	if b.Question != "workshop" || b.Seed != "1" || b.Verdict != "clean" || b.Symptom != "" || b.Replaced != "" || b.Tolerance != "5" || b.Untested != 0 {
		t.Errorf("%+v", b)
	}
	// 4 jars of three products or four, three of one, one of none: setup 3, addition 2,
	// five readings of 1, wash 4 minutes: 8 × 12 + 2 × (3+3+4+4+1+1+1) = 130.
	if b.Work != "130" || !slices.Equal(b.Readings, []string{"0", "15", "30", "120", "960"}) || b.Inversions != 10 {
		t.Errorf("%s minutes of work, read after %v, %d turns", b.Work, b.Readings, b.Inversions)
	}
	if b.Vessel.Size.ML != "946.353" || b.Vessel.Fill.ML != "700.000" || b.Plan != nil || len(b.Stocks) > 0 {
		t.Errorf("vessel %+v, plan %v, stocks %v", b.Vessel, b.Plan, b.Stocks)
	}
	if diff := cmp.Diff([]string{"in 25 % of the water: Larkstile 35 WG, Wrenbasket 30 SG, Firkinlow 2.5 SC",
		"with Foamwren 10 EW: Foamwren 10 EW, Larkstile 35 WG, Wrenbasket 30 SG, Firkinlow 2.5 SC, in 25 % of the water"}, b.LeftOut); diff != "" {
		t.Errorf("left out (-want +got)\n%s", diff)
	}
	if p := b.Products[0]; p.Name != "Larkstile 35 WG" || p.ID != "larkstile" || p.Rate != "4 oz/ac" || len(b.Products) != 4 {
		t.Errorf("products %+v", b.Products)
	}
	for i, j := range b.Jars {
		of := &tr.Jars[i]
		about := ""
		if of.Role == trial.Alone || of.Role == trial.WithAid {
			about = tr.Products[of.About].Name
		}
		if j.Run != i+1 || j.Block != 1 || j.Water != "office-well" || j.About != about || j.Says != tr.Says(of) || j.Opening != "watched" || j.Order != of.Order {
			t.Errorf("jar %+v", j)
		}
	}
	k := b.Kit
	if k.Persons != 24 || k.Groups != 6 || k.Jars != 48 || k.Vessels != (things{"", 48, 5}) {
		t.Errorf("kit %+v", k)
	}
	if p := k.Products[0]; p.Name != "Larkstile 35 WG" || p.Cards != "6.300" || p.Bring != "7.000" || p.Unit != "g" || k.Products[1].Unit != "mL" {
		t.Errorf("products of the kit %+v", k.Products)
	}
	if w := k.Waters[0]; w.Name != "office-well" || w.Cards != "33600.000" || w.Bring != "37000.000" || w.Unit != "mL" || len(w.Salts) > 0 {
		t.Errorf("waters %+v", k.Waters)
	}
	if diff := cmp.Diff([]things{{"syringe-1", 12, 0}, {"cylinder-500", 6, 0}, {"scale-001", 6, 0}}, k.Tools); diff != "" {
		t.Errorf("tools (-want +got)\n%s", diff)
	}
	if !slices.Contains(k.Wear, things{"gloves", 48, 5}) || !slices.Contains(k.Other, things{"lids", 48, 5}) || slices.Contains(k.Other, things{"gloves", 48, 5}) {
		t.Errorf("wear %v, other %v", k.Wear, k.Other)
	}
}

// TestJSONOfASearch: a plan says where each result leads; its numbers are those of the
// trial, its steps count from 1.
func TestJSONOfASearch(t *testing.T) {
	q := ask(t, trial.Cause, "100 gal/ac", "tartpitcher", "foamwren", "brimbarrow", "larkstile")
	q.Adaptive, q.Jars, q.Symptom = true, 6, mix.Flakes
	tr := plan(t, q)
	b := read(t, tr, trial.People{Persons: 1})
	p := b.Plan
	if b.Symptom != "flakes" || p == nil || p.Records != tr.Plan.Known || p.Possible != tr.Plan.Possible || !p.Assumed || !p.Cut || p.Alone != "" || p.Left != "" {
		t.Fatalf("symptom %q, plan %+v", b.Symptom, p)
	}
	caused := 0
	for i, s := range p.Steps {
		of := tr.Plan.Steps[i]
		if s.Jar != tr.Jars[of.Jar].Code || s.Why != of.Why.String() {
			t.Errorf("step %d: %+v", i+1, s)
		}
		for _, e := range []struct {
			got  end
			want trial.End
		}{{s.Reacts, of.Reacts}, {s.Clear, of.Clear}} {
			var causes [][]string
			for _, c := range e.want.Causes {
				causes = append(causes, tr.Names(c))
			}
			if e.got.Step != e.want.Step+1 || e.got.Possible != e.want.Possible || !cmp.Equal(e.got.Causes, causes) {
				t.Errorf("step %d leads to %+v, want %+v", i+1, e.got, e.want)
			}
			caused += len(causes)
		}
	}
	if caused == 0 {
		t.Error("no result settles the cause: the test shows nothing")
	}
	q.Adaptive, q.Jars = false, 8
	if p := read(t, plan(t, q), trial.People{Persons: 1}).Plan; p.Alone == "" || p.Left == "" || p.Steps != nil {
		t.Errorf("jars made together: %+v", p)
	}
}

// TestJSONOfOthers: what is replaced, salts of a made water, stocks.
func TestJSONOfOthers(t *testing.T) {
	q := ask(t, trial.Substitute, "100 gal/ac", "tartpitcher=1 qt/100 gal", "larkstile=4 oz/ac")
	q.For, q.Substitutes = "tartpitcher", []jar.Product{product(t, "mellowbeck")}
	if b := read(t, plan(t, q), trial.People{Persons: 1}); b.Replaced != "Tartpitcher SL" || b.Symptom != "" {
		t.Errorf("replaced %q, symptom %q", b.Replaced, b.Symptom)
	}
	q = ask(t, trial.Water, "100 gal/ac", orchard...)
	q.Waters = []mix.ID{"rain-tank", "standard-hard"}
	made := read(t, plan(t, q), trial.People{Persons: 1}).Kit.Waters[1]
	if made.Name != "standard-hard" || len(made.Salts) != 2 || made.Salts[0].Name != "calcium chloride" || made.Salts[0].Unit != "g" ||
		made.Salts[0].Cards == "" || made.Salts[0].Bring == "" {
		t.Errorf("a made water %+v", made)
	}
	q = ask(t, trial.Order, "100 gal/ac", "larkstile=0.5 oz/ac", "firkinlow=5.5 fl oz/ac")
	q.AsUsed = true
	tr := plan(t, q)
	if s := read(t, tr, trial.People{Groups: 3}).Stocks; len(s) != 1 || s[0].Name != "Larkstile 35 WG" || s[0].Times != tr.Stocks[0].Times {
		t.Errorf("stocks %+v", s)
	}
}
