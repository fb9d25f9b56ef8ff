package main

// The rules of what is printed, kept by every command:
//
//   - What was asked for goes to standard output, everything else to standard
//     error, so that `tankleaf recipe … > card.txt` holds the recipe alone.
//   - Problems in the content are printed as file:line:col: what is wrong, then a
//     line that starts with a tab and says what to write instead. On a terminal
//     the source line follows with a mark under the place.
//   - Complaints of the program itself start with "tankleaf: ".
//   - A command that succeeds says in one line what it did; it says nothing on
//     the way unless it is on a terminal and has worked for a second.
//   - With --json standard output holds exactly one JSON object, also when there
//     are problems.
//   - No color, no emoji, no box drawing: what is printed can be mailed, diffed
//     and read aloud.

import (
	"encoding/json"
	"fmt"
	"io"
	"os"
	"path/filepath"
	"strconv"
	"strings"
	"unicode/utf8"

	"golang.org/x/term"

	"tankleaf.example/internal/diag"
)

func (c *call) complain(msg, hint string) {
	fmt.Fprintf(c.err, "tankleaf: %s\n", msg)
	if hint != "" {
		fmt.Fprintf(c.err, "\t%s\n", hint)
	}
}

// onTerminal reports whether w is a terminal a person is looking at.
func onTerminal(w io.Writer) bool {
	f, ok := w.(*os.File)
	return ok && term.IsTerminal(int(f.Fd()))
}

// printJSON writes v as the one object of --json.
func (c *call) printJSON(v any) error {
	enc := json.NewEncoder(c.out)
	enc.SetEscapeHTML(false)
	enc.SetIndent("", "  ")
	return enc.Encode(v)
}

// problemJSON is a problem as --json prints it. Line and column count from 1,
// columns in characters; 0 is left out: not known.
type problemJSON struct {
	File     string   `json:"file,omitempty"`
	Line     int      `json:"line,omitempty"`
	Col      int      `json:"col,omitempty"`
	Severity string   `json:"severity"`
	Message  string   `json:"message"`
	Hint     string   `json:"hint,omitempty"`
	Notes    []string `json:"notes,omitempty"`
}

func problemsJSON(l diag.List) []problemJSON {
	all := make([]problemJSON, 0, len(l))
	for _, p := range l.Sorted() {
		severity := "error"
		if p.Severity == diag.Warn {
			severity = "warning"
		}
		all = append(all, problemJSON{p.Pos.File, p.Pos.Line, p.Pos.Col, severity, p.Msg, p.Hint, p.Notes})
	}
	return all
}

// mostProblems is how many problems are printed in one run: all that are told of one
// file, with the line that says that it has more. The rest is counted, as far as
// other files were not cut short.
const mostProblems = 201

// report prints the problems and returns errProblems when they stop publication.
func (c *call) report(l diag.List) error {
	l = l.Sorted()
	shown := l
	if len(shown) > mostProblems {
		shown = shown[:mostProblems]
	}
	for _, p := range shown {
		c.printProblem(p)
	}
	if n := len(l) - len(shown); n > 0 {
		fmt.Fprintf(c.err, "tankleaf: and at least %d more problems\n", n)
	}
	if l.Stops() {
		return errProblems
	}
	return nil
}

func (c *call) printProblem(p diag.Problem) {
	lines := p.Lines()
	fmt.Fprintln(c.err, lines[0])
	if onTerminal(c.err) {
		fmt.Fprint(c.err, c.excerpt(p.Pos))
	}
	for _, line := range lines[1:] {
		fmt.Fprintln(c.err, line)
	}
}

// excerpt returns the source line at p with a mark under the column, or "" when
// it cannot be shown.
func (c *call) excerpt(p diag.Pos) string {
	if p.Line < 1 { // of the file as a whole, which may be a pipe
		return ""
	}
	body, err := os.ReadFile(filepath.Join(c.dir, filepath.FromSlash(p.File)))
	if err != nil || !utf8.Valid(body) {
		return ""
	}
	lines := strings.Split(string(body), "\n")
	if p.Line > len(lines) {
		return ""
	}
	line := []rune(strings.TrimRight(lines[p.Line-1], "\r"))
	if len(line) > 160 || p.Col < 1 || p.Col > len(line)+1 {
		return ""
	}
	pad := make([]rune, p.Col-1)
	for i, r := range line[:p.Col-1] {
		pad[i] = ' '
		if r == '\t' {
			pad[i] = '\t' // a tab takes the same room in both lines
		}
	}
	return fmt.Sprintf("    %s\n    %s^\n", string(line), string(pad))
}

// counted writes a number before what it counts.
func counted(n int, one, other string) string {
	if n == 1 {
		return "1 " + one
	}
	return strconv.Itoa(n) + " " + other
}
