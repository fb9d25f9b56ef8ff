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

// roles counts the jars of a trial by role.
func roles(t *trial.Trial) map[string]int {
	n := map[string]int{}
	for _, j := range t.Jars {
		n[j.Role.String()]++
	}
	return n
}

var orchard = []string{"larkstile=4 oz/ac", "firkinlow=5.5 fl oz/ac", "wrenbasket=4 oz/ac"}

func TestCauseInOneDay(t *testing.T) {
	q := ask(t, trial.Cause, "100 gal/ac", "tartpitcher", "foamwren", "brimbarrow", "larkstile")
	q.Jars = 7
	got := plan(t, q)
	n := roles(got)
	if n["carrier"] != 1 || n["whole"] != 1 || len(got.Jars) > 7 || n["part"]+n["alone"] == 0 {
		t.Errorf("roles %v", n)
	}
	if got.Plan == nil || len(got.Plan.Steps) != 0 || !got.Plan.Assumed || got.Plan.Possible == 0 || got.Plan.Alone <= 0 {
		t.Errorf("plan %+v: nothing is recorded of this mix reacting, so the complaint is assumed", got.Plan)
	}
	// More jars leave fewer explanations.
	q.Jars = 12
	if more := plan(t, q); more.Plan.Left > got.Plan.Left || more.Plan.Alone < got.Plan.Alone {
		t.Errorf("12 jars leave %.2f, 7 leave %.2f", more.Plan.Left, got.Plan.Left)
	}
}

func TestCauseFromRecords(t *testing.T) {
	// The four of the onion tank that curdled; what was recorded of them counts.
	q := ask(t, trial.Cause, "20 gal/ac", "thatchmoor=3 lb/ac", "skeinlow=6 fl oz/ac", "sapwhittle=5 fl oz/ac", "slipwhistle=0.25 % v/v")
	got, err := planner().Trial(q)
	if err != nil {
		ps := trouble(t, err)
		if ps[0].Code != trial.Settled {
			t.Fatal(err)
		}
		return
	}
	if got.Plan.Known == 0 || got.Symptom == mix.NoSymptom {
		t.Errorf("plan %+v, symptom %v: there are records of this mix", got.Plan, got.Symptom)
	}
}

// TestComplaintIsAssumedOrRecorded: where a record shows the reaction, nothing is
// assumed beside it; where none does, the mix as it is is taken to have reacted.
func TestComplaintIsAssumedOrRecorded(t *testing.T) {
	recorded := plan(t, asked(t, "qv-2025-026", 6)).Plan
	if recorded.Assumed || recorded.Known == 0 || recorded.Possible != 5 {
		t.Errorf("recorded: %+v", recorded)
	}
	q := ask(t, trial.Cause, "100 gal/ac", "tartpitcher", "foamwren", "brimbarrow", "larkstile")
	if assumed := plan(t, q).Plan; !assumed.Assumed || assumed.Known > 0 {
		t.Errorf("assumed: %+v", assumed)
	}
}

// TestUntestedPairsAreCounted takes the first two products of the office that nobody
// has put together.
func TestUntestedPairsAreCounted(t *testing.T) {
	products := demo().Index().Book().Products
	for i := range products {
		for j := range i {
			list := []mix.ID{products[i].ID, products[j].ID}
			if len(demo().Mix(list, mix.Situation{}).Untested) != 1 {
				continue
			}
			q := ask(t, trial.Order, "100 gal/ac", string(list[0]), string(list[1]))
			q.AsUsed = true
			tr, err := planner().Trial(q)
			if err != nil {
				continue // which cannot be poured
			}
			if b := read(t, tr, trial.People{Persons: 1}); tr.Untested != 1 || b.Untested != 1 {
				t.Errorf("%v: %d untested, in JSON %d", list, tr.Untested, b.Untested)
			}
			return
		}
	}
	t.Fatal("every two products were put together")
}

