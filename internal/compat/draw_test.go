package compat_test

import (
	"fmt"
	"slices"

	"pgregory.net/rapid"

	"tankleaf.example/internal/mix"
	"tankleaf.example/internal/unit"
)

// Random books, mixes and situations for the property tests: small enough that
// evidence meets, with every kind of record and condition.

var (
	classIDs   = []mix.ID{"c0", "c1", "c2", "c3", "c4", "c5", "hard", "soft"}
	productIDs = []mix.ID{"p0", "p1", "p2", "p3", "p4", "p5"}
	someIDs    = slices.Concat(classIDs[:6], productIDs)
)

func oneIn(t *rapid.T, n int, what string) bool { return rapid.IntRange(1, n).Draw(t, what) == n }

func oneOf[T any](t *rapid.T, what string, list ...T) T { return rapid.SampledFrom(list).Draw(t, what) }

func drawBook(t *rapid.T) *book {
	b := newBook()
	if oneIn(t, 8, "no day of publication") {
		b.Site.Published = mix.Date{}
	}
	for i := range b.Criteria {
		b.Criteria[i].Needed = !oneIn(t, 6, "not needed")
	}
	for i := range 6 {
		b.Classes = append(b.Classes, drawClass(t, i))
	}
	b.Classes = append(b.Classes,
		mix.Class{ID: "hard", Carrier: true, When: []mix.Gate{over(mix.Hardness, 300)}},
		mix.Class{ID: "soft", Carrier: true, KindOf: refs(oneOf(t, "soft is", "", "c0"))})
	for _, id := range productIDs {
		b.Products = append(b.Products, drawProduct(t, id))
	}
	for n := range rapid.IntRange(0, 5).Draw(t, "interactions") {
		b.Interactions = append(b.Interactions, drawInteraction(t, fmt.Sprintf("i%d", n)))
	}
	for n := range rapid.IntRange(0, 2).Draw(t, "notices") {
		b.Notices = append(b.Notices, drawNotice(t, fmt.Sprintf("n%d", n)))
	}
	for n := range rapid.IntRange(0, 12).Draw(t, "observations") {
		b.Observations = append(b.Observations, drawObservation(t, fmt.Sprintf("o%d", n)))
	}
	b.drawCampaigns(t)
	b.Waters = []mix.WaterSource{{ID: "well", Hardness: mix.Known(unit.Int(400))}, {ID: "rain", Hardness: mix.Known(unit.Int(5)), PH: mix.Known(unit.Int(6))}}
	b.Places = []mix.Place{{ID: "valley"}, {ID: "lower", PartOf: mix.Ref{ID: "valley"}}, {ID: "upper", PartOf: mix.Ref{ID: "valley"}}}
	return b
}

// drawCampaigns adds enough jars of one pair to relax a statement, and jars of one
// pair that reacted in one order of two.
func (b *book) drawCampaigns(t *rapid.T) {
	pair := func(what string) (mix.ID, mix.ID) {
		p := rapid.SliceOfNDistinct(rapid.SampledFrom(productIDs[:4]), 2, 2, rapid.ID).Draw(t, what)
		return p[0], p[1]
	}
	if rapid.Bool().Draw(t, "campaign") {
		p, q := pair("campaign of")
		b.clean3("campaign", string(p+" "+q), func(o *mix.Observation) {
			o.Temperature = mix.Known(unit.Int(30))
			o.Readings[0].After = must(unit.ParseDuration(oneOf(t, "watched for", "5 min", "2 h")))
			o.Products[0].Rate = must(unit.ParseRate(oneOf(t, "at", "1 qt/ac", "2 qt/ac", "1 lb/ac")))
		})
	}
	if rapid.Bool().Draw(t, "orders") {
		p, q := pair("orders of")
		b.clean3("in-order", string(p+" "+q))
		b.jar("turned", "2026-05-09", string(q+" "+p)+": gas=none foam=0 flakes=heavy")
	}
}

func drawClass(t *rapid.T, i int) mix.Class {
	c := mix.Class{ID: classIDs[i], Matrix: i%2 == 0, Forms: oneOf(t, "forms", nil, nil, []mix.Form{"EC"})}
	for k := range i {
		if oneIn(t, 4, "kind of") {
			c.KindOf = append(c.KindOf, mix.Ref{ID: classIDs[k]})
		}
	}
	if oneIn(t, 5, "hides") {
		c.Suppresses = []mix.Symptom{oneOf(t, "what", mix.Foam, mix.Foam, mix.Flakes)}
	}
	if oneIn(t, 6, "handled with care") {
		c.Hazards = []mix.Hazard{mix.Concentrate}
	}
	return c
}

