package page

import (
	"strings"
	"testing"

	"tankleaf.example/internal/mix"
	"tankleaf.example/internal/unit"
)

// carbonateJar is a closed jar of 1 L with 700 mL of a mix at 10 °C that holds
// 10.01 g of potassium bicarbonate, a tenth of a mole.
func carbonateJar(t *testing.T) (*mix.Book, *mix.Observation) {
	t.Helper()
	rate, err := unit.ParseRate("14.302 g/L")
	if err != nil {
		t.Fatal(err)
	}
	b := shed()
	b.Products[1].Dry = true
	b.Products[1].Actives = []mix.Active{{Name: "potassium bicarbonate", Amount: "100 % w/w"}}
	return b, &mix.Observation{ID: "o", Products: []mix.Portion{{Ref: ref("fizz"), Rate: rate}, {Ref: ref("sour")}},
		Vessel: mix.Vessel{Size: ml(1000), Liquid: ml(700)}, Temperature: mix.Known(unit.Int(10))}
}

// TestGasOfAJar holds the page to the gas laws worked by hand: 0.1 mol is 2.32 L at
// 10 °C and one atmosphere (V = nRT/p), 3.3 times the liquid; closed, it shares
// itself between 0.3 L of headspace, 0.000127 mol/Pa, and 0.7 L of water,
// 0.000354 mol/Pa by Henry's law: 208 kPa or 30.2 psi. All are rounded up.
func TestGasOfAJar(t *testing.T) {
	b, o := carbonateJar(t)
	l := leafOf(t, b, 0, "index.html")
	v := l.gas(o)
	if v == nil {
		t.Fatal("nothing is said of a jar with a carbonate")
	}
	for _, c := range []struct{ got, want, why string }{
		{v.Most, "0.62 gal (2.4 L) of carbon dioxide, 3.4 times the liquid", "volume in both systems"},
		{v.Pressure, "31 psi (210 kPa) above the start, at 50 °F (10 °C)", "pressure, were it closed"},
		{v.Rows[0].Weight, "10 g", "the weight of the carbonate itself"},
		{v.Rows[0].From.Name.Text, "Fizz SP", "where it is from"},
	} {
		if !strings.Contains(c.got, c.want) {
			t.Errorf("%s: got %q, want %q in it", c.why, c.got, c.want)
		}
	}
	if !l.hazards[mix.Pressure] {
		t.Error("a page that speaks of gas carries the caution of pressure")
	}
}

func TestGasIsNotGuessed(t *testing.T) {
	b, o := carbonateJar(t)
	o.Products[0].Rate = unit.Rate{}
	l := leafOf(t, b, 0, "index.html")
	v := l.gas(o)
	if v == nil || len(v.Unknown) != 1 || v.Most != "" || v.Pressure != "" {
		t.Errorf("a carbonate without a rate is named and not counted: %+v", v)
	}
	o.Products = o.Products[1:]
	if v := l.gas(o); v != nil {
		t.Errorf("a mix without a carbonate has nothing to say: %+v", v)
	}
	_, full := carbonateJar(t)
	full.Vessel.Size = unit.Volume{}
	if v := l.gas(full); v == nil || v.Most == "" || v.Pressure != "" {
		t.Errorf("a vessel of unknown size has no pressure: %+v", v)
	}
}

// TestGasOfAMeasure: a pound of pure potassium bicarbonate is 4.531 mol, at 25 °C
// 110.9 L; a kilogram 9.989 mol, 244.4 L.
func TestGasOfAMeasure(t *testing.T) {
	b, _ := carbonateJar(t)
	l := leafOf(t, b, 0, "index.html")
	if got, want := l.gasFact(&b.Products[1]), "With acid enough: 30 gal (120 L) a pound, 65 gal (250 L) a kilogram. This never clears a mix."; got != want {
		t.Errorf("got %q, want %q", got, want)
	}
	if got := l.gasFact(&b.Products[0]); got != "" {
		t.Errorf("got %q of a product without carbonate", got)
	}
	b.Site.Metric = true
	if got := l.gasFact(&b.Products[1]); !strings.HasPrefix(got, "With acid enough: 250 L (65 gal) a kilogram") {
		t.Errorf("a metric office reads %q", got)
	}
}

// TestUpward: a bound is never rounded below itself.
func TestUpward(t *testing.T) {
	for _, c := range []struct {
		f    float64
		want string
	}{{0, "0"}, {1, "1"}, {1.01, "1.1"}, {9.91, "10"}, {0.0123, "0.013"}, {100, "100"}, {101, "110"}, {2590, "2600"}, {0.2, "0.2"}} {
		if got := upward(c.f); got != c.want {
			t.Errorf("%g: got %q, want %q", c.f, got, c.want)
		}
	}
}
