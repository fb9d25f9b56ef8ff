package page

import (
	"strconv"
	"strings"
	"unicode"
	"unicode/utf8"

	"tankleaf.example/internal/jar"
	"tankleaf.example/internal/mix"
	"tankleaf.example/internal/unit"
)

// Quantities are shown in the office's system with the other one in brackets, so
// that no reader has to convert at the tank.

// systems returns the office's own system of units and the other one.
func (e *edition) systems() (first, second unit.System) {
	if e.book().Site.Metric {
		return unit.Metric, unit.US
	}
	return unit.US, unit.Metric
}

// volume writes a volume in both systems, each in one unit: "1 qt (946 mL)",
// "1.34 qt (1.27 L)". A volume that is whole milliliters and no whole US unit was
// meant in metric, and stands so first.
func (e *edition) volume(v unit.Volume) string {
	a, b := e.systems()
	if v.Base().IsInt() {
		a, b = unit.Metric, unit.US
	}
	return e.both(oneUnit(v, a), oneUnit(v, b))
}

// oneUnit writes a volume in one unit of a system: the one that holds it without a
// rest when there is one, else a decimal number of quarts or fluid ounces, liters or
// milliliters.
func oneUnit(v unit.Volume, s unit.System) string {
	small, large := unit.Milliliter, unit.Liter
	if s == unit.US {
		small, large = unit.FluidOunce, unit.Quart
	}
	if split := unit.SplitVolume(v, s).String(); !strings.Contains(split, "+") {
		return split
	}
	if v.In(unit.Liter).Cmp(unit.Int(1)) < 0 {
		return v.In(small).Short(1) + " " + small.Name
	}
	return v.In(large).Short(2) + " " + large.Name
}

// both joins two spellings of one quantity.
func (e *edition) both(first, second string) string {
	if first == second || second == "" {
		return first
	}
	return e.t("unit.both", "first", first, "second", second)
}

// sprayVolume writes a spray volume in both systems.
func (e *edition) sprayVolume(v unit.SprayVolume) string {
	us, metric := unit.GallonPerAcre.Format(v, 1), unit.LiterPerHectare.Format(v, 0)
	if e.book().Site.Metric {
		return e.both(metric, us)
	}
	return e.both(us, metric)
}

// temperature writes a temperature that is kept in °C.
func (e *edition) temperature(celsius mix.Value) string {
	if !celsius.Known {
		return ""
	}
	t := unit.Celsius.Of(celsius.N)
	c, f := unit.Celsius.Format(t, 1), unit.Fahrenheit.Format(t, 0)
	if e.book().Site.Metric {
		return e.both(c, f)
	}
	return e.both(f, c)
}

// rise writes a difference of temperatures kept in °C.
func (e *edition) rise(celsius unit.Number) string {
	f := celsius.Mul(unit.Frac(9, 5))
	c, fahrenheit := celsius.Short(1)+" °C", f.Short(1)+" °F"
	if e.book().Site.Metric {
		return e.both(c, fahrenheit)
	}
	return e.both(fahrenheit, c)
}

// duration writes a time in words a person would use.
func (e *edition) duration(d unit.Duration) string {
	minutes := d.Base()
	for _, step := range []struct {
		minutes int64
		key     string
	}{{1440, "duration.d"}, {60, "duration.h"}} {
		if n := minutes.Quo(unit.Int(step.minutes)); n.Cmp(unit.Int(1)) >= 0 && n.IsInt() {
			whole, _ := n.Int64()
			return e.t(step.key, "n", int(whole))
		}
	}
	if minutes.Sign() == 0 {
		return e.t("duration.none")
	}
	return e.t("duration.min", "n", minutes.Short(1))
}

// metricRates are the metric units that US ones by area turn into.
var otherRates = map[unit.Basis][2]string{
	unit.VolumePerArea: {"fl oz/ac", "L/ha"},
	unit.MassPerArea:   {"lb/ac", "kg/ha"},
}

// rate writes a rate as it was written, and rates by area in the other system
// too.
func (e *edition) rate(r unit.Rate) string {
	if r.IsZero() {
		return e.t("rate.none")
	}
	units, ok := otherRates[r.Basis()]
	if !ok {
		return r.String()
	}
	other := units[1]
	if r.Unit() == "L/ha" || r.Unit() == "kg/ha" || r.Unit() == "mL/ha" || r.Unit() == "g/ha" {
		other = units[0]
	}
	c, ok := jar.Convert(r, other, unit.SprayVolume{}, unit.Density{})
	if !ok {
		return r.String()
	}
	return e.both(r.String(), c.Number().Short(decimals(c.Number()))+" "+other)
}

// decimals keeps about three figures of a number above 0.
func decimals(n unit.Number) int {
	for d, limit := 0, unit.Int(100); d < 4; d, limit = d+1, limit.Quo(unit.Int(10)) {
		if n.Cmp(limit) >= 0 {
			return d
		}
	}
	return 4
}

// rateRange writes the range of a label.
func (e *edition) rateRange(r mix.RateRange) string {
	if r.IsZero() {
		return ""
	}
	if r.Low.IsZero() || r.Low.Comparable(r.High) && r.Low.Cmp(r.High) == 0 {
		return e.rate(r.High)
	}
	low, high := r.Low.String(), r.High.String()
	if r.Low.Unit() == r.High.Unit() {
		low = r.Low.Number().Short(4)
	}
	return e.t("rate.range", "low", low, "high", high)
}

// percent writes an exact share from 0 to 1: "25 %".
func (e *edition) percent(n unit.Number) string {
	return e.t("number.percent", "n", n.Mul(unit.Int(100)).Short(1))
}

// capital begins a label with a capital letter; "pH" stays as it is.
func capital(s string) string {
	first, size := utf8.DecodeRuneInString(s)
	if second, _ := utf8.DecodeRuneInString(s[size:]); unicode.IsUpper(second) {
		return s
	}
	return string(unicode.ToUpper(first)) + s[size:]
}

// atoi writes a plain number without grouping, as in years and ids.
func atoi(n int) string { return strconv.Itoa(n) }
