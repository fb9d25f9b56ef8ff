package dataset

import (
	"fmt"
	"io/fs"
	"net/url"
	"path"
	"slices"
	"strings"

	"tankleaf.example/internal/diag"
	"tankleaf.example/internal/mix"
	"tankleaf.example/internal/unit"
	"tankleaf.example/internal/yamlpos"
)

// site is read first. Its languages and day of publication are set apart before
// its other keys are read, because texts and dates are judged by them.
func (l *loader) site() yamlpos.Kind[mix.Site] {
	type s = mix.Site
	k := yamlpos.Object[s]{
		Name:  "site",
		Doc:   "what an office says about itself and its publication",
		Start: func(r *s, at diag.Pos) { r.At, r.Tolerance, r.FirstWater = at, unit.Frac(5, 100), unit.Frac(1, 2) },
		Check: checkSite,
		Fields: []yamlpos.Field[s]{
			must("office", l.text(), func(r *s, v mix.Text) { r.Office = v }, "the office's name"),
			must("title", l.text(), func(r *s, v mix.Text) { r.Title = v }, "of the site"),
			may("tagline", l.text(), func(r *s, v mix.Text) { r.Tagline = v }, "one line under the title"),
			may("contact", l.text(), func(r *s, v mix.Text) { r.Contact = v }, "how to reach the office"),
			may("demonstration", l.text(), func(r *s, v mix.Text) { r.Demonstration = v }, "shown on every page; left out: real data"),
			must("languages", some("languages", language()), func(r *s, v []mix.Lang) { r.Languages = v }, "language codes; the first is the office's own"),
			may("units", word("system of units", "us", "metric"), func(r *s, v string) { r.Metric = v == "metric" }, "us or metric: shown first"),
			must("published", anyDate(), func(r *s, v mix.Date) { r.Published = v }, "the day of this publication; no date in the data may be later"),
			may("tolerance", share(), func(r *s, v unit.Number) { r.Tolerance = v }, "largest error of a poured dose: 5 %"),
			may("jars", some("volumes", volume()), func(r *s, v []unit.Volume) { r.Jars = v }, "jar sizes at hand, ascending"),
			may("first_water", share(), func(r *s, v unit.Number) { r.FirstWater = v }, "share of the water in before the first product: 50 %"),
		},
	}.Kind()
	read := k.Read
	k.Read = func(n yamlpos.Node) (mix.Site, bool) {
		l.peek(n)
		return read(n)
	}
	return k
}

// peek takes languages and day out of the site's mapping without reporting
// anything: what is wrong with them is reported when they are read in turn.
func (l *loader) peek(n yamlpos.Node) {
	if v, ok := n.Child("languages"); ok {
		for _, c := range v.Children() {
			if s := c.Value(); languageTag.MatchString(s) {
				l.langs = append(l.langs, mix.Lang(s))
			}
		}
	}
	if len(l.langs) > 0 {
		l.lang = l.langs[0]
	}
	if v, ok := n.Child("published"); ok {
		l.today, _ = mix.ParseDate(v.Value())
	}
}

func language() yamlpos.Kind[mix.Lang] {
	s := yamlpos.Schema{Type: "string", Pattern: languageTag.String()}
	return yamlpos.Scalar("a language code", s, func(n yamlpos.Node, text string) (mix.Lang, bool) {
		if !languageTag.MatchString(text) {
			n.Problem(fmt.Sprintf("%q is no language code", text), `write one as in "en", "es" or "pt-BR"`)
			return "", false
		}
		return mix.Lang(text), true
	})
}

func checkSite(s *mix.Site, f yamlpos.Found) {
	for i, lang := range s.Languages {
		if slices.Contains(s.Languages[:i], lang) {
			f.At("languages").Problem(fmt.Sprintf("language %q is listed twice", lang), "name it once")
		}
	}
	for i, jar := range s.Jars {
		if i > 0 && jar.Cmp(s.Jars[i-1]) <= 0 {
			f.At("jars").Problem("jar sizes are not ascending", "write the smallest first, each once")
			break
		}
	}
	if f.Has("tolerance") && (s.Tolerance.Sign() == 0 || s.Tolerance.Cmp(unit.Frac(1, 4)) > 0) {
		f.At("tolerance").Problem("tolerance is outside 0 to 25 %", `write as in "5 %"`)
	}
	if f.Has("first_water") && s.FirstWater.Cmp(unit.Frac(9, 10)) > 0 {
		f.At("first_water").Problem("first water above 90 % leaves no room for products", `write as in "50 %"`)
	}
}

