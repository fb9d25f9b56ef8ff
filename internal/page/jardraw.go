package page

import (
	"fmt"
	"strings"

	"tankleaf.example/internal/mix"
)

// A drawn jar: plain line art from one reading, the same viewpoint and scale
// everywhere. Levels are true to the readings: the body holds the vessel's size,
// liquid stands at its share of it, foam and what settles at theirs. What was
// not recorded is not drawn, and the words beside the jar say so.

// JarDrawing is one jar at one time.
type JarDrawing struct {
	Alt    string // everything the drawing shows, in words
	When   string
	Words  []string // what was seen, one thing each
	Shapes []Shape
}

// Shape is a path with its class in the style sheet.
type Shape struct{ Class, Path string }

// The glass, in units of the drawing, 190 by 178.
const (
	glassLeft, glassRight = 24.0, 104.0
	glassTop, glassBottom = 52.0, 166.0
	rimY, lidY            = 26.0, 15.0
)

// sketch collects the shapes of one jar.
type sketch struct {
	shapes []Shape
	level  float64 // y of the liquid's surface
	top    float64 // y of whatever stands highest
	dice   uint32
}

func (s *sketch) add(class, format string, args ...any) {
	s.shapes = append(s.shapes, Shape{class, fmt.Sprintf(format, args...)})
}

// roll returns the next number from 0 to 1 of a fixed sequence (the "minimal
// standard" generator of Park and Miller, 1988): scattered, and the same in every
// build.
func (s *sketch) roll() float64 {
	s.dice = uint32(uint64(s.dice) * 48271 % 2147483647)
	return float64(s.dice) / 2147483647
}

// share returns liquid over size of a vessel, 0 to 1; four fifths when neither
// is recorded.
func share(v *mix.Vessel) float64 {
	if v.Size.IsZero() || v.Liquid.IsZero() {
		return 0.8
	}
	return min(v.Liquid.Per(v.Size).Float(), 1)
}

// drawJar draws one reading.
func drawJar(v *mix.Vessel, r *mix.Reading) []Shape {
	s := &sketch{dice: 7}
	s.level = glassBottom - share(v)*(glassBottom-glassTop)*0.94
	s.top = s.level
	firm, vented := r.Gas >= mix.Firm, r.Gas == mix.Vented
	s.liquid(firm)
	s.sediment(r.Precipitate)
	s.layers(r.Layers)
	s.gel(r.Gel)
	s.flakes(r.Flakes)
	s.bubbles(r.Gas)
	s.surface(r.OilFilm)
	s.foam(v, r, firm)
	s.glass(firm)
	s.lid(v, vented)
	return s.shapes
}

// bulge is how far firm walls stand out at their middle: half of the control
// point of their curve.
const bulge = 13.0

// wall returns how far a firm wall stands out at height y: a parabola from the
// shoulder to the foot, as the curve of the glass is one.
func wall(y float64) float64 {
	t := (y - glassTop) / (glassBottom - 12 - glassTop)
	if t <= 0 || t >= 1 {
		return 0
	}
	return 2 * bulge * t * (1 - t)
}

// liquid fills the jar up to its level.
func (s *sketch) liquid(firm bool) {
	left, right := glassLeft, glassRight
	foot := glassBottom - 12
	sides := [2]string{fmt.Sprintf("V%g", foot), fmt.Sprintf("V%g", s.level)}
	if out := wall(s.level); firm && out > 0 {
		left, right = left-out, right+out
		middle := (s.level + foot) / 2
		reach := 2*wall(middle) - out/2
		sides[0] = fmt.Sprintf("Q%.1f %.1f %g %g", glassRight+reach, middle, glassRight, foot)
		sides[1] = fmt.Sprintf("Q%.1f %.1f %.1f %g", glassLeft-reach, middle, left, s.level)
	}
	s.add("jar-liquid", "M%.1f %gH%.1f%sQ%g %g %g %gH%gQ%g %g %g %g%sZ", left, s.level, right, sides[0],
		glassRight, glassBottom, glassRight-12, glassBottom, glassLeft+12, glassLeft, glassBottom, glassLeft, foot, sides[1])
	s.add("jar-thin", "M%.1f %gq4 3 10 2H%.1fq6 1 10 -2", left, s.level, right-10)
}

