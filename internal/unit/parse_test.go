package unit_test

import (
	"errors"
	"fmt"
	"strings"
	"testing"

	"tankleaf.example/internal/unit"
)

// read calls the parser of a noun and returns what it read as it prints itself.
func read(noun, s string) (string, error) {
	show := func(v fmt.Stringer, err error) (string, error) { return v.String(), err }
	number := func(n unit.Number, err error) (string, error) { return n.Short(9), err }
	switch noun {
	case "volume":
		return show(unit.ParseVolume(s))
	case "weight":
		return show(unit.ParseMass(s))
	case "area":
		return show(unit.ParseArea(s))
	case "length":
		return show(unit.ParseLength(s))
	case "density":
		return show(unit.ParseDensity(s))
	case "temperature":
		return show(unit.ParseTemperature(s))
	case "time":
		return show(unit.ParseDuration(s))
	case "flow":
		return show(unit.ParseFlow(s))
	case "speed":
		return show(unit.ParseSpeed(s))
	case "spray volume":
		return show(unit.ParseSprayVolume(s))
	case "content":
		return show(unit.ParseContent(s))
	case "rate":
		return show(unit.ParseRate(s))
	case "amount":
		return show(unit.ParseAmount(s))
	case "percentage":
		return number(unit.ParsePercent(s))
	case "number":
		return number(unit.ParseNumber(s))
	case "strength":
		return show(unit.ParseStrength(s))
	case "temperature rise":
		return number(unit.ParseRise(s))
	}
	panic("no parser for " + noun)
}

var nouns = []string{"volume", "weight", "area", "length", "density", "temperature", "time", "flow", "speed",
	"spray volume", "content", "rate", "amount", "percentage", "number", "strength", "temperature rise"}

