package unit

import "strings"

// spell writes n exactly and as the parsers read it: as a decimal when it ends
// within nine digits, else as a fraction of up to four digits above and below,
// perhaps after a whole number. ok is false when neither fits.
func (n Number) spell() (s string, ok bool) {
	m := n
	if m.Sign() < 0 {
		m = m.Neg()
	}
	if m.Cmp(pow10(MaxDigits)) >= 0 {
		return "", false
	}
	s, ok = m.decimal()
	if !ok {
		s, ok = m.mixedFraction()
	}
	if ok && n.Sign() < 0 {
		s = "-" + s
	}
	return s, ok
}

// spellCost is how much a reader dislikes a spelling: twice its length, one more
// for a point, six more for a fraction or a unit that is seldom used.
func spellCost(s string, rare bool) int {
	cost := 2 * len(s)
	if strings.ContainsRune(s, '.') {
		cost++
	}
	if strings.ContainsRune(s, '/') {
		cost += 6
	}
	if rare {
		cost += 6
	}
	return cost
}

// decimal writes n, not negative, when it ends within nine decimals.
func (n Number) decimal() (string, bool) {
	return n.Short(MaxDecimals), n.Round(MaxDecimals).Equal(n)
}

// mixedFraction writes n, not negative and not whole, as "1/2" or "1 1/2".
func (n Number) mixedFraction() (string, bool) {
	whole := n.Floor()
	f := n.Sub(whole)
	if f.Sign() == 0 || f.rat().Denom().Cmp(pow10(MaxFraction).rat().Num()) >= 0 {
		return "", false
	}
	s := f.rat().RatString()
	if whole.Sign() > 0 {
		s = whole.Short(0) + " " + s
	}
	return s, true
}

// Format writes q in unit u with at most the given decimals, trailing zeros left
// out: "15 gal/ac".
func (u Unit[D]) Format(q Quantity[D], decimals int) string {
	return q.In(u).Short(decimals) + " " + u.Name
}

// Fixed writes q in unit u with exactly the given decimals: "946.353 mL".
func (u Unit[D]) Fixed(q Quantity[D], decimals int) string {
	return q.In(u).Fixed(decimals) + " " + u.Name
}

// String writes q in the unit that makes its exact number shortest, a whole number
// before a decimal, a decimal before a fraction, and the earlier unit in the
// dimension's list when two are as good; the parser of the dimension reads it back
// to the same quantity. A computed quantity that no unit writes within the limits
// of the parsers is rounded to nine decimals of the base unit.
func (q Quantity[D]) String() string {
	v := vocabularyOf[D]()
	best, unit, least := q.n.Short(MaxDecimals), v.base().Name, 0
	for _, u := range v.units {
		s, ok := q.In(u).spell()
		if !ok {
			continue
		}
		if cost := spellCost(s, v.rare[u.Name]); least == 0 || cost < least {
			best, unit, least = s, u.Name, cost
		}
	}
	return best + " " + unit
}

// vocabularyOf returns the vocabulary of a dimension.
func vocabularyOf[D dimension]() *vocabulary[D] {
	for _, v := range []any{volumes, masses, areas, lengths, densities, temperatures, durations, flows, speeds,
		sprayVolumes, contents} {
		if v, ok := v.(*vocabulary[D]); ok {
			return v
		}
	}
	panic("unit: a dimension without a vocabulary")
}

// base returns the unit in which the dimension is kept.
func (v *vocabulary[D]) base() Unit[D] {
	for _, u := range v.units {
		if u.factor.Equal(Int(1)) && u.offset.Sign() == 0 {
			return u
		}
	}
	panic("unit: no base unit of " + v.noun)
}

// Equal reports whether q and p are the same quantity.
func (q Quantity[D]) Equal(p Quantity[D]) bool { return q.n.Equal(p.n) }
