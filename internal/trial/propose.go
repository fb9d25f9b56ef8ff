package trial

import (
	"fmt"
	"slices"
	"strings"

	"tankleaf.example/internal/compat"
	"tankleaf.example/internal/jar"
	"tankleaf.example/internal/mix"
	"tankleaf.example/internal/unit"
)

// spec is a jar before it is poured.
type spec struct {
	role     Role
	about    int // product that the role is about, -1: none
	products []int
	ordered  bool   // products stand in the order in which they go in
	order    string // whose order it is
	water    mix.ID
	share    unit.Number
	need     bool // the question is not answered without it
}

// propose lists the jars that the question asks for, the most needed first.
func (d *draft) propose() {
	d.add(spec{role: Carrier, about: -1, need: true})
	switch d.Question {
	case Cause:
		d.proposeCause()
	case Order:
		d.proposeOrders()
	case Water:
		d.proposeWaters()
	case Substitute:
		d.proposeSubstitutes()
	case Workshop:
		d.proposeWorkshop()
	case NoQuestion:
	}
	d.pairs()
}

// add puts a jar on the list unless the same is there already.
func (d *draft) add(s spec) {
	if s.water == "" {
		s.water = d.water()
	}
	if s.share.Sign() == 0 {
		s.share = d.Share
	}
	if s.role == Carrier {
		s.share = unit.Int(1)
	}
	if slices.ContainsFunc(d.specs, func(t spec) bool { return d.same(&s, &t) }) {
		return
	}
	d.specs = append(d.specs, s)
}

// same reports whether two jars hold the same in the same way.
func (d *draft) same(s, t *spec) bool {
	return s.water == t.water && s.share.Equal(t.share) && slices.Equal(d.inOrder(s), d.inOrder(t))
}

// inOrder returns the products of a jar in their order of addition.
func (d *draft) inOrder(s *spec) []int {
	if s.ordered {
		return s.products
	}
	return d.placed(s.products, d.book.Order)
}

// placed puts products in order by a table.
func (d *draft) placed(list []int, steps []mix.OrderStep) []int {
	var products []jar.Product
	for _, i := range list {
		products = append(products, d.trial.Products[i])
	}
	var out []int
	for _, p := range jar.Order(products, steps) {
		out = append(out, list[p.Given])
	}
	return out
}

func (d *draft) whole() spec { return spec{role: Whole, about: -1, products: d.trial.Mix, need: true} }

// alone adds each product by itself.
func (d *draft) alone(list []int, water mix.ID) {
	for _, i := range list {
		d.add(spec{role: Alone, about: i, products: []int{i}, water: water})
	}
}

// proposeOrders: the office's order, its reverse, the orders of sources that speak
// of every product, then each pair of neighbors exchanged.
func (d *draft) proposeOrders() {
	ours := d.placed(d.trial.Mix, d.book.Order)
	back := slices.Clone(ours)
	slices.Reverse(back)
	d.add(d.whole())
	other := func(list []int, whose string, need bool) {
		d.add(spec{role: OtherOrder, about: -1, products: list, ordered: true, order: whose, need: need})
	}
	other(back, "reversed", true)
	for i := range d.book.Sequences {
		s := &d.book.Sequences[i]
		if !s.Partial && len(jar.Silent(d.Mix, s)) == 0 {
			whose, _ := s.Name.In(d.book.Site.Languages[0], "en")
			other(d.placed(d.trial.Mix, s.Steps), whose, false)
		}
	}
	for i := 1; i < len(ours); i++ {
		swapped := slices.Clone(ours)
		swapped[i-1], swapped[i] = swapped[i], swapped[i-1]
		other(swapped, fmt.Sprintf("%s before %s", d.trial.Products[ours[i]].Name, d.trial.Products[ours[i-1]].Name), false)
	}
	d.alone(d.trial.Mix, "")
}

