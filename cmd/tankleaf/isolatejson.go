package main

import (
	"tankleaf.example/internal/compat"
	"tankleaf.example/internal/mix"
)

// inquiryJSON is a question as --json prints it. Sets of products are lists of ids.
type inquiryJSON struct {
	Investigation mix.ID       `json:"investigation,omitempty"`
	Mix           []mix.ID     `json:"mix,omitempty"`
	Cases         []caseJSON   `json:"cases"`
	Separate      []partedJSON `json:"separate"` // symptoms that are two matters
}

type partedJSON struct {
	Symptoms   [2]mix.Symptom `json:"symptoms"`
	OnlyFirst  []mix.ID       `json:"only_first"`
	OnlySecond []mix.ID       `json:"only_second"`
}

// caseJSON is what records say of one symptom. Mixes takes every product for
// itself; under ByClass the first of those that act alike stands for them all, and
// Next, Possible, Total and Beliefs are about that.
type caseJSON struct {
	Symptom   mix.Symptom   `json:"symptom"`
	Status    string        `json:"status"` // established, narrowed, contradicted or too-many
	Suspects  []mix.ID      `json:"suspects"`
	Reacted   []mix.ID      `json:"reacted"`
	Clear     []mix.ID      `json:"clear"`
	Otherwise []mix.ID      `json:"otherwise"` // clear under other circumstances than the same mix reacted under
	LeftOut   []mix.ID      `json:"left_out"`
	Mixes     []mixJSON     `json:"mixes"`
	Alike     [][]mix.ID    `json:"alike"`
	ByClass   []mixJSON     `json:"by_class"`
	Causes    [][]mix.ID    `json:"causes"`
	Classes   []classesJSON `json:"classes"`
	Lifts     []liftJSON    `json:"generalized"`
	Conflicts []clashJSON   `json:"conflicts"`
	Next      *nextJSON     `json:"next"`
	Possible  int           `json:"possible"`
	Total     int           `json:"total"`
	Factors   []factorJSON  `json:"factors"`
	Swaps     []swapJSON    `json:"swaps"`
	Shrinking []shrinkJSON  `json:"shrinking"`
	Beliefs   []beliefJSON  `json:"beliefs"`
	Plan      *planJSON     `json:"plan,omitempty"`
}

type mixJSON struct {
	Products []mix.ID   `json:"products"`
	Status   string     `json:"status"`
	Causes   [][]mix.ID `json:"causes"`
	Possible [][]mix.ID `json:"possible"`
	Partial  bool       `json:"partial"` // possible leaves out causes of more than three products
}

type classesJSON struct {
	Places [][]mix.ID `json:"places"` // for each class of the cause those that no record tells from it
	Alone  bool       `json:"alone"`
}

type liftJSON struct {
	Cause  []mix.ID    `json:"cause"`
	Places []placeJSON `json:"places"`
}

type placeJSON struct {
	Product  mix.ID   `json:"product"`
	Class    mix.ID   `json:"class"`
	Tested   []mix.ID `json:"tested"`
	Untested []mix.ID `json:"untested"`
}

type clashJSON struct {
	Reacted     []mix.ID              `json:"reacted"`
	Clear       []mix.ID              `json:"clear"`
	ReactedJars []mix.ID              `json:"reacted_jars"`
	ClearJars   []mix.ID              `json:"clear_jars"`
	Differ      []compat.Circumstance `json:"differ"`
	Explained   bool                  `json:"explained"`
}

type nextJSON struct {
	Products []mix.ID `json:"products"`
	Why      string   `json:"why"`
	Reacts   float64  `json:"reacts"`
	IfReacts int      `json:"if_reacts"`
	IfClear  int      `json:"if_clear"`
}

type factorJSON struct {
	Circumstance compat.Circumstance `json:"circumstance"`
	Same         [][2]mix.ID         `json:"same"`
	Differ       [][2]mix.ID         `json:"differ"`
	Unsure       int                 `json:"unsure"`
}

type swapJSON struct {
	Products [2]mix.ID   `json:"products"`
	Class    mix.ID      `json:"class"`
	Same     [][2]mix.ID `json:"same"`
	Differ   [][2]mix.ID `json:"differ"`
}

type shrinkJSON struct {
	Observation mix.ID `json:"observation"`
	Reacted     bool   `json:"reacted"`
	Possible    int    `json:"possible"`

	Single      [][]mix.ID `json:"single"`      // each could by itself explain all so far
	Established [][]mix.ID `json:"established"` // by this record
}

type beliefJSON struct {
	Products []mix.ID `json:"products"`
	P        float64  `json:"p"`
}

type planJSON struct {
	Jar      *nextJSON  `json:"jar"`
	Possible int        `json:"possible"`
	Settled  bool       `json:"settled"`
	Found    [][]mix.ID `json:"found"`
	Reacts   *planJSON  `json:"reacts,omitempty"`
	Clear    *planJSON  `json:"clear,omitempty"`
}

