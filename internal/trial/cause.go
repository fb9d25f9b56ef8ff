package trial

import (
	"fmt"
	"slices"

	"tankleaf.example/internal/cause"
	"tankleaf.example/internal/compat"
	"tankleaf.example/internal/mix"
)

// Plan is what a search for the cause expects of its jars.
type Plan struct {
	Known    int     // records that the search starts from
	Assumed  bool    // no record shows the reaction: the mix as it is is taken to have reacted
	Possible int     // explanations open at the start
	Alone    float64 // of jars made together: chance that their results leave one explanation
	Left     float64 // of jars made together: mean number of explanations that their results leave
	Steps    []Step  // of a plan in which each jar hangs on the one before; the first is where it begins
	Cut      bool    // more steps follow; plan again with the results
}

// Step is one jar of an adaptive plan and where its results lead.
type Step struct {
	Jar    int // index in Trial.Jars
	Why    cause.Why
	Reacts End
	Clear  End
}

// End is where a result leads: to a further step or to what is known then.
type End struct {
	Step     int     // index in Plan.Steps; -1: the plan ends here
	Possible int     // explanations left; 0: none within the limits, plan again
	Causes   [][]int // when one explanation is left: its causes, as indexes of products
}

// mostDepth is how many jars deep an adaptive plan is laid out. A tree doubles with
// every jar; after four the records of those four tell more than a longer list.
const mostDepth = 4

// controls are the jars of a search for the cause beside its runs: carrier alone and
// the whole mix.
const controls = 2

// proposeCause asks the records and then the search for runs.
func (d *draft) proposeCause() {
	d.add(d.whole())
	search, err := d.search()
	if err != nil {
		d.problem(TooManyItems, "", err.Error(), "leave out what is known to be quiet in this mix")
		return
	}
	room := d.Jars/d.trial.Blocks - controls
	if room < 1 {
		d.specs = append(d.specs, spec{role: Part, need: true}) // what fit then misses
		return
	}
	if d.Adaptive {
		d.adapt(search, room)
		return
	}
	fixed := search.Fixed(room)
	d.trial.Plan.Alone, d.trial.Plan.Left = fixed.Alone, fixed.Left
	for _, run := range fixed.Runs {
		d.add(d.run(run))
	}
	if len(fixed.Runs) == 0 {
		d.settled()
	}
}

func (d *draft) settled() {
	d.problem(Settled, "", "the records leave one explanation: no jar would tell more", "look at the records, or ask for substitutes")
}

// run is a jar with the products of a set.
func (d *draft) run(s cause.Set) spec {
	list := s.Elements()
	switch len(list) {
	case len(d.trial.Mix):
		return d.whole()
	case 1:
		return spec{role: Alone, about: list[0], products: list, need: true}
	}
	return spec{role: Part, about: -1, products: list, need: true}
}

// search weighs the records of the mix and its parts. Without a record of the
// reaction the mix as it is is taken to be the complaint, unless it was seen clear.
func (d *draft) search() (*cause.Search, error) {
	whole := cause.Set(1)<<len(d.trial.Mix) - 1
	runs, clear := d.records()
	d.trial.Plan = &Plan{Known: len(runs)}
	if !slices.ContainsFunc(runs, func(r cause.Run) bool { return r.Reacted }) && !clear {
		runs = append(runs, cause.Run{Members: whole, Reacted: true})
		d.trial.Plan.Assumed = true
	}
	s, err := cause.NewSearch(cause.Question{Runs: runs, Within: whole})
	if err != nil {
		return nil, fmt.Errorf("too much is open: %w", err)
	}
	d.trial.Plan.Possible = s.Left()
	return s, nil
}

// records returns what was recorded of the mix and its parts about the symptom that
// is asked for, and whether all of it was seen clear.
func (d *draft) records() (runs []cause.Run, clear bool) {
	ids := d.ids(d.trial.Mix)
	cases := d.judge.CasesOf(ids)
	n := slices.IndexFunc(cases, func(c compat.Case) bool {
		return c.Symptom == d.Symptom || d.Symptom == mix.NoSymptom && c.Symptom.ShowsInJar()
	})
	if n < 0 {
		return nil, false
	}
	c := &cases[n]
	d.trial.Symptom = c.Symptom
	for _, o := range c.Reacted {
		runs = append(runs, cause.Run{Members: members(ids, o), Reacted: true})
	}
	for _, o := range c.Clear {
		m := members(ids, o)
		clear = clear || m.Len() == len(ids)
		if m != 0 {
			runs = append(runs, cause.Run{Members: m})
		}
	}
	return runs, clear
}

// members is the part of an observation's products that the trial is about.
func members(ids []mix.ID, o *mix.Observation) cause.Set {
	var s cause.Set
	for _, p := range o.Products {
		if i := slices.Index(ids, p.ID); i >= 0 {
			s |= cause.Of(i)
		}
	}
	return s
}

// adapt lays out a plan in which each jar hangs on the one before.
func (d *draft) adapt(search *cause.Search, room int) {
	if d.trial.Blocks > 1 {
		d.problem(BadCount, "", "a plan in which each jar hangs on the one before has no replicates", "ask for jars of one day, or for one replicate")
		return
	}
	root := search.Plan(min(room, mostDepth))
	if root.Step.Why == cause.None {
		d.settled()
		return
	}
	d.grow(root)
}

// grow adds a node and what follows it, and returns the index of its step. Which jar
// a step is of is settled once the jars are dealt.
func (d *draft) grow(n *cause.Node) int {
	at := len(d.trial.Plan.Steps)
	d.add(d.run(n.Step.Run))
	d.stepRuns = append(d.stepRuns, n.Step.Run.Elements())
	d.trial.Plan.Steps = append(d.trial.Plan.Steps, Step{Why: n.Step.Why})
	reacts, clear := d.end(n.Reacts), d.end(n.Clean)
	d.trial.Plan.Steps[at].Reacts, d.trial.Plan.Steps[at].Clear = reacts, clear
	return at
}

// findSteps looks the jars of the steps up.
func (d *draft) findSteps() {
	for i, run := range d.stepRuns {
		d.trial.Plan.Steps[i].Jar = slices.IndexFunc(d.trial.Jars, func(j Jar) bool { return slices.Equal(sorted(j.Products), run) })
	}
}

func sorted(list []int) []int {
	list = slices.Clone(list)
	slices.Sort(list)
	return list
}

func (d *draft) end(n *cause.Node) End {
	switch {
	case n == nil:
		return End{Step: -1}
	case n.Step.Why != cause.None:
		return End{Step: d.grow(n), Possible: n.Left}
	}
	e := End{Step: -1, Possible: n.Left}
	if n.Found == nil {
		d.trial.Plan.Cut = d.trial.Plan.Cut || n.Left > 0
		return e
	}
	e.Causes = [][]int{}
	for _, c := range n.Found.Causes {
		e.Causes = append(e.Causes, c.Elements())
	}
	return e
}
