package cause_test

import (
	"math/bits"
	"slices"

	"pgregory.net/rapid"

	. "tankleaf.example/internal/cause"
)

// The references here follow the definitions word by word and share no code
// with the package. A truth table is a number whose bit s says whether the
// subset s of up to 5 elements reacts.

// monotone returns the truth tables of all monotone reactions of n elements in
// which the empty set does not react: 1, 2, 5, 19, 167, 7580 of them.
func monotone(n int) []uint32 {
	tables := []uint32{0, 1} // of no elements
	for i := range n {
		var next []uint32
		for _, without := range tables {
			for _, with := range tables {
				if without&^with == 0 {
					next = append(next, without|with<<(1<<i))
				}
			}
		}
		tables = next
	}
	return slices.DeleteFunc(tables, func(f uint32) bool { return f&1 == 1 })
}

// leastTrue returns the smallest reacting sets of a table, as a table of sets.
func leastTrue(f uint32, n int) uint32 {
	var least uint32
	for s := range 1 << n {
		if f>>s&1 == 1 && !anyBelow(f, s, n) {
			least |= 1 << s
		}
	}
	return least
}

func anyBelow(f uint32, s, n int) bool {
	for e := range n {
		if s>>e&1 == 1 && f>>(s^1<<e)&1 == 1 {
			return true
		}
	}
	return false
}

// mostFalse returns the widest clean sets of a table, as a table of sets.
func mostFalse(f uint32, n int) uint32 {
	var most uint32
	for s := range 1 << n {
		if f>>s&1 == 1 {
			continue
		}
		widest := true
		for e := range n {
			widest = widest && (s>>e&1 == 1 || f>>(s|1<<e)&1 == 1)
		}
		if widest {
			most |= 1 << s
		}
	}
	return most
}

// list returns the sets of a table of sets, by Set.Compare.
func list(f uint32) []Set {
	var sets []Set
	for ; f != 0; f &= f - 1 {
		sets = append(sets, Set(bits.TrailingZeros32(f)))
	}
	slices.SortFunc(sets, Set.Compare)
	return sets
}

// below is the table of the subsets of s.
func below(s Set) uint32 {
	var t uint32
	for q := s; ; q = (q - 1) & s {
		t |= 1 << q
		if q == 0 {
			return t
		}
	}
}

// truth is a set of causes that a test plants.
type truth []Set

func (t truth) reacts(q Set) bool {
	return slices.ContainsFunc(t, q.Contains)
}

func (t truth) run(q Set) Run { return Run{Members: q, Reacted: t.reacts(q)} }

// full is the set of the elements 0 to n-1.
func full(n int) Set { return 1<<n - 1 }

// upTo returns the sets of 1 to size of the first n elements.
func upTo(n, size int) []Set {
	var sets []Set
	for s := Set(1); s <= full(n); s++ {
		if s.Len() <= size {
			sets = append(sets, s)
		}
	}
	slices.SortFunc(sets, Set.Compare)
	return sets
}

// pairsOf returns all pairs of which neither holds the other.
func pairsOf(sets []Set) []truth {
	var pairs []truth
	for i, a := range sets {
		for _, b := range sets[i+1:] {
			if !a.Contains(b) && !b.Contains(a) {
				pairs = append(pairs, truth{a, b})
			}
		}
	}
	return pairs
}

// genSet draws a subset of the first n elements that is not empty.
func genSet(n int) *rapid.Generator[Set] {
	return rapid.Map(rapid.Uint64Range(1, uint64(full(n))), func(x uint64) Set { return Set(x) })
}

// genTruth draws up to most causes of which none holds another.
func genTruth(n, most int) *rapid.Generator[truth] {
	return rapid.Custom(func(t *rapid.T) truth {
		var causes truth
		for _, s := range rapid.SliceOfN(genSet(n), 1, most).Draw(t, "causes") {
			if !causes.reacts(s) && !slices.ContainsFunc(causes, s.Contains) &&
				!slices.ContainsFunc(causes, func(c Set) bool { return c.Contains(s) }) {
				causes = append(causes, s)
			}
		}
		slices.SortFunc(causes, Set.Compare)
		return causes
	})
}

// genAgreeing draws runs that agree with some truth.
func genAgreeing(n int) *rapid.Generator[[]Run] {
	return rapid.Custom(func(t *rapid.T) []Run {
		is := genTruth(n, 4).Draw(t, "truth")
		var runs []Run
		for _, q := range rapid.SliceOfN(genSet(n), 0, 30).Draw(t, "sets") {
			runs = append(runs, is.run(q))
		}
		return runs
	})
}

// genAny draws runs that may contradict each other.
func genAny(n int) *rapid.Generator[[]Run] {
	return rapid.Custom(func(t *rapid.T) []Run {
		var runs []Run
		for _, q := range rapid.SliceOfN(genSet(n), 0, 12).Draw(t, "sets") {
			runs = append(runs, Run{Members: q, Reacted: rapid.Bool().Draw(t, "reacted")})
		}
		return runs
	})
}

// shuffled returns the runs in another order with some repeated.
func shuffled(t *rapid.T, runs []Run) []Run {
	if len(runs) == 0 {
		return nil
	}
	again := rapid.SliceOfN(rapid.SampledFrom(runs), 0, 5).Draw(t, "again")
	return rapid.Permutation(append(slices.Clone(runs), again...)).Draw(t, "order")
}
