package unit_test

import (
	"testing"

	"tankleaf.example/internal/unit"
)

func TestSplit(t *testing.T) {
	for _, c := range []struct {
		in         string
		us, metric string
		why        string
	}{
		{"12.57 gal", "12 gal + 2 qt + 9 fl oz", "47 L + 583 mL", "all terms"},
		{"0.9999 gal", "1 gal", "3 L + 785 mL", "rounds up through all units at once"},
		{"31.96 fl oz", "1 qt", "945 mL", "no 32 fl oz is ever shown"},
		{"2 gal", "2 gal", "7 L + 571 mL", "zero terms are left out"},
		{"0 mL", "0 fl oz", "0 mL", "nothing is nothing of the smallest"},
		{"1 mL", "0.0338 fl oz", "1 mL", "small amounts keep three figures"},
		{"2.5 mL", "0.0845 fl oz", "2.5 mL", "in metric too"},
		{"500 mL", "16.9 fl oz", "500 mL", "a usual jar"},
		{"0.001 mL", "0.000034 fl oz", "0.001 mL", "down to six decimals"},
		{"2.5 lb", "2 lb + 8 oz", "1 kg + 134 g", "weight"},
		{"15.97 oz", "1 lb", "453 g", "weight rounds up through"},
		{"0.16 oz", "0.16 oz", "4.54 g", "a dry jar dose"},
	} {
		a, err := unit.ParseAmount(c.in)
		if err != nil {
			t.Fatal(err)
		}
		if got := a.Split(unit.US).String(); got != c.us {
			t.Errorf("%s: got %q, want %q: %s", c.in, got, c.us, c.why)
		}
		if got := a.Split(unit.Metric).String(); got != c.metric {
			t.Errorf("%s: got %q, want %q: %s", c.in, got, c.metric, c.why)
		}
	}
}

func TestAmount(t *testing.T) {
	oz, _ := unit.ParseAmount("8 oz")
	lb, _ := unit.ParseAmount("1/2 lb")
	ml, _ := unit.ParseAmount("5 mL")
	if got := oz.Add(lb).String(); got != "1 lb" {
		t.Errorf("8 oz + 1/2 lb = %s", got)
	}
	if got := (unit.Amount{}).Add(oz); got != oz {
		t.Errorf("nothing + 8 oz = %v", got)
	}
	if a, b := lb.Times(unit.Int(3)).String(), ml.Add(ml).String(); a != "1.5 lb" && a != "24 oz" || b != "10 mL" {
		t.Errorf("3 × 1/2 lb = %s, 5 mL + 5 mL = %s", a, b)
	}
	if oz.BaseUnit() != "g" || ml.BaseUnit() != "mL" || ml.Times(unit.Int(3)).Base().Fixed(3) != "15.000" {
		t.Error("base units are g for weights and mL for volumes")
	}
	defer func() {
		if recover() == nil {
			t.Error("a weight added to a volume must panic")
		}
	}()
	ml.Add(oz)
}

