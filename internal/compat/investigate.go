package compat

import (
	"cmp"
	"slices"

	"tankleaf.example/internal/cause"
	"tankleaf.example/internal/mix"
)

// Case is what a group of observations says about the cause of one symptom.
//
// A field report that saw the symptom counts like a jar; one that did not is left
// out, as is a quiet jar with something in it that hides the symptom, or that a
// source names as what prevents it. Control and
// injury are rated in the field, and there both results count; that a product
// alone does what it does alone makes it no cause.
type Case struct {
	Symptom   mix.Symptom
	Suspects  []mix.ID           // products of the mixes that reacted, sorted
	Reacted   []*mix.Observation // by date, then ID
	Clear     []*mix.Observation // looked for and not there
	LeftOut   []*mix.Observation // not recorded, hidden, or a quiet report
	Otherwise []*mix.Observation // clear under other circumstances than the same mix reacted under; see Conflicts
	Mixes     []CaseMix          // one for each distinct mix that reacted
	Alike     [][]mix.ID         // products that one record each, all else equal, shows to act alike
	ByClass   []CaseMix          // Mixes with the first of those that act alike standing for them all
	Causes    [][]mix.ID         // established, smallest first
	Classes   []ClassCause       // causes at the level of classes that explain every reaction at once
	Lifts     []Lift             // established causes at the level of classes, the best tested first
	Conflicts []Clash
	Next      *NextJar // nil when nothing is left to learn, or too much is open to say; among ByClass
	Possible  int      // explanations left within the limits of the search, among ByClass
	Total     int      // explanations before any jar
	Factors   []Matched
	Swaps     []Swap
	// TooMany says that more products are in question than can be searched; then
	// only Reacted, Clear, LeftOut, Factors and Swaps are filled in.
	TooMany bool

	judge  *Judge
	runs   []caseRun
	stands []mix.ID // what the search is among: the suspects, one for all that act alike
	folded []cause.Run
	search *cause.Search
}

// CaseMix is one mix that reacted with what may have caused it.
type CaseMix struct {
	Products []mix.ID
	Status   cause.Status
	Causes   [][]mix.ID // established
	Possible [][]mix.ID
	Partial  bool // Possible leaves out causes of more than three products
}

// Clash is a mix that reacted inside one that did not.
type Clash struct {
	Reacted, Clear         []mix.ID
	ReactedJars, ClearJars []*mix.Observation
	Differ                 []Circumstance // in which all of them differ, as far as was recorded
	Beside                 []mix.ID       // products that each clear record held and none that reacted
	Partly                 bool           // some of them did not record it
	// Explained says that each clear record differs from each that reacted in
	// something that matched records show to make a difference, so that it rules
	// nothing out where it reacted.
	Explained bool
}

// NextJar is the jar that tells most.
type NextJar struct {
	Products          []mix.ID
	Why               cause.Why
	Reacts            float64 // probability by all explanations
	IfReacts, IfClear int     // explanations that stay possible
}

// Belief is a possible cause with its probability when jars may be misread.
type Belief struct {
	Products []mix.ID
	P        float64
}

// MisreadRates are the rates of misread jars that beliefs are worked with unless
// the reader states others: the house's own, no source.
var MisreadRates = cause.Rates{Missed: 0.05, False: 0.02}

// caseRun is an observation as a run.
type caseRun struct {
	cause.Run
	observation *mix.Observation
}

// Investigate returns the cases of a named investigation, one for each symptom
// that was seen in it.
func (j *Judge) Investigate(id mix.ID) []Case {
	return j.cases(func(o *mix.Observation) bool { return o.Investigation.ID == id }, nil)
}

// CasesOf returns the cases of a mix, one for each symptom that was seen in it or
// in part of it. Larger mixes in which the symptom did not show count as far as
// they held the mix.
func (j *Judge) CasesOf(items []mix.ID) []Case {
	touches := func(o *mix.Observation) bool {
		return slices.ContainsFunc(o.Products, func(p mix.Portion) bool { return slices.Contains(items, p.ID) })
	}
	return j.cases(touches, items)
}

// cases sorts observations by symptom. With items, only reactions inside them
// count.
func (j *Judge) cases(take func(*mix.Observation) bool, items []mix.ID) []Case {
	var group []*Outcome
	for _, out := range j.outcomes {
		if take(out.Observation) {
			group = append(group, out)
		}
	}
	slices.SortFunc(group, compareOutcomes)
	var list []Case
	for _, s := range mix.Symptoms() {
		if c := j.newCase(s, group, items); len(c.Reacted) > 0 {
			c.solve()
			list = append(list, *c)
		}
	}
	return list
}

