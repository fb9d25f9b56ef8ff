package page

import (
	"math"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
	"pgregory.net/rapid"

	"tankleaf.example/internal/message"
	"tankleaf.example/internal/mix"
	"tankleaf.example/internal/unit"
)

func TestRelative(t *testing.T) {
	for _, c := range []struct{ from, to, want, why string }{
		{"index.html", "matrix.html", "matrix.html", "side by side"},
		{"product/a.html", "matrix.html", "../matrix.html", "up"},
		{"product/a.html", "product/b.html", "b.html", "in one folder"},
		{"es/product/a.html", "es/together/a--b.html", "../together/a--b.html", "no further up than the folder they share"},
		{"es/product/a.html", "style.css", "../../style.css", "to what all editions share"},
		{"index.html", "es/index.html", "es/index.html", "down"},
		{"es/index.html", "index.html", "../index.html", "to the other language"},
		{"notices.html", "notices.html#x", "#x", "on the page itself"},
		{"es/notices.html", "notices.html#x", "../notices.html#x", "same name, other language"},
		{"a.html", "", "", "nowhere"},
		{"classes.html", "class/a.html", "class/a.html", "a folder is not a beginning of a name"},
	} {
		if got := relative(c.from, c.to); got != c.want {
			t.Errorf("%s: from %s to %s: %q, want %q", c.why, c.from, c.to, got, c.want)
		}
	}
}

func TestTogetherPathIsOneForBothOrders(t *testing.T) {
	if a, b := togetherPath("oil", "acid"), togetherPath("acid", "oil"); a != b || a != "together/acid--oil.html" {
		t.Errorf("%s and %s", a, b)
	}
}

func ml(n int64) unit.Volume { return unit.Milliliter.Of(unit.Int(n)) }

// sketchOf returns the shapes of one reading in a jar of 1 L that holds 700 mL.
func sketchOf(r mix.Reading, closed bool) []Shape {
	return drawJar(&mix.Vessel{Size: ml(1000), Liquid: ml(700), Closed: closed, Recorded: true}, &r)
}

func count(shapes []Shape, class string) int {
	n := 0
	for _, s := range shapes {
		if s.Class == class {
			n++
		}
	}
	return n
}

func TestDrawnJarShowsWhatWasSeen(t *testing.T) {
	blank := sketchOf(mix.Reading{}, true)
	for _, c := range []struct {
		why   string
		r     mix.Reading
		class string
		grows bool
	}{
		{"flakes are solid specks", mix.Reading{Flakes: mix.Some}, "jar-solid", true},
		{"sediment is hatched", mix.Reading{Precipitate: mix.Trace}, "jar-hatch", true},
		{"much separation is hatched", mix.Reading{Layers: mix.Heavy}, "jar-hatch", true},
		{"layers have borders", mix.Reading{Layers: mix.Trace}, "jar-line", true},
		{"gel has strings", mix.Reading{Gel: mix.Some}, "jar-line", true},
		{"oil lies in drops", mix.Reading{OilFilm: mix.Trace}, "jar-solid", true},
		{"gas has bubbles", mix.Reading{Gas: mix.Bubbles}, "jar-bubble", true},
		{"foam has bubbles", mix.Reading{Foam: mix.Head{Recorded: true, Volume: ml(100)}}, "jar-bubble", true},
		{"firm walls are in the color of hazards", mix.Reading{Gas: mix.Firm}, "jar-oxide", true},
		{"bubbles alone are not", mix.Reading{Gas: mix.Bubbles}, "jar-oxide", false},
		{"none draws nothing", mix.Reading{Flakes: mix.None, Gel: mix.None, Precipitate: mix.None, Layers: mix.None, OilFilm: mix.None, Gas: mix.NoGas}, "jar-solid", false},
		{"a head of nothing draws no foam", mix.Reading{Foam: mix.Head{Recorded: true}}, "jar-bubble", false},
	} {
		before, after := count(blank, c.class), count(sketchOf(c.r, true), c.class)
		if (after > before) != c.grows {
			t.Errorf("%s: %d shapes %s, %d in a blank jar", c.why, after, c.class, before)
		}
	}
	if diff := cmp.Diff(sketchOf(mix.Reading{Flakes: mix.Heavy}, true), sketchOf(mix.Reading{Flakes: mix.Heavy}, true)); diff != "" {
		t.Error("two drawings of one reading differ")
	}
}

