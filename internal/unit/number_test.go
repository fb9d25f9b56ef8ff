package unit_test

import (
	"testing"

	"tankleaf.example/internal/unit"
)

func TestRound(t *testing.T) {
	for _, c := range []struct {
		n        unit.Number
		decimals int
		want     string
		why      string
	}{
		{unit.Frac(1, 8), 2, "0.13", "half goes away from zero, not to even"},
		{unit.Frac(5, 2), 0, "3", "half goes up"},
		{unit.Frac(-5, 2), 0, "-3", "and down below zero"},
		{unit.Frac(7, 2), 0, "4", "where half to even agrees"},
		{unit.Frac(2499, 1000), 0, "2", "only the next digit counts"},
		{unit.Frac(1, 3), 3, "0.333", "no end"},
		{unit.Frac(2, 3), 3, "0.667", "no end, up"},
		{unit.Frac(-1, 10000), 3, "0.000", "zero has no minus sign"},
		{unit.Int(7), 3, "7.000", "exactly that many decimals"},
		{unit.Number{}, 0, "0", "the zero Number"},
		{unit.Frac(1005, 1000), 2, "1.01", "binary floating point would say 1.00"},
	} {
		if got := c.n.Fixed(c.decimals); got != c.want {
			t.Errorf("Fixed(%d) = %s, want %s: %s", c.decimals, got, c.want, c.why)
		}
	}
}

func TestShort(t *testing.T) {
	for _, c := range []struct {
		n        unit.Number
		decimals int
		want     string
	}{
		{unit.Frac(79, 10), 3, "7.9"}, {unit.Int(12), 3, "12"}, {unit.Int(100), 0, "100"},
		{unit.Frac(1, 1000), 2, "0"}, {unit.Frac(-1, 2), 1, "-0.5"},
	} {
		if got := c.n.Short(c.decimals); got != c.want {
			t.Errorf("Short(%d) = %s, want %s", c.decimals, got, c.want)
		}
	}
}

func TestWholeNumbers(t *testing.T) {
	for _, c := range []struct {
		n     unit.Number
		floor string
		whole int64
		exact bool
		why   string
	}{
		{unit.Frac(16667, 1000), "16", 16, false, "a part is left"},
		{unit.Int(8), "8", 8, true, "nothing is left"},
		{unit.Frac(-1, 2), "-1", 0, false, "floor goes down, cutting goes to zero"},
		{unit.Number{}, "0", 0, true, "the zero Number"},
	} {
		whole, exact := c.n.Int64()
		if c.n.Floor().Fixed(0) != c.floor || whole != c.whole || exact != c.exact || c.n.IsInt() != c.exact {
			t.Errorf("%s: floor %s, whole %d, exact %v", c.why, c.n.Floor().Fixed(0), whole, exact)
		}
	}
	huge := unit.Int(1 << 62).Mul(unit.Int(4))
	if _, exact := huge.Int64(); exact {
		t.Error("a number that does not fit must not be called exact")
	}
}

func TestMinMax(t *testing.T) {
	a, b := unit.Frac(1, 3), unit.Frac(1, 2)
	if !a.Min(b).Equal(a) || !b.Min(a).Equal(a) || !a.Max(b).Equal(b) || !b.Max(a).Equal(b) {
		t.Error("Min and Max must not depend on the order of their arguments")
	}
}

func TestSqrt(t *testing.T) {
	for _, c := range []struct {
		n    unit.Number
		want string
		why  string
	}{
		{unit.Int(4), "2.000000000000", "a square"},
		{unit.Int(2), "1.414213562373", "cut off, not rounded: the next digit is 0"},
		{unit.Int(3), "1.732050807568", "cut off: the next digit is 8"},
		{unit.Frac(1, 4), "0.500000000000", "below one"},
		{unit.Number{}, "0.000000000000", "nothing"},
	} {
		if got := c.n.Sqrt().Fixed(12); got != c.want {
			t.Errorf("Sqrt = %s, want %s: %s", got, c.want, c.why)
		}
	}
}
