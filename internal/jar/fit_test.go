package jar_test

import (
	"testing"

	"tankleaf.example/internal/jar"
	"tankleaf.example/internal/mix"
	"tankleaf.example/internal/unit"
)

func TestFitRate(t *testing.T) {
	for _, c := range []struct {
		rate, low, high, spray, density string
		want                            jar.Fit
		why                             string
	}{
		{"1 pt/ac", "1 pt/ac", "2 pt/ac", "", "", jar.Within, "the low end is inside"},
		{"32 fl oz/ac", "1 pt/ac", "2 pt/ac", "", "", jar.Within, "the high end is inside, in other units"},
		{"15.99 fl oz/ac", "1 pt/ac", "2 pt/ac", "", "", jar.Below, "just below"},
		{"2.4 L/ha", "1 pt/ac", "1 qt/ac", "", "", jar.Above, "a metric rate against a US label"},
		{"1 pt/ac", "", "2 pt/ac", "", "", jar.Within, "a label with a top only"},
		{"1 pt/ac", "", "", "", "", jar.NotChecked, "no range is never within"},
		{"", "1 pt/ac", "2 pt/ac", "", "", jar.NotChecked, "no rate"},
		{"1 % v/v", "1 qt/ac", "2 qt/ac", "25 GPA", "", jar.Within, "by volume of spray, through the spray volume"},
		{"1 % v/v", "1 qt/ac", "2 qt/ac", "", "", jar.NotChecked, "and not without it"},
		{"1 qt/ac", "0.5 % v/v", "0.9 % v/v", "25 GPA", "", jar.Above, "the other way"},
		{"10 oz/ac", "8 fl oz/ac", "9 fl oz/ac", "", "1.1 g/mL", jar.Within, "weight of a liquid through its density"},
		{"10 oz/ac", "8 fl oz/ac", "9 fl oz/ac", "", "", jar.NotChecked, "and not without it"},
		{"8 fl oz/ac", "8 oz/ac", "9 oz/ac", "", "1.2 g/mL", jar.Above, "the other way: 8 fl oz weigh more than 9 oz"},
		{"1 pt/ac", "1 lb/ac", "2 pt/ac", "", "", jar.NotChecked, "a range of two kinds"},
	} {
		rate := func(s string) unit.Rate {
			if s == "" {
				return unit.Rate{}
			}
			return must(t, unit.ParseRate, s)
		}
		var spray unit.SprayVolume
		if c.spray != "" {
			spray = must(t, unit.ParseSprayVolume, c.spray)
		}
		var d unit.Density
		if c.density != "" {
			d = must(t, unit.ParseDensity, c.density)
		}
		if got := jar.FitRate(rate(c.rate), mix.RateRange{Low: rate(c.low), High: rate(c.high)}, spray, d); got != c.want {
			t.Errorf("%s in %s to %s = %v, want %v: %s", c.rate, c.low, c.high, got, c.want, c.why)
		}
	}
}

func TestFitSprayVolume(t *testing.T) {
	gpa := func(n int64) unit.SprayVolume { return unit.GallonPerAcre.Of(unit.Int(n)) }
	for _, c := range []struct {
		low, high, at unit.SprayVolume
		want          jar.Fit
		why           string
	}{
		{gpa(10), gpa(40), gpa(10), jar.Within, "the ends are inside"},
		{gpa(10), gpa(40), gpa(40), jar.Within, "both of them"},
		{gpa(10), gpa(40), gpa(9), jar.Below, "too little"},
		{gpa(10), gpa(40), gpa(41), jar.Above, "too much"},
		{gpa(10), unit.SprayVolume{}, gpa(400), jar.Within, "no upper end"},
		{unit.SprayVolume{}, gpa(40), gpa(1), jar.Within, "no lower end"},
		{unit.SprayVolume{}, unit.SprayVolume{}, gpa(15), jar.NotChecked, "no range is never within"},
		{gpa(10), gpa(40), unit.SprayVolume{}, jar.NotChecked, "no spray volume"},
	} {
		p := jar.Product{SprayVolume: [2]unit.SprayVolume{c.low, c.high}}
		if got := p.FitSprayVolume(c.at); got != c.want {
			t.Errorf("got %v, want %v: %s", got, c.want, c.why)
		}
	}
}

func TestConvertRefuses(t *testing.T) {
	rate := must(t, unit.ParseRate, "1 pt/ac")
	for _, c := range []struct {
		r       unit.Rate
		written string
		why     string
	}{
		{unit.Rate{}, "pt/ac", "no rate"},
		{rate, "furlong", "no unit"},
		{rate, "lb/ac", "weight without density"},
		{rate, "% v/v", "by volume of spray without a spray volume"},
	} {
		if got, ok := jar.Convert(c.r, c.written, unit.SprayVolume{}, unit.Density{}); ok {
			t.Errorf("%s: got %v, want none", c.why, got)
		}
	}
}
