package gas_test

import (
	"math"
	"testing"

	"tankleaf.example/internal/gas"
)

// TestMolarVolumePrinted holds the ideal gas to CODATA 2018, which prints a molar
// volume of 22.41396954e-3 m³ at 273.15 K and 101.325 kPa, and R to the product of
// the two constants that the SI fixes (SI Brochure, 9th edition).
func TestMolarVolumePrinted(t *testing.T) {
	if got := gas.Volume(1, 0); !near(got, 22.41396954, 5e-8) {
		t.Errorf("want 22.41396954 L, got %.9f", got)
	}
	const avogadro, boltzmann = 6.02214076e23, 1.380649e-23
	if r := gas.Volume(1, 25) * 101.325 / 298.15; !near(r, avogadro*boltzmann, 1e-9) {
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
		got, ok := gas.CarbonateOf(name)
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
		ours := gas.Dissolved(celsius)
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
