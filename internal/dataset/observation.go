package dataset

import (
	"fmt"
	"path"
	"slices"
	"strings"

	"tankleaf.example/internal/diag"
	"tankleaf.example/internal/mix"
	"tankleaf.example/internal/unit"
	"tankleaf.example/internal/yamlpos"
)

// roles are who may have seen something; records name no person.
var roles = []string{"office specialist", "county agent", "grower", "applicator", "adviser", "dealer"}

func (l *loader) observation() yamlpos.Kind[mix.Observation] {
	type o = mix.Observation
	return yamlpos.Object[o]{
		Name:  "observation",
		Start: func(r *o, at diag.Pos) { r.At, r.Record = at, string(l.file.text) },
		Check: l.checkObservation,
		Fields: []yamlpos.Field[o]{
			must("id", l.newID(observations, "observation"), func(r *o, v mix.ID) { r.ID = v }, "the file's name"),
			must("kind", word("kind", "jar", "field"), func(r *o, v string) { r.Field = v == "field" }, "jar or field"),
			must("title", l.text(), func(r *o, v mix.Text) { r.Title = v }, "shown to readers"),
			must("date", l.date(), func(r *o, v mix.Date) { r.Date = v }, "the day it was seen"),
			must("by", word("role", roles...), func(r *o, v string) { r.By = v }, "a role, never a name"),
			may("place", l.ref(places, "place"), func(r *o, v mix.Ref) { r.Place = v }, "id of the place"),
			may("investigation", l.ref(investigations, "investigation"), func(r *o, v mix.Ref) { r.Investigation = v }, "id of the investigation it belongs to"),
			must("products", some("products", l.portion()), func(r *o, v []mix.Portion) { r.Products = v }, "what was mixed, in order of addition"),
			may("order", word("order", "recorded", "not-recorded"), func(r *o, v string) { r.OrderKnown = v == "recorded" }, "recorded: the products stand in the order they went in"),
			may("spray_volume", sprayVolume(), func(r *o, v unit.SprayVolume) { r.SprayVolume = v }, "the field's carrier volume that was tested"),
			may("water_share", known(fillShare(), self), func(r *o, v mix.Value) { r.WaterShare = v }, "of the full water, for a crowded fill; left out: full water"),
			may("vessel", l.vessel(), func(r *o, v mix.Vessel) { r.Vessel = v }, "what it was mixed in"),
			may("water", l.ref(waters, "water"), func(r *o, v mix.Ref) { r.Water = v }, "id of the water"),
			may("temperature", temperature(), func(r *o, v mix.Value) { r.Temperature = v }, "of the water at the start"),
			may("ph_before", ph(), func(r *o, v mix.Value) { r.PHBefore = v }, "of the water before the products"),
			may("inversions", count("inversions", 0, 200), func(r *o, v int) { r.Inversions = v }, "of the vessel after each addition"),
			may("readings", many("readings", l.reading()), func(r *o, v []mix.Reading) { r.Readings = v }, "what was seen, by time"),
			may("ratings", many("ratings", l.rating()), func(r *o, v []mix.Rating) { r.Ratings = v }, "control or injury in the field"),
			may("note", l.text(), func(r *o, v mix.Text) { r.Note = v }, "anything else"),
			may("photo", l.photo(), func(r *o, v string) { r.Photo = v }, "file below data/photos: photos/NAME.jpg"),
		},
	}.Kind()
}

func (l *loader) portion() yamlpos.Kind[mix.Portion] {
	type p = mix.Portion
	return yamlpos.Object[p]{
		Name: "product",
		Fields: []yamlpos.Field[p]{
			must("product", l.productRef(), func(r *p, v mix.Ref) { r.Ref = v }, "id of the product"),
			may("rate", rate(), func(r *p, v unit.Rate) { r.Rate = v }, "rate it was used at: 5 lb/ac"),
			may("batch", line("a batch"), func(r *p, v string) { r.Batch = v }, "of the container"),
		},
		Check: func(r *p, f yamlpos.Found) {
			if r.Rate.Basis() != unit.NoBasis {
				l.rates = append(l.rates, usedRate{f.At("rate"), r.ID, r.Rate})
			}
		},
	}.Kind()
}

func (l *loader) vessel() yamlpos.Kind[mix.Vessel] {
	type v = mix.Vessel
	types := word("vessel", "jar", "cylinder", "bottle", "tank", "nurse-tank", "inductor")
	return yamlpos.Object[v]{
		Name:  "vessel",
		Start: func(r *v, at diag.Pos) { r.At = at },
		Fields: []yamlpos.Field[v]{
			must("type", types, func(r *v, t string) { r.Type = t }, "jar, cylinder, bottle, tank, nurse-tank or inductor"),
			may("size", volume(), func(r *v, q unit.Volume) { r.Size = q }, "what it holds when full"),
			may("liquid", volume(), func(r *v, q unit.Volume) { r.Liquid = q }, "finished volume in it"),
			may("height", length(), func(r *v, q unit.Length) { r.Height = q }, "of the liquid"),
			may("closed", yamlpos.Bool(), func(r *v, b bool) { r.Closed, r.Recorded = b, true }, "true: with its lid on; left out: not recorded"),
		},
		Check: func(r *v, f yamlpos.Found) {
			if r.Liquid.Cmp(r.Size) > 0 && f.Has("size") {
				f.At("liquid").Problem("more liquid than the vessel holds", "check liquid and size")
			}
		},
	}.Kind()
}

