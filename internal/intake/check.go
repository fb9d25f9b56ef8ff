package intake

import (
	"fmt"
	"io/fs"
	"path"
	"strings"

	"tankleaf.example/internal/dataset"
	"tankleaf.example/internal/diag"
	"tankleaf.example/internal/mix"
)

// dir is where observations live in an office.
const dir = "data/observations"

// Check holds records against an office: the office must be fine, must not have
// them, and must be fine with them. Problems of a record are told of the cells of
// its table.
func Check(office fs.FS, folder string, records []Record) diag.List {
	book, list := dataset.Load(office)
	if list.Stops() {
		return list
	}
	list = nil
	if _, err := fs.Stat(office, path.Join(dir, folder)); err == nil {
		list.Add(diag.Pos{File: path.Join(dir, folder)}, "there is a folder of that name", "choose another with --into NAME")
	}
	x := mix.NewIndex(book)
	for i := range records {
		r := &records[i]
		if o := x.Observation(r.ID); o != nil {
			r.from[0].problem(&list, fmt.Sprintf("observation %q is there already", r.ID), "choose another id; records are never replaced", "at "+o.At.String())
		}
	}
	if list.Stops() {
		return list.Sorted()
	}
	laid := &overlay{FS: office, folder: path.Join(dir, folder), files: map[string][]byte{}}
	byName := map[string]*Record{}
	for i := range records {
		name := path.Join(dir, folder, string(records[i].ID)+".yaml")
		laid.files[name], byName[name] = records[i].Text, &records[i]
	}
	_, found := dataset.Load(laid)
	for _, p := range found {
		list = append(list, tell(p, byName))
	}
	return list.Sorted()
}

// tell moves a problem from a line of a record to the cell that it came from.
func tell(p diag.Problem, records map[string]*Record) diag.Problem {
	r := records[p.Pos.File]
	if r == nil || len(r.from) == 0 {
		return p
	}
	c := r.from[min(max(p.Pos.Line-1, 0), len(r.from)-1)]
	var list diag.List
	c.problem(&list, p.Msg, p.Hint)
	told := list[0]
	told.Severity = p.Severity
	for _, note := range p.Notes {
		told.Notes = append(told.Notes, noteAt(note, records))
	}
	return told
}

// noteAt moves the place at the end of a note, "first used at FILE:LINE:COL".
func noteAt(note string, records map[string]*Record) string {
	for name, r := range records {
		if i := strings.Index(note, name+":"); i >= 0 {
			line := 0
			if n, err := fmt.Sscanf(note[i+len(name)+1:], "%d", &line); n == 1 && err == nil && line >= 1 && line <= len(r.from) {
				c := r.from[line-1]
				return fmt.Sprintf("%srow %d, column %s", note[:i], c.row, c.letter)
			}
		}
	}
	return note
}
