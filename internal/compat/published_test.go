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

// TestMolarVolumePrinted holds the ideal gas to CODATA 2018, which prints a molar
// volume of 22.41396954e-3 m³ at 273.15 K and 101.325 kPa, and R to the product of
// the two constants that the SI fixes (SI Brochure, 9th edition).
func TestMolarVolumePrinted(t *testing.T) {
	if got := compat.GasVolume(1, 0); !near(got, 22.41396954, 5e-8) {
		t.Errorf("want 22.41396954 L, got %.9f", got)
	}
	const avogadro, boltzmann = 6.02214076e23, 1.380649e-23
	if r := compat.GasVolume(1, 25) * 101.325 / 298.15; !near(r, avogadro*boltzmann, 1e-9) {
		t.Errorf("want R of %.12f, got %.12f", avogadro*boltzmann, r)
	}
}

// TestMolarMassesPrinted holds molar masses to IUPAC's table of 1995 (Pure Appl.
// Chem. 68 (1996) 2339), which prints more digits than the abridged weights that the
// package takes. The copy that was read garbles magnesium: 24.3050 is from memory.
func TestMolarMassesPrinted(t *testing.T) {
	const h, c, n, o, na, mg, k, ca = 1.00794, 12.0107, 14.00674, 15.9994, 22.989770, 24.3050, 39.0983, 40.078
	for name, want := range map[string]float64{
		"sodium bicarbonate": na + h + c + 3*o, "potassium bicarbonate": k + h + c + 3*o, "ammonium bicarbonate": n + 5*h + c + 3*o,
		"soda ash": 2*na + c + 3*o, "washing soda": 2*na + c + 13*o + 20*h, "potassium carbonate": 2*k + c + 3*o,
		"limestone": ca + c + 3*o, "magnesium carbonate": mg + c + 3*o, "dolomite": ca + mg + 2*c + 6*o, "trona": 3*na + 5*h + 2*c + 8*o,
	} {
		got, ok := compat.CarbonateOf(name)
		if !ok || !near(got.Molar, want, 0.006) {
			t.Errorf("%s: want %.3f, got %.3f", name, want, got.Molar)
		}
	}
}

// TestSolubilityAmongOthers: the reviews that Sander lists for carbon dioxide (Atmos.
// Chem. Phys. 23 (2023) 10901, and henrys-law.org) give 3.3e-4 or 3.4e-4 mol/(m³ Pa)
// at 25 °C and 2300 or 2400 K. Ours is the least soluble of them from 25 °C up, where
// pressure is highest, so that no review expects more of it.
func TestSolubilityAmongOthers(t *testing.T) {
	const gram, atmosphere = 44.009, 101325.0
	for celsius := 0.0; celsius <= 60; celsius += 5 {
		ours := compat.Dissolved(celsius)
		for _, h := range []float64{3.3e-4, 3.4e-4} {
			for _, slope := range []float64{2300, 2400} {
				theirs := h * math.Exp(slope*(1/(celsius+273.15)-1/298.15)) * atmosphere * gram / 1000
				if math.Abs(ours-theirs)/theirs > 0.065 || celsius >= 25 && ours > theirs*1.0001 {
					t.Errorf("%v °C: %v g/L, another review %v", celsius, ours, theirs)
				}
			}
		}
	}
}
