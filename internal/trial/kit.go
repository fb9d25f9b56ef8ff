package trial

import (
	"cmp"
	"fmt"
	"slices"

	"tankleaf.example/internal/jar"
	"tankleaf.example/internal/mix"
	"tankleaf.example/internal/unit"
)

// People is who pours a trial.
type People struct {
	Persons int  // 0: as many as make the groups
	Groups  int  // 0: as many as the persons make
	Shared  bool // the jars are dealt out among the groups; otherwise each group pours all
}

// PeopleOf returns who pours a trial of the book: one person when it does not say.
func PeopleOf(t *mix.Trial) People {
	p := People{Persons: t.Persons, Groups: t.Groups, Shared: t.Shared}
	if p.Persons == 0 && p.Groups == 0 {
		p.Persons = 1
	}
	return p
}

// groupSize is how many people pour together: one reads the card, one measures, one
// pours, one writes. Common practice, no source.
const groupSize = 4

// Kit is what has to stand on the tables before people come.
type Kit struct {
	Persons, Groups int
	Sets            int // times that all jars are poured
	Jars            int
	Products        []ProductTotal
	Waters          []WaterTotal
	Vessels         Count
	VesselSize      unit.Volume
	Tools           []ToolCount
	Wear            []ItemCount
	Other           []ItemCount
	Spare           unit.Number // share that products and waters are above the cards
}

// Count is a number of things with what is kept in reserve.
type Count struct{ Needed, Spare int }

// Total returns all of them.
func (c Count) Total() int { return c.Needed + c.Spare }

// ProductTotal is all that is poured of one product, stocks included.
type ProductTotal struct {
	Product int // index
	Cards   unit.Amount
	Bring   unit.Amount // with the spare, rounded up to a whole mL or g
}

// WaterTotal is all that is poured of one water.
type WaterTotal struct {
	Water mix.ID // "": whatever the office uses
	Cards unit.Volume
	Bring unit.Volume // with the spare, rounded up to a tenth of a liter
	Salts []SaltTotal // of a water that is made up
}

// SaltTotal is what a made water takes of one reagent, for all that is brought.
type SaltTotal struct {
	Name string
	Pour jar.Pour
}

// ToolCount is a measuring tool. Syringes and pipettes serve one liquid each, so
// that nothing is carried from one product into another.
type ToolCount struct {
	Tool *mix.Tool
	Count
}

// ItemCount is a thing of the routine's kit.
type ItemCount struct {
	Item *mix.KitItem
	Count
}

// Kit counts what a trial needs for people. People or groups that cannot be give
// [jar.Problems].
func (p *Planner) Kit(t *Trial, who People) (Kit, error) {
	k, ps := p.kitFor(t, who)
	if len(ps) > 0 {
		return Kit{}, ps
	}
	k.count(p, t)
	return k, nil
}

func (p *Planner) kitFor(t *Trial, who People) (Kit, jar.Problems) {
	var ps jar.Problems
	add := func(msg, hint string) { ps = append(ps, jar.Problem{Code: BadCount, Msg: msg, Hint: hint}) }
	switch {
	case who.Persons < 0 || who.Groups < 0 || who.Persons == 0 && who.Groups == 0:
		add("there is nobody to pour the jars", "write 1 person or more, or 1 group or more")
		return Kit{}, ps
	case who.Persons == 0:
		who.Persons = who.Groups * groupSize
	case who.Groups == 0:
		who.Groups = (who.Persons + groupSize - 1) / groupSize
	case who.Groups > who.Persons:
		add(fmt.Sprintf("%d groups of %d people", who.Groups, who.Persons), fmt.Sprintf("write %d groups or fewer", who.Persons))
	}
	once := len(t.once())
	if who.Shared && who.Groups > once {
		add(fmt.Sprintf("%d jars shared among %d groups", once, who.Groups), fmt.Sprintf("write %d groups or fewer, or let each group pour all jars", once))
	}
	k := Kit{Persons: who.Persons, Groups: who.Groups, Sets: who.Groups, Spare: t.Routine.Spare}
	if who.Shared {
		k.Sets = 1
	}
	k.Jars = once * k.Sets
	return k, ps
}

// reserve is the spare of things that are counted: the routine's share, at least
// one.
func (k *Kit) reserve(n int) Count {
	spare, _ := k.Spare.Mul(unit.Int(int64(n))).Round(0).Int64()
	if k.Spare.Sign() > 0 {
		spare = max(spare, 1)
	}
	return Count{n, int(spare)}
}

func (k *Kit) count(p *Planner, t *Trial) {
	k.products(t)
	k.waters(p, t)
	k.VesselSize, k.Vessels = t.Vessel.Size, k.reserve(k.Jars)
	k.tools(p, t)
	for i := range t.Routine.Kit {
		it := &t.Routine.Kit[i]
		c := ItemCount{Item: it, Count: k.things(it)}
		if it.Wear {
			k.Wear = append(k.Wear, c)
		} else {
			k.Other = append(k.Other, c)
		}
	}
}

func (k *Kit) things(it *mix.KitItem) Count {
	switch it.Per {
	case mix.PerPerson:
		return k.reserve(it.Count * k.Persons)
	case mix.PerGroup:
		return Count{Needed: it.Count * k.Groups}
	case mix.PerJar:
		return k.reserve(it.Count * k.Jars)
	case mix.PerRoom:
		return Count{Needed: it.Count}
	case mix.NoPer:
	}
	return Count{}
}