// glass draws walls and rim; firm walls bulge.
func (s *sketch) glass(firm bool) {
	neck := fmt.Sprintf("M%g %gV%g", glassLeft+12, rimY, rimY+10)
	if !firm {
		s.add("jar-line", "%sL%g %gV%gQ%g %g %g %gH%gQ%g %g %g %gV%gL%g %gV%g", neck, glassLeft, glassTop, glassBottom-12,
			glassLeft, glassBottom, glassLeft+12, glassBottom, glassRight-12, glassRight, glassBottom, glassRight, glassBottom-12,
			glassTop, glassRight-12, rimY+10, rimY)
		return
	}
	s.add("jar-oxide", "%sL%g %gQ%g %g %g %gQ%g %g %g %gH%gQ%g %g %g %gQ%g %g %g %gL%g %gV%g", neck, glassLeft, glassTop,
		glassLeft-bulge, (glassTop+glassBottom-12)/2, glassLeft, glassBottom-12, glassLeft, glassBottom, glassLeft+12, glassBottom, glassRight-12,
		glassRight, glassBottom, glassRight, glassBottom-12, glassRight+bulge, (glassTop+glassBottom-12)/2, glassRight, glassTop, glassRight-12, rimY+10, rimY)
}

// lid draws the closure: on, lifted with what escapes, or none on an open vessel.
func (s *sketch) lid(v *mix.Vessel, vented bool) {
	left, right := glassLeft+8, glassRight-8
	switch {
	case vented:
		s.add("jar-oxide", "M%g %gL%g %g", left, lidY-1, right, lidY-12)
		s.add("jar-oxide", "M%g %gc-6 -3 -2 -7 -8 -10", left-4, rimY-2)
		s.add("jar-oxide", "M%g %gc6 -3 2 -7 8 -10", right+4, rimY-2)
	case v.Recorded && !v.Closed:
		s.add("jar-line", "M%g %gH%g", left, rimY, right)
	default:
		s.add("jar-line", "M%g %gH%gV%gH%gZ", left, rimY, right, lidY, left)
	}
}

// surface draws the oil that lies on the liquid.
func (s *sketch) surface(film mix.Extent) {
	if film <= mix.None {
		return
	}
	drops := map[mix.Extent]int{mix.Trace: 2, mix.Some: 4, mix.Heavy: 7}[film]
	step := (glassRight - glassLeft - 12) / float64(drops)
	for i := range drops {
		x := glassLeft + 6 + step*float64(i)
		s.add("jar-solid", "M%.1f %gq%.1f -5 %.1f 0q%.1f 4 %.1f 0Z", x, s.level+1, step*0.4, step*0.8, -step*0.4, -step*0.8)
	}
}

// foam draws the head at its height over the liquid.
func (s *sketch) foam(v *mix.Vessel, r *mix.Reading, firm bool) {
	h := foamShare(v, &r.Foam) * (glassBottom - s.level)
	if h <= 0 {
		return
	}
	s.top = max(s.level-max(h, 3), rimY+2)
	radius := min(max((s.level-s.top)/3, 2.5), 5.5)
	for y := s.level - radius; y > s.top-1; y -= radius * 1.7 {
		inset := max(0, (glassTop-y)*0.75)
		if firm {
			inset -= wall(y)
		}
		for x := glassLeft + inset + radius + 1 + s.roll()*3; x < glassRight-inset-radius; x += radius * (1.9 + s.roll()*0.4) {
			s.circle("jar-bubble", x, y, radius*(0.75+s.roll()*0.3))
		}
	}
}

// foamShare returns the head's share of the liquid, by volume or by height.
func foamShare(v *mix.Vessel, h *mix.Head) float64 {
	switch {
	case !h.Recorded:
		return 0
	case h.Tall && !v.Height.IsZero():
		return h.Height.Per(v.Height).Float()
	case !h.Tall && !v.Liquid.IsZero():
		return h.Volume.Per(v.Liquid).Float()
	case !h.Tall && !v.Size.IsZero():
		return h.Volume.Per(v.Size).Float()
	}
	return 0
}