func TestAdaptivePlan(t *testing.T) {
	q := ask(t, trial.Cause, "100 gal/ac", "tartpitcher", "foamwren", "brimbarrow", "larkstile")
	q.Adaptive, q.Jars = true, 6
	got := plan(t, q)
	if len(got.Plan.Steps) < 3 || got.Jars[0].Role != trial.Carrier || got.Jars[1].Role != trial.Whole {
		t.Fatalf("%d steps, first jars %v %v", len(got.Plan.Steps), got.Jars[0].Role, got.Jars[1].Role)
	}
	for i, s := range got.Plan.Steps {
		for _, e := range []trial.End{s.Reacts, s.Clear} {
			if e.Step != -1 && (e.Step <= i || e.Step >= len(got.Plan.Steps)) {
				t.Errorf("step %d leads back to %d", i, e.Step)
			}
		}
		if len(got.Jars[s.Jar].Products) == 0 {
			t.Errorf("step %d is of a jar without products", i)
		}
	}
	if depth := deepest(got.Plan, 0); depth > 4 || !got.Plan.Cut {
		t.Errorf("%d jars deep, cut %v: two of six are controls", depth, got.Plan.Cut)
	}
	q.Replicates = 2
	if _, err := planner().Trial(q); trouble(t, err)[0].Code != trial.BadCount {
		t.Errorf("replicates of an adaptive plan: %v", err)
	}
}

func deepest(p *trial.Plan, step int) int {
	if step < 0 {
		return 0
	}
	return 1 + max(deepest(p, p.Steps[step].Reacts.Step), deepest(p, p.Steps[step].Clear.Step))
}

func TestOrder(t *testing.T) {
	q := ask(t, trial.Order, "20 gal/ac", "thatchmoor=3 lb/ac", "skeinlow=6 fl oz/ac", "sapwhittle=5 fl oz/ac")
	got := plan(t, q)
	var whole, reversed []int
	seen := map[string]bool{}
	for _, j := range got.Jars {
		if j.Role == trial.Whole {
			whole = j.Products
		}
		if j.Order == "reversed" {
			reversed = j.Products
		}
		if j.Role == trial.Whole || j.Role == trial.OtherOrder {
			key := strings.Join(got.Names(j.Products), " ")
			if seen[key] {
				t.Errorf("the order %s comes twice", key)
			}
			seen[key] = true
		}
	}
	slices.Reverse(reversed)
	if !slices.Equal(whole, reversed) || len(whole) != 3 {
		t.Errorf("whole %v, reversed back %v", whole, reversed)
	}
	if got.Products[whole[0]].ID != "thatchmoor" {
		t.Errorf("the granule goes in first, got %v", got.Names(whole))
	}
	if len(got.Jars) > trial.UsualJars || roles(got)["carrier"] != 1 {
		t.Errorf("roles %v", roles(got))
	}
}

func TestWater(t *testing.T) {
	q := ask(t, trial.Water, "100 gal/ac", orchard...)
	q.Waters = []mix.ID{"office-well"}
	got := plan(t, q)
	pairs := map[mix.ID][2]int{}
	for _, j := range got.Jars {
		n := pairs[j.Water]
		switch len(j.Products) {
		case 0:
			n[0]++
		case len(q.Mix):
			n[1]++
		}
		pairs[j.Water] = n
	}
	want := map[mix.ID][2]int{"office-well": {1, 1}, "rain-tank": {1, 1}, "standard-hard": {1, 1}}
	if !cmp.Equal(pairs, want) {
		t.Errorf("carrier alone and mix by water: %v; the named water, the softest and the hardest", pairs)
	}
}

func TestSubstitute(t *testing.T) {
	q := ask(t, trial.Substitute, "100 gal/ac", "tartpitcher=1 qt/100 gal", "larkstile=4 oz/ac", "firkinlow=5.5 fl oz/ac")
	q.For = "tartpitcher"
	q.Substitutes = []jar.Product{product(t, "mellowbeck"), product(t, "evenweir")}
	got := plan(t, q)
	if n := roles(got); n["in-place"] != 2 || n["whole"] != 1 || n["without"] != 1 || n["carrier"] != 1 || n["alone"] != 2 {
		t.Errorf("roles %v", n)
	}
	for _, j := range got.Jars {
		if j.Role == trial.InPlace && (slices.Contains(j.Products, got.Replaced) || !slices.Contains(j.Products, j.About)) {
			t.Errorf("in place of %d by %d: %v", got.Replaced, j.About, j.Products)
		}
	}
}

