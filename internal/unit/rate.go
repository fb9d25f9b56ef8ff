package unit

// Basis is what a rate is measured by. The zero Basis is no rate at all.
type Basis uint8

const (
	NoBasis         Basis = iota
	VolumePerArea         // base mL/m²: 1 pt/ac, 1.2 L/ha
	MassPerArea           // base g/m²: 2 lb/ac
	VolumePerVolume       // base mL per mL of finished spray: 1 qt/100 gal, 0.25 % v/v
	MassPerVolume         // base g per mL of finished spray: 2 lb/100 gal, 1 % w/v, 50 ppm
)

// Dry reports whether the rate is a weight.
func (b Basis) Dry() bool { return b == MassPerArea || b == MassPerVolume }

// PerArea reports whether the rate is per area of land.
func (b Basis) PerArea() bool { return b == VolumePerArea || b == MassPerArea }

// Rate is how much of a product goes on an area or into a volume of finished
// spray, kept with the unit it was written in. The zero Rate is no rate.
type Rate struct {
	basis   Basis
	n       Number // in base units of the basis
	written string // the unit as the trade writes it: "pt/ac", "lb/100 gal", "% v/v"
	factor  Number // base units in one written unit
}

// Basis returns what the rate is measured by.
func (r Rate) Basis() Basis { return r.basis }

// Base returns the rate in the base unit named at its Basis.
func (r Rate) Base() Number { return r.n }

// IsZero reports whether r is no rate or a rate of nothing.
func (r Rate) IsZero() bool { return r.basis == NoBasis || r.n.Sign() == 0 }

// Unit returns the unit the rate was written in: "fl oz/ac".
func (r Rate) Unit() string { return r.written }

// Number returns the rate in the unit it was written in.
func (r Rate) Number() Number {
	if r.basis == NoBasis {
		return Number{}
	}
	return r.n.Quo(r.factor)
}

// Times returns the rate × n in the same written unit.
func (r Rate) Times(n Number) Rate { r.n = r.n.Mul(n); return r }

// Comparable reports whether two rates have the same basis, so that Cmp means
// something.
func (r Rate) Comparable(s Rate) bool { return r.basis == s.basis }

// Cmp compares two rates of one basis.
func (r Rate) Cmp(s Rate) int { return r.n.Cmp(s.n) }

// Amount is an amount of product: a volume of liquid or a weight.
type Amount struct {
	Dry    bool
	Volume Volume // when not Dry
	Mass   Mass   // when Dry
}
