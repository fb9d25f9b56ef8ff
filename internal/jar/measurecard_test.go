package jar_test

import (
	"errors"
	"strings"
	"testing"

	"pgregory.net/rapid"
	"tankleaf.example/internal/jar"
	"tankleaf.example/internal/mix"
	"tankleaf.example/internal/unit"
)

// ask builds a request from a line of rates "NAME FORM RATE".
func ask(t testing.TB, size, spray string, rates ...string) jar.Request {
	t.Helper()
	in := jar.RecipeInput{Jar: size, SprayVolume: spray, FirstWater: "50 %"}
	for _, r := range rates {
		f := strings.SplitN(r, " ", 3)
		in.Products = append(in.Products, jar.ProductInput{Name: f[0], Form: f[1], Rate: f[2]})
	}
	q, err := in.Request()
	if err != nil {
		t.Fatal(err)
	}
	return q
}

// TestCard holds one card against figures worked by hand: 1 pt/ac at 15 gal/ac is
// 7.886 mL in a quart (see the grid of rates in the tests of recipes).
func TestCard(t *testing.T) {
	c, err := bench(t).Direct(ask(t, "1 qt", "15 gal/ac", "a SC 1 pt/ac", "b WG 2 oz/ac"))
	if err != nil {
		t.Fatal(err)
	}
	a, b := c.Doses[0], c.Doses[1]
	if a.Pour.Tool.ID != "syringe-10" || a.Poured.String() != "7.8 mL" || a.Error.Mul(unit.Int(100)).Fixed(2) != "-1.09" || !a.Shake {
		t.Errorf("a: %v by %s, %s, shake %v", a.Poured, a.Pour.Tool.ID, a.Error.Fixed(4), a.Shake)
	}
	// 2 oz/ac: 2 × 28.349523125 g × 946.353 ÷ (15 × 3785.412) = 0.94498 g.
	if b.Pour.Tool.ID != "scale-001" || b.Poured.String() != "0.94 g" || !b.Passes {
		t.Errorf("b: %v by %s", b.Poured, b.Pour.Tool.ID)
	}
	// Half of 946.353 mL by the 500 mL cylinder; the rest is what is missing then.
	if c.First.Poured.String() != "475 mL" || c.TopUp.Poured.String() != "465 mL" || c.Filled.String() != "947.8 mL" {
		t.Errorf("water %v and %v, filled %v", c.First.Poured, c.TopUp.Poured, c.Filled)
	}
	if !c.Passes() {
		t.Error("the card should pass")
	}
}

// TestStockTakesItsWater holds that what a stock brings is not poured twice.
func TestStockTakesItsWater(t *testing.T) {
	// 0.5 fl oz/ac at 100 gal/ac is 0.0195 mL in 500 mL: 0.195 mL of a stock of 1 in 10.
	c, err := bench(t).Diluted(ask(t, "500 mL", "100 gal/ac", "a EC 0.5 fl oz/ac"))
	if err != nil {
		t.Fatal(err)
	}
	l := c.Doses[0]
	if l.Stock == nil || l.Stock.Parts != 10 {
		t.Fatalf("stock %+v", l.Stock)
	}
	if l.Pour.Poured.String() != "0.2 mL" {
		t.Errorf("drawn %v", l.Pour.Poured)
	}
	if !l.Shake || !l.Passes || !c.Passes() {
		t.Errorf("shake %v, passes %v", l.Shake, l.Passes)
	}
	if got := c.Stocks.Add(l.Poured.Volume); got.Cmp(l.Pour.Poured.Volume) != 0 {
		t.Errorf("carrier of the stock and product make %v, drawn are %v", got, l.Pour.Poured)
	}
	whole := c.First.Poured.Volume.Add(c.TopUp.Poured.Volume).Add(l.Pour.Poured.Volume)
	if whole.Cmp(c.Filled) != 0 {
		t.Errorf("poured %v, filled %v", whole, c.Filled)
	}
}