// TestSubstituteFound takes the product and what stands in for it from the judge.
func TestSubstituteFound(t *testing.T) {
	q := ask(t, trial.Substitute, "100 gal/ac", "tartpitcher=1 qt/100 gal", "sallowmere=5 lb/ac")
	got := plan(t, q)
	if got.Replaced < 0 || roles(got)["in-place"] == 0 {
		t.Errorf("replaced %d, roles %v", got.Replaced, roles(got))
	}
}

func TestWorkshop(t *testing.T) {
	q := ask(t, trial.Workshop, "100 gal/ac", orchard...)
	aid := product(t, "foamwren")
	q.Aid = &aid
	got := plan(t, q)
	n := roles(got)
	if len(got.Jars) != 8 || n["carrier"] != 1 || n["whole"] != 1 || n["with-aid"] < 1 || n["alone"] == 0 {
		t.Errorf("roles %v", n)
	}
	if len(got.LeftOut) == 0 {
		t.Error("what eight jars do not reach is told")
	}
	q.Jars = 12
	got = plan(t, q)
	for _, j := range got.Jars {
		if j.Role == trial.Crowded {
			if j.Card.Recipe.Finished.Cmp(got.Vessel.Fill) >= 0 {
				t.Errorf("a crowded jar of %v in %v", j.Card.Recipe.Finished, got.Vessel.Fill)
			}
			return
		}
	}
	t.Error("twelve jars hold a crowded one")
}

// TestCrowdedTrial holds that a share of the water reaches every jar but the control.
func TestCrowdedTrial(t *testing.T) {
	q := ask(t, trial.Order, "20 gal/ac", "thatchmoor=3 lb/ac", "skeinlow=6 fl oz/ac")
	q.Share = unit.Frac(1, 4)
	for _, j := range plan(t, q).Jars {
		if crowded := j.Card.Recipe.WaterShare.Equal(q.Share); crowded == (j.Role == trial.Carrier) {
			t.Errorf("%v in a share of %s", j.Role, j.Card.Recipe.WaterShare.Short(2))
		}
	}
}

func TestReplicates(t *testing.T) {
	q := ask(t, trial.Order, "20 gal/ac", "thatchmoor=3 lb/ac", "skeinlow=6 fl oz/ac")
	q.Replicates, q.Jars = 3, 12
	got := plan(t, q)
	block := len(got.Jars) / 3
	for i, j := range got.Jars {
		if j.Run != i+1 || j.Block != i/block+1 {
			t.Errorf("run %d of block %d stands at %d", j.Run, j.Block, i)
		}
	}
	for b := range 3 {
		n := map[trial.Role]int{}
		for _, j := range got.Jars[b*block : (b+1)*block] {
			n[j.Role]++
		}
		if n[trial.Carrier] != 1 || n[trial.Whole] != 1 {
			t.Errorf("block %d holds %v", b+1, n)
		}
	}
}

// TestSeed holds that a seed settles everything and that another changes the runs.
func TestSeed(t *testing.T) {
	q := ask(t, trial.Workshop, "100 gal/ac", orchard...)
	codes := func(seed uint64) (all []string) {
		q.Seed = seed
		for _, j := range plan(t, q).Jars {
			all = append(all, j.Code+" "+j.Role.String())
		}
		return all
	}
	if a, b := codes(5), codes(5); !slices.Equal(a, b) {
		t.Errorf("one seed gives %v and %v", a, b)
	}
	if slices.Equal(codes(5), codes(6)) {
		t.Error("two seeds give the same")
	}
	places := map[int]bool{} // of the control
	for seed := range uint64(12) {
		q.Seed = seed
		places[slices.IndexFunc(plan(t, q).Jars, func(j trial.Jar) bool { return j.Role == trial.Carrier })] = true
	}
	if len(places) < 3 {
		t.Errorf("over twelve seeds the control runs at %v alone", places)
	}
}

