package compat

import (
	"cmp"
	"slices"

	"tankleaf.example/internal/mix"
)

// hearJars applies rule 1 to observations: what reacted in part of the mix is
// expected in all of it, and what stayed quiet in a larger mix speaks for this
// one.
func (q *inquiry) hearJars() {
	for _, b := range q.bearing() {
		sub := b.set.inOrder(q.s.Order)
		switch {
		case b.whole && sub != nil:
			q.hearOrdered(b, sub)
		case b.whole && b.set.reacted != 0:
			q.held = append(q.held, q.holdReaction(b.set, b.part))
			q.alone(q.held[len(q.held)-1])
		case b.whole:
			q.held = append(q.held, q.holdQuiet(b.set, b.part))
		default:
			q.hearLarger(b.set, b.part)
		}
	}
}

// bearing is a set of jars that bears on a mix: whole when it held nothing but
// items of the mix, otherwise it held all of them and more.
type bearing struct {
	set   *jarSet
	part  itemSet
	whole bool
}

// bearing returns the sets that bear on the mix, in the order of their products.
// Each is found at the first of its items.
func (q *inquiry) bearing() []bearing {
	larger := q.products && len(q.items) > 1
	var list []bearing
	for i, id := range q.items {
		for _, s := range q.j.setsWith[id] {
			part := q.positions(s)
			if part&(1<<i-1) != 0 {
				continue
			}
			b := bearing{s, part, part.len() == len(s.Products)}
			if b.whole || larger && part.len() == len(q.items) {
				list = append(list, b)
			}
		}
	}
	slices.SortFunc(list, func(a, b bearing) int { return a.set.place - b.set.place })
	return list
}

// positions returns the items of the mix that are in the jars.
func (q *inquiry) positions(s *jarSet) itemSet {
	var part itemSet
	for _, p := range s.Products {
		if i, found := slices.BinarySearch(q.items, p); found {
			part |= 1 << i
		}
	}
	return part
}

func (q *inquiry) hold(s *jarSet, part itemSet) *holding {
	h := &holding{
		set: s, items: part, exact: true,
		all: part.len() == len(q.items),
	}
	h.Finding = Finding{Evidence: &s.JarSet, Grade: s.grade(), Basis: s.grade(), Doubts: q.j.jarDoubts(s)}
	return h
}

func (q *inquiry) holdReaction(s *jarSet, part itemSet) *holding {
	h := q.hold(s, part)
	h.symptoms = s.reacted
	h.Stated = s.verdict()
	for _, sign := range s.worst {
		h.hazards = h.hazards.with(sign.Hazard)
	}
	h.Verdict, h.said = h.Stated, h.Stated
	h.Symptoms, h.Hazards = h.symptoms.list(), h.hazards.list()
	return h
}

// holdQuiet holds jars of this mix, or of part of it, in which nothing was seen.
// Those of a part prove nothing of the whole.
func (q *inquiry) holdQuiet(s *jarSet, part itemSet) *holding {
	h := q.hold(s, part)
	h.Part = Informative
	h.symptoms = s.clear
	h.Symptoms = h.symptoms.list()
	if s.clean() {
		h.Stated = mix.Clean
		h.clean = h.all && len(s.Products) > 1
	}
	return h
}

// alone turns a nuisance seen in one product by itself into a doubt: it is no
// matter of mixing, and often one of the water. A hazard stays a hazard.
func (q *inquiry) alone(h *holding) {
	if len(h.set.Products) > 1 || h.Verdict == mix.Never {
		return
	}
	h.Part, h.Verdict = Informative, mix.Unknown
	q.doubts = addEvidence(q.doubts, Alone, h.Evidence)
}

// hearLarger takes jars that held all of this mix and more. Had something
// reacted there it may be due to what else was in them; what stayed quiet counts
// symptom by symptom, except where something else in the jar hides it.
func (q *inquiry) hearLarger(s *jarSet, part itemSet) {
	if s.reacted != 0 {
		q.doubts = addEvidence(q.doubts, Suspect, &s.JarSet)
		return
	}
	if !s.clean() {
		return
	}
	h := q.hold(s, part)
	h.Part, h.Stated, h.larger = Informative, mix.Clean, true
	hidden, by := q.j.hidden(s, q.items)
	h.symptoms = s.clear &^ hidden
	h.Symptoms = h.symptoms.list()
	h.clean = h.symptoms != 0
	h.Doubts = append(h.Doubts, Doubt{Code: CleanByLarger, Evidence: []Evidence{&s.JarSet}})
	if lost := s.clear & hidden; lost != 0 {
		h.Doubts = append(h.Doubts, Doubt{Code: Hidden, Symptoms: lost.list(), Items: by})
	}
	q.held = append(q.held, h)
}

