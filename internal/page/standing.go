package page

import (
	"cmp"
	"math"
	"slices"
	"strings"

	"tankleaf.example/internal/jar"
	"tankleaf.example/internal/mix"
	"tankleaf.example/internal/unit"
)

// Standing is how long the actives of a product or class last in the tank.
type Standing struct {
	Actives []Lasting
	PH      []string // at which the spread of each active is given
	All     string   // way to the page of all actives
	Notes   []Line   // what sources say of the classes by themselves
}

// Lasting is one active.
type Lasting struct {
	Anchor string
	Name   Link
	Curve  *Curve // nil when no source gives a number
	Rows   []LastingRow
	Spread []string // half-life at each pH of Standing.PH, lowest to highest
	Left   *LeftTable
	Apart  string // where sources disagree, in one sentence
	Held   []Link // products that hold it, on the page of all actives
}

// LastingRow is what one source says.
type LastingRow struct {
	Letter string // its name in the drawing
	Points []string
	Where  string // temperature of the water
	Note   Phrase
	Who    []Line
}

// LeftTable is what is left after a wait, by pH.
type LeftTable struct {
	PH   []string
	Rows []LeftRow
}

// LeftRow is one wait. A cell is empty when nothing is known.
type LeftRow struct {
	Wait  string
	Cells []string
}

// The pH of the table of what is left, and its waits: a nozzle change, a rain, a
// working day, a night. Common practice, no source.
var (
	tablePH    = []int64{5, 6, 7, 8, 9}
	spreadPH   = []int64{5, 7, 9}
	tableWaits = []unit.Duration{unit.Minute.Of(unit.Int(30)), unit.Hour.Of(unit.Int(2)), unit.Hour.Of(unit.Int(8)), unit.Hour.Of(unit.Int(24))}
)

const standingPath = "standing.html"

func activeAnchor(name string) string {
	return "active-" + strings.Join(strings.FieldsFunc(strings.ToLower(folded.Replace(name)), func(r rune) bool {
		return (r < 'a' || r > 'z') && (r < '0' || r > '9')
	}), "-")
}

// productStanding gathers what is published on the actives of a product and on its
// classes; nil when nothing is.
func (l *leaf) productStanding(p *mix.Product) *Standing {
	s := &Standing{All: l.link(standingPath), Notes: l.classNotes(l.Index.Classes(p.ID))}
	for _, a := range p.Actives {
		if records := l.book().HalfLivesOf(a.Name); len(records) > 0 {
			s.Actives = append(s.Actives, l.lasting(a.Name, records))
		}
	}
	return s.orNil()
}

func (s *Standing) orNil() *Standing {
	if len(s.Actives) == 0 && len(s.Notes) == 0 {
		return nil
	}
	return s
}

// mostCurves is how many actives a class's page draws; the page of all actives has
// the rest.
const mostCurves = 12

// classStanding gathers the actives of a class's products, by name.
func (l *leaf) classStanding(c *mix.Class) *Standing {
	s := &Standing{All: l.link(standingPath), Notes: l.classNotes(l.Index.Classes(c.ID))}
	var names []string
	for _, id := range l.Index.Members(c.ID) {
		for _, a := range l.Index.Product(id).Actives {
			names = append(names, a.Name)
		}
	}
	slices.Sort(names)
	for _, ph := range spreadPH {
		s.PH = append(s.PH, l.t("water.ph", "value", atoi(int(ph))))
	}
	for _, name := range slices.Compact(names) {
		records := l.book().HalfLivesOf(name)
		if len(records) > 0 && len(s.Actives) < mostCurves {
			s.Actives = append(s.Actives, l.lasting(name, records))
		}
	}
	return s.orNil()
}

// classNotes lists what sources say of classes without naming an active.
func (l *leaf) classNotes(classes []mix.ID) []Line {
	var lines []Line
	for _, id := range classes {
		for _, h := range l.book().HalfLivesOfClass(id) {
			lines = append(lines, l.line(h.Note, h.Sources))
		}
	}
	return lines
}

// basis returns the grade of the strongest of some sources.
func (l *leaf) basis(cites []mix.Cite) mix.Grade {
	best := mix.NoGrade
	for _, c := range cites {
		if s := l.Index.Source(c.ID); s != nil {
			best = max(best, s.Kind.Grade())
		}
	}
	return best
}

// remembered reports whether nobody could read any of the sources.
func (l *leaf) remembered(cites []mix.Cite) bool {
	return !slices.ContainsFunc(cites, func(c mix.Cite) bool {
		s := l.Index.Source(c.ID)
		return s != nil && s.Kind != mix.Memory && s.Kind != mix.CommonPractice
	})
}

// lasting tells everything that is published on one active, the strongest source
// first.
func (l *leaf) lasting(active string, records []*mix.HalfLife) Lasting {
	records = slices.Clone(records)
	slices.SortStableFunc(records, func(a, b *mix.HalfLife) int { return cmp.Compare(l.basis(b.Sources), l.basis(a.Sources)) })
	anchor := activeAnchor(active)
	out := Lasting{Anchor: anchor, Name: Link{l.link(standingPath + "#" + anchor), Phrase{Text: active}}}
	numbers := false
	for i, h := range records {
		row := LastingRow{Note: l.phrase(h.Note), Who: l.saysWho(h.Sources)}
		if len(records) > 1 {
			row.Letter = string(rune('a' + i%26))
		}
		if h.Temperature.Known {
			row.Where = l.t("lasting.at", "temperature", l.temperature(h.Temperature))
		}
		for j := range h.Points {
			row.Points = append(row.Points, l.point(&h.Points[j]))
			numbers = true
		}
		out.Rows = append(out.Rows, row)
	}
	if numbers {
		out.Curve = l.curve(active, out.Rows, records)
	}
	for _, ph := range spreadPH {
		out.Spread = append(out.Spread, l.spread(jar.StandingAt(records, unit.Int(ph))))
	}
	out.Left, out.Apart = l.leftTable(records)
	return out
}

