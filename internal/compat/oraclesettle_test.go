package compat_test

import (
	"cmp"
	"fmt"
	"slices"
	"strings"

	"tankleaf.example/internal/compat"
	"tankleaf.example/internal/mix"
)

// verdictOf is what the oracle answers.
type verdictOf struct {
	verdict           mix.Verdict
	claims            []*claim
	doubts            map[compat.DoubtCode]bool
	untested          [][]mix.ID
	hazards, handling map[mix.Hazard]bool
	symptoms          map[mix.Symptom]mix.Verdict
}

// judge answers a mix of items, sorted and each once.
func (o *oracle) judge(j *compat.Judge, items []mix.ID, s *mix.Situation) *verdictOf {
	v := &verdictOf{}
	rules, waters := o.rules(items, s)
	jars, doubts := o.jars(items, s)
	v.claims, v.doubts = append(rules, jars...), doubts
	if waters {
		v.doubts[compat.WaterMatters] = true
	}
	if members := o.members(items); len(members) > 0 {
		v.claims = append(v.claims, members...)
		v.doubts[compat.SomeMembers] = true
	}
	for _, c := range v.claims {
		o.weigh(j, c, v.claims)
	}
	v.contradict()
	v.verdict = o.combine(j, v, items, s)
	o.outside(j, v, s)
	v.parts()
	o.report(j, v, items, s)
	return v
}

// members returns the reactions of two products within classes of the mix, of many
// the dozen that mean worst.
func (o *oracle) members(items []mix.ID) []*claim {
	var all []*claim
	for i, x := range items {
		for _, y := range items[i+1:] {
			for _, h := range o.sets {
				saw, _, _ := h.reacted()
				if o.x.Product(x) != nil && o.x.Product(y) != nil || len(h.products) != 2 || len(saw) == 0 {
					continue
				}
				p, r := h.products[0], h.products[1]
				if o.x.IsA(p, x) && o.x.IsA(r, y) || o.x.IsA(r, x) && o.x.IsA(p, y) {
					c := o.reaction(h, []mix.ID{x, y})
					c.exact, c.narrower, c.narrow = false, true, true
					c.part, c.verdict = compat.Informative, mix.Unknown
					c.doubt(compat.SomeMembers)
					all = append(all, c)
				}
			}
		}
	}
	slices.SortStableFunc(all, func(a, b *claim) int { return cmp.Or(cmp.Compare(b.stated, a.stated), before(a, b)) })
	return all[:min(len(all), 12)]
}

// weigh holds quiet jars, and statements that nothing happens, against a claim that
// asks for caution.
func (o *oracle) weigh(j *compat.Judge, c *claim, all []*claim) {
	seen := slices.ContainsFunc(o.sets, func(h *heap) bool { return h.has(c.items) })
	if c.rule && c.part != compat.OffGate && !c.exact && !c.narrower && !c.law && len(c.items) > 1 && !seen {
		c.doubt(compat.FromClass)
	}
	if c.verdict < mix.Steps || c.narrower || c.rule && c.law && len(c.hazards) == 0 {
		return
	}
	var met []*compat.Outcome
	quiet, lenient := false, false
	for _, h := range o.sets {
		hidden := o.hides(h, c.items)
		told := less(h.clear(), hidden)
		if !h.has(c.items) || !h.quiet() || len(told) == 0 || !common(c.symptoms, told) {
			continue
		}
		quiet = true
		for _, r := range h.tests() {
			if o.answers(j, r, c, hidden) {
				met = append(met, r)
			} else {
				lenient = true
			}
		}
	}
	code := compat.Disagree
	switch {
	case c.verdict == mix.Never || c.rule && c.firm:
		code = compat.HazardStands
	case o.mayRelax(c) && apart(met) >= 3:
		c.part, c.verdict = compat.Relaxed, mix.Unknown
	}
	if quiet {
		c.doubt(code)
	}
	for _, other := range all {
		covers := other.rule && other.stated == mix.Clean && other.part != compat.OffGate && common(c.symptoms, other.symptoms)
		if covers && !slices.ContainsFunc(c.items, func(id mix.ID) bool { return !slices.Contains(other.items, id) }) {
			c.doubt(code)
			other.doubt(compat.Disagree)
		}
	}
	if c.rule && c.part != compat.Relaxed && code == compat.Disagree && lenient {
		c.doubt(compat.Lenient)
	}
}

