package compat

import (
	"cmp"
	"slices"

	"tankleaf.example/internal/cause"
	"tankleaf.example/internal/mix"
)

// ClassCause is a set of classes that was in every mix that reacted and together
// in none that did not; no smaller set within it is one.
type ClassCause struct {
	// Places holds for each class of the cause those that no record of the case
	// tells apart from it, the narrowest first.
	Places [][]mix.ID
	// Alone says that a mix of no more products than places reacted. Otherwise the
	// reaction may need something else that was there every time.
	Alone bool
}

// mostClasses is how many classes a cause at their level has at most.
const mostClasses = 3

// classCauses finds one cause at the level of classes for all reactions. It must
// lie in each of them, so only the classes common to all are looked at.
func (c *Case) classCauses() []ClassCause {
	groups := c.alike()
	var clean []cause.Set
	for _, r := range c.runs {
		if !r.Reacted {
			clean = append(clean, c.classSet(groups, products(r.observation)))
		}
	}
	if !inJar.has(c.Symptom) {
		for _, p := range c.Suspects {
			clean = append(clean, c.classSet(groups, []mix.ID{p}))
		}
	}
	var found []cause.Set
	for size := 1; size <= mostClasses; size++ {
		for s := range choose(len(groups), size) {
			held := func(t cause.Set) bool { return t.Contains(s) }
			if !slices.ContainsFunc(found, s.Contains) && !slices.ContainsFunc(clean, held) {
				found = append(found, s)
			}
		}
	}
	var list []ClassCause
	for _, s := range found {
		var k ClassCause
		for e := range s.All() {
			k.Places = append(k.Places, groups[e])
		}
		k.Alone = slices.ContainsFunc(c.Reacted, func(o *mix.Observation) bool { return len(products(o)) <= s.Len() })
		list = append(list, k)
	}
	return list
}

// alike returns the classes common to all reactions, those together that every
// record of the case either holds or does not. More groups than a set can hold
// give none.
func (c *Case) alike() [][]mix.ID {
	common := map[mix.ID]int{}
	for _, o := range c.Reacted {
		for _, id := range c.classes(products(o)) {
			common[id]++
		}
	}
	byPattern := map[string][]mix.ID{}
	for id, n := range common {
		if n == len(c.Reacted) {
			k := c.pattern(id)
			byPattern[k] = append(byPattern[k], id)
		}
	}
	var groups [][]mix.ID
	for _, g := range byPattern {
		slices.SortFunc(g, func(a, b mix.ID) int {
			return cmp.Or(cmp.Compare(len(c.judge.x.Ancestors(b)), len(c.judge.x.Ancestors(a))), cmp.Compare(a, b))
		})
		groups = append(groups, g)
	}
	slices.SortFunc(groups, slices.Compare)
	if len(groups) > cause.MaxElements {
		return nil
	}
	return groups
}

// pattern tells which products of the case belong to a class: a record cannot
// tell two classes of the same products apart.
func (c *Case) pattern(class mix.ID) string {
	var b []byte
	for _, o := range slices.Concat(c.Reacted, c.Clear) {
		for _, p := range products(o) {
			if c.judge.x.IsA(p, class) {
				b = append(b, p...)
			}
			b = append(b, ' ')
		}
	}
	return string(b)
}

// classes returns all classes of some products, sorted.
func (c *Case) classes(list []mix.ID) []mix.ID {
	var all []mix.ID
	for _, p := range list {
		all = append(all, c.judge.x.Classes(p)...)
	}
	slices.Sort(all)
	return slices.Compact(all)
}

func (c *Case) classSet(groups [][]mix.ID, list []mix.ID) cause.Set {
	all := c.classes(list)
	var s cause.Set
	for n, g := range groups {
		if _, ok := slices.BinarySearch(all, g[0]); ok {
			s |= cause.Of(n)
		}
	}
	return s
}

// choose yields the sets of size elements out of n, in order.
func choose(n, size int) func(yield func(cause.Set) bool) {
	var from func(first, left int, s cause.Set, yield func(cause.Set) bool) bool
	from = func(first, left int, s cause.Set, yield func(cause.Set) bool) bool {
		if left == 0 {
			return yield(s)
		}
		for e := first; e <= n-left; e++ {
			if !from(e+1, left-1, s|cause.Of(e), yield) {
				return false
			}
		}
		return true
	}
	return func(yield func(cause.Set) bool) { from(0, size, 0, yield) }
}
