package intake

import (
	"fmt"
	"slices"
	"strconv"
	"strings"

	"tankleaf.example/internal/diag"
	"tankleaf.example/internal/mix"
	"tankleaf.example/internal/trial"
	"tankleaf.example/internal/unit"
)

// needed are the headings without which no record comes about.
var needed = []string{"id", "kind", "title", "date", "by", "product.1", "after"}

// known lists every heading there may be.
func known() []trial.Column {
	return slices.Concat(trial.JarColumns(trial.MostProducts), trial.ReadingColumns(false))
}

// checkHead looks at the headings and returns the place of each, by name.
func (t *table) checkHead(list *diag.List) map[string]int {
	place := map[string]int{}
	var names []string
	for _, c := range known() {
		names = append(names, c.Name)
	}
	for i := range t.head {
		h := &t.head[i]
		first, again := place[h.text]
		switch {
		case h.text == "" && !t.used(i):
			continue
		case h.text == "":
			h.problem(list, "fields without a heading", "write one of "+strings.Join(names[:6], ", ")+", …")
		case again:
			h.problem(list, fmt.Sprintf("heading %q stands there twice", h.text), "rename one", "also in column "+t.head[first].letter)
		case !slices.Contains(names, h.text):
			h.problem(list, fmt.Sprintf("unknown heading %q", h.text), headHint(h.text, names))
		}
		if !again {
			place[h.text] = i
		}
	}
	for _, n := range needed {
		if _, ok := place[n]; !ok {
			list.Add(diag.Pos{File: t.file, Line: 1}, fmt.Sprintf("row 1: no column %q", n), "add it: the headings are "+strings.Join(needed, ", ")+", …")
		}
	}
	t.tooLong(list)
	return place
}

// used reports whether a column holds anything below its heading.
func (t *table) used(i int) bool {
	return slices.ContainsFunc(t.rows, func(row []cell) bool { return i < len(row) && row[i].text != "" })
}

// headHint names the nearest heading; upper case and blanks are the usual slips.
func headHint(got string, names []string) string {
	like := strings.ReplaceAll(strings.ToLower(got), " ", "_")
	if slices.Contains(names, like) {
		return fmt.Sprintf("write %q", like)
	}
	if near := diag.Nearest(like, names); near != "" {
		return fmt.Sprintf("did you mean %q?", near)
	}
	return "headings are the keys of an observation: " + strings.Join(names[:5], ", ") + ", …, after, gas, foam, …"
}

// tooLong refuses rows that go on beyond the headings: a comma in a field without
// quotes moves everything behind it.
func (t *table) tooLong(list *diag.List) {
	for _, row := range t.rows {
		if i := len(t.head); len(row) > i {
			row[i].problem(list, "more fields than headings", "put a field that holds a comma in quotes, or take the last comma away")
		}
	}
}

// reads tells what a column's fields must look like, for telling exchanged columns;
// nil for free text. Whether a value is right is for the package dataset to say.
func reads(name string) func(string) bool {
	for _, c := range known() {
		if c.Name == name && c.Words != nil {
			return func(s string) bool { return slices.Contains(c.Words, strings.ToLower(s)) }
		}
	}
	base, _, _ := strings.Cut(name, ".")
	switch {
	case name == "vessel.size" || name == "vessel.liquid":
		return ok(unit.ParseVolume)
	case name == "vessel.height":
		return ok(unit.ParseLength)
	case name == "inversions" || name == "reading.inversions" || name == "mesh":
		return func(s string) bool { _, err := strconv.Atoi(s); return err == nil }
	case name == "date":
		return func(s string) bool { _, good := mix.ParseDate(s); return good }
	case name == "ph" || name == "ph_before":
		return ok(unit.ParseNumber)
	case name == "temperature" || name == "rise":
		return ok(unit.ParseTemperature)
	case name == "foam":
		return func(s string) bool { return ok(unit.ParseVolume)(s) || ok(unit.ParseLength)(s) }
	case name == "after":
		return ok(unit.ParseDuration)
	case name == "spray_volume":
		return ok(unit.ParseSprayVolume)
	case name == "water_share":
		return ok(unit.ParsePercent)
	case base == "rate":
		return ok(unit.ParseRate)
	case base == "product" || name == "id":
		return mix.ValidID
	}
	return nil
}

func ok[T any](parse func(string) (T, error)) func(string) bool {
	return func(s string) bool { _, err := parse(s); return err == nil }
}

// exchanged finds pairs of columns whose fields stand under each other's headings:
// nothing under the first can be read as what it says, and all of it as what the
// second says, and the other way round all can too. When a column is in two such
// pairs the fields have moved along, and nobody can say from where.
func (t *table) exchanged(list *diag.List) bool {
	var pairs [][2]int
	for a := range t.head {
		for b := range t.head {
			if a != b && t.isExchanged(a, b) && (a < b || !t.isExchanged(b, a)) {
				pairs = append(pairs, [2]int{a, b})
			}
		}
	}
	for i, p := range pairs {
		for _, q := range pairs[:i] {
			if slices.Contains(p[:], q[0]) || slices.Contains(p[:], q[1]) {
				return false
			}
		}
	}
	for _, p := range pairs {
		x, y := &t.head[min(p[0], p[1])], &t.head[max(p[0], p[1])]
		x.problem(list, fmt.Sprintf("columns %s %q and %s %q are exchanged", x.letter, x.text, y.letter, y.text),
			fmt.Sprintf("write %q over column %s and %q over column %s", y.text, x.letter, x.text, y.letter))
	}
	return len(pairs) > 0
}

func (t *table) isExchanged(a, b int) bool {
	readA, readB := reads(t.head[a].text), reads(t.head[b].text)
	if readA == nil || readB == nil {
		return false
	}
	inA, inB := t.column(a), t.column(b)
	wrong := func(s string) bool { return !readA(s) && readB(s) }
	return len(inA) > 0 && len(inB) > 0 && all(inA, wrong) && all(inB, readA)
}

func all(list []string, is func(string) bool) bool {
	return !slices.ContainsFunc(list, func(s string) bool { return !is(s) })
}

// column returns what stands under a heading.
func (t *table) column(i int) []string {
	var list []string
	for _, row := range t.rows {
		if i < len(row) && row[i].text != "" {
			list = append(list, row[i].text)
		}
	}
	return list
}