func TestMoreIsDrawnAsMore(t *testing.T) {
	for _, class := range []struct {
		name string
		r    func(mix.Extent) mix.Reading
	}{
		{"jar-solid", func(e mix.Extent) mix.Reading { return mix.Reading{Flakes: e} }},
		{"jar-line", func(e mix.Extent) mix.Reading { return mix.Reading{Gel: e} }},
		{"jar-solid", func(e mix.Extent) mix.Reading { return mix.Reading{OilFilm: e} }},
	} {
		last := -1
		for e := mix.None; e <= mix.Heavy; e++ {
			n := count(sketchOf(class.r(e), true), class.name)
			if n <= last && e > mix.None {
				t.Errorf("%s: %v draws %d shapes, less draws %d", class.name, e, n, last)
			}
			last = n
		}
	}
}

func TestLidSaysOpenClosedOrVented(t *testing.T) {
	closed, open := sketchOf(mix.Reading{}, true), sketchOf(mix.Reading{}, false)
	if cmp.Equal(closed, open) {
		t.Error("open and closed vessels look alike")
	}
	if vented := sketchOf(mix.Reading{Gas: mix.Vented}, true); count(vented, "jar-oxide") < 4 {
		t.Error("a lifted lid is not drawn in the color of hazards")
	}
}

func TestFoamShare(t *testing.T) {
	mm := func(n int64) unit.Length { return unit.Millimeter.Of(unit.Int(n)) }
	for _, c := range []struct {
		why  string
		v    mix.Vessel
		h    mix.Head
		want float64
	}{
		{"not recorded", mix.Vessel{Liquid: ml(700)}, mix.Head{Volume: ml(70)}, 0},
		{"by volume of the liquid", mix.Vessel{Size: ml(1000), Liquid: ml(700)}, mix.Head{Recorded: true, Volume: ml(70)}, 0.1},
		{"by size when the liquid is not known", mix.Vessel{Size: ml(1000)}, mix.Head{Recorded: true, Volume: ml(70)}, 0.07},
		{"by height", mix.Vessel{Height: mm(90)}, mix.Head{Recorded: true, Tall: true, Height: mm(9)}, 0.1},
		{"height without a column", mix.Vessel{Size: ml(1000)}, mix.Head{Recorded: true, Tall: true, Height: mm(9)}, 0},
	} {
		if got := foamShare(&c.v, &c.h); math.Abs(got-c.want) > 1e-9 {
			t.Errorf("%s: %g, want %g", c.why, got, c.want)
		}
	}
}

// TestDrawingIsWellFormed: whatever the reading, every number of a path is one.
func TestDrawingIsWellFormed(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		extent := func(name string) mix.Extent { return mix.Extent(rapid.IntRange(0, int(mix.Heavy)).Draw(t, name)) }
		size := rapid.Int64Range(0, 5000).Draw(t, "size")
		v := mix.Vessel{Size: ml(size), Liquid: ml(rapid.Int64Range(0, 9000).Draw(t, "liquid")), Closed: rapid.Bool().Draw(t, "closed"), Recorded: true}
		r := mix.Reading{Flakes: extent("flakes"), Gel: extent("gel"), Layers: extent("layers"), Precipitate: extent("sediment"),
			OilFilm: extent("oil"), Gas: mix.GasSign(rapid.IntRange(0, int(mix.Vented)).Draw(t, "gas")),
			Foam: mix.Head{Recorded: true, Volume: ml(rapid.Int64Range(0, 9000).Draw(t, "foam"))}}
		for _, s := range drawJar(&v, &r) {
			if strings.Contains(s.Path, "NaN") || strings.Contains(s.Path, "Inf") || strings.Contains(s.Path, "%!") {
				t.Fatalf("%s: %s", s.Class, s.Path)
			}
		}
	})
}

// desk is an edition with our words and no book to speak of.
func desk(t *testing.T, metric bool) *edition {
	t.Helper()
	words := message.New("en", map[string]string{"unit.both": "{first} ({second})", "duration.none": "At once", "duration.min": "{n} min",
		"duration.h": "{n} h", "duration.d.one": "{n} day", "duration.d.other": "{n} days", "rate.none": "none", "rate.range": "{low} to {high}",
		"number.percent": "{n} %"})
	b := &mix.Book{Site: mix.Site{Languages: []mix.Lang{"en"}, Metric: metric}}
	return &edition{press: &press{Inputs: Inputs{Index: mix.NewIndex(b)}}, lang: "en", home: "en", words: words}
}

