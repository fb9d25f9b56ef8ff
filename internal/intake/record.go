package intake

import (
	"fmt"
	"regexp"
	"slices"
	"strings"

	"tankleaf.example/internal/diag"
	"tankleaf.example/internal/mix"
	"tankleaf.example/internal/trial"
)

// jar is the lines of one id.
type jar struct {
	id    string
	first []cell // its first row
	said  map[string]cell
	reads []map[string]cell
}

// Read turns a table into records. What it reports is about the table alone; whether
// the values are right is told by [Check].
func Read(file string, text []byte) ([]Record, diag.List) {
	var list diag.List
	t, ok := parse(file, text, &list)
	if !ok {
		return nil, list
	}
	place := t.checkHead(&list)
	if list.Stops() || t.exchanged(&list) {
		return nil, list.Sorted()
	}
	var records []Record
	for _, j := range t.jars(place, &list) {
		records = append(records, j.record())
	}
	if list.Stops() {
		return nil, list.Sorted()
	}
	return records, list
}

// jars gathers the rows by id.
func (t *table) jars(place map[string]int, list *diag.List) []*jar {
	var all []*jar
	byID := map[string]*jar{}
	last := ""
	for _, row := range t.rows {
		id := field(row, place, "id").text
		if id == "" {
			id = last
		}
		last = id
		if id == "" {
			row[0].problem(list, "a jar without an id", "write one such as bench-2026-k7")
			continue
		}
		if !mix.ValidID(id) { // it becomes a file name
			c := field(row, place, "id")
			c.problem(list, fmt.Sprintf("%q is no id", id), fmt.Sprintf("ids are lower-case letters, digits and single hyphens, 64 at most: write %q", Folder(id)))
			continue
		}
		j := byID[id]
		if j == nil {
			j = &jar{id: id, first: row, said: map[string]cell{}}
			byID[id] = j
			all = append(all, j)
		}
		j.take(row, place, list)
	}
	return all
}

func field(row []cell, place map[string]int, name string) cell {
	if i, ok := place[name]; ok && i < len(row) {
		return row[i]
	}
	return cell{}
}

// take adds one row to its jar. A row that says something else of the jar than its
// first one is a problem: one of the two is wrong, or it is another jar.
func (j *jar) take(row []cell, place map[string]int, list *diag.List) {
	for _, c := range trial.JarColumns(trial.MostProducts) {
		f := field(row, place, c.Name)
		if f.text == "" {
			continue
		}
		if was, said := j.said[c.Name]; said && was.text != f.text {
			f.problem(list, fmt.Sprintf("%q, and row %d of the same jar says %q", f.text, was.row, was.text),
				"say it once, or give this jar an id of its own")
			continue
		} else if said {
			continue
		}
		j.said[c.Name] = f
	}
	reading, seen := map[string]cell{}, false
	for _, c := range trial.ReadingColumns(false) {
		if f := field(row, place, c.Name); f.text != "" {
			reading[c.Name] = f
			seen = seen || c.Name != "after"
		}
	}
	if !seen {
		return // nobody looked
	}
	if _, timed := reading["after"]; !timed {
		row[0].problem(list, "a reading without its time", `write how long after the last product under "after", as in 15 min`)
	}
	j.reads = append(j.reads, reading)
}

// writer writes YAML line by line and keeps where each came from.
type writer struct {
	b    strings.Builder
	from []cell
}

func (w *writer) line(from cell, format string, args ...any) {
	fmt.Fprintf(&w.b, format+"\n", args...)
	w.from = append(w.from, from)
}

// put writes a key whose cell says something.
func (w *writer) put(said map[string]cell, column, lead, key string) bool {
	c, ok := said[column]
	if ok {
		w.line(c, "%s%s: %s", lead, key, scalar(c.text, key))
	}
	return ok
}

// record writes a jar as the file of an observation, keys in the order in which the
// dataset describes them.
func (j *jar) record() Record {
	w := &writer{}
	top := j.first[0]
	if c, ok := j.said["id"]; ok {
		top = c
	}
	w.line(top, "# yaml-language-server: $schema=../../schema/observation.json")
	for _, key := range []string{"id", "kind", "title", "date", "by", "place", "investigation"} {
		w.put(j.said, key, "", key)
	}
	j.products(w, top)
	for _, key := range []string{"order", "spray_volume", "water_share"} {
		w.put(j.said, key, "", key)
	}
	w.group(j.said, "vessel", []string{"type", "size", "liquid", "height", "closed"})
	for _, key := range []string{"water", "temperature", "ph_before", "inversions"} {
		w.put(j.said, key, "", key)
	}
	j.readings(w, top)
	w.put(j.said, "note", "", "note")
	return Record{ID: mix.ID(j.id), Text: []byte(w.b.String()), from: w.from}
}

// group writes the keys of one mapping below its name, if any is said.
func (w *writer) group(said map[string]cell, name string, keys []string) {
	open := false
	for _, k := range keys {
		c, ok := said[name+"."+k]
		if ok && !open {
			w.line(c, "%s:", name)
			open = true
		}
		w.put(said, name+"."+k, "  ", k)
	}
}

func (j *jar) products(w *writer, top cell) {
	open := false
	for n := 1; n <= trial.MostProducts; n++ {
		lead := "  - "
		for _, k := range []string{"product", "rate", "batch"} {
			name := fmt.Sprintf("%s.%d", k, n)
			c, said := j.said[name]
			if !said {
				continue
			}
			if !open {
				w.line(top, "products:")
				open = true
			}
			w.line(c, "%s%s: %s", lead, k, scalar(c.text, k))
			lead = "    "
		}
	}
}

func (j *jar) readings(w *writer, top cell) {
	if len(j.reads) == 0 {
		return
	}
	w.line(top, "readings:")
	for _, r := range j.reads {
		lead := "  - "
		for _, c := range trial.ReadingColumns(false) {
			key := strings.TrimPrefix(c.Name, "reading.")
			if w.put(r, c.Name, lead, key) {
				lead = "    "
			}
		}
	}
}

// plainText may stand in YAML without quotes and means itself there.
var plainText = regexp.MustCompile(`^[A-Za-z0-9][A-Za-z0-9 ./%°,()_-]*[A-Za-z0-9%)°.]$|^[A-Za-z0-9]$`)

// bare are the keys whose values must not be quoted: truth and whole numbers.
var bare = []string{"closed", "inversions", "mesh"}

var plainWord = regexp.MustCompile(`^[A-Za-z0-9-]+$`)

// scalar writes a value so that YAML reads it back as it was typed. Spreadsheets make
// TRUE of true.
func scalar(s, key string) string {
	if slices.Contains(bare, key) && plainWord.MatchString(s) {
		return strings.ToLower(s)
	}
	switch strings.ToLower(s) {
	case "true", "false", "yes", "no", "on", "off", "null", "y", "n":
		return `"` + s + `"`
	}
	if plainText.MatchString(s) {
		return s
	}
	return quoted(s)
}

// quoted writes a double-quoted scalar of YAML 1.2.
func quoted(s string) string {
	var b strings.Builder
	b.WriteByte('"')
	for _, r := range s {
		switch {
		case r == '"' || r == '\\':
			b.WriteByte('\\')
			b.WriteRune(r)
		case r == '\n':
			b.WriteString(`\n`)
		case r == '\t':
			b.WriteString(`\t`)
		case r < 0x20 || r == 0x7f:
			fmt.Fprintf(&b, `\x%02x`, r)
		default:
			b.WriteRune(r)
		}
	}
	b.WriteByte('"')
	return b.String()
}
