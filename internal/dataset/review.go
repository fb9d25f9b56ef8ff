package dataset

import (
	"tankleaf.example/internal/diag"
	"tankleaf.example/internal/mix"
	"tankleaf.example/internal/yamlpos"
)

// review is a record that answers for verdicts that soften. What it names is
// looked up as everywhere: a misspelt class would answer for nothing.
func (l *loader) review() yamlpos.Kind[mix.Review] {
	type r = mix.Review
	softened := some("items", l.itemRef())
	return yamlpos.Object[r]{
		Name:  "review",
		Start: func(v *r, at diag.Pos) { v.At = at },
		Fields: []yamlpos.Field[r]{
			must("id", l.newID(reviews, "review"), func(v *r, id mix.ID) { v.ID = id }, "names the review"),
			must("date", l.date(), func(v *r, d mix.Date) { v.Date = d }, "the day of the review; it answers for what softens from then on"),
			must("by", word("role", roles...), func(v *r, s string) { v.By = s }, "a role, never a name"),
			must("softens", some("mixes", softened), func(v *r, m [][]mix.Ref) { v.Softens = m },
				"mixes that become softer, each a list of classes or products; one alone: every mix with it"),
			must("because", l.text(), func(v *r, t mix.Text) { v.Because = t }, "why, for readers"),
			may("observations", many("observations", l.ref(observations, "observation")), func(v *r, o []mix.Ref) { v.Observations = o }, "ids of observations it rests on"),
			must("sources", l.cites(), func(v *r, c []mix.Cite) { v.Sources = c }, citesDoc),
		},
	}.Kind()
}
