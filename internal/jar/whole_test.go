package jar_test

import (
	"encoding/json"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	"tankleaf.example/internal/jar"
	"tankleaf.example/internal/mix"
	"tankleaf.example/internal/unit"
)

// TestFromBookLosesNothing: what the label says of a product reaches the jar.
func TestFromBookLosesNothing(t *testing.T) {
	rate := func(s string) unit.Rate { return must(t, unit.ParseRate, s) }
	p := mix.Product{ID: "p", Name: "P", Form: "WG", Dry: true, Bag: true, Density: must(t, unit.ParseDensity, "1.2 kg/L"), Position: 2,
		Rate: mix.RateRange{Low: rate("1 lb/ac"), High: rate("2 lb/ac")}, Classes: []mix.Ref{{ID: "c"}},
		SprayVolume: [2]unit.SprayVolume{must(t, unit.ParseSprayVolume, "5 gal/ac"), must(t, unit.ParseSprayVolume, "50 gal/ac")}}
	x := mix.NewIndex(&mix.Book{Products: []mix.Product{p}, Classes: []mix.Class{{ID: "c"}}})
	got := jar.FromBook(x, x.Product("p"), rate("1.5 lb/ac"))
	want := jar.Product{Name: "P", ID: "p", Rate: rate("1.5 lb/ac"), Form: "WG", State: jar.Dry, Density: p.Density, Bag: true, Position: 2,
		Classes: []mix.ID{"c"}, Range: p.Rate, SprayVolume: p.SprayVolume}
	if diff := cmp.Diff(want, got, cmp.Comparer(unit.Rate.Equal), cmp.Comparer(func(a, b unit.Density) bool { return a.Base().Equal(b.Base()) }),
		cmp.Comparer(func(a, b unit.SprayVolume) bool { return a.Base().Equal(b.Base()) })); diff != "" {
		t.Errorf("(-want +got)\n%s", diff)
	}
	p.Dry = false
	if got := jar.FromBook(x, &p, rate("1.5 lb/ac")); got.State != jar.Liquid {
		t.Errorf("a product that is not weighed is %v", got.State)
	}
}

// TestBlankIsWater: the control holds its volume of carrier and nothing else, all of it
// first water.
func TestBlankIsWater(t *testing.T) {
	v := must(t, unit.ParseVolume, "700 mL")
	c := bench(t).Blank(v)
	for what, got := range map[string]unit.Volume{"jar": c.Recipe.Jar, "finished": c.Recipe.Finished, "water": c.Recipe.Water, "first water": c.Recipe.FirstWater,
		"poured": c.First.Poured.Volume, "filled": c.Filled} {
		if got.Cmp(v) != 0 {
			t.Errorf("%s is %v, want %v", what, got, v)
		}
	}
	if !c.Recipe.WaterShare.Equal(unit.Int(1)) || len(c.Doses) > 0 || c.TopUp.Poured.Base().Sign() != 0 || !c.Passes() {
		t.Errorf("%+v", c)
	}
}

// TestNoNullLists: a list of nothing is a list for those who read the JSON.
func TestNoNullLists(t *testing.T) {
	for what, v := range map[string]any{"plan": jar.Plan{}.JSON(), "recipe": jar.Recipe{}.JSON(), "problems": jar.Problems(nil).JSON()} {
		text, err := json.Marshal(v)
		if err != nil {
			t.Fatal(err)
		}
		if strings.Contains(string(text), "null") {
			t.Errorf("%s: %s", what, text)
		}
	}
}

// TestPourInWordsAndJSON: what no tool measures is filled to a mark or left out; JSON
// tells exact and poured apart, with the draws and their tool.
func TestPourInWordsAndJSON(t *testing.T) {
	ml := func(s string) unit.Amount { return unit.Amount{Volume: must(t, unit.ParseVolume, s)} }
	mark := jar.Pour{Poured: ml("12.5 mL")}
	if got := (&jar.Pour{}).Says(); got != "none" {
		t.Errorf("nothing is %q", got)
	}
	if got := mark.Says(); got != "12.5 mL, to a mark on the jar" {
		t.Errorf("to a mark is %q", got)
	}
	c, err := bench(t).Direct(ask(t, "1 qt", "20 gal/ac", "a SC 1 pt/ac"))
	if err != nil {
		t.Fatal(err)
	}
	// 1 pt/ac at 20 gal/ac is 1/160 of 946.353 mL: 5.915 mL, drawn as 6 mL.
	p := c.JSON().Lines[0].Pour
	if p.Exact != "5.915" || p.Poured != "6.000" || p.Unit != "mL" || p.Tool != "syringe-10" || p.Error != "1.44" || !cmp.Equal(p.Draws, []string{"6.000"}) {
		t.Errorf("%+v", p)
	}
}

// TestNoMoreWaterThanThereIsRoomFor: all water first. 0.8 % of 205 mL is 1.64 mL, drawn
// as 1.6; of the 203.4 mL left a cylinder in steps of 2 mL would make 204, and makes 202,
// so that a syringe tops up 1.4.
func TestNoMoreWaterThanThereIsRoomFor(t *testing.T) {
	q := ask(t, "205 mL", "20 gal/ac", "a SC 0.8 % v/v")
	q.FirstWater = unit.Int(1)
	c, err := bench(t).Direct(q)
	if err != nil {
		t.Fatal(err)
	}
	first, top := c.First, c.TopUp
	if c.Doses[0].Poured.String() != "1.6 mL" || first.Poured.String() != "202 mL" || first.Tool.ID != "cylinder-250" || top.Poured.String() != "1.4 mL" ||
		top.Tool.ID != "syringe-3" || c.Filled.String() != "205 mL" || !c.Passes() {
		t.Errorf("%v, first %v by %v, then %v by %v, filled %v", c.Doses[0].Poured, first.Poured, first.Tool, top.Poured, top.Tool, c.Filled)
	}
	// The recipe asks for 205 − 1.64 mL of water, of which 202 are 0.67 % less.
	if first.Exact.String() != "203.36 mL" || first.Error.Mul(unit.Int(100)).Fixed(2) != "-0.67" {
		t.Errorf("exact %v, %s off", first.Exact, first.Error.Fixed(4))
	}
}
