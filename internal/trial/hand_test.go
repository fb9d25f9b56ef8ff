package trial_test

import (
	"slices"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	"tankleaf.example/internal/jar"
	"tankleaf.example/internal/mix"
	"tankleaf.example/internal/trial"
	"tankleaf.example/internal/unit"
)

// The workshop of the house, by hand. A quart jar keeps a quarter free: 946.35 mL ×
// 3/4 = 709.8, rounded down to 700 mL. 4 oz/ac at 100 gal/ac is 113.398 g × 700 mL ÷
// 378,541 mL = 0.2097 g, 5.5 fl oz/ac is 162.65 mL × 700 ÷ 378,541 = 0.3008 mL, 2 fl
// oz/100 gal is 59.147 mL × 700 ÷ 378,541 = 0.1094 mL; here the helper is at the high
// end of its label, twice that. Larkstile is in five of eight jars: whole, turned
// round, alone and two pairs with the helper.

// TestKitByHand adds up what 24 people in six groups pour.
func TestKitByHand(t *testing.T) {
	tr := workshop(t)
	k := kit(t, tr, trial.People{Persons: 24, Groups: 6})
	var products []string
	for _, p := range k.Products {
		products = append(products, strings.Join([]string{tr.Products[p.Product].Name, p.Cards.Base().Fixed(3), p.Bring.Base().Fixed(3), p.Cards.BaseUnit(), p.Bring.BaseUnit()}, " "))
	}
	if diff := cmp.Diff([]string{
		"Larkstile 35 WG 6.300 7.000 g g", // 5 jars × 0.21 g × 6, and a tenth: 6.93
		"Firkinlow 2.5 SC 9.000 10.000 mL mL",
		"Wrenbasket 30 SG 6.300 7.000 g g",
		"Foamwren 10 EW 2.640 3.000 mL mL", // 2 jars × 0.22 mL × 6, and a tenth: 2.904
	}, products); diff != "" {
		t.Errorf("products (-want +got)\n%s", diff)
	}
	// 8 jars × 700 mL × 6 is 33.6 L, and a tenth 36.96, up to a tenth of a liter.
	if w := k.Waters[0]; w.Cards.Base().Fixed(3) != "33600.000" || w.Bring.Base().Fixed(3) != "37000.000" || len(w.Salts) > 0 {
		t.Errorf("water %v, to bring %v, salts %v", w.Cards, w.Bring, w.Salts)
	}
	// A syringe for each of two liquids in six groups; one cylinder and one scale a
	// group serve all. Kinds in the order of the data's words, smaller tools first.
	if got := tools(k); !slices.Equal(got, []string{"syringe-1 12", "cylinder-500 6", "scale-001 6"}) {
		t.Errorf("tools %v", got)
	}
	if k.VesselSize.String() != "1 qt" || k.Spare.Short(2) != "0.1" || k.Persons != 24 || k.Groups != 6 {
		t.Errorf("%+v", k)
	}
}

func tools(k trial.Kit) (list []string) {
	for _, x := range k.Tools {
		list = append(list, string(x.Tool.ID)+" "+x.Count.String())
	}
	return list
}

// TestKitLeavesOutWhatIsNotPoured: substitutes for which there was no jar.
func TestKitLeavesOutWhatIsNotPoured(t *testing.T) {
	q := ask(t, trial.Substitute, "100 gal/ac", "tartpitcher=1 qt/100 gal", "sallowmere=5 lb/ac")
	q.Jars = 3
	tr := plan(t, q)
	var names []string
	for _, p := range kit(t, tr, trial.People{Persons: 1}).Products {
		names = append(names, tr.Products[p.Product].Name)
	}
	if diff := cmp.Diff([]string{"Tartpitcher SL", "Sallowmere 80 SP", "Brimbarrow 80 WG"}, names); diff != "" {
		t.Errorf("(-want +got)\n%s", diff)
	}
	if n := (trial.Count{Needed: 48, Spare: 5}).Total(); n != 53 {
		t.Errorf("48 and 5 are %d", n)
	}
}