// accepted are spellings of the trade and how they print.
var accepted = []struct{ noun, in, want, why string }{
	{"rate", "10 fl oz/ac", "10 fl oz/ac", "as printed"},
	{"rate", "1.5 pt/ac", "1.5 pt/ac", "as printed"},
	{"rate", "2 lb/100 gal", "2 lb/100 gal", "by volume of spray"},
	{"rate", "0.25 % v/v", "0.25 % v/v", "percent"},
	{"rate", "0.25% v/v", "0.25 % v/v", "no space"},
	{"rate", "0.25%v/v", "0.25 % v/v", "no space at all"},
	{"rate", "1 % w/v", "1 % w/v", "weight in volume"},
	{"rate", "1 percent (v/v)", "1 % v/v", "in words"},
	{"rate", "1.2 L/ha", "1.2 L/ha", "metric"},
	{"rate", "50 ppm", "50 ppm", "parts per million"},
	{"rate", "1/2 pt/ac", "0.5 pt/ac", "a fraction before a bar"},
	{"rate", "1 1/2 qt/ac", "1.5 qt/ac", "a mixed number"},
	{"rate", "½ pt/ac", "0.5 pt/ac", "a fraction in one character"},
	{"rate", "1½ pt/acre", "1.5 pt/ac", "and after a whole number"},
	{"rate", "1⁄3 pt/ac", "1/3 pt/ac", "fraction slash; no decimal end"},
	{"rate", "2 2/3 oz/ac", "2 2/3 oz/ac", "mixed, no decimal end"},
	{"rate", "2 oz/A", "2 oz/ac", "capital A is an acre; oz is a weight"},
	{"rate", "10 fl. oz./acre", "10 fl oz/ac", "full stops"},
	{"rate", "3 FL OZ per 1000 sq ft", "3 fl oz/1000 sq ft", "per, capitals, lawn area"},
	{"rate", "5 mL/m2", "5 mL/m²", "square meters"},
	{"rate", "5 mL/100 m²", "5 mL/100 m²", "a count of square meters"},
	{"rate", "2 gallons / 100 gallons", "2 gal/100 gal", "words and spaces"},
	{"rate", "4 g/L", "4 g/L", "a count of one is left out"},
	{"rate", "4\u00a0oz/gal", "4 oz/gal", "a space that does not break"},
	{"volume", "1 qt", "1 qt", ""},
	{"volume", "946.352946 mL", "1 qt", "the exact number of mL in a quart"},
	{"volume", "16 fl oz", "1 pt", "printed in the shortest unit"},
	{"volume", "500mL", "500 mL", "no space"},
	{"volume", "2.5 Gal.", "10 qt", "shortest again"},
	{"volume", "1 l", "1 L", "small l"},
	{"weight", "8 oz", "8 oz", ""},
	{"weight", "1 1/4 lbs", "20 oz", ""},
	{"area", "80 ac", "80 ac", ""},
	{"area", "1/2 acre", "0.5 ac", ""},
	{"area", "5000 sq ft", "5000 sq ft", ""},
	{"area", "12.5 ha", "12.5 ha", ""},
	{"length", "20 in", "20 in", ""},
	{"length", "50 cm", "50 cm", ""},
	{"density", "1.28 g/mL", "1.28 g/mL", ""},
	{"density", "1.28 kg/L", "1.28 g/mL", "the same density"},
	{"density", "10.65 pounds per gallon", "10.65 lb/gal", "words"},
	{"temperature", "50 F", "50 °F", ""},
	{"temperature", "-2 °C", "-2 °C", "may be below zero"},
	{"temperature", "−40 deg C", "-40 °F", "typographic minus"},
	{"temperature", "-273.15 °C", "-459.67 °F", "absolute zero itself"},
	{"percentage", "100 %", "1", "all of it"},
	{"strength", "100 % w/w", "100 % w/w", "nothing but active"},
	{"time", "15 min", "15 min", ""},
	{"time", "2 hours", "2 h", ""},
	{"time", "1440 min", "24 h", "a day is seldom written"},
	{"flow", "0.4 GPM", "0.4 gal/min", ""},
	{"flow", "64 fl oz per minute", "64 fl oz/min", ""},
	{"speed", "5 mph", "5 mph", ""},
	{"speed", "8 km/h", "8 km/h", ""},
	{"spray volume", "15 gal/ac", "15 gal/ac", ""},
	{"spray volume", "15 GPA", "15 gal/ac", ""},
	{"spray volume", "140 L/ha", "140 L/ha", ""},
	{"spray volume", "2 gallons per 1000 square feet", "2 gal/1000 sq ft", ""},
	{"content", "342 ppm", "342 ppm", ""},
	{"content", "20 grains/gal", "20 gpg", ""},
	{"content", "250 mg/L", "250 ppm", "1 ppm is 1 mg/L"},
	{"amount", "2.5 gal", "10 qt", "a volume"},
	{"amount", "8 oz", "8 oz", "a weight"},
	{"percentage", "5 %", "0.05", "a fraction of one"},
	{"percentage", "12.5%", "0.125", ""},
	{"number", "1 1/2", "1.5", ""},
	{"number", " 0.25 ", "0.25", "outer space"},
	{"strength", "4 lb/gal", "4 lb/gal", ""},
	{"strength", "480 g/L", "480 g/L", ""},
	{"strength", "80 % w/w", "80 % w/w", ""},
	{"strength", "500 g/kg", "50 % w/w", "weight in weight"},
	{"strength", "25 % w/v", "250 g/L", "weight in volume"},
	{"temperature rise", "9 °F", "5", "no offset"},
}

func TestAccepted(t *testing.T) {
	for _, c := range accepted {
		got, err := read(c.noun, c.in)
		if err != nil || got != c.want {
			t.Errorf("%s %q = %q, %v; want %q: %s", c.noun, c.in, got, err, c.want, c.why)
		}
	}
}

func TestParsersAreAllThere(t *testing.T) {
	seen := map[string]bool{}
	for _, c := range accepted {
		seen[c.noun] = true
	}
	for _, n := range nouns {
		if !seen[n] {
			t.Errorf("no accepted example of a %s", n)
		}
	}
}

