package compat

import (
	"cmp"
	"slices"

	"tankleaf.example/internal/cause"
	"tankleaf.example/internal/mix"
)

// fold lets one product stand for all that act alike, and asks again. Products
// act alike when they share a class of chemistry or salt and one in place of the
// other, all else equal, reacted as it did and never otherwise. The strict answer
// stays in Mixes: that they act alike in all mixes is a guess.
func (c *Case) fold() {
	c.Alike = c.alikes()
	lead := map[mix.ID]mix.ID{}
	for _, group := range c.Alike {
		for _, p := range group {
			lead[p] = group[0]
		}
	}
	standFor := func(p mix.ID) mix.ID { return cmp.Or(lead[p], p) }
	for _, p := range c.Suspects {
		if standFor(p) == p {
			c.stands = append(c.stands, p)
		}
	}
	for _, r := range c.bare() {
		var list []mix.ID
		for _, p := range names(c.Suspects, r.Members) {
			list = append(list, standFor(p))
		}
		c.folded = append(c.folded, cause.Run{Members: setOf(c.stands, list), Reacted: r.Reacted})
	}
	c.ByClass = caseMixes(c.stands, cause.Explain(c.folded))
}

// setOf returns the products of a sorted list that are among others, as a set.
func setOf(sorted, list []mix.ID) cause.Set {
	var s cause.Set
	for _, id := range list {
		if n, ok := slices.BinarySearch(sorted, id); ok {
			s |= cause.Of(n)
		}
	}
	return s
}

// alikes returns groups of suspects that act alike, in each the one with the most
// records first.
func (c *Case) alikes() [][]mix.ID {
	group := map[mix.ID][]mix.ID{}
	for _, s := range c.Swaps {
		if !c.actAlike(s) {
			continue
		}
		a, b := group[s.Out], group[s.In]
		if len(a) == 0 {
			a = []mix.ID{s.Out}
		}
		if len(b) == 0 {
			b = []mix.ID{s.In}
		}
		if slices.Contains(a, s.In) || c.together(a, b) {
			continue
		}
		all := slices.Concat(a, b)
		for _, p := range all {
			group[p] = all
		}
	}
	var list [][]mix.ID
	for _, p := range c.Suspects {
		if g := group[p]; len(g) > 0 && slices.Min(g) == p {
			list = append(list, c.byRecords(g))
		}
	}
	return list
}

// actAlike reports whether a swap shows two products to act alike.
func (c *Case) actAlike(s Swap) bool {
	if len(s.Differ) > 0 {
		return false
	}
	k := c.judge.x.Class(s.Class)
	if k == nil || k.Axis != mix.Chemistry && k.Axis != mix.Salt {
		return false
	}
	return slices.ContainsFunc(s.Same, func(r Records) bool {
		return c.judge.outcomes[r[0].ID].Sign(c.Symptom).State == Reacted
	})
}

// together reports whether some record held products of both groups, so that they
// cannot be taken for one.
func (c *Case) together(a, b []mix.ID) bool {
	return slices.ContainsFunc(c.records(), func(o *mix.Observation) bool {
		held := products(o)
		in := func(p mix.ID) bool { return slices.Contains(held, p) }
		return slices.ContainsFunc(a, in) && slices.ContainsFunc(b, in)
	})
}

// byRecords sorts products by how many records hold them.
func (c *Case) byRecords(list []mix.ID) []mix.ID {
	count := map[mix.ID]int{}
	for _, o := range c.records() {
		for _, p := range products(o) {
			count[p]++
		}
	}
	out := slices.Clone(list)
	slices.SortFunc(out, func(a, b mix.ID) int { return cmp.Or(count[b]-count[a], cmp.Compare(a, b)) })
	return out
}