func (l *loader) place() yamlpos.Kind[mix.Place] {
	type p = mix.Place
	return yamlpos.Object[p]{
		Name:  "place",
		Start: func(r *p, at diag.Pos) { r.At = at },
		Fields: []yamlpos.Field[p]{
			must("id", l.newID(places, "place"), func(r *p, v mix.ID) { r.ID = v }, "names the place"),
			must("name", l.text(), func(r *p, v mix.Text) { r.Name = v }, "shown to readers"),
			may("part_of", l.ref(places, "place"), func(r *p, v mix.Ref) { r.PartOf = v }, "id of the larger place"),
			may("about", l.text(), func(r *p, v mix.Text) { r.About = v }, "a few sentences"),
		},
	}.Kind()
}

func (l *loader) water() yamlpos.Kind[mix.WaterSource] {
	type w = mix.WaterSource
	ion := content(contents)
	return yamlpos.Object[w]{
		Name:  "water",
		Start: func(r *w, at diag.Pos) { r.At = at },
		Fields: []yamlpos.Field[w]{
			must("id", l.newID(waters, "water"), func(r *w, v mix.ID) { r.ID = v }, "names the water"),
			must("name", l.text(), func(r *w, v mix.Text) { r.Name = v }, "shown to readers"),
			may("place", l.ref(places, "place"), func(r *w, v mix.Ref) { r.Place = v }, "id of the place it is from"),
			may("hardness", content(hardnesses), func(r *w, v mix.Value) { r.Hardness = v }, "ppm as CaCO3"),
			may("ph", ph(), func(r *w, v mix.Value) { r.PH = v }, "0 to 14"),
			may("bicarbonate", ion, func(r *w, v mix.Value) { r.Bicarbonate = v }, "ppm"),
			may("calcium", ion, func(r *w, v mix.Value) { r.Calcium = v }, "ppm of the ion"),
			may("magnesium", ion, func(r *w, v mix.Value) { r.Magnesium = v }, "ppm of the ion"),
			may("sodium", ion, func(r *w, v mix.Value) { r.Sodium = v }, "ppm of the ion"),
			may("potassium", ion, func(r *w, v mix.Value) { r.Potassium = v }, "ppm of the ion"),
			may("iron", ion, func(r *w, v mix.Value) { r.Iron = v }, "ppm of the ion"),
			may("measured", l.date(), func(r *w, v mix.Date) { r.Measured = v }, "the day of the sample"),
			may("made_from", some("salts", salt()), func(r *w, v []mix.Reagent) { r.MadeFrom = v }, "reagents in pure water, for a water that is made up"),
			must("sources", l.cites(), func(r *w, v []mix.Cite) { r.Sources = v }, citesDoc),
		},
	}.Kind()
}

// salt is a reagent of a made water. Its name is not translated: it stands on the
// bottle.
func salt() yamlpos.Kind[mix.Reagent] {
	type s = mix.Reagent
	return yamlpos.Object[s]{
		Name:  "salt",
		Start: func(r *s, at diag.Pos) { r.At = at },
		Fields: []yamlpos.Field[s]{
			must("salt", line("a salt"), func(r *s, v string) { r.Name = v }, "as it stands on the bottle: calcium chloride"),
			must("amount", quantity("content", "304 mg/L", unit.ParseContent), func(r *s, v unit.Content) { r.Amount = v }, "in a liter of water"),
		},
	}.Kind()
}

func (l *loader) tool() yamlpos.Kind[mix.Tool] {
	type t = mix.Tool
	amount := func() yamlpos.Kind[unit.Amount] { return quantity("volume or weight", "10 mL", unit.ParseAmount) }
	return yamlpos.Object[t]{
		Name:  "tool",
		Start: func(r *t, at diag.Pos) { r.At = at },
		Check: checkTool,
		Fields: []yamlpos.Field[t]{
			must("id", l.newID(tools, "tool"), func(r *t, v mix.ID) { r.ID = v }, "names the tool"),
			must("name", l.text(), func(r *t, v mix.Text) { r.Name = v }, "shown to readers"),
			must("kind", enum("kind", mix.ParseToolKind), func(r *t, v mix.ToolKind) { r.Kind = v }, "syringe, pipette, cylinder or scale"),
			must("low", amount(), func(r *t, v unit.Amount) { r.Low = v }, "least it can measure"),
			must("high", amount(), func(r *t, v unit.Amount) { r.High = v }, "most it can measure"),
			must("graduation", amount(), func(r *t, v unit.Amount) { r.Graduation = v }, "its smallest step"),
			must("sources", l.cites(), func(r *t, v []mix.Cite) { r.Sources = v }, citesDoc),
		},
	}.Kind()
}