// hidden returns the symptoms that products of the jars other than the given
// items suppress or mend, and those products: with a compatibility agent in it a
// quiet jar does not speak for the mix without.
func (j *Judge) hidden(s *jarSet, items []mix.ID) (hidden symptomSet, by []mix.ID) {
	for _, p := range s.Products {
		if slices.Contains(items, p) {
			continue
		}
		for _, id := range j.x.Classes(p) {
			if quiet := j.quiets[id]; quiet != 0 {
				hidden |= quiet
				by = append(by, p)
			}
		}
	}
	return hidden, slices.Compact(by)
}

// mostMembers is how many reactions between members of two classes are listed.
const mostMembers = 12

// hearMembers brings in jars of single products within the classes that were
// asked for. A reaction there is shown and linked but says nothing of the class;
// only against a statement that the class mixes cleanly does it decide, as a
// counterexample.
func (q *inquiry) hearMembers() {
	var list []*holding
	for a := range q.items {
		for b := a + 1; b < len(q.items); b++ {
			if q.j.x.Product(q.items[a]) == nil || q.j.x.Product(q.items[b]) == nil {
				list = append(list, q.between(a, b)...)
			}
		}
	}
	slices.SortFunc(list, func(a, b *holding) int {
		return cmp.Or(cmp.Compare(b.Stated, a.Stated), compareHoldings(a, b))
	})
	q.held = append(q.held, list[:min(len(list), mostMembers)]...)
	if len(list) > 0 {
		d := Doubt{Code: SomeMembers, Number: len(list)}
		for _, h := range list[:min(len(list), mostMembers)] {
			d.Evidence = append(d.Evidence, h.Evidence)
		}
		q.doubts = append(q.doubts, d)
	}
}

// between returns the reactions of two products that belong to items a and b.
func (q *inquiry) between(a, b int) []*holding {
	x, y := q.items[a], q.items[b]
	var list []*holding
	for _, s := range common(q.j.twos[x], q.j.twos[y]) {
		p, r := s.Products[0], s.Products[1]
		straight := q.j.x.IsA(p, x) && q.j.x.IsA(r, y)
		if !straight && !(q.j.x.IsA(r, x) && q.j.x.IsA(p, y)) {
			continue // both belong to the same one of the two
		}
		h := q.holdReaction(s, 1<<a|1<<b)
		h.exact, h.narrower, h.narrow = false, true, true
		h.Part, h.Verdict = Informative, mix.Unknown
		if !straight {
			p, r = r, p
		}
		h.Matches = []Match{{x, p, q.j.path(x, p)}, {y, r, q.j.path(y, r)}}
		h.Doubts = append(h.Doubts, Doubt{Code: SomeMembers, Items: s.Products})
		list = append(list, h)
	}
	return list
}

// common returns what two lists of sets in order share.
func common(a, b []*jarSet) []*jarSet {
	var both []*jarSet
	for len(a) > 0 && len(b) > 0 {
		switch {
		case a[0].place < b[0].place:
			a = a[1:]
		case a[0].place > b[0].place:
			b = b[1:]
		default:
			both = append(both, a[0])
			a, b = a[1:], b[1:]
		}
	}
	return both
}

// addEvidence adds evidence to the doubt of a code, which it appends when there
// is none yet.
func addEvidence(doubts []Doubt, code DoubtCode, e Evidence) []Doubt {
	for i := range doubts {
		if doubts[i].Code == code {
			if !slices.Contains(doubts[i].Evidence, e) {
				doubts[i].Evidence = append(doubts[i].Evidence, e)
			}
			return doubts
		}
	}
	return append(doubts, Doubt{Code: code, Evidence: []Evidence{e}})
}