// TestToolsOfStocks: what makes a stock is on the table too, and what draws from it
// is not what touched the jug; tools of one kind stand in the order of size.
func TestToolsOfStocks(t *testing.T) {
	stock := ask(t, trial.Order, "100 gal/ac", "larkstile=0.5 oz/ac", "firkinlow=5.5 fl oz/ac")
	stock.AsUsed = true
	odd := ask(t, trial.Order, "100 gal/ac", "slipwhistle=6 % v/v", "larkstile=40 oz/ac")
	odd.AsUsed, odd.Jar = true, must(t, unit.ParseVolume, "205 mL") // half of it by one cylinder, the top-up by a smaller
	if tr := plan(t, odd); slices.ContainsFunc(tr.Jars, func(j trial.Jar) bool {
		return j.Card.First.Tool.ID == tr.Jars[slices.IndexFunc(tr.Jars, func(j trial.Jar) bool { return j.Role == trial.Whole })].Card.TopUp.Tool.ID
	}) {
		t.Error("the top-up has no tool of its own: the test shows half")
	}
	for _, q := range []trial.Request{stock, odd} {
		toolsByHand(t, plan(t, q))
	}
}

func toolsByHand(t *testing.T, tr *trial.Trial) {
	t.Helper()
	want := map[mix.ID]map[string]bool{}
	use := func(tool *mix.Tool, of string) {
		if tool == nil {
			return
		}
		if tool.Kind == mix.Cylinder || tool.Kind == mix.Scale {
			of = "anything"
		}
		if want[tool.ID] == nil {
			want[tool.ID] = map[string]bool{}
		}
		want[tool.ID][of] = true
	}
	for _, s := range tr.Stocks {
		use(s.Stock.Product.Tool, "jug")
		use(s.Stock.MadeIn, "water")
	}
	for _, j := range tr.Jars {
		use(j.Card.First.Tool, "water")
		use(j.Card.TopUp.Tool, "water")
		for _, l := range j.Card.Doses {
			of := l.Dose.Product.Name
			if l.Stock != nil {
				of = "stock of " + of
			}
			use(l.Pour.Tool, of)
		}
	}
	k := kit(t, tr, trial.People{Groups: 3})
	got := map[mix.ID]int{}
	for i, x := range k.Tools {
		got[x.Tool.ID] = x.Needed
		if i > 0 {
			before := k.Tools[i-1].Tool
			if before.Kind > x.Tool.Kind || before.Kind == x.Tool.Kind && before.High.Base().Cmp(x.Tool.High.Base()) > 0 {
				t.Errorf("%s stands before %s", before.ID, x.Tool.ID)
			}
		}
	}
	for id, liquids := range want {
		if got[id] != 3*len(liquids) {
			t.Errorf("%d of %s for %d liquids in 3 groups", got[id], id, len(liquids))
		}
	}
	if len(got) != len(want) || len(want) < 3 {
		t.Errorf("tools %v, of which %d are used", got, len(want))
	}
}

// TestRolesAreAboutSomething holds which jars name a product they are about.
func TestRolesAreAboutSomething(t *testing.T) {
	aid := product(t, "foamwren")
	all := ask(t, trial.Workshop, "100 gal/ac", orchard...)
	all.Jars, all.Aid, all.Waters = 14, &aid, []mix.ID{"standard-hard", "rain-tank"}
	other := ask(t, trial.Substitute, "100 gal/ac", "tartpitcher=1 qt/100 gal", "larkstile=4 oz/ac")
	other.For, other.Substitutes = "tartpitcher", []jar.Product{product(t, "mellowbeck")}
	cause := ask(t, trial.Cause, "100 gal/ac", "tartpitcher", "foamwren", "brimbarrow", "larkstile")
	seen := map[trial.Role]bool{}
	for _, q := range []trial.Request{all, other, cause, ask(t, trial.Order, "100 gal/ac", orchard...)} {
		tr := plan(t, q)
		for _, j := range tr.Jars {
			seen[j.Role] = true
			switch j.Role {
			case trial.Alone:
				if len(j.Products) != 1 || j.About != j.Products[0] {
					t.Errorf("%v alone is about %d", tr.Names(j.Products), j.About)
				}
			case trial.InPlace, trial.WithAid:
				if !slices.Contains(j.Products, j.About) || slices.Contains(tr.Mix, j.About) {
					t.Errorf("%v with %v is about %d", j.Role, j.Products, j.About)
				}
			case trial.Without:
				if slices.Contains(j.Products, j.About) || !slices.Contains(tr.Mix, j.About) {
					t.Errorf("without: %v is about %d", j.Products, j.About)
				}
			case trial.Carrier, trial.Whole, trial.Part, trial.OtherOrder, trial.OtherWater, trial.Crowded:
				if j.About != -1 {
					t.Errorf("%v is about %d", j.Role, j.About)
				}
			case trial.NoRole:
				t.Errorf("a jar without a role: %v", j.Products)
			}
			if share := j.Card.Recipe.WaterShare; len(j.Products) > 0 && (j.Role == trial.Crowded) == share.Equal(unit.Int(1)) && j.Role != trial.WithAid {
				t.Errorf("%v in %s of the water", j.Role, share.Short(2))
			}
		}
	}
	if len(seen) != 10 {
		t.Errorf("only these roles were seen: %v", seen)
	}
}

