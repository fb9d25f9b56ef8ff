// Package intake turns record sheets that were typed into a spreadsheet into
// observation files of an office: all of a table or nothing.
//
// A table is CSV with one line for each jar and reading. Its headings are the keys of
// an observation (see trial.JarColumns and trial.ReadingColumns), in any order. What
// is said once of a jar stands in the first of its lines; lines below may repeat it
// or leave it blank, and a blank id is the one above. A line in which nothing was
// read is passed over.
//
//	table ──▶ cells with places ──▶ records as YAML ──▶ the office with them in it
//	             headings, rows         one file a jar        every rule of dataset
//	                │                                              │
//	                └────────── problems at row and column ◀───────┘
//
// No rule on values is written twice: the records are laid over the office, the
// office is read by package dataset, and what it says of a line of YAML is told of
// the cell that the line came from. Only what a table can get wrong by itself is
// found here: headings, exchanged columns, lines of one jar that disagree.
//
// # Invariants
//
//   - A table with a problem changes no file.
//   - The files of a table appear together, in one new folder, by one rename.
//   - No record that is there already is replaced.
//   - Every problem names a row and a column of the table, or a file of the office.
package intake

import (
	"fmt"
	"strings"

	"tankleaf.example/internal/diag"
	"tankleaf.example/internal/mix"
)

// Record is one observation made from a table.
type Record struct {
	ID   mix.ID
	Text []byte // the file
	from []cell // by line of Text: where it came from
}

// cell is one field of the table.
type cell struct {
	at     diag.Pos // of the field in the file: columns count characters
	row    int      // of the table, from 1; the headings are row 1
	column string   // its heading
	letter string   // as spreadsheets name the column
	text   string
}

// problem adds a problem of a cell, told by row and column.
func (c *cell) problem(list *diag.List, msg, hint string, notes ...string) {
	where := fmt.Sprintf("row %d", c.row)
	if c.letter != "" {
		where += ", column " + c.letter
	}
	if c.column != "" {
		where += fmt.Sprintf(" %q", c.column)
	}
	list.Add(c.at, where+": "+msg, hint, notes...)
}

// letter names the n-th column from 0 as spreadsheets do: A, B, … Z, AA.
func letter(n int) string {
	s := ""
	for n++; n > 0; n = (n - 1) / 26 {
		s = string(rune('A'+(n-1)%26)) + s
	}
	return s
}

// Folder returns the name of the folder for a table's records: its file name as an
// id.
func Folder(file string) string {
	base := file[strings.LastIndexAny(file, `/\`)+1:]
	if dot := strings.LastIndexByte(base, '.'); dot > 0 {
		base = base[:dot]
	}
	name := strings.Join(strings.FieldsFunc(strings.ToLower(base), func(r rune) bool {
		return (r < 'a' || r > 'z') && (r < '0' || r > '9')
	}), "-")
	if !mix.ValidID(name) {
		return "imported"
	}
	return name
}
