package dataset

import (
	"fmt"
	"slices"

	"tankleaf.example/internal/diag"
	"tankleaf.example/internal/mix"
	"tankleaf.example/internal/unit"
	"tankleaf.example/internal/yamlpos"
)

func (l *loader) trial() yamlpos.Kind[mix.Trial] {
	type t = mix.Trial
	return yamlpos.Object[t]{
		Name:  "trial",
		Start: func(r *t, at diag.Pos) { r.At, r.WaterShare = at, unit.Int(1) },
		Check: l.checkTrial,
		Fields: []yamlpos.Field[t]{
			must("id", l.newID(trials, "trial"), func(r *t, v mix.ID) { r.ID = v }, "names the trial"),
			must("title", l.text(), func(r *t, v mix.Text) { r.Title = v }, "shown to readers"),
			may("why", l.text(), func(r *t, v mix.Text) { r.Why = v }, "what the jars should show"),
			must("question", enum("question", mix.ParseQuestion), func(r *t, v mix.Question) { r.Question = v }, "cause, order, water, substitute or workshop"),
			must("products", yamlpos.AtLeast(2, "products", many("products", l.portion())), func(r *t, v []mix.Portion) { r.Products = v }, "the mix; without a rate: the highest of the label"),
			may("spray_volume", sprayVolume(), func(r *t, v unit.SprayVolume) { r.SprayVolume = v }, "carrier per area; needed for rates per area"),
			may("jar", volume(), func(r *t, v unit.Volume) { r.Jar = v }, "finished volume; left out: chosen"),
			may("jars", count("jars", 2, 128), func(r *t, v int) { r.Jars = v }, "at most so many, controls and replicates counted"),
			may("replicates", count("replicates", 1, 20), func(r *t, v int) { r.Replicates = v }, "of each jar"),
			may("seed", count("seed", 0, 1_000_000), func(r *t, v int) { r.Seed = v }, "of codes and the order of runs"),
			may("water_share", fillShare(), func(r *t, v unit.Number) { r.WaterShare = v }, "below 100 %: crowded jars"),
			may("waters", many("waters", l.ref(waters, "water")), func(r *t, v []mix.Ref) { r.Waters = v }, "ids of waters; the first is that of all jars"),
			may("aid", l.portion(), func(r *t, v mix.Portion) { r.Aid = v }, "a helper: each mix with and without it"),
			may("for", l.productRef(), func(r *t, v mix.Ref) { r.For = v }, "what the others stand in for"),
			may("substitutes", many("substitutes", l.portion()), func(r *t, v []mix.Portion) { r.Substitutes = v }, "tried in its place; left out: found"),
			may("adaptive", yamlpos.Bool(), func(r *t, v bool) { r.Adaptive = v }, "true: each jar hangs on the one before"),
			may("as_used", yamlpos.Bool(), func(r *t, v bool) { r.AsUsed = v }, "true: rates outside the labels are meant"),
			may("persons", count("persons", 1, 1000), func(r *t, v int) { r.Persons = v }, "who pour"),
			may("groups", count("groups", 1, 1000), func(r *t, v int) { r.Groups = v }, "in which they pour"),
			may("shared", yamlpos.Bool(), func(r *t, v bool) { r.Shared = v }, "true: jars are dealt out among the groups"),
			must("sources", l.cites(), func(r *t, v []mix.Cite) { r.Sources = v }, citesDoc),
		},
	}.Kind()
}

// checkTrial looks at what keys say of one another. Whether the jars can be poured is
// known once the trial is planned.
func (l *loader) checkTrial(r *mix.Trial, f yamlpos.Found) {
	tried := slices.Concat(r.Products, r.Substitutes)
	if r.Aid.ID != "" {
		tried = append(tried, r.Aid)
	}
	l.checkPortions(tried)
	switch {
	case r.Question == mix.NoQuestion:
	case r.Question != mix.AskSubstitute && (f.Has("for") || f.Has("substitutes")):
		f.Problem(fmt.Sprintf("a trial of %v with substitutes", r.Question), "write question: substitute, or leave them out")
	case r.Question != mix.AskCause && r.Adaptive:
		f.At("adaptive").Problem("only a search for the cause is adaptive", "leave it out")
	}
	if r.For.ID != "" && !slices.ContainsFunc(r.Products, func(p mix.Portion) bool { return p.ID == r.For.ID }) {
		f.At("for").Problem(fmt.Sprintf("%q is not in the mix of this trial", r.For.ID), "name one of its products")
	}
	if r.Groups > r.Persons && r.Persons > 0 {
		f.At("groups").Problem("more groups than people", "write as many as people, or fewer")
	}
	if !f.Has("spray_volume") {
		l.dry = append(l.dry, trialRates{f, tried})
	}
}

// trialRates are the products of a trial without a spray volume: rates by area, its
// own or those of labels, are a problem there.
type trialRates struct {
	found    yamlpos.Found
	products []mix.Portion
}

// checkTrials looks for rates by area where no spray volume is given.
func (l *loader) checkTrials(x *mix.Index) {
	for _, t := range l.dry {
		for _, p := range t.products {
			rate := p.Rate
			if known := x.Product(p.ID); known != nil && rate.Basis() == unit.NoBasis {
				rate = known.Rate.High
			}
			if rate.Basis().PerArea() {
				t.found.Problem("a rate per area without a spray volume", "add spray_volume: as in 15 gal/ac")
				break
			}
		}
	}
}