// proposeWaters: each water by itself and with the mix, then the products alone in
// the hardest.
func (d *draft) proposeWaters() {
	named := len(d.Waters) > 0
	if len(d.Waters) < 2 {
		d.Waters = d.usualWaters()
	}
	if len(d.Waters) < 2 {
		d.problem(NoWater, "", "there are not two waters to compare", "name two of data/waters.yaml")
		return
	}
	d.specs = nil
	for i, w := range d.Waters {
		need := named || i < 2
		role := OtherWater
		if i == 0 {
			role = Whole
		}
		d.add(spec{role: Carrier, about: -1, water: w, need: need})
		d.add(spec{role: role, about: -1, products: d.trial.Mix, water: w, need: need})
	}
	d.alone(d.trial.Mix, d.hardest())
}

// usualWaters returns the water that was named, if any, then the softest and the
// hardest whose hardness is known.
func (d *draft) usualWaters() []mix.ID {
	var soft, hard *mix.WaterSource
	for i := range d.book.Waters {
		w := &d.book.Waters[i]
		if !w.Hardness.Known {
			continue
		}
		if soft == nil || w.Hardness.N.Cmp(soft.Hardness.N) < 0 {
			soft = w
		}
		if hard == nil || w.Hardness.N.Cmp(hard.Hardness.N) > 0 {
			hard = w
		}
	}
	list := slices.Clone(d.Waters)
	for _, w := range []*mix.WaterSource{soft, hard} {
		if w != nil && !slices.Contains(list, w.ID) {
			list = append(list, w.ID)
		}
	}
	return list
}

func (d *draft) hardest() mix.ID {
	best := d.Waters[0]
	most := unit.Int(-1)
	for _, id := range d.Waters {
		if w := d.judge.Index().Water(id); w != nil && w.Hardness.Known && w.Hardness.N.Cmp(most) > 0 {
			best, most = id, w.Hardness.N
		}
	}
	return best
}

// proposeSubstitutes: the mix as it is, without the product, with each other in its
// place, then the others alone.
func (d *draft) proposeSubstitutes() {
	named := len(d.Substitutes) > 0
	if !d.findReplaced() {
		return
	}
	rest := slices.DeleteFunc(slices.Clone(d.trial.Mix), func(i int) bool { return i == d.trial.Replaced })
	d.add(d.whole())
	var others []int
	for i, s := range d.Substitutes {
		n := len(d.trial.Products)
		d.trial.Products = append(d.trial.Products, s)
		others = append(others, n)
		d.add(spec{role: InPlace, about: n, products: append(slices.Clone(rest), n), need: named || i == 0})
	}
	d.add(spec{role: Without, about: d.trial.Replaced, products: rest})
	d.alone(others, "")
}

// findReplaced settles which product is replaced and by what: as named, else what
// the judge would try.
func (d *draft) findReplaced() bool {
	if d.For != "" {
		d.trial.Replaced = slices.IndexFunc(d.Mix, func(p jar.Product) bool { return p.Name == d.For || string(p.ID) == d.For })
		if d.trial.Replaced < 0 {
			d.problem(NoSubstitute, d.For, d.For+" is not in the mix", "name one of "+strings.Join(d.trial.Names(d.trial.Mix), ", "))
			return false
		}
	}
	if len(d.Substitutes) == 0 {
		d.findSubstitutes()
	}
	if d.trial.Replaced < 0 && len(d.Substitutes) > 0 {
		d.problem(NoSubstitute, "", "nothing says which product the others stand in for", "name one of "+strings.Join(d.trial.Names(d.trial.Mix), ", "))
		return false
	}
	if len(d.Substitutes) == 0 {
		d.problem(NoSubstitute, d.For, "the data names nothing of the same purpose that would do better", "name what to try in its place")
		return false
	}
	return true
}

// findSubstitutes asks the judge what may stand in for a product: of a conflict when
// the mix has one, otherwise of whatever asks for steps, for a jar may find better.
func (d *draft) findSubstitutes() {
	ids := d.ids(d.trial.Mix)
	now := d.judge.Mix(ids, mix.Situation{})
	for _, r := range d.judge.Replacements(ids, mix.Situation{}, max(mix.Steps, min(now.Verdict, mix.Apart))) {
		out := slices.IndexFunc(d.Mix, func(p jar.Product) bool { return id(&p) == r.Out })
		if d.trial.Replaced < 0 {
			d.trial.Replaced = out
		}
		if out == d.trial.Replaced {
			d.substitute(r.Best)
		}
	}
}

