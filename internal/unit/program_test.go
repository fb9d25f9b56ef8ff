package unit

import (
	"fmt"
	"math/big"
	"os"
	"os/exec"
	"strings"
	"testing"

	"tankleaf.example/internal/outside"
)

// theirs is how GNU units, from Debian's package of that name, writes each of
// our units. Content in water is weight per volume there. The gallon goes by its
// plain name: with the prefix US the program takes the survey foot, which is two
// parts in a million longer.
var theirs = map[string]string{
	"gal": "gallon", "qt": "quart", "pt": "pint", "fl oz": "fluidounce", "L": "liter", "mL": "milliliter",
	"lb": "pound", "oz": "ounce", "kg": "kg", "g": "g", "mg": "mg",
	"ac": "intacre", "ha": "hectare", "sq ft": "ft^2", "m²": "m^2",
	"in": "inch", "ft": "foot", "m": "m", "cm": "cm", "mm": "mm",
	"g/mL": "g/mL", "g/L": "g/L", "kg/L": "kg/L", "lb/gal": "pound/gallon",
	"min": "minute", "h": "hour", "s": "second", "d": "day",
	"gal/min": "gallon/minute", "L/min": "L/minute", "fl oz/min": "fluidounce/minute", "mL/min": "mL/minute",
	"mph": "mile/hour", "km/h": "km/hour", "ft/min": "ft/minute", "m/min": "m/minute",
	"gal/ac": "gallon/intacre", "L/ha": "L/hectare", "gal/1000 sq ft": "gallon/(1000 ft^2)", "mL/m²": "mL/m^2",
	"ppm": "mg/L", "mg/L": "mg/L", "gpg": "grain/gallon",
}

// pair is one conversion: how many of the second unit are in one of the first.
type pair struct {
	from, to string
	ours     Number
}

// pairs lists all ordered pairs of units of a dimension.
func pairs[D dimension](v *vocabulary[D]) []pair {
	var all []pair
	for _, a := range v.units {
		for _, b := range v.units {
			all = append(all, pair{a.Name, b.Name, a.Of(Int(1)).In(b)})
		}
	}
	return all
}

// runUnits asks GNU units for many conversions at once.
func runUnits(t *testing.T, questions []string) []*big.Rat {
	t.Helper()
	path := outside.Program(t, "units")
	cmd := exec.Command(path, "-q", "-t", "--output-format", "%.17g")
	cmd.Stdin = strings.NewReader(strings.Join(questions, "\n") + "\n")
	cmd.Env = append(os.Environ(), "LC_ALL=C", "UNITS_ENGLISH=US")
	out, err := cmd.Output()
	if err != nil {
		t.Fatalf("units: %v", err)
	}
	var answers []*big.Rat
	for _, line := range strings.Split(strings.TrimSpace(string(out)), "\n") {
		r, ok := new(big.Rat).SetString(strings.TrimSpace(line))
		if !ok {
			t.Fatalf("units answered %q", line)
		}
		answers = append(answers, r)
	}
	return answers
}

// tolerance is what double precision leaves of a factor after the handful of
// multiplications that GNU units does: a few parts in 10^16 each.
var tolerance = big.NewRat(1, 1e15)

func closeTo(a, b *big.Rat) bool {
	diff := new(big.Rat).Sub(a, b)
	return new(big.Rat).Abs(diff).Cmp(new(big.Rat).Mul(tolerance, new(big.Rat).Abs(b))) <= 0
}

func TestEveryPairAgainstGNUUnits(t *testing.T) {
	var all []pair
	all = append(all, pairs(volumes)...)
	all = append(all, pairs(masses)...)
	all = append(all, pairs(areas)...)
	all = append(all, pairs(lengths)...)
	all = append(all, pairs(densities)...)
	all = append(all, pairs(durations)...)
	all = append(all, pairs(flows)...)
	all = append(all, pairs(speeds)...)
	all = append(all, pairs(sprayVolumes)...)
	all = append(all, pairs(contents)...)
	var questions []string
	for _, p := range all {
		from, to := theirs[p.from], theirs[p.to]
		if from == "" || to == "" {
			t.Fatalf("no name of theirs for %q or %q", p.from, p.to)
		}
		questions = append(questions, from, to)
	}
	answers := runUnits(t, questions)
	if len(answers) != len(all) {
		t.Fatalf("%d answers to %d questions", len(answers), len(all))
	}
	for i, p := range all {
		if !closeTo(p.ours.Rat(), answers[i]) {
			t.Errorf("1 %s = %s %s, GNU units says %s", p.from, p.ours.Short(12), p.to, answers[i].FloatString(12))
		}
	}
}

func TestTemperatureAgainstGNUUnits(t *testing.T) {
	var questions []string
	points := []int64{-40, -18, -10, -2, 0, 32, 50, 77, 100, 212}
	for _, p := range points {
		questions = append(questions, fmt.Sprintf("tempF(%d)", p), "tempC", fmt.Sprintf("tempC(%d)", p), "tempF")
	}
	answers := runUnits(t, questions)
	if len(answers) != 2*len(points) {
		t.Fatalf("%d answers to %d questions", len(answers), 2*len(points))
	}
	// The program goes through kelvin, where a degree near 273.15 keeps 13 digits.
	limit := Frac(1, 1_000_000_000_000)
	for i, p := range points {
		for j, ours := range []Number{Fahrenheit.Of(Int(p)).In(Celsius), Celsius.Of(Int(p)).In(Fahrenheit)} {
			diff := ours.Sub(Number{answers[2*i+j]})
			if diff.Cmp(limit) > 0 || diff.Cmp(limit.Neg()) < 0 {
				t.Errorf("%s: ours %s, GNU units %s", questions[4*i+2*j], ours.Short(12), answers[2*i+j].FloatString(12))
			}
		}
	}
}

// The check above must be able to fail: one part in 10^14 is seen.
func TestToleranceIsTight(t *testing.T) {
	a := Gallon.Of(Int(1)).Base()
	b := a.Mul(Int(1).Add(Frac(1, 100_000_000_000_000)))
	if closeTo(b.Rat(), a.Rat()) || !closeTo(a.Rat(), a.Rat()) {
		t.Error("a factor that is off by one part in 10^14 must be found")
	}
}

// Every unit has a print name that its own parser reads, and no spelling is in
// two dimensions.
func TestSpellingsAreUnique(t *testing.T) {
	seen := map[string]string{}
	for _, list := range []struct {
		noun  string
		names []string
	}{
		{volumes.noun, spellings(volumes)}, {masses.noun, spellings(masses)}, {areas.noun, spellings(areas)},
		{lengths.noun, spellings(lengths)}, {densities.noun, spellings(densities)},
		{temperatures.noun, spellings(temperatures)}, {durations.noun, spellings(durations)},
		{flows.noun, spellings(flows)}, {speeds.noun, spellings(speeds)},
		{sprayVolumes.noun, spellings(sprayVolumes)}, {contents.noun, spellings(contents)},
	} {
		for _, s := range list.names {
			if other, dup := seen[s]; dup {
				t.Errorf("%q is a unit of %s and of %s", s, other, list.noun)
			}
			seen[s] = list.noun
			if _, _, _, trapped := trap(strings.TrimPrefix(s, "=")); trapped {
				t.Errorf("%q is both a unit and a trap", s)
			}
		}
	}
}

func spellings[D dimension](v *vocabulary[D]) []string {
	var s []string
	for n := range v.names {
		s = append(s, n)
	}
	return s
}
