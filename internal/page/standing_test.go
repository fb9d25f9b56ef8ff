package page

import (
	"fmt"
	"math"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
	"tankleaf.example/internal/mix"
	"tankleaf.example/internal/unit"
)

// lifeAt is a point at one pH; 0 minutes leaves an end open.
func lifeAt(ph, low, high int64) mix.HalfPoint {
	bound := func(n int64) mix.Bound { return mix.Bound{Set: n > 0, Value: unit.Int(n)} }
	return mix.HalfPoint{PH: [2]unit.Number{unit.Int(ph), unit.Int(ph)}, Low: bound(low), High: bound(high)}
}

func TestSpanInWords(t *testing.T) {
	l := leafOf(t, shed(), 0, "index.html")
	for _, c := range []struct {
		minutes float64
		want    string
		why     string
	}{
		{67. / 60, "67 s", "under two minutes in seconds"},
		{10.5, "10.5 min", "three figures at most"},
		{60, "1 h", "one hour is an hour"},
		{48, "48 min", "a whole number keeps no decimals"},
		{108, "1.8 h", "from an hour and a half in hours"},
		{32 * 60, "32 h", "up to two days"},
		{131 * 60, "5.46 d", "then in days"},
		{1155 * 1440, "1155 d", "however many"},
	} {
		if got := l.span(c.minutes); got != c.want {
			t.Errorf("%g min: got %q, want %q: %s", c.minutes, got, c.want, c.why)
		}
	}
}

func TestHalfLifeInWords(t *testing.T) {
	l, es := leafOf(t, shed(), 0, "index.html"), leafOf(t, shed(), 1, "index.html")
	about := lifeAt(7, 1440, 1440)
	about.About = true
	wide := lifeAt(5, 60, 60)
	wide.PH[1] = unit.Int(7)
	for _, c := range []struct {
		p        mix.HalfPoint
		en, esES string
		why      string
	}{
		{lifeAt(7, 600, 600), "pH 7: 10 h", "pH 7: 10 h", "one number"},
		{lifeAt(7, 1440, 4320), "pH 7: 1 d to 3 d", "pH 7: 1 d a 3 d", "both ends of a range in one unit"},
		{lifeAt(7, 1, 43200), "pH 7: 1 min to 30 d", "pH 7: 1 min a 30 d", "unless they lie far apart"},
		{lifeAt(7, 43200, 0), "pH 7: over 30 d", "pH 7: de más de 30 d", "no upper end"},
		{lifeAt(7, 0, 60), "pH 7: under 1 h", "pH 7: de menos de 1 h", "no lower end"},
		{about, "pH 7: about 24 h", "pH 7: unos 24 h", "as its source says"},
		{wide, "pH 5 to 7: 1 h", "pH 5 a 7: 1 h", "one answer for a range of pH"},
		{mix.HalfPoint{PH: wide.PH, Stable: true}, "pH 5 to 7: stable, no number", "pH 5 a 7: estable, sin número", "a word"},
	} {
		if got := l.point(&c.p); got != c.en {
			t.Errorf("got %q, want %q: %s", got, c.en, c.why)
		}
		if got := es.point(&c.p); got != c.esES {
			t.Errorf("got %q, want %q: %s", got, c.esES, c.why)
		}
	}
}

// TestShareRange: what is printed never claims more than is known.
func TestShareRange(t *testing.T) {
	l := leafOf(t, shed(), 0, "index.html")
	for _, c := range []struct {
		least, most float64
		want, why   string
	}{
		{0.125, 0.5, "12 to 50 %", "the lower end down"},
		{0.12, 0.494, "12 to 50 %", "the upper end up"},
		{0.5, 0.5, "50 %", "one number"},
		{0, 1, "0 to 100 %", "nothing and everything are ends too"},
		{0.0001, 0.004, "under 1 %", "next to nothing is not nothing"},
		{0.998, 0.999, "over 99 %", "nearly all is not all"},
		{0.9995, 1, "over 99 %", "nor is at least nearly all"},
		{1, 1, "100 %", "all is all"},
	} {
		if got := l.shareRange(c.least, c.most); got != c.want {
			t.Errorf("%g to %g: got %q, want %q: %s", c.least, c.most, got, c.want, c.why)
		}
	}
}

// shelfLife is a book in which two sources quarrel over one active.
func shelfLife() *mix.Book {
	b := shed()
	b.Products[0].Actives = []mix.Active{{Name: "testphos"}}
	b.HalfLives = []mix.HalfLife{
		{ID: "a-custom", Active: "testphos", Points: []mix.HalfPoint{lifeAt(5, 600, 600), lifeAt(7, 60, 60)}, Sources: cites("custom")},
		{ID: "b-paper", Active: "testphos", Points: []mix.HalfPoint{lifeAt(7, 600, 600)}, Sources: cites("paper")},
	}
	return b
}

