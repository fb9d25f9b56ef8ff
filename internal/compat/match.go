package compat

import (
	"math/bits"
	"slices"

	"tankleaf.example/internal/mix"
)

// MaxItems is how many products or classes one mix may hold.
const MaxItems = 64

// itemSet is a set of positions in the items of a mix.
type itemSet uint64

func (s itemSet) contains(t itemSet) bool { return t&^s == 0 }
func (s itemSet) has(i int) bool          { return s>>i&1 == 1 }
func (s itemSet) len() int                { return bits.OnesCount64(uint64(s)) }

// matching is one way to let distinct items of a mix stand for the members of a
// rule.
type matching struct {
	items   itemSet  // without carriers of the situation
	stand   []mix.ID // the item of each member, in member order
	down    []mix.ID // members that lie below the class that was asked for
	exact   bool     // every item of the mix is itself the member it stands for
	product bool     // one of down is a product
	suppose []mix.ID // carriers that are not known to be in the tank
}

// stands tells how an item can stand for a member: as the member itself or
// something below it, or, for a class that was asked for, as something above it.
type stands uint8

const (
	no stands = iota
	isMember
	belowMember
	aboveMember
)

func (j *Judge) stands(item, member mix.ID) stands {
	switch {
	case item == member:
		return isMember
	case j.x.IsA(item, member):
		return belowMember
	case j.x.Class(item) != nil && j.x.IsA(member, item):
		return aboveMember
	default:
		return no
	}
}

// matcher finds the matchings of one rule in one mix.
type matcher struct {
	j     *Judge
	rule  *rule
	items []mix.ID // of the mix
	pool  []mix.ID // items, then carriers of the situation, then those supposed
	known int      // how many of the pool are not supposed
	used  []bool   // of the pool
	stand []mix.ID
	cost  int // members that lie below their item; a supposed carrier weighs more than any of them
	best  map[itemSet]found
}

const supposing = 1000

type found struct {
	stand []mix.ID
	cost  int
}

// matchings returns one matching for each set of items that can stand for the
// members: the one that needs the fewest narrower members, and of those the
// first in item order.
func (j *Judge) matchings(r *rule, items, carriers, supposed []mix.ID) []matching {
	m := &matcher{j: j, rule: r, items: items, best: map[itemSet]found{}}
	m.pool = slices.Concat(items, carriers)
	m.known = len(m.pool)
	for _, c := range supposed {
		if slices.Contains(r.members, c) {
			m.pool = append(m.pool, c)
		}
	}
	m.used = make([]bool, len(m.pool))
	m.place(0)
	var all []matching
	for set, f := range m.best {
		all = append(all, m.matching(set, f))
	}
	slices.SortFunc(all, func(a, b matching) int {
		return slices.Compare(a.stand, b.stand)
	})
	return all
}

// place tries every free item for member n and those after it.
func (m *matcher) place(n int) {
	if n == len(m.rule.members) {
		m.keep()
		return
	}
	for i, item := range m.pool {
		cost, fits := m.fits(i, m.rule.members[n])
		if m.used[i] || !fits {
			continue
		}
		m.used[i] = true
		m.cost += cost
		m.stand = append(m.stand, item)
		m.place(n + 1)
		m.stand = m.stand[:n]
		m.cost -= cost
		m.used[i] = false
	}
}

// fits reports whether position i of the pool can stand for a member, and at what
// cost. A carrier that is only supposed stands for itself alone.
func (m *matcher) fits(i int, member mix.ID) (cost int, ok bool) {
	how := m.j.stands(m.pool[i], member)
	switch {
	case i >= m.known:
		return supposing, how == isMember
	case how == aboveMember:
		return 1, i < len(m.items)
	default:
		return 0, how != no
	}
}

func (m *matcher) keep() {
	var set itemSet
	for i := range m.items {
		if m.used[i] {
			set |= 1 << i
		}
	}
	if set == 0 {
		return // the liquid of the tank alone is no mix
	}
	if old, ok := m.best[set]; ok && old.cost <= m.cost {
		return
	}
	m.best[set] = found{slices.Clone(m.stand), m.cost}
}

func (m *matcher) matching(set itemSet, f found) matching {
	out := matching{items: set, stand: f.stand, exact: true}
	for n, item := range f.stand {
		member := m.rule.members[n]
		if slices.Contains(m.pool[m.known:], item) {
			out.suppose = append(out.suppose, item)
		}
		switch m.j.stands(item, member) {
		case aboveMember:
			out.down = append(out.down, member)
			out.product = out.product || m.j.x.Product(member) != nil
			out.exact = false
		case belowMember:
			if slices.Contains(m.items, item) {
				out.exact = false
			}
		case isMember, no:
		}
	}
	return out
}

// matches writes a matching down with the chains of classes that justify it.
func (j *Judge) matches(r *rule, m matching) []Match {
	list := make([]Match, len(m.stand))
	for n, item := range m.stand {
		list[n] = Match{Item: item, Member: r.members[n], Path: j.path(item, r.members[n])}
	}
	return list
}

// path returns a shortest chain from the item to the member, whichever of the
// two is above the other; of equals the first in alphabetical order.
func (j *Judge) path(item, member mix.ID) []mix.ID {
	if j.x.IsA(item, member) {
		return j.climb(item, member)
	}
	p := j.climb(member, item)
	slices.Reverse(p)
	return p
}

// climb searches upwards, breadth first.
func (j *Judge) climb(from, to mix.ID) []mix.ID {
	came := map[mix.ID]mix.ID{from: ""}
	for todo := []mix.ID{from}; len(todo) > 0; todo = todo[1:] {
		at := todo[0]
		if at == to {
			break
		}
		for _, up := range j.parents(at) {
			if _, seen := came[up]; !seen {
				came[up] = at
				todo = append(todo, up)
			}
		}
	}
	var chain []mix.ID
	for at := to; at != ""; at = came[at] {
		chain = append(chain, at)
	}
	slices.Reverse(chain)
	return chain
}

// parents returns the classes directly above an item, sorted.
func (j *Judge) parents(item mix.ID) []mix.ID {
	var up []mix.ID
	if p := j.x.Product(item); p != nil {
		up = append(ids(p.Classes), j.byForm[p.Form]...)
	} else if c := j.x.Class(item); c != nil {
		up = ids(c.KindOf)
	}
	slices.Sort(up)
	return slices.Compact(up)
}