func TestQuantitiesInBothSystems(t *testing.T) {
	us, metric := desk(t, false), desk(t, true)
	rate := func(s string) unit.Rate {
		r, err := unit.ParseRate(s)
		if err != nil {
			t.Fatal(err)
		}
		return r
	}
	spray, err := unit.ParseSprayVolume("100 gal/ac")
	if err != nil {
		t.Fatal(err)
	}
	for _, c := range []struct{ got, want, why string }{
		{us.volume(unit.Quart.Of(unit.Int(1))), "1 qt (946 mL)", "US first"},
		{metric.volume(unit.Quart.Of(unit.Int(1))), "946 mL (1 qt)", "metric first"},
		{us.sprayVolume(spray), "100 gal/ac (935 L/ha)", "spray volume"},
		{us.temperature(mix.Known(unit.Int(15))), "59 °F (15 °C)", "a point on the scale"},
		{us.temperature(mix.Value{}), "", "not known is not 0"},
		{us.rise(unit.Int(2)), "3.6 °F (2 °C)", "a difference has no offset"},
		{us.rate(rate("2 lb/ac")), "2 lb/ac (2.24 kg/ha)", "as written, then the other system"},
		{us.rate(rate("1.2 L/ha")), "1.2 L/ha (16.4 fl oz/ac)", "a metric rate"},
		{us.rate(rate("0.25 % v/v")), "0.25 % v/v", "a percentage is the same everywhere"},
		{us.rate(unit.Rate{}), "none", "no rate"},
		{us.rateRange(mix.RateRange{Low: rate("1 pt/ac"), High: rate("2 pt/ac")}), "1 to 2 pt/ac", "one unit is said once"},
		{us.rateRange(mix.RateRange{Low: rate("8 fl oz/ac"), High: rate("1 pt/ac")}), "8 fl oz/ac to 1 pt/ac", "two units"},
		{us.rateRange(mix.RateRange{Low: rate("1 pt/ac"), High: rate("1 pt/ac")}), "1 pt/ac (1.17 L/ha)", "a single rate is no range"},
		{us.duration(unit.Duration{}), "At once", "zero"},
		{us.duration(unit.Minute.Of(unit.Int(15))), "15 min", "minutes"},
		{us.duration(unit.Minute.Of(unit.Int(120))), "2 h", "whole hours"},
		{us.duration(unit.Minute.Of(unit.Int(90))), "90 min", "no halves of hours"},
		{us.duration(unit.Minute.Of(unit.Int(1440))), "1 day", "a day"},
		{us.percent(unit.Frac(1, 4)), "25 %", "a share"},
		{capital("gas"), "Gas", "a label begins with a capital"},
		{capital("pH"), "pH", "pH does not"},
		{capital("ácido"), "Ácido", "accents"},
	} {
		if c.got != c.want {
			t.Errorf("%s: %q, want %q", c.why, c.got, c.want)
		}
	}
}

func TestDual(t *testing.T) {
	for _, c := range []struct {
		a    unit.Amount
		want Dual
		why  string
	}{
		{unit.Amount{Volume: ml(473)}, Dual{"473.0 mL", "16.0 fl oz"}, "one decimal above 100"},
		{unit.Amount{Volume: unit.Milliliter.Of(unit.Frac(15, 100))}, Dual{"0.150 mL", "0.005 fl oz"}, "three figures of a small dose"},
		{unit.Amount{Dry: true, Mass: unit.Gram.Of(unit.Frac(1134, 100))}, Dual{"11.3 g", "0.400 oz"}, "weights in g and oz"},
	} {
		if diff := cmp.Diff(c.want, dual(c.a)); diff != "" {
			t.Errorf("%s (-want +got)\n%s", c.why, diff)
		}
	}
}

func TestNamesSortAsReadersExpect(t *testing.T) {
	e := desk(t, false)
	sorted := []string{"Aceite", "Ácido", "Azufre", "nitrato", "ñame", "Oil"}
	for i := range sorted[1:] {
		if e.compare(sorted[i], sorted[i+1]) >= 0 {
			t.Errorf("%s does not come before %s", sorted[i], sorted[i+1])
		}
	}
	if initial("Ácido") != "A" || initial("2,4-D") != "0" || initial("") != "0" {
		t.Error("first letters")
	}
}

func TestTableKeepsFormulasFromSpreadsheets(t *testing.T) {
	out, err := table([][]string{{"=SUM(A1)", "-3", "plain", ""}})
	if err != nil || string(out) != "'=SUM(A1),'-3,plain,\n" {
		t.Errorf("%q, %v", out, err)
	}
}