// refused are inputs that must not become a quantity, with the exact answer.
var refused = []struct {
	noun, in  string
	offset    int
	msg, hint string
}{
	{"rate", "", 0, `rate "" is empty`, `write "1.5 pt/ac"`},
	{"rate", "  ", 0, `rate "" is empty`, `write "1.5 pt/ac"`},
	{"rate", "2 L", 3, `rate "2 L" has no area`, `write "2 L/ha", or "2 L/100 L" for a rate by volume of spray`},
	{"rate", "2 lb", 4, `rate "2 lb" has no area`, `write "2 lb/ac", or "2 lb/100 gal" for a rate by volume of spray`},
	{"rate", "2", 1, `rate "2" has no unit`, `write "1.5 pt/ac" or another amount per area or per volume of spray`},
	{"rate", "-1 pt/ac", 0, `rate "-1 pt/ac" is negative`, `write "1.5 pt/ac"`},
	{"rate", "1e3 L/ha", 1, `rate "1e3 L/ha" has an exponent`, `write all digits of the number`},
	{"rate", "1E3 L/ha", 1, `rate "1E3 L/ha" has an exponent`, `write all digits of the number`},
	{"rate", "1e-3 L/ha", 1, `rate "1e-3 L/ha" has an exponent`, `write all digits of the number`},
	{"rate", "1e+3 L/ha", 1, `rate "1e+3 L/ha" has an exponent`, `write all digits of the number`},
	{"rate", "1 e L/ha", 2, `rate "1 e L/ha" has the unknown unit "e L"`,
		`units are gal, qt, pt, fl oz, L, mL, lb, oz, kg, g, mg`},
	{"rate", "−1 pt/ac", 0, `rate "−1 pt/ac" is negative`, `write "1.5 pt/ac"`},
	{"rate", "–1 pt/ac", 0, `rate "–1 pt/ac" is negative`, `write "1.5 pt/ac"`},
	{"rate", "1 2/2 pt/ac", 2, `rate "1 2/2 pt/ac" has a fraction of 1 or more after a whole number`,
		`write it as one decimal number`},
	{"rate", "1 2/ac", 1, `rate "1 2/ac" has a gap between its digits`, `write "12" without the gap`},
	{"volume", "1’000 mL", 1, `volume "1’000 mL" has a mark between its digits`, `write "1000"`},
	{"volume", "1_000 mL", 1, `volume "1_000 mL" has a mark between its digits`, `write "1000"`},
	{"rate", "1,5 L/ha", 1, `rate "1,5 L/ha" has a comma in its number`, `write "1.5" with a point`},
	{"rate", "1,000 mL/ha", 1, `rate "1,000 mL/ha" has a comma that may be a decimal point or a mark for thousands`,
		`write "1000" or "1.000"`},
	{"rate", "0,125 L/ha", 1, `rate "0,125 L/ha" has a comma in its number`, `write "0.125" with a point`},
	{"rate", "1 000 mL/ha", 1, `rate "1 000 mL/ha" has a gap between its digits`, `write "1000" without the gap`},
	{"rate", "1-2 pt/ac", 1, `rate "1-2 pt/ac" is a range`, `write one number; a range has a key for each end`},
	{"rate", "1 to 2 pt/ac", 2, `rate "1 to 2 pt/ac" is a range`, `write one number; a range has a key for each end`},
	{"rate", "0.5 lb ai/ac", 4, `rate "0.5 lb ai/ac" is a rate of active ingredient or acid equivalent`,
		`write the rate of the product, worked out from its content of active`},
	{"rate", "5 %", 2, `rate "5 %": "%" does not say of what`,
		`write "% v/v" for volume in volume, "% w/v" for weight in volume`},
	{"rate", "5 % w/w", 2, `rate "5 % w/w": "% w/w" needs the density of the spray`,
		`write "% w/v", weight in volume of spray`},
	{"rate", "2 gallns/ac", 2, `rate "2 gallns/ac" has the unknown unit "gallns"`, `did you mean "gal"?`},
	{"rate", "2 qt/acer", 5, `rate "2 qt/acer" has the unknown unit "acer"`, `did you mean "ac"?`},
	{"rate", "2 qt/row", 5, `rate "2 qt/row" has the unknown unit "row"`,
		`units are ac, ha, sq ft, m², gal, qt, pt, fl oz, L, mL`},
	{"rate", "2 pt/", 5, `rate "2 pt/" has no area`, `write "2 pt/ac", or "2 pt/100 gal" for a rate by volume of spray`},
	{"spray volume", "5 gal/furlong", 2, `spray volume "5 gal/furlong" has the unknown unit "gal/furlong"`,
		`units are gal/ac, L/ha, gal/1000 sq ft, mL/m²`},
	{"rate", "2 pt/acr", 5, `rate "2 pt/acr" has the unknown unit "acr"`, `did you mean "ac"?`},
	{"rate", "2 pt/galon", 5, `rate "2 pt/galon" has the unknown unit "galon"`, `did you mean "gal"?`},
	{"rate", "15 GPA", 3, `rate "15 GPA" is in a unit of spray volume`,
		`write a unit of volume or weight: gal, qt, pt, fl oz, L, mL, lb, oz, kg, g, mg`},
	{"rate", "2 pt/ac please", 5, `rate "2 pt/ac please" has "please" after its unit`, `write "2 pt/ac"`},
	{"rate", "1 tsp/gal", 2, `rate "1 tsp/gal": "tsp" is a kitchen measure, which doses nothing exactly`,
		`write liquids in "fl oz" or "mL" and weigh dry products in "oz" or "g"`},
	{"rate", "0.0 pt/ac", 0, `rate "0.0 pt/ac" is zero`, `leave the product out, or write "1.5 pt/ac"`},
	{"rate", ".5 pt/ac", 0, `rate ".5 pt/ac" starts with a point, which is easily lost in print`,
		`write a 0 before the point, as in "0.5"`},
	{"rate", "2. pt/ac", 1, `rate "2. pt/ac" ends its number with a point`, `write "2" without the point`},
	{"rate", "1.2.3 pt/ac", 3, `rate "1.2.3 pt/ac" has two points in its number`, `write "1.2", with one point`},
	{"rate", "2 pt/0 ac", 5, `rate "2 pt/0 ac" is per a count that starts with 0`, `write "1.5 pt/ac"`},
	{"rate", "2 pt/12345 ac", 5, `rate "2 pt/12345 ac" is per too many of its base`, `use a count of at most 4 digits`},
	{"rate", "2 pt/1,000 sq ft", 5, `rate "2 pt/1,000 sq ft" has a comma in the count of its base`,
		`write "1000" without a comma`},
	{"rate", "2 pt/a", 5, `rate "2 pt/a": "a" may be an acre or an are`, `write "ac" for acres, "ha" for hectares`},
	{"rate", "3 ML/ha", 2, `rate "3 ML/ha": "ML" is a million liters`, `write "mL" for milliliters`},
	{"rate", "010 pt/ac", 0, `rate "010 pt/ac" has a number with leading zeros`, `write "10"`},
	{"rate", "1/0 pt/ac", 0, `rate "1/0 pt/ac" divides by zero`, `write "1/2"`},
	{"rate", "1/12345 pt/ac", 0, `rate "1/12345 pt/ac" has a fraction of too many digits`,
		`write it as a decimal with a point`},
	{"rate", "1 3/2 pt/ac", 2, `rate "1 3/2 pt/ac" has a fraction of 1 or more after a whole number`,
		`write it as one decimal number`},
	{"rate", "ten pt/ac", 0, `rate "ten pt/ac" does not start with a number`, `write "1.5 pt/ac"`},
	{"rate", "1234567890 pt/ac", 0, `rate "1234567890 pt/ac" is too large: more than 9 digits`,
		`check the number and its unit`},
	{"rate", "0.1234567891 pt/ac", 11, `rate "0.1234567891 pt/ac" has more than 9 decimals`,
		`write at most 9 digits after the point`},
	{"rate", "½ ½ pt/ac", 1, `rate "½ ½ pt/ac" has two numbers`, `write "1.5 pt/ac"`},
	{"rate", "1.5 1/2 pt/ac", 3, `rate "1.5 1/2 pt/ac" has two numbers`, `write "1.5 pt/ac"`},
	{"rate", "1 pt/ac\x00", 7, `rate holds a control character`, `write "1.5 pt/ac"`},
	{"rate", "1 pt/\xff", 0, `rate is not valid UTF-8 text`, `write "1.5 pt/ac"`},
	{"volume", "10 oz", 3, `volume "10 oz" is in ounces of weight`, `write "10 fl oz" for a liquid`},
	{"volume", "5 lb", 2, `volume "5 lb" is in a unit of weight`, `write a unit of volume: gal, qt, pt, fl oz, L, mL`},
	{"volume", "1 cup", 2, `volume "1 cup": "cup" is a kitchen measure, which doses nothing exactly`,
		`write liquids in "fl oz" or "mL" and weigh dry products in "oz" or "g"`},
	{"volume", "1'000 mL", 1, `volume "1'000 mL" has a mark between its digits`, `write "1000"`},
	{"volume", "1, mL", 1, `volume "1, mL" has a comma after its number`, `write it without the comma`},
	{"volume", "+1 mL", 0, `volume "+1 mL" starts with "+"`, `write it without the sign`},
	{"weight", "2 fl oz", 2, `weight "2 fl oz" is in a unit of volume`, `write a unit of weight: lb, oz, kg, g, mg`},
	{"density", "0 g/mL", 0, `density "0 g/mL" is zero`, `write "1.28 g/mL"`},
	{"spray volume", "0 gal/ac", 0, `spray volume "0 gal/ac" is zero`, `write "15 gal/ac"`},
	{"spray volume", "15 gal", 3, `spray volume "15 gal" is in a unit of volume`,
		`write a unit of spray volume: gal/ac, L/ha, gal/1000 sq ft, mL/m²`},
	{"temperature", "-300 °C", 0, `temperature "-300 °C" is below absolute zero`, `write "50 °F"`},
	{"temperature", "20 K", 3, `temperature "20 K" has the unknown unit "K"`, `units are °F, °C`},
	{"percentage", "5", 1, `percentage "5" has no %`, `write "5 %"`},
	{"percentage", "101 %", 0, `percentage "101 %" is above 100 %`, `write 0 to 100 %`},
	{"percentage", "5 % v/v", 1, `percentage "5 % v/v" has more than a number and %`, `write "5 %"`},
	{"number", "5 gal", 1, `number "5 gal" is followed by "gal"`, `write the number alone`},
	{"strength", "80 %", 3, `strength "80 %" does not say per cent of what`,
		`write "80 % w/w" for weight in weight, "% w/v" for weight in volume`},
	{"strength", "0 g/L", 0, `strength "0 g/L" is zero`, `write "4 lb/gal"`},
	{"strength", "120 % w/w", 0, `strength "120 % w/w" is more than all of the product`, `check the number and its unit`},
	{"strength", "4 lb", 2, `strength "4 lb" is in a unit of weight`,
		`write a unit of weight per volume or per weight: lb/gal, g/L, % w/w, g/kg, % w/v`},
	{"amount", "5 ac", 1, `amount "5 ac" is in a unit of area`,
		`write a unit of volume or weight: gal, qt, pt, fl oz, L, mL, lb, oz, kg, g, mg`},
}

