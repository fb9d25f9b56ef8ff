package compat

import (
	"cmp"
	"math/bits"
	"slices"

	"tankleaf.example/internal/mix"
)

// analogy is a reason to expect a reaction of a pair that was never seen: what is
// known of the next of kin of one of the two.
type analogy struct {
	verdict  mix.Verdict
	evidence Evidence
	sides    [2]kin
}

// kin tells which signatures a side of an analogy speaks of, and which are next
// of kin to those.
type kin struct {
	exact mix.ID   // a class: its members
	near  []mix.ID // the classes whose members are near
}

// kinship is where a signature stands in each analogy, a bit for each of them.
type kinship struct{ exact, near [2][]uint64 }

// analogies lists, worst first, the statements of two members that ask for
// caution, where next of kin are the members of a parent of the member; and the
// reactions of two products seen in jars, where next of kin share a class, other
// than one of formulation, that the product is written into.
func (j *Judge) analogies() []analogy {
	var list []analogy
	for _, r := range j.all {
		if r.law || r.verdict < mix.Steps || r.product {
			continue
		}
		for n, a := range r.members {
			for _, b := range r.members[n+1:] {
				list = append(list, analogy{r.verdict, r.evidence, [2]kin{j.kinOfClass(a), j.kinOfClass(b)}})
			}
		}
	}
	for _, s := range sorted(j.sets) {
		if len(s.Products) == 2 && s.reacted != 0 {
			list = append(list, analogy{s.verdict(), &s.JarSet, [2]kin{j.kinOfProduct(s.Products[0]), j.kinOfProduct(s.Products[1])}})
		}
	}
	slices.SortStableFunc(list, func(a, b analogy) int { return cmp.Compare(b.verdict, a.verdict) })
	return list
}

func (j *Judge) kinOfClass(class mix.ID) kin {
	k := kin{exact: class}
	if c := j.x.Class(class); c != nil {
		k.near = ids(c.KindOf)
	}
	return k
}

func (j *Judge) kinOfProduct(product mix.ID) kin {
	var k kin
	if p := j.x.Product(product); p != nil {
		for _, id := range ids(p.Classes) {
			if c := j.x.Class(id); c != nil && c.Axis != mix.Formulation {
				k.near = append(k.near, id)
			}
		}
	}
	return k
}

// place returns where a signature stands in the analogies. In one drawn from a
// jar both sides are next of kin, never exact: the products themselves were seen.
func place(list []analogy, classes []mix.ID) kinship {
	words := (len(list) + 63) / 64
	var k kinship
	for side := range 2 {
		k.exact[side], k.near[side] = make([]uint64, words), make([]uint64, words)
		for n, a := range list {
			bit := uint64(1) << (n % 64)
			has := func(id mix.ID) bool { _, found := slices.BinarySearch(classes, id); return found }
			near := slices.ContainsFunc(a.sides[side].near, has)
			if near {
				k.near[side][n/64] |= bit
			}
			if has(a.sides[side].exact) || near && a.sides[side].exact == "" {
				k.exact[side][n/64] |= bit
			}
		}
	}
	return k
}

// worst returns the number of the worst analogy that two signatures stand in, one
// of them exactly and the other at least as next of kin; -1 for none.
func (k *kinship) worst(o *kinship) int {
	for w := range k.exact[0] {
		both := k.exact[0][w]&o.near[1][w] | k.near[0][w]&o.exact[1][w] |
			o.exact[0][w]&k.near[1][w] | o.near[0][w]&k.exact[1][w]
		if both != 0 {
			return 64*w + bits.TrailingZeros64(both)
		}
	}
	return -1
}