func (l *loader) reading() yamlpos.Kind[mix.Reading] {
	type r = mix.Reading
	extent := enum("extent", mix.ParseExtent)
	return yamlpos.Object[r]{
		Name:  "reading",
		Start: func(v *r, at diag.Pos) { v.At = at },
		Check: checkReading,
		Fields: []yamlpos.Field[r]{
			must("after", duration(), func(v *r, d unit.Duration) { v.After = d }, "since the last product went in: 15 min"),
			may("foam", head(), func(v *r, h mix.Head) { v.Foam = h }, "a volume or a height; 0 mL for none"),
			may("gas", enum("sign of gas", mix.ParseGasSign), func(v *r, g mix.GasSign) { v.Gas = g }, "none, bubbles, firm or vented"),
			may("rise", difference(), func(v *r, d mix.Value) { v.Rise = d }, "of temperature since the start: 0.5 °C"),
			may("flakes", extent, func(v *r, e mix.Extent) { v.Flakes = e }, "none, trace, some or heavy"),
			may("gel", extent, func(v *r, e mix.Extent) { v.Gel = e }, "none, trace, some or heavy"),
			may("precipitate", extent, func(v *r, e mix.Extent) { v.Precipitate = e }, "none, trace, some or heavy"),
			may("layers", extent, func(v *r, e mix.Extent) { v.Layers = e }, "none, trace, some or heavy"),
			may("oil_film", extent, func(v *r, e mix.Extent) { v.OilFilm = e }, "none, trace, some or heavy"),
			may("redispersed", enum("answer", mix.ParseRedispersed), func(v *r, d mix.Redispersed) { v.Redisperse = d }, "fully, partly or not-at-all, after gentle inversion"),
			may("inversions", count("inversions", 0, 200), func(v *r, i int) { v.Inversions = i }, "that redispersed is about"),
			may("screen", enum("sign", mix.ParseResidueSign), func(v *r, s mix.ResidueSign) { v.Screen = s }, "none, rinses-off or stays"),
			may("mesh", count("mesh", 5, 500), func(v *r, i int) { v.Mesh = i }, "of the screen"),
			may("ph", ph(), func(v *r, p mix.Value) { v.PH = p }, "of the mix"),
			may("note", l.text(), func(v *r, t mix.Text) { v.Note = t }, "anything else"),
		},
	}.Kind()
}

// head is foam, as a volume or as a height.
func head() yamlpos.Kind[mix.Head] {
	s := yamlpos.Schema{Type: "string", Examples: []string{"40 mL", "12 mm"}}
	return yamlpos.Scalar("a volume or a height of foam", s, func(n yamlpos.Node, text string) (mix.Head, bool) {
		if h, err := unit.ParseLength(text); err == nil {
			return mix.Head{Recorded: true, Tall: true, Height: h}, true
		}
		v, err := unit.ParseVolume(text)
		if err != nil {
			report(n, 0, err)
			return mix.Head{}, false
		}
		return mix.Head{Recorded: true, Volume: v}, true
	})
}

func checkReading(r *mix.Reading, f yamlpos.Found) {
	switch {
	case r.Redisperse != mix.RedispersedNotRecorded && !seenToSettle(r):
		f.At("redispersed").Problem("redispersed without anything that settled or separated", "record flakes, gel, precipitate, layers or oil_film")
	case f.Has("mesh") && !f.Has("screen"):
		f.At("mesh").Problem("mesh without what was left on the screen", "add screen: none, rinses-off or stays")
	}
}

func seenToSettle(r *mix.Reading) bool {
	return max(r.Flakes, r.Gel, r.Precipitate, r.Layers, r.OilFilm) != mix.NotRecorded
}

