package compat_test

import (
	"math"
	"testing"

	"tankleaf.example/internal/compat"
)

// Values that others print, each with where it was read.

// TestPrintedIntervals holds exact intervals to the output of two statistics
// programs as their manuals and users print it: SciPy's manual on proportion_ci (7
// of 50), R's binom.test on the peas of Conover, Practical Nonparametric Statistics
// (1971) p. 97 (682 of 925), and R's own output for 2 of 12 and, from one side, for
// 3 of 4. A confidence of 90 % leaves on each side what 95 % leaves on one.
func TestPrintedIntervals(t *testing.T) {
	for _, c := range []struct {
		k, n       int
		confidence float64
		low, high  float64
		digits     float64
	}{
		{7, 50, 0.95, 0.05819170033997342, 0.26739600249700846, 1e-12},
		{682, 925, 0.95, 0.7076683, 0.7654066, 5e-8},
		{2, 12, 0.95, 0.02086253, 0.48413775, 5e-9},
		{3, 4, 0.90, 0.2486046, math.NaN(), 5e-8},
	} {
		low, high := compat.Interval(c.k, c.n, c.confidence)
		if !near(low, c.low, c.digits) || !math.IsNaN(c.high) && !near(high, c.high, c.digits) {
			t.Errorf("%d of %d: want %v to %v, got %v to %v", c.k, c.n, c.low, c.high, low, high)
		}
	}
}

// TestImpossibleCounts: nothing can be said of more seen than tried.
func TestImpossibleCounts(t *testing.T) {
	for _, c := range [][2]int{{-1, 3}, {4, 3}, {1, 0}} {
		for name, f := range map[string]func(){
			"Interval": func() { compat.Interval(c[0], c[1], 0.95) },
			"Upper":    func() { compat.Upper(c[0], c[1], 0.95) },
		} {
			func() {
				defer func() {
					if recover() == nil {
						t.Errorf("%s of %d in %d gave a share", name, c[0], c[1])
					}
				}()
				f()
			}()
		}
	}
}

// TestAbbottsOwnExample: half of the check dead and 98 % of the treated; simple
// subtraction, which Abbott rejects, gives 48 (J. Econ. Entomol. 18 (1925) 265,
// the opening was read). Of the half that would have lived 48 of 50 died: 96.
func TestAbbottsOwnExample(t *testing.T) {
	if got, ok := compat.Abbott(98, 50); !ok || !near(got, 96, 1e-9) {
		t.Errorf("got %v", got)
	}
}

// TestColbyAsTaught: no printed worked example of Colby's formula could be read. That
// 60 and 50 percent are expected to give 80 is the example as it is taught, from
// memory. Beside it the same is worked step by step, each product acting on what
// those before it left.
func TestColbyAsTaught(t *testing.T) {
	if got := compat.Colby(60, 50); !near(got, 80, 1e-9) {
		t.Errorf("60 and 50: got %v", got)
	}
	for x := 0.0; x <= 100; x += 7 {
		for y := 0.0; y <= 100; y += 9 {
			for z := 0.0; z <= 100; z += 25 {
				got, done := compat.Colby(x, y, z), 0.0
				for _, effect := range []float64{x, y, z} {
					done += effect * (100 - done) / 100
				}
				if !near(got, done, 1e-9) || !near(compat.Colby(z, x, y), got, 1e-9) {
					t.Fatalf("%v, %v and %v: want %v in any order, got %v", x, y, z, done, got)
				}
			}
		}
	}
}
