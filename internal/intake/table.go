package intake

import (
	"bytes"
	"encoding/csv"
	"errors"
	"fmt"
	"io"
	"slices"
	"strings"
	"unicode/utf8"

	"tankleaf.example/internal/diag"
)

// MaxBytes is the largest table that is read: thousands of jars.
const MaxBytes = 8 << 20

// table is a CSV file as cells.
type table struct {
	file  string
	text  []byte
	lines [][]byte
	inner int // line breaks inside fields so far: a spreadsheet does not count them as rows
	head  []cell
	rows  [][]cell
}

// parse reads the text of a table. It returns false when there are no cells to look
// at.
func parse(file string, text []byte, list *diag.List) (*table, bool) {
	t := &table{file: file, text: bytes.TrimPrefix(text, []byte("\ufeff"))}
	if !t.readable(list) {
		return nil, false
	}
	t.lines = bytes.Split(t.text, []byte("\n"))
	r := csv.NewReader(bytes.NewReader(t.text))
	r.Comma = t.separator()
	r.FieldsPerRecord = -1
	for {
		fields, err := r.Read()
		if err == io.EOF {
			break
		}
		if bad, ok := errors.AsType[*csv.ParseError](err); ok {
			list.Add(t.at(bad.Line, bad.Column), fmt.Sprintf("row %d: %v", bad.StartLine-t.inner, bad.Err), `put a field with quotes or line breaks in quotes, and write a quote in it twice`)
			return nil, false
		} else if err != nil {
			list.Add(diag.Pos{File: file}, "cannot be read: "+err.Error(), "")
			return nil, false
		}
		t.add(fields, r)
	}
	if len(t.head) == 0 || len(t.rows) == 0 {
		list.Add(diag.Pos{File: file}, "table without jars", "the first row holds the headings, each further one a reading of a jar")
		return nil, false
	}
	return t, true
}

// readable refuses what is no text in UTF-8.
func (t *table) readable(list *diag.List) bool {
	at := diag.Pos{File: t.file}
	switch {
	case len(t.text) > MaxBytes:
		list.Add(at, fmt.Sprintf("table of more than %d MB", MaxBytes>>20), "split it")
	case bytes.IndexByte(t.text, 0) >= 0:
		list.Add(at, "not a table in UTF-8", `save it as "CSV UTF-8" in the spreadsheet; a workbook is no table`)
	case !utf8.Valid(t.text):
		n := 0
		for r, size := utf8.DecodeRune(t.text); r != utf8.RuneError || size != 1; r, size = utf8.DecodeRune(t.text[n:]) {
			n += size
		}
		line := bytes.Count(t.text[:n], []byte("\n")) + 1
		list.Add(diag.Pos{File: t.file, Line: line}, "not in UTF-8: a sign such as ° cannot be read", `save it as "CSV UTF-8" in the spreadsheet`)
	default:
		return true
	}
	return false
}

// separator is what parts the headings: a comma, or what spreadsheets of other
// countries write.
func (t *table) separator() rune {
	head, _, _ := bytes.Cut(t.text, []byte("\n"))
	best, most := ',', 0
	for _, sep := range []rune{',', ';', '\t'} {
		if n := bytes.Count(head, []byte(string(sep))); n > most {
			best, most = sep, n
		}
	}
	return best
}

// at turns a place in bytes into one in characters.
func (t *table) at(line, col int) diag.Pos {
	p := diag.Pos{File: t.file, Line: line, Col: col}
	if line >= 1 && line <= len(t.lines) {
		l := t.lines[line-1]
		p.Col = utf8.RuneCount(l[:min(max(col-1, 0), len(l))]) + 1
	}
	return p
}

// add takes one row in. Rows of blanks are passed over.
func (t *table) add(fields []string, r *csv.Reader) {
	first, _ := r.FieldPos(0)
	n := first - t.inner
	for _, f := range fields {
		t.inner += strings.Count(f, "\n")
	}
	if !slices.ContainsFunc(fields, func(s string) bool { return strings.TrimSpace(s) != "" }) {
		return
	}
	row := make([]cell, len(fields))
	for i, f := range fields {
		line, col := r.FieldPos(i)
		row[i] = cell{at: t.at(line, col), row: n, letter: letter(i), text: strings.TrimSpace(f)}
		if len(t.head) > i {
			row[i].column = t.head[i].text
		}
	}
	if len(t.head) == 0 {
		t.head = row
		return
	}
	t.rows = append(t.rows, row)
}
