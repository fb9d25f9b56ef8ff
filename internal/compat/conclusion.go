package compat

import (
	"slices"

	"tankleaf.example/internal/cause"
)

// Smallest returns the mixes that reacted and hold no smaller one that did, those
// that act alike taken as one: what explains them explains the rest.
func (c *Case) Smallest() []CaseMix {
	return slices.DeleteFunc(slices.Clone(c.ByClass), func(m CaseMix) bool {
		return slices.ContainsFunc(c.ByClass, func(n CaseMix) bool {
			return len(n.Products) < len(m.Products) && within(n.Products, m.Products)
		})
	})
}

// Conclusion is how far the cause is known: of the smallest mixes that reacted the
// one of which least is known decides. It is Unknown when there are too many
// suspects to search.
func (c *Case) Conclusion() cause.Status {
	if c.TooMany || len(c.ByClass) == 0 {
		return cause.Unknown
	}
	least := cause.Established
	for _, m := range c.Smallest() {
		least = min(least, m.Status)
	}
	return least
}