// TestPairsWithTheHelper: each jar of the mix has a twin that differs by the helper
// alone, and where the order is what the jar is about, the helper goes in first.
func TestPairsWithTheHelper(t *testing.T) {
	q := ask(t, trial.Workshop, "100 gal/ac", orchard...)
	aid := product(t, "foamwren")
	q.Aid, q.Waters, q.Jars = &aid, []mix.ID{"standard-hard", "rain-tank"}, 14
	tr := plan(t, q)
	key := func(j *trial.Jar, without int) string {
		rest := slices.DeleteFunc(slices.Clone(j.Products), func(i int) bool { return i == without })
		return strings.Join(tr.Names(rest), " ") + string(j.Water) + j.Card.Recipe.WaterShare.Short(2)
	}
	lone := map[string]bool{}
	for i := range tr.Jars {
		if j := &tr.Jars[i]; len(j.Products) > 1 && j.Role != trial.WithAid {
			lone[key(j, -1)] = true
		}
	}
	pairs := 0
	for i := range tr.Jars {
		j := &tr.Jars[i]
		if j.Role != trial.WithAid {
			continue
		}
		pairs++
		if j.About != 3 || !slices.Contains(j.Products, 3) || !lone[key(j, 3)] {
			t.Errorf("%v has no twin without the helper", tr.Names(j.Products))
		}
		if j.Order == "reversed" && j.Products[0] != 3 {
			t.Errorf("turned round, the helper goes in first: %v", tr.Names(j.Products))
		}
	}
	if pairs != len(lone) || pairs != 4 {
		t.Errorf("%d pairs for %d jars", pairs, len(lone))
	}
}

// ways lists the jars of every way through an adaptive plan: each string of results is
// walked by itself.
func ways(p *trial.Plan) (all [][]int) {
	for results := range 1 << 10 {
		var jars []int
		for step, n := 0, 0; step >= 0; n++ {
			s := p.Steps[step]
			jars = append(jars, s.Jar)
			step = s.Clear.Step
			if results>>n&1 == 1 {
				step = s.Reacts.Step
			}
		}
		all = append(all, jars)
	}
	return all
}

// asked is a search for the cause of the mix of a record, as it was used.
func asked(t *testing.T, id mix.ID, jars int) trial.Request {
	t.Helper()
	o := demo().Index().Observation(id)
	q := trial.Request{Question: trial.Cause, Seed: 1, SprayVolume: o.SprayVolume, AsUsed: true, Adaptive: true, Jars: jars}
	for _, p := range o.Products {
		q.Mix = append(q.Mix, planner().Product(string(p.ID), p.Rate))
	}
	return q
}

// TestAdaptiveByEveryWay: kit and time of a plan are those of the way that takes most,
// found by walking every way.
func TestAdaptiveByEveryWay(t *testing.T) {
	var plans []*trial.Trial
	for _, jars := range []int{3, 4, 5, 6} {
		q := ask(t, trial.Cause, "100 gal/ac", "tartpitcher", "foamwren", "brimbarrow", "larkstile")
		q.Adaptive, q.Jars = true, jars
		tr := plan(t, q)
		if got := deepest(tr.Plan, 0); got != jars-2 {
			t.Errorf("%d jars: the longest way has %d beside the controls", jars, got)
		}
		plans = append(plans, tr)
	}
	plans = append(plans, plan(t, asked(t, "qv-2025-010", 6)), plan(t, asked(t, "qv-2025-026", 6)))
	clearIsLonger := 0
	for _, tr := range plans {
		if first := tr.Plan.Steps[0]; deepest(tr.Plan, first.Clear.Step) > deepest(tr.Plan, first.Reacts.Step) {
			clearIsLonger++
		}
		byEveryWay(t, tr)
	}
	if clearIsLonger < 2 {
		t.Error("no plan goes on longer after a clear jar: the test shows half")
	}
}