// products sums the doses. Those drawn from a stock count by the stock that is made,
// for what stays in the cylinder is gone too. In an adaptive plan each product is
// counted over the way that takes most of it.
func (k *Kit) products(t *Trial) {
	for i := range t.Products {
		sum := t.most(func(j *Jar) unit.Number { return direct(j, i) })
		dry := false
		for n := range t.Jars {
			for at, l := range t.Jars[n].Card.Doses {
				dry = dry || t.Jars[n].Products[at] == i && l.Dose.Amount.Dry
			}
		}
		sum = sum.Mul(unit.Int(int64(k.Sets)))
		for _, s := range t.Stocks {
			if s.Product == i {
				// With shared jars each group still makes its own stock.
				sum = sum.Add(s.Stock.Product.Poured.Base().Mul(unit.Int(int64(s.Times * k.Groups))))
			}
		}
		if sum.Sign() > 0 {
			k.Products = append(k.Products, ProductTotal{i, amountOf(dry, sum), amountOf(dry, k.upTo(sum, unit.Int(1)))})
		}
	}
}

// direct is what a jar takes of a product without a stock.
func direct(j *Jar, product int) unit.Number {
	sum := unit.Int(0)
	for at, l := range j.Card.Doses {
		if j.Products[at] == product && l.Stock == nil {
			sum = sum.Add(l.Poured.Base())
		}
	}
	return sum
}

func amountOf(dry bool, n unit.Number) unit.Amount {
	if dry {
		return unit.Amount{Dry: true, Mass: unit.Gram.Of(n)}
	}
	return unit.Amount{Volume: unit.Milliliter.Of(n)}
}

// upTo adds the spare and rounds up to a whole step.
func (k *Kit) upTo(n, step unit.Number) unit.Number {
	return n.Mul(unit.Int(1).Add(k.Spare)).Quo(step).Neg().Floor().Neg().Mul(step)
}

// most sums over the jars that are poured; in an adaptive plan over the controls and
// the way for which the sum is largest.
func (t *Trial) most(of func(*Jar) unit.Number) unit.Number {
	sum := unit.Int(0)
	if !t.adaptive() {
		for i := range t.Jars {
			sum = sum.Add(of(&t.Jars[i]))
		}
		return sum
	}
	inPlan := map[int]bool{}
	for _, s := range t.Plan.Steps {
		inPlan[s.Jar] = true
	}
	for i := range t.Jars {
		if !inPlan[i] {
			sum = sum.Add(of(&t.Jars[i]))
		}
	}
	return sum.Add(t.mostFrom(0, of))
}

func (t *Trial) mostFrom(step int, of func(*Jar) unit.Number) unit.Number {
	if step < 0 {
		return unit.Int(0)
	}
	s := t.Plan.Steps[step]
	return of(&t.Jars[s.Jar]).Add(t.mostFrom(s.Reacts.Step, of).Max(t.mostFrom(s.Clear.Step, of)))
}

// waters sums the water of the cards, with the carrier of the stocks in the first.
func (k *Kit) waters(p *Planner, t *Trial) {
	var names []mix.ID
	for i := range t.Jars {
		if !slices.Contains(names, t.Jars[i].Water) {
			names = append(names, t.Jars[i].Water)
		}
	}
	slices.Sort(names)
	for n, w := range names {
		ml := t.most(func(j *Jar) unit.Number {
			if j.Water != w {
				return unit.Int(0)
			}
			return j.Card.First.Poured.Base().Add(j.Card.TopUp.Poured.Base())
		}).Mul(unit.Int(int64(k.Sets)))
		for _, s := range t.Stocks {
			if n == 0 {
				ml = ml.Add(s.Stock.Carrier().Base().Mul(unit.Int(int64(s.Times * k.Groups))))
			}
		}
		total := WaterTotal{Water: w, Cards: unit.Milliliter.Of(ml), Bring: unit.Milliliter.Of(k.upTo(ml, unit.Int(100)))}
		if src := p.judge.Index().Water(w); src != nil {
			for _, s := range src.MadeFrom {
				total.Salts = append(total.Salts, SaltTotal{s.Name, p.bench.Weigh(s, total.Bring)})
			}
		}
		k.Waters = append(k.Waters, total)
	}
}

// tools counts for each group one tool for each liquid, and one cylinder or scale of
// a kind.
func (k *Kit) tools(p *Planner, t *Trial) {
	type use struct {
		tool   mix.ID
		liquid string
	}
	uses := map[use]bool{}
	mark := func(tool *mix.Tool, liquid string) {
		if tool == nil {
			return
		}
		if tool.Kind != mix.Syringe && tool.Kind != mix.Pipette {
			liquid = ""
		}
		uses[use{tool.ID, liquid}] = true
	}
	for i := range t.Jars {
		j := &t.Jars[i]
		mark(j.Card.First.Tool, "water")
		mark(j.Card.TopUp.Tool, "water")
		for _, l := range j.Card.Doses {
			liquid := l.Dose.Product.Name
			if l.Stock != nil {
				liquid += fmt.Sprint(" 1:", l.Stock.Parts)
			}
			mark(l.Pour.Tool, liquid)
		}
	}
	for _, s := range t.Stocks {
		mark(s.Stock.Product.Tool, t.Products[s.Product].Name)
		mark(s.Stock.MadeIn, "")
	}
	number := map[mix.ID]int{}
	for u := range uses {
		number[u.tool]++
	}
	for i := range p.book.Tools {
		if n := number[p.book.Tools[i].ID]; n > 0 {
			k.Tools = append(k.Tools, ToolCount{&p.book.Tools[i], Count{Needed: n * k.Groups}})
		}
	}
	slices.SortFunc(k.Tools, func(a, b ToolCount) int {
		return cmp.Or(cmp.Compare(a.Tool.Kind, b.Tool.Kind), a.Tool.High.Base().Cmp(b.Tool.High.Base()), cmp.Compare(a.Tool.ID, b.Tool.ID))
	})
}
