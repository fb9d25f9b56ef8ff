package page

import (
	"fmt"
	"math"

	"tankleaf.example/internal/mix"
)

// A drawn curve: half-life against pH, the same axes everywhere so that two of
// them can be compared by eye. pH runs from 4 to 10, time on a log scale from a
// minute to years. A dot is what a source gives, hollow when it is only remembered; a
// line joins neighboring points of one source, an arrow stands at a bound, and what
// is called stable lies on a rail of its own above the longest time.

// Curve is one drawing.
type Curve struct {
	Alt    string // every figure of the drawing, in words
	Ticks  []CurveTick
	Shapes []Shape
	Names  []CurveName
}

// CurveTick is a word at an axis.
type CurveTick struct {
	X, Y  string
	Axis  string // "time" or "ph"
	Words string
}

// CurveName is the name of a source beside its points.
type CurveName struct{ X, Y, Text string }

// The plot, in units of the drawing, 360 by 236.
const (
	plotLeft, plotRight = 58.0, 346.0
	plotTop, plotFoot   = 30.0, 200.0
	railY               = 16.0 // of what is called stable
	phFrom, phTo        = 4.0, 10.0
)

// The ends of the time axis: half a minute is just below the fastest half-life that
// anybody published, 2,000 days above the slowest.
var timeFrom, timeTo = math.Log10(0.5), math.Log10(2000 * 1440)

// timeTicks are the times that the axis names: minutes, and the words for them.
var timeTicks = []struct {
	minutes float64
	key, n  string
}{
	{1, "span.min", "1"}, {10, "span.min", "10"}, {60, "span.h", "1"}, {6 * 60, "span.h", "6"}, {1440, "span.d", "1"},
	{7 * 1440, "span.d", "7"}, {30 * 1440, "span.d", "30"}, {365 * 1440, "span.y", "1"},
}

func phX(ph float64) float64 {
	share := (ph - phFrom) / (phTo - phFrom)
	return plotLeft + min(max(share, -0.02), 1.02)*(plotRight-plotLeft)
}

func timeY(minutes float64) float64 {
	share := (math.Log10(minutes) - timeFrom) / (timeTo - timeFrom)
	return plotFoot - min(max(share, 0), 1)*(plotFoot-plotTop)
}

// plot collects the shapes of one drawing.
type plot struct {
	Curve
	mark  string       // class of the dots that are drawn
	taken [][2]float64 // where names stand
}

func (p *plot) add(class, format string, args ...any) {
	p.Shapes = append(p.Shapes, Shape{class, fmt.Sprintf(format, args...)})
}

// curve draws the records of one active. Names tells the sources apart; a single
// one needs none.
func (l *leaf) curve(active string, rows []LastingRow, records []*mix.HalfLife) *Curve {
	p := &plot{}
	p.axes(l)
	p.records(records, "curve-hollow", l.remembered)
	p.records(records, "curve-dot", func(c []mix.Cite) bool { return !l.remembered(c) })
	for i, h := range records {
		if len(rows) > 1 && len(h.Points) > 0 {
			p.name(rows[i].Letter, h)
		}
	}
	p.Alt = l.t("lasting.alt", "active", active, "figures", l.figures(rows))
	return &p.Curve
}

// records draws those whose sources are of one sort with one sort of dots. What was
// read comes after what is remembered, so that it lies on top.
func (p *plot) records(all []*mix.HalfLife, mark string, sort func([]mix.Cite) bool) {
	p.mark = mark
	for _, h := range all {
		if sort(h.Sources) {
			p.lines(h)
			p.points(h)
		}
	}
}

// axes draws the frame, a thin line for every time that is named, and the rail.
func (p *plot) axes(l *leaf) {
	for _, tick := range timeTicks {
		y := timeY(tick.minutes)
		p.add("curve-grid", "M%g %.1fH%g", plotLeft, y, plotRight)
		p.Ticks = append(p.Ticks, CurveTick{fmt.Sprint(plotLeft - 7), fmt.Sprintf("%.1f", y+4), "time", l.t(tick.key, "n", tick.n)})
	}
	p.add("curve-grid", "M%g %gH%g", plotLeft, railY, plotRight)
	p.Ticks = append(p.Ticks, CurveTick{fmt.Sprint(plotLeft - 7), fmt.Sprint(railY + 4), "time", l.t("lasting.rail")})
	p.add("curve-axis", "M%g %gV%gH%g", plotLeft, railY-8, plotFoot, plotRight)
	for ph := phFrom; ph <= phTo; ph++ {
		x := phX(ph)
		p.add("curve-axis", "M%.1f %gv4", x, plotFoot)
		words := fmt.Sprint(ph)
		if ph == phFrom {
			words = l.t("water.ph", "value", words)
		}
		p.Ticks = append(p.Ticks, CurveTick{fmt.Sprintf("%.1f", x), fmt.Sprint(plotFoot + 18), "ph", words})
	}
}

