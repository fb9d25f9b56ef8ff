package trial_test

import (
	"bytes"
	"encoding/csv"
	"errors"
	"fmt"
	"slices"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	"tankleaf.example/internal/compat"
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

// TestToolsOfStocks: what makes a stock is on the table too, and what draws from it
// is not what touched the jug; tools of one kind stand in the order of size.
func TestToolsOfStocks(t *testing.T) {
	q := ask(t, trial.Order, "100 gal/ac", "larkstile=0.5 oz/ac", "firkinlow=5.5 fl oz/ac")
	q.AsUsed = true
	tr := plan(t, q)
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
	if len(got) != len(want) || len(want) < 4 {
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

// TestAdaptiveByEveryWay: kit and time of a plan are those of the way that takes most,
// found by walking every way.
func TestAdaptiveByEveryWay(t *testing.T) {
	for _, jars := range []int{3, 4, 5, 6} {
		q := ask(t, trial.Cause, "100 gal/ac", "tartpitcher", "foamwren", "brimbarrow", "larkstile")
		q.Adaptive, q.Jars = true, jars
		tr := plan(t, q)
		k := kit(t, tr, trial.People{Persons: 1})
		longest, hands := 0, unit.Duration{}
		most := map[int]unit.Number{}
		for _, way := range ways(tr.Plan) {
			way = append([]int{0, 1}, way...) // carrier and the whole mix
			longest = max(longest, len(way))
			minutes := int64(0)
			poured := map[int]unit.Number{}
			for _, n := range way {
				j := &tr.Jars[n]
				minutes += int64(3 + 2*len(j.Products) + 5*1 + 4) // by the routine: setup, additions, readings, wash
				for at, l := range j.Card.Doses {
					poured[j.Products[at]] = poured[j.Products[at]].Add(l.Poured.Base())
				}
			}
			for i, n := range poured {
				most[i] = most[i].Max(n)
			}
			if d := unit.Minute.Of(unit.Int(minutes)); len(way) == longest && d.Cmp(hands) > 0 {
				hands = d
			}
		}
		if k.Jars != longest || longest != jars {
			t.Errorf("%d jars in the kit, the longest way has %d, asked for %d", k.Jars, longest, jars)
		}
		if tr.Time.Hands.Cmp(hands) > 0 || tr.Time.Hands.Sign() <= 0 {
			t.Errorf("%v of work, the longest way takes %v", tr.Time.Hands, hands)
		}
		for _, p := range k.Products {
			if !p.Cards.Base().Equal(most[p.Product]) {
				t.Errorf("%d jars: %s: %s, by every way %s", jars, tr.Products[p.Product].Name, p.Cards.Base().Fixed(3), most[p.Product].Fixed(3))
			}
		}
		if len(k.Products) != 4 {
			t.Errorf("%d products", len(k.Products))
		}
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

// TestHazardsOfEachJar: what the judge knows of the very products of a jar stands at
// the jar and on the cover, once, in order; so does what the whole mix can do.
func TestHazardsOfEachJar(t *testing.T) {
	beside := 0 // hazards of a jar that the whole mix is not known for
	check := func(tr *trial.Trial) {
		whole := demo().Mix(ids(tr, tr.Mix), mix.Situation{}).Hazards
		for _, j := range tr.Jars {
			if len(j.Products) == 0 {
				continue
			}
			a := demo().Mix(ids(tr, j.Products), mix.Situation{})
			want := slices.Concat(a.Hazards, a.Handling)
			if len(j.Products) > 1 {
				want = append(want, whole...)
			}
			for _, h := range want {
				if !slices.Contains(j.Hazards, h) || !slices.Contains(tr.Hazards, h) {
					t.Errorf("%v of %v: at the jar %v, on the cover %v", h, tr.Names(j.Products), j.Hazards, tr.Hazards)
				}
			}
			for _, h := range j.Hazards {
				if !slices.Contains(whole, h) {
					beside++
				}
			}
			if !slices.IsSorted(j.Hazards) || len(slices.Compact(slices.Clone(j.Hazards))) != len(j.Hazards) {
				t.Errorf("hazards of a jar %v", j.Hazards)
			}
		}
		if !slices.IsSorted(tr.Hazards) || len(slices.Compact(slices.Clone(tr.Hazards))) != len(tr.Hazards) {
			t.Errorf("hazards %v", tr.Hazards)
		}
	}
	for i := range demo().Index().Book().Trials {
		check(plan(t, planner().FromBook(&demo().Index().Book().Trials[i])))
	}
	handled := ask(t, trial.Order, "100 gal/ac", handle(t), "larkstile=4 oz/ac")
	handled.AsUsed = true
	check(plan(t, handled))
	if beside == 0 {
		t.Error("no jar has a hazard of its own: the test shows nothing")
	}
}

func ids(tr *trial.Trial, list []int) (all []mix.ID) {
	for _, i := range list {
		all = append(all, tr.Products[i].ID)
	}
	return all
}

// handle is a product that is dangerous to handle by itself and safe to pour.
func handle(t *testing.T) string {
	t.Helper()
	for _, p := range demo().Index().Book().Products {
		a := demo().Mix([]mix.ID{p.ID}, mix.Situation{})
		if len(a.Hazards) == 0 && slices.Equal(a.Handling, []mix.Hazard{mix.Concentrate}) {
			return string(p.ID)
		}
	}
	t.Fatal("the data holds no concentrate that is dangerous to handle")
	return ""
}

// TestTooManyProducts: a search takes 16 products, a judge's mix leaves room for the
// helper.
func TestTooManyProducts(t *testing.T) {
	var names []string
	for _, p := range demo().Index().Book().Products {
		names = append(names, string(p.ID))
	}
	aid := product(t, "foamwren")
	for _, c := range []struct {
		question trial.Question
		aid      *jar.Product
		most     int
	}{{trial.Cause, nil, 16}, {trial.Order, nil, compat.MaxItems}, {trial.Order, &aid, compat.MaxItems - 1}} {
		for _, n := range []int{c.most, c.most + 1} {
			q := ask(t, c.question, "100 gal/ac", names[:n]...)
			q.Aid, q.AsUsed = c.aid, true
			_, err := planner().Trial(q)
			var told []string
			var ps jar.Problems
			if errors.As(err, &ps) {
				for _, p := range ps {
					if p.Code == trial.TooManyItems {
						told = append(told, p.Msg+"; "+p.Hint)
					}
				}
			}
			var want []string
			if n > c.most {
				want = []string{fmt.Sprintf("a mix of %d products; name %d or fewer", n, c.most)}
			}
			if diff := cmp.Diff(want, told); diff != "" {
				t.Errorf("%v of %d products (-want +got)\n%s", c.question, n, diff)
			}
		}
	}
}

// TestSheetSaysWhatWasPoured: the table that is filled in knows of a jar what its card
// does, in the words of the data.
func TestSheetSaysWhatWasPoured(t *testing.T) {
	said := func(tr *trial.Trial, role trial.Role) map[string]string {
		t.Helper()
		var b bytes.Buffer
		if err := tr.WriteSheet(&b, "bench"); err != nil {
			t.Fatal(err)
		}
		rows, err := csv.NewReader(&b).ReadAll()
		if err != nil {
			t.Fatal(err)
		}
		i := slices.IndexFunc(tr.Jars, func(j trial.Jar) bool { return j.Role == role })
		got := map[string]string{}
		for _, row := range rows[1:] {
			if row[0] != "bench-"+strings.ToLower(tr.Jars[i].Code) {
				continue
			}
			for n, cell := range row {
				if name := rows[0][n]; name != "id" || got[name] == "" {
					got[name] += cell // further lines of a jar say the time and no more
				}
			}
			for name, text := range got {
				if text == "" {
					delete(got, name)
				}
			}
		}
		return got
	}
	q := ask(t, trial.Workshop, "100 gal/ac", orchard...)
	q.Jars, q.Waters = 12, []mix.ID{"office-well"}
	tr := plan(t, q)
	whole := said(tr, trial.Whole)
	code := tr.Jars[slices.IndexFunc(tr.Jars, func(j trial.Jar) bool { return j.Role == trial.Whole })].Code
	want := map[string]string{"id": "bench-" + strings.ToLower(code), "kind": "jar", "title": "Jar " + code + ", the mix as it is: Larkstile 35 WG, Wrenbasket 30 SG, Firkinlow 2.5 SC",
		"product.1": "larkstile", "rate.1": "4 oz/ac", "product.2": "wrenbasket", "rate.2": "4 oz/ac", "product.3": "firkinlow", "rate.3": "5.5 fl oz/ac",
		"order": "recorded", "spray_volume": "100 gal/ac", "vessel.type": "jar", "vessel.size": tr.Vessel.Size.String(),
		"vessel.liquid": tr.Vessel.Fill.Base().Short(1) + " mL", "vessel.closed": "true", "water": "office-well", "inversions": "10",
		"after": "0 min15 min30 min2 h16 h"}
	if diff := cmp.Diff(want, whole); diff != "" {
		t.Errorf("the whole mix (-want +got)\n%s", diff)
	}
	crowded := said(tr, trial.Crowded)
	if crowded["water_share"] != "25 %" || whole["water_share"] != "" {
		t.Errorf("shares of the water %q and %q", crowded["water_share"], whole["water_share"])
	}
	open := said(plan(t, ask(t, trial.Order, "100 gal/ac", "sallowmere=5 lb/ac", "firkinlow=5.5 fl oz/ac")), trial.Whole)
	if open["vessel.closed"] != "false" || open["inversions"] != "0" {
		t.Errorf("a jar that stays open is closed %q and turned %q times", open["vessel.closed"], open["inversions"])
	}
}
