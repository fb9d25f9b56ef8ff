package dataset

import (
	"fmt"
	"slices"

	"tankleaf.example/internal/diag"
	"tankleaf.example/internal/mix"
	"tankleaf.example/internal/unit"
	"tankleaf.example/internal/yamlpos"
)

func (l *loader) product() yamlpos.Kind[mix.Product] {
	type p = mix.Product
	return yamlpos.Object[p]{
		Name:  "product",
		Start: func(r *p, at diag.Pos) { r.At = at },
		Check: checkProduct,
		Fields: []yamlpos.Field[p]{
			must("id", l.newID(items, "product"), func(r *p, v mix.ID) { r.ID = v }, "names the product; classes and products share one space of ids"),
			must("name", line("a name"), func(r *p, v string) { r.Name = v }, "as on the label; not translated"),
			must("form", form(), func(r *p, v mix.Form) { r.Form, r.Dry = v, r.Dry || v.Solid() }, "two-letter formulation code of the international list"),
			may("state", word("state", "dry", "liquid"), func(r *p, v string) { r.Dry = v == "dry" }, "dry or liquid; with form XX only"),
			may("bag", yamlpos.Bool(), func(r *p, v bool) { r.Bag = v }, "true: packed in sealed water-soluble bags"),
			may("actives", many("actives", l.active()), func(r *p, v []mix.Active) { r.Actives = v }, "active ingredients"),
			may("density", density(), func(r *p, v unit.Density) { r.Density = v }, "of a liquid: 1.2 g/mL"),
			may("rate", l.rateRange(), func(r *p, v mix.RateRange) { r.Rate = v }, "label range of rates"),
			may("uses", many("uses", l.use()), func(r *p, v []mix.Use) { r.Uses = v }, "labelled uses"),
			may("classes", many("classes", l.classRef()), func(r *p, v []mix.Ref) { r.Classes = v }, "classes it belongs to; those of its formulation code need not be named"),
			may("spray_volume", sprayRange(), func(r *p, v [2]unit.SprayVolume) { r.SprayVolume = v }, "label minimum and maximum"),
			may("position", count("position", 1, 20), func(r *p, v int) { r.Position = v }, "the label's own place in the order of addition, from 1"),
			may("about", l.text(), func(r *p, v mix.Text) { r.About = v }, "a few sentences"),
			may("also", names(), func(r *p, v []string) { r.Also = v }, "other names and common misspellings, for search"),
			must("sources", l.cites(), func(r *p, v []mix.Cite) { r.Sources = v }, citesDoc),
		},
	}.Kind()
}

func (l *loader) active() yamlpos.Kind[mix.Active] {
	type a = mix.Active
	return yamlpos.Object[a]{
		Name:  "active",
		Start: func(r *a, at diag.Pos) { r.At = at },
		Fields: []yamlpos.Field[a]{
			must("name", line("a name"), func(r *a, v string) { r.Name = v }, "ISO common name, lower case"),
			may("amount", line("an amount"), func(r *a, v string) { r.Amount = v }, "as labelled: 80 % w/w, 480 g/L, 4 lb/gal"),
		},
	}.Kind()
}

func (l *loader) use() yamlpos.Kind[mix.Use] {
	type u = mix.Use
	return yamlpos.Object[u]{
		Name:  "use",
		Start: func(r *u, at diag.Pos) { r.At = at },
		Check: func(r *u, f yamlpos.Found) { l.useTiming(r, f) },
		Fields: []yamlpos.Field[u]{
			must("crop", l.ref(crops, "crop"), func(r *u, v mix.Ref) { r.Crop = v }, "id of the crop"),
			may("timing", ident("the id of a timing"), func(r *u, v mix.ID) { r.Timing.ID = v }, "id of a timing of that crop"),
			must("purpose", l.ref(purposes, "purpose"), func(r *u, v mix.Ref) { r.Purpose = v }, "id of what it is for"),
			may("rate", l.rateRange(), func(r *u, v mix.RateRange) { r.Rate = v }, "range for this use; left out: the product's"),
		},
	}.Kind()
}

// useTiming refers to the timing in the space of the use's own crop.
func (l *loader) useTiming(u *mix.Use, f yamlpos.Found) {
	if u.Timing.ID == "" {
		return
	}
	u.Timing.At = f.At("timing").Pos()
	if u.Crop.ID != "" {
		l.refs = append(l.refs, reference{f.At("timing"), timings(u.Crop.ID), "timing", u.Timing.ID})
	}
}

// timings is the space of a crop's timings.
func timings(crop mix.ID) space { return space("timing of " + string(crop)) }

func (l *loader) rateRange() yamlpos.Kind[mix.RateRange] {
	type r = mix.RateRange
	return yamlpos.Object[r]{
		Name:  "range",
		Start: func(v *r, at diag.Pos) { v.At = at },
		Check: checkRange,
		Fields: []yamlpos.Field[r]{
			must("low", rate(), func(v *r, low unit.Rate) { v.Low = low }, "lowest rate: 1 pt/ac"),
			must("high", rate(), func(v *r, high unit.Rate) { v.High = high }, "highest rate: 2 pt/ac"),
		},
	}.Kind()
}

