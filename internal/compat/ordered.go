package compat

import (
	"slices"

	"tankleaf.example/internal/mix"
)

// inOrder is the jars of a set whose products went in in one order, where that
// order stayed clean and only others reacted.
type inOrder struct {
	order []mix.ID
	set   *jarSet // of those jars alone
}

// ordered applies rule 5 to jars. Of a set in which something reacted it returns the
// orders in which nothing did: as many independent clean jars went in that way as
// may relax a statement, and every one that reacted is known to have gone in
// otherwise. A hazard is one in any order. Something seen and not judged may have
// been a reaction, so that such a set is left whole.
func (j *Judge) ordered(s *jarSet, known intervals) []inOrder {
	if len(s.Products) < 2 || s.reacted == 0 || s.unjudged || s.verdict() == mix.Never {
		return nil
	}
	reacted := map[string]bool{}
	quiet := map[string][]*Outcome{}
	for _, out := range s.outcomes {
		k := setKey(wentIn(out.Observation))
		switch {
		case out.states(Reacted) == 0:
			quiet[k] = append(quiet[k], out)
		case k == "":
			return nil // it may have gone in in any order
		default:
			reacted[k] = true
		}
	}
	var list []inOrder
	for k, outcomes := range quiet {
		if k == "" || reacted[k] || j.cleanTests(outcomes) < enoughToRelax {
			continue
		}
		sub := &jarSet{JarSet: JarSet{Products: s.Products}, place: s.place, outcomes: outcomes, worst: map[mix.Symptom]Sign{}}
		sub.sum(known)
		list = append(list, inOrder{wentIn(outcomes[0].Observation), sub})
	}
	slices.SortFunc(list, func(a, b inOrder) int { return slices.Compare(a.order, b.order) })
	return list
}

// cleanTests counts the independent jar tests in which all that is needed was
// looked for in vain.
func (j *Judge) cleanTests(outcomes []*Outcome) int {
	var tests []*mix.Observation
	for _, out := range outcomes {
		if !out.Observation.Field && out.Clean(j.needed.list()) {
			tests = append(tests, out.Observation)
		}
	}
	return independent(tests)
}

// wentIn returns the products of an observation in the order in which they went
// in; nil when that is not known, or one went in more than once.
func wentIn(o *mix.Observation) []mix.ID {
	if !o.OrderKnown || len(products(o)) != len(o.Products) {
		return nil
	}
	list := make([]mix.ID, len(o.Products))
	for i, p := range o.Products {
		list[i] = p.ID
	}
	return list
}

// inOrder returns the jars of the set that went in as the order of a mix has it, nil
// when that order is not known of all its products or was not the clean one.
func (s *jarSet) inOrder(order []mix.ID) *jarSet {
	var own []mix.ID
	for _, id := range order {
		if slices.Contains(s.Products, id) {
			own = append(own, id)
		}
	}
	for _, o := range s.orders {
		if slices.Equal(o.order, own) {
			return o.set
		}
	}
	return nil
}

// hearOrdered takes the jars that went in in the order of this mix and stayed clean;
// those that went in otherwise and reacted are shown and do not count.
func (q *inquiry) hearOrdered(b bearing, sub *jarSet) {
	off := q.holdReaction(b.set, b.part)
	off.Part, off.Verdict = OffGate, mix.Unknown
	off.Doubts = append(off.Doubts, Doubt{Code: OtherOrder})
	on := q.holdQuiet(sub, b.part)
	on.Doubts = append(on.Doubts, Doubt{Code: OtherOrder, Evidence: []Evidence{&b.set.JarSet}})
	q.held = append(q.held, off, on)
}
