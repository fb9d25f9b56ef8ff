package yamlpos

import (
	"fmt"
	"regexp"
	"sort"
	"strconv"
	"strings"
	"unicode/utf8"

	"gopkg.in/yaml.v3"
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
	{"cannot start any token", false, "a value cannot start with this character",
		"put the value in quotes, and indent with spaces", badStart},
	{"did not find expected key", true, "a key was expected here",
		"align it with the keys above; text that holds quotes or brackets is put in quotes as a whole", nil},
	{"did not find expected '-' indicator", true, "a list entry was expected here",
		`start it with "- " in line with the entries above`, nil},
	{"did not find expected ',' or ']'", true, `the list opened with "[" has no "]", or a comma is missing`,
		"write [a, b, c]", opener("[")},
	{"did not find expected ',' or '}'", true, `the mapping opened with "{" has no "}", or a comma is missing`,
		"write {key: value, key: value}", opener("{")},
	{"did not find expected node content", true, "a value is missing here",
		"write a value, or remove the comma or bracket", missing},
	{"found unexpected end of stream", false, "the quotes opened here are not closed",
		"write the closing quote", opener(`"'`)},
	{"found unknown escape character", false, "a backslash in double quotes starts an escape that is not known",
		"use single quotes, or write two backslashes", opener(`\`)},
	{"tab character", false, "a tab is used to indent", "indent with spaces", nil},
	{"block sequence entries are not allowed", false, `"- " where no list entry may stand`,
		"start the list on its own line, or put the text in quotes", nil},
	{"exceeded max depth", false, "nested too deep", "", nil},
	{"directive", false, "a line of instructions to YAML, which is not read", `remove the line that starts with "%"`, nil},
	{"incompatible YAML document", false, "a line of instructions to YAML, which is not read",
		`remove the line that starts with "%"`, nil},
	{"<document start>", true, "text after the end of the document", `remove the line "..." or "---"`, nil},
}

var yamlLine = regexp.MustCompile(`^yaml: (?:line (\d+): )?(.*)$`)

// syntax turns an error of the YAML library into a problem at the best place it
// allows: it tells the line of the construct that broke and no column.
func (d *document) syntax(err error) diag.Problem {
	line, msg := split(err)
	if name, ok := strings.CutPrefix(msg, "unknown anchor '"); ok {
		name = "*" + strings.TrimSuffix(name, "' referenced")
		return diag.Problem{Pos: d.find(name), Msg: fmt.Sprintf("alias %q: aliases are not read", name),
			Hint: "write the value out, or put text that starts with * in quotes"}
	}
	for _, f := range faults {
		if strings.Contains(msg, f.has) {
			return d.locate(line, msg, f)
		}
	}
	return diag.Problem{Pos: d.placeText(max(line, 1)), Msg: "not YAML: " + msg}
}

// split takes the library's error apart; line 0 is no line told.
func split(err error) (line int, msg string) {
	m := yamlLine.FindStringSubmatch(strings.SplitN(err.Error(), "\n", 2)[0])
	if m == nil {
		return 0, err.Error()
	}
	line, _ = strconv.Atoi(m[1])
	return line, m[2]
}

func (d *document) locate(line int, msg string, f fault) diag.Problem {
	if f.late {
		line++
	}
	line = max(line, 1)
	if f.late && f.col == nil {
		line = d.firstBad(line, msg)
	}
	p := diag.Problem{Pos: d.placeText(line), Msg: f.msg, Hint: f.hint}
	if f.col == nil {
		return p
	}
	for _, l := range []int{line, 1} { // the library is silent about a construct that starts on line 1
		if l > len(d.lines) {
			continue
		}
		if i := f.col(d.lines[l-1]); i >= 0 {
			p.Pos = d.place(l, utf8.RuneCountInString(d.lines[l-1][:i])+1)
			break
		}
	}
	return p
}

// maxSearch is the largest text, in bytes, that is read again to find the line
// of a fault: some 20 times for a text of this size.
const maxSearch = 1 << 20

// firstBad finds the first line whose end has the fault, given the line of the
// block it breaks: what stands before that line is a sound start of a file. It
// returns the given line when it finds none.
func (d *document) firstBad(from int, msg string) int {
	if len(d.Text) > maxSearch {
		return from
	}
	n := len(d.lines) - from
	i := sort.Search(n, func(i int) bool {
		var n yaml.Node
		text := strings.Join(d.lines[:from+i], "\n") + "\n"
		err := decodeOne(yaml.NewDecoder(strings.NewReader(text)), &n)
		if err == nil {
			return false
		}
		_, m := split(err)
		return m == msg
	})
	if i == n {
		return from
	}
	return from + i
}

// find returns the place of the first occurrence of a word.
func (d *document) find(word string) diag.Pos {
	for i, line := range d.lines {
		if at := strings.Index(line, word); at >= 0 {
			return d.place(i+1, utf8.RuneCountInString(line[:at])+1)
		}
	}
	return d.place(1, 1)
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
func opener(chars string) func(string) int {
	return func(line string) int { return strings.LastIndexAny(line, chars) }
}

var gap = regexp.MustCompile(`[\[{,:]\s*([,\]}])`)

// missing finds a comma or a bracket where a value should stand.
func missing(line string) int {
	if m := gap.FindStringSubmatchIndex(line); m != nil {
		return m[2]
	}
	return -1
}
