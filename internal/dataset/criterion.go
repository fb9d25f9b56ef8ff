package dataset

import (
	"fmt"
	"slices"

	"tankleaf.example/internal/diag"
	"tankleaf.example/internal/mix"
	"tankleaf.example/internal/unit"
	"tankleaf.example/internal/yamlpos"
)

// criterionRow is a criterion before its threshold is read, which the symptom
// decides how to read.
type criterionRow struct {
	mix.Criterion
	atLeast yamlpos.Node
}

func (l *loader) criterion() yamlpos.Kind[mix.Criterion] {
	type c = criterionRow
	shown := slices.DeleteFunc(mix.Symptoms(), func(s mix.Symptom) bool { return !s.ShowsInJar() })
	threshold := yamlpos.Schema{Type: "string", Examples: []string{"10 %", "2 °C", "some", "bubbles", "stays"}}
	rows := yamlpos.Object[c]{
		Name:  "criterion",
		Start: func(r *c, at diag.Pos) { r.At = at },
		Check: l.checkCriterion,
		Fields: []yamlpos.Field[c]{
			must("symptom", symptom(shown...), func(r *c, v mix.Symptom) { r.Symptom = v }, "what a jar can show"),
			must("at_least", yamlpos.Any(threshold), func(r *c, n yamlpos.Node) { r.atLeast = n }, "foam: share of the liquid; heat: degrees; others: a word of the readings"),
			may("after", duration(), func(r *c, v unit.Duration) { r.After = v }, "readings earlier than this do not count"),
			must("verdict", verdict(mix.Steps, mix.Apart, mix.Never), func(r *c, v mix.Verdict) { r.Verdict = v }, "what a reaction means: steps, apart or never"),
			may("hazard", enum("hazard", mix.ParseHazard), func(r *c, v mix.Hazard) { r.Hazard = v }, "what it does to people; left out: a nuisance"),
			may("redisperses", yamlpos.Bool(), func(r *c, v bool) { r.Mixes = v }, "true: a reaction that redisperses fully is steps"),
			may("needed", yamlpos.Bool(), func(r *c, v bool) { r.Needed = v }, "true: a jar is clean only when this was recorded"),
			must("says", l.text(), func(r *c, v mix.Text) { r.Says = v }, "the rule in words"),
			must("sources", l.cites(), func(r *c, v []mix.Cite) { r.Sources = v }, citesDoc),
		},
	}.Kind()
	return yamlpos.Kind[mix.Criterion]{Schema: rows.Schema, Read: func(n yamlpos.Node) (mix.Criterion, bool) {
		r, ok := rows.Read(n)
		return r.Criterion, ok
	}}
}

func (l *loader) checkCriterion(r *criterionRow, f yamlpos.Found) {
	if r.Hazard != mix.NoHazard && callsForNever(r.Hazard) && r.Verdict != mix.Never && r.Verdict != mix.Unknown {
		f.At("verdict").Problem(fmt.Sprintf("verdict %v with the hazard %v", r.Verdict, r.Hazard), "write never: a hazard has no other verdict")
	}
	switch {
	case r.Symptom == mix.NoSymptom || !f.Has("at_least"):
	case !r.Symptom.ShowsInJar():
		f.At("symptom").Problem(fmt.Sprintf("a jar cannot show %v", r.Symptom), "criteria judge readings; write an interaction for it")
	default:
		r.threshold()
	}
	if r.Mixes && !settles(r.Symptom) {
		f.At("redisperses").Problem(fmt.Sprintf("%v does not settle or separate", r.Symptom), "remove the line")
	}
}

func settles(s mix.Symptom) bool {
	return slices.Contains([]mix.Symptom{mix.Flakes, mix.Gel, mix.Precipitate, mix.Layers, mix.OilFilm}, s)
}

// threshold reads at_least by the symptom. A threshold of nothing would call
// every jar a reaction.
func (r *criterionRow) threshold() {
	n, zero := r.atLeast, false
	switch r.Symptom {
	case mix.Gas:
		r.Gas, _ = enum("sign of gas", mix.ParseGasSign).Read(n)
		zero = r.Gas == mix.NoGas
	case mix.Residue:
		r.Residue, _ = enum("sign", mix.ParseResidueSign).Read(n)
		zero = r.Residue == mix.NoResidue
	case mix.Heat:
		r.Rise, _ = difference().Read(n)
		zero = r.Rise.Known && r.Rise.N.Sign() <= 0
	case mix.Foam:
		r.Share, _ = known(share(), self).Read(n)
		zero = r.Share.Known && r.Share.N.Sign() == 0
	case mix.NoSymptom, mix.Fire, mix.Flakes, mix.Gel, mix.Precipitate, mix.Layers, mix.OilFilm, mix.Loss, mix.Vapour,
		mix.Control, mix.Injury:
		r.Extent, _ = enum("extent", mix.ParseExtent).Read(n)
		zero = r.Extent == mix.None
	}
	if zero || r.Gas == mix.GasNotRecorded && r.Residue == mix.ResidueNotRecorded && r.Extent == mix.NotRecorded &&
		n.Value() == "not-recorded" {
		n.Problem(fmt.Sprintf("%v of at least nothing would make every jar a reaction", r.Symptom), "write the least that counts")
	}
}
