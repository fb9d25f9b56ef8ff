package cause

import "slices"

// Place is one element of a cause in a lifted cause.
type Place struct {
	Element int
	Group   int // the group it stands for, or Element itself
	// Tested is the members of Group seen to react in this place: in a run
	// that would hold no example of the lifted cause without them, and that
	// holds no established cause of another kind. Element is always one.
	Tested   Set
	Untested Set // the other members
}

// Lift is a claim that any set with a different member of the group of each
// place reacts. No clean run contradicts it. It is a guess as far as members
// are untested.
type Lift struct {
	Cause  Set
	Places []Place // by element
}

// Generalize lifts an established cause to groups as wide as the clean runs
// allow: no group of a result can be replaced by a group directly above it
// without some clean run holding an example of the claim. There may be several
// such claims. They are ordered by their groups; two that make the same claim
// with places exchanged are given once. A cause that is not established by the
// runs, or has elements outside the order, is not lifted, and the result is
// nil.
//
// The time grows with the product of the numbers of groups above each element.
func Generalize(cause Set, o *Order, runs []Run) []Lift {
	ev := sift(runs)
	if !ev.established(cause) {
		return nil
	}
	for e := range cause.All() {
		if o.Members(e) != Of(e) {
			return nil
		}
	}
	known := ev.causes()
	tops := o.climb(cause.Elements(), ev.clean)
	out := make([]Lift, 0, len(tops))
	for _, groups := range tops {
		// A run that holds another cause as well tests nothing.
		plain := slices.DeleteFunc(slices.Clone(ev.sound), func(r Set) bool {
			return slices.ContainsFunc(within(known, r), func(c Set) bool { return !o.holds(groups, c) })
		})
		out = append(out, o.describe(cause, groups, plain))
	}
	return out
}

// climb goes up from the elements one place and one parent at a time as long
// as no clean run holds an example, and returns where it cannot go on. Every
// claim that holds is met, because a narrower claim than one that holds does.
func (o *Order) climb(elements []int, clean []Set) [][]int {
	var tops [][]int
	seen := map[string]bool{}
	for next := [][]int{elements}; len(next) > 0; {
		at := next[len(next)-1]
		next = next[:len(next)-1]
		top := true
		for i, g := range at {
			for _, p := range o.parents[g] {
				up := slices.Clone(at)
				up[i] = p
				if slices.ContainsFunc(clean, func(c Set) bool { return o.holds(up, c) }) {
					continue
				}
				top = false
				if k := key(up); !seen[k] {
					seen[k] = true
					next = append(next, up)
				}
			}
		}
		if top {
			tops = append(tops, at)
		}
	}
	return unlike(tops)
}

// key writes a list of numbers as a map key.
func key(list []int) string {
	b := make([]byte, 0, 4*len(list))
	for _, x := range list {
		b = append(b, byte(x), byte(x>>8), byte(x>>16), byte(x>>24))
	}
	return string(b)
}

// unlike sorts the lists and keeps the first of those with the same numbers in
// another order.
func unlike(lists [][]int) [][]int {
	slices.SortFunc(lists, slices.Compare)
	seen := map[string]bool{}
	return slices.DeleteFunc(lists, func(l []int) bool {
		k := key(slices.Sorted(slices.Values(l)))
		was := seen[k]
		seen[k] = true
		return was
	})
}

// holds reports whether run has an example of the groups: a different member
// of each.
func (o *Order) holds(groups []int, run Set) bool {
	if len(groups) == 0 {
		return true
	}
	for e := range (o.Members(groups[0]) & run).All() {
		if o.holds(groups[1:], run&^Of(e)) {
			return true
		}
	}
	return false
}

// describe finds the tested members.
func (o *Order) describe(cause Set, groups []int, reacting []Set) Lift {
	l := Lift{Cause: cause}
	for i, e := range cause.Elements() {
		p := Place{Element: e, Group: groups[i]}
		others := slices.Delete(slices.Clone(groups), i, i+1)
		for d := range o.Members(p.Group).All() {
			if slices.ContainsFunc(reacting, func(r Set) bool {
				return r.Has(d) && o.holds(others, r&^Of(d)) && !o.holds(groups, r&^Of(d))
			}) {
				p.Tested |= Of(d)
			}
		}
		p.Untested = o.Members(p.Group) &^ p.Tested
		l.Places = append(l.Places, p)
	}
	return l
}