// spread writes the lowest and the highest half-life of all sources; "" when none
// says anything.
func (l *leaf) spread(s jar.Standing) string {
	switch {
	case len(s.Lives) == 0:
		return ""
	case !s.Known:
		return l.t("lasting.stable")
	case math.IsInf(s.High, 1):
		return l.t("bound.over", "value", l.span(s.Low))
	case s.Low == 0:
		return l.t("bound.under", "value", l.span(s.High))
	case s.Low == s.High:
		return l.span(s.Low)
	case s.High < 100*s.Low:
		return l.t("rate.range", "low", l.spanLike(s.Low, s.High), "high", l.span(s.High))
	}
	return l.t("rate.range", "low", l.span(s.Low), "high", l.span(s.High))
}

// point writes one published figure: "pH 7.1: 1.8 h".
func (l *leaf) point(p *mix.HalfPoint) string {
	ph := p.PH[0].Short(2)
	if p.PH[1].Cmp(p.PH[0]) != 0 {
		ph = l.t("rate.range", "low", ph, "high", p.PH[1].Short(2))
	}
	return l.t("lasting.point", "ph", ph, "time", l.halfLife(p))
}

func (l *leaf) halfLife(p *mix.HalfPoint) string {
	from, to := p.Low.Value.Float(), p.High.Value.Float()
	low, high := l.span(from), l.span(to)
	switch {
	case p.Stable:
		return l.t("lasting.stable")
	case !p.High.Set:
		return l.t("bound.over", "value", low)
	case !p.Low.Set:
		return l.t("bound.under", "value", high)
	case low != high && to < 100*from:
		return l.t("rate.range", "low", l.spanLike(from, to), "high", high)
	case low != high:
		return l.t("rate.range", "low", low, "high", high)
	case p.About:
		return l.t("lasting.about", "value", low)
	}
	return low
}

// figures writes all points of all sources in one line, for those who hear the
// drawing.
func (l *leaf) figures(rows []LastingRow) string {
	var all []string
	for _, r := range rows {
		if len(r.Points) > 0 {
			all = append(all, strings.TrimSpace(r.Letter+" "+strings.Join(r.Points, ", ")))
		}
	}
	return strings.Join(all, "; ")
}

// span writes a time in minutes to three figures, in the unit that keeps it short.
func (l *leaf) span(minutes float64) string { return l.spanLike(minutes, minutes) }

// spanLike writes it in the unit that suits another time, so that both ends of a
// range read alike.
func (l *leaf) spanLike(minutes, other float64) string {
	if other == 60 || other == 1 {
		other *= 2 // one hour, one minute
	}
	for _, step := range []struct {
		below, per float64
		key        string
	}{{2, 1. / 60, "span.s"}, {90, 1, "span.min"}, {48 * 60, 60, "span.h"}} {
		if other < step.below {
			return l.t(step.key, "n", threeFigures(minutes/step.per))
		}
	}
	return l.t("span.d", "n", threeFigures(minutes/1440))
}

func threeFigures(f float64) string {
	n := unit.Frac(int64(math.Round(f*1e6)), 1e6)
	return n.Short(decimals(n))
}

// leftTable tells what is left after each wait at each pH of the table about which
// something is known, and where sources disagree.
func (l *leaf) leftTable(records []*mix.HalfLife) (*LeftTable, string) {
	t := &LeftTable{}
	var at []jar.Standing
	var apart []string
	for _, ph := range tablePH {
		s := jar.StandingAt(records, unit.Int(ph))
		if s.Known {
			t.PH = append(t.PH, l.t("water.ph", "value", atoi(int(ph))))
			at = append(at, s)
		}
		if s.Apart {
			apart = append(apart, l.t("lasting.apart-at", "ph", atoi(int(ph)), "low", l.span(s.Low), "high", l.upTo(s.High)))
		}
	}
	if len(at) == 0 {
		return nil, ""
	}
	for _, wait := range tableWaits {
		row := LeftRow{Wait: l.duration(wait)}
		for _, s := range at {
			least, most, _ := s.Left(wait)
			row.Cells = append(row.Cells, l.shareRange(least, most))
		}
		t.Rows = append(t.Rows, row)
	}
	if len(apart) == 0 {
		return t, ""
	}
	return t, l.t("lasting.apart", "list", l.words.List(apart))
}

func (l *leaf) upTo(minutes float64) string {
	if math.IsInf(minutes, 1) {
		return l.t("lasting.no-end")
	}
	return l.span(minutes)
}

// shareRange writes a range of shares in whole percent, rounded outward so that it
// claims no more than is known.
func (l *leaf) shareRange(least, most float64) string {
	low, high := int(math.Floor(least*100+1e-9)), int(math.Ceil(most*100-1e-9))
	switch {
	case high <= 1:
		return l.t("number.percent-below", "n", 1)
	case math.Abs(least-most) < 0.005:
		return l.words.Percent(least)
	}
	return l.t("lasting.left-range", "low", low, "high", high)
}
