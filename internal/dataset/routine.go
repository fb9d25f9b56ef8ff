package dataset

import (
	"fmt"
	"slices"

	"tankleaf.example/internal/diag"
	"tankleaf.example/internal/mix"
	"tankleaf.example/internal/unit"
	"tankleaf.example/internal/yamlpos"
)

// routine is one file; what it leaves out is as usual.
func (l *loader) routine() yamlpos.Kind[mix.Routine] {
	type r = mix.Routine
	return yamlpos.Object[r]{
		Name:  "routine",
		Doc:   "how an office runs its jars",
		Start: func(v *r, at diag.Pos) { *v = mix.UsualRoutine(); v.At = at },
		Check: checkRoutine,
		Fields: []yamlpos.Field[r]{
			may("readings", some("times", duration()), func(v *r, d []unit.Duration) { v.Readings = d }, "when a jar is read, after the last product: [0 min, 15 min]"),
			may("inversions", count("inversions", 0, 200), func(v *r, n int) { v.Inversions = n }, "of the vessel after each addition"),
			may("headspace", share(), func(v *r, n unit.Number) { v.Headspace = n }, "share of the vessel left free: 25 %"),
			may("crowded", fillShare(), func(v *r, n unit.Number) { v.Crowded = n }, "share of the water in a crowded fill: 25 %"),
			may("spare", share(), func(v *r, n unit.Number) { v.Spare = n }, "of products and water, beyond what the cards ask for: 10 %"),
			may("work", work(), func(v *r, w mix.Work) { v.Work = w }, "how long the hands take for one of each"),
			may("kit", many("things", l.kitItem()), func(v *r, k []mix.KitItem) { v.Kit = k }, "what a bench day needs beside products, jars and measuring tools"),
			may("wash", many("lines", l.text()), func(v *r, t []mix.Text) { v.Wash = t }, "clean-up and disposal, one instruction a line"),
			may("labels", many("labels", l.labelStock()), func(v *r, s []mix.LabelStock) { v.Labels = s }, "sheets of labels by their dimensions"),
			must("sources", l.cites(), func(v *r, c []mix.Cite) { v.Sources = c }, citesDoc),
		},
	}.Kind()
}

func checkRoutine(r *mix.Routine, f yamlpos.Found) {
	for i, d := range r.Readings {
		if i > 0 && d.Cmp(r.Readings[i-1]) <= 0 {
			f.At("readings").Problem("readings are not in the order of time", "write the earliest first, each once")
			break
		}
	}
	if r.Headspace.Cmp(unit.Frac(3, 4)) > 0 {
		f.At("headspace").Problem("headspace above 75 % leaves hardly any mix to look at", `write as in "25 %"`)
	}
	ids := map[mix.ID]bool{}
	for _, k := range r.Kit {
		if ids[k.ID] {
			f.At("kit").Problem(fmt.Sprintf("%q stands in the kit twice", k.ID), "count it once")
		}
		ids[k.ID] = true
	}
}

func work() yamlpos.Kind[mix.Work] {
	type w = mix.Work
	return yamlpos.Object[w]{
		Name:  "work",
		Start: func(r *w, _ diag.Pos) { *r = mix.UsualRoutine().Work },
		Fields: []yamlpos.Field[w]{
			may("setup", duration(), func(r *w, d unit.Duration) { r.Setup = d }, "label a jar and pour its first water: 3 min"),
			may("addition", duration(), func(r *w, d unit.Duration) { r.Addition = d }, "measure one product, pour it and mix"),
			may("stock", duration(), func(r *w, d unit.Duration) { r.Stock = d }, "make one stock"),
			may("reading", duration(), func(r *w, d unit.Duration) { r.Reading = d }, "look at one jar once and write it down"),
			may("wash", duration(), func(r *w, d unit.Duration) { r.Wash = d }, "empty and wash one jar"),
		},
	}.Kind()
}

