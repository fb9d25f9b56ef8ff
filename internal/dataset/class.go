package dataset

import (
	"fmt"

	"tankleaf.example/internal/diag"
	"tankleaf.example/internal/mix"
	"tankleaf.example/internal/yamlpos"
)

func (l *loader) group() yamlpos.Kind[mix.Group] {
	return yamlpos.Object[mix.Group]{
		Name:  "group",
		Start: func(g *mix.Group, at diag.Pos) { g.At = at },
		Fields: []yamlpos.Field[mix.Group]{
			must("id", l.newID(groups, "group"), func(g *mix.Group, v mix.ID) { g.ID = v }, "names the group"),
			must("name", l.text(), func(g *mix.Group, v mix.Text) { g.Name = v }, "heading in the matrix"),
		},
	}.Kind()
}

func (l *loader) class() yamlpos.Kind[mix.Class] {
	type c = mix.Class
	return yamlpos.Object[c]{
		Name:  "class",
		Start: func(r *c, at diag.Pos) { r.At = at },
		Check: checkClass,
		Fields: []yamlpos.Field[c]{
			must("id", l.newID(items, "class"), func(r *c, v mix.ID) { r.ID = v }, "names the class; classes and products share one space of ids"),
			must("name", l.text(), func(r *c, v mix.Text) { r.Name = v }, "shown to readers"),
			must("axis", enum("axis", mix.ParseAxis), func(r *c, v mix.Axis) { r.Axis = v }, "what makes its members alike: chemistry, salt, role, formulation or water"),
			may("group", l.ref(groups, "group"), func(r *c, v mix.Ref) { r.Group = v }, "heading of the matrix it is listed under"),
			may("kind_of", many("classes", l.classRef()), func(r *c, v []mix.Ref) { r.KindOf = v }, "its parent classes"),
			may("forms", many("formulation codes", form()), func(r *c, v []mix.Form) { r.Forms = v }, "products with these formulation codes belong here without saying so"),
			may("about", l.text(), func(r *c, v mix.Text) { r.About = v }, "a few sentences"),
			may("also", names(), func(r *c, v []string) { r.Also = v }, "other names and common misspellings, for search"),
			may("matrix", yamlpos.Bool(), func(r *c, v bool) { r.Matrix = v }, "true: shown in the printed matrix"),
			may("carrier", yamlpos.Bool(), func(r *c, v bool) { r.Carrier = v }, "true: a water or other liquid of the tank, not a product"),
			may("when", l.gates(), func(r *c, v []mix.Gate) { r.When = v }, "carriers only: which waters belong here"),
			may("hazards", many("hazards", enum("hazard", mix.ParseHazard)), func(r *c, v []mix.Hazard) { r.Hazards = v }, "of handling it, alone"),
			may("suppresses", many("symptoms", enum("symptom", mix.ParseSymptom)), func(r *c, v []mix.Symptom) { r.Suppresses = v }, "symptoms its presence hides: a defoamer hides foam"),
			must("sources", l.cites(), func(r *c, v []mix.Cite) { r.Sources = v }, citesDoc),
		},
	}.Kind()
}

func checkClass(c *mix.Class, f yamlpos.Found) {
	if len(c.When) > 0 && !c.Carrier {
		f.At("when").Problem("gates on a class that is no carrier", "write carrier: true, or put the gates on its interactions")
	}
	for _, g := range c.When {
		if !ofWater(g.Factor) {
			f.At("when").Problem(fmt.Sprintf("a carrier is not known by its %v", g.Factor), "use hardness, ph, bicarbonate or temperature")
		}
	}
	if c.Carrier && len(c.Forms) > 0 {
		f.At("forms").Problem("a carrier has no formulation codes", "remove them, or the line carrier: true")
	}
	if c.Matrix && c.Group.ID == "" {
		f.At("matrix").Problem("class in the matrix without a group", "add group: the heading it is listed under")
	}
}

// ofWater reports whether a factor is a property of the water itself.
func ofWater(f mix.Factor) bool { return f >= mix.Hardness && f <= mix.WaterTemp }

// form is a formulation code of what is diluted in a tank.
func form() yamlpos.Kind[mix.Form] {
	s := yamlpos.Schema{}
	for _, f := range mix.Forms() {
		if f.ForTank() {
			s.Enum = append(s.Enum, string(f))
		}
	}
	return yamlpos.Scalar("a formulation code", s, func(n yamlpos.Node, text string) (mix.Form, bool) {
		f := mix.Form(text)
		switch trade, ok := mix.FormFor(text); {
		case f.ForTank():
			return f, true
		case f.Known():
			n.Problem(fmt.Sprintf("formulation code %q, %s, never goes into a spray tank", text, f.Meaning()), "check the label")
		case ok:
			n.Problem(fmt.Sprintf("%q is a trade abbreviation", text), fmt.Sprintf("write %q, %s", trade, trade.Meaning()))
		default:
			n.Problem(fmt.Sprintf("unknown formulation code %q", short(text)), "write a two-letter code of the international list, as in EC, SC, WG or SL")
		}
		return "", false
	})
}
