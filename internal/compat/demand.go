package compat

import "tankleaf.example/internal/mix"

// demands reports whether a finding asks for steps and is no evidence.
func (h *holding) demands() bool { return h.rule != nil && h.rule.demand }

// shelve leaves demands to be shown beside "no evidence".
func (q *inquiry) shelve() {
	for _, h := range q.held {
		if h.demands() {
			h.Verdict = mix.Unknown
		}
	}
}

// cleanPart reports whether steps are asked for of a part of the mix that is known
// to be clean. That more went in, of which nothing is known, does not take them
// away.
func (q *inquiry) cleanPart() bool {
	for _, part := range q.cleanParts() {
		if q.j.judge(q.itemsOf(part), q.s).Verdict == mix.Steps {
			return true
		}
	}
	return false
}

// mostParts bounds the parts that are looked at.
const mostParts = 256

// cleanParts returns the parts of the mix that may be clean: what quiet jars held
// of it, and what statements call clean. What several of them have in common is
// found when a part is judged, by the parts of it.
func (q *inquiry) cleanParts() []itemSet {
	var list []itemSet
	seen := map[itemSet]bool{}
	add := func(s itemSet) {
		if n := s.len(); n > 1 && n < len(q.items) && !seen[s] && len(list) < mostParts {
			seen[s] = true
			list = append(list, s)
		}
	}
	for i, id := range q.items {
		for _, s := range q.j.setsWith[id] {
			part := q.positions(s)
			quiet := s.clean() || s.inOrder(q.s.Order) != nil
			if quiet && part&(1<<i-1) == 0 {
				add(part)
			}
		}
	}
	for _, h := range q.held {
		if h.exact && h.rule != nil && h.Stated == mix.Clean {
			add(h.items)
		}
	}
	return list
}
