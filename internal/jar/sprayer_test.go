package jar_test

import (
	"testing"

	"tankleaf.example/internal/jar"
	"tankleaf.example/internal/unit"
)

func TestSprayVolumeConstants(t *testing.T) {
	// S1, Mesa County: GPA = 5940 GPM ÷ (mph × in), 495 with feet; both exact.
	flow, mph := must(t, unit.ParseFlow, "1 GPM"), must(t, unit.ParseSpeed, "1 mph")
	for width, want := range map[string]string{"1 in": "5940", "1 ft": "495"} {
		got := jar.SprayVolumeOf(flow, mph, must(t, unit.ParseLength, width)).In(unit.GallonPerAcre)
		if got.Short(9) != want || !got.IsInt() {
			t.Errorf("1 GPM at 1 mph over %s = %s GPA, want %s exactly", width, got.Short(9), want)
		}
	}
	// S2, Mesa County: fl oz in a minute ÷ 128 is GPM.
	if got := must(t, unit.ParseFlow, "128 fl oz/min"); !got.Equal(flow) {
		t.Errorf("128 fl oz/min = %v", got)
	}
	// S20, derived: L/ha = 600 × L/min ÷ (km/h × m).
	got := jar.SprayVolumeOf(must(t, unit.ParseFlow, "24 L/min"), must(t, unit.ParseSpeed, "12 km/h"),
		must(t, unit.ParseLength, "12 m"))
	if got.String() != "100 L/ha" {
		t.Errorf("24 L/min at 12 km/h over 12 m = %v, want 100 L/ha", got)
	}
}

func TestPublishedSprayer(t *testing.T) {
	length := func(s string) unit.Length { return must(t, unit.ParseLength, s) }
	speed := func(s string) unit.Speed { return must(t, unit.ParseSpeed, s) }
	flow := func(s string) unit.Flow { return must(t, unit.ParseFlow, s) }
	spray := func(s string) unit.SprayVolume { return must(t, unit.ParseSprayVolume, s) }
	vol := func(s string) unit.Volume { return must(t, unit.ParseVolume, s) }
	for _, c := range []struct {
		row      string
		got      unit.Number
		decimals int
		exact    string
		printed  string // "" when the source prints the exact value
		step     string
		trap     bool
		source   string
	}{
		{"S3", jar.SpeedFor(flow("1.5 GPM"), spray("30 GPA"), length("30 in")).In(unit.MilePerHour), 3, "9.900", "", "", false, montana},
		{"S4", jar.FlowFor(spray("30 GPA"), speed("7 mph"), length("30 in")).In(unit.GallonPerMinute), 4, "1.0606", "1", "1", false,
			montana + ": printed as 1 GPM"},
		{"S5", jar.Covered(vol("500 gal"), spray("30 GPA")).In(unit.Acre), 3, "16.667", "16.6", "0.1", true, montana + ": cut off, not rounded"},
		{"S5", jar.Covered(vol("250 gal"), spray("30 GPA")).In(unit.Acre), 3, "8.333", "8.3", "0.1", false, montana},
		{"S7", jar.Covered(vol("300 gal"), spray("40 GPA")).In(unit.Acre), 3, "7.500", "", "", false, montana},
		{"S13", jar.FlowFor(spray("15 GPA"), speed("10 mph"), length("20 in")).In(unit.GallonPerMinute), 5, "0.50505", "", "", false,
			"South Dakota State Univ. Extension (question); " + derived},
		{"S13", jar.FlowFor(spray("15 GPA"), speed("10 mph"), length("20 in")).In(unit.FluidOuncePerMinute), 2, "64.65", "", "", false, derived},
		{"S14", jar.Applied(vol("1 fl oz"), jar.Swath(length("18.5 ft"), length("18.5 ft"))).In(unit.GallonPerAcre), 4, "0.9943",
			"1", "0.02", false, "Larimer County: 1/128 acre, so that fl oz are GPA; biased by 0.57 %"},
		{"S14", jar.Swath(length("18.5 ft"), length("18.5 ft")).In(unit.SquareFoot), 2, "342.25", "", "", false, "Larimer County"},
		{"S17", jar.Applied(vol("12 gal"), jar.Swath(length("660 ft"), length("10 ft"))).In(unit.GallonPerAcre), 1, "79.2", "", "", false, florida},
		{"S18", jar.SprayVolumeOf(flow("20 fl oz/min"), speed("5 mph"), length("48 in")).In(unit.GallonPerAcre), 2, "3.87", "327", "1", true,
			florida + ": the printed 327 took 5 mph as 5 ft/min and rounded the flow to 0.15 GPM"},
		{"S18", jar.SprayVolumeOf(flow("0.15 GPM"), speed("5 mph"), length("48 in")).In(unit.GallonPerAcre), 2, "3.71", "327", "1", true,
			florida + ": with the page's own rounded flow"},
		{"S24", spray("1 GPA").In(unit.LiterPerHectare), 6, "9.353956", "9.35", "0.01", false, "Pesticide Environmental Stewardship"},
		{"S26", spray("1 GPA").In(unit.GallonPerThousandSquareFeet), 5, "0.02296", "0.023", "0.001", false, "Ohio State Univ. Extension column"},
	} {
		if c.got.Fixed(c.decimals) != c.exact {
			t.Errorf("%s = %s, want %s (%s)", c.row, c.got.Fixed(c.decimals), c.exact, c.source)
		}
		if c.printed != "" && near(t, c.got, c.printed, c.step) == c.trap {
			t.Errorf("%s: printed %s, exact %s, trap %v (%s)", c.row, c.printed, c.got.Fixed(4), c.trap, c.source)
		}
	}
}