func checkTool(t *mix.Tool, f yamlpos.Found) {
	if t.Kind == mix.NoTool || !f.Has("low") || !f.Has("high") || !f.Has("graduation") {
		return
	}
	size := func(a unit.Amount) unit.Number { return a.Volume.Base().Add(a.Mass.Base()) }
	for i, a := range []unit.Amount{t.Low, t.High, t.Graduation} {
		if key := []string{"low", "high", "graduation"}[i]; a.Dry != (t.Kind == mix.Scale) && size(a).Sign() > 0 {
			f.At(key).Problem(fmt.Sprintf("%s of a %v is of the wrong kind", key, t.Kind), "a scale weighs, the others measure volume")
		}
	}
	switch {
	case size(t.Low).Cmp(size(t.High)) >= 0:
		f.At("low").Problem("low is not below high", "exchange them")
	case size(t.Graduation).Sign() == 0 || size(t.Graduation).Cmp(size(t.High)) > 0:
		f.At("graduation").Problem("graduation is zero or above high", "write its smallest step")
	}
}

func (l *loader) orderStep() yamlpos.Kind[mix.OrderStep] {
	type o = mix.OrderStep
	return yamlpos.Object[o]{
		Name:  "order step",
		Start: func(r *o, at diag.Pos) { r.At = at },
		Fields: []yamlpos.Field[o]{
			must("id", l.newID(steps, "order step"), func(r *o, v mix.ID) { r.ID = v }, "names the step"),
			must("name", l.text(), func(r *o, v mix.Text) { r.Name = v }, "shown to readers"),
			may("bags", yamlpos.Bool(), func(r *o, v bool) { r.Bags = v }, "true: products in water-soluble bags"),
			may("forms", many("formulation codes", form()), func(r *o, v []mix.Form) { r.Forms = v }, "codes that go in here"),
			may("classes", many("classes", l.classRef()), func(r *o, v []mix.Ref) { r.Classes = v }, "classes that go in here, whatever their code"),
			may("do", l.text(), func(r *o, v mix.Text) { r.Do = v }, "how"),
			may("wait", duration(), func(r *o, v unit.Duration) { r.Wait = v }, "before the next: 5 min"),
			must("sources", l.cites(), func(r *o, v []mix.Cite) { r.Sources = v }, citesDoc),
		},
	}.Kind()
}

func (l *loader) orderDispute() yamlpos.Kind[mix.OrderDispute] {
	type d = mix.OrderDispute
	return yamlpos.Object[d]{
		Name:  "dispute",
		Start: func(r *d, at diag.Pos) { r.At = at },
		Fields: []yamlpos.Field[d]{
			must("question", l.text(), func(r *d, v mix.Text) { r.Question = v }, "what published orders disagree on"),
			must("positions", some("positions", l.dispute()), func(r *d, v []mix.Dispute) { r.Positions = v }, "what each says"),
		},
	}.Kind()
}

func (l *loader) recipe() yamlpos.Kind[mix.Recipe] {
	type r = mix.Recipe
	return yamlpos.Object[r]{
		Name:  "recipe",
		Start: func(v *r, at diag.Pos) { v.At, v.WaterShare = at, unit.Int(1) },
		Check: l.checkRecipe,
		Fields: []yamlpos.Field[r]{
			must("id", l.newID(recipes, "recipe"), func(v *r, id mix.ID) { v.ID = id }, "names the recipe"),
			must("title", l.text(), func(v *r, t mix.Text) { v.Title = t }, "shown to readers"),
			may("why", l.text(), func(v *r, t mix.Text) { v.Why = t }, "what the jar should show"),
			must("products", some("products", l.portion()), func(v *r, p []mix.Portion) { v.Products = p }, "products with their field rates"),
			must("jar", volume(), func(v *r, q unit.Volume) { v.Jar = q }, "finished volume: 1 qt"),
			may("spray_volume", sprayVolume(), func(v *r, q unit.SprayVolume) { v.SprayVolume = q }, "carrier per area; needed for rates per area"),
			may("water_share", fillShare(), func(v *r, n unit.Number) { v.WaterShare = n }, "below 100 %: a crowded fill"),
			may("water", l.ref(waters, "water"), func(v *r, w mix.Ref) { v.Water = w }, "id of the water"),
			must("sources", l.cites(), func(v *r, c []mix.Cite) { v.Sources = c }, citesDoc),
		},
	}.Kind()
}

