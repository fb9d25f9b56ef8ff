package jar

import (
	"tankleaf.example/internal/mix"
	"tankleaf.example/internal/unit"
)

// Ions is what a water report says, each in ppm of the ion itself, not as calcium
// carbonate. What was not measured stays unknown.
type Ions struct {
	Potassium, Sodium, Calcium, Magnesium, Iron mix.Value
}

// IonsOf returns the ions of a water that was measured.
func IonsOf(w *mix.WaterSource) Ions {
	return Ions{Potassium: w.Potassium, Sodium: w.Sodium, Calcium: w.Calcium, Magnesium: w.Magnesium, Iron: w.Iron}
}

// Conditioning is the ammonium sulfate that a water takes up. The figure comes from
// an equation fitted to experiments and counts what the ions in the water tie up.
// It is a least amount and no recommendation: labels ask for 8.5 to 17 lb/100 gal,
// and the source of the equation advises 4 to 6 lb/100 gal for most hard waters and
// warns against going by a small result alone (North Dakota State Univ., Crop and
// Pest Report, 2 July 2015).
type Conditioning struct {
	Rate    unit.Rate // lb/100 gal
	Missing []string  // ions that were not measured and count as none: the rate is then too low
}

// ionTerm is one term of the equation.
type ionTerm struct {
	ion       string
	perPPM    unit.Number // lb/100 gal for each ppm of the ion
	valueFrom func(Ions) mix.Value
}

// sulfateTerms is lb/100 gal = 0.002 K + 0.005 Na + 0.009 Ca + 0.014 Mg + 0.042 Fe:
// North Dakota State Univ., Crop and Pest Report, 2 July 2015, quoting the ND Weed
// Control Guide 2015 p. 72; first published by Nalewaja and Matysiak 1993 (paper
// not read). The coefficients are 1.4 to 21 times what the balance of charges would
// give; they are measured, not derived, and stand as published.
var sulfateTerms = []ionTerm{
	{"potassium", unit.Frac(2, 1000), func(i Ions) mix.Value { return i.Potassium }},
	{"sodium", unit.Frac(5, 1000), func(i Ions) mix.Value { return i.Sodium }},
	{"calcium", unit.Frac(9, 1000), func(i Ions) mix.Value { return i.Calcium }},
	{"magnesium", unit.Frac(14, 1000), func(i Ions) mix.Value { return i.Magnesium }},
	{"iron", unit.Frac(42, 1000), func(i Ions) mix.Value { return i.Iron }},
}

// AmmoniumSulfate returns what the published equation gives for a water. ok is
// false when no ion was measured: nothing known is not soft water.
func AmmoniumSulfate(ions Ions) (c Conditioning, ok bool) {
	var sum unit.Number
	for _, t := range sulfateTerms {
		v := t.valueFrom(ions)
		if !v.Known {
			c.Missing = append(c.Missing, t.ion)
			continue
		}
		sum = sum.Add(v.N.Mul(t.perPPM))
		ok = true
	}
	if !ok {
		return Conditioning{Missing: c.Missing}, false
	}
	one, err := unit.ParseRate("1 lb/100 gal")
	if err != nil {
		panic(err)
	}
	c.Rate = one.Times(sum)
	return c, true
}

// Hardness as calcium carbonate from calcium and magnesium: each ppm of the ion
// times the molar mass of CaCO3 over that of the ion. Molar masses in g/mol:
// CaCO3 100.0869, Ca 40.078, Mg 24.305 (IUPAC abridged standard atomic weights, from
// memory).
var (
	carbonatePerCalcium   = unit.Frac(1000869, 400780)
	carbonatePerMagnesium = unit.Frac(1000869, 243050)
)

// HardnessOf returns the hardness as calcium carbonate of a water with so much
// calcium and magnesium ion. In grains per gallon it is [unit.GrainPerGallon].
func HardnessOf(calcium, magnesium unit.Content) unit.Content {
	return calcium.Times(carbonatePerCalcium).Add(magnesium.Times(carbonatePerMagnesium))
}
