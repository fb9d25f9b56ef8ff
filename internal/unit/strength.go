package unit

// Strength is how much active ingredient a product holds, as labels state it: by
// weight in a volume of product, or by weight in weight. The zero Strength is not
// known.
type Strength struct {
	PerVolume Density // active per volume of product; zero when by weight
	Share     Number  // active per product, weight by weight, 0 to 1; zero when by volume
}

// IsZero reports whether the strength is not known.
func (s Strength) IsZero() bool { return s.PerVolume.IsZero() && s.Share.Sign() == 0 }

// densest is more than any material weighs: osmium, the densest element, has 22.6
// g/mL (from memory).
var densest = GramPerMilliliter.Of(Int(23))

// ParseStrength reads the content of a product as labels state it: "4 lb/gal",
// "480 g/L", "80 % w/w", "500 g/kg", "25 % w/v". Errors are [*SyntaxError].
func ParseStrength(s string) (Strength, error) {
	t, err := newText(s, "strength", "4 lb/gal")
	if err != nil {
		return Strength{}, err
	}
	n, err := t.number()
	if err != nil {
		return Strength{}, err
	}
	t.skipSpace()
	at := t.pos
	r := t.rest()
	st, err := t.strength(n, r, at)
	switch {
	case err != nil:
		return Strength{}, err
	case n.Sign() == 0:
		return Strength{}, t.bad(Zero, 0, " is zero", t.write(t.example))
	case st.Share.Cmp(Int(1)) > 0, st.PerVolume.Base().Cmp(densest.Base()) > 0:
		return Strength{}, t.bad(OutOfRange, 0, " is more than all of the product", "check the number and its unit")
	}
	return st, nil
}

// strength gives number n the meaning of unit r.
func (t *text) strength(n Number, r string, at int) (Strength, error) {
	switch foldPercent(r) {
	case "%w/w", "%wt/wt", "%byweight", "%m/m":
		return Strength{Share: n.Quo(Int(100))}, nil
	case "g/kg":
		return Strength{Share: n.Quo(Int(1000))}, nil
	case "%w/v", "%wt/v", "%wt/vol", "%m/v":
		return Strength{PerVolume: GramPerMilliliter.Of(n.Quo(Int(100)))}, nil
	case "%":
		return Strength{}, t.bad(AmbiguousUnit, at, ` does not say per cent of what`,
			t.write(t.upTo(at)+" % w/w")+` for weight in weight, "% w/v" for weight in volume`)
	}
	if u, ok := densities.find(canonical(r)); ok {
		return Strength{PerVolume: u.Of(n)}, nil
	}
	w := densities.words()
	w.what, w.symbols = "weight per volume or per weight", "lb/gal, g/L, % w/w, g/kg, % w/v"
	return Strength{}, t.unknownUnit(r, at, w)
}

// String writes the strength as [ParseStrength] reads it.
func (s Strength) String() string {
	switch {
	case s.IsZero():
		return "not known"
	case s.Share.Sign() > 0:
		return s.Share.Mul(Int(100)).Short(MaxDecimals) + " % w/w"
	}
	lb, lbFits := s.PerVolume.In(PoundPerGallon).spell()
	g, gFits := s.PerVolume.In(GramPerLiter).spell()
	switch {
	case lbFits && (!gFits || len(lb) <= len(g)):
		return lb + " " + PoundPerGallon.Name
	case gFits:
		return g + " " + GramPerLiter.Name
	}
	return GramPerLiter.Format(s.PerVolume, MaxDecimals)
}
