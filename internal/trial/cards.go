package trial

import (
	"errors"
	"fmt"
	"slices"

	"tankleaf.example/internal/jar"
	"tankleaf.example/internal/mix"
	"tankleaf.example/internal/unit"
)

// fillStep is what a jar's finished volume is rounded down to: a figure that people
// remember and cylinders have a mark for.
var fillStep = unit.Milliliter.Of(unit.Int(10))

// fillOf returns the finished volume of a vessel with its headspace left free.
func (d *draft) fillOf(size unit.Volume) unit.Volume {
	room := size.Times(unit.Int(1).Sub(d.book.Routine.Headspace))
	return fillStep.Times(room.Per(fillStep).Floor())
}

// pour finds the vessel in which every dose of every jar can be measured with the
// fewest stocks, of those the smallest: a stock is one more thing to go wrong, a
// larger jar only more to clear away.
func (d *draft) pour() {
	vessels := d.vessels()
	if len(d.ps) > 0 {
		return
	}
	var best []jar.Card
	least := 0
	for _, v := range vessels {
		cards, ok := d.cards(v)
		if n := stocksOf(cards); ok && (best == nil || n < least) {
			best, least, d.trial.Vessel = cards, n, v
		}
		if best != nil && least == 0 {
			break
		}
	}
	if best == nil {
		d.cannotPour(vessels)
		return
	}
	d.lay(best)
}

// stocksOf counts the products that some card draws from a stock.
func stocksOf(cards []jar.Card) int {
	names := map[string]bool{}
	for i := range cards {
		for _, l := range cards[i].Doses {
			if l.Stock != nil {
				names[l.Dose.Product.Name] = true
			}
		}
	}
	return len(names)
}

// vessels lists the vessels to try: the smallest that holds the volume asked for, or
// all of the shelf.
func (d *draft) vessels() []Vessel {
	var list []Vessel
	for _, size := range d.book.Site.Jars {
		v := Vessel{Size: size, Fill: d.fillOf(size)}
		if v.Fill.Sign() <= 0 {
			continue
		}
		if d.Jar.Sign() <= 0 {
			list = append(list, v)
		} else if room := size.Times(unit.Int(1).Sub(d.book.Routine.Headspace)); room.Cmp(d.Jar) >= 0 {
			return []Vessel{{Size: size, Fill: d.Jar}}
		}
	}
	switch n := len(d.book.Site.Jars); {
	case len(list) > 0:
	case d.Jar.Sign() > 0 && n > 0:
		largest := d.book.Site.Jars[n-1]
		d.problem(NoVessel, "", fmt.Sprintf("no jar on the shelf holds %v with %s %% of it left free", d.Jar,
			d.book.Routine.Headspace.Mul(unit.Int(100)).Short(0)), fmt.Sprintf("write %v, which the %v jar holds", d.fillOf(largest), largest))
	default:
		d.problem(NoVessel, "", "the office has no jars", "list their sizes under jars: in data/site.yaml")
	}
	return list
}

// cards measures every jar in a vessel; ok is false as soon as one does not pass.
func (d *draft) cards(v Vessel) (cards []jar.Card, ok bool) {
	for i := range d.specs {
		s := &d.specs[i]
		if len(s.products) == 0 {
			cards = append(cards, d.bench.Blank(v.Fill))
			continue
		}
		c, err := d.bench.Diluted(d.recipe(s, v))
		if err != nil || !c.Passes() {
			return nil, false
		}
		cards = append(cards, c)
	}
	return cards, true
}

// recipe is the request for the doses of one jar.
func (d *draft) recipe(s *spec, v Vessel) jar.Request {
	q := jar.Request{Jar: v.Fill, SprayVolume: d.SprayVolume, WaterShare: s.share, FirstWater: d.book.Site.FirstWater, Steps: d.book.Order}
	for _, i := range s.products {
		p := d.trial.Products[i]
		if s.ordered {
			p.Position = 0
		}
		q.Products = append(q.Products, p)
	}
	if s.ordered {
		q.Steps = nil
	}
	return q
}