func TestPropose(t *testing.T) {
	for _, c := range []struct {
		size, spray, rate string
		tools             []string
		larger            string
		parts             int
		trouble, hint     string
		why               string
	}{
		{size: "1 qt", spray: "15 gal/ac", rate: "a SC 1 pt/ac", why: "passes as asked"},
		{size: "250 mL", spray: "20 gal/ac", rate: "a WG 0.6 oz/ac", larger: "1 qt", parts: 10,
			trouble: "no tool at hand measures the dose of a, 0.056 g", hint: "take the 1 qt jar, or draw from a stock",
			why: "0.213 g in a quart and 0.056 g in 250 mL"},
		{size: "250 mL", spray: "20 gal/ac", rate: "a WG 0.6 oz/ac", tools: []string{"syringe", "scale"}, larger: "1 qt",
			trouble: "no tool at hand measures", hint: "take the 1 qt jar", why: "no cylinder, no stock"},
		{size: "250 mL", spray: "100 gal/ac", rate: "a EC 0.05 fl oz/ac", parts: 100,
			trouble: "no tool at hand measures the dose of a, 0.001 mL", hint: "draw it from a stock; its steps are on the card",
			why: "no jar on the shelf is large enough"},
		{size: "250 mL", spray: "100 gal/ac", rate: "a EC 0.5 fl oz/ac", tools: []string{"syringe-10"},
			trouble: "no tool at hand", hint: "get a finer tool; the smallest jar that the finest at hand serves is 25600 mL",
			why: "neither helps: 1 mL is 102.4 times the dose"},
		{size: "1 qt", spray: "15 gal/ac", rate: "a SC 1 pt/ac", tools: []string{"cylinder-100"}, parts: 10,
			trouble: "no tool", hint: "draw it from a stock", why: "a cylinder reads no 7.9 mL, but 79 mL of a stock"},
		{size: "1 qt", spray: "15 gal/ac", rate: "a WG 1 lb/ac", tools: []string{"syringe"},
			trouble: "no tool", hint: "get a scale: a dry product is weighed", why: "no scale at all"},
		{size: "500 mL", spray: "20 gal/ac", rate: "a EC 5 fl oz/ac", tools: []string{"syringe-3"},
			trouble: "", why: "1.953 mL as 2.0 mL is 2.4 % off"},
		{size: "500 mL", spray: "20 gal/ac", rate: "a EC 5.6 fl oz/ac", tools: []string{"syringe-10"}, larger: "1 qt",
			trouble: "the dose of a, 1.094 mL, can be poured as 1 mL, 8.6 % off; the tolerance is 5 %", hint: "take the 1 qt jar",
			why: "between two marks"},
		{size: "1 mL", spray: "100 gal/ac", rate: "a EC 0.1 fl oz/ac", larger: "", parts: 0,
			trouble: "below 0.001 mL", hint: "take a larger jar", why: "less than what is printed, in every jar"},
	} {
		p, err := bench(t, c.tools...).Propose(ask(t, c.size, c.spray, c.rate))
		if err != nil {
			t.Fatalf("%s: %v", c.why, err)
		}
		if (c.trouble == "") != p.Passes() {
			t.Errorf("%s: passes %v: %v", c.why, p.Passes(), p.Trouble)
			continue
		}
		if !p.Passes() && (!strings.Contains(p.Trouble[0].Msg, c.trouble) || !strings.Contains(p.Trouble[0].Hint, c.hint)) {
			t.Errorf("%s: %q, hint %q", c.why, p.Trouble[0].Msg, p.Trouble[0].Hint)
		}
		if larger := p.Larger; (larger != nil) != (c.larger != "") || larger != nil && larger.Recipe.Jar.String() != c.larger {
			t.Errorf("%s: larger %+v", c.why, larger)
		}
		if d := p.Diluted; (d != nil) != (c.parts != 0) || d != nil && d.Doses[0].Stock.Parts != c.parts {
			t.Errorf("%s: diluted %v", c.why, d != nil)
		}
		if best := p.Best(); best != nil && !best.Passes() {
			t.Errorf("%s: the best proposal does not pass", c.why)
		}
	}
}