// answers reports whether a clean jar answers a statement under its own conditions.
func (o *oracle) answers(j *compat.Judge, r *compat.Outcome, c *claim, hidden []mix.Symptom) bool {
	asked := append(slices.Clone(c.symptoms), o.need...)
	if !r.Clean(o.need) || len(less(asked, hidden)) < len(asked) {
		return false
	}
	for _, s := range c.symptoms {
		if r.Sign(s).State != compat.Clear {
			return false
		}
	}
	if !c.rule {
		return true
	}
	s := j.Situation(r.Observation)
	for _, g := range c.when {
		if o.holds(g, &s, contents(r)) != mix.Holds {
			return false
		}
	}
	sure, _ := o.known(&s)
	for _, m := range c.liquid {
		if o.carried(&s, sure, m) != mix.Holds {
			return false
		}
	}
	for _, p := range r.Observation.Products {
		label := o.x.Product(p.ID)
		if p.Rate.IsZero() || label != nil && !label.Rate.IsZero() && p.Rate.Comparable(label.Rate.Low) && p.Rate.Cmp(label.Rate.Low) < 0 {
			return false
		}
	}
	return true
}

// mayRelax reports whether jars may relax a claim at all.
func (o *oracle) mayRelax(c *claim) bool {
	for _, id := range c.items {
		if o.x.Product(id) == nil {
			return false
		}
	}
	for _, h := range o.sets {
		if saw, _, _ := h.reacted(); slices.Equal(h.products, c.items) && (len(saw) > 0 || h.unjudged()) {
			return false
		}
	}
	blind := slices.ContainsFunc(c.symptoms, func(s mix.Symptom) bool { return !s.ShowsInJar() })
	return c.rule && !c.exact && len(c.symptoms) > 0 && !blind
}

// contradict lets a reaction within a class decide against a statement that the
// class mixes cleanly.
func (v *verdictOf) contradict() {
	for _, c := range v.claims {
		if !c.narrow || c.part != compat.Informative || c.reached < mix.Steps {
			continue
		}
		for _, clean := range v.claims {
			inside := !slices.ContainsFunc(c.items, func(id mix.ID) bool { return !slices.Contains(clean.items, id) })
			if inside && clean.rule && clean.exact && clean.reached == mix.Clean && clean.open == 0 {
				c.part, c.verdict = compat.NoPart, c.reached
				c.doubt(compat.Disagree)
				clean.doubt(compat.Disagree)
			}
		}
	}
}

func (o *oracle) combine(j *compat.Judge, v *verdictOf, items []mix.ID, s *mix.Situation) mix.Verdict {
	worst, asked, sourced := mix.Unknown, false, false
	var told []mix.Symptom
	for _, c := range v.claims {
		switch {
		case c.asks:
			asked = asked || c.verdict == mix.Steps
			continue
		case c.clean && c.rule:
			sourced = true
		case c.clean:
			told = append(told, c.symptoms...)
		}
		worst = max(worst, c.verdict)
	}
	covered := len(o.need) > 0 && within(o.need, told)
	for _, c := range v.claims {
		if c.clean && !c.rule && covered {
			c.verdict = mix.Clean
		}
	}
	if worst == mix.Unknown && (covered || sourced) {
		worst = mix.Clean
	}
	if asked && (worst == mix.Clean || worst == mix.Unknown && o.partWithSteps(j, items, s)) {
		return mix.Steps
	}
	for _, c := range v.claims {
		if c.asks && worst == mix.Unknown {
			c.verdict = mix.Unknown
		}
	}
	return worst
}

// partWithSteps reports whether any part of a mix is to be mixed with steps.
func (o *oracle) partWithSteps(j *compat.Judge, items []mix.ID, s *mix.Situation) bool {
	for bits := range 1 << len(items) {
		var part []mix.ID
		for i, id := range items {
			if bits>>i&1 == 1 {
				part = append(part, id)
			}
		}
		if len(part) > 1 && len(part) < len(items) && o.judge(j, part, s).verdict == mix.Steps {
			return true
		}
	}
	return false
}

// outside doubts clean jars beyond what they were run at.
func (o *oracle) outside(j *compat.Judge, v *verdictOf, s *mix.Situation) {
	for _, c := range v.claims {
		if c.heap == nil || c.verdict != mix.Clean {
			continue
		}
		for f := mix.Hardness; f.Numeric(); f++ {
			at, below, above, any := s.Number(f), true, true, false
			for _, r := range c.heap.tests() {
				ran := j.Situation(r.Observation)
				if n := ran.Number(f); n.Known && at.Known {
					any, below, above = true, below && at.N.Cmp(n.N) < 0, above && at.N.Cmp(n.N) > 0
				}
			}
			if f == mix.Standing {
				below = false
			}
			if f == mix.CarrierRate || f == mix.WaterShare {
				above = false
			}
			if any && (below || above) {
				c.doubt(compat.Beyond)
			}
		}
	}
}

func (v *verdictOf) parts() {
	slices.SortStableFunc(v.claims, before)
	decided := false
	for _, c := range v.claims {
		outvoted := c.clean && v.verdict > mix.Clean && slices.ContainsFunc(v.claims, func(h *claim) bool {
			return h.verdict >= mix.Steps && common(h.symptoms, c.symptoms)
		})
		switch {
		case c.part == compat.OffGate, c.part == compat.Relaxed:
		case outvoted && c.verdict <= mix.Clean:
			c.part = compat.Outvoted
		case c.verdict == mix.Unknown, c.verdict == mix.Clean && v.verdict > mix.Clean:
			c.part = compat.Informative
		case c.verdict == v.verdict && !decided:
			c.part, decided = compat.Decides, true
		case c.mend != nil && c.verdict < c.rank0:
			c.part = compat.Softened
		default:
			c.part = compat.Agrees
		}
	}
}

