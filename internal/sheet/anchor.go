package sheet

import (
	"strconv"
	"strings"
	"unicode"
)

// AnchorPrefix starts every id attribute that a sheet's body makes, so that none
// meets an id of a template.
const AnchorPrefix = "sheet-"

// anchors hands out the anchors of one sheet: stable, because they come from the
// heading's words alone, and unique. It holds each anchor in use with the number
// that a repeat of it would be tried with next.
type anchors map[string]int

// next returns the anchor of a heading without AnchorPrefix: "what-to-do", and
// for a repeat "what-to-do-2".
func (a anchors) next(heading string) string {
	base := slug(heading)
	if base == "" {
		base = "section"
	}
	name := base
	for a[name] > 0 {
		a[base]++
		name = base + "-" + strconv.Itoa(a[base])
	}
	a[name] = 1
	return name
}

// plain spells the letters of the languages we publish in without their marks.
var plain = strings.NewReplacer("á", "a", "é", "e", "í", "i", "ó", "o", "ú", "u", "ü", "u", "ñ", "n", "ç", "c",
	"à", "a", "è", "e", "ò", "o", "â", "a", "ê", "e", "ô", "o", "ã", "a", "õ", "o")

// slug returns the lower-case letters and digits of s, with one hyphen for each
// run of anything else, 60 characters at most. Letters of other scripts stay.
func slug(s string) string {
	var b strings.Builder
	gap := false
	count := 0
	for _, r := range plain.Replace(strings.ToLower(s)) {
		switch {
		case r == '\'' || r == '’':
			// "don't" is one word
		case unicode.IsLetter(r) || unicode.IsDigit(r):
			if count == 60 {
				return b.String()
			}
			if gap && b.Len() > 0 {
				b.WriteByte('-')
			}
			b.WriteRune(r)
			gap = false
			count++
		default:
			gap = true
		}
	}
	return b.String()
}