func checkRange(r *mix.RateRange, f yamlpos.Found) {
	switch {
	case r.Low.Basis() == unit.NoBasis || r.High.Basis() == unit.NoBasis:
	case !r.Low.Comparable(r.High):
		f.At("high").Problem(fmt.Sprintf("range from %q to %q is of two kinds", r.Low.Unit(), r.High.Unit()), "write both in one unit")
	case r.Low.Cmp(r.High) > 0:
		f.At("low").Problem("range is reversed: low is above high", "exchange them")
	}
}

// sprayRange is a label's minimum and maximum of spray volume.
func sprayRange() yamlpos.Kind[[2]unit.SprayVolume] {
	type r = [2]unit.SprayVolume
	return yamlpos.Object[r]{
		Name: "range",
		Fields: []yamlpos.Field[r]{
			may("low", sprayVolume(), func(v *r, low unit.SprayVolume) { v[0] = low }, "label minimum: 10 gal/ac"),
			may("high", sprayVolume(), func(v *r, high unit.SprayVolume) { v[1] = high }, "label maximum: 100 gal/ac"),
		},
		Check: func(v *r, f yamlpos.Found) {
			if f.Has("low") && f.Has("high") && v[1].Sign() > 0 && v[0].Cmp(v[1]) > 0 {
				f.At("low").Problem("range is reversed: low is above high", "exchange them")
			}
		},
	}.Kind()
}

func checkProduct(p *mix.Product, f yamlpos.Found) {
	switch {
	case p.Form == "XX" && !f.Has("state"):
		f.At("form").Problem("form XX does not say whether the product is weighed", "add state: dry or state: liquid")
	case p.Form != "" && p.Form != "XX" && f.Has("state"):
		f.At("state").Problem(fmt.Sprintf("form %s already says whether the product is weighed", p.Form), "remove state")
		p.Dry = p.Form.Solid()
	}
	if p.Dry && f.Has("density") {
		f.At("density").Problem("density of a dry product: it is weighed, never poured", "remove it")
	}
	if p.Bag && !p.Dry {
		f.At("bag").Problem("a liquid in a water-soluble bag", "check the label; bags hold dry products")
	}
	checkBasis(p, p.Rate, f.At("rate"))
	for i, u := range p.Uses {
		checkBasis(p, u.Rate, f.At("uses"))
		if slices.ContainsFunc(p.Uses[:i], func(o mix.Use) bool {
			return o.Crop.ID == u.Crop.ID && o.Timing.ID == u.Timing.ID && o.Purpose.ID == u.Purpose.ID
		}) {
			f.At("uses").Problem(fmt.Sprintf("use on %q for %q is listed twice", u.Crop.ID, u.Purpose.ID), "write it once")
		}
	}
}

// checkBasis refuses rates that no dose can be worked out from.
func checkBasis(p *mix.Product, r mix.RateRange, at yamlpos.Node) {
	switch b := r.High.Basis(); {
	case b == unit.NoBasis || p.Form == "":
	case p.Dry && !b.Dry():
		at.Problem(fmt.Sprintf("rate in %q for a dry product, which is weighed", r.High.Unit()), "write a weight, as in 2 lb/ac")
	case !p.Dry && b.Dry() && p.Density.IsZero():
		at.Problem(fmt.Sprintf("rate in %q for a liquid of unknown density", r.High.Unit()), "add density: as in 1.2 g/mL, or write a volume")
	}
}

func (l *loader) crop() yamlpos.Kind[mix.Crop] {
	type c = mix.Crop
	var fresh []yamlpos.Node // ids of timings, until their crop's id is known
	timing := yamlpos.Object[mix.Timing]{
		Name:  "timing",
		Start: func(r *mix.Timing, at diag.Pos) { r.At = at },
		Fields: []yamlpos.Field[mix.Timing]{
			must("id", ident("an id"), func(r *mix.Timing, v mix.ID) { r.ID = v }, "names the timing within its crop"),
			must("name", l.text(), func(r *mix.Timing, v mix.Text) { r.Name = v }, "shown to readers"),
		},
		Check: func(r *mix.Timing, f yamlpos.Found) { fresh = append(fresh, f.At("id")) },
	}
	return yamlpos.Object[c]{
		Name:  "crop",
		Start: func(r *c, at diag.Pos) { r.At, fresh = at, nil },
		Check: func(r *c, f yamlpos.Found) {
			for i, t := range r.Timings {
				if t.ID != "" && r.ID != "" {
					l.define(fresh[i], timings(r.ID), "timing", t.ID)
				}
			}
		},
		Fields: []yamlpos.Field[c]{
			must("id", l.newID(crops, "crop"), func(r *c, v mix.ID) { r.ID = v }, "names the crop"),
			must("name", l.text(), func(r *c, v mix.Text) { r.Name = v }, "shown to readers"),
			may("timings", many("timings", timing.Kind()), func(r *c, v []mix.Timing) { r.Timings = v }, "stages labels speak of, in the order of the season"),
		},
	}.Kind()
}

func (l *loader) purpose() yamlpos.Kind[mix.Purpose] {
	type p = mix.Purpose
	return yamlpos.Object[p]{
		Name:  "purpose",
		Start: func(r *p, at diag.Pos) { r.At = at },
		Fields: []yamlpos.Field[p]{
			must("id", l.newID(purposes, "purpose"), func(r *p, v mix.ID) { r.ID = v }, "names the purpose"),
			must("name", l.text(), func(r *p, v mix.Text) { r.Name = v }, "shown to readers"),
		},
	}.Kind()
}
