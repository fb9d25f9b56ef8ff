package dataset

import (
	"unicode"

	"tankleaf.example/internal/unit"
)

// span is the range a number must lie in to be believed. Spans catch a slipped
// decimal point or a wrong unit; they are wider than anything that was measured.
type span struct {
	what      string
	low, high int64 // times per
	per       int64
	unit      string
	shown     string // instead of numbers and unit, when the trade uses others
}

var (
	// Liquid products and fertilizers run from light oils near 0.8 to heavy salt
	// solutions near 1.9 g/mL. From memory; the bounds leave room on both sides.
	densities = span{"density", 3, 30, 10, "g/mL", ""}
	// The pH scale of dilute water.
	phs = span{"pH", 0, 14, 1, "", ""}
	// Water that is sprayed is liquid; a brine may be below freezing.
	temperatures = span{"temperature", -20, 100, 1, "°C", ""}
	differences  = span{"temperature difference", -40, 100, 1, "°C", ""}
	// Sea water holds some 6,500 ppm of hardness and 10,800 ppm of sodium (from
	// memory); nobody sprays harder water.
	hardnesses = span{"hardness", 0, 10_000, 1, "ppm", ""}
	contents   = span{"content", 0, 20_000, 1, "ppm", ""}
	// One day is a long stand for a jar; a season is the longest interval a
	// notice or a step can mean.
	durations = span{"time", 0, 366 * 24 * 60, 1, "min", "0 to 366 days"}
	// A second is faster than any published hydrolysis; after ten years nobody
	// calls it one.
	halfLifeSpan = span{"half-life", 1, 10 * 366 * 24 * 3600, 60, "min", "1 s to 10 years"}
	shares       = span{"share", 0, 1, 1, "", ""}
	// mL/m²: 0.1 gal/ac by air is 0.09, a drench of 2,000 gal/ac is 1,871.
	sprayVolumes = span{"spray volume", 5, 500_000, 100, "mL/m²", "0.5 to 50,000 L/ha"}
)

func (r span) holds(n unit.Number) bool {
	return n.Cmp(unit.Frac(r.low, r.per)) >= 0 && n.Cmp(unit.Frac(r.high, r.per)) <= 0
}

func (r span) String() string {
	if r.shown != "" {
		return r.shown
	}
	s := unit.Frac(r.low, r.per).Short(3) + " to " + unit.Frac(r.high, r.per).Short(3)
	if r.unit != "" {
		s += " " + r.unit
	}
	return s
}

// mixedWord returns the first word that holds Latin letters beside Cyrillic or
// Greek ones, and its place in characters. The Greek letters that stand in units
// and chemical names beside Latin ones are let pass.
func mixedWord(s string) (at int, word string) {
	chars := []rune(s)
	for i := 0; i < len(chars); {
		j := i
		latin, other := false, false
		for ; j < len(chars) && unicode.IsLetter(chars[j]); j++ {
			latin = latin || unicode.Is(unicode.Latin, chars[j])
			other = other || foreign(chars[j])
		}
		if latin && other {
			return i, string(chars[i:j])
		}
		i = max(j, i+1)
	}
	return 0, ""
}

func foreign(r rune) bool {
	switch r {
	case 'α', 'β', 'γ', 'δ', 'λ', 'μ', 'Ω', 'Δ', 'π':
		return false
	}
	return unicode.In(r, unicode.Cyrillic, unicode.Greek, unicode.Armenian, unicode.Cherokee)
}