func TestRefused(t *testing.T) {
	for _, c := range refused {
		_, err := read(c.noun, c.in)
		var se *unit.SyntaxError
		if !errors.As(err, &se) {
			t.Errorf("%s %q: got %v, want a SyntaxError", c.noun, c.in, err)
			continue
		}
		want := unit.SyntaxError{Code: se.Code, Offset: c.offset, Msg: c.msg, Hint: c.hint}
		if *se != want || se.Code == "" {
			t.Errorf("%s %q:\ngot  %+v\nwant %+v", c.noun, c.in, *se, want)
		}
	}
}

func TestLongInputIsRefused(t *testing.T) {
	for _, n := range []int{unit.MaxLength + 1, 4*unit.MaxLength + 1, 50_000_000} {
		in, want := "1"+strings.Repeat(" ", n-1), unit.MaxLength
		if n > 4*unit.MaxLength {
			want = 0 // what is far too long is not counted: its place is its start
		}
		for _, noun := range nouns {
			_, err := read(noun, in)
			if err == nil || !strings.Contains(err.Error(), "too long") || len(err.Error()) > 200 {
				t.Errorf("%s of %d characters: %.100v", noun, n, err)
			}
			var se *unit.SyntaxError
			if !errors.As(err, &se) || se.Offset != want {
				t.Errorf("%s of %d characters: %+v, want offset %d", noun, n, se, want)
			}
		}
	}
}

