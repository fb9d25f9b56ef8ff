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
	for _, s := range q.touching() {
		part, whole := q.positions(s)
		switch {
		case whole && s.reacted != 0:
			q.held = append(q.held, q.holdReaction(s, part))
		case whole:
			q.held = append(q.held, q.holdQuiet(s, part))
		case q.products && part.len() == len(q.items) && len(q.items) > 1:
			q.hearLarger(s, part)
		}
	}
}

// touching returns the sets of jars that hold a product of the mix, in the order
// of their keys.
func (q *inquiry) touching() []*jarSet {
	var list []*jarSet
	for _, id := range q.items {
		list = append(list, q.j.setsWith[id]...)
	}
	slices.SortFunc(list, compareSets)
	return slices.Compact(list)
}

func compareSets(a, b *jarSet) int { return slices.Compare(a.Products, b.Products) }

// positions returns the items of the mix that are in the jars, and whether the
// jars held nothing else.
func (q *inquiry) positions(s *jarSet) (part itemSet, whole bool) {
	whole = true
	for _, p := range s.Products {
		if i, found := slices.BinarySearch(q.items, p); found {
			part |= 1 << i
		} else {
			whole = false
		}
	}
	return part, whole
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
	for _, sign := range s.worst {
		h.Stated = max(h.Stated, sign.Verdict)
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
		h.clean = h.all
	}
	return h
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
// items suppress, and those products.
func (j *Judge) hidden(s *jarSet, items []mix.ID) (hidden symptomSet, by []mix.ID) {
	for _, p := range s.Products {
		if slices.Contains(items, p) {
			continue
		}
		for _, c := range j.hides {
			if j.x.IsA(p, c.ID) {
				hidden |= symptomsOf(c.Suppresses)
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

// common returns what two lists in the order of compareSets share.
func common(a, b []*jarSet) []*jarSet {
	var both []*jarSet
	for len(a) > 0 && len(b) > 0 {
		switch c := compareSets(a[0], b[0]); {
		case c < 0:
			a = a[1:]
		case c > 0:
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