// S25, Pesticide Environmental Stewardship: seconds for 200 ft, within a second of
// the chart everywhere, and one cell of its longer course.
func TestTravelTimes(t *testing.T) {
	for _, c := range []struct {
		distance, speed string
		printed         int64
		exact           string
	}{
		{"200 ft", "3 mph", 45, "45.45"}, {"200 ft", "4 mph", 34, "34.09"}, {"200 ft", "5 mph", 27, "27.27"},
		{"200 ft", "6 mph", 23, "22.73"}, {"300 ft", "2.5 mph", 81, "81.82"},
	} {
		d, v := must(t, unit.ParseLength, c.distance), must(t, unit.ParseSpeed, c.speed)
		took := jar.Travel(d, v)
		s := took.In(unit.Second)
		if s.Fixed(2) != c.exact {
			t.Errorf("%s at %s takes %s s, want %s", c.distance, c.speed, s.Fixed(2), c.exact)
		}
		if !near(t, s, unit.Int(c.printed).Short(0), "2") {
			t.Errorf("%s at %s: printed %d s, exact %s s: more than a second apart", c.distance, c.speed, c.printed, s.Fixed(2))
		}
		if back := jar.SpeedOver(d, took); !back.Equal(v) {
			t.Errorf("%s in %v is %v, want %s", c.distance, took, back, c.speed)
		}
	}
}

func TestNozzleRoundTrip(t *testing.T) {
	v, s, w := must(t, unit.ParseSprayVolume, "17.3 gal/ac"), must(t, unit.ParseSpeed, "6.2 mph"), must(t, unit.ParseLength, "20 in")
	f := jar.FlowFor(v, s, w)
	if !jar.SprayVolumeOf(f, s, w).Equal(v) || !jar.SpeedFor(f, v, w).Equal(s) {
		t.Error("flow, speed and spray volume must undo one another exactly")
	}
}

// Carrier factors: the square root of density, by Bernoulli's equation. Charts of
// nozzle makers and bulletins print two decimals (from memory: 0.92, 0.98, 1.00,
// 1.13, 1.15).
func TestCarrierFactor(t *testing.T) {
	for _, c := range []struct{ density, exact, printed string }{
		{"7 lb/gal", "0.915852", "0.92"},
		{"8 lb/gal", "0.979087", "0.98"},
		{"8.34 lb/gal", "0.999676", "1.00"},
		{"10.65 lb/gal", "1.129669", "1.13"},
		{"11.06 lb/gal", "1.151208", "1.15"},
		{"1 g/mL", "1.000000", "1"},
		{"1.44 g/mL", "1.200000", "1.2"},
	} {
		d := must(t, unit.ParseDensity, c.density)
		got := jar.CarrierFactor(d)
		if got.Fixed(6) != c.exact || !near(t, got, c.printed, "0.01") {
			t.Errorf("factor of %s = %s, want %s, printed %s", c.density, got.Fixed(6), c.exact, c.printed)
		}
		f := must(t, unit.ParseFlow, "0.4 GPM")
		if back := jar.FlowOfCarrier(jar.FlowOfWater(f, d), d); !back.Equal(f) {
			t.Errorf("flow through %s and back = %v", c.density, back)
		}
	}
}
