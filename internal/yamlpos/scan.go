package yamlpos

import (
	"fmt"
	"unicode/utf8"

	"tankleaf.example/internal/diag"
)

// scan reports the characters that have no place in a text and whether there
// were none. It looks at comments too: what a reviewer sees there must be what
// the file says.
func (d *document) scan() bool {
	clean := true
	for i, line := range d.lines {
		col := 0
		for j, r := range line {
			col++
			if why := refused(r, line[j:]); why != "" {
				clean = false
				d.report(diag.Problem{Pos: d.place(i+1, col), Msg: why, Hint: "remove it"})
			}
			if d.full() {
				return false
			}
		}
	}
	return clean
}

// refused tells what is wrong with the character at the start of rest, "" when
// nothing is.
func refused(r rune, rest string) string {
	switch {
	case r == utf8.RuneError && !utf8.FullRuneInString(rest), r == utf8.RuneError && rest[0] != 0xef:
		return fmt.Sprintf("byte 0x%02x is not UTF-8 text", rest[0])
	case r == '\t':
		return ""
	case r < ' ' || r >= 0x7f && r < 0xa0:
		return fmt.Sprintf("control character %U", r)
	case r == '\u2028' || r == '\u2029':
		return fmt.Sprintf("line separator %U", r)
	case bidi(r):
		return fmt.Sprintf("invisible character %U changes the direction of text", r)
	case r == '\u200b' || r == '\u2060' || r == '\ufeff' || r == '\u00ad':
		return fmt.Sprintf("invisible character %U", r)
	case r&0xfffe == 0xfffe || r >= 0xe000 && r <= 0xf8ff || r >= 0xf0000:
		return fmt.Sprintf("%U is no character", r)
	}
	return ""
}

// bidi reports whether r is a control of the bidirectional algorithm (Unicode
// Standard Annex 9, section 2): it can show text in another order than stored.
func bidi(r rune) bool {
	return r >= '\u202a' && r <= '\u202e' || r >= '\u2066' && r <= '\u2069' ||
		r == '\u200e' || r == '\u200f' || r == '\u061c'
}