func (l *loader) kitItem() yamlpos.Kind[mix.KitItem] {
	type k = mix.KitItem
	return yamlpos.Object[k]{
		Name:  "thing",
		Start: func(r *k, at diag.Pos) { r.At, r.Count = at, 1 },
		Fields: []yamlpos.Field[k]{
			must("id", ident("an id"), func(r *k, v mix.ID) { r.ID = v }, "names the thing"),
			must("name", l.text(), func(r *k, v mix.Text) { r.Name = v }, "shown to readers"),
			may("wear", yamlpos.Bool(), func(r *k, v bool) { r.Wear = v }, "true: protective equipment"),
			must("per", enum("share", mix.ParsePer), func(r *k, v mix.Per) { r.Per = v }, "person, group, jar or room"),
			may("count", count("count", 1, 100), func(r *k, v int) { r.Count = v }, "for each of them; left out: 1"),
			must("sources", l.cites(), func(r *k, v []mix.Cite) { r.Sources = v }, citesDoc),
		},
	}.Kind()
}

func (l *loader) labelStock() yamlpos.Kind[mix.LabelStock] {
	type s = mix.LabelStock
	return yamlpos.Object[s]{
		Name:  "label",
		Start: func(r *s, at diag.Pos) { r.At = at },
		Check: checkLabelStock,
		Fields: []yamlpos.Field[s]{
			must("id", ident("an id"), func(r *s, v mix.ID) { r.ID = v }, "names the sheet"),
			must("name", l.text(), func(r *s, v mix.Text) { r.Name = v }, "shown to readers: its plain dimensions"),
			must("paper", word("paper", "letter", "a4"), func(r *s, v string) { r.Paper = v }, "letter or a4"),
			must("width", length(), func(r *s, v unit.Length) { r.Width = v }, "of one label"),
			must("height", length(), func(r *s, v unit.Length) { r.Height = v }, "of one label"),
			must("across", count("labels", 1, 20), func(r *s, v int) { r.Across = v }, "labels in a row"),
			must("down", count("labels", 1, 40), func(r *s, v int) { r.Down = v }, "rows on a sheet"),
			must("left", length(), func(r *s, v unit.Length) { r.Left = v }, "of the first label from the edge of the sheet"),
			must("top", length(), func(r *s, v unit.Length) { r.Top = v }, "of the first label from the edge of the sheet"),
			may("step_x", length(), func(r *s, v unit.Length) { r.StepX = v }, "from one label to the next; left out: its width"),
			may("step_y", length(), func(r *s, v unit.Length) { r.StepY = v }, "from one row to the next; left out: its height"),
			must("sources", l.cites(), func(r *s, v []mix.Cite) { r.Sources = v }, citesDoc),
		},
	}.Kind()
}

// papers are the sheets in millimeters: ISO 216 A4 and the US letter of 8.5 by 11
// inches.
var papers = map[string][2]unit.Length{
	"a4":     {unit.Millimeter.Of(unit.Int(210)), unit.Millimeter.Of(unit.Int(297))},
	"letter": {unit.Inch.Of(unit.Frac(17, 2)), unit.Inch.Of(unit.Int(11))},
}

func checkLabelStock(s *mix.LabelStock, f yamlpos.Found) {
	if !f.Has("step_x") {
		s.StepX = s.Width
	}
	if !f.Has("step_y") {
		s.StepY = s.Height
	}
	sheet, known := papers[s.Paper]
	if !known || s.Across == 0 || s.Down == 0 {
		return
	}
	reach := func(edge, step, size unit.Length, n int) unit.Length {
		return edge.Add(step.Times(unit.Int(int64(n - 1)))).Add(size)
	}
	key := ""
	switch {
	case s.StepX.Cmp(s.Width) < 0 || s.StepY.Cmp(s.Height) < 0:
		f.Problem("labels overlap", "write steps that are not below width and height")
		return
	case reach(s.Left, s.StepX, s.Width, s.Across).Cmp(sheet[0]) > 0:
		key = "across"
	case reach(s.Top, s.StepY, s.Height, s.Down).Cmp(sheet[1]) > 0:
		key = "down"
	default:
		return
	}
	f.At(key).Problem(fmt.Sprintf("labels reach beyond a sheet of %s paper", s.Paper), "check size, margin, step and "+key)
}

