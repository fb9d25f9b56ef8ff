package compat

import (
	"slices"

	"tankleaf.example/internal/mix"
)

// enoughToRelax is the number of independent clean jars that may relax a
// statement about a class (rule 3).
const enoughToRelax = 3

// settle combines what was heard into an answer.
func (q *inquiry) settle() Answer {
	for _, h := range q.held {
		q.oppose(h)
	}
	q.counter()
	a := Answer{Items: q.items}
	a.Verdict = q.combine()
	q.bound()
	q.parts(a.Verdict)
	slices.SortStableFunc(q.held, compareParts)
	if len(q.held) > 0 && q.held[0].Part == Decides {
		first := q.held[0]
		a.Grade = first.Grade
		if first.rule != nil {
			a.Kind = first.rule.kind
		}
		a.Doubts = append(a.Doubts, first.Doubts...)
	}
	for _, h := range q.held {
		a.Findings = append(a.Findings, h.Finding)
	}
	a.Hazards, a.Handling = q.hazards(), q.handling()
	a.Symptoms = q.bySymptom()
	a.Untested = q.untested()
	a.Doubts = append(a.Doubts, q.whole(&a)...)
	return a
}

// oppose weighs clean jars against a finding that speaks for caution. They relax
// it by rule 3, or add a doubt to it.
func (q *inquiry) oppose(h *holding) {
	if h.rule != nil && h.Part != OffGate {
		q.inferred(h)
	}
	if h.Verdict < mix.Steps || h.narrower {
		return
	}
	if h.rule != nil && h.rule.law && h.hazards == 0 {
		return // law is not a matter of jars
	}
	part := q.itemsOf(h.items)
	quiet := q.j.opposing(h.symptoms, part)
	met, lenient := q.j.demanding(h, part, quiet)
	code := Disagree
	switch {
	case h.Verdict == mix.Never || h.rule != nil && h.rule.firm:
		code = HazardStands
	case q.relaxes(h, part, met):
		h.Part, h.Verdict = Relaxed, mix.Unknown
	}
	for _, s := range quiet {
		h.Doubts = addEvidence(h.Doubts, code, &s.JarSet)
	}
	for _, o := range q.held {
		if o.says(mix.Clean) && o.rule != nil && o.items.contains(h.items) && overlap(h.symptoms, o.symptoms) {
			h.Doubts = addEvidence(h.Doubts, code, o.Evidence)
			o.Doubts = addEvidence(o.Doubts, Disagree, h.Evidence)
		}
	}
	if h.rule != nil && h.Part != Relaxed && code == Disagree && lenient > 0 {
		h.Doubts = append(h.Doubts, Doubt{Code: Lenient, Number: lenient})
	}
}

// says reports whether a finding that applies here states the verdict.
func (h *holding) says(v mix.Verdict) bool {
	return h.Part != OffGate && h.Part != Relaxed && h.Stated == v
}

// inferred adds the doubt that these products were never tested, to a statement
// that reaches them only through their classes.
func (q *inquiry) inferred(h *holding) {
	part := q.itemsOf(h.items)
	if h.exact || h.narrower || h.rule.law || len(part) < 2 {
		return
	}
	if len(q.j.together(part)) == 0 {
		h.Doubts = append(h.Doubts, fromClass(part))
	}
}

// overlap reports whether two pieces of evidence speak of a common symptom. One
// that names none speaks of the mix as a whole.
func overlap(a, b symptomSet) bool { return a == 0 || b == 0 || a&b != 0 }

// together returns the sets of jars that held all the items, in order.
func (j *Judge) together(items []mix.ID) []*jarSet {
	list := j.setsWith[items[0]]
	for _, id := range items[1:] {
		if other := j.setsWith[id]; len(other) < len(list) {
			list = other
		}
	}
	var all []*jarSet
	for _, s := range list {
		if s.holds(items) {
			all = append(all, s)
		}
	}
	return all
}

func (s *jarSet) holds(items []mix.ID) bool {
	for _, id := range items {
		if _, found := slices.BinarySearch(s.Products, id); !found {
			return false
		}
	}
	return true
}

// quiet returns the sets of jars that held all the items and in which nothing
// was ever seen.
func (j *Judge) quiet(items []mix.ID) []*jarSet {
	return slices.DeleteFunc(j.together(items), func(s *jarSet) bool { return !s.clean() })
}

// opposing returns the quiet sets that held all the items and speak of one of the
// symptoms. What else was in a jar may hide all that it was looked at for; then it
// speaks of nothing.
func (j *Judge) opposing(symptoms symptomSet, items []mix.ID) []*jarSet {
	return slices.DeleteFunc(j.quiet(items), func(s *jarSet) bool {
		hidden, _ := j.hidden(s, items)
		told := s.clear &^ hidden
		return told == 0 || !overlap(symptoms, told)
	})
}

// demanding sorts the jar tests of quiet sets into those that answer the
// statement under conditions at least as demanding as its own, and the number of
// those that do not.
func (j *Judge) demanding(h *holding, part []mix.ID, quiet []*jarSet) (met []*mix.Observation, lenient int) {
	for _, s := range quiet {
		hidden, _ := j.hidden(s, part)
		for _, out := range s.outcomes {
			if out.Observation.Field {
				continue
			}
			if hidden&(h.symptoms|j.needed) == 0 && out.Clean(j.needed.list()) &&
				out.states(Clear).contains(h.symptoms) && j.meets(out.Observation, h) {
				met = append(met, out.Observation)
			} else {
				lenient++
			}
		}
	}
	return met, lenient
}

