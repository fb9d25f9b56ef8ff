package search

import "strings"

// wordClass lists the characters a word is made of, for a regular expression
// in the syntax that Go and JavaScript share. Plain ranges rather than \p
// classes: the two sides carry different versions of the Unicode tables.
const wordClass = `0-9A-Za-z\x{AA}\x{B2}\x{B3}\x{B5}\x{B9}\x{BA}\x{C0}-\x{D6}\x{D8}-\x{F6}\x{F8}-\x{2AF}` +
	`\x{300}-\x{37D}\x{37F}-\x{386}\x{388}-\x{1FFF}\x{2070}-\x{2079}\x{2080}-\x{2089}\x{2090}-\x{209C}`

// joints are the characters that hold a compound together when they stand
// between two word characters: 2,4-D, v/v, 28-0-0, 0.25, grower's.
const joints = `.,'’/_\x{2010}\x{2011}\-`

// tokenPattern is the one pattern by which both sides cut text into tokens.
const tokenPattern = `[` + wordClass + `]+(?:[` + joints + `][` + wordClass + `]+)*`

// folds lists what each letter or pair of letters stands in for, one group a
// line: the replacement first, then the characters it replaces. Both cases and
// all accents of a letter are one letter, so that nitrogeno finds nitrógeno.
// Superscript and subscript digits are digits: CO₂ is found as CO2.
const folds = `a ªàáâãäåāăąÀÁÂÃÄÅĀĂĄ
ae æÆ
c çćĉċčÇĆĈĊČ
d ðďđÐĎĐ
e èéêëēĕėęěÈÉÊËĒĔĖĘĚ
g ĝğġģĜĞĠĢ
h ĥħĤĦ
i ìíîïĩīĭįıÌÍÎÏĨĪĬĮİ
j ĵĴ
k ķĸĶ
l ĺļľŀłĹĻĽĿŁ
n ñńņňŋÑŃŅŇŊ
o ºòóôõöøōŏőÒÓÔÕÖØŌŎŐ
oe œŒ
r ŕŗřŔŖŘ
s śŝşšșŚŜŞŠȘſ
ss ß
t ţťŧțŢŤŦȚ
th þÞ
u µμùúûüũūŭůűųÙÚÛÜŨŪŬŮŰŲ
w ŵŴ
y ýÿŷÝŶŸ
z źżžŹŻŽ
σ ς
0 ⁰₀
1 ¹₁
2 ²₂
3 ³₃
4 ⁴₄
5 ⁵₅
6 ⁶₆
7 ⁷₇
8 ⁸₈
9 ⁹₉`

// foldOf maps a character to what stands for it.
var foldOf = readFolds()

func readFolds() map[rune]string {
	m := make(map[rune]string)
	for line := range strings.Lines(folds) {
		to, from, _ := strings.Cut(strings.TrimSuffix(line, "\n"), " ")
		for _, r := range from {
			m[r] = to
		}
	}
	return m
}

// foldRune returns the one spelling of a character: lower case, no accent. It
// is written out, since the two sides lower-case differently outside ASCII. A
// combining accent folds to nothing.
func foldRune(r rune) string {
	if to, ok := foldOf[r]; ok {
		return to
	}
	switch {
	case 'A' <= r && r <= 'Z', 'Α' <= r && r <= 'Ω', 'А' <= r && r <= 'Я':
		return string(r + 32)
	case 'Ѐ' <= r && r <= 'Џ':
		return string(r + 80)
	case 0x300 <= r && r <= 0x36F:
		return ""
	}
	return string(r)
}

// fold returns the one spelling of a text.
func fold(s string) string {
	var b strings.Builder
	for _, r := range s {
		b.WriteString(foldRune(r))
	}
	return b.String()
}
