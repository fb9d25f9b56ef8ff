package compat

import (
	"cmp"
	"slices"

	"tankleaf.example/internal/mix"
)

// mostTried is how many products of a signature are tried for an untested pair.
const mostTried = 6

// mostInJar is how many products a proposed jar holds: one that reacts must still
// be sorted out in a few more jars.
const mostInJar = 4

// look judges a candidate and describes it when it is a gap.
func (f *field) look(c *candidate) bool {
	g := &Gap{Meet: c.meet}
	g.Worst, g.From = f.plausible(c.a, c.b)
	if !f.suspected(c, g) && !f.untested(c, g) {
		return false
	}
	for i, p := range g.Pair {
		g.Products[i] = f.kinds[f.j.x.Signature(p)].products
	}
	g.Slots = f.shared(g.Pair[0], g.Pair[1])
	g.Jar, g.Settles = f.jar(g)
	g.Score = g.Meet * weight(g.Worst)
	c.gap, c.score = g, g.Score
	return true
}

// suspected takes the pair that did worst in a larger mix, if that is worse than
// anything its classes make plausible.
func (f *field) suspected(c *candidate, g *Gap) bool {
	found := false
	for _, s := range f.suspect[[2]int{c.a, c.b}] {
		if s.worst > g.Worst && len(f.shared(s.pair[0], s.pair[1])) > 0 && f.j.Pair(s.pair[0], s.pair[1]).Verdict == mix.Unknown {
			g.Worst, g.From, g.Pair = s.worst, &s.set.JarSet, s.pair
			found = true
		}
	}
	return found
}

// untested takes the untested products of two kinds that meet most often.
func (f *field) untested(c *candidate, g *Gap) bool {
	best := 0.0
	for _, x := range f.busiest(c.a) {
		for _, y := range f.busiest(c.b) {
			if x == y {
				continue
			}
			m := meet(f.uses(x), f.uses(y))
			if m > best && f.j.Pair(x, y).Verdict == mix.Unknown {
				best, g.Pair = m, [2]mix.ID{min(x, y), max(x, y)}
			}
		}
	}
	return best > 0
}

// busiest returns the products of a kind with the most uses.
func (f *field) busiest(k int) []mix.ID {
	list := slices.Clone(f.kinds[k].products)
	slices.SortStableFunc(list, func(x, y mix.ID) int {
		return cmp.Compare(len(f.j.x.Product(y).Uses), len(f.j.x.Product(x).Uses))
	})
	return list[:min(len(list), mostTried)]
}

// shared returns the slots in which both products are used.
func (f *field) shared(a, b mix.ID) []Slot {
	other := f.j.slotsOf(b)
	var list []Slot
	for s := range f.j.slotsOf(a) {
		if other[s] {
			list = append(list, s)
		}
	}
	slices.SortFunc(list, compareSlots)
	return list
}

// jar returns the jar that would settle most beside the pair itself: what goes
// into the same tank, is not known to react with what is in it, hides no symptom
// and brings the most pairs about which nothing is known. Were it to stay clean,
// each pair in it would have been seen clean.
func (f *field) jar(g *Gap) (jar []mix.ID, settles int) {
	best := slices.Clone(g.Pair[:])
	most := 1
	if g.Worst == mix.Never || f.hides(g.Pair[0]) || f.hides(g.Pair[1]) {
		return best, most // a hazard is looked for alone, and what hides a symptom speaks for itself only
	}
	for _, s := range g.Slots {
		n, _ := slices.BinarySearchFunc(f.slots, s, compareSlots)
		j := slices.Clone(g.Pair[:])
		total := 1
		for len(j) < mostInJar {
			id, gain := f.joins(j, n)
			if gain == 0 {
				break
			}
			j, total = append(j, id), total+gain
		}
		if total > most {
			best, most = j, total
		}
	}
	slices.Sort(best)
	return best, most
}

// joins returns the product of a slot that adds the most untested pairs to a jar.
func (f *field) joins(jar []mix.ID, slot int) (best mix.ID, most int) {
	for _, id := range f.at[slot] {
		if slices.Contains(jar, id) || f.hides(id) || f.competes(id, jar, slot) {
			continue
		}
		gain := 0
		for _, in := range jar {
			switch f.j.Pair(id, in).Verdict {
			case mix.Unknown:
				gain++
				if f.dangerous(id, in) {
					gain = -len(jar)
				}
			case mix.Clean:
			case mix.Steps, mix.Apart, mix.Never:
				gain = -len(jar)
			}
		}
		if gain > most {
			best, most = id, gain
		}
	}
	return best, most
}

// dangerous reports whether a hazard is plausible between two products.
func (f *field) dangerous(a, b mix.ID) bool {
	x, y := f.j.x.Signature(a), f.j.x.Signature(b)
	worst, _ := f.plausible(x, y)
	for _, s := range f.suspect[[2]int{min(x, y), max(x, y)}] {
		worst = max(worst, s.worst)
	}
	return worst == mix.Never
}

// hides reports whether a product hides or mends something that a jar shows, so that
// a clean jar with it would not speak for what else is in it.
func (f *field) hides(product mix.ID) bool {
	return slices.ContainsFunc(f.j.x.Classes(product), func(class mix.ID) bool { return f.j.quiets[class]&inJar != 0 })
}

// competes reports whether something in the jar already serves all that the
// product is used for in the slot.
func (f *field) competes(product mix.ID, jar []mix.ID, slot int) bool {
	served := map[service]bool{}
	for _, id := range jar {
		for _, s := range f.services(id) {
			served[s] = true
		}
	}
	for _, s := range f.services(product) {
		if s.slot == slot && !served[s] {
			return false
		}
	}
	return true
}
