package trial_test

import (
	"testing"

	"tankleaf.example/internal/jar"
	"tankleaf.example/internal/mix"
	"tankleaf.example/internal/trial"
	"tankleaf.example/internal/unit"
)

// drawn sums the draws of a pour and holds each to the marks and the range of its
// tool.
func drawn(t *testing.T, p *jar.Pour) unit.Number {
	t.Helper()
	sum := unit.Int(0)
	for _, d := range p.Draws {
		n, tool := d.Base(), p.Tool
		if n.Cmp(tool.Low.Base()) < 0 || n.Cmp(tool.High.Base()) > 0 || !n.Quo(tool.Graduation.Base()).IsInt() {
			t.Errorf("%v cannot be read on %s", d, tool.ID)
		}
		sum = sum.Add(n)
	}
	return sum
}

// TestPouringThePackets pours every jar of every trial of the office by its card, with
// nothing but draws and the stocks that groups make, and asks for the rate of each
// product in the finished jar: within the tolerance of the one that was asked for.
func TestPouringThePackets(t *testing.T) {
	book := demo().Index().Book()
	rates := 0
	for i := range book.Trials {
		b := &book.Trials[i]
		tr := plan(t, planner().FromBook(b))
		strength := map[string]unit.Number{}
		for _, s := range tr.Stocks {
			name := tr.Products[s.Product].Name
			strength[name] = drawn(t, &s.Stock.Product).Quo(s.Stock.Volume.Base())
		}
		for n := range tr.Jars {
			rates += pourJar(t, b, tr, &tr.Jars[n], strength)
		}
	}
	if rates < 40 {
		t.Errorf("only %d rates were checked", rates)
	}
}

func pourJar(t *testing.T, b *mix.Trial, tr *trial.Trial, j *trial.Jar, strength map[string]unit.Number) int {
	t.Helper()
	offs := ratesOff(t, b, j, strength)
	for i, off := range offs {
		if off.Max(off.Neg()).Cmp(tr.Tolerance) > 0 {
			t.Errorf("%s, jar %s: %s comes out %s %% off", b.ID, j.Code, j.Card.Doses[i].Dose.Product.Name, off.Mul(unit.Int(100)).Fixed(2))
		}
	}
	return len(offs)
}

// ratesOff pours a jar and returns what the rate of each product in it is off by.
func ratesOff(t *testing.T, b *mix.Trial, j *trial.Jar, strength map[string]unit.Number) []unit.Number {
	t.Helper()
	whole := drawn(t, &j.Card.First).Add(drawn(t, &j.Card.TopUp))
	got := make([]unit.Number, len(j.Card.Doses))
	for i := range j.Card.Doses {
		l := &j.Card.Doses[i]
		in := drawn(t, &l.Pour)
		got[i] = in
		if l.Stock != nil {
			got[i] = in.Mul(strength[l.Dose.Product.Name])
		}
		if l.Stock != nil || !l.Dose.Amount.Dry {
			whole = whole.Add(in)
		} else if d := l.Dose.Product.Density; d.Sign() > 0 {
			whole = whole.Add(in.Quo(d.Base()))
		}
	}
	full := j.Card.Recipe.Jar.Per(j.Card.Recipe.Finished) // 1 but for crowded jars
	offs := make([]unit.Number, len(got))
	for i := range j.Card.Doses {
		p := &j.Card.Doses[i].Dose.Product
		rate := got[i].Quo(whole.Mul(full))
		if p.Rate.Basis().PerArea() {
			rate = rate.Mul(b.SprayVolume.Base())
		}
		offs[i] = rate.Quo(p.Rate.Base()).Sub(unit.Int(1))
	}
	return offs
}

// TestPouringWronglyIsSeen: the same arithmetic finds a top-up poured twice, a dose
// drawn twice, and the first water left out.
func TestPouringWronglyIsSeen(t *testing.T) {
	book := demo().Index().Book()
	b := &book.Trials[0]
	for _, c := range []struct {
		why   string
		wrong func(*jar.Card)
	}{
		{"top-up twice", func(c *jar.Card) { c.TopUp.Draws = append(c.TopUp.Draws, c.TopUp.Draws...) }},
		{"dose twice", func(c *jar.Card) { c.Doses[0].Pour.Draws = append(c.Doses[0].Pour.Draws, c.Doses[0].Pour.Draws...) }},
		{"first water left out", func(c *jar.Card) { c.First.Draws = nil }},
	} {
		tr := plan(t, planner().FromBook(b))
		j := &tr.Jars[0]
		c.wrong(&j.Card)
		worst := unit.Int(0)
		for _, off := range ratesOff(t, b, j, nil) {
			worst = worst.Max(off).Max(off.Neg())
		}
		if worst.Cmp(tr.Tolerance) <= 0 {
			t.Errorf("%s: rates within %s %%", c.why, worst.Mul(unit.Int(100)).Fixed(2))
		}
	}
}
