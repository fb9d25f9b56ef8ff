package compat

import (
	"slices"

	"tankleaf.example/internal/mix"
)

// hazards returns those of every finding that asks for caution here, and of
// reactions seen in members of a class that was asked for.
func (q *inquiry) hazards() []mix.Hazard {
	var set hazardSet
	for _, h := range q.held {
		if h.Verdict >= mix.Steps || h.narrow && h.said >= mix.Steps {
			set |= h.hazards
		}
	}
	return set.list()
}

// handling returns the hazards that call for care: of handling the items alone,
// by their classes, and of gas or heat that the steps of a finding deal with.
func (q *inquiry) handling() []mix.Hazard {
	var set hazardSet
	for _, h := range q.held {
		if h.rule != nil && (h.Verdict == mix.Steps || h.Verdict == mix.Apart) {
			set |= h.rule.care
		}
	}
	for _, id := range q.items {
		for _, a := range q.j.x.Ancestors(id) {
			if c := q.j.x.Class(a); c != nil {
				set |= hazardsOf(c.Hazards)
			}
		}
	}
	return set.list()
}

// bySymptom applies rule 4: the worst that is known of each symptom by itself. A
// symptom is clean when jars that speak for this mix looked for it in vain.
func (q *inquiry) bySymptom() []SymptomVerdict {
	worst := map[mix.Symptom]mix.Verdict{}
	for _, h := range q.held {
		v := h.Verdict
		if h.clean && h.set != nil {
			v = mix.Clean
		}
		if v == mix.Unknown {
			continue
		}
		for _, x := range h.Symptoms {
			if h.set != nil && v >= mix.Steps {
				v = h.set.worst[x].Verdict
			}
			worst[x] = max(worst[x], v)
		}
	}
	var list []SymptomVerdict
	for _, x := range mix.Symptoms() {
		if v := worst[x]; v != mix.Unknown {
			list = append(list, SymptomVerdict{x, v})
		}
	}
	return list
}

// untested lists the pairs about which nothing is known: no evidence that counts
// speaks of both, here or of the pair by itself. What a rule or a water says of one
// of the two tests nothing.
func (q *inquiry) untested() [][]mix.ID {
	var list [][]mix.ID
	for a := range q.items {
		for b := a + 1; b < len(q.items); b++ {
			pair := []mix.ID{q.items[a], q.items[b]}
			if q.spoken(1<<a|1<<b) || len(q.items) > 2 && len(q.j.judge(pair, q.s).Untested) == 0 {
				continue
			}
			list = append(list, pair)
		}
	}
	return list
}

func (q *inquiry) spoken(pair itemSet) bool {
	for _, h := range q.held {
		if h.Verdict != mix.Unknown && !h.demands() && h.items.contains(pair) {
			return true
		}
	}
	return false
}

// whole returns the doubts on the answer that no single finding carries.
func (q *inquiry) whole(a *Answer) []Doubt {
	list := slices.DeleteFunc(slices.Clone(q.doubts), func(d Doubt) bool {
		return d.Code == Suspect && a.Verdict > mix.Clean
	})
	if len(q.items) > 2 && a.Verdict == mix.Unknown && len(a.Untested) == 0 {
		list = append(list, Doubt{Code: PairsOnly})
	}
	return list
}
