package unit

import "strconv"

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

// RateIn returns the rate that is n in the base unit of basis b, written in the
// given unit: RateIn("pt/ac", VolumePerArea, n). It fails with a [*SyntaxError]
// when the unit is none or is of another basis.
func RateIn(written string, b Basis, n Number) (Rate, error) {
	r, err := ParseRate("1 " + written)
	if err != nil {
		return Rate{}, err
	}
	if r.basis != b {
		return Rate{}, &SyntaxError{Code: WrongBasis, Hint: "write a unit of " + b.String(),
			Msg: `a rate in "` + written + `" is ` + r.basis.String() + ", not " + b.String()}
	}
	r.n = n
	return r, nil
}

// As returns the same rate written in another unit of its basis: 0.25 % v/v as
// "qt/100 gal" is 1 qt/100 gal.
func (r Rate) As(written string) (Rate, error) { return RateIn(written, r.basis, r.n) }

// Times returns the rate × n in the same written unit.
func (r Rate) Times(n Number) Rate { r.n = r.n.Mul(n); return r }

// Comparable reports whether two rates have the same basis, so that Cmp means
// something.
func (r Rate) Comparable(s Rate) bool { return r.basis == s.basis }

// Cmp compares two rates of one basis.
func (r Rate) Cmp(s Rate) int { return r.n.Cmp(s.n) }

// Equal reports whether r and s are the same rate in the same written unit.
func (r Rate) Equal(s Rate) bool {
	return r.basis == s.basis && r.written == s.written && r.n.Equal(s.n)
}

// String writes the rate in the unit it was written in: "1.5 pt/ac". [ParseRate]
// reads it back to the same rate when it was parsed in the first place; a
// computed rate whose number is longer than the parsers read is rounded to nine
// decimals. The zero Rate is "no rate".
func (r Rate) String() string {
	if r.basis == NoBasis {
		return "no rate"
	}
	s, ok := r.Number().spell()
	if !ok {
		s = r.Number().Short(MaxDecimals)
	}
	return s + " " + r.written
}

// String names the basis.
func (b Basis) String() string {
	switch b {
	case NoBasis:
		return "no basis"
	case VolumePerArea:
		return "volume per area"
	case MassPerArea:
		return "weight per area"
	case VolumePerVolume:
		return "volume per volume of spray"
	case MassPerVolume:
		return "weight per volume of spray"
	}
	return "Basis(" + strconv.Itoa(int(b)) + ")"
}
