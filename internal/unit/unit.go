// Package unit holds the quantities of the field as exact types: one type a
// dimension, one base unit a type, rational numbers inside, rounded once for
// display by [Number.Round].
//
// Every US customary unit goes by its legal definition and every metric one by
// its prefix, so that no factor is rounded. Jar and land use the international
// acre. Numbers never pass through floating point on the way to a dose.
package unit
