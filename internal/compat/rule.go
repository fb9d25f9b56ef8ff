package compat

import (
	"slices"

	"tankleaf.example/internal/mix"
)

// rule is an interaction or a notice, in the one form that resolution works on.
type rule struct {
	evidence Evidence
	id       mix.ID
	members  []mix.ID
	distinct int         // how many different members
	place    int         // in the order of all rules
	verdict  mix.Verdict // what it says once hazards are counted; Unknown changes nothing
	stated   mix.Verdict // what its author wrote
	kind     mix.Kind
	grade    mix.Grade
	hazards  hazardSet
	care     hazardSet  // of gas, heat or fire that its steps deal with
	firm     bool       // no mend softens it and no jar relaxes it
	symptoms symptomSet // none: it speaks of the mix as a whole
	when     []mix.Gate
	mends    []mix.Mend
	product  bool // one of its members is a product, not a class
	law      bool // a notice, or an interaction of kind legal: holds for all members of a class
	notice   bool
	demand   bool // asks for steps and says nothing of what happens in the tank
	inForce  bool
	doubts   []Doubt // whatever the mix
}

// interactionRule applies rule 2: a hazard of the mix is "never", whatever
// verdict stands beside it. Gas, heat or fire for which the author names steps
// and no hazard, as when acid goes into much water, keeps its verdict; but it is
// as firm as a hazard, and calls for care.
func (j *Judge) interactionRule(n *mix.Interaction) *rule {
	r := &rule{
		evidence: Statement{n}, id: n.ID, members: ids(n.Members),
		verdict: n.Verdict, stated: n.Verdict, kind: n.Kind,
		hazards: hazardsOf(n.Hazards), symptoms: symptomsOf(n.Symptoms),
		when: n.When, mends: n.Mends,
		law: n.Kind == mix.Legal, inForce: true,
	}
	if n.Verdict > mix.Clean {
		for _, s := range n.Symptoms {
			r.care = r.care.with(hazardOf(s))
		}
		if r.hazards.endanger() {
			r.verdict = mix.Never
		}
		r.firm = r.verdict == mix.Never || r.care != 0 || r.law
	}
	r.grade = j.sourced(n.Sources)
	cites := slices.Clone(n.Sources)
	for _, m := range n.Mends {
		cites = append(cites, m.Sources...)
	}
	r.doubts = j.unread(r.grade, cites)
	if len(n.Disputes) > 0 {
		r.doubts = append(r.doubts, Doubt{Code: Disputed, Number: len(n.Disputes)})
	}
	return r
}

func (j *Judge) noticeRule(n *mix.Notice) *rule {
	r := &rule{
		evidence: Ruling{n}, id: n.ID, members: ids(n.Members),
		kind: mix.Legal, grade: mix.Rule, when: slices.Clip(n.When),
		law: true, firm: true, notice: true, inForce: j.inForce(n),
	}
	if len(n.Sources) > 0 {
		r.doubts = j.unread(j.sourced(n.Sources), n.Sources)
	}
	switch n.Effect {
	case mix.Forbids:
		r.verdict = mix.Never
	case mix.Requires:
		r.verdict, r.demand = mix.Steps, true
	case mix.Allows, mix.Informs, mix.NoEffect: // permission is no evidence that nothing happens
	}
	r.stated = r.verdict
	if n.Place.ID != "" {
		g := mix.Gate{At: n.At, Factor: mix.PlaceFactor, Ref: n.Place, Written: string(n.Place.ID)}
		r.when = append(r.when, g)
	}
	return r
}

// inForce reports whether a notice holds on the day of publication. Without such
// a day it does.
func (j *Judge) inForce(n *mix.Notice) bool {
	today := j.x.Book().Site.Published
	if today.IsZero() {
		return true
	}
	begun := n.From.IsZero() || n.From.Compare(today) <= 0
	ended := !n.Until.IsZero() && n.Until.Compare(today) < 0
	return begun && !ended
}

// sourced returns the grade of the strongest source. A statement of no known
// source is worth a practice.
func (j *Judge) sourced(cites []mix.Cite) mix.Grade {
	best := mix.Practice
	for _, c := range cites {
		if s := j.x.Source(c.ID); s != nil {
			best = max(best, s.Kind.Grade())
		}
	}
	return best
}

// unread returns the doubt that nobody could read a source of a statement, given
// the grade of its own, or of part of it: what one of its sources or of the sources
// of its mends says is taught or remembered.
func (j *Judge) unread(grade mix.Grade, cites []mix.Cite) []Doubt {
	if grade == mix.Practice {
		return []Doubt{{Code: NoSourceSeen}}
	}
	if slices.ContainsFunc(cites, j.remembered) {
		return []Doubt{{Code: PartRemembered}}
	}
	return nil
}

func (j *Judge) remembered(c mix.Cite) bool {
	s := j.x.Source(c.ID)
	return s != nil && (s.Kind == mix.CommonPractice || s.Kind == mix.Memory)
}

func ids(refs []mix.Ref) []mix.ID {
	list := make([]mix.ID, len(refs))
	for i, r := range refs {
		list[i] = r.ID
	}
	return list
}
