package jar

import (
	"tankleaf.example/internal/mix"
	"tankleaf.example/internal/unit"
)

// chemical is a salt of made waters with what one mol of it brings.
type chemical struct {
	name               string
	molar              unit.Number // g/mol
	calcium, magnesium int64       // atoms
}

// chemicals are the salts of which standard hard waters are made up. Molar masses in
// g/mol from the IUPAC abridged standard atomic weights (from memory): Ca 40.078,
// Mg 24.305, Cl 35.45, C 12.011, O 15.999, H 1.008.
var chemicals = []chemical{
	{"calcium chloride", unit.Frac(110978, 1000), 1, 0},
	{"calcium chloride dihydrate", unit.Frac(147008, 1000), 1, 0},
	{"magnesium chloride hexahydrate", unit.Frac(203295, 1000), 0, 1},
	{"calcium carbonate", unit.Frac(1000869, 10000), 1, 0},
	{"magnesium oxide", unit.Frac(40304, 1000), 0, 1},
}

// IonsOfSalts returns the calcium and magnesium that a made water holds, each as the
// ion. ok is false when a salt is not known here; nothing is guessed.
func IonsOfSalts(salts []mix.Reagent) (calcium, magnesium unit.Content, ok bool) {
	for _, s := range salts {
		r := chemicalOf(s.Name)
		if r == nil {
			return unit.Content{}, unit.Content{}, false
		}
		mmol := s.Amount.Over(r.molar)
		calcium = calcium.Add(mmol.Times(unit.Int(r.calcium)).Times(unit.Frac(40078, 1000)))
		magnesium = magnesium.Add(mmol.Times(unit.Int(r.magnesium)).Times(unit.Frac(24305, 1000)))
	}
	return calcium, magnesium, len(salts) > 0
}

func chemicalOf(name string) *chemical {
	for i := range chemicals {
		if chemicals[i].name == name {
			return &chemicals[i]
		}
	}
	return nil
}

// Weigh measures what a volume of a made water takes of one of its salts.
func (b *Bench) Weigh(s mix.Reagent, v unit.Volume) Pour {
	mg := s.Amount.Base().Mul(v.In(unit.Liter))
	return b.Pour(unit.Amount{Dry: true, Mass: unit.Milligram.Of(mg)})
}
