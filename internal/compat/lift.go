package compat

import (
	"cmp"
	"slices"

	"tankleaf.example/internal/cause"
	"tankleaf.example/internal/mix"
)

// Lift is an established cause at the level of classes: a claim that any mix
// with a different member of each class reacts. No clean record contradicts it.
// As far as members are untested it is a guess.
type Lift struct {
	Cause  []mix.ID // products, sorted
	Places []Place  // one for each product of the cause
}

// Place is one product of a cause in a lifted cause.
type Place struct {
	Product  mix.ID
	Class    mix.ID   // the class it stands for, or the product itself
	Tested   []mix.ID // members seen to react in this place, sorted; the product is always one
	Untested []mix.ID // the other members in the book
}

// tested counts the members that carry a lift.
func (l *Lift) tested() int {
	n := 0
	for _, p := range l.Places {
		n += len(p.Tested)
	}
	return n
}

// mostLifts is how many lifts of one cause are listed.
const mostLifts = 6

// lifts lifts each established cause over all records of the book, for a clean
// one anywhere contradicts a claim. Causes that lead to one claim give it once.
func (c *Case) lifts() []Lift {
	var all []Lift
	seen := map[string]bool{}
	for _, found := range c.Causes {
		for _, l := range c.judge.lifts(c.Symptom, found) {
			var claim []mix.ID
			for _, p := range l.Places {
				claim = append(claim, p.Class)
			}
			slices.Sort(claim)
			if k := setKey(claim); !seen[k] {
				seen[k] = true
				all = append(all, l)
			}
		}
	}
	slices.SortStableFunc(all, func(a, b Lift) int { return cmp.Compare(b.tested(), a.tested()) })
	return all
}

// lifts lifts one cause through classes of chemistry and salt and, when these
// give no claim, through all classes.
func (j *Judge) lifts(s mix.Symptom, products []mix.ID) []Lift {
	chemical := func(c *mix.Class) bool { return c.Axis == mix.Chemistry || c.Axis == mix.Salt }
	any := func(*mix.Class) bool { return true }
	for _, allow := range []func(*mix.Class) bool{chemical, any} {
		l := &lifter{c: &Case{Symptom: s, judge: j}, cause: products, allow: allow}
		if !l.gather() {
			return nil
		}
		if list := l.lift(); len(list) > 0 {
			return list
		}
	}
	return nil
}

// lifter lifts one cause over the records that bear on its widest claim.
type lifter struct {
	c       *Case // over the products of those records
	cause   []mix.ID
	allow   func(*mix.Class) bool
	bearing []*Outcome
	classes []mix.ID // groups, numbered after the products
}

// gather finds the records and numbers their products. It fails when these are
// more than a set can hold; to leave records out would widen the claim.
func (l *lifter) gather() bool {
	l.c.Suspects = slices.Clone(l.cause)
	for _, out := range l.c.judge.outcomes {
		if state := out.Sign(l.c.Symptom).State; state == NotSeen || state == Clear && !l.c.judge.telling(out.Observation, l.c.Symptom) {
			continue
		}
		held := products(out.Observation)
		switch {
		case l.example(held):
			l.c.Suspects = append(l.c.Suspects, held...)
		case out.Sign(l.c.Symptom).State == Reacted && !within(held, l.cause):
			continue // tests nothing of this claim
		}
		l.bearing = append(l.bearing, out)
	}
	slices.SortFunc(l.bearing, compareOutcomes)
	slices.Sort(l.c.Suspects)
	l.c.Suspects = slices.Compact(l.c.Suspects)
	return len(l.c.Suspects) <= cause.MaxElements
}

// example reports whether products may hold an example of the widest claim: kin
// of each product of the cause.
func (l *lifter) example(held []mix.ID) bool {
	for _, id := range l.cause {
		if !slices.ContainsFunc(held, func(h mix.ID) bool { return l.related(h, id) }) {
			return false
		}
	}
	return true
}

func within(list, whole []mix.ID) bool {
	return !slices.ContainsFunc(list, func(id mix.ID) bool { return !slices.Contains(whole, id) })
}

// related reports whether two products share a class.
func (l *lifter) related(a, b mix.ID) bool {
	if a == b {
		return true
	}
	return slices.ContainsFunc(l.c.judge.x.Classes(a), func(c mix.ID) bool {
		return l.allow(l.c.judge.x.Class(c)) && l.c.judge.x.IsA(b, c)
	})
}

// lift asks for the widest claims. Of a clean record that holds no example the
// part among the suspects is kept: it may rule out part of the cause.
func (l *lifter) lift() []Lift {
	var runs []cause.Run
	for _, out := range l.bearing {
		runs = append(runs, cause.Run{Members: l.c.set(products(out.Observation)), Reacted: out.Sign(l.c.Symptom).State == Reacted})
	}
	if !inJar.has(l.c.Symptom) {
		for n := range l.c.Suspects {
			runs = append(runs, cause.Run{Members: cause.Of(n)})
		}
	}
	order := l.order()
	if order == nil {
		return nil
	}
	var list []Lift
	for _, claim := range cause.Generalize(l.c.set(l.cause), order, runs) {
		if lift := l.write(claim); lift.supported() {
			list = append(list, lift)
		}
	}
	slices.SortStableFunc(list, func(a, b Lift) int { return cmp.Compare(b.tested(), a.tested()) })
	return list[:min(len(list), mostLifts)]
}

// supported reports whether a lift claims more than its cause and in each place
// where it does another member, if there is one, was seen to react. The rest would be guesswork:
// few records tell the many classes of one product apart.
func (l *Lift) supported() bool {
	wider := false
	for _, p := range l.Places {
		if p.Class != p.Product {
			wider = true
			if len(p.Tested) < 2 && len(p.Untested) > 0 {
				return false
			}
		}
	}
	return wider
}

// order returns the classes above the suspects as groups, numbered after them.
func (l *lifter) order() *cause.Order {
	for _, p := range l.c.Suspects {
		for _, id := range l.c.judge.x.Classes(p) {
			if l.allow(l.c.judge.x.Class(id)) {
				l.classes = append(l.classes, id)
			}
		}
	}
	slices.Sort(l.classes)
	l.classes = slices.Compact(l.classes)
	parents := make([][]int, len(l.c.Suspects)+len(l.classes))
	for n, item := range slices.Concat(l.c.Suspects, l.classes) {
		for _, up := range l.c.judge.parents(item) {
			if k, ok := slices.BinarySearch(l.classes, up); ok && up != item {
				parents[n] = append(parents[n], len(l.c.Suspects)+k)
			}
		}
	}
	order, err := cause.NewOrder(len(l.c.Suspects), parents)
	if err != nil {
		return nil // a cycle in kind_of, which the reader of data reports
	}
	return order
}

// write puts a claim in products and classes, with the members of the whole book.
func (l *lifter) write(claim cause.Lift) Lift {
	out := Lift{Cause: names(l.c.Suspects, claim.Cause)}
	for _, p := range claim.Places {
		place := Place{Product: l.c.Suspects[p.Element], Class: l.c.Suspects[p.Element], Tested: names(l.c.Suspects, p.Tested)}
		if p.Group >= len(l.c.Suspects) {
			place.Class = l.classes[p.Group-len(l.c.Suspects)]
			for _, m := range l.c.judge.x.Members(place.Class) {
				if !slices.Contains(place.Tested, m) {
					place.Untested = append(place.Untested, m)
				}
			}
		}
		out.Places = append(out.Places, place)
	}
	return out
}