// sequence is an order of addition of one source. Its steps have no sources of
// their own, and their ids are its own.
func (l *loader) sequence() yamlpos.Kind[mix.Sequence] {
	type s = mix.Sequence
	return yamlpos.Object[s]{
		Name:  "sequence",
		Start: func(r *s, at diag.Pos) { r.At = at },
		Check: l.checkSequence,
		Fields: []yamlpos.Field[s]{
			must("id", l.newID(sequences, "sequence"), func(r *s, v mix.ID) { r.ID = v }, "names the sequence"),
			must("name", l.text(), func(r *s, v mix.Text) { r.Name = v }, "who publishes it"),
			may("start", startRange(), func(r *s, v [2]unit.Number) { r.Start = v }, "water before the first product"),
			must("steps", some("steps", l.sequenceStep()), func(r *s, v []mix.OrderStep) { r.Steps = v }, "first to last"),
			may("partial", yamlpos.Bool(), func(r *s, v bool) { r.Partial = v }, "true: read to the last step and not beyond"),
			may("note", l.text(), func(r *s, v mix.Text) { r.Note = v }, "how the source's words were read"),
			must("sources", l.cites(), func(r *s, v []mix.Cite) { r.Sources = v }, citesDoc),
		},
	}.Kind()
}

func (l *loader) sequenceStep() yamlpos.Kind[mix.OrderStep] {
	type o = mix.OrderStep
	return yamlpos.Object[o]{
		Name:  "step of a sequence",
		Start: func(r *o, at diag.Pos) { r.At = at },
		Fields: []yamlpos.Field[o]{
			must("id", ident("an id"), func(r *o, v mix.ID) { r.ID = v }, "names the step within the sequence"),
			must("name", l.text(), func(r *o, v mix.Text) { r.Name = v }, "as the source calls it"),
			may("bags", yamlpos.Bool(), func(r *o, v bool) { r.Bags = v }, "true: products in water-soluble bags"),
			may("forms", many("formulation codes", form()), func(r *o, v []mix.Form) { r.Forms = v }, "codes that go in here"),
			may("classes", many("classes", l.classRef()), func(r *o, v []mix.Ref) { r.Classes = v }, "classes that go in here, whatever their code"),
			may("do", l.text(), func(r *o, v mix.Text) { r.Do = v }, "how"),
		},
	}.Kind()
}

func (l *loader) checkSequence(s *mix.Sequence, _ yamlpos.Found) {
	ids, forms, classes := map[mix.ID]bool{}, map[mix.Form]mix.ID{}, map[mix.ID]mix.ID{}
	for _, step := range s.Steps {
		if ids[step.ID] {
			l.problems.Add(step.At, fmt.Sprintf("step %q stands there twice", step.ID), "choose another id")
		}
		ids[step.ID] = true
		for _, f := range step.Forms {
			if first, again := forms[f]; again {
				l.problems.Add(step.At, fmt.Sprintf("formulation code %s goes in at two steps", f), "remove it from one", "also at "+string(first))
			}
			forms[f] = step.ID
		}
		for _, c := range step.Classes {
			if first, again := classes[c.ID]; again {
				l.problems.Add(c.At, fmt.Sprintf("class %q goes in at two steps", c.ID), "remove it from one", "also at "+string(first))
			}
			classes[c.ID] = step.ID
		}
	}
}

// startRange is the water before the first product, from low to high.
func startRange() yamlpos.Kind[[2]unit.Number] {
	type r = [2]unit.Number
	return yamlpos.Object[r]{
		Name: "range of water",
		Fields: []yamlpos.Field[r]{
			must("low", share(), func(v *r, n unit.Number) { v[0] = n }, "least share of the water: 50 %"),
			must("high", share(), func(v *r, n unit.Number) { v[1] = n }, "largest share of the water: 75 %"),
		},
		Check: func(v *r, f yamlpos.Found) {
			if slices.IndexFunc(v[:], func(n unit.Number) bool { return n.Sign() == 0 }) < 0 && v[0].Cmp(v[1]) > 0 {
				f.At("low").Problem("range is reversed: low is above high", "exchange them")
			}
		},
	}.Kind()
}