// TestStocks holds what becomes of a dose that no tool measures: one stock for all
// jars that draw from it, in the kit and on a label, shaken when it settles.
func TestStocks(t *testing.T) {
	q := ask(t, trial.Order, "100 gal/ac", "larkstile=0.5 oz/ac", "firkinlow=5.5 fl oz/ac")
	q.AsUsed = true
	tr := plan(t, q)
	if len(tr.Stocks) != 1 || tr.Products[tr.Stocks[0].Product].ID != "larkstile" || !tr.Stocks[0].Stock.Shake {
		t.Fatalf("stocks %+v", tr.Stocks)
	}
	if tr.Vessel.Size.String() != "1 pt" {
		t.Errorf("poured in %v: a smaller vessel takes a second stock, a larger one no fewer", tr.Vessel.Size)
	}
	s := tr.Stocks[0]
	drawn := unit.Volume{}
	for _, j := range tr.Jars {
		for _, l := range j.Card.Doses {
			if l.Stock != nil {
				drawn = drawn.Add(l.Pour.Poured.Volume)
			}
		}
	}
	if made := s.Stock.Volume.Times(unit.Int(int64(s.Times))); made.Cmp(drawn) < 0 || drawn.Sign() == 0 {
		t.Errorf("%v is made, %v is drawn", made, drawn)
	}
	k := kit(t, tr, trial.People{Groups: 3})
	if len(k.Products) != 2 {
		t.Errorf("%d products in the kit", len(k.Products))
	}
	for _, p := range k.Products {
		if p.Product != s.Product {
			continue
		}
		if want := s.Stock.Product.Poured.Base().Mul(unit.Int(int64(3 * s.Times))); p.Cards.Base().Cmp(want) < 0 {
			t.Errorf("3 groups make stocks of %s g, the kit has %v", want.Short(2), p.Cards)
		}
	}
	sheets, err := planner().LabelSheets(tr, &k, "letter-30")
	if err != nil {
		t.Fatal(err)
	}
	labels := 0
	for _, sheet := range sheets {
		for _, l := range sheet.Labels {
			if l.Stock != "" && l.Parts == s.Stock.Parts && l.Shake && l.Code == "" {
				labels++
			}
		}
	}
	if labels != 3*s.Times {
		t.Errorf("%d labels for the stocks of 3 groups", labels)
	}
}

