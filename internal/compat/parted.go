package compat

import (
	"tankleaf.example/internal/mix"
)

// Parted is two symptoms that records tell apart: each was seen where the other
// was looked for in vain. What causes one then need not cause the other, and what
// hides one leaves the other.
type Parted struct {
	A, B         mix.Symptom
	OnlyA, OnlyB []*mix.Observation // by date, then ID; neither is empty
}

// Parted returns the pairs of symptoms among cases that records tell apart, in the
// order of the cases.
func (j *Judge) Parted(cases []Case) []Parted {
	var list []Parted
	for i := range cases {
		for k := i + 1; k < len(cases); k++ {
			a, b := &cases[i], &cases[k]
			p := Parted{A: a.Symptom, B: b.Symptom, OnlyA: j.without(a, b.Symptom), OnlyB: j.without(b, a.Symptom)}
			if len(p.OnlyA) > 0 && len(p.OnlyB) > 0 {
				list = append(list, p)
			}
		}
	}
	return list
}

// without returns the reactions of a case in which another symptom was looked for
// and not there.
func (j *Judge) without(c *Case, s mix.Symptom) []*mix.Observation {
	var list []*mix.Observation
	for _, o := range c.Reacted {
		if j.outcomes[o.ID].Sign(s).State == Clear {
			list = append(list, o)
		}
	}
	return list
}
