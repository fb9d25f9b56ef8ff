package unit

// Amount is an amount of product: a volume of liquid or a weight. The zero
// Amount is no liquid.
type Amount struct {
	Dry    bool
	Volume Volume // when not Dry
	Mass   Mass   // when Dry
}

// Base returns the amount in mL, or in g when it is dry.
func (a Amount) Base() Number {
	if a.Dry {
		return a.Mass.Base()
	}
	return a.Volume.Base()
}

// BaseUnit returns "mL" or "g", the unit of [Amount.Base].
func (a Amount) BaseUnit() string {
	if a.Dry {
		return Gram.Name
	}
	return Milliliter.Name
}

// Times returns a × n.
func (a Amount) Times(n Number) Amount {
	return Amount{Dry: a.Dry, Volume: a.Volume.Times(n), Mass: a.Mass.Times(n)}
}

// Add returns a + b, which must be of the same kind: both weights or both
// volumes. A zero amount of either kind may be added to anything.
func (a Amount) Add(b Amount) Amount {
	switch {
	case a.Dry == b.Dry:
		return Amount{Dry: a.Dry, Volume: a.Volume.Add(b.Volume), Mass: a.Mass.Add(b.Mass)}
	case a.Base().Sign() == 0:
		return b
	case b.Base().Sign() == 0:
		return a
	}
	panic("unit: a weight added to a volume")
}

// String writes the amount as its volume or weight.
func (a Amount) String() string {
	if a.Dry {
		return a.Mass.String()
	}
	return a.Volume.String()
}