func byEveryWay(t *testing.T, tr *trial.Trial) {
	t.Helper()
	k := kit(t, tr, trial.People{Persons: 1})
	longest, hands := 0, unit.Duration{}
	most := map[int]unit.Number{}
	for _, way := range ways(tr.Plan) {
		way = append([]int{0, 1}, way...) // carrier and the whole mix
		longest = max(longest, len(way))
		minutes := int64(0)
		for _, s := range tr.Stocks {
			minutes += int64(4 * s.Times)
		}
		poured := map[int]unit.Number{}
		for _, n := range way {
			j := &tr.Jars[n]
			minutes += int64(3 + 2*len(j.Products) + 5*1 + 4) // by the routine: setup, additions, readings, wash
			for at, l := range j.Card.Doses {
				if l.Stock == nil {
					poured[j.Products[at]] = poured[j.Products[at]].Add(l.Poured.Base())
				}
			}
		}
		for i, n := range poured {
			most[i] = most[i].Max(n)
		}
		if d := unit.Minute.Of(unit.Int(minutes)); len(way) == longest && d.Cmp(hands) > 0 {
			hands = d
		}
	}
	names := tr.Names(tr.Mix)
	if k.Jars != longest {
		t.Errorf("%v: %d jars in the kit, the longest way has %d", names, k.Jars, longest)
	}
	if tr.Time.Hands.Cmp(hands) > 0 || tr.Time.Hands.Sign() <= 0 {
		t.Errorf("%v: %v of work, the longest way takes %v", names, tr.Time.Hands, hands)
	}
	for _, s := range tr.Stocks {
		most[s.Product] = most[s.Product].Add(s.Stock.Product.Poured.Base().Mul(unit.Int(int64(s.Times))))
	}
	for _, p := range k.Products {
		if !p.Cards.Base().Equal(most[p.Product]) {
			t.Errorf("%v: %s: %s, by every way %s", names, tr.Products[p.Product].Name, p.Cards.Base().Fixed(3), most[p.Product].Fixed(3))
		}
	}
	if len(k.Products) != len(tr.Mix) {
		t.Errorf("%d products of %v", len(k.Products), names)
	}
}

// TestColumnsOfAReading stand as they are read: when, then what endangers people, then
// the rest from top to bottom, the screen last.
func TestColumnsOfAReading(t *testing.T) {
	var names []string
	for _, c := range trial.ReadingColumns(true) {
		names = append(names, c.Name)
	}
	if got := strings.Join(names, " "); got != "after gas rise foam flakes gel precipitate layers oil_film redispersed reading.inversions screen mesh ph reading.note" {
		t.Errorf("got %s", got)
	}
}

// TestColumnsSayHowToFillThem: each heading has tick boxes or an example, but for
// those in which anybody writes what they like.
func TestColumnsSayHowToFillThem(t *testing.T) {
	free := []string{"place", "investigation", "batch.1", "water", "note", "product.1", "reading.note", "mesh"}
	boxes := map[string][]string{"kind": {"jar", "field"}, "order": {"recorded", "not-recorded"}, "vessel.closed": {"true", "false"},
		"gas": {"none", "bubbles", "firm", "vented"}}
	for _, c := range slices.Concat(trial.JarColumns(1), trial.ReadingColumns(false)) {
		if told := c.Example != "" || len(c.Words) > 0; told == slices.Contains(free, c.Name) && c.Name != "mesh" {
			t.Errorf("%s: example %q, words %v", c.Name, c.Example, c.Words)
		}
		if want, known := boxes[c.Name]; known && !slices.Equal(c.Words, want) {
			t.Errorf("%s: boxes %v, want %v", c.Name, c.Words, want)
		}
	}
}
