package compat

import (
	"slices"

	"tankleaf.example/internal/mix"
)

// side is one partner of a pair as far as its classes say: a class, or all
// products of one signature.
type side struct {
	class     mix.ID
	signature int // counted from 1; 0 for a class or an item that is in no book
}

type pairKey [2]side

// Pair answers what is known about two items in a situation of which nothing is
// known. A class paired with itself stands for two different members of it.
//
// The answer is kept and shared: callers must not change it. Products of one
// signature share one judgement until something is known of the very products,
// so that the cost of asking for all pairs follows the signatures.
func (j *Judge) Pair(a, b mix.ID) *Answer {
	if b < a {
		a, b = b, a
	}
	if a == b && j.x.Class(a) == nil {
		return j.Solo(a)
	}
	pair := []mix.ID{a, b}
	if j.special(a, b) {
		made := j.judge(pair, j.nothing)
		return &made
	}
	key := pairKey{j.side(a), j.side(b)}
	j.mu.Lock()
	known := j.pairs[key]
	j.mu.Unlock()
	if known == nil {
		made := j.judge(pair, j.nothing)
		known = &made
		j.mu.Lock()
		j.pairs[key] = known
		j.mu.Unlock()
	}
	return j.rename(known, a, b)
}

func (j *Judge) side(item mix.ID) side {
	if n := j.x.Signature(item); n >= 0 {
		return side{signature: n + 1}
	}
	return side{class: item}
}

// special reports whether something is known of two items that the signatures of
// the products among them do not say: a statement or notice about the very
// product, jars of it alone or with the other.
func (j *Judge) special(a, b mix.ID) bool {
	for _, id := range []mix.ID{a, b} {
		if j.x.Product(id) == nil {
			continue
		}
		if len(j.rules[id]) > 0 || len(j.twos[id]) > 0 && j.x.Class(other(id, a, b)) != nil {
			return true
		}
		if j.sets[string(id)+" "] != nil {
			return true
		}
	}
	return j.x.Product(a) != nil && j.x.Product(b) != nil && len(j.together([]mix.ID{a, b})) > 0
}

func other(id, a, b mix.ID) mix.ID {
	if id == a {
		return b
	}
	return a
}

// rename returns an answer with its items exchanged for x and y, in order.
func (j *Judge) rename(a *Answer, x, y mix.ID) *Answer {
	old := a.Items
	if old[0] == x && old[1] == y {
		return a
	}
	swap := func(id mix.ID) mix.ID {
		switch id {
		case old[0]:
			return x
		case old[1]:
			return y
		default:
			return id
		}
	}
	out := *a
	out.Items = swapAll(a.Items, swap)
	out.Findings = slices.Clone(a.Findings)
	for i := range out.Findings {
		j.renameFinding(&out.Findings[i], swap)
	}
	out.Doubts = renameDoubts(a.Doubts, swap)
	if a.Untested != nil {
		out.Untested = [][]mix.ID{out.Items}
	}
	return &out
}

// renameFinding looks the paths up again: products of one signature may be
// written into different classes of it.
func (j *Judge) renameFinding(f *Finding, swap func(mix.ID) mix.ID) {
	f.Matches = slices.Clone(f.Matches)
	for i := range f.Matches {
		m := &f.Matches[i]
		if item := swap(m.Item); item != m.Item {
			m.Item, m.Path = item, j.path(item, m.Member)
		}
	}
	f.MendItem = swap(f.MendItem)
	f.Doubts = renameDoubts(f.Doubts, swap)
}

func renameDoubts(list []Doubt, swap func(mix.ID) mix.ID) []Doubt {
	list = slices.Clone(list)
	for i := range list {
		if list[i].Items != nil {
			list[i].Items = swapAll(list[i].Items, swap)
		}
	}
	return list
}

func swapAll(list []mix.ID, swap func(mix.ID) mix.ID) []mix.ID {
	out := make([]mix.ID, len(list))
	for i, id := range list {
		out[i] = swap(id)
	}
	return out
}
