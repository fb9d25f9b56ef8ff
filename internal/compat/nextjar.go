package compat

import (
	"slices"

	"tankleaf.example/internal/cause"
	"tankleaf.example/internal/mix"
)

// mostSearched is how many products are searched at once, and mostTogether how many
// of them one cause is taken to need at most.
const (
	mostSearched = 16
	mostTogether = 3
)

// searchNext proposes the next jar among all suspects or, when these are too
// many, within the smallest mix whose cause is still open.
func (c *Case) searchNext() {
	var all, open cause.Set
	for _, m := range c.ByClass { // smallest first
		s := setOf(c.stands, m.Products)
		all |= s
		if open == 0 && m.Status == cause.Narrowed {
			open = s
		}
	}
	within := all
	if within.Len() > mostSearched {
		within = open
	}
	if within == 0 || within.Len() > mostSearched {
		return
	}
	s, err := cause.NewSearch(cause.Question{Runs: inside(c.folded, within), Within: within})
	if err != nil {
		return // too many explanations to weigh: no jar is better than a guess
	}
	c.search, c.Possible, c.Total = s, s.Left(), s.Total
	if step, ok := s.Next(); ok {
		c.Next = c.jar(step)
	}
}

// inside keeps what runs say of the elements of a set: reactions inside it, and
// the part of clean runs that is.
func inside(runs []cause.Run, within cause.Set) []cause.Run {
	var list []cause.Run
	for _, r := range runs {
		if !r.Reacted {
			r.Members &= within
		}
		if within.Contains(r.Members) {
			list = append(list, r)
		}
	}
	return list
}

func (c *Case) jar(step cause.Step) *NextJar {
	return &NextJar{
		Products: names(c.stands, step.Run), Why: step.Why, Reacts: step.Reacts,
		IfReacts: step.IfReacts, IfClear: step.IfClean,
	}
}

// Beliefs returns the possible causes with their probabilities when jars are
// misread at the given rates, the likeliest first, and the jar that would then
// tell most, which may be a repeat. Without suspects few enough to search, or
// with rates out of range, there are none.
func (c *Case) Beliefs(rates cause.Rates) ([]Belief, *NextJar) {
	if c.search == nil {
		return nil, nil
	}
	s, err := cause.NewSearch(cause.Question{Runs: inside(c.folded, c.search.Within), Within: c.search.Within, Rates: rates})
	if err != nil {
		return nil, nil
	}
	var list []Belief
	for _, b := range s.Beliefs() {
		list = append(list, Belief{names(c.stands, b.Cause), b.P})
	}
	slices.SortStableFunc(list, func(a, b Belief) int {
		switch {
		case a.P > b.P:
			return -1
		case a.P < b.P:
			return 1
		default:
			return 0
		}
	})
	if step, ok := s.Next(); ok {
		return list, c.jar(step)
	}
	return list, nil
}

// PlanNode is one point of a plan of jars: the jar to run there and where its
// results lead.
type PlanNode struct {
	Jar           *NextJar // nil at an end
	Possible      int      // explanations left here
	Reacts, Clear *PlanNode
	Found         [][]mix.ID // the causes at an end where one explanation is left
	Settled       bool       // an end at which one explanation is left
	// Established holds the causes known here, where the jar asks for another.
	Established [][]mix.ID
}

// Answered returns the plan as far as the first answer: it ends where a cause is
// established, though there may be another.
func (n *PlanNode) Answered() *PlanNode {
	switch {
	case n == nil:
		return nil
	case len(n.Established) > 0:
		return &PlanNode{Possible: n.Possible, Settled: true, Found: n.Established}
	}
	out := *n
	out.Reacts, out.Clear = n.Reacts.Answered(), n.Clear.Answered()
	return &out
}

// Plan returns the whole plan from here, to at most depth jars; depth 0 or less
// means to the end. It is nil when there are too many suspects to search.
func (c *Case) Plan(depth int) *PlanNode {
	if c.search == nil {
		return nil
	}
	return c.plan(c.search.Plan(depth), inside(c.folded, c.search.Within))
}

// plan writes a node in products, after the runs that lead to it.
func (c *Case) plan(n *cause.Node, runs []cause.Run) *PlanNode {
	if n == nil {
		return nil
	}
	after := func(reacted bool) []cause.Run {
		return append(slices.Clip(runs), cause.Run{Members: n.Step.Run, Reacted: reacted})
	}
	out := &PlanNode{Possible: n.Left, Reacts: c.plan(n.Reacts, after(true)), Clear: c.plan(n.Clean, after(false))}
	if n.Step.Why != cause.None {
		out.Jar = c.jar(n.Step)
	}
	if n.Step.Why == cause.Exclude {
		out.Established = namesOf(c.stands, cause.Explain(runs).Causes)
	}
	if n.Found != nil {
		out.Settled, out.Found = true, namesOf(c.stands, append(slices.Clone(c.search.Given), n.Found.Causes...))
	}
	return out
}

// Shrink is what one record left of the possibilities.
type Shrink struct {
	Observation *mix.Observation
	Reacted     bool
	Possible    int // explanations left after it; 0 when they had to be sought more widely
	// Single holds each set of up to three products that could by itself explain
	// every reaction so far. None is left once it takes two causes or more.
	Single [][]mix.ID
	// Established holds the causes that this record established.
	Established [][]mix.ID
}

// Shrinking returns how the possibilities shrank, record by record in the order
// of their days; nil when there are too many suspects to search.
func (c *Case) Shrinking() []Shrink {
	if c.search == nil {
		return nil
	}
	known := c.folded[len(c.runs):] // without a jar
	var list []Shrink
	var found []cause.Set
	for n, r := range c.runs {
		step := Shrink{Observation: r.observation, Reacted: r.Reacted}
		runs := inside(slices.Concat(known, c.folded[:n+1]), c.search.Within)
		if s, err := cause.NewSearch(cause.Question{Runs: runs, Within: c.search.Within}); err == nil && len(s.Given) == 0 {
			step.Possible = s.Left()
		}
		step.Single = namesOf(c.stands, cause.Singles(runs, mostTogether))
		now := cause.Explain(runs).Causes
		for _, k := range now {
			if !slices.Contains(found, k) {
				step.Established = append(step.Established, names(c.stands, k))
			}
		}
		found = now
		list = append(list, step)
	}
	return list
}
