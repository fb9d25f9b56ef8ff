package jar

import (
	"fmt"

	"tankleaf.example/internal/mix"
	"tankleaf.example/internal/unit"
)

// Fit is how a number stands to the range on a label. The zero Fit is "not
// checked", which is never shown as within.
type Fit uint8

const (
	NotChecked Fit = iota // no range, or one that cannot be compared
	Within
	Below
	Above
)

var fitNames = []string{"not-checked", "within", "below", "above"}

// String returns the fit's word in JSON.
func (f Fit) String() string {
	if int(f) < len(fitNames) {
		return fitNames[f]
	}
	return fmt.Sprintf("Fit(%d)", uint8(f))
}

// fit compares the product's rate with its label's range at a spray volume.
func (p *Product) fit(perArea unit.SprayVolume) Fit {
	return FitRate(p.Rate, p.Range, perArea, p.Density)
}

// FitRate compares a rate with a label's range. Rates by area and by volume of
// spray compare through the spray volume, weights and volumes of product through
// its density; when what is needed is not known the answer is NotChecked.
func FitRate(r unit.Rate, label mix.RateRange, perArea unit.SprayVolume, d unit.Density) Fit {
	if label.IsZero() || r.IsZero() {
		return NotChecked
	}
	n, ok := basisNumber(r, label.High.Basis(), perArea, d)
	if !ok || !label.Low.IsZero() && !label.Low.Comparable(label.High) {
		return NotChecked
	}
	switch {
	case n.Cmp(label.High.Base()) > 0:
		return Above
	case n.Cmp(label.Low.Base()) < 0:
		return Below
	}
	return Within
}

// FitSprayVolume compares a spray volume with the product's label.
func (p *Product) FitSprayVolume(v unit.SprayVolume) Fit {
	low, high := p.SprayVolume[0], p.SprayVolume[1]
	switch {
	case v.Sign() <= 0 || low.IsZero() && high.IsZero():
		return NotChecked
	case v.Cmp(low) < 0:
		return Below
	case !high.IsZero() && v.Cmp(high) > 0:
		return Above
	}
	return Within
}

// basisNumber returns rate r as a number in the base unit of another basis.
func basisNumber(r unit.Rate, b unit.Basis, perArea unit.SprayVolume, d unit.Density) (unit.Number, bool) {
	n := r.Base()
	if r.Basis().PerArea() != b.PerArea() {
		if perArea.Sign() <= 0 {
			return unit.Number{}, false
		}
		if b.PerArea() {
			n = n.Mul(perArea.Base())
		} else {
			n = n.Quo(perArea.Base())
		}
	}
	if r.Basis().Dry() != b.Dry() {
		if d.Sign() <= 0 {
			return unit.Number{}, false
		}
		if b.Dry() {
			n = n.Mul(d.Base())
		} else {
			n = n.Quo(d.Base())
		}
	}
	return n, true
}

// Convert returns a rate in another unit, of any basis: "1 qt/ac" at 25 gal/ac as
// "% v/v" is 1 % v/v. The spray volume is needed between rates by area and by
// volume of spray, the density between weights and volumes of product; ok is false
// when what is needed is zero or the unit is none.
func Convert(r unit.Rate, written string, perArea unit.SprayVolume, d unit.Density) (out unit.Rate, ok bool) {
	like, err := unit.ParseRate("1 " + written)
	if err != nil || r.Basis() == unit.NoBasis {
		return unit.Rate{}, false
	}
	n, ok := basisNumber(r, like.Basis(), perArea, d)
	if !ok {
		return unit.Rate{}, false
	}
	out, err = unit.RateIn(written, like.Basis(), n)
	return out, err == nil
}
