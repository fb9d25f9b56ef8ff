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
	pool  []mix.ID // items, then carriers of the situation
	used  itemSet
	stand []mix.ID
	cost  int // members that lie below their item
	best  map[itemSet]found
}

type found struct {
	stand []mix.ID
	cost  int
}

// matchings returns one matching for each set of items that can stand for the
// members: the one that needs the fewest narrower members, and of those the
// first in item order.
func (j *Judge) matchings(r *rule, items, carriers []mix.ID) []matching {
	m := &matcher{j: j, rule: r, items: items, best: map[itemSet]found{}}
	m.pool = slices.Concat(items, carriers)
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
		if m.used.has(i) {
			continue
		}
		how := m.j.stands(item, m.rule.members[n])
		if how == no || how == aboveMember && i >= len(m.items) {
			continue
		}
		if how == aboveMember {
			m.cost++
		}
		m.used |= 1 << i
		m.stand = append(m.stand, item)
		m.place(n + 1)
		m.stand = m.stand[:n]
		m.used &^= 1 << i
		if how == aboveMember {
			m.cost--
		}
	}
}

func (m *matcher) keep() {
	set := m.used & (1<<len(m.items) - 1)
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