// TestProblems holds what is refused, with the nearest that works.
func TestProblems(t *testing.T) {
	for _, c := range []struct {
		change    func(*trial.Request)
		code      jar.Code
		msg, hint string
		why       string
	}{
		{func(q *trial.Request) { q.Question = trial.NoQuestion }, trial.NoSuchQuestion, "no question", "cause, order, water", "nothing asked"},
		{func(q *trial.Request) { q.Mix[0] = product(t, "larkstile=9 lb/ac") }, trial.OffLabel, `rate "9 lb/ac" of Larkstile 35 WG is above`, `write "`, "a rate over the label"},
		{func(q *trial.Request) { q.Jars = 2 }, trial.TooFewJars, "the trial needs 3 jars; allowed are 2", "allow 3 jars", "an order takes a control and two orders"},
		{func(q *trial.Request) { q.Replicates = 4 }, trial.TooFewJars, "needs 3 jars in each of 4 replicates, 12 in all; allowed are 8", "allow 12 jars, or make 2 replicates", "too many replicates"},
		{func(q *trial.Request) { q.Jars = -1 }, trial.BadCount, "-1 jars", "2 or more", "no number of jars"},
		{func(q *trial.Request) { q.Jars = 500 }, trial.TooManyJars, "more than there are codes for", "128 or fewer", "too many jars"},
		{func(q *trial.Request) { q.Mix = q.Mix[:1] }, jar.NoProducts, "two products or more", "name the products", "one product is no mix"},
		{func(q *trial.Request) { q.Mix[1] = q.Mix[0] }, jar.TwoOfAName, "named twice", "once", "a product twice"},
		{func(q *trial.Request) { q.SprayVolume = unit.SprayVolume{} }, jar.NoSprayVolume, "no spray volume", "15 gal/ac", "rates by area"},
		{func(q *trial.Request) { q.Jar = must(t, unit.ParseVolume, "2 L") }, trial.NoVessel, "no jar on the shelf holds 2 L with 25 % of it left free", "write 750 mL, which the 1 L jar holds", "a jar that is not there"},
		{func(q *trial.Request) {
			q.Jar = must(t, unit.ParseVolume, "0.02 mL")
			q.Mix[0] = product(t, "larkstile=4 oz/ac")
		}, jar.TooSmall, "below 0.001", "take", "a jar too small for any tool"},
		{func(q *trial.Request) { q.Waters = []mix.ID{"moon"} }, trial.NoWater, `unknown water "moon"`, "data/waters.yaml", "no such water"},
		{func(q *trial.Request) { q.Question, q.For = trial.Substitute, "moss" }, trial.NoSubstitute, "moss is not in the mix", "name one of Larkstile", "nothing of that name"},
		{func(q *trial.Request) { q.Question = trial.Substitute }, trial.NoSubstitute, "nothing of the same purpose", "name what to try", "the mix needs no substitute"},
		{func(q *trial.Request) {
			q.Question, q.Substitutes = trial.Substitute, []jar.Product{product(t, "mellowbeck")}
		}, trial.NoSubstitute, "nothing says which product the others stand in for", "name one of Larkstile 35 WG, ", "one other, and no word of what it replaces"},
	} {
		q := ask(t, trial.Order, "100 gal/ac", orchard...)
		c.change(&q)
		_, err := planner().Trial(q)
		if err == nil {
			t.Errorf("%s: planned", c.why)
			continue
		}
		p := trouble(t, err)[0]
		if p.Code != c.code || !strings.Contains(p.Msg, c.msg) || !strings.Contains(p.Hint, c.hint) {
			t.Errorf("%s: %s %q, hint %q", c.why, p.Code, p.Msg, p.Hint)
		}
	}
}

// TestAsUsed holds that a complaint may be poured as it was used.
func TestAsUsed(t *testing.T) {
	q := ask(t, trial.Order, "100 gal/ac", "larkstile=9 lb/ac", "firkinlow=5.5 fl oz/ac")
	q.AsUsed = true
	plan(t, q)
}

// TestFewerSubstitutes proposes how many would fit.
func TestFewerSubstitutes(t *testing.T) {
	q := ask(t, trial.Substitute, "100 gal/ac", "tartpitcher=1 qt/100 gal", "larkstile=4 oz/ac")
	q.For, q.Jars = "tartpitcher", 4
	q.Substitutes = []jar.Product{product(t, "mellowbeck"), product(t, "evenweir"), product(t, "sourhopper")}
	for jars, want := range map[int]string{4: "allow 5 jars, or compare 2", 3: "allow 5 jars, or compare 1", 2: "allow 5 jars"} {
		q.Jars = jars
		_, err := planner().Trial(q)
		if p := trouble(t, err)[0]; p.Code != trial.TooFewJars || p.Hint != want {
			t.Errorf("%d jars: %q, hint %q", jars, p.Msg, p.Hint)
		}
	}
}

// TestTrialsOfTheData plans every trial that the demonstration office offers.
func TestTrialsOfTheData(t *testing.T) {
	trials := demo().Index().Book().Trials
	if len(trials) == 0 {
		t.Fatal("the office offers no trial")
	}
	for i := range trials {
		b := &trials[i]
		tr, err := planner().Trial(planner().FromBook(b))
		if err != nil {
			t.Errorf("%s: %v", b.ID, err)
			continue
		}
		if len(tr.Jars) < 3 || len(tr.Jars) > b.Jars || tr.Question != b.Question {
			t.Errorf("%s: %d jars of %v, allowed are %d", b.ID, len(tr.Jars), tr.Question, b.Jars)
		}
		if _, err := planner().Kit(tr, trial.PeopleOf(b)); err != nil {
			t.Errorf("%s: %v", b.ID, err)
		}
	}
}
