package planner_test

import (
	"strings"
	"testing"

	"tankleaf.example/internal/jar"
	"tankleaf.example/internal/mix"
	"tankleaf.example/internal/unit"
)

// filled is a calculator with what is typed into it.
type filled struct {
	why, id string
	typed   [][2]string // field, text
	want    []string    // in the result; "!" before what must not be there
}

// TestCalculators fills every calculator in and holds the results to Go's sums and to
// published rows, whose sources stand beside the same rows in internal/jar.
func TestCalculators(t *testing.T) {
	s := openSite(t)
	s.open("calculators.html", 1280)
	s.wait(`document.querySelector(".calcs") !== null`)
	flow, speed, spacing := must(unit.ParseFlow("0.4 gal/min")), must(unit.ParseSpeed("5 mph")), must(unit.ParseLength("20 in"))
	put := jar.SprayVolumeOf(flow, speed, spacing)
	density := must(unit.ParseDensity("10.7 lb/gal"))
	ions := jar.Ions{Calcium: mix.Known(unit.Int(84)), Magnesium: mix.Known(unit.Frac(243, 10)), Sodium: mix.Known(unit.Int(22))}
	sulfate, _ := jar.AmmoniumSulfate(ions)
	hard := jar.HardnessOf(unit.PartPerMillion.Of(unit.Int(84)), unit.PartPerMillion.Of(unit.Frac(243, 10)))
	product := must(jar.FromActive(must(unit.ParseRate("0.75 lb/ac")), must(unit.ParseStrength("4 lb/gal")), "pt/ac", unit.Density{}))
	for _, c := range []filled{
		{"a rate by area", "load", [][2]string{{"rate", "1.5 pt/ac"}, {"area", "80 ac"}, {"spray", "15 gal/ac"}, {"tank", "500 gal"}},
			[]string{"15 gal", "1200 gal", "33.33 ac", "6 gal + 1 qt", "2.4", "1.5 pt/ac × 80 ac = 15 gal"}},
		{"a rate by volume needs the spray volume", "load", [][2]string{{"rate", "1 qt/100 gal"}, {"area", "10 ac"}, {"spray", ""}, {"tank", ""}},
			[]string{s.words.T("calculators.needs-spray"), "!="}},
		{"a rate by volume", "load", [][2]string{{"spray", "20 gal/ac"}}, []string{"2 qt", "200 gal"}},
		{"spray volume", "nozzle", [][2]string{{"flow", "0.4 gal/min"}, {"speed", "5 mph"}, {"spacing", "20 in"}},
			[]string{unit.GallonPerAcre.Format(put, 1), unit.LiterPerHectare.Format(put, 0), "5940 × 0.4 gal/min"}},
		{"flow", "nozzle", [][2]string{{"flow", ""}, {"spray", "20 gal/ac"}},
			[]string{unit.GallonPerMinute.Format(jar.FlowFor(must(unit.ParseSprayVolume("20 gal/ac")), speed, spacing), 3)}},
		{"speed", "nozzle", [][2]string{{"flow", "0.4 gal/min"}, {"speed", ""}},
			[]string{unit.MilePerHour.Format(jar.SpeedFor(flow, must(unit.ParseSprayVolume("20 gal/ac")), spacing), 1)}},
		{"nothing is left to work out", "nozzle", [][2]string{{"speed", "5 mph"}}, []string{s.words.T("calculators.leave-one"), "!="}},
		{"a standing sprayer", "nozzle", [][2]string{{"speed", "0 mph"}, {"spray", ""}}, []string{s.words.T("calculators.wrong", "fields", s.words.T("calculators.ask.speed")), "!="}},
		{"by stopwatch", "pace", [][2]string{{"distance", "200 ft"}, {"time", "27 s"}, {"caught", "32 fl oz"}}, []string{"5.1 mph", "0.556 gal/min"}},
		{"a heavy carrier", "carrier", [][2]string{{"density", "10.7 lb/gal"}, {"flow", "0.4 gal/min"}},
			[]string{jar.CarrierFactor(density).Short(3), unit.GallonPerMinute.Format(jar.FlowOfWater(flow, density), 3)}},
		{"percent and per 100", "rates", [][2]string{{"rate", "0.25 % v/v"}, {"spray", "20 gal/ac"}}, []string{"1 qt/100 gal", "32 fl oz/100 gal", "6.4 fl oz/ac"}},
		{"a comma", "rates", [][2]string{{"rate", "1,5 L/ha"}}, []string{"!L/ha", "!gal", "!ac"}},
		{"from active to product", "active", [][2]string{{"active-rate", "0.75 lb/ac"}, {"strength", "4 lb/gal"}}, []string{product.String()}},
		{"water", "water", [][2]string{{"calcium", "84"}, {"magnesium", "24.3"}, {"sodium", "22 ppm"}},
			[]string{sulfate.Rate.Number().Short(1) + " lb/100 gal", unit.PartPerMillion.Format(hard, 0), unit.GrainPerGallon.Format(hard, 1),
				s.words.T("calculators.missing-ions", "ions", "Potassium, Iron"), "8.5 to 17 lb/100 gal"}},
		{"no ion", "water", [][2]string{{"calcium", ""}, {"magnesium", ""}, {"sodium", ""}}, []string{s.words.T("calculators.needs-ion"), "!lb/100 gal"}},
		{"units", "units", [][2]string{{"quantity", "1.5 pt"}}, []string{"0.1875 gal", "0.75 qt", "24 fl oz", "709.8 mL"}},
		{"a temperature", "units", [][2]string{{"quantity", "-40 °F"}}, []string{"-40 °C"}},
		{"a backpack", "small", [][2]string{{"rate", "2 qt/ac"}, {"spray-small", "1 gal/1000 sq ft"}, {"backpack", "4 gal"}},
			[]string{"5.88 fl oz", "173.8 mL", "4000 sq ft", "1.47 fl oz"}},
		{"standing", "standing", [][2]string{{"active", "testin"}, {"ph", "7"}, {"wait", "4 h"}}, []string{"50 %", "4 h", s.words.T("lasting.no-leave")}},
		{"standing between points", "standing", [][2]string{{"ph", "8"}}, []string{"25 %", "2 h"}},
		{"standing outside of what is published", "standing", [][2]string{{"ph", "4"}}, []string{s.words.T("lasting.not-known"), s.words.T("calculators.lasting-silent"), "!%"}},
		{"gas", "gas", [][2]string{{"material", "potassium-bicarbonate"}, {"weight", "20 g"}, {"liquid", "700 mL"}, {"vessel", "946 mL"}, {"temperature", "25 °C"}},
			[]string{"4.89 L", "kPa", s.words.T("gas-most.never")}},
		{"more liquid than the vessel holds", "gas", [][2]string{{"liquid", "1 L"}}, []string{s.words.T("calculators.overfull"), "!kPa"}},
	} {
		s.fillIn(c)
	}
	if n, m := len(s.texts(".calc .formula")), len(s.texts(".calc")); n != m || m < 11 {
		t.Errorf("%d calculators, %d formulas", m, n)
	}
}

