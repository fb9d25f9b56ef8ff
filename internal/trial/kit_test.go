package trial_test

import (
	"strings"
	"testing"

	"tankleaf.example/internal/mix"
	"tankleaf.example/internal/trial"
	"tankleaf.example/internal/unit"
)

// workshop is the packet of the house: eight jars, an orchard mix with a helper.
func workshop(t testing.TB) *trial.Trial {
	t.Helper()
	q := ask(t, trial.Workshop, "100 gal/ac", orchard...)
	aid := product(t, "foamwren")
	q.Aid, q.Waters = &aid, []mix.ID{"office-well"}
	return plan(t, q)
}

func kit(t testing.TB, tr *trial.Trial, who trial.People) trial.Kit {
	t.Helper()
	k, err := planner().Kit(tr, who)
	if err != nil {
		t.Fatal(err)
	}
	return k
}

// sum adds up by hand what the cards of a set pour of one product, stocks left out.
func sum(tr *trial.Trial, name string) unit.Number {
	n := unit.Int(0)
	for _, j := range tr.Jars {
		for _, l := range j.Card.Doses {
			if l.Dose.Product.Name == name && l.Stock == nil {
				n = n.Add(l.Poured.Base())
			}
		}
	}
	return n
}

// TestKitForTwentyFour: 24 people in 6 groups over 8 jars.
func TestKitForTwentyFour(t *testing.T) {
	tr := workshop(t)
	k := kit(t, tr, trial.People{Persons: 24, Groups: 6})
	if k.Jars != 48 || k.Sets != 6 || k.Vessels.Needed != 48 || k.Vessels.Spare != 5 {
		t.Errorf("%d jars in %d sets, vessels %+v", k.Jars, k.Sets, k.Vessels)
	}
	stocks := map[string]unit.Number{}
	for _, s := range tr.Stocks {
		name := tr.Products[s.Product].Name
		stocks[name] = stocks[name].Add(s.Stock.Product.Poured.Base().Mul(unit.Int(int64(s.Times))))
	}
	if len(k.Products) != 4 {
		t.Errorf("%d products, want 4", len(k.Products))
	}
	for _, p := range k.Products {
		name := tr.Products[p.Product].Name
		want := sum(tr, name).Add(stocks[name]).Mul(unit.Int(6))
		if !p.Cards.Base().Equal(want) || p.Bring.Base().Cmp(want.Mul(unit.Frac(11, 10))) < 0 || !p.Bring.Base().IsInt() {
			t.Errorf("%s: cards %v, bring %v, by hand %s", name, p.Cards, p.Bring, want.Fixed(3))
		}
	}
	if len(k.Waters) != 1 || k.Waters[0].Water != "office-well" || k.Waters[0].Bring.Cmp(k.Waters[0].Cards) <= 0 {
		t.Errorf("waters %+v", k.Waters)
	}
	count := map[mix.ID]trial.Count{}
	for _, i := range append(k.Wear, k.Other...) {
		count[i.Item.ID] = i.Count
	}
	for id, want := range map[mix.ID]trial.Count{"gloves": {48, 5}, "eyewear": {24, 2}, "apron": {6, 0}, "lids": {48, 5}, "spill": {1, 0}} {
		if count[id] != want {
			t.Errorf("%s: %+v, want %+v", id, count[id], want)
		}
	}
	for _, i := range k.Wear {
		if !i.Item.Wear {
			t.Errorf("%s is not worn", i.Item.ID)
		}
	}
}

// TestToolsOfTheirOwn holds that no syringe serves two liquids.
func TestToolsOfTheirOwn(t *testing.T) {
	tr := workshop(t)
	liquids := map[mix.ID]map[string]bool{}
	for _, j := range tr.Jars {
		for _, l := range j.Card.Doses {
			if k := l.Pour.Tool.Kind; k == mix.Syringe || k == mix.Pipette {
				if liquids[l.Pour.Tool.ID] == nil {
					liquids[l.Pour.Tool.ID] = map[string]bool{}
				}
				liquids[l.Pour.Tool.ID][l.Dose.Product.Name] = true
			}
		}
	}
	for _, c := range kit(t, tr, trial.People{Groups: 2}).Tools {
		if n := len(liquids[c.Tool.ID]); n > 0 && c.Needed < 2*n {
			t.Errorf("%d of %s for %d liquids in 2 groups", c.Needed, c.Tool.ID, n)
		}
	}
}

func TestSharedJars(t *testing.T) {
	tr := workshop(t)
	k := kit(t, tr, trial.People{Persons: 10, Groups: 4, Shared: true})
	if k.Sets != 1 || k.Jars != len(tr.Jars) {
		t.Errorf("%d sets, %d jars", k.Sets, k.Jars)
	}
	all := kit(t, tr, trial.People{Persons: 10, Groups: 4})
	if k.Waters[0].Cards.Cmp(all.Waters[0].Cards) >= 0 {
		t.Errorf("shared jars take %v, four sets %v", k.Waters[0].Cards, all.Waters[0].Cards)
	}
}

