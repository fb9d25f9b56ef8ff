// Package unit holds the quantities of the field as exact types: one type a
// dimension, one base unit a type, rational numbers inside, rounded once for
// display by [Number.Round].
//
// Every US customary unit goes by its legal definition and every metric one by
// its prefix, so that no factor is rounded. Jar and land use the international
// acre. Numbers never pass through floating point on the way to a dose.
//
// # How quantities are written
//
//	quantity = number [ " " ] unit
//	number   = decimal | fraction | whole " " fraction | [ whole ] "½"
//	rate     = number amount ( "/" | " per " ) [ count ] base
//	         | number ( "% v/v" | "% w/v" | "ppm" )
//	amount   = unit of volume or weight
//	base     = unit of area or volume
//
// "1.5 pt/ac", "1 1/2 qt/ac", "2 lb/100 gal", "0.25 % v/v", "15 GPA", "50 °F".
// Case, full stops and the space before the unit do not matter, except where
// case tells two units apart: mL and ML, A (acre) and a (are). These are not
// guessed at; neither are a comma, an exponent, a range, "oz" for a liquid (oz
// is a weight), nor a spoon. What is not read is a [*SyntaxError] that says what
// to write instead.
//
// # Invariants
//
//   - What a parser accepts prints, by String, to a text that reads back to the
//     same value.
//   - Input longer than [MaxLength] characters is refused before it is looked at.
//   - The parts of a split sum to the whole within half of the last digit shown.
//   - One rounding rule: [Number.Round], half away from zero. Every printed
//     decimal goes through it, once.
//
// The package does not know which of two units a reader prefers beyond a
// [System], and says nothing about products.
package unit
