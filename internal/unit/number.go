package unit

import "math/big"

// Number is an exact rational number. The zero Number is 0. Values are never
// changed in place, so a Number may be copied and shared.
type Number struct{ r *big.Rat }

func (n Number) rat() *big.Rat {
	if n.r == nil {
		return new(big.Rat)
	}
	return n.r
}

// Int returns i as a Number.
func Int(i int64) Number { return Number{big.NewRat(i, 1)} }

// Frac returns num/den, den not 0.
func Frac(num, den int64) Number { return Number{big.NewRat(num, den)} }

// Add returns n + m.
func (n Number) Add(m Number) Number { return Number{new(big.Rat).Add(n.rat(), m.rat())} }

// Sub returns n - m.
func (n Number) Sub(m Number) Number { return Number{new(big.Rat).Sub(n.rat(), m.rat())} }

// Mul returns n × m.
func (n Number) Mul(m Number) Number { return Number{new(big.Rat).Mul(n.rat(), m.rat())} }

// Quo returns n ÷ m; m must not be 0.
func (n Number) Quo(m Number) Number { return Number{new(big.Rat).Quo(n.rat(), m.rat())} }

// Neg returns -n.
func (n Number) Neg() Number { return Number{new(big.Rat).Neg(n.rat())} }

// Cmp returns -1, 0 or +1 as n is below, equal to or above m.
func (n Number) Cmp(m Number) int { return n.rat().Cmp(m.rat()) }

// Sign returns -1, 0 or +1.
func (n Number) Sign() int { return n.rat().Sign() }

// Equal reports whether n and m are the same number, so that go-cmp can compare.
func (n Number) Equal(m Number) bool { return n.Cmp(m) == 0 }

// IsInt reports whether n is a whole number.
func (n Number) IsInt() bool { return n.rat().IsInt() }

// Floor returns the largest whole number that is not above n.
func (n Number) Floor() Number {
	r := n.rat()
	return Number{new(big.Rat).SetInt(new(big.Int).Div(r.Num(), r.Denom()))}
}

// Int64 returns n without its fraction, and whether that fits and nothing was
// cut off.
func (n Number) Int64() (i int64, exact bool) {
	whole := new(big.Int).Quo(n.rat().Num(), n.rat().Denom())
	return whole.Int64(), whole.IsInt64() && n.IsInt()
}

// Sqrt returns the square root of n, not negative, cut off after twelve decimals.
// It is done on whole numbers, so that every machine and the browser get the same
// digits. For flow factors, never for a dose.
func (n Number) Sqrt() Number {
	scale := new(big.Int).Exp(big.NewInt(10), big.NewInt(24), nil)
	num := new(big.Int).Mul(n.rat().Num(), scale)
	num.Quo(num, n.rat().Denom())
	return Number{new(big.Rat).SetFrac(num.Sqrt(num), new(big.Int).Exp(big.NewInt(10), big.NewInt(12), nil))}
}

// Min returns the smaller of n and m.
func (n Number) Min(m Number) Number {
	if n.Cmp(m) <= 0 {
		return n
	}
	return m
}

// Max returns the larger of n and m.
func (n Number) Max(m Number) Number {
	if n.Cmp(m) >= 0 {
		return n
	}
	return m
}

// Float returns the nearest float64: for curves, logarithms and drawings, never
// for a dose.
func (n Number) Float() float64 { f, _ := n.rat().Float64(); return f }

// Rat returns a copy of n.
func (n Number) Rat() *big.Rat { return new(big.Rat).Set(n.rat()) }

// Round returns n to the given number of decimals (0 to 12) by the one rounding
// rule of the project, half away from zero: the digit after the last is looked
// at alone, 5 and above goes up in size. 0.125 to two decimals is 0.13, -2.5 to
// none is -3. It is the rule that handbooks and hand arithmetic use, and it needs
// no knowledge of even and odd to check by hand.
func (n Number) Round(decimals int) Number {
	scale := new(big.Int).Exp(big.NewInt(10), big.NewInt(int64(decimals)), nil)
	num := new(big.Int).Mul(n.rat().Num(), scale)
	den := n.rat().Denom()
	num.Mul(num, big.NewInt(2))
	if num.Sign() < 0 {
		num.Sub(num, den)
	} else {
		num.Add(num, den)
	}
	num.Quo(num, new(big.Int).Mul(den, big.NewInt(2)))
	return Number{new(big.Rat).SetFrac(num, scale)}
}

// Fixed writes n rounded by [Number.Round], with exactly that many decimals and
// a point: "946.353". Zero never has a minus sign.
func (n Number) Fixed(decimals int) string { return n.Round(decimals).rat().FloatString(decimals) }

// Short is Fixed without trailing zeros: "7.9", "12".
func (n Number) Short(decimals int) string {
	s := n.Fixed(decimals)
	if decimals == 0 {
		return s
	}
	for s[len(s)-1] == '0' {
		s = s[:len(s)-1]
	}
	if s[len(s)-1] == '.' {
		s = s[:len(s)-1]
	}
	return s
}
