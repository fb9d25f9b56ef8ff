package unit

import "strings"

// Part is one term of an amount split over units: 2 of "qt".
type Part struct {
	Number Number
	Unit   string
}

// Parts is an amount as it is measured out: whole numbers of the larger units
// and one rounded number of the smallest. Terms of zero are left out, except
// that nothing at all is zero of the smallest unit.
type Parts []Part

// String joins the terms: "12 gal + 2 qt + 8.5 fl oz".
func (p Parts) String() string {
	var terms []string
	for _, t := range p {
		terms = append(terms, t.Number.Short(maxSplitDecimals)+" "+t.Unit)
	}
	return strings.Join(terms, " + ")
}

// maxSplitDecimals bounds the decimals of the smallest unit in a split.
const maxSplitDecimals = 6

// ladder is the units of a split, largest first, and the decimals to which the
// smallest is rounded when the amount is not small.
type ladder[D dimension] struct {
	units    []Unit[D]
	decimals int
}

func volumeLadder(s System) ladder[volume] {
	if s == Metric {
		return ladder[volume]{[]Unit[volume]{Liter, Milliliter}, 0}
	}
	return ladder[volume]{[]Unit[volume]{Gallon, Quart, FluidOunce}, 1}
}

func massLadder(s System) ladder[mass] {
	if s == Metric {
		return ladder[mass]{[]Unit[mass]{Kilogram, Gram}, 0}
	}
	return ladder[mass]{[]Unit[mass]{Pound, Ounce}, 1}
}

// SplitVolume splits a volume that is not negative over gal, qt and fl oz, or
// over L and mL. The whole is rounded first, once, to 0.1 fl oz or 1 mL, or finer
// where that would leave fewer than three figures; the parts then sum to the
// rounded whole exactly.
func SplitVolume(v Volume, s System) Parts { return split(v, volumeLadder(s)) }

// SplitMass splits a weight that is not negative over lb and oz, or over kg and
// g, by the rule of [SplitVolume]: to 0.1 oz or 1 g, or finer.
func SplitMass(m Mass, s System) Parts { return split(m, massLadder(s)) }

// Split splits the amount by its kind.
func (a Amount) Split(s System) Parts {
	if a.Dry {
		return SplitMass(a.Mass, s)
	}
	return SplitVolume(a.Volume, s)
}

func split[D dimension](q Quantity[D], l ladder[D]) Parts {
	last := l.units[len(l.units)-1]
	left := last.Of(q.In(last).Round(splitDecimals(q.In(last), l.decimals)))
	var parts Parts
	for _, u := range l.units[:len(l.units)-1] {
		n := left.In(u).Floor()
		if n.Sign() > 0 {
			parts = append(parts, Part{n, u.Name})
			left = left.Sub(u.Of(n))
		}
	}
	if left.Sign() > 0 || len(parts) == 0 {
		parts = append(parts, Part{left.In(last), last.Name})
	}
	return parts
}

// splitDecimals returns the decimals that keep three figures of n, at least the
// usual ones: 0.04 fl oz must not be printed as nothing.
func splitDecimals(n Number, usual int) int {
	d := usual
	for limit := Frac(100, 1); d < maxSplitDecimals && n.Sign() > 0; d++ {
		if n.Mul(pow10(d)).Cmp(limit) >= 0 {
			return d
		}
	}
	return max(d, usual)
}

func pow10(n int) Number {
	p := Int(1)
	for range n {
		p = p.Mul(Int(10))
	}
	return p
}
