package yamlpos

import (
	"regexp"
	"strconv"
	"strings"

	"tankleaf.example/internal/diag"
)

// fault translates an error of the YAML library, which speaks of its own
// grammar, into what an author sees and does.
type fault struct {
	has  string // in the library's message
	late bool   // the library names the line before
	msg  string
	hint string
	col  func(line string) int // where in the line, in bytes; nil: its first character
}

var faults = []fault{
	{"mapping values are not allowed", false, `":" where no key may stand`,
		"put the text in quotes if it holds a colon, or align the key with those above", secondColon},
	{"could not find expected ':'", false, "this line is neither a key with a value nor part of the text above",
		`write "key: value", or indent it as the text above`, nil},
	{"cannot start any token", false, "a value cannot start with this character", "put the value in quotes, and indent with spaces", badStart},
	{"did not find expected key", true, "a key was expected here", "align it with the keys above", nil},
	{"did not find expected '-' indicator", true, `a list entry was expected here`, `start it with "- " in line with the entries above`, nil},
	{"did not find expected ',' or ']'", true, `the list opened with "[" has no "]", or a comma is missing`, `write [a, b, c]`, opener('[')},
	{"did not find expected ',' or '}'", true, `the mapping opened with "{" has no "}", or a comma is missing`, `write {key: value, key: value}`, opener('{')},
	{"did not find expected node content", true, "a value is missing here", "write a value, or remove the comma", nil},
	{"found unexpected end of stream", false, "the quotes opened here are not closed", "write the closing quote", opener('"', '\'')},
	{"found unknown escape character", false, "a backslash in double quotes starts an escape that is not known",
		"use single quotes, or write two backslashes", opener('\\')},
	{"tab character", false, "a tab is used to indent", "indent with spaces", nil},
	{"block sequence entries are not allowed", false, `"- " where no list entry may stand`, "start the list on its own line, or put the text in quotes", nil},
	{"exceeded max depth", false, "nested too deep", "", nil},
	{"unknown anchor", false, "an alias: aliases are not read", "write the value out", opener('*')},
}

var yamlLine = regexp.MustCompile(`^yaml: (?:line (\d+): )?(.*)$`)

// syntax turns an error of the YAML library into a problem at the best place it
// allows: it tells the line of the construct that broke and no column.
func (d *document) syntax(err error) diag.Problem {
	m := yamlLine.FindStringSubmatch(strings.SplitN(err.Error(), "\n", 2)[0])
	if m == nil {
		return diag.Problem{Pos: d.place(1, 1), Msg: "not YAML: " + err.Error()}
	}
	line, _ := strconv.Atoi(m[1])
	for _, f := range faults {
		if !strings.Contains(m[2], f.has) {
			continue
		}
		if f.late {
			line++
		}
		return d.at(max(line, 1), f)
	}
	return diag.Problem{Pos: d.placeText(max(line, 1)), Msg: "not YAML: " + m[2]}
}

func (d *document) at(line int, f fault) diag.Problem {
	p := diag.Problem{Pos: d.placeText(line), Msg: f.msg, Hint: f.hint}
	if f.col == nil || line > len(d.lines) {
		return p
	}
	text := d.lines[line-1]
	if i := f.col(text); i >= 0 {
		p.Pos = d.place(line, len([]rune(text[:i]))+1)
	}
	return p
}

// placeText returns the place of a line's first character that is no space.
func (d *document) placeText(line int) diag.Pos {
	if line > len(d.lines) {
		return d.place(line, 1)
	}
	text := d.lines[line-1]
	return d.place(line, len(text)-len(strings.TrimLeft(text, " \t"))+1)
}

func secondColon(line string) int {
	first := strings.Index(line, ": ")
	if first < 0 {
		return strings.LastIndexByte(line, ':')
	}
	if i := strings.Index(line[first+1:], ": "); i >= 0 {
		return first + 1 + i
	}
	return strings.LastIndexByte(line, ':')
}

// badStart finds the first character after an indicator that cannot start a
// plain scalar.
func badStart(line string) int {
	fresh := true
	for i, r := range line {
		switch {
		case fresh && strings.ContainsRune("@`%\t", r):
			return i
		case !strings.ContainsRune(" -:,[{", r):
			fresh = false
		case r != ' ':
			fresh = true
		}
	}
	return -1
}

// opener finds the last of the characters on the line that could have opened
// what was not closed.
func opener(any ...rune) func(string) int {
	return func(line string) int { return strings.LastIndexAny(line, string(any)) }
}