// substitute takes up the replacements whose labels allow the spray volume.
func (d *draft) substitute(list []compat.Change) {
	for _, c := range list {
		p := d.Product(string(c.In), unit.Rate{})
		if fit := p.FitSprayVolume(d.SprayVolume); fit != jar.Below && fit != jar.Above {
			d.Substitutes = append(d.Substitutes, p)
		}
	}
}

// proposeWorkshop: what a room should see, the plainest first.
func (d *draft) proposeWorkshop() {
	d.add(d.whole())
	d.alone(d.trial.Mix, "")
	back := d.placed(d.trial.Mix, d.book.Order)
	slices.Reverse(back)
	d.add(spec{role: OtherOrder, about: -1, products: back, ordered: true, order: "reversed"})
	d.add(spec{role: Crowded, about: -1, products: d.trial.Mix, share: d.book.Routine.Crowded})
	if len(d.Waters) > 1 {
		d.add(spec{role: OtherWater, about: -1, products: d.trial.Mix, water: d.Waters[1]})
	}
}

// pairs gives each jar with the whole mix, or what stands in for it, a twin with the
// helper in it, right behind it.
func (d *draft) pairs() {
	if d.Aid == nil || len(d.ps) > 0 {
		return
	}
	n := len(d.trial.Products)
	d.trial.Products = append(d.trial.Products, *d.Aid)
	var all []spec
	for _, s := range d.specs {
		all = append(all, s)
		if len(s.products) < 2 || s.role == Part {
			continue
		}
		twin := s
		twin.role, twin.about, twin.need = WithAid, n, s.role == Whole
		twin.products = append(slices.Clone(s.products), n)
		if s.ordered {
			twin.products = append([]int{n}, s.products...)
		}
		all = append(all, twin)
	}
	d.specs = all
}

// fit keeps as many jars as may be made: all that are needed, then the others in
// order.
func (d *draft) fit() {
	room := d.Jars / d.trial.Blocks
	need := 0
	for _, s := range d.specs {
		if s.need {
			need++
		}
	}
	if d.Adaptive {
		need = min(need, room) // only one way through the plan is gone
	}
	if need > room {
		d.tooFew(need, room)
		return
	}
	spare := room - need
	var kept []spec
	for _, s := range d.specs {
		switch {
		case s.need:
			kept = append(kept, s)
		case spare > 0:
			kept = append(kept, s)
			spare--
		default:
			d.trial.LeftOut = append(d.trial.LeftOut, d.unpoured(&s))
		}
	}
	d.specs = kept
}

// unpoured is a jar for which there was no room.
func (d *draft) unpoured(s *spec) Jar {
	j := Jar{Role: s.role, About: s.about, Products: d.inOrder(s), Water: s.water, Order: s.order}
	j.Card.Recipe.WaterShare = s.share
	if s.share.Sign() == 0 {
		j.Card.Recipe.WaterShare = unit.Int(1)
	}
	return j
}

func (d *draft) tooFew(need, room int) {
	hint := fmt.Sprintf("allow %d jars", need*d.trial.Blocks)
	if blocks := d.Jars / need; blocks > 0 {
		hint += fmt.Sprintf(", or make %d replicates", blocks)
	}
	if fewer := d.fewer(need, room); fewer > 0 {
		hint += fmt.Sprintf(", or compare %d", fewer)
	}
	says := fmt.Sprintf("the trial needs %d jars", need)
	if d.trial.Blocks > 1 {
		says += fmt.Sprintf(" in each of %d replicates, %d in all", d.trial.Blocks, need*d.trial.Blocks)
	}
	d.problem(TooFewJars, "", fmt.Sprintf("%s; allowed are %d", says, d.Jars), hint)
}

// fewer returns how many substitutes or waters fit into the room there is, 0 when it
// is not enough for a comparison or nothing is compared.
func (d *draft) fewer(need, room int) int {
	switch d.Question {
	case Substitute:
		return max(room-(need-len(d.Substitutes)), 0)
	case Water: // each takes two jars
		if room >= 4 {
			return room / 2
		}
	case NoQuestion, Cause, Order, Workshop:
	}
	return 0
}