func TestPeople(t *testing.T) {
	tr := workshop(t)
	for _, c := range []struct {
		who             trial.People
		persons, groups int
		why             string
	}{
		{trial.People{Persons: 1}, 1, 1, "the specialist alone"},
		{trial.People{Persons: 9}, 9, 3, "groups of four, the last smaller"},
		{trial.People{Groups: 3}, 12, 3, "groups of four"},
	} {
		if k := kit(t, tr, c.who); k.Persons != c.persons || k.Groups != c.groups {
			t.Errorf("%s: %d persons in %d groups", c.why, k.Persons, k.Groups)
		}
	}
	for _, c := range []struct {
		who       trial.People
		msg, hint string
	}{
		{trial.People{}, "nobody", "write 1 person or more"},
		{trial.People{Persons: -3}, "nobody", "write 1 person or more"},
		{trial.People{Persons: 3, Groups: 5}, "5 groups of 3 people", "write 3 groups or fewer"},
		{trial.People{Persons: 40, Groups: 20, Shared: true}, "8 jars shared among 20 groups", "write 8 groups or fewer"},
	} {
		_, err := planner().Kit(tr, c.who)
		if err == nil {
			t.Errorf("%+v was counted", c.who)
			continue
		}
		if p := trouble(t, err)[0]; p.Code != trial.BadCount || !strings.Contains(p.Msg, c.msg) || !strings.Contains(p.Hint, c.hint) {
			t.Errorf("%+v: %q, hint %q", c.who, p.Msg, p.Hint)
		}
	}
}

// TestMadeWater weighs the salts of the standard hard water.
func TestMadeWater(t *testing.T) {
	q := ask(t, trial.Water, "100 gal/ac", orchard...)
	q.Waters = []mix.ID{"rain-tank", "standard-hard"}
	for _, w := range kit(t, plan(t, q), trial.People{Persons: 1}).Waters {
		if (w.Water == "standard-hard") != (len(w.Salts) == 2) {
			t.Errorf("%s has salts %+v", w.Water, w.Salts)
		}
		for _, s := range w.Salts {
			if s.Pour.Tool == nil || s.Pour.Exact.Base().Sign() <= 0 {
				t.Errorf("%s: %+v", s.Name, s.Pour)
			}
		}
	}
}

// TestAdaptiveKit counts one way through a plan, not every jar of its tree.
func TestAdaptiveKit(t *testing.T) {
	q := ask(t, trial.Cause, "100 gal/ac", "tartpitcher", "foamwren", "brimbarrow", "larkstile")
	q.Adaptive, q.Jars = true, 6
	tr := plan(t, q)
	k := kit(t, tr, trial.People{Persons: 2})
	if k.Jars > 6 || k.Jars >= len(tr.Jars) {
		t.Errorf("%d jars of %d", k.Jars, len(tr.Jars))
	}
	for _, p := range k.Products {
		name := tr.Products[p.Product].Name
		if all := sum(tr, name); p.Cards.Base().Cmp(all) > 0 && len(tr.Stocks) == 0 {
			t.Errorf("%s: %v is more than all jars together, %s", name, p.Cards, all.Fixed(3))
		}
	}
	if !tr.Time.Day.IsZero() || tr.Time.Hands.Sign() <= 0 {
		t.Errorf("time %+v: jars wait for one another", tr.Time)
	}
}

// TestTime adds the hours of the workshop up by hand, by the routine of the data:
// setup 3, addition 2, stock 4, reading 1, wash 4 minutes.
func TestTime(t *testing.T) {
	tr := workshop(t)
	minutes, pouring := int64(0), int64(0)
	for _, s := range tr.Stocks {
		minutes += int64(4 * s.Times)
	}
	pouring = minutes
	for _, j := range tr.Jars {
		poured := int64(3 + 2*len(j.Products))
		pouring += poured
		minutes += poured + 5*1 + 4
	}
	if want := unit.Minute.Of(unit.Int(minutes)); tr.Time.Hands.Cmp(want) != 0 {
		t.Errorf("hands %v, by hand %v", tr.Time.Hands, want)
	}
	// The last reading of the day is after 2 h; that of the night is later.
	if want := unit.Minute.Of(unit.Int(pouring + 120 + 1)); tr.Time.Day.Cmp(want) != 0 || tr.Time.Later != 1 {
		t.Errorf("day %v, by hand %v, later %d", tr.Time.Day, want, tr.Time.Later)
	}
}