func (s *sketch) circle(class string, x, y, r float64) {
	s.add(class, "M%.1f %.1fa%.1f %.1f 0 1 0 %.1f 0a%.1f %.1f 0 1 0 %.1f 0", x-r, y, r, r, 2*r, r, r, -2*r)
}

// sediment fills the bottom.
func (s *sketch) sediment(e mix.Extent) {
	h := map[mix.Extent]float64{mix.Trace: 4, mix.Some: 11, mix.Heavy: 22}[e]
	if h == 0 {
		return
	}
	y := glassBottom - h
	s.add("jar-hatch", "M%g %gq10 -4 20 0t20 0t20 0t20 0V%gQ%g %g %g %gH%gQ%g %g %g %gZ", glassLeft, y, max(y, glassBottom-12),
		glassRight, glassBottom, glassRight-12, glassBottom, glassLeft+12, glassLeft, glassBottom, glassLeft, max(y, glassBottom-12))
}

// layers draws the borders between what separated, the upper part hatched when
// there is much of it.
func (s *sketch) layers(e mix.Extent) {
	n := map[mix.Extent]int{mix.Trace: 1, mix.Some: 2, mix.Heavy: 3}[e]
	depth := glassBottom - s.level
	if n == 3 {
		s.add("jar-hatch", "M%g %gH%gV%gH%gZ", glassLeft, s.level, glassRight, s.level+depth*0.3, glassLeft)
	}
	for i := range n {
		y := s.level + depth*(0.3+0.25*float64(i))
		s.add("jar-line", "M%g %.1fH%g", glassLeft, y, glassRight)
	}
}

// flakes scatters flocs through the liquid.
func (s *sketch) flakes(e mix.Extent) {
	n := map[mix.Extent]int{mix.Trace: 6, mix.Some: 16, mix.Heavy: 34}[e]
	for range n {
		x := glassLeft + 8 + s.roll()*(glassRight-glassLeft-18)
		y := s.level + 8 + s.roll()*(glassBottom-s.level-24)
		w := 2.5 + s.roll()*3
		s.add("jar-solid", "M%.1f %.1fl%.1f %.1fl%.1f %.1fl%.1f %.1fZ", x, y, w, -w*0.6, w*0.5, w*0.9, -w*0.9, w*0.5)
	}
}

// gel draws strings and lumps.
func (s *sketch) gel(e mix.Extent) {
	n := map[mix.Extent]int{mix.Trace: 1, mix.Some: 3, mix.Heavy: 6}[e]
	depth := glassBottom - s.level
	for i := range n {
		y := s.level + depth*(0.25+0.65*float64(i)/float64(max(n, 2)))
		x := glassLeft + 8 + s.roll()*16
		s.add("jar-line", "M%.1f %.1fc8 -12 16 12 24 0s16 12 22 2", x, y)
	}
}

// bubbles rise where gas was seen.
func (s *sketch) bubbles(g mix.GasSign) {
	if g < mix.Bubbles {
		return
	}
	n := 9 * int(g-mix.NoGas)
	for range n {
		x := glassLeft + 8 + s.roll()*(glassRight-glassLeft-16)
		y := s.level + 6 + s.roll()*(glassBottom-s.level-14)
		s.circle("jar-bubble", x, y, 1.4+s.roll()*2)
	}
}

// drawing returns a reading as a drawing with its words. A field report has the
// words alone: a tank is no jar, and nobody looked through its wall.
func (l *leaf) drawing(o *mix.Observation, r *mix.Reading) JarDrawing {
	words := l.readingWords(&o.Vessel, r)
	d := JarDrawing{When: l.duration(r.After), Words: words}
	if !o.Field {
		d.Shapes = drawJar(&o.Vessel, r)
	}
	d.Alt = l.t("jar.alt", "when", d.When, "what", strings.Join(words, "; "))
	return d
}