// report gathers what the answer says beside its verdict.
func (o *oracle) report(j *compat.Judge, v *verdictOf, items []mix.ID, s *mix.Situation) {
	v.hazards, v.handling, v.symptoms = map[mix.Hazard]bool{}, map[mix.Hazard]bool{}, map[mix.Symptom]mix.Verdict{}
	for _, c := range v.claims {
		if c.verdict >= mix.Steps || c.narrow && c.reached >= mix.Steps {
			for _, h := range c.hazards {
				v.hazards[h] = true
			}
		}
		if c.rule && (c.verdict == mix.Steps || c.verdict == mix.Apart) {
			for _, h := range c.care {
				v.handling[h] = true
			}
		}
		o.bySymptom(v, c)
	}
	for _, id := range items {
		for _, up := range o.x.Ancestors(id) {
			if k := o.x.Class(up); k != nil {
				for _, h := range k.Hazards {
					v.handling[h] = true
				}
			}
		}
	}
	for i, a := range items {
		for _, b := range items[i+1:] {
			spoken := slices.ContainsFunc(v.claims, func(c *claim) bool {
				return c.verdict != mix.Unknown && !c.asks && slices.Contains(c.items, a) && slices.Contains(c.items, b)
			})
			if !spoken && (len(items) == 2 || len(o.judge(j, []mix.ID{a, b}, s).untested) > 0) {
				v.untested = append(v.untested, []mix.ID{a, b})
			}
		}
	}
	if v.verdict > mix.Clean {
		delete(v.doubts, compat.Suspect)
	}
	if len(items) > 2 && v.verdict == mix.Unknown && len(v.untested) == 0 {
		v.doubts[compat.PairsOnly] = true
	}
	if len(v.claims) > 0 {
		for _, c := range v.claims {
			if c.part == compat.Decides {
				for d := range c.doubts {
					v.doubts[d] = true
				}
			}
		}
	}
}

func (o *oracle) bySymptom(v *verdictOf, c *claim) {
	for _, x := range c.symptoms {
		says := c.verdict
		switch {
		case c.heap != nil && c.clean:
			says = mix.Clean
		case c.heap != nil && says >= mix.Steps:
			says = mix.Unknown
			for _, r := range c.heap.records {
				says = max(says, r.Sign(x).Verdict)
			}
		}
		if says != mix.Unknown {
			v.symptoms[x] = max(v.symptoms[x], says)
		}
	}
}

// lines writes what an answer says, in an order of its own.
func (v *verdictOf) lines() []string {
	var all []string
	for _, c := range v.claims {
		all = append(all, fmt.Sprint(c.name, " ", c.part, " ", c.verdict, " ", c.stated, " ", c.grade, " ", c.basis, " ", len(c.symptoms), " ", c.mendItem, " ", sortedCodes(c.doubts)))
	}
	slices.Sort(all)
	head := fmt.Sprint(v.verdict, " ", sortedCodes(v.doubts), " ", v.untested)
	return append([]string{head, fmt.Sprint(v.hazards, v.handling), fmt.Sprint(v.symptoms)}, all...)
}

func sortedCodes(set map[compat.DoubtCode]bool) string {
	var list []string
	for c := range set {
		list = append(list, string(c))
	}
	slices.Sort(list)
	return strings.Join(list, ",")
}

// answerLines writes an answer of the judge as lines does.
func answerLines(a *compat.Answer) []string {
	codes := func(list []compat.Doubt) string {
		set := map[compat.DoubtCode]bool{}
		for _, d := range list {
			set[d.Code] = true
		}
		return sortedCodes(set)
	}
	var all []string
	for _, f := range a.Findings {
		all = append(all, fmt.Sprint(evidenceName(f.Evidence), " ", f.Part, " ", f.Verdict, " ", f.Stated, " ", f.Grade, " ", f.Basis, " ", len(f.Symptoms), " ", f.MendItem, " ", codes(f.Doubts)))
	}
	slices.Sort(all)
	hazards, handling, symptoms := map[mix.Hazard]bool{}, map[mix.Hazard]bool{}, map[mix.Symptom]mix.Verdict{}
	for _, h := range a.Hazards {
		hazards[h] = true
	}
	for _, h := range a.Handling {
		handling[h] = true
	}
	for _, s := range a.Symptoms {
		symptoms[s.Symptom] = s.Verdict
	}
	head := fmt.Sprint(a.Verdict, " ", codes(a.Doubts), " ", a.Untested)
	return append([]string{head, fmt.Sprint(hazards, handling), fmt.Sprint(symptoms)}, all...)
}
