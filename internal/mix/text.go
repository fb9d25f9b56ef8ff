package mix

import (
	"maps"
	"slices"

	"tankleaf.example/internal/diag"
)

// Lang is a language code as BCP 47 writes it: "en", "es".
type Lang string

// Spoken lists the languages that the tool itself brings words for. Texts may be in
// any of them, whichever the site is published in, so that the classes and
// statements that come with the tool serve every office.
var Spoken = []Lang{"en", "es"}

// Text is one piece of prose in one or more languages. An author who writes a
// plain scalar writes it in the office's first language.
type Text map[Lang]string

// In returns the text in the wanted language, else in the fallback language,
// else in the first language in alphabetical order, together with the language
// it is in, so that a page can say so.
func (t Text) In(want, fallback Lang) (string, Lang) {
	for _, l := range []Lang{want, fallback} {
		if s, ok := t[l]; ok {
			return s, l
		}
	}
	for _, l := range slices.Sorted(maps.Keys(t)) {
		return t[l], l
	}
	return "", want
}

// IsZero reports whether there is no text.
func (t Text) IsZero() bool { return len(t) == 0 }

// ID names a record: lower-case letters, digits and single hyphens, 64 at most.
// Products and classes share one space of names, so that an item of a mix may be
// either.
type ID string

// Ref is a reference to a record, with the place it was written at.
type Ref struct {
	ID ID
	At diag.Pos
}

// ValidID reports whether s may be an ID.
func ValidID(s string) bool {
	if s == "" || len(s) > 64 || s[0] == '-' || s[len(s)-1] == '-' {
		return false
	}
	for i := range len(s) {
		c := s[i]
		switch {
		case c >= 'a' && c <= 'z', c >= '0' && c <= '9':
		case c == '-' && s[i-1] != '-':
		default:
			return false
		}
	}
	return true
}
