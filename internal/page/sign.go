package page

import (
	"fmt"
	"strings"

	"tankleaf.example/internal/mix"
)

// sign is one thing that a reading may hold: what a record table has a row for and
// the observation form a field.
type sign struct {
	field string   // key in the data files
	name  string   // message that names it
	words []string // what may be written, in the words of the data files; nil: a quantity
	unit  string   // of a quantity
}

// signs are everything that a reading may hold, hazards first.
var signs = []sign{
	{"gas", "symptom.gas", ticks(mix.NoGas, mix.Bubbles, mix.Firm, mix.Vented), ""},
	{"rise", "reading.rise", nil, "°C"},
	{"foam", "symptom.foam", nil, "mL"},
	{"flakes", "symptom.flakes", extents, ""},
	{"gel", "symptom.gel", extents, ""},
	{"precipitate", "symptom.precipitate", extents, ""},
	{"layers", "symptom.layers", extents, ""},
	{"oil_film", "symptom.oil-film", extents, ""},
	{"redispersed", "reading.redispersed", ticks(mix.Fully, mix.Partly, mix.NotAtAll), ""},
	{"screen", "symptom.residue", ticks(mix.NoResidue, mix.RinsesOff, mix.Stays), ""},
	{"ph", "reading.ph", nil, ""},
}

var extents = ticks(mix.None, mix.Trace, mix.Some, mix.Heavy)

func ticks[T fmt.Stringer](all ...T) []string {
	words := make([]string, len(all))
	for i, v := range all {
		words[i] = v.String()
	}
	return words
}

// TickBox is a word of the data files as it is printed beside a box. Where the page is
// in another language Data holds the word that goes into the record.
type TickBox struct{ Says, Data string }

// tick puts a word of the data files into the page's language.
func (l *leaf) tick(word string) TickBox {
	says := l.t("word." + word)
	if says == word {
		return TickBox{Says: says}
	}
	return TickBox{says, word}
}

// RecordRow is one thing to look for, with what may be written beside it.
type RecordRow struct {
	Name  string
	Field string
	Ticks []TickBox
	Unit  string
	Note  bool // words of a person, which take room
}

// Words lists the words of a row in one line.
func (r RecordRow) Words() string {
	if r.Ticks == nil {
		return r.Unit
	}
	var says []string
	for _, t := range r.Ticks {
		says = append(says, t.Says)
	}
	return strings.Join(says, " · ")
}

// DataWords lists the words of the data files in the order of the boxes, where the page
// has words of another language beside them; "" where it has the same.
func (r RecordRow) DataWords() string {
	var words []string
	for _, t := range r.Ticks {
		if t.Data != "" {
			words = append(words, t.Data)
		}
	}
	return strings.Join(words, " · ")
}

// recordRows are the rows of a record table.
func (l *leaf) recordRows() []RecordRow {
	rows := make([]RecordRow, len(signs))
	for i, s := range signs {
		rows[i] = RecordRow{Name: capital(l.t(s.name)), Field: s.field, Unit: s.unit}
		for _, w := range s.words {
			rows[i].Ticks = append(rows[i].Ticks, l.tick(w))
		}
	}
	return rows
}