func inquiriesJSON(judge *compat.Judge, asked []inquiry, plan int) []inquiryJSON {
	list := []inquiryJSON{}
	for _, q := range asked {
		j := inquiryJSON{Mix: q.items, Cases: []caseJSON{}, Separate: []partedJSON{}}
		if q.investigation != nil {
			j.Investigation = q.investigation.ID
		}
		for i := range q.cases {
			j.Cases = append(j.Cases, newCaseJSON(&q.cases[i], plan))
		}
		for _, p := range judge.Parted(q.cases) {
			j.Separate = append(j.Separate, partedJSON{[2]mix.Symptom{p.A, p.B}, records(p.OnlyA), records(p.OnlyB)})
		}
		list = append(list, j)
	}
	return list
}

func newCaseJSON(c *compat.Case, plan int) caseJSON {
	j := caseJSON{Symptom: c.Symptom, Status: c.Conclusion().String(), Suspects: orEmpty(c.Suspects), Reacted: records(c.Reacted),
		Clear: records(c.Clear), Otherwise: records(c.Otherwise), LeftOut: records(c.LeftOut), Mixes: mixesJSON(c.Mixes), Alike: orEmpty(c.Alike),
		ByClass: mixesJSON(c.ByClass), Causes: orEmpty(c.Causes), Classes: []classesJSON{}, Lifts: []liftJSON{}, Conflicts: []clashJSON{},
		Next: newNextJSON(c.Next), Possible: c.Possible, Total: c.Total, Factors: []factorJSON{}, Swaps: []swapJSON{}, Shrinking: []shrinkJSON{}, Beliefs: []beliefJSON{}}
	if c.TooMany {
		j.Status = "too-many"
	}
	for _, k := range c.Classes {
		j.Classes = append(j.Classes, classesJSON{k.Places, k.Alone})
	}
	for _, f := range c.Lifts {
		j.Lifts = append(j.Lifts, newLiftJSON(f))
	}
	for _, k := range c.Conflicts {
		j.Conflicts = append(j.Conflicts, clashJSON{k.Reacted, k.Clear, records(k.ReactedJars), records(k.ClearJars), orEmpty(k.Differ), k.Explained})
	}
	for _, f := range c.Factors {
		j.Factors = append(j.Factors, factorJSON{f.Circumstance, pairs(f.Same), pairs(f.Differ), f.Unsure})
	}
	for _, s := range c.Swaps {
		j.Swaps = append(j.Swaps, swapJSON{[2]mix.ID{s.Out, s.In}, s.Class, pairs(s.Same), pairs(s.Differ)})
	}
	for _, s := range c.Shrinking() {
		j.Shrinking = append(j.Shrinking, shrinkJSON{s.Observation.ID, s.Reacted, s.Possible, orEmpty(s.Single), orEmpty(s.Established)})
	}
	believed, _ := c.Beliefs(compat.MisreadRates)
	for _, b := range believed {
		j.Beliefs = append(j.Beliefs, beliefJSON{b.Products, b.P})
	}
	if plan > 0 {
		j.Plan = newPlanJSON(c.Plan(plan))
	}
	return j
}

func mixesJSON(all []compat.CaseMix) []mixJSON {
	list := []mixJSON{}
	for _, m := range all {
		list = append(list, mixJSON{m.Products, m.Status.String(), orEmpty(m.Causes), orEmpty(m.Possible), m.Partial})
	}
	return list
}

func newLiftJSON(f compat.Lift) liftJSON {
	j := liftJSON{Cause: f.Cause}
	for _, p := range f.Places {
		j.Places = append(j.Places, placeJSON{p.Product, p.Class, orEmpty(p.Tested), orEmpty(p.Untested)})
	}
	return j
}

func newNextJSON(n *compat.NextJar) *nextJSON {
	if n == nil {
		return nil
	}
	return &nextJSON{n.Products, n.Why.String(), n.Reacts, n.IfReacts, n.IfClear}
}

func newPlanJSON(n *compat.PlanNode) *planJSON {
	if n == nil {
		return nil
	}
	return &planJSON{newNextJSON(n.Jar), n.Possible, n.Settled, orEmpty(n.Found), newPlanJSON(n.Reacts), newPlanJSON(n.Clear)}
}

func records(list []*mix.Observation) []mix.ID {
	found := []mix.ID{}
	for _, o := range list {
		found = append(found, o.ID)
	}
	return found
}

func pairs(list []compat.Records) [][2]mix.ID {
	found := [][2]mix.ID{}
	for _, p := range list {
		found = append(found, [2]mix.ID{p[0].ID, p[1].ID})
	}
	return found
}
