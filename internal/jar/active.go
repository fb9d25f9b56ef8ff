package jar

import (
	"fmt"

	"tankleaf.example/internal/unit"
)

// FromActive returns the rate of product that carries a rate of active ingredient:
// active ÷ strength, written in the given unit. The active's rate is by weight; the
// strength says per volume or per weight of product. d is the product's density,
// needed only to write a rate by volume from a strength by weight or the reverse;
// otherwise it may be zero. Both must mean the same, active ingredient or acid
// equivalent.
func FromActive(active unit.Rate, s unit.Strength, written string, d unit.Density) (unit.Rate, error) {
	if !active.Basis().Dry() {
		return unit.Rate{}, Problem{Code: NoRate, Msg: fmt.Sprintf("rate %q of active is no weight", active),
			Hint: `write it by weight, such as "0.5 lb/ac"`}
	}
	if s.IsZero() {
		return unit.Rate{}, Problem{Code: NoDensity, Msg: "the product's content of active is not known",
			Hint: `write it as on the label, such as "4 lb/gal"`}
	}
	product, err := ofProduct(active, s)
	if err != nil {
		return unit.Rate{}, err
	}
	if out, ok := Convert(product, written, unit.SprayVolume{}, d); ok {
		return out, nil
	}
	return unit.Rate{}, Problem{Code: BadText, Msg: fmt.Sprintf("a rate of %v cannot be written in %q", product.Basis(), written),
		Hint: "choose a unit of that kind, or give the product's density"}
}

// ofProduct divides by the strength, in base units.
func ofProduct(active unit.Rate, s unit.Strength) (unit.Rate, error) {
	if s.Share.Sign() > 0 {
		return unit.RateIn(active.Unit(), active.Basis(), active.Base().Quo(s.Share))
	}
	n := active.Base().Quo(s.PerVolume.Base())
	if active.Basis().PerArea() {
		return unit.RateIn("L/ha", unit.VolumePerArea, n)
	}
	return unit.RateIn("L/100 L", unit.VolumePerVolume, n)
}