func (l *loader) checkRecipe(r *mix.Recipe, f yamlpos.Found) {
	l.checkPortions(r.Products)
	for _, p := range r.Products {
		switch b := p.Rate.Basis(); {
		case p.ID == "": // a word was said about that
		case b == unit.NoBasis:
			l.problems.Add(p.At, fmt.Sprintf("product %q without a rate", p.ID), "add rate: as in 1 pt/ac")
		case b.PerArea() && !f.Has("spray_volume"):
			f.Problem("a rate per area without a spray volume", "add spray_volume: as in 15 gal/ac")
		}
	}
}

func (l *loader) caution() yamlpos.Kind[mix.Caution] {
	type c = mix.Caution
	hazardWords := []string{"general"}
	for _, h := range mix.Hazards() {
		hazardWords = append(hazardWords, h.String())
	}
	hazard := yamlpos.Words("hazard", hazardWords, func(s string) (mix.Hazard, bool) {
		if s == "general" {
			return mix.NoHazard, true
		}
		return mix.ParseHazard(s)
	})
	return yamlpos.Object[c]{
		Name:  "caution",
		Start: func(r *c, at diag.Pos) { r.At = at },
		Fields: []yamlpos.Field[c]{
			must("hazard", hazard, func(r *c, v mix.Hazard) { r.Hazard = v }, "general, or the hazard it is about"),
			must("title", l.text(), func(r *c, v mix.Text) { r.Title = v }, "heading of the block"),
			must("lines", some("lines", l.text()), func(r *c, v []mix.Text) { r.Lines = v }, "one instruction a line"),
			must("sources", l.cites(), func(r *c, v []mix.Cite) { r.Sources = v }, citesDoc),
		},
	}.Kind()
}

// fillShare is the share of the water present; none is no fill.
func fillShare() yamlpos.Kind[unit.Number] {
	k := share()
	read := k.Read
	k.Read = func(n yamlpos.Node) (unit.Number, bool) {
		v, ok := read(n)
		if ok && v.Sign() == 0 {
			n.Problem("a fill without water", `write as in "25 %"`)
			return v, false
		}
		return v, ok
	}
	return k
}

// link is an https address without user name or odd characters: it ends in an
// href.
func link() yamlpos.Kind[string] {
	s := yamlpos.Schema{Type: "string", Pattern: `^https://`}
	return yamlpos.Scalar("an address", s, func(n yamlpos.Node, text string) (string, bool) {
		u, err := url.Parse(text)
		if err != nil || u.Scheme != "https" || u.Host == "" || u.User != nil || strings.ContainsAny(text, " \"'<>\\^`{|}") {
			n.Problem(fmt.Sprintf("%q is no https address", short(text)), `write it in full, as in "https://doi.org/10.1000/182"`)
			return "", false
		}
		return text, true
	})
}

// pictures are the formats a photo may have.
var pictures = []string{".jpg", ".jpeg", ".png", ".webp"}

// photo is the name of a picture below data/photos that exists.
func (l *loader) photo() yamlpos.Kind[string] {
	return yamlpos.Scalar("a file name", yamlpos.Schema{Type: "string"}, func(n yamlpos.Node, text string) (string, bool) {
		switch {
		case !fs.ValidPath(text) || path.Dir(text) != "photos":
			n.Problem(fmt.Sprintf("photo %q does not lie in %s", short(text), photoDir), "write photos/NAME.jpg")
		case !slices.Contains(pictures, path.Ext(text)):
			n.Problem(fmt.Sprintf("photo %q is no picture", short(text)), "use "+strings.Join(pictures, ", "))
		case !l.isFile(dir + "/" + text):
			n.Problem(fmt.Sprintf("no photo %q", dir+"/"+text), "add the file, or remove the line")
		default:
			return text, true
		}
		return "", false
	})
}

func (l *loader) isFile(name string) bool {
	info, err := fs.Lstat(l.fsys, name)
	return err == nil && info.Mode().IsRegular()
}