// TestProposeRefuses holds that a request without sense stays a problem.
func TestProposeRefuses(t *testing.T) {
	_, err := bench(t).Propose(ask(t, "1 qt", "1 gal/ac", "a EC 2 gal/ac"))
	var ps jar.Problems
	if !errors.As(err, &ps) || ps[0].Code != jar.Overfull {
		t.Errorf("got %v", err)
	}
}

// TestCrampedJar holds that stocks never bring more carrier than there is room for.
func TestCrampedJar(t *testing.T) {
	q := ask(t, "250 mL", "15 gal/ac", "a EC 0.21 fl oz/ac", "b SL 8 gal/ac")
	q.WaterShare = unit.Frac(1, 100)
	c, err := bench(t, "syringe-3", "syringe-60", "cylinder").Diluted(q)
	if err != nil {
		t.Fatal(err)
	}
	if !c.Cramped || c.Passes() {
		t.Errorf("cramped %v, passes %v: the stock alone is more than the water", c.Cramped, c.Passes())
	}
}

// TestCardJSON holds the JSON of a card to its figures.
func TestCardJSON(t *testing.T) {
	c, err := bench(t).Diluted(ask(t, "250 mL", "20 gal/ac", "a SC 1 pt/ac", "b WG 0.5 oz/ac"))
	if err != nil {
		t.Fatal(err)
	}
	j := c.JSON()
	a, b := j.Lines[0], j.Lines[1]
	if a.Name == "b" {
		a, b = b, a
	}
	if a.Exact != "1.563" || a.Poured != "1.600" || a.Error != "2.40" || a.Pour.Tool != "syringe-3" || a.Stock != nil {
		t.Errorf("a: %+v", a)
	}
	if b.Stock == nil || b.Stock.Parts != 10 || b.Unit != "g" || b.Pour.Unit != "mL" || b.Stock.Product.Unit != "g" || !b.Shake {
		t.Errorf("b: %+v", b)
	}
	if !j.Passes || j.Recipe.Jar.ML != "250.000" {
		t.Errorf("%+v", j)
	}
}

// follow pours a card as a person would who knows nothing of how it was worked out,
// and returns the rate of each product that ends up in the finished jar, in the
// base unit of the rate asked for, by product name.
func follow(t *rapid.T, c *jar.Card) map[string]unit.Number {
	whole := pourOut(t, &c.First).Add(pourOut(t, &c.TopUp))
	got := map[string]unit.Number{}
	for i := range c.Doses {
		l := &c.Doses[i]
		p := &l.Dose.Product
		in := pourOut(t, &l.Pour)
		product := in
		if l.Stock != nil {
			strength := pourOut(t, &l.Stock.Product).Quo(l.Stock.Volume.Base())
			onMark(t, l.Stock.MadeIn, l.Stock.Volume.Base())
			product = in.Mul(strength)
			whole = whole.Add(in)
		} else if !l.Dose.Amount.Dry {
			whole = whole.Add(in)
		} else if p.Density.Sign() > 0 {
			whole = whole.Add(product.Quo(p.Density.Base()))
		}
		got[p.Name] = product
	}
	for i := range c.Doses {
		if whole.Sign() == 0 {
			break
		}
		p := &c.Doses[i].Dose.Product
		n := got[p.Name].Quo(whole)
		if p.Rate.Basis().PerArea() {
			n = n.Mul(c.Recipe.SprayVolume.Base())
		}
		if dry := c.Doses[i].Dose.Amount.Dry; dry != p.Rate.Basis().Dry() {
			if dry {
				n = n.Quo(p.Density.Base())
			} else {
				n = n.Mul(p.Density.Base())
			}
		}
		// What a crowded fill holds is meant for all of its water.
		got[p.Name] = n.Mul(c.Recipe.Finished.Per(c.Recipe.Jar))
	}
	return got
}

// pourOut sums the draws and holds each against its tool.
func pourOut(t *rapid.T, p *jar.Pour) unit.Number {
	sum := unit.Int(0)
	for _, d := range p.Draws {
		onMark(t, p.Tool, d.Base())
		sum = sum.Add(d.Base())
	}
	if p.Tool == nil {
		return p.Poured.Base() // to a mark, or nothing
	}
	return sum
}