func drawProduct(t *rapid.T, id mix.ID) mix.Product {
	p := mix.Product{ID: id, Form: oneOf[mix.Form](t, "form", "SC", "EC")}
	for range rapid.IntRange(0, 2).Draw(t, "classes") {
		p.Classes = append(p.Classes, mix.Ref{ID: rapid.SampledFrom(classIDs[:6]).Draw(t, "class")})
	}
	if low := oneOf(t, "label", "", "", "1 qt/ac", "3 pt/ac"); low != "" {
		p.Rate = mix.RateRange{Low: must(unit.ParseRate(low)), High: must(unit.ParseRate("9 qt/ac"))}
	}
	return p
}

func over(f mix.Factor, n int64) mix.Gate {
	return mix.Gate{Factor: f, Low: mix.Bound{Set: true, Value: unit.Int(n)}, Written: fmt.Sprintf("> %d", n)}
}

func drawInteraction(t *rapid.T, id string) mix.Interaction {
	n := mix.Interaction{
		ID:       mix.ID(id),
		Kind:     oneOf(t, "kind", mix.Physical, mix.Physical, mix.Chemical, mix.Legal),
		Verdict:  oneOf(t, "verdict", mix.Clean, mix.Steps, mix.Apart, mix.Never),
		Symptoms: rapid.SliceOfNDistinct(rapid.SampledFrom([]mix.Symptom{mix.Gas, mix.Foam, mix.Flakes, mix.Injury}), 0, 2, rapid.ID).Draw(t, "symptoms"),
	}
	for range rapid.IntRange(1, 2).Draw(t, "sources") {
		n.Sources = append(n.Sources, mix.Cite{Ref: mix.Ref{ID: oneOf[mix.ID](t, "source", "paper", "practice", "memory", "press", "law")}})
	}
	for range rapid.IntRange(2, 3).Draw(t, "members") {
		n.Members = append(n.Members, mix.Ref{ID: rapid.SampledFrom(append(someIDs, "hard", "soft")).Draw(t, "member")})
	}
	if n.Verdict > mix.Clean && oneIn(t, 4, "hazard") {
		n.Hazards = []mix.Hazard{rapid.SampledFrom(mix.Hazards()).Draw(t, "which")}
	}
	if oneIn(t, 6, "disputed") {
		n.Disputes = []mix.Dispute{{}}
	}
	for range rapid.IntRange(0, 4).Draw(t, "gated") / 3 {
		n.When = append(n.When, drawGate(t, n.Members))
	}
	for range rapid.IntRange(0, 2).Draw(t, "mends") {
		n.Mends = append(n.Mends, mix.Mend{Class: mix.Ref{ID: rapid.SampledFrom(classIDs[:6]).Draw(t, "mend")},
			To: oneOf(t, "to", mix.Clean, mix.Steps)})
	}
	return n
}

func drawGate(t *rapid.T, members []mix.Ref) mix.Gate {
	return oneOf(t, "gate",
		over(mix.WaterTemp, 20), over(mix.Standing, 60), over(mix.Hardness, 100),
		mix.Gate{Factor: mix.OrderFactor, First: members[0], Then: members[1]},
		ref(mix.VesselFactor, "closed"), ref(mix.PlaceFactor, "lower"), ref(mix.PlaceFactor, "valley"),
		ref(mix.CropFactor, "apple"), ref(mix.CarrierClass, "hard"), ref(mix.CarrierClass, "soft"))
}

func drawNotice(t *rapid.T, id string) mix.Notice {
	return mix.Notice{
		ID: mix.ID(id), Law: true,
		Effect:  oneOf(t, "effect", mix.Forbids, mix.Requires, mix.Requires, mix.Allows, mix.Informs),
		Members: []mix.Ref{{ID: rapid.SampledFrom(someIDs).Draw(t, "member")}, {ID: rapid.SampledFrom(someIDs).Draw(t, "member")}}[oneOf(t, "of one", 0, 1):],
		Place:   mix.Ref{ID: oneOf[mix.ID](t, "place", "", "", "lower")},
		From:    oneOf(t, "from", mix.Date{}, mix.Date{}, date("2027-01-01")),
		Until:   oneOf(t, "until", mix.Date{}, mix.Date{}, date("2025-01-01")),
	}
}