// spot is where a point stands: its ends in x and y. One end may be missing.
type spot struct {
	from, to  float64 // x
	low, high float64 // y of the shorter and of the longer time; NaN for an open end
	stable    bool
}

func spotOf(h *mix.HalfPoint) spot {
	s := spot{phX(h.PH[0].Float()), phX(h.PH[1].Float()), math.NaN(), math.NaN(), h.Stable}
	if h.Low.Set {
		s.low = timeY(h.Low.Value.Float())
	}
	if h.High.Set {
		s.high = timeY(h.High.Value.Float())
	}
	return s
}

// lines joins neighboring points where values between them are interpolated.
func (p *plot) lines(h *mix.HalfLife) {
	for i := 1; i < len(h.Points); i++ {
		a, b := spotOf(&h.Points[i-1]), spotOf(&h.Points[i])
		if a.stable || b.stable {
			continue
		}
		p.join(a.to, a.low, b.from, b.low)
		if a.high != a.low || b.high != b.low {
			p.join(a.to, a.high, b.from, b.high)
		}
	}
}

func (p *plot) join(x, y, x2, y2 float64) {
	if !math.IsNaN(y) && !math.IsNaN(y2) {
		p.add("curve-line", "M%.1f %.1fL%.1f %.1f", x, y, x2, y2)
	}
}

// points draws what the source itself gives.
func (p *plot) points(h *mix.HalfLife) {
	for i := range h.Points {
		s := spotOf(&h.Points[i])
		switch {
		case s.stable:
			p.dot(s.from, railY)
			p.add("curve-line", "M%.1f %gH%.1f", s.from, railY, s.to)
			p.dot(s.to, railY)
		case math.IsNaN(s.high): // more than: up from the bound
			p.dot(s.from, s.low)
			p.add("curve-line", "M%.1f %.1fv-15m-3.500 5l3.500 -5l3.500 5", s.from, s.low)
		case math.IsNaN(s.low): // less than: down from it
			p.dot(s.from, s.high)
			p.add("curve-line", "M%.1f %.1fv15m-3.500 -5l3.500 5l3.500 -5", s.from, s.high)
		default:
			if s.low != s.high || s.from != s.to {
				p.add("curve-line", "M%.1f %.1fV%.1fH%.1f", s.from, s.low, s.high, s.to)
			}
			p.dot(s.from, s.low)
			p.dot(s.to, s.low)
			p.dot(s.from, s.high)
		}
	}
}

// dot is drawn once, however many ends of a point meet there.
func (p *plot) dot(x, y float64) {
	d := Shape{p.mark, fmt.Sprintf("M%.1f %.1fa3.2 3.2 0 1 0 6.4 0a3.2 3.2 0 1 0 -6.4 0", x-3.2, y)}
	if len(p.Shapes) == 0 || p.Shapes[len(p.Shapes)-1] != d {
		p.Shapes = append(p.Shapes, d)
	}
}

// name sets a source's letter beside its last point, or beside an earlier one where
// that place is taken.
func (p *plot) name(text string, h *mix.HalfLife) {
	var x, y float64
	for i := len(h.Points) - 1; i >= 0; i-- {
		s := spotOf(&h.Points[i])
		at := s.low
		switch {
		case s.stable:
			at = railY
		case math.IsNaN(at):
			at = s.high
		}
		for _, away := range [][2]float64{{6, -4}, {-12, -4}, {6, 12}, {-12, 12}, {15, 4}, {-21, 4}} {
			x, y = s.to+away[0], at+away[1]
			if p.free(x, y) {
				p.set(text, x, y)
				return
			}
		}
	}
	p.set(text, x, y)
}

// free reports whether a letter at a place would touch no other and stay inside.
func (p *plot) free(x, y float64) bool {
	for _, t := range p.taken {
		if math.Abs(t[0]-x) < 10 && math.Abs(t[1]-y) < 11 {
			return false
		}
	}
	return x < 356 && y > 8 && y < plotFoot-1
}

func (p *plot) set(text string, x, y float64) {
	p.taken = append(p.taken, [2]float64{x, y})
	p.Names = append(p.Names, CurveName{fmt.Sprintf("%.1f", x), fmt.Sprintf("%.1f", y), text})
}