func TestRate(t *testing.T) {
	rate := func(s string) unit.Rate {
		r, err := unit.ParseRate(s)
		if err != nil {
			t.Fatal(err)
		}
		return r
	}
	for _, c := range []struct {
		in    string
		basis unit.Basis
		dry   bool
		area  bool
	}{
		{"1 pt/ac", unit.VolumePerArea, false, true}, {"1 lb/ac", unit.MassPerArea, true, true},
		{"1 qt/100 gal", unit.VolumePerVolume, false, false}, {"1 % v/v", unit.VolumePerVolume, false, false},
		{"1 lb/100 gal", unit.MassPerVolume, true, false}, {"1 % w/v", unit.MassPerVolume, true, false},
		{"50 ppm", unit.MassPerVolume, true, false},
	} {
		b := rate(c.in).Basis()
		if b != c.basis || b.Dry() != c.dry || b.PerArea() != c.area {
			t.Errorf("%s is a rate of %v, want %v", c.in, b, c.basis)
		}
	}
	if !rate("1 pt/ac").Comparable(rate("1 L/ha")) || rate("1 pt/ac").Comparable(rate("1 lb/ac")) {
		t.Error("rates compare only within one basis")
	}
	if rate("1 pt/ac").Cmp(rate("16 fl oz/ac")) != 0 || rate("1 qt/ac").Cmp(rate("2 L/ha")) <= 0 {
		t.Error("rates of one basis compare across units")
	}
	if got := rate("1 pt/ac").Times(unit.Frac(1, 7)).Times(unit.Int(7)); !got.Equal(rate("1 pt/ac")) {
		t.Errorf("scaled down and up: %v", got)
	}
	if rate("2 pt/ac").IsZero() || !rate("2 pt/ac").Times(unit.Int(0)).IsZero() {
		t.Error("only no rate and a rate of nothing are zero")
	}
	if got := rate("2 pt/ac").Times(unit.Int(3)).String(); got != "6 pt/ac" {
		t.Errorf("3 × 2 pt/ac = %s", got)
	}
	for _, other := range []string{"3 pt/ac", "2 lb/ac", "1 qt/ac"} {
		if rate("2 pt/ac").Equal(rate(other)) {
			t.Errorf("2 pt/ac and %s are equal", other)
		}
	}
	if zero := (unit.Rate{}); !zero.IsZero() || zero.String() != "no rate" || zero.Number().Sign() != 0 {
		t.Error("the zero Rate is no rate")
	}
	if got := unit.Basis(9).String(); got != "Basis(9)" {
		t.Errorf("unknown basis prints as %q", got)
	}
}

func TestRateInAnotherUnit(t *testing.T) {
	for _, c := range []struct{ in, as, want string }{
		{"0.25 % v/v", "qt/100 gal", "1 qt/100 gal"},
		{"1 pt/100 gal", "% v/v", "0.125 % v/v"},
		{"1 qt/100 gal", "mL/100 L", "250 mL/100 L"},
		{"1 oz/sq ft", "lb/ac", "2722.5 lb/ac"},                // Ohio State Univ. Extension column
		{"1 lb/ac", "oz/1000 sq ft", "400/1089 oz/1000 sq ft"}, // 16 / 43.56
		{"1 g/L", "% w/v", "0.1 % w/v"},
	} {
		r, err := unit.ParseRate(c.in)
		if err != nil {
			t.Fatal(err)
		}
		got, err := r.As(c.as)
		if err != nil || got.String() != c.want {
			t.Errorf("%s in %s = %v, %v; want %s", c.in, c.as, got, err, c.want)
		}
	}
	r, _ := unit.ParseRate("1 pt/ac")
	for _, as := range []string{"lb/ac", "% v/v", "furlong", ""} {
		if got, err := r.As(as); err == nil {
			t.Errorf("1 pt/ac in %q = %v, want an error", as, got)
		}
	}
}

// A computed quantity that no unit writes within the limits is rounded in its base
// unit; a split keeps at most six decimals.
func TestLongNumbers(t *testing.T) {
	third := unit.Frac(1, 3)
	odd := third.Mul(third).Mul(third).Mul(third).Mul(unit.Frac(1, 10007))
	if got := unit.Gallon.Of(odd).String(); got != "0.004670079 mL" {
		t.Errorf("long volume prints as %q", got)
	}
	if got := unit.Fahrenheit.Of(unit.Int(50).Add(odd)).String(); got != "10.000000685 °C" {
		t.Errorf("long temperature prints as %q", got)
	}
	r, err := unit.RateIn("pt/ac", unit.VolumePerArea, unit.Frac(1, 10007))
	if err != nil || r.String() != "0.000854655 pt/ac" {
		t.Errorf("long rate prints as %q, %v", r, err)
	}
	parts := unit.SplitVolume(unit.FluidOunce.Of(unit.Frac(123, 100_000_000)), unit.US)
	if got := parts[0].Number.Fixed(9); got != "0.000001000" {
		t.Errorf("a split of next to nothing is %s fl oz", got)
	}
}
