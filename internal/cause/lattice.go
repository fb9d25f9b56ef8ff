package cause

import (
	"cmp"
	"iter"
	"math/bits"
)

// maxWithin is the most elements that are searched at once. The search holds
// one number for each of their 2^maxWithin subsets.
const maxWithin = 16

// subsets yields the subsets of s with at most limit elements, the empty set
// first. It does not visit the larger ones.
func subsets(s Set, limit int) iter.Seq[Set] {
	return func(yield func(Set) bool) { grow(0, s, limit, yield) }
}

// grow yields base and base with up to left elements of rest added.
func grow(base, rest Set, left int, yield func(Set) bool) bool {
	if !yield(base) {
		return false
	}
	if left == 0 {
		return true
	}
	for rest != 0 {
		low := rest & -rest
		rest &^= low
		if !grow(base|low, rest, left-1, yield) {
			return false
		}
	}
	return true
}

// sum replaces g, which holds a value for each subset of n elements by its
// bits, by the sums over the subsets of each: g'(q) = Σ g(s) over s ⊆ q. It
// takes n·2^n additions where adding up each sum by itself takes 3^n. (Known
// as the zeta transform of the lattice of subsets, or as Yates's method; from
// memory: Björklund, Husfeldt, Kaski, Koivisto, "Fourier meets Möbius", STOC
// 2007.)
func sum(g []float64) {
	for step := 1; step < len(g); step <<= 1 {
		for base := 0; base < len(g); base += 2 * step {
			low, high := g[base:base+step], g[base+step:base+2*step]
			for i, x := range low {
				high[i] += x
			}
		}
	}
}

// sumAbove is sum over the supersets of each instead of its subsets.
func sumAbove(g []float64) {
	for step := 1; step < len(g); step <<= 1 {
		for base := 0; base < len(g); base += 2 * step {
			low, high := g[base:base+step], g[base+step:base+2*step]
			for i, x := range high {
				low[i] += x
			}
		}
	}
}

// frame numbers the elements of a set 0 to n-1, keeping their order, so that
// its subsets are the numbers 0 to 2^n-1.
type frame struct {
	set      Set
	elements []int
}

func newFrame(s Set) frame { return frame{s, s.Elements()} }

// size is the number of subsets.
func (f *frame) size() int { return 1 << len(f.elements) }

// pack returns the number of the part of s that is inside the frame.
func (f *frame) pack(s Set) mask {
	var m mask
	for i, e := range f.elements {
		m |= mask(s>>e&1) << i
	}
	return m
}

// unpack is the inverse of pack.
func (f *frame) unpack(m mask) Set {
	var s Set
	for ; m != 0; m &= m - 1 {
		s |= 1 << f.elements[bits.TrailingZeros16(uint16(m))]
	}
	return s
}

// mask is a subset of a frame.
type mask uint16

func (m mask) contains(t mask) bool { return t&^m == 0 }
func (m mask) len() int             { return bits.OnesCount16(uint16(m)) }

// compare orders masks as Set.Compare orders the sets, for pack keeps order.
func (m mask) compare(t mask) int { return cmp.Or(cmp.Compare(m.len(), t.len()), cmp.Compare(m, t)) }
