package dataset

import (
	"fmt"
	"maps"
	"slices"
	"strings"

	"tankleaf.example/internal/diag"
	"tankleaf.example/internal/mix"
	"tankleaf.example/internal/unit"
	"tankleaf.example/internal/yamlpos"
)

func (l *loader) halfLife() yamlpos.Kind[mix.HalfLife] {
	type h = mix.HalfLife
	return yamlpos.Object[h]{
		Name:  "half-life",
		Start: func(r *h, at diag.Pos) { r.At = at },
		Check: l.checkHalfLife,
		Fields: []yamlpos.Field[h]{
			must("id", l.newID(halfLives, "half-life"), func(r *h, v mix.ID) { r.ID = v }, "names the record"),
			may("active", line("a name"), func(r *h, v string) { r.Active = v }, "ISO common name, as products write it"),
			may("class", l.classRef(), func(r *h, v mix.Ref) { r.Class = v }, "id of a class, when the source speaks of no single active"),
			may("temperature", temperature(), func(r *h, v mix.Value) { r.Temperature = v }, "of the water: 25 °C"),
			may("points", some("points", halfPoint()), func(r *h, v []mix.HalfPoint) { r.Points = v }, "what the source gives, by pH"),
			may("note", l.text(), func(r *h, v mix.Text) { r.Note = v }, "what the source says in words, or what is wrong with its print"),
			must("sources", l.cites(), func(r *h, v []mix.Cite) { r.Sources = v }, citesDoc),
		},
	}.Kind()
}

// checkHalfLife wants one subject, something said of it, and points in order: a
// value between two of them is looked for between neighbors.
func (l *loader) checkHalfLife(r *mix.HalfLife, f yamlpos.Found) {
	if f.Has("active") == f.Has("class") {
		f.Problem("a half-life of one active or of one class", "write either active: or class:")
	}
	if !f.Has("points") && !f.Has("note") {
		f.Problem("half-life without points and without a note", "write what the source says")
	}
	read := slices.DeleteFunc(slices.Clone(r.Points), func(p mix.HalfPoint) bool { return p.PH[1].Sign() == 0 })
	for i := 1; i < len(read); i++ {
		if p, last := read[i], read[i-1]; p.PH[0].Cmp(last.PH[1]) <= 0 {
			l.problems.Add(p.At, "points are not in rising order of pH", "write the lowest pH first; what was measured at another temperature is a record of its own")
		}
	}
}

func halfPoint() yamlpos.Kind[mix.HalfPoint] {
	type p = mix.HalfPoint
	return yamlpos.Object[p]{
		Name:  "point",
		Start: func(r *p, at diag.Pos) { r.At = at },
		Fields: []yamlpos.Field[p]{
			must("ph", phRange(), func(r *p, v [2]unit.Number) { r.PH = v }, "7.1, or a range: 5 to 7"),
			must("half_life", lasting(), func(r *p, v mix.HalfPoint) { r.Stable, r.About, r.Low, r.High = v.Stable, v.About, v.Low, v.High },
				"10.3 h, about 16 d, 3 d to 4 d, > 31 d, or stable"),
		},
	}.Kind()
}

// phRange is a pH or a range of them.
func phRange() yamlpos.Kind[[2]unit.Number] {
	s := yamlpos.Schema{Type: []string{"number", "string"}}
	return yamlpos.Scalar("a pH", s, func(n yamlpos.Node, text string) ([2]unit.Number, bool) {
		p := boundParser{n, phs, unit.ParseNumber}
		if low, high, isRange := strings.Cut(text, " to "); isRange {
			b, ok := p.between(limits{written: text}, low, high)
			return [2]unit.Number{b.low.Value, b.high.Value}, ok
		}
		v, ok := p.number(text, 0)
		return [2]unit.Number{v, v}, ok
	})
}

// lasting is a half-life as sources give it: a time, a range, a bound, or the word
// stable. Only these parts of the point are filled.
func lasting() yamlpos.Kind[mix.HalfPoint] {
	s := yamlpos.Schema{Type: "string", Examples: []string{"10.3 h", "about 16 d", "3 d to 4 d", "> 31 d", "stable"}}
	return yamlpos.Scalar("a half-life", s, func(n yamlpos.Node, text string) (mix.HalfPoint, bool) {
		if strings.TrimSpace(text) == "stable" {
			return mix.HalfPoint{Stable: true}, true
		}
		rest, about := strings.CutPrefix(text, "about ")
		p := boundParser{n, halfLifeSpan, minutes}
		if strings.ContainsAny(text, "<>≤≥") || strings.Contains(text, " to ") {
			b, ok := p.limits(text)
			return mix.HalfPoint{Low: b.low, High: b.high}, ok
		}
		v, ok := p.number(rest, len(text)-len(rest))
		both := mix.Bound{Set: true, Value: v}
		return mix.HalfPoint{About: about, Low: both, High: both}, ok
	})
}

func minutes(s string) (unit.Number, error) {
	d, err := unit.ParseDuration(s)
	return d.Base(), err
}

// checkActives warns of a half-life whose active is one letter off the name that
// products use: it would be shown nowhere, and nobody would miss it. What no
// product holds at all may stand.
func (l *loader) checkActives() {
	used := map[string]bool{}
	for i := range l.book.Products {
		for _, a := range l.book.Products[i].Actives {
			used[a.Name] = true
		}
	}
	names := slices.Sorted(maps.Keys(used))
	for i := range l.book.HalfLives {
		h := &l.book.HalfLives[i]
		if h.Active == "" || used[h.Active] || l.unread["products"] {
			continue
		}
		if near := diag.Nearest(h.Active, names); near != "" {
			l.problems.Warn(h.At, fmt.Sprintf("no product holds the active %q", h.Active), fmt.Sprintf("did you mean %q?", near))
		}
	}
}