// meets reports whether a jar was run under the conditions of a statement: all
// its gates are known to hold, its carriers were there, and each product was
// dosed at its label's lowest rate or above.
func (j *Judge) meets(o *mix.Observation, h *holding) bool {
	if h.rule == nil {
		return true
	}
	s := j.setting(j.Situation(o))
	for i := range h.rule.when {
		if j.truth(&h.rule.when[i], s, products(o)) != mix.Holds {
			return false
		}
	}
	for _, m := range h.Matches {
		if c := j.x.Class(m.Item); c != nil && c.Carrier && j.inCarrier(s, m.Member) != mix.Holds {
			return false
		}
	}
	for i := range o.Products {
		if !j.fullRate(&o.Products[i]) {
			return false
		}
	}
	return true
}

// fullRate reports whether a product was dosed at its label's lowest rate or
// above. A rate that was not recorded may have been anything.
func (j *Judge) fullRate(p *mix.Portion) bool {
	if p.Rate.IsZero() {
		return false
	}
	product := j.x.Product(p.ID)
	if product == nil || product.Rate.IsZero() || !p.Rate.Comparable(product.Rate.Low) {
		return true
	}
	return p.Rate.Cmp(product.Rate.Low) >= 0
}

// relaxes applies rule 3 to one statement: it is about a class and not law, a
// jar can show all it speaks of, these very products never reacted, and enough
// independent jars were clean. What is "never" is never relaxed.
func (q *inquiry) relaxes(h *holding, part []mix.ID, met []*mix.Observation) bool {
	if h.rule == nil || h.rule.firm || h.exact {
		return false
	}
	if h.symptoms == 0 || !inJar.contains(h.symptoms) {
		return false
	}
	for _, id := range part {
		if q.j.x.Product(id) == nil {
			return false
		}
	}
	if s := q.j.sets[setKey(part)]; s != nil && (s.reacted != 0 || s.unjudged) {
		return false
	}
	return independent(met) >= enoughToRelax
}

// counter lets reactions of single products within a class decide against a
// statement that the class mixes cleanly, in the whole mix or in part of it.
func (q *inquiry) counter() {
	for _, h := range q.held {
		if !h.narrow || h.Part != Informative || h.said < mix.Steps {
			continue
		}
		for _, c := range q.held {
			if c.rule != nil && c.exact && c.said == mix.Clean && len(c.Open) == 0 && c.items.contains(h.items) {
				h.Part, h.Verdict = NoPart, h.said
				h.Doubts = addEvidence(h.Doubts, Disagree, c.Evidence)
				c.Doubts = addEvidence(c.Doubts, Disagree, h.Evidence)
			}
		}
	}
}

// combine returns the verdict: the worst that any finding asks for; else clean
// when every needed symptom was looked for in vain, or a source says so of these
// very items; else unknown. What law or label asks for makes steps of a mix that
// is known to be clean, in whole or in the part it is asked of; it is no evidence,
// and of a mix that nobody has tested it leaves "no evidence".
func (q *inquiry) combine() mix.Verdict {
	worst := mix.Unknown
	var cover symptomSet
	sourced, asked := false, false
	for _, h := range q.held {
		if h.demands() {
			asked = asked || h.Verdict == mix.Steps
			continue
		}
		worst = max(worst, h.Verdict)
		if h.clean && h.set != nil {
			cover |= h.symptoms
		}
		sourced = sourced || h.clean && h.rule != nil
	}
	covered := q.j.needed != 0 && cover.contains(q.j.needed)
	for _, h := range q.held {
		if h.clean && h.set != nil && covered {
			h.Verdict = mix.Clean
		}
	}
	if worst <= mix.Clean && (covered || sourced) {
		worst = mix.Clean
	}
	switch {
	case asked && (worst == mix.Clean || worst == mix.Unknown && q.cleanPart()):
		return mix.Steps
	case worst == mix.Unknown:
		q.shelve()
	}
	return worst
}

// parts tells each finding what it did.
func (q *inquiry) parts(verdict mix.Verdict) {
	slices.SortStableFunc(q.held, compareHoldings)
	decided := false
	for _, h := range q.held {
		switch {
		case h.Part == OffGate || h.Part == Relaxed:
		case h.Verdict == mix.Unknown:
			h.Part = Informative
			if h.clean && verdict > mix.Clean && q.outvoted(h) {
				h.Part = Outvoted
			}
		case h.Verdict == verdict && !decided:
			h.Part, decided = Decides, true
		case h.Verdict == mix.Clean && verdict > mix.Clean:
			h.Part = Informative
			if q.outvoted(h) {
				h.Part = Outvoted
			}
		case h.Mend != nil && h.Verdict < h.rule.verdict:
			h.Part = Softened
		default:
			h.Part = Agrees
		}
	}
}

// outvoted reports whether some finding asks for caution about a symptom that a
// clean one speaks of.
func (q *inquiry) outvoted(clean *holding) bool {
	for _, h := range q.held {
		if h.Verdict >= mix.Steps && overlap(h.symptoms, clean.symptoms) {
			return true
		}
	}
	return false
}

// partOrder is the order in which findings are told.
var partOrder = map[Part]int{Decides: 0, Agrees: 1, Softened: 1, Outvoted: 1, Relaxed: 2, Informative: 3, OffGate: 4}

func compareParts(a, b *holding) int { return partOrder[a.Part] - partOrder[b.Part] }
