package sheet

import (
	"fmt"

	"tankleaf.example/internal/mix"
	"tankleaf.example/internal/unit"
	"tankleaf.example/internal/yamlpos"
)

// situation is a mix.Situation while it is read: its references with their
// places, and the measured water that fills in what is not written.
type situation struct {
	mix.Situation
	water, place, crop mix.Ref
	carrier, order     []mix.Ref
}

var situationKind = yamlpos.Object[situation]{
	Name: "situation",
	Doc:  "What is known of one mix's water, vessel, place and time",
	Fields: []yamlpos.Field[situation]{
		yamlpos.May("water", idKind, func(s *situation, v mix.Ref) { s.water = v }, "the id of a measured water: its hardness, pH and bicarbonate"),
		yamlpos.May("hardness", value("a hardness", unit.ParseContent), func(s *situation, v mix.Value) { s.Hardness = v }, "such as 310 ppm"),
		yamlpos.May("ph", number("a pH", unit.ParseNumber, 0, 14), func(s *situation, v mix.Value) { s.PH = v }, "0 to 14"),
		yamlpos.May("bicarbonate", value("a bicarbonate content", unit.ParseContent), func(s *situation, v mix.Value) { s.Bicarbonate = v }, "such as 280 ppm"),
		yamlpos.May("temperature", value("a temperature", unit.ParseTemperature), func(s *situation, v mix.Value) { s.WaterTemp = v }, "of the water, such as 15 °C"),
		yamlpos.May("spray_volume", value("a spray volume", unit.ParseSprayVolume), func(s *situation, v mix.Value) { s.CarrierRate = v }, "such as 10 gal/ac"),
		yamlpos.May("standing", value("a time", unit.ParseDuration), func(s *situation, v mix.Value) { s.Standing = v }, "since the last product went in, such as 2 h"),
		yamlpos.May("water_share", number("a share of the water", unit.ParsePercent, 0, 1), func(s *situation, v mix.Value) { s.WaterShare = v }, "water present when the products meet, such as 25 %"),
		yamlpos.May("order", idsKind, func(s *situation, v []mix.Ref) { s.order = v }, "[items of the mix], first to last"),
		yamlpos.May("vessel", yamlpos.Words("vessel", []string{"open", "closed"}, func(s string) (string, bool) { return s, s == "open" || s == "closed" }),
			func(s *situation, v string) { s.Vessel = v }, "open or closed"),
		yamlpos.May("place", idKind, func(s *situation, v mix.Ref) { s.place = v }, "the id of a place"),
		yamlpos.May("crop", idKind, func(s *situation, v mix.Ref) { s.crop = v }, "the id of a crop"),
		yamlpos.May("carrier", idsKind, func(s *situation, v []mix.Ref) { s.carrier = v }, "[ids of carrier classes]"),
	},
}.Kind()

// checkSituation resolves the references of a situation.
func (r *reading) checkSituation(b *VerdictBlock) {
	s := b.refs
	r.refer(s.water, ToWater)
	r.refer(s.place, ToPlace)
	r.refer(s.crop, ToCrop)
	r.each(s.carrier, ToClass)
	b.Situation.Place, b.Situation.Crop = s.place.ID, s.crop.ID
	for _, c := range s.carrier {
		b.Situation.Carrier = append(b.Situation.Carrier, c.ID)
	}
	r.checkOrder(b, s.order)
	for i := range r.book.Waters {
		if w := &r.book.Waters[i]; w.ID == s.water.ID {
			fill(&b.Situation.Hardness, w.Hardness)
			fill(&b.Situation.PH, w.PH)
			fill(&b.Situation.Bicarbonate, w.Bicarbonate)
		}
	}
	b.refs = situation{}
}

func fill(v *mix.Value, measured mix.Value) {
	if !v.Known {
		*v = measured
	}
}

// checkOrder holds an order to the items of its mix.
func (r *reading) checkOrder(b *VerdictBlock, order []mix.Ref) {
	inMix := map[mix.ID]bool{}
	for _, m := range b.Mix {
		inMix[m.ID] = true
	}
	for _, o := range order {
		if !inMix[o.ID] {
			r.problems.Add(o.At, fmt.Sprintf("%q is not in the mix", o.ID), "order names items of mix:, first to last")
		}
		b.Situation.Order = append(b.Situation.Order, o.ID)
	}
}
