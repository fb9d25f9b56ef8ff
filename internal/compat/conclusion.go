package compat

import (
	"slices"

	"tankleaf.example/internal/cause"
)

// How far a cause is known and what a next jar is for, in the words of package
// cause, so that those who read cases need not know it.
type (
	Status = cause.Status
	Why    = cause.Why
)

// The states of a mix that reacted, the least known first, and the use of a jar that
// was run before.
const (
	NotSearched  = cause.Unknown
	Contradicted = cause.Contradicted
	Narrowed     = cause.Narrowed
	Established  = cause.Established
	Again        = cause.Repeat
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
// one of which least is known decides. It is NotSearched when there are too many
// suspects to search.
func (c *Case) Conclusion() Status {
	if c.TooMany || len(c.ByClass) == 0 {
		return NotSearched
	}
	least := Established
	for _, m := range c.Smallest() {
		least = min(least, m.Status)
	}
	return least
}
