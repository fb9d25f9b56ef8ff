package trial

import (
	"encoding/csv"
	"fmt"
	"io"
	"slices"
	"strings"

	"tankleaf.example/internal/mix"
	"tankleaf.example/internal/unit"
)

// The record sheet speaks the words of the data: each heading is a key of an
// observation, each tick box a word that the key takes, so that what was ticked is
// typed back with no translation. As a table it has one line for each jar and
// reading; what is said once of a jar stands in its first line.

// Column is one heading of a record sheet. A key inside another is written with a
// dot: vessel.size; the two keys that jars and readings share are reading.inversions
// and reading.note in a reading.
type Column struct {
	Name    string
	Reading bool     // said at each reading; otherwise once of a jar
	Words   []string // tick boxes; nil: written
	Example string   // of what is written
}

// MostProducts is how many products a line of a table has room for.
const MostProducts = 12

// JarColumns returns the columns of what is said once of a jar with up to so many
// products, in the order of an observation's keys.
func JarColumns(products int) []Column {
	list := []Column{
		{Name: "id", Example: "bench-2026-k7"}, {Name: "kind", Words: []string{"jar", "field"}}, {Name: "title", Example: "Jar K7"},
		{Name: "date", Example: "2026-05-12"}, {Name: "by", Example: "office specialist"}, {Name: "place"}, {Name: "investigation"},
	}
	for n := 1; n <= products; n++ {
		list = append(list, Column{Name: fmt.Sprintf("product.%d", n)}, Column{Name: fmt.Sprintf("rate.%d", n), Example: "5 lb/ac"},
			Column{Name: fmt.Sprintf("batch.%d", n)})
	}
	return append(list, Column{Name: "order", Words: []string{"recorded", "not-recorded"}}, Column{Name: "spray_volume", Example: "20 gal/ac"},
		Column{Name: "water_share", Example: "25 %"}, Column{Name: "vessel.type", Example: "jar"}, Column{Name: "vessel.size", Example: "1 qt"},
		Column{Name: "vessel.liquid", Example: "700 mL"}, Column{Name: "vessel.height", Example: "90 mm"},
		Column{Name: "vessel.closed", Words: []string{"true", "false"}}, Column{Name: "water"}, Column{Name: "temperature", Example: "15 °C"},
		Column{Name: "ph_before", Example: "7.6"}, Column{Name: "inversions", Example: "10"}, Column{Name: "note"})
}

// ReadingColumns returns the columns of one reading; after comes first. An open
// vessel has no firm walls and no hiss: its tick boxes leave them out.
func ReadingColumns(open bool) []Column {
	gas := wordsOf(mix.NoGas, mix.Vented)
	if open {
		gas = wordsOf(mix.NoGas, mix.Bubbles)
	}
	extent := wordsOf(mix.None, mix.Heavy)
	r := func(name, example string, words []string) Column { return Column{name, true, words, example} }
	return []Column{r("after", "15 min", nil), r("gas", "", gas), r("rise", "0.5 °C", nil), r("foam", "40 mL", nil), r("flakes", "", extent),
		r("gel", "", extent), r("precipitate", "", extent), r("layers", "", extent), r("oil_film", "", extent),
		r("redispersed", "", wordsOf(mix.Fully, mix.NotAtAll)), r("reading.inversions", "5", nil),
		r("screen", "", wordsOf(mix.NoResidue, mix.Stays)), r("mesh", "50", nil), r("ph", "6.4", nil), r("reading.note", "", nil)}
}

// wordsOf lists the words of an enumeration from one value to another.
func wordsOf[T interface {
	~uint8
	String() string
}](from, to T) []string {
	var words []string
	for v := from; v <= to; v++ {
		words = append(words, v.String())
	}
	return words
}

// RecordSheet is what is filled in by hand for one jar: a row for each thing to look
// for, a column for each reading.
type RecordSheet struct {
	Code    string
	Run     int
	Opening Opening
	Times   []unit.Duration
	Rows    []Column // without after, which heads the columns
}

// RecordSheets returns one sheet a jar, in the order of runs.
func (t *Trial) RecordSheets() []RecordSheet {
	var list []RecordSheet
	for i := range t.Jars {
		j := &t.Jars[i]
		list = append(list, RecordSheet{j.Code, j.Run, j.Opening, t.Routine.Readings, ReadingColumns(!j.Opening.Closed())[1:]})
	}
	return list
}

// WriteSheet writes the record sheet of a trial as CSV, filled in as far as the plan
// knows: what was poured, in what, at which times it is read. Ids are the prefix
// with the jar's code. Jars of carrier alone are left out, for an observation is of
// products; what they showed goes into the notes of the others.
func (t *Trial) WriteSheet(w io.Writer, prefix string) error {
	most := 1
	for i := range t.Jars {
		most = max(most, len(t.Jars[i].Products))
	}
	columns := slices.Concat(JarColumns(most), ReadingColumns(false))
	out := csv.NewWriter(w)
	var head []string
	for _, c := range columns {
		head = append(head, c.Name)
	}
	lines := [][]string{head}
	for i := range t.Jars {
		j := &t.Jars[i]
		if len(j.Products) == 0 {
			continue
		}
		said := t.said(j, prefix)
		for n, after := range t.Routine.Readings {
			if n > 0 {
				said = map[string]string{"id": said["id"]}
			}
			said["after"] = after.String()
			line := make([]string, len(columns))
			for k, c := range columns {
				line[k] = said[c.Name]
			}
			lines = append(lines, line)
		}
	}
	return out.WriteAll(lines)
}

// said is what the plan knows of a jar, by column.
func (t *Trial) said(j *Jar, prefix string) map[string]string {
	said := map[string]string{"id": prefix + "-" + strings.ToLower(j.Code), "kind": "jar", "title": "Jar " + j.Code + ", " + t.Says(j),
		"order": "recorded", "vessel.type": "jar", "vessel.size": t.Vessel.Size.String(), "vessel.liquid": inML(j.Card.Recipe.Finished),
		"vessel.closed": fmt.Sprint(j.Opening.Closed()), "water": string(j.Water), "inversions": "0"}
	if j.Opening.Closed() {
		said["inversions"] = fmt.Sprint(t.Routine.Inversions)
	}
	if v := j.Card.Recipe.SprayVolume; !v.IsZero() {
		said["spray_volume"] = v.String()
	}
	if share := j.Card.Recipe.WaterShare; share.Cmp(unit.Int(1)) < 0 {
		said["water_share"] = share.Mul(unit.Int(100)).Short(3) + " %"
	}
	for n, i := range j.Products {
		p := &t.Products[i]
		said[fmt.Sprintf("product.%d", n+1)] = string(id(p))
		said[fmt.Sprintf("rate.%d", n+1)] = p.Rate.String()
	}
	return said
}