func compareOutcomes(a, b *Outcome) int {
	return cmp.Or(a.Observation.Date.Compare(b.Observation.Date), cmp.Compare(a.Observation.ID, b.Observation.ID))
}

// newCase sorts the observations by what they say of one symptom.
func (j *Judge) newCase(s mix.Symptom, group []*Outcome, items []mix.ID) *Case {
	c := &Case{Symptom: s, judge: j}
	for _, out := range group {
		o := out.Observation
		inside := items == nil || !slices.ContainsFunc(o.Products, func(p mix.Portion) bool { return !slices.Contains(items, p.ID) })
		switch state := out.Sign(s).State; {
		case state == Reacted && inside:
			c.Reacted = append(c.Reacted, o)
			c.Suspects = append(c.Suspects, products(o)...)
		case state == Clear && j.telling(o, s):
			c.Clear = append(c.Clear, o)
		case inside:
			c.LeftOut = append(c.LeftOut, o)
		}
	}
	slices.Sort(c.Suspects)
	c.Suspects = slices.Compact(c.Suspects)
	return c
}

// telling reports whether an observation in which a symptom did not show speaks
// against causes of it.
func (j *Judge) telling(o *mix.Observation, s mix.Symptom) bool {
	if !inJar.has(s) {
		return true
	}
	return !o.Field && !slices.ContainsFunc(o.Products, func(p mix.Portion) bool { return j.hidesSymptom(p.ID, s) }) &&
		len(j.mendsIn(o, s)) == 0
}

func (j *Judge) hidesSymptom(product mix.ID, s mix.Symptom) bool {
	return slices.ContainsFunc(j.hides, func(c *mix.Class) bool {
		return slices.Contains(c.Suppresses, s) && j.x.IsA(product, c.ID)
	})
}

// solve asks for the causes.
func (c *Case) solve() {
	c.Factors = c.matched()
	c.Swaps = c.swaps()
	if len(c.Suspects) > cause.MaxElements {
		c.TooMany = true
		return
	}
	c.runs = c.number()
	c.conflicts()
	c.explain()
	c.fold()
	c.Classes = c.classCauses()
	c.Lifts = c.lifts()
	c.searchNext()
}

// number turns observations into runs over the suspects. What a quiet jar held
// beside suspects plays no part.
func (c *Case) number() []caseRun {
	var runs []caseRun
	for _, o := range c.Reacted {
		runs = append(runs, caseRun{cause.Run{Members: c.set(products(o)), Reacted: true}, o})
	}
	for _, o := range c.Clear {
		runs = append(runs, caseRun{cause.Run{Members: c.set(products(o))}, o})
	}
	slices.SortStableFunc(runs, func(a, b caseRun) int {
		return cmp.Or(a.observation.Date.Compare(b.observation.Date), cmp.Compare(a.observation.ID, b.observation.ID))
	})
	return runs
}

// set returns the suspects among products as a set.
func (c *Case) set(list []mix.ID) cause.Set {
	return setOf(c.Suspects, list)
}

// names returns the products of a set, in the order of the list.
func names(products []mix.ID, s cause.Set) []mix.ID {
	var list []mix.ID
	for e := range s.All() {
		list = append(list, products[e])
	}
	return list
}

func namesOf(products []mix.ID, sets []cause.Set) [][]mix.ID {
	var list [][]mix.ID
	for _, s := range sets {
		list = append(list, names(products, s))
	}
	return list
}

// caseMixes writes the findings of a report in products.
func caseMixes(products []mix.ID, report cause.Report) []CaseMix {
	var list []CaseMix
	for _, f := range report.Findings {
		list = append(list, CaseMix{
			Products: names(products, f.Run), Status: f.Status,
			Causes: namesOf(products, f.Causes), Possible: namesOf(products, f.Possible), Partial: f.Partial,
		})
	}
	return list
}

// bare returns the runs alone, with what is known without a jar: control and
// injury beyond what each product does alone need two of them.
func (c *Case) bare() []cause.Run {
	var list []cause.Run
	for _, r := range c.runs {
		list = append(list, r.Run)
	}
	if !inJar.has(c.Symptom) {
		for n := range c.Suspects {
			list = append(list, cause.Run{Members: cause.Of(n)})
		}
	}
	return list
}

func (c *Case) explain() {
	report := cause.Explain(c.bare())
	c.Causes = namesOf(c.Suspects, report.Causes)
	c.Mixes = caseMixes(c.Suspects, report)
}

