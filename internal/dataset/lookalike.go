package dataset

import (
	"fmt"
	"maps"
	"slices"
	"strings"

	"tankleaf.example/internal/diag"
	"tankleaf.example/internal/mix"
)

// latin maps small letters of other scripts to the Latin letters that they look
// like in common typefaces, capitals among them in their small form. The pairs are
// those of Unicode Technical Standard 39, Unicode Security Mechanisms
// (confusables.txt), for Cyrillic, Greek and Armenian; from memory.
var latin = strings.NewReplacer(
	"а", "a", "в", "b", "с", "c", "ԁ", "d", "е", "e", "ѕ", "s", "һ", "h", "н", "h", "і", "i", "ј", "j", "к", "k", "ӏ", "l",
	"м", "m", "о", "o", "р", "p", "ԛ", "q", "т", "t", "у", "y", "ү", "y", "ԝ", "w", "х", "x",
	"α", "a", "β", "b", "ε", "e", "ζ", "z", "η", "h", "ι", "i", "κ", "k", "μ", "m", "ν", "v", "ο", "o", "ρ", "p", "τ", "t", "υ", "u", "χ", "x", "γ", "y",
	"օ", "o", "ո", "n", "ս", "u", "հ", "h", "զ", "q",
)

// checkLookAlikes refuses two names that look the same and are written with other
// letters: readers would take one thing for the other.
func (l *loader) checkLookAlikes() {
	b := &l.book
	first := map[string]spelled{}
	for i := range b.Products {
		l.lookAlike(first, b.Products[i].At, b.Products[i].Name)
	}
	for _, t := range l.namedTexts() {
		for _, lang := range slices.Sorted(maps.Keys(t.names)) {
			l.lookAlike(first, t.at, t.names[lang])
		}
	}
}

// spelled is a name as it was first written.
type spelled struct {
	name string
	at   diag.Pos
}

func (l *loader) lookAlike(first map[string]spelled, at diag.Pos, name string) {
	small := strings.ToLower(name)
	look := latin.Replace(small)
	old, seen := first[look]
	if !seen {
		first[look] = spelled{small, at}
		return
	}
	if old.name != small {
		l.problems.Add(at, fmt.Sprintf("name %q looks like another, with letters of another script", name), "write both in one script",
			"the other is at "+old.at.String())
	}
}

type namedText struct {
	at    diag.Pos
	names mix.Text
}

// namedTexts are the names of all records that a page lists by their name.
func (l *loader) namedTexts() []namedText {
	var all []namedText
	b := &l.book
	for i := range b.Classes {
		all = append(all, namedText{b.Classes[i].At, b.Classes[i].Name})
	}
	for i := range b.Places {
		all = append(all, namedText{b.Places[i].At, b.Places[i].Name})
	}
	for i := range b.Crops {
		all = append(all, namedText{b.Crops[i].At, b.Crops[i].Name})
	}
	for i := range b.Purposes {
		all = append(all, namedText{b.Purposes[i].At, b.Purposes[i].Name})
	}
	for i := range b.Waters {
		all = append(all, namedText{b.Waters[i].At, b.Waters[i].Name})
	}
	return all
}