func TestStrongestSourceComesFirst(t *testing.T) {
	b := shelfLife()
	got := leafOf(t, b, 0, "index.html").productStanding(&b.Products[0]).Actives[0]
	if len(got.Rows) != 2 || got.Rows[0].Who[0].Text != "Reed and Marsh 2020 (Paper)" || got.Rows[0].Letter != "a" {
		t.Errorf("got %+v", got.Rows)
	}
	if want := "Sources disagree: at pH 7 from 1 h to 10 h."; got.Apart != want {
		t.Errorf("got %q, want %q", got.Apart, want)
	}
	want := []string{"pH 5", "pH 6", "pH 7"}
	if diff := cmp.Diff(want, got.Left.PH); diff != "" {
		t.Errorf("a column for each pH of which something is known (-want +got)\n%s", diff)
	}
	if cell := got.Left.Rows[1].Cells[2]; cell != "25 to 88 %" {
		t.Errorf("after 2 h at pH 7 %q is left, want 25 to 88 %%: one half to the power of 2 and of 0.2", cell)
	}
}

func TestNothingPublishedIsNoSection(t *testing.T) {
	b := shelfLife()
	l := leafOf(t, b, 0, "index.html")
	if got := l.productStanding(&b.Products[1]); got != nil {
		t.Errorf("got %+v for a product without a published half-life", got)
	}
	if got := l.classStanding(&b.Classes[1]); got != nil {
		t.Errorf("got %+v for a class without one", got)
	}
	if got := l.classStanding(&b.Classes[0]); len(got.Actives) != 1 || len(got.Actives[0].Spread) != 3 || got.Actives[0].Spread[2] != "" {
		t.Errorf("a class shows the actives of its products, and nothing where nothing is known: %+v", got)
	}
}

// TestCurve: dots lie where the figures put them, what is read apart from what is
// remembered, and lines join points of one source alone.
func TestCurve(t *testing.T) {
	b := shelfLife()
	l := leafOf(t, b, 0, "index.html")
	c := l.productStanding(&b.Products[0]).Actives[0].Curve
	for class, want := range map[string]int{"curve-dot": 1, "curve-hollow": 2, "curve-line": 1, "curve-grid": 9} {
		if got := count(c.Shapes, class); got != want {
			t.Errorf("%d shapes %s, want %d", got, class, want)
		}
	}
	if want := "Half-life of testphos against pH, on a log scale. a pH 7: 10 h; b pH 5: 10 h, pH 7: 1 h"; c.Alt != want {
		t.Errorf("got %q, want %q", c.Alt, want)
	}
	if len(c.Names) != 2 || c.Names[0].Text != "a" || c.Names[0] == c.Names[1] {
		t.Errorf("names %+v", c.Names)
	}
	dot := fmt.Sprintf("M%.1f %.1fa", phX(7)-3.2, timeY(600))
	if !strings.HasPrefix(last(c.Shapes, "curve-dot"), dot) {
		t.Errorf("dot at %s, want %s", last(c.Shapes, "curve-dot"), dot)
	}
}

func last(shapes []Shape, class string) (path string) {
	for _, s := range shapes {
		if s.Class == class {
			path = s.Path
		}
	}
	return path
}

// TestAxes: a decade is the same height everywhere, more time is higher up, and a
// value off the paper stays at its edge.
func TestAxes(t *testing.T) {
	decade := timeY(1) - timeY(10)
	if got := timeY(1000) - timeY(10000); decade < 20 || math.Abs(got-decade) > 1e-9 {
		t.Errorf("decades of %g and %g", decade, got)
	}
	if timeY(1e-9) != plotFoot || timeY(1e12) != plotTop || phX(0) < plotLeft-10 || phX(14) > plotRight+10 {
		t.Error("a value outside the axes is drawn outside the paper")
	}
	if got := phX(7); math.Abs(got-(plotLeft+plotRight)/2) > 1e-9 {
		t.Errorf("pH 7 lies at %g", got)
	}
}

func TestBoundsAreArrows(t *testing.T) {
	p := &plot{mark: "curve-dot"}
	p.points(&mix.HalfLife{Points: []mix.HalfPoint{lifeAt(5, 600, 0), lifeAt(7, 0, 600), lifeAt(9, 60, 600)}})
	var up, down, bar int
	for _, s := range p.Shapes {
		switch {
		case strings.Contains(s.Path, "v-15"):
			up++
		case strings.Contains(s.Path, "v15"):
			down++
		case s.Class == "curve-line":
			bar++
		}
	}
	if up != 1 || down != 1 || bar != 1 || count(p.Shapes, "curve-dot") != 4 {
		t.Errorf("%d up, %d down, %d bars in %+v", up, down, bar, p.Shapes)
	}
}