func (l *loader) rating() yamlpos.Kind[mix.Rating] {
	type r = mix.Rating
	single := yamlpos.Object[mix.Single]{
		Name: "single",
		Fields: []yamlpos.Field[mix.Single]{
			must("product", l.productRef(), func(s *mix.Single, v mix.Ref) { s.Product = v }, "id of the product alone"),
			must("rating", rating(), func(s *mix.Single, v mix.Value) { s.Rating = v }, "its rating at the same rate"),
		},
	}.Kind()
	return yamlpos.Object[r]{
		Name:  "rating",
		Start: func(v *r, at diag.Pos) { v.At = at },
		Check: func(v *r, f yamlpos.Found) {
			if v.Symptom != mix.NoSymptom && v.Symptom != mix.Control && v.Symptom != mix.Injury {
				f.At("symptom").Problem(fmt.Sprintf("%v is no rating", v.Symptom), "write control or injury; the others are readings")
			}
		},
		Fields: []yamlpos.Field[r]{
			must("symptom", symptom(mix.Control, mix.Injury), func(v *r, s mix.Symptom) { v.Symptom = s }, "control or injury"),
			must("target", line("a target"), func(v *r, s string) { v.Target = s }, "what was rated: common lambsquarters, apple leaf"),
			must("days", count("days", 0, 400), func(v *r, i int) { v.Days = i }, "after application"),
			must("mix", rating(), func(v *r, n mix.Value) { v.Mix = n }, "rating of the mix, 0 to 100 %"),
			may("untreated", rating(), func(v *r, n mix.Value) { v.Untreated = n }, "rating of the untreated check"),
			may("singles", many("singles", single), func(v *r, s []mix.Single) { v.Singles = s }, "each product alone at the same rate"),
		},
	}.Kind()
}

func (l *loader) checkObservation(o *mix.Observation, f yamlpos.Found) {
	if name := strings.TrimSuffix(path.Base(l.file.name), ".yaml"); o.ID != "" && string(o.ID) != name {
		f.At("id").Problem(fmt.Sprintf("id %q in a file named %q", o.ID, name+".yaml"), fmt.Sprintf("name the file %q, or write %q", string(o.ID)+".yaml", name))
	}
	if len(o.Readings) == 0 && len(o.Ratings) == 0 {
		f.Problem("observation without readings or ratings", "add what was seen, by time")
	}
	if !o.Field && !f.Has("vessel") {
		f.Problem("jar test without a vessel", "add vessel: {type: jar, size: 1 qt, closed: true}")
	}
	l.checkPortions(o.Products)
	l.checkTimes(o)
	l.checkSigns(o)
	l.checkSingles(o)
}

// checkPortions refuses a product that stands twice in one mix.
func (l *loader) checkPortions(list []mix.Portion) {
	for i, p := range list {
		if p.ID != "" && slices.ContainsFunc(list[:i], func(q mix.Portion) bool { return q.ID == p.ID }) {
			l.problems.Add(p.At, fmt.Sprintf("product %q is listed twice", p.ID), "write it once, with the whole rate")
		}
	}
}

func (l *loader) checkTimes(o *mix.Observation) {
	for i, r := range o.Readings {
		if i > 0 && r.After.Cmp(o.Readings[i-1].After) <= 0 {
			l.problems.Add(r.At, "reading is not later than the one before", "put readings in the order of time, one for each time")
		}
	}
}

// checkSigns refuses readings that the vessel cannot show.
func (l *loader) checkSigns(o *mix.Observation) {
	v := o.Vessel
	for _, r := range o.Readings {
		if (r.Gas == mix.Firm || r.Gas == mix.Vented) && !v.Closed {
			l.problems.Add(r.At, fmt.Sprintf("gas %v in a vessel that was not closed", r.Gas), "write closed: true under vessel, or gas: bubbles")
		}
		if r.Foam.Recorded && !r.Foam.Tall && v.Size.Sign() > 0 && r.Foam.Volume.Cmp(v.Size) > 0 {
			l.problems.Add(r.At, "more foam than the vessel holds", "check the foam and the size of the vessel")
		}
	}
}

func (l *loader) checkSingles(o *mix.Observation) {
	for _, r := range o.Ratings {
		for _, s := range r.Singles {
			if s.Product.ID != "" && !slices.ContainsFunc(o.Products, func(p mix.Portion) bool { return p.ID == s.Product.ID }) {
				l.problems.Add(s.Product.At, fmt.Sprintf("%q is not among the products of this observation", s.Product.ID), "name one of them")
			}
		}
	}
}

func (l *loader) investigation() yamlpos.Kind[mix.Investigation] {
	type i = mix.Investigation
	return yamlpos.Object[i]{
		Name:  "investigation",
		Start: func(r *i, at diag.Pos) { r.At = at },
		Fields: []yamlpos.Field[i]{
			must("id", l.newID(investigations, "investigation"), func(r *i, v mix.ID) { r.ID = v }, "names the investigation"),
			must("title", l.text(), func(r *i, v mix.Text) { r.Title = v }, "shown to readers"),
			must("question", l.text(), func(r *i, v mix.Text) { r.Question = v }, "what it should answer"),
			must("opened", l.date(), func(r *i, v mix.Date) { r.Opened = v }, "the day it began"),
			may("about", l.text(), func(r *i, v mix.Text) { r.About = v }, "how it came about"),
			may("conclusion", l.text(), func(r *i, v mix.Text) { r.Conclude = v }, "what the office concluded"),
			may("open", l.text(), func(r *i, v mix.Text) { r.Open = v }, "what is still open"),
		},
	}.Kind()
}
