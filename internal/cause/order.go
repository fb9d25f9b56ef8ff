package cause

import (
	"errors"
	"fmt"
	"slices"
)

// Order says which groups the elements belong to, and which groups lie inside
// which. Elements and groups are numbered together: first the elements, from
// 0, then the groups.
type Order struct {
	parents [][]int
	members []Set // by element or group: the elements that are it or below it
}

var errCycle = errors.New("a group lies inside itself")

// NewOrder makes an order of len(parents) elements and groups, of which the
// first elements, at most MaxElements, are elements. parents[i] lists the
// groups directly above i, in any order; any number may be above one. It fails
// when a parent is not a group and when a group lies above itself.
func NewOrder(elements int, parents [][]int) (*Order, error) {
	if elements < 0 || elements > MaxElements || elements > len(parents) {
		return nil, fmt.Errorf("%d elements among %d numbers; the most is %d", elements, len(parents), MaxElements)
	}
	o := &Order{parents: make([][]int, len(parents)), members: make([]Set, len(parents))}
	for i, ps := range parents {
		for _, p := range ps {
			if p < elements || p >= len(parents) {
				return nil, fmt.Errorf("parent %d of %d is not a group; groups are %d to %d",
					p, i, elements, len(parents)-1)
			}
		}
		o.parents[i] = slices.Compact(slices.Sorted(slices.Values(ps)))
	}
	if o.cyclic() {
		return nil, errCycle
	}
	for e := range elements {
		o.enter(Of(e), e)
	}
	return o, nil
}

// enter adds elements to i and to everything above it.
func (o *Order) enter(s Set, i int) {
	if o.members[i].Contains(s) {
		return
	}
	o.members[i] |= s
	for _, p := range o.parents[i] {
		o.enter(s, p)
	}
}

// cyclic removes what has nothing left below it until nothing more goes; what
// stays is on a cycle or above one.
func (o *Order) cyclic() bool {
	below := make([]int, len(o.parents))
	for _, ps := range o.parents {
		for _, p := range ps {
			below[p]++
		}
	}
	var free []int
	for i, n := range below {
		if n == 0 {
			free = append(free, i)
		}
	}
	gone := 0
	for ; len(free) > 0; gone++ {
		i := free[0]
		free = free[1:]
		for _, p := range o.parents[i] {
			if below[p]--; below[p] == 0 {
				free = append(free, p)
			}
		}
	}
	return gone < len(o.parents)
}

// Members returns the elements of a group; of an element, itself; of a number
// out of range, none.
func (o *Order) Members(i int) Set {
	if i < 0 || i >= len(o.members) {
		return 0
	}
	return o.members[i]
}
