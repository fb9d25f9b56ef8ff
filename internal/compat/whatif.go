package compat

import (
	"cmp"
	"fmt"
	"slices"

	"tankleaf.example/internal/mix"
)

// Changes is what changes of one item would make of a mix.
type Changes struct {
	Without []Change      // each item left out, in item order; none when there is nothing else in it
	Instead []Replacement // for each item of a conflict that has any, in item order
}

// Change is what becomes of a mix when one item is taken out, alone or with
// another put in its place.
type Change struct {
	Out, In  mix.ID   // In is empty when nothing takes its place
	Answer   Answer   // of the changed mix
	Left     int      // conflicts in the changed mix
	Untested []mix.ID // items of the changed mix with which nobody has tested In
}

// Replacement is what serves a purpose of an item that takes part in a conflict, and
// takes part in none in its place.
type Replacement struct {
	Out   mix.ID
	Found int      // how many there are
	Best  []Change // of these the first few, in the order that they are told in
}

// mostReplacements is how many replacements of one item are listed: as many as fit a
// phone's screen.
const mostReplacements = 6

// WhatIf returns what would change a mix: each item taken out, and what may take the
// place of those that keep it from one tank. A mix that asks for steps is answered by
// its steps, and nothing is sought in place of a product of it.
func (j *Judge) WhatIf(items []mix.ID, s mix.Situation) Changes {
	now := j.Mix(items, s)
	if len(now.Items) < 2 {
		return Changes{}
	}
	all := Changes{Instead: j.replacements(&now, s, mix.Apart)}
	for _, id := range now.Items {
		all.Without = append(all.Without, changed(id, "", j.Mix(without(now.Items, id), s), mix.Apart))
	}
	return all
}

// Replacements returns what may take the place of a product of a mix, as
// [Judge.WhatIf] does: it serves the purpose on the crop, nothing about it asks for
// the caution that is given or more, and it is not in the mix already. Those that
// leave the fewest other conflicts come first; then those that were tested with most
// of what is in the tank; then those with a known answer, for no evidence is not an
// improvement, only a question; then the less cautious.
func (j *Judge) Replacements(items []mix.ID, s mix.Situation, from mix.Verdict) []Replacement {
	now := j.Mix(items, s)
	return j.replacements(&now, s, from)
}

func (j *Judge) replacements(now *Answer, s mix.Situation, from mix.Verdict) []Replacement {
	conflicts := now.askingFor(from)
	var list []Replacement
	for _, out := range now.Items {
		if len(now.Items) < 2 || !slices.ContainsFunc(conflicts, func(c Conflict) bool { return slices.Contains(c.Items, out) }) {
			continue // the trouble lies elsewhere
		}
		if r := j.inPlaceOf(out, without(now.Items, out), s, from); r.Found > 0 {
			list = append(list, r)
		}
	}
	return list
}

func without(items []mix.ID, id mix.ID) []mix.ID {
	return slices.DeleteFunc(slices.Clone(items), func(x mix.ID) bool { return x == id })
}

// inPlaceOf tries the products that share a purpose with one item. The pairs are
// asked first, since they are at hand; only what passes them is judged whole.
func (j *Judge) inPlaceOf(out mix.ID, rest []mix.ID, s mix.Situation, from mix.Verdict) Replacement {
	r := Replacement{Out: out}
	for _, in := range j.samePurpose(out, s.Crop) {
		if slices.Contains(rest, in) || j.firmPair(rest, in, s) >= from {
			continue
		}
		a := j.Mix(append(slices.Clone(rest), in), s)
		if !slices.ContainsFunc(a.grave(from), func(g grave) bool { return slices.Contains(g.items, in) }) {
			r.Best = append(r.Best, changed(out, in, a, from))
		}
	}
	slices.SortStableFunc(r.Best, compareChanges)
	r.Found = len(r.Best)
	r.Best = r.Best[:min(r.Found, mostReplacements)]
	return r
}

func changed(out, in mix.ID, a Answer, from mix.Verdict) Change {
	c := Change{Out: out, In: in, Answer: a, Left: len(a.askingFor(from))}
	for _, pair := range a.Untested {
		if in != "" && slices.Contains(pair, in) {
			c.Untested = append(c.Untested, other(in, pair[0], pair[1]))
		}
	}
	return c
}

func compareChanges(a, b Change) int {
	return cmp.Or(
		cmp.Compare(a.Left, b.Left),
		cmp.Compare(len(a.Untested), len(b.Untested)),
		compareBool(a.Answer.Verdict == mix.Unknown, b.Answer.Verdict == mix.Unknown),
		cmp.Compare(a.Answer.Verdict, b.Answer.Verdict),
	)
}

// firmPair returns the worst verdict on the item with one of the rest that holds in
// every situation and that nothing else in the tank can mend.
func (j *Judge) firmPair(rest []mix.ID, in mix.ID, s mix.Situation) mix.Verdict {
	worst := mix.Unknown
	for _, id := range rest {
		a := j.Pair(id, in)
		if d := a.Deciding(); d != nil && len(d.Open) == 0 && slices.Contains(a.about(d), in) && firm(d, s) {
			worst = max(worst, d.Verdict)
		}
	}
	return worst
}

// firm reports whether a finding on a pair, which no gate leaves open, is one of every
// mix that holds the pair.
func firm(f *Finding, s mix.Situation) bool {
	switch e := f.Evidence.(type) {
	case Statement:
		return len(e.Mends) == 0
	case Ruling:
		return true
	case *JarSet:
		return len(s.Order) == 0 // other jars may speak for this order
	default:
		panic(fmt.Sprintf("evidence %T", e))
	}
}

// samePurpose returns the other products with a use for a purpose that the
// product also serves, on the same crop when one is given; sorted.
func (j *Judge) samePurpose(product, crop mix.ID) []mix.ID {
	p := j.x.Product(product)
	if p == nil {
		return nil
	}
	var list []mix.ID
	for _, u := range p.Uses {
		if u.Purpose.ID != "" && (crop == "" || u.Crop.ID == crop) {
			list = append(list, j.purpose[purposeKey{u.Purpose.ID, crop}]...)
		}
	}
	slices.Sort(list)
	return without(slices.Compact(list), product)
}

// purposeKey is a purpose, on one crop or, with an empty crop, on any.
type purposeKey struct{ purpose, crop mix.ID }

func (j *Judge) readPurposes() {
	book := j.x.Book()
	for i := range book.Products {
		p := &book.Products[i]
		if j.x.Product(p.ID) != p {
			continue
		}
		j.productIDs = append(j.productIDs, p.ID)
		for _, u := range p.Uses {
			for _, crop := range []mix.ID{"", u.Crop.ID} {
				k := purposeKey{u.Purpose.ID, crop}
				j.purpose[k] = append(j.purpose[k], p.ID)
			}
		}
	}
	slices.Sort(j.productIDs)
}