// conflicts lists the mixes that reacted inside one that did not. Where something
// that is known to matter differed, the clear records are set aside: a mix that
// reacts only in one order is no contradiction.
func (c *Case) conflicts() {
	aside := map[*mix.Observation]bool{}
	for _, k := range cause.Explain(c.bare()).Conflicts {
		reacted, clear := c.sides(k)
		var other []*mix.Observation // clear, and nothing that matters tells them apart
		for _, o := range clear {
			if c.excused(o, reacted) {
				aside[o] = true
			} else {
				other = append(other, o)
			}
		}
		explained := slices.DeleteFunc(clear, func(o *mix.Observation) bool { return slices.Contains(other, o) })
		for _, jars := range [][]*mix.Observation{explained, other} {
			if len(jars) > 0 {
				c.Conflicts = append(c.Conflicts, c.clash(k, reacted, jars))
			}
		}
	}
	c.runs = slices.DeleteFunc(c.runs, func(r caseRun) bool { return !r.Reacted && aside[r.observation] })
	c.Clear = slices.DeleteFunc(c.Clear, func(o *mix.Observation) bool {
		if aside[o] {
			c.Otherwise = append(c.Otherwise, o)
		}
		return aside[o]
	})
}

// matters reports whether records that differ in nothing else came out different.
func (c *Case) matters(k Circumstance) bool {
	return slices.ContainsFunc(c.Factors, func(m Matched) bool { return m.Circumstance == k && len(m.Differ) > 0 })
}

// sides lists the records on both sides of a conflict.
func (c *Case) sides(k cause.Conflict) (reacted, clear []*mix.Observation) {
	for _, r := range c.runs {
		switch {
		case r.Reacted && r.Members == k.Reacting:
			reacted = append(reacted, r.observation)
		case !r.Reacted && r.Members == k.Clean:
			clear = append(clear, r.observation)
		}
	}
	return reacted, clear
}

// clash tells where the conditions of records on both sides of a conflict differ.
func (c *Case) clash(k cause.Conflict, reacted, clear []*mix.Observation) Clash {
	differ, partly := c.allDiffer(reacted, clear)
	return Clash{
		Reacted: names(c.Suspects, k.Reacting), Clear: names(c.Suspects, k.Clean), ReactedJars: reacted, ClearJars: clear,
		Differ: differ, Partly: partly, Beside: beside(reacted, clear),
		Explained: !slices.ContainsFunc(clear, func(o *mix.Observation) bool { return !c.excused(o, reacted) }),
	}
}

// excused reports whether a clear record differs from each of those that reacted
// in something that matters. From some it may do so for all that was recorded, as
// long as it is known to from one.
func (c *Case) excused(clear *mix.Observation, reacted []*mix.Observation) bool {
	sure := false
	for _, o := range reacted {
		known, open := c.unlike(o, clear)
		differs := slices.ContainsFunc(known, c.matters)
		if !differs && !slices.ContainsFunc(open, c.matters) {
			return false
		}
		sure = sure || differs
	}
	return sure
}

// allDiffer returns the circumstances in which every record of one list differs
// from every one of the other as far as they were recorded, and some are known to;
// and whether one of these was not recorded somewhere.
func (c *Case) allDiffer(a, b []*mix.Observation) (all []Circumstance, partly bool) {
	all = slices.Clone(circumstances)
	sure, unsure := map[Circumstance]bool{}, map[Circumstance]bool{}
	for _, x := range a {
		for _, y := range b {
			known, open := c.unlike(x, y)
			all = slices.DeleteFunc(all, func(k Circumstance) bool { return !slices.Contains(known, k) && !slices.Contains(open, k) })
			for _, k := range known {
				sure[k] = true
			}
			for _, k := range open {
				unsure[k] = true
			}
		}
	}
	all = slices.DeleteFunc(all, func(k Circumstance) bool { return !sure[k] })
	return all, slices.ContainsFunc(all, func(k Circumstance) bool { return unsure[k] })
}

// beside returns the products that every clear record of a clash held and none of
// those that reacted did.
func beside(reacted, clear []*mix.Observation) []mix.ID {
	if len(clear) == 0 {
		return nil
	}
	holds := func(id mix.ID) func(*mix.Observation) bool {
		return func(o *mix.Observation) bool {
			return slices.ContainsFunc(o.Products, func(p mix.Portion) bool { return p.ID == id })
		}
	}
	return slices.DeleteFunc(products(clear[0]), func(id mix.ID) bool {
		inAll := !slices.ContainsFunc(clear, func(o *mix.Observation) bool { return !holds(id)(o) })
		return !inAll || slices.ContainsFunc(reacted, holds(id))
	})
}
