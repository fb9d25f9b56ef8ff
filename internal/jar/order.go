package jar

import (
	"cmp"
	"fmt"
	"slices"

	"tankleaf.example/internal/mix"
)

// Reason is why a product goes in where it does. The zero Reason is "not known":
// no step of the table claims the product, and its label decides.
type Reason uint8

const (
	NotKnown Reason = iota
	ByForm          // its formulation code
	ByClass         // a class it belongs to
	ByBag           // its water-soluble bag
	ByLabel         // the label's own position
)

var reasonNames = []string{"not-known", "form", "class", "bag", "label"}

// String returns the reason's word in JSON.
func (r Reason) String() string {
	if int(r) < len(reasonNames) {
		return reasonNames[r]
	}
	return fmt.Sprintf("Reason(%d)", uint8(r))
}

// Place is where a product stands in the order of addition.
type Place struct {
	Number int            // from 1
	Step   *mix.OrderStep // nil when no step claims it
	Reason Reason
	Class  mix.ID // the class that decided, with ByClass
}

// Placed is a product with its place. Given is its index in the list it came in.
type Placed struct {
	Given int
	Place Place
}

// Order returns the products in their order of addition by a table of steps, first
// to last. Products of one step keep the order they were given in. A label's
// position counts from 1 in the whole sequence; of two with one position the first
// given goes first.
func Order(products []Product, steps []mix.OrderStep) []Placed {
	type ranked struct {
		Placed
		rank int
	}
	var free, fixed []ranked
	for i := range products {
		rank, place := rankOf(&products[i], steps)
		r := ranked{Placed{i, place}, rank}
		if products[i].Position > 0 {
			r.Place.Reason, r.rank = ByLabel, products[i].Position
			fixed = append(fixed, r)
			continue
		}
		free = append(free, r)
	}
	byRank := func(a, b ranked) int { return cmp.Compare(a.rank, b.rank) }
	slices.SortStableFunc(free, byRank)
	slices.SortStableFunc(fixed, byRank)
	last := 0
	for _, f := range fixed {
		at := min(max(f.rank-1, last), len(free))
		free = slices.Insert(free, at, f)
		last = at + 1
	}
	placed := make([]Placed, len(free))
	for i, r := range free {
		r.Place.Number = i + 1
		placed[i] = r.Placed
	}
	return placed
}

// rankOf returns the index of the step that claims p, len(steps) when none does.
func rankOf(p *Product, steps []mix.OrderStep) (int, Place) {
	for i := range steps {
		if steps[i].Bags && p.Bag {
			return i, Place{Step: &steps[i], Reason: ByBag}
		}
	}
	for i := range steps {
		for _, c := range steps[i].Classes {
			if slices.Contains(p.Classes, c.ID) {
				return i, Place{Step: &steps[i], Reason: ByClass, Class: c.ID}
			}
		}
	}
	for i := range steps {
		if p.Form != "" && slices.Contains(steps[i].Forms, p.Form) {
			return i, Place{Step: &steps[i], Reason: ByForm}
		}
	}
	return len(steps), Place{}
}
