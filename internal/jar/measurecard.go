package jar

import "tankleaf.example/internal/unit"

// Card is a recipe as it is poured, with the tools of a bench.
type Card struct {
	Recipe  Recipe // exact
	First   Pour   // the water before the first product, less what stocks bring if there is no room at the top
	Doses   []Line // in order of addition
	TopUp   Pour   // the water after the last; without a tool it is too little to measure or filled to a mark
	Filled  unit.Volume
	Stocks  unit.Volume // carrier that came in with stocks, taken out of the jar's water
	Cramped bool        // the stocks bring more carrier than the jar takes; nothing then passes
}

// Line is one product of a card.
type Line struct {
	Dose   Dose        // exact
	Stock  *Stock      // nil: poured as it is
	Pour   Pour        // of the product, or of its stock
	Poured unit.Amount // of product in the pour
	Error  unit.Number // poured ÷ exact dose − 1
	Rate   unit.Number // what the rate in the finished jar is off by, with all the rounding of the water
	Shake  bool        // shake before drawing
	Passes bool        // a tool measures it and its rate is within the tolerance
}

// Passes reports whether every product can be measured within the tolerance.
func (c *Card) Passes() bool {
	for i := range c.Doses {
		if !c.Doses[i].Passes {
			return false
		}
	}
	return true
}

// Direct measures a recipe without any stock.
func (b *Bench) Direct(q Request) (Card, error) {
	r, err := q.Recipe()
	if err != nil {
		return Card{}, err
	}
	return b.card(r, make([]int, len(r.Doses))), nil
}

// Diluted measures a recipe and makes a stock of each product that cannot be
// measured within the tolerance otherwise, the weakest dilution first. The card
// need not pass: a bench without a cylinder makes no stock.
func (b *Bench) Diluted(q Request) (Card, error) {
	r, err := q.Recipe()
	if err != nil {
		return Card{}, err
	}
	level := make([]int, len(r.Doses)) // 0: as it is; else 1 + index in stockParts
	for {
		c := b.card(r, level)
		if !raise(&c, level) {
			return c, nil
		}
	}
}

// raise moves every dose that fails to the next dilution and reports whether any
// could be moved. In a jar that is cramped already more dilution does no good.
func raise(c *Card, level []int) bool {
	moved := false
	if c.Cramped {
		return false
	}
	for i := range c.Doses {
		if !c.Doses[i].Passes && level[i] < len(stockParts) {
			level[i]++
			moved = true
		}
	}
	return moved
}

// card measures doses at their levels of dilution, then the water around them.
func (b *Bench) card(r Recipe, level []int) Card {
	c := Card{Recipe: r}
	for i := range r.Doses {
		c.Doses = append(c.Doses, b.line(&r.Doses[i], level[i]))
	}
	taken := unit.Volume{}
	for i := range c.Doses {
		l := &c.Doses[i]
		taken = taken.Add(l.fills())
		if l.Stock != nil {
			c.Stocks = c.Stocks.Add(l.fills().Sub(l.takes()))
		}
	}
	b.water(&c, taken)
	for i := range c.Doses {
		c.Doses[i].judge(b, &c)
	}
	return c
}

// line measures one dose as it is or from a stock.
func (b *Bench) line(d *Dose, level int) Line {
	l := Line{Dose: *d, Shake: d.Product.Settles()}
	if level == 0 {
		l.Pour = b.Pour(d.Amount)
		l.Poured, l.Error = l.Pour.Poured, l.Pour.Error
		return l
	}
	parts := unit.Int(int64(stockParts[level-1]))
	l.Pour = b.Pour(amount(false, d.Amount.Base().Mul(parts)))
	l.Poured, l.Error = amount(d.Amount.Dry, l.Pour.Poured.Base().Quo(parts)), l.Pour.Error
	if s, ok := b.Stock(&d.Product, stockParts[level-1], l.Pour.Poured.Volume); ok && l.Pour.Tool != nil {
		l.Stock, l.Shake = &s, s.Shake
		return l
	}
	l.Pour = Pour{Exact: l.Pour.Exact}
	l.Poured, l.Error = amount(d.Amount.Dry, unit.Number{}), unit.Number{}
	return l
}

// takes returns the volume that the poured product itself adds.
func (l *Line) takes() unit.Volume {
	if !l.Dose.TakesKnown || l.Dose.Amount.Base().Sign() == 0 {
		return unit.Volume{}
	}
	return l.Dose.Takes.Times(l.Poured.Base().Quo(l.Dose.Amount.Base()))
}

// fills returns the volume that the pour adds, carrier of a stock included.
func (l *Line) fills() unit.Volume {
	if l.Stock != nil {
		return l.Pour.Poured.Volume
	}
	return l.takes()
}

// water measures what goes in first and what tops up. The carrier of stocks comes
// off the top-up, and off the first water when that is not enough. The top-up is
// what is still missing once everything else was poured, so that the errors of the
// other pours are not carried on into the finished volume.
func (b *Bench) water(c *Card, taken unit.Volume) {
	left := c.Recipe.Finished.Sub(taken)
	if left.Sign() < 0 {
		c.Cramped = true
		left = unit.Volume{}
	}
	first := c.Recipe.FirstWater
	if left.Cmp(first) < 0 {
		first = left
	}
	c.First = b.pourWater(first, left)
	c.TopUp = b.pourWater(left.Sub(c.First.Poured.Volume), left)
	c.Filled = taken.Add(c.First.Poured.Volume).Add(c.TopUp.Poured.Volume)
}

// pourWater measures water. What is too little for any tool is left out; what is
// too much for all of them is filled to a mark on the jar, which is taken to be
// right. It never pours more than most by rounding up.
func (b *Bench) pourWater(v, most unit.Volume) Pour {
	exact := unit.Amount{Volume: v}
	p := b.Pour(exact)
	if p.Tool != nil {
		if p.Poured.Volume.Cmp(most) > 0 {
			p = b.roundDown(p)
		}
		return p
	}
	for i := range b.Tools {
		t := &b.Tools[i]
		if !t.High.Dry && v.Cmp(t.High.Volume) < 0 {
			return p
		}
	}
	p.Poured = exact
	return p
}

// roundDown takes one graduation off the last draw; below the tool's range nothing
// is poured.
func (b *Bench) roundDown(p Pour) Pour {
	less := p.Poured.Volume.Sub(p.Tool.Graduation.Volume)
	q, ok := draw(p.Tool, unit.Amount{Volume: less})
	if !ok {
		return Pour{Exact: p.Exact}
	}
	q.Exact = p.Exact
	q.Error = q.Poured.Base().Quo(p.Exact.Base()).Sub(unit.Int(1))
	return q
}

// judge works out by how much the rate in the finished jar is off.
func (l *Line) judge(b *Bench, c *Card) {
	if l.Pour.Tool == nil || c.Cramped || c.Filled.Sign() <= 0 {
		return
	}
	l.Rate = l.Poured.Base().Quo(l.Dose.Amount.Base()).Mul(c.Recipe.Finished.Per(c.Filled)).Sub(unit.Int(1))
	l.Passes = b.Within(l.Rate) && b.Within(l.Error)
}

// Blank is a jar of carrier alone: the control of a trial.
func (b *Bench) Blank(v unit.Volume) Card {
	one := unit.Int(1)
	c := Card{Recipe: Recipe{Jar: v, WaterShare: one, Finished: v, Water: v, FirstWater: v}}
	c.First = b.pourWater(v, v.Add(v))
	c.Filled = c.First.Poured.Volume
	return c
}
