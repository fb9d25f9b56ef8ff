package cause

import (
	"cmp"
	"fmt"
	"iter"
	"math/bits"
	"slices"
	"strconv"
	"strings"
)

// MaxElements is how many different elements a Set can hold; they are
// numbered 0 to MaxElements-1.
const MaxElements = 64

// Set is a set of elements, bit e standing for element e. The zero value is
// the empty set. The operators |, & and &^ are union, intersection and
// difference.
type Set uint64

// Of returns the set of the given elements, in any order and repeated or not.
// It panics when one is outside 0 to MaxElements-1: numbering the elements is
// the caller's work and a number out of range is a fault in the program.
func Of(elements ...int) Set {
	var s Set
	for _, e := range elements {
		if e < 0 || e >= MaxElements {
			panic(fmt.Sprintf("cause: element %d is outside 0 to %d", e, MaxElements-1))
		}
		s |= 1 << e
	}
	return s
}

// Has reports whether e is in s. A number out of range is in no set.
func (s Set) Has(e int) bool { return e >= 0 && e < MaxElements && s>>e&1 == 1 }

// Contains reports whether every element of t is in s.
func (s Set) Contains(t Set) bool { return t&^s == 0 }

// Len returns the number of elements.
func (s Set) Len() int { return bits.OnesCount64(uint64(s)) }

// All yields the elements in ascending order.
func (s Set) All() iter.Seq[int] {
	return func(yield func(int) bool) {
		for r := s; r != 0; r &= r - 1 {
			if !yield(bits.TrailingZeros64(uint64(r))) {
				return
			}
		}
	}
}

// Elements returns the elements in ascending order.
func (s Set) Elements() []int { return slices.AppendSeq(make([]int, 0, s.Len()), s.All()) }

// String writes the set as {0 2 5}.
func (s Set) String() string {
	var b strings.Builder
	b.WriteByte('{')
	for e := range s.All() {
		if b.Len() > 1 {
			b.WriteByte(' ')
		}
		b.WriteString(strconv.Itoa(e))
	}
	b.WriteByte('}')
	return b.String()
}

// Compare orders sets for every list of this package: fewer elements first,
// and among equals the one whose largest differing element is smaller.
func (s Set) Compare(t Set) int {
	return cmp.Or(cmp.Compare(s.Len(), t.Len()), cmp.Compare(s, t))
}

// tidy sorts sets by Compare and drops repeats, in place.
func tidy(sets []Set) []Set {
	slices.SortFunc(sets, Set.Compare)
	return slices.Compact(sets)
}

// smallest keeps the sets that contain no other set of the list, in order.
func smallest(sets []Set) []Set {
	sets = tidy(slices.Clone(sets))
	kept := sets[:0]
	for _, s := range sets {
		if !slices.ContainsFunc(kept, s.Contains) {
			kept = append(kept, s)
		}
	}
	return kept
}

// widest keeps the sets that lie inside no other set of the list, in order.
func widest(sets []Set) []Set {
	sets = tidy(slices.Clone(sets))
	var kept []Set
	for i := len(sets) - 1; i >= 0; i-- {
		if !anyContains(kept, sets[i]) {
			kept = append(kept, sets[i])
		}
	}
	slices.Reverse(kept)
	return kept
}

// anyContains reports whether t lies inside one of sets.
func anyContains(sets []Set, t Set) bool {
	for _, s := range sets {
		if s.Contains(t) {
			return true
		}
	}
	return false
}
