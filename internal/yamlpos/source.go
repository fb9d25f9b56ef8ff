package yamlpos

import (
	"strings"

	"tankleaf.example/internal/diag"
)

// Limits on what is read. They are far above what a person writes and keep
// hostile files cheap to refuse.
const (
	MaxBytes    = 16 << 20 // of one text: some 30,000 products
	MaxDepth    = 24       // of nested lists and mappings
	MaxScalar   = 20_000   // characters of one value: ten pages of prose
	MaxProblems = 200      // reported of one text; the rest is cut off with a word
)

// Source is a text and where it stands.
type Source struct {
	File string // slash-separated path as it is shown to authors
	Text []byte
	// Starts holds, for each line of Text, the place in File of that line's first
	// character; File inside it is not used. A fenced block of a markdown file has
	// other lines than its file, and in a list item other columns too. Nil means
	// that Text is the whole file. The last start serves lines that have none.
	Starts []diag.Pos
}

// Shifted returns the starts of a text of n lines whose first line is the given
// line of its file and whose lines all start at the given column.
func Shifted(n, line, col int) []diag.Pos {
	starts := make([]diag.Pos, n)
	for i := range starts {
		starts[i] = diag.Pos{Line: line + i, Col: col}
	}
	return starts
}

// document is a source on its way through the reader.
type document struct {
	Source
	lines    []string // without line ends
	problems *diag.List
	count    int // of problems so far

	// The line that was looked at last, in characters: a hostile file may hold a
	// million values on one line, and each asks for its place.
	last  int // from 1; 0: none yet
	chars []rune
}

func newDocument(src Source, problems *diag.List) *document {
	text := strings.TrimPrefix(string(src.Text), "\ufeff") // editors on Windows put one there
	lines := strings.Split(text, "\n")
	for i, l := range lines {
		lines[i] = strings.TrimSuffix(l, "\r")
	}
	return &document{Source: src, lines: lines, problems: problems}
}

// line returns the characters of a line, counted from 1, that exists.
func (d *document) line(n int) []rune {
	if d.last != n {
		d.last, d.chars = n, []rune(d.lines[n-1])
	}
	return d.chars
}

// place returns the place in the file of a 1-based line and column of the text,
// moved inside the text when it lies outside.
func (d *document) place(line, col int) diag.Pos {
	line = max(1, min(line, len(d.lines)))
	col = max(1, min(col, len(d.line(line))+1))
	if len(d.Starts) == 0 {
		return diag.Pos{File: d.File, Line: line, Col: col}
	}
	start := d.Starts[min(line, len(d.Starts))-1]
	return diag.Pos{File: d.File, Line: start.Line, Col: start.Col + col - 1}
}

// report adds a problem, up to MaxProblems; the one after says that there are
// more.
func (d *document) report(p diag.Problem) {
	d.count++
	switch {
	case d.count <= MaxProblems:
		*d.problems = append(*d.problems, p)
	case d.count == MaxProblems+1:
		d.problems.Add(p.Pos, "too many problems: the rest of this file is not shown", "mend the first ones and check again")
	}
}

// full reports whether no further problem would be shown.
func (d *document) full() bool { return d.count > MaxProblems }
