// Package diag holds a place in a file, a problem at that place with what to
// write instead, and an ordered list of problems.
//
// Problems are what an author can mend by editing a file. They are data: a
// reader of files returns what it could read and a [List] of everything that is
// wrong, so that one run shows all. A failure of the machine (disk, bug) is an
// ordinary error and never a problem.
//
// Invariants:
//   - a List that went through [List.Sorted] has one order for one content,
//     whatever the order of reading;
//   - a problem is printed as `file:line:col: what is wrong`, then each hint and
//     note on a line of its own that starts with a tab.
package diag

import (
	"cmp"
	"fmt"
	"slices"
	"strings"
)

// Pos is a place in a source file. The zero Pos is "no place known".
type Pos struct {
	File string // slash-separated path relative to the office folder
	Line int    // 1-based; 0 when only the file is known
	Col  int    // 1-based, counted in characters (Unicode code points), not bytes
}

// IsZero reports whether p names no place at all.
func (p Pos) IsZero() bool { return p == Pos{} }

// String returns file:line:col, leaving out what is not known.
func (p Pos) String() string {
	switch {
	case p.Line == 0:
		return p.File
	case p.Col == 0:
		return fmt.Sprintf("%s:%d", p.File, p.Line)
	}
	return fmt.Sprintf("%s:%d:%d", p.File, p.Line, p.Col)
}

// Compare orders places by file, line and column.
func (p Pos) Compare(q Pos) int {
	return cmp.Or(cmp.Compare(p.File, q.File), cmp.Compare(p.Line, q.Line), cmp.Compare(p.Col, q.Col))
}

// Severity tells whether a problem stops publication. The zero value does.
type Severity uint8

const (
	Stop Severity = iota // the build publishes nothing
	Warn                 // printed, and the site is published all the same
)

// Problem is one thing that an author has to mend.
type Problem struct {
	Pos      Pos
	Severity Severity
	Msg      string   // what is wrong: lower case, no full stop, what was read in %q
	Hint     string   // what to write instead, literal where it can be; may be empty
	Notes    []string // other places or facts, one line each
}

// Error makes a Problem usable as an error: its first line.
func (p Problem) Error() string {
	if p.Pos.IsZero() {
		return p.Msg
	}
	return p.Pos.String() + ": " + p.Msg
}

// Lines returns the problem as it is printed: the first line, then hint and
// notes, each with a leading tab.
func (p Problem) Lines() []string {
	first := p.Error()
	if p.Severity == Warn {
		first = strings.TrimSuffix(first, p.Msg) + "warning: " + p.Msg
	}
	lines := []string{first}
	if p.Hint != "" {
		lines = append(lines, "\t"+p.Hint)
	}
	for _, n := range p.Notes {
		lines = append(lines, "\t"+n)
	}
	return lines
}

// List is a collection of problems. The zero List is empty and ready for use.
type List []Problem

// Add appends a problem that stops publication.
func (l *List) Add(at Pos, msg, hint string, notes ...string) {
	*l = append(*l, Problem{Pos: at, Msg: msg, Hint: hint, Notes: notes})
}

// Warn appends a problem that is printed and does not stop publication.
func (l *List) Warn(at Pos, msg, hint string, notes ...string) {
	*l = append(*l, Problem{Pos: at, Severity: Warn, Msg: msg, Hint: hint, Notes: notes})
}

// Stops reports whether any problem stops publication.
func (l List) Stops() bool {
	return slices.ContainsFunc(l, func(p Problem) bool { return p.Severity == Stop })
}

// Sorted returns the problems by file, line, column, message and hint, with
// exact repeats left out. l itself is not changed.
func (l List) Sorted() List {
	s := slices.Clone(l)
	slices.SortStableFunc(s, func(a, b Problem) int {
		return cmp.Or(a.Pos.Compare(b.Pos), cmp.Compare(a.Msg, b.Msg), cmp.Compare(a.Hint, b.Hint),
			cmp.Compare(a.Severity, b.Severity), slices.Compare(a.Notes, b.Notes))
	})
	return slices.CompactFunc(s, func(a, b Problem) bool {
		return a.Pos == b.Pos && a.Msg == b.Msg && a.Hint == b.Hint &&
			a.Severity == b.Severity && slices.Equal(a.Notes, b.Notes)
	})
}

// String returns all problems as they are printed, sorted, each line ended.
func (l List) String() string {
	var b strings.Builder
	for _, p := range l.Sorted() {
		for _, line := range p.Lines() {
			b.WriteString(line)
			b.WriteByte('\n')
		}
	}
	return b.String()
}