func onMark(t *rapid.T, tool *mix.Tool, n unit.Number) {
	if n.Cmp(tool.Low.Base()) < 0 || n.Cmp(tool.High.Base()) > 0 || !n.Quo(tool.Graduation.Base()).IsInt() {
		t.Fatalf("%s of %s cannot be read: %v to %v by %v", n.Short(6), tool.ID, tool.Low, tool.High, tool.Graduation)
	}
}

// TestPouringByTheCard is the promise of a card: what passes gives every final rate
// within the tolerance, by tools used inside their range and on their marks.
func TestPouringByTheCard(t *testing.T) {
	passed, stocks := 0, 0
	rapid.Check(t, func(rt *rapid.T) {
		b := bench(t, rapid.SliceOfNDistinct(rapid.SampledFrom([]string{"syringe-1,", "syringe-3", "syringe-10", "syringe-60", "cylinder-100",
			"cylinder-250", "cylinder-500", "scale-01", "scale-001"}), 3, 9, rapid.ID[string]).Draw(rt, "tools")...)
		q := request(mixed()).Draw(rt, "request")
		c, err := b.Diluted(q)
		if err != nil {
			return
		}
		got := follow(rt, &c)
		for i := range c.Doses {
			l := &c.Doses[i]
			off := got[l.Dose.Product.Name].Quo(l.Dose.Product.Rate.Base()).Sub(unit.Int(1))
			if l.Passes && !b.Within(off) {
				rt.Fatalf("%s is %s off and passes", l.Dose.Product.Name, off.Short(6))
			}
			if l.Pour.Tool != nil && !c.Cramped && !off.Equal(l.Rate) {
				rt.Fatalf("%s is %s off, the card says %s", l.Dose.Product.Name, off.Short(6), l.Rate.Short(6))
			}
			if l.Stock != nil {
				stocks++
			}
		}
		if c.Passes() {
			passed++
		}
	})
	if passed == 0 || stocks == 0 {
		t.Errorf("%d cards passed, %d stocks: too few to tell", passed, stocks)
	}
}

// TestProposalInJSON: what does not pass as asked carries its problem and the cards
// that stand in for it; what passes carries its card alone.
func TestProposalInJSON(t *testing.T) {
	b := bench(t)
	for _, c := range []struct {
		why                     string
		dose                    string
		passes, diluted, larger bool
	}{
		{"a dose that a syringe draws", "1 qt/100 gal", true, false, false},
		{"a dose below every mark, whatever the jar", "0.5 fl oz/100 gal", false, true, false},
		{"a dose just below a mark", "4 fl oz/100 gal", false, true, true},
	} {
		p, err := b.Propose(ask(t, "250 mL", "100 gal/ac", "a SL "+c.dose))
		if err != nil {
			t.Fatal(err)
		}
		j := p.JSON()
		if j.Passes != c.passes || (j.Diluted != nil) != c.diluted || (j.Larger != nil) != c.larger || (len(j.Problems) > 0) == c.passes || j.Asked == nil {
			t.Errorf("%s: passes %v, stock %v, larger %v, %d problems", c.why, j.Passes, j.Diluted != nil, j.Larger != nil, len(j.Problems))
		}
	}
}

// TestErrorsCarryTheirSign, rounded to a tenth of a per cent.
func TestErrorsCarryTheirSign(t *testing.T) {
	for _, c := range []struct {
		off  unit.Number
		want string
	}{{unit.Frac(3, 1000), "+0.3 %"}, {unit.Frac(-26, 1000), "-2.6 %"}, {unit.Int(0), "0.0 %"}, {unit.Frac(1, 10000), "0.0 %"}} {
		l := jar.Line{Error: c.off, Rate: c.off.Neg()}
		if got := l.ErrorSays(); got != c.want {
			t.Errorf("got %q, want %q", got, c.want)
		}
		if got := l.RateSays(); c.want != "0.0 %" && (got[1:] != c.want[1:] || got[0] == c.want[0]) {
			t.Errorf("the rate has a sign of its own: %q", got)
		}
	}
}
