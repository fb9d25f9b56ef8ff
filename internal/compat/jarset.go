package compat

import (
	"cmp"
	"maps"
	"slices"
	"strings"

	"tankleaf.example/internal/mix"
)

// jarSet is a [JarSet] with what resolution needs to know of it.
type jarSet struct {
	JarSet
	place    int        // in the order of all sets, by their products
	outcomes []*Outcome // one a jar
	worst    map[mix.Symptom]Sign
	reacted  symptomSet // in any jar or report
	unjudged bool       // something was seen in a vessel that the criteria could not judge
	clear    symptomSet // in at least one jar test, and reacted in none
	reports  int        // field reports among the jars
	orders   []inOrder  // in which nothing reacted, where others did
}

// clean reports whether nothing was ever seen in these jars and at least one
// symptom that a jar can show was looked for. Only such a set speaks for smaller
// mixes.
func (s *jarSet) clean() bool { return s.reacted == 0 && !s.unjudged && s.clear&inJar != 0 }

// verdict returns the worst that any reaction in the set means.
func (s *jarSet) verdict() mix.Verdict {
	worst := mix.Unknown
	for _, sign := range s.worst {
		worst = max(worst, sign.Verdict)
	}
	return worst
}

func (s *jarSet) count(x mix.Symptom) *Count {
	for i := range s.Counts {
		if s.Counts[i].Symptom == x {
			return &s.Counts[i]
		}
	}
	return nil
}

// grade returns the strength of the set: of replicates that are independent of
// each other, of a single jar, or of reports alone.
func (s *jarSet) grade() mix.Grade {
	tests := s.tests()
	switch {
	case len(tests) == 0:
		return mix.Report
	case independent(tests) > 1:
		return mix.Jars
	default:
		return mix.SingleJar
	}
}

func (s *jarSet) tests() []*mix.Observation {
	var tests []*mix.Observation
	for _, o := range s.Jars {
		if !o.Field {
			tests = append(tests, o)
		}
	}
	return tests
}

// products returns the distinct products of an observation, sorted.
func products(o *mix.Observation) []mix.ID {
	list := make([]mix.ID, len(o.Products))
	for i, p := range o.Products {
		list[i] = p.ID
	}
	slices.Sort(list)
	return slices.Compact(list)
}

// setKey names a set of products, given sorted.
func setKey(list []mix.ID) string {
	var b strings.Builder
	for _, id := range list {
		b.WriteString(string(id))
		b.WriteByte(' ')
	}
	return b.String()
}

// gather groups the observations by their products. The order of the records
// changes nothing.
func gather(outcomes []*Outcome, known intervals) map[string]*jarSet {
	sets := map[string]*jarSet{}
	for _, out := range outcomes {
		list := products(out.Observation)
		if len(list) == 0 {
			continue
		}
		s := sets[setKey(list)]
		if s == nil {
			s = &jarSet{JarSet: JarSet{Products: list}, worst: map[mix.Symptom]Sign{}}
			sets[setKey(list)] = s
		}
		s.outcomes = append(s.outcomes, out)
	}
	for _, s := range sets {
		s.sum(known)
	}
	return sets
}

// intervals keeps the bounds of the counts met so far: thousands of sets share a
// few dozen.
type intervals map[[2]int][3]float64

func (v intervals) fill(c *Count) {
	b, ok := v[[2]int{c.Reacted, c.Recorded}]
	if !ok {
		b[0], b[1] = Interval(c.Reacted, c.Recorded, Confidence)
		b[2] = Upper(c.Reacted, c.Recorded, Confidence)
		v[[2]int{c.Reacted, c.Recorded}] = b
	}
	c.Low, c.High, c.Upper = b[0], b[1], b[2]
}

// sum fills in everything that follows from the outcomes.
func (s *jarSet) sum(known intervals) {
	slices.SortFunc(s.outcomes, func(a, b *Outcome) int {
		return cmp.Or(a.Observation.Date.Compare(b.Observation.Date), cmp.Compare(a.Observation.ID, b.Observation.ID))
	})
	var clear symptomSet
	for _, out := range s.outcomes {
		s.Jars = append(s.Jars, out.Observation)
		s.reacted |= out.states(Reacted)
		if out.Observation.Field {
			s.reports++
		} else {
			clear |= out.states(Clear)
		}
		for _, sign := range out.Signs {
			s.unjudged = s.unjudged || sign.Unjudged && inJar.has(sign.Symptom)
			if sign.Verdict > s.worst[sign.Symptom].Verdict {
				s.worst[sign.Symptom] = sign
			}
		}
	}
	s.clear = clear &^ s.reacted
	for _, x := range (clear | s.reacted).list() {
		c := tally(s.outcomes, x)
		known.fill(&c)
		s.Counts = append(s.Counts, c)
	}
}

// tally counts one symptom. Field reports are made because something was seen;
// they are counted apart and enter no interval.
func tally(outcomes []*Outcome, x mix.Symptom) Count {
	c := Count{Symptom: x}
	var recorded []*mix.Observation
	for _, out := range outcomes {
		switch state := out.Sign(x).State; {
		case state == NotSeen:
		case out.Observation.Field:
			if state == Reacted {
				c.Reports++
			}
		default:
			recorded = append(recorded, out.Observation)
			if state == Reacted {
				c.Reacted++
			}
		}
	}
	c.Recorded, c.Independent = len(recorded), independent(recorded)
	return c
}

// independent counts jars that are known to differ pairwise in day, water or
// batch. What was not recorded may have been the same, so the count is a lower
// bound; jars that recorded more are taken first, which makes it the best one
// when all recorded everything.
func independent(jars []*mix.Observation) int {
	list := slices.Clone(jars)
	slices.SortFunc(list, func(a, b *mix.Observation) int {
		return cmp.Or(cmp.Compare(gaps(a), gaps(b)), a.Date.Compare(b.Date), cmp.Compare(a.ID, b.ID))
	})
	var kept []*mix.Observation
	for _, o := range list {
		if !slices.ContainsFunc(kept, func(k *mix.Observation) bool { return !differ(o, k) }) {
			kept = append(kept, o)
		}
	}
	return len(kept)
}

// gaps counts what a jar left unrecorded of day, water and batches.
func gaps(o *mix.Observation) int {
	n := 0
	if o.Date.IsZero() {
		n++
	}
	if o.Water.ID == "" {
		n++
	}
	for _, p := range o.Products {
		if p.Batch == "" {
			n++
		}
	}
	return n
}

// differ reports whether two jars are known to differ in day, in water or in the
// batch of a product.
func differ(a, b *mix.Observation) bool {
	if !a.Date.IsZero() && !b.Date.IsZero() && a.Date != b.Date {
		return true
	}
	if a.Water.ID != "" && b.Water.ID != "" && a.Water.ID != b.Water.ID {
		return true
	}
	batch := batches(a)
	for id, x := range batches(b) {
		if y := batch[id]; x != "" && y != "" && x != y {
			return true
		}
	}
	return false
}

func batches(o *mix.Observation) map[mix.ID]string {
	m := make(map[mix.ID]string, len(o.Products))
	for _, p := range o.Products {
		m[p.ID] = p.Batch
	}
	return m
}

// sorted returns the sets in the order of their products.
func sorted(sets map[string]*jarSet) []*jarSet {
	return slices.SortedFunc(maps.Values(sets), func(a, b *jarSet) int {
		return slices.Compare(a.Products, b.Products)
	})
}