// cannotPour says what is wrong with the first jar that cannot be poured, in the
// largest vessel, with the nearest that can.
func (d *draft) cannotPour(vessels []Vessel) {
	v := vessels[len(vessels)-1]
	bench := *d.bench
	bench.Jars = nil
	for _, size := range d.book.Site.Jars {
		bench.Jars = append(bench.Jars, d.fillOf(size))
	}
	slices.SortFunc(bench.Jars, unit.Volume.Cmp)
	for i := range d.specs {
		if len(d.specs[i].products) == 0 {
			continue
		}
		p, err := bench.Propose(d.recipe(&d.specs[i], v))
		var ps jar.Problems
		if errors.As(err, &ps) {
			d.ps = append(d.ps, ps...)
			return
		}
		if !p.Passes() && p.Diluted == nil {
			d.ps = append(d.ps, p.Trouble...)
			return
		}
	}
	d.problem(NoVessel, "", "no vessel serves all jars of the trial", "ask for fewer jars")
}

// lay turns specs and cards into jars.
func (d *draft) lay(cards []jar.Card) {
	for i, s := range d.specs {
		j := Jar{Role: s.role, About: s.about, Water: s.water, Order: s.order, Card: cards[i]}
		for _, l := range cards[i].Doses {
			j.Products = append(j.Products, d.indexOf(l.Dose.Product.Name))
		}
		d.guard(&j)
		d.trial.Jars = append(d.trial.Jars, j)
	}
}

func (d *draft) indexOf(name string) int {
	return slices.IndexFunc(d.trial.Products, func(p jar.Product) bool { return p.Name == name })
}

// deal repeats the jars in blocks, gives each its code and its place in the day. A
// plan in which each jar hangs on the one before keeps its own order.
func (d *draft) deal() {
	one := d.trial.Jars
	if n := len(one) * d.trial.Blocks; n > MaxJars {
		d.problem(TooManyJars, "", fmt.Sprintf("%d jars are more than there are codes for", n), fmt.Sprintf("ask for %d or fewer", MaxJars))
		return
	}
	r := &random{state: d.Seed}
	codes := r.codes(len(one) * d.trial.Blocks)
	d.trial.Jars = nil
	for block := range d.trial.Blocks {
		order := r.shuffled(len(one))
		if d.Adaptive {
			order = indexes(len(one))
		}
		for _, i := range order {
			j := one[i]
			j.Block, j.Run = block+1, len(d.trial.Jars)+1
			j.Code = codes[j.Run-1]
			d.trial.Jars = append(d.trial.Jars, j)
		}
	}
	d.trial.Hazards = d.allHazards()
	d.findSteps()
	d.stocks()
	d.trial.Time = d.trial.time()
}

func (d *draft) allHazards() []mix.Hazard {
	all := slices.Clone(d.trial.Hazards)
	for i := range d.trial.Jars {
		all = append(all, d.trial.Jars[i].Hazards...)
	}
	slices.Sort(all)
	return slices.Compact(all)
}

// stocks makes one stock for all jars that draw from the same: what a group makes
// once before it begins. Where one cylinder does not hold it, every jar has its own.
func (d *draft) stocks() {
	type key struct{ product, parts int }
	drawn, count := map[key]unit.Volume{}, map[key]int{}
	var keys []key
	for i := range d.trial.Jars {
		for k, l := range d.trial.Jars[i].Card.Doses {
			if l.Stock == nil {
				continue
			}
			at := key{d.trial.Jars[i].Products[k], l.Stock.Parts}
			if count[at] == 0 {
				keys = append(keys, at)
			}
			count[at]++
			drawn[at] = drawn[at].Add(l.Pour.Poured.Volume)
		}
	}
	for _, k := range keys {
		d.trial.Stocks = append(d.trial.Stocks, d.batch(k.product, k.parts, drawn[k], count[k]))
	}
}

// batch returns the stock for a volume drawn by so many jars, in as few times as the
// cylinders allow.
func (d *draft) batch(product, parts int, drawn unit.Volume, jars int) StockBatch {
	for times := 1; times <= jars; times++ {
		each := drawn.Over(unit.Int(int64(times)))
		if times > 1 { // whole jars draw from each, and they may not share evenly
			each = drawn.Times(unit.Frac(int64((jars+times-1)/times), int64(jars)))
		}
		if s, ok := d.bench.Stock(&d.trial.Products[product], parts, each); ok {
			return StockBatch{Product: product, Stock: s, Times: times}
		}
	}
	panic("trial: no stock for a jar that has one")
}