// The parts of a hint that a writer may copy must themselves be right.
func TestHintsAreAccepted(t *testing.T) {
	for _, c := range refused {
		hint, ok := strings.CutPrefix(c.hint, `write "`)
		if !ok || !strings.Contains(hint, " ") {
			continue
		}
		literal, _, _ := strings.Cut(hint, `"`)
		if !strings.ContainsAny(literal, "0123456789") || !strings.Contains(literal, " ") {
			continue
		}
		if _, err := read(c.noun, literal); err != nil {
			t.Errorf("%s %q: the hint %q is itself refused: %v", c.noun, c.in, literal, err)
		}
	}
}

func TestOffsetsCountCharacters(t *testing.T) {
	_, err := unit.ParseRate("½ pt/row")
	var se *unit.SyntaxError
	if !errors.As(err, &se) || se.Offset != 5 {
		t.Errorf("got %+v, want offset 5, counted in characters", se)
	}
}

func TestSystem(t *testing.T) {
	for _, s := range unit.Systems {
		if got, err := unit.ParseSystem(s.String()); err != nil || got != s {
			t.Errorf("ParseSystem(%q) = %v, %v", s, got, err)
		}
	}
	if _, err := unit.ParseSystem("imperial"); err == nil {
		t.Error(`ParseSystem("imperial"): want an error`)
	}
	if got := unit.System(7).String(); got != "System(7)" {
		t.Errorf("unknown system prints as %q", got)
	}
}