// TestCalculatorsInEitherUnits fills everything in and chooses units: the first figure
// of an answer is in them.
func TestCalculatorsInEitherUnits(t *testing.T) {
	s := openSite(t)
	s.openTool("calculators.html", 1280)
	for i, units := range []string{"us", "metric"} {
		s.fillEverything(units)
		for _, c := range []struct {
			id    string
			nth   int       // of the answers
			units [2]string // at the end of its first figure
		}{
			{"load", 0, [2]string{" gal", " mL"}}, {"load", 1, [2]string{" gal", " L"}}, {"small", 0, [2]string{" fl oz", " mL"}}, {"nozzle", 0, [2]string{" gal/ac", " L/ha"}},
			{"pace", 0, [2]string{" mph", " km/h"}}, {"carrier", 0, [2]string{" gal/min", " L/min"}}, {"rates", 0, [2]string{" fl oz/ac", " L/ha"}},
			{"active", 0, [2]string{" pt/ac", " L/ha"}}, {"water", 1, [2]string{" lb/100 gal", " kg/100 L"}}, {"gas", 0, [2]string{" gal", " L"}}, {"gas", 1, [2]string{" psi", " kPa"}},
		} {
			if got := s.texts("#" + c.id + " .answers b")[c.nth]; !strings.HasSuffix(got, c.units[i]) {
				t.Errorf("%s, %s first: %q", c.id, units, got)
			}
		}
	}
}

// fillIn types into a calculator and reads its result.
func (s *site) fillIn(c filled) {
	s.t.Helper()
	for _, f := range c.typed {
		s.set(c.id+"-"+f[0], f[1])
	}
	got := strings.ReplaceAll(s.texts("#" + c.id + " .calc-out")[0], "\u00a0", " ")
	for _, want := range c.want {
		if no, absent := strings.CutPrefix(want, "!"); absent && strings.Contains(got, no) || !absent && !strings.Contains(got, want) {
			s.t.Errorf("%s: %q, want %q", c.why, got, want)
		}
	}
}

// withHalfLives gives a book an active whose half-life is 4 h at pH 7 and 1 h at
// pH 9, so that at pH 8 it is 2 h.
func withHalfLives(b *mix.Book) *mix.Book {
	point := func(ph, hours int64) mix.HalfPoint {
		at := mix.Bound{Set: true, Value: unit.Int(hours * 60)}
		return mix.HalfPoint{PH: [2]unit.Number{unit.Int(ph), unit.Int(ph)}, Low: at, High: at}
	}
	b.HalfLives = append(b.HalfLives, mix.HalfLife{ID: "testin", Active: "testin", Points: []mix.HalfPoint{point(7, 4), point(9, 1)},
		Sources: []mix.Cite{{Ref: mix.Ref{ID: "paper"}}}})
	return b
}