func drawObservation(t *rapid.T, id string) mix.Observation {
	o := mix.Observation{
		ID: mix.ID(id), Field: oneIn(t, 5, "field"),
		Water:      mix.Ref{ID: oneOf[mix.ID](t, "water", "", "well", "rain")},
		OrderKnown: rapid.Bool().Draw(t, "order known"),
		Vessel:     mix.Vessel{Liquid: must(unit.ParseVolume("700 mL")), Recorded: rapid.Bool().Draw(t, "vessel"), Closed: rapid.Bool().Draw(t, "closed")},
	}
	if day := oneOf(t, "day", "", "2019-05-01", "2021-11-20", "2026-01-01", "2026-02-01", "2026-03-01"); day != "" {
		o.Date = date(day)
	}
	if rapid.Bool().Draw(t, "warm") {
		o.Temperature = mix.Known(unit.Int(30))
	}
	if oneIn(t, 5, "crowded") {
		o.WaterShare = mix.Known(unit.Frac(1, 4))
	}
	for _, p := range rapid.SliceOfNDistinct(rapid.SampledFrom(productIDs[:4]), 1, 3, rapid.ID).Draw(t, "products") {
		one := mix.Portion{Ref: mix.Ref{ID: p}, Batch: oneOf(t, "batch", "", "B1", "B2")}
		if rate := oneOf(t, "rate", "1 qt/ac", "2 qt/ac", ""); rate != "" {
			one.Rate = must(unit.ParseRate(rate))
		}
		o.Products = append(o.Products, one)
	}
	o.Readings = []mix.Reading{reading(oneOf(t, "after", "5 min", "2 h"), "gas=none foam=0 flakes=none")}
	if rapid.IntRange(0, 2).Draw(t, "quiet") > 0 { // mostly, so that clean verdicts and relaxed statements are not rare
		return o
	}
	drawReading(t, &o)
	return o
}

func drawReading(t *rapid.T, o *mix.Observation) {
	r := &o.Readings[0]
	r.Gas = oneOf(t, "gas", mix.NoGas, mix.NoGas, mix.GasNotRecorded, mix.Vented)
	r.Flakes = oneOf(t, "flakes", mix.None, mix.NotRecorded, mix.Heavy)
	r.Redisperse = oneOf(t, "back", mix.RedispersedNotRecorded, mix.Fully)
	r.Foam = mix.Head{}
	if rapid.Bool().Draw(t, "foam recorded") {
		r.Foam = mix.Head{Recorded: true, Volume: must(unit.ParseVolume(oneOf(t, "foam", "0 mL", "300 mL")))}
	}
	if oneIn(t, 4, "no vessel") {
		o.Vessel.Liquid = unit.Volume{} // foam cannot be judged
	}
}

func drawMix(t *rapid.T) []mix.ID {
	if !oneIn(t, 3, "any items") {
		return rapid.SliceOfNDistinct(rapid.SampledFrom(productIDs[:4]), 1, 4, rapid.ID).Draw(t, "mix")
	}
	return rapid.SliceOfNDistinct(rapid.SampledFrom(slices.Concat(someIDs, []mix.ID{"hard", "gone"})), 1, 5, rapid.ID).Draw(t, "mix")
}

func drawSituation(t *rapid.T) mix.Situation {
	var s mix.Situation
	know := func(what string, to *mix.Value, choices ...int64) {
		if rapid.Bool().Draw(t, "know "+what) {
			*to = mix.Known(unit.Int(rapid.SampledFrom(choices).Draw(t, what)))
		}
	}
	know("hardness", &s.Hardness, 5, 100, 300, 400)
	know("temperature", &s.WaterTemp, 10, 20, 30, 31)
	know("standing", &s.Standing, 4, 60, 200)
	know("water share", &s.WaterShare, 0, 1)
	if rapid.Bool().Draw(t, "know carrier") {
		s.Carrier = []mix.ID{"soft"}
	}
	if rapid.Bool().Draw(t, "know order") {
		s.Order = rapid.Permutation(someIDs).Draw(t, "order")
	}
	s.Vessel = oneOf(t, "vessel", "", "open", "closed")
	s.Place = oneOf[mix.ID](t, "place", "", "valley", "lower", "upper", "elsewhere")
	s.Crop = oneOf[mix.ID](t, "crop", "", "apple", "pear")
	return s
}
