package main

import (
	"fmt"

	"tankleaf.example/internal/compat"
	"tankleaf.example/internal/mix"
	"tankleaf.example/internal/page"
	"tankleaf.example/internal/site"
)

// verdictJSON is an answer as --json prints it. Untested pairs stand beside the
// verdict: a verdict says nothing about them.
type verdictJSON struct {
	Items    []mix.ID      `json:"items"`
	Verdict  mix.Verdict   `json:"verdict"`
	Grade    mix.Grade     `json:"grade"`
	Hazards  []mix.Hazard  `json:"hazards"`
	Untested [][]mix.ID    `json:"untested"`
	Findings []findingJSON `json:"findings"`
	Doubts   []doubtJSON   `json:"doubts"`
	Changes  []changeJSON  `json:"changes,omitempty"` // of explain alone
}

// changeJSON is the mix without an item, or with another in its place: the answer,
// and apart from it the conflicts that stay and what is untested.
type changeJSON struct {
	Out          mix.ID       `json:"out"`
	In           mix.ID       `json:"in,omitempty"`
	Verdict      mix.Verdict  `json:"verdict"`
	Grade        mix.Grade    `json:"grade"`
	Hazards      []mix.Hazard `json:"hazards"`
	Conflicts    int          `json:"conflicts"` // in the changed mix
	Untested     [][]mix.ID   `json:"untested"`
	UntestedWith []mix.ID     `json:"untested_with,omitempty"` // with which In is untested
	Found        int          `json:"found,omitempty"`         // how many may take the place of Out; the first are listed
}

// changesJSON lists each item left out, then what may take an item's place.
func changesJSON(all compat.Changes) []changeJSON {
	list := []changeJSON{}
	for i := range all.Without {
		list = append(list, newChangeJSON(&all.Without[i], 0))
	}
	for _, r := range all.Instead {
		for i := range r.Best {
			list = append(list, newChangeJSON(&r.Best[i], r.Found))
		}
	}
	return list
}

func newChangeJSON(c *compat.Change, found int) changeJSON {
	return changeJSON{Out: c.Out, In: c.In, Verdict: c.Answer.Verdict, Grade: c.Answer.Grade, Hazards: orEmpty(c.Answer.Hazards),
		Conflicts: c.Left, Untested: orEmpty(c.Answer.Untested), UntestedWith: c.Untested, Found: found}
}

// findingJSON is one piece of evidence: Kind says what Evidence names.
type findingJSON struct {
	Kind     string        `json:"kind"`     // interaction, notice or observations
	Evidence []mix.ID      `json:"evidence"` // ids of the records
	Part     string        `json:"part"`
	Verdict  mix.Verdict   `json:"verdict"`
	Stated   mix.Verdict   `json:"stated"`
	Grade    mix.Grade     `json:"grade"`
	Symptoms []mix.Symptom `json:"symptoms"`
	Hazards  []mix.Hazard  `json:"hazards"`
	Sources  []mix.ID      `json:"sources"`
	When     []string      `json:"when,omitempty"` // conditions that are not known to hold
	Doubts   []doubtJSON   `json:"doubts"`
}

type doubtJSON struct {
	Code     compat.DoubtCode `json:"code"`
	Evidence []mix.ID         `json:"evidence,omitempty"`
	Symptoms []mix.Symptom    `json:"symptoms,omitempty"`
	Items    []mix.ID         `json:"items,omitempty"`
}

func answerJSON(a *compat.Answer) *verdictJSON {
	v := &verdictJSON{Items: a.Items, Verdict: a.Verdict, Grade: a.Grade, Hazards: orEmpty(a.Hazards),
		Untested: orEmpty(a.Untested), Findings: []findingJSON{}, Doubts: doubtsJSON(a.Doubts)}
	for i := range a.Findings {
		v.Findings = append(v.Findings, newFindingJSON(&a.Findings[i]))
	}
	return v
}

func newFindingJSON(f *compat.Finding) findingJSON {
	kind, records, cited := evidenceJSON(f.Evidence)
	j := findingJSON{Kind: kind, Evidence: records, Part: f.Part.String(), Verdict: f.Verdict, Stated: f.Stated,
		Grade: f.Grade, Symptoms: orEmpty(f.Symptoms), Hazards: orEmpty(f.Hazards), Sources: cited,
		Doubts: doubtsJSON(f.Doubts)}
	for _, g := range f.Open {
		j.When = append(j.When, fmt.Sprintf("%v %s", g.Factor, g.Written))
	}
	return j
}

func evidenceJSON(e compat.Evidence) (kind string, records, cited []mix.ID) {
	switch e := e.(type) {
	case compat.Statement:
		return "interaction", []mix.ID{e.ID}, citedIDs(e.Sources)
	case compat.Ruling:
		return "notice", []mix.ID{e.ID}, citedIDs(e.Sources)
	case *compat.JarSet:
		for _, o := range e.Jars {
			records = append(records, o.ID)
		}
		return "observations", records, []mix.ID{}
	default:
		panic(fmt.Sprintf("evidence %T", e))
	}
}

func citedIDs(all []mix.Cite) []mix.ID {
	found := []mix.ID{}
	for _, c := range all {
		found = append(found, c.ID)
	}
	return found
}

func doubtsJSON(all []compat.Doubt) []doubtJSON {
	list := []doubtJSON{}
	for _, d := range all {
		j := doubtJSON{Code: d.Code, Symptoms: d.Symptoms, Items: d.Items}
		for _, e := range d.Evidence {
			_, records, _ := evidenceJSON(e)
			j.Evidence = append(j.Evidence, records...)
		}
		list = append(list, j)
	}
	return list
}

func orEmpty[T any](s []T) []T {
	if s == nil {
		return []T{}
	}
	return s
}

// verdict judges the products of a recipe or load that the office knows; nil when
// there are fewer than two.
func (c *call) verdict(o *site.Office, ids []mix.ID) *verdictJSON {
	if len(ids) < 2 {
		return nil
	}
	a := compat.New(o.Index).Mix(ids, mix.Situation{})
	return answerJSON(&a)
}

// warn says before a dose what the office knows of the mix: a recipe for a mix
// that builds pressure must not look like any other.
func (c *call) warn(o *site.Office, ids []mix.ID) {
	if len(ids) < 2 {
		return
	}
	judge := compat.New(o.Index)
	a := judge.Mix(ids, mix.Situation{})
	x := page.Explain(o.Inputs(judge), o.Book.Site.Languages[0], &a)
	for _, line := range []string{x.Hazard, x.Words.Verdict(a.Verdict) + ": " + x.Band.Why.Text, x.UntestedSum} {
		if line != "" {
			fmt.Fprintln(c.out, line)
		}
	}
	fmt.Fprintln(c.out)
}
