package compat

import (
	"cmp"
	"slices"

	"tankleaf.example/internal/mix"
)

// Conflict is items of a mix that may not share a tank, with all the evidence that
// says so: what no step mends.
type Conflict struct {
	Items    []mix.ID    // in item order
	Verdict  mix.Verdict // Apart or Never: the most cautious of the findings
	Findings []*Finding  // in the answer's order
}

// Conflicts returns the conflicts of a mix by the items that they are about, the most
// cautious first. What is said of more items than another conflict names belongs to
// that one.
func (a *Answer) Conflicts() []Conflict { return a.askingFor(mix.Apart) }

// askingFor is Conflicts, with findings from another verdict on.
func (a *Answer) askingFor(from mix.Verdict) []Conflict {
	all := a.grave(from)
	slices.SortStableFunc(all, func(x, y grave) int { return cmp.Compare(len(x.items), len(y.items)) })
	var list []Conflict
	for _, g := range all {
		n := slices.IndexFunc(list, func(c Conflict) bool { return within(c.Items, g.items) })
		if n < 0 {
			list = append(list, Conflict{Items: g.items, Verdict: g.finding.Verdict, Findings: []*Finding{g.finding}})
			continue
		}
		list[n].Findings = append(list[n].Findings, g.finding)
		list[n].Verdict = max(list[n].Verdict, g.finding.Verdict)
	}
	for _, c := range list {
		slices.SortFunc(c.Findings, func(x, y *Finding) int { return a.placeOf(x) - a.placeOf(y) })
	}
	slices.SortStableFunc(list, func(x, y Conflict) int { return cmp.Compare(y.Verdict, x.Verdict) })
	return list
}

// grave is a finding that asks for much caution, with the items that it is about.
type grave struct {
	finding *Finding
	items   []mix.ID
}

func (a *Answer) grave(from mix.Verdict) []grave {
	var all []grave
	for i := range a.Findings {
		if f := &a.Findings[i]; f.Verdict >= from {
			all = append(all, grave{f, a.about(f)})
		}
	}
	return all
}

// about returns the items of the mix that a finding is about. Of jars of what a class
// of the mix holds it cannot tell, and names all.
func (a *Answer) about(f *Finding) []mix.ID {
	var named []mix.ID
	if set, ok := f.Evidence.(*JarSet); ok {
		named = set.Products
	} else {
		for _, m := range f.Matches {
			named = append(named, m.Item)
		}
	}
	var items []mix.ID
	for _, id := range a.Items {
		if slices.Contains(named, id) {
			items = append(items, id)
		}
	}
	if len(items) == 0 {
		return a.Items
	}
	return items
}

func (a *Answer) placeOf(f *Finding) int {
	for i := range a.Findings {
		if &a.Findings[i] == f {
			return i
		}
	}
	return len(a.Findings)
}
