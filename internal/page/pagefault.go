package page

import (
	"errors"
	"fmt"
	"html/template"
	"io"
	"path"
	"reflect"
	"regexp"
	"slices"
	"strconv"
	"strings"
	texttemplate "text/template"
	"unicode/utf8"

	"tankleaf.example/internal/diag"
)

// Fault is why a template makes no page: a problem of its file when an office wrote
// it, a failure of ours otherwise.
type Fault struct {
	diag.Problem
	err error
}

// Error is what the library of templates says.
func (f *Fault) Error() string { return f.err.Error() }

// Unwrap returns the library's error.
func (f *Fault) Unwrap() error { return f.err }

// fault puts an error of carrying the template of a kind of page out into words. Any
// other error is handed back as it is.
func (s *shelf) fault(kind string, t *template.Template, value any, err error) error {
	f := &Fault{err: err}
	if exec, ok := errors.AsType[texttemplate.ExecError](err); ok {
		f.Problem = s.execFault(value, exec.Err.Error())
	} else if escape, ok := errors.AsType[*template.Error](err); ok {
		f.Problem = s.escapeFault(kind, t, escape)
	} else {
		return err
	}
	if name := strings.TrimSuffix(path.Base(f.Pos.File), ".html"); !s.theirs[name] {
		f.Notes = append(f.Notes, "this template is the tool's own, and uses a definition that the office wrote anew")
	}
	return f
}

// faultAt matches an error of the library: file, line, bytes before the place in it,
// and what is wrong.
var faultAt = regexp.MustCompile(`(?s)^(?:html/)?template: ?(templates/[^:]+):(\d+):(\d+): (?:executing ".*?" at <.*?>: )?(.*)$`)

// place reads the place of an error of the library; what is wrong is left.
func (s *shelf) place(text string) (diag.Pos, string) {
	m := faultAt.FindStringSubmatch(text)
	if m == nil {
		return diag.Pos{File: "templates"}, text
	}
	line, _ := strconv.Atoi(m[2])
	before, _ := strconv.Atoi(m[3])
	return diag.Pos{File: m[1], Line: line, Col: column(s.text(m[1]), line, before)}, m[4]
}

// column counts characters, from 1, where the library counts the bytes before.
func column(text string, line, before int) int {
	lines := strings.Split(text, "\n")
	if line < 1 || line > len(lines) {
		return 1
	}
	return 1 + utf8.RuneCountInString(lines[line-1][:min(before, len(lines[line-1]))])
}

// saying is how the library says one thing, and how we do. $1 stands for what was read.
type saying struct {
	said      *regexp.Regexp
	msg, hint string
}

// sayings are in order: the first that matches counts.
var sayings = []saying{
	{regexp.MustCompile(`^nil pointer evaluating .*\.(\w+)$`), `"$1" is asked of what this page does not have`,
		"write {{with …}} and {{end}} round it, so that it is left out where there is none"},
	{regexp.MustCompile(`^range can't iterate over`), "{{range}} is given what is no list", "write {{with}} for one value, {{if}} for yes or no"},
	{regexp.MustCompile(`^wrong number of args for (\w+): want (at least )?(\d+) got (\d+)$`), `"$1" is given $4 values and needs $2$3`,
		`write {{t "KEY"}} or {{t "KEY" "NAME" VALUE}}; say, verdict, meaning and count take one value`},
	{regexp.MustCompile(`^error calling (?:index|slice): index out of range: (\d+)$`), "there is no item $1 in this list",
		"write {{range}} round it, which leaves out what is not there"},
	{regexp.MustCompile(`^error calling (eq|ne|lt|le|gt|ge): `), `"$1" compares values of two kinds`,
		"compare a text with a text in quotes, a number with a number"},
	{regexp.MustCompile(`^error calling (\w+): `), `"$1" can do nothing with this value`, "give it the value that the template which this one takes the place of gives it"},
	{regexp.MustCompile(`^(?:wrong type for value|expected [a-z ]+; found|invalid value|cannot assign nil|can't handle)`),
		"a value of another kind is needed here", "say takes a phrase, t a key in quotes, verdict and meaning a verdict, count a whole number"},
	{regexp.MustCompile(`^exceeded maximum template depth`), "a definition calls itself without end", "take the {{template}} of its own name out of it"},
	{regexp.MustCompile(`has arguments but cannot be invoked|non-function|not a method but has arguments`), "values are given to what takes none",
		"write a function before them, or leave them out"},
}

// noField is how the library says that something has no such part.
var noField = regexp.MustCompile(`^can't evaluate field (\w+) in type (.+)$`)

func (s *shelf) execFault(value any, text string) diag.Problem {
	p := diag.Problem{}
	p.Pos, text = s.place(text)
	if m := noField.FindStringSubmatch(text); m != nil {
		p.Msg, p.Hint = missingPart(value, m[1], m[2])
		return p
	}
	for _, one := range sayings {
		if m := one.said.FindStringSubmatchIndex(text); m != nil {
			p.Msg, p.Hint = string(one.said.ExpandString(nil, one.msg, text, m)), one.hint
			return p
		}
	}
	p.Msg, p.Hint = "this cannot be carried out", "compare it with the template that this one takes the place of"
	return p
}

// missingPart names what there is instead of a part that is not there.
func missingPart(value any, name, typeName string) (msg, hint string) {
	msg = fmt.Sprintf("there is no %q here", name)
	parts := partsOf(reflect.TypeOf(value), strings.TrimLeft(typeName, "*"), map[reflect.Type]bool{})
	switch near := diag.Nearest(name, parts); {
	case near != "":
		return msg, fmt.Sprintf("did you mean %q?", near)
	case len(parts) > 0:
		return msg, "there are " + strings.Join(parts, ", ")
	case strings.HasPrefix(typeName, "["):
		return msg, "this is a list: write {{range …}} and {{end}} round it"
	default:
		return msg, "this is a single value without parts: write it without ." + name
	}
}

// partsOf returns the names of the parts of a type that a value holds somewhere, in
// order; none when it is no structure.
func partsOf(t reflect.Type, name string, seen map[reflect.Type]bool) []string {
	for t != nil && (t.Kind() == reflect.Pointer || t.Kind() == reflect.Slice || t.Kind() == reflect.Map) {
		t = t.Elem()
	}
	if t == nil || t.Kind() != reflect.Struct || seen[t] {
		return nil
	}
	seen[t] = true
	var own []string
	for _, f := range reflect.VisibleFields(t) {
		if f.IsExported() && !f.Anonymous {
			own = append(own, f.Name)
		}
	}
	if t.String() == name {
		slices.Sort(own)
		return own
	}
	for f := range t.Fields() {
		if found := partsOf(f.Type, name, seen); found != nil {
			return found
		}
	}
	return nil
}

// escapeFault tells of what would let a text of the office out of its place: a tag, an
// attribute or a quote that is not what it seems.
func (s *shelf) escapeFault(kind string, t *template.Template, e *template.Error) diag.Problem {
	p := diag.Problem{}
	e = s.blamed(kind, e)
	p.Pos, _ = s.place(e.Error())
	if p.Pos.Line == 0 {
		p.Pos = s.within(kind, e)
	}
	switch e.ErrorCode {
	case template.ErrNoSuchTemplate:
		p.Msg, p.Hint = noDefinition(t, e.Description)
	case template.ErrBranchEnd, template.ErrRangeLoopReentry:
		p.Msg, p.Hint = "one branch ends inside a tag, quotes or a script and another does not", "close in each branch what it opens"
	case template.ErrEndContext:
		p.Msg, p.Hint = "a definition ends inside a tag, quotes, a comment or a script", "close in it what it opens"
	case template.ErrBadHTML:
		p.Msg, p.Hint = "a tag cannot be read", `write its attributes as name="value", with a space between them`
	case template.ErrPredefinedEscaper:
		p.Msg, p.Hint = "html and urlquery have no place here: everything is escaped already", "leave them out"
	default:
		p.Msg, p.Hint = "this cannot be escaped safely where it stands", "write it as text, or as the value of an attribute in quotes"
	}
	return p
}

// anyDefinition matches where a definition begins.
var anyDefinition = regexp.MustCompile(`\{\{-?\s*(?:define|block)\s+"([^"]*)"`)

// blamed returns the error of the first definition of the office that cannot be escaped
// by itself. The library names the template that asked for it, or one that went wrong
// after it.
func (s *shelf) blamed(kind string, e *template.Error) *template.Error {
	for _, name := range append([]string{kind}, commonTemplates...) {
		if !s.theirs[name] {
			continue
		}
		for _, m := range anyDefinition.FindAllStringSubmatch(s.text(templateFile(name)), -1) {
			t, err := s.parse(kind, s.pages[kind], words(nil))
			if err != nil {
				return e
			}
			if own, ok := errors.AsType[*template.Error](t.ExecuteTemplate(io.Discard, m[1], nil)); ok {
				own.Name = m[1]
				return own
			}
		}
	}
	return e
}

var definitionNamed = regexp.MustCompile(`^(?:no such template )?"(.*?)"`)

func noDefinition(t *template.Template, description string) (msg, hint string) {
	name := description
	if m := definitionNamed.FindStringSubmatch(description); m != nil {
		name = m[1]
	}
	var known []string
	for _, one := range t.Templates() {
		if n := one.Name(); n != root && !strings.HasPrefix(n, "templates/") {
			known = append(known, n)
		}
	}
	slices.Sort(known)
	msg = fmt.Sprintf("no definition %q", name)
	if near := diag.Nearest(name, known); near != "" {
		return msg, fmt.Sprintf("did you mean %q?", near)
	}
	return msg, "definitions are " + strings.Join(known, ", ")
}

// fragment is a piece of the template that the library quotes.
var fragment = regexp.MustCompile(`"(?:[^"\\]|\\.)*"$`)

// within finds the place of an error of which the library says no more than the
// definition: at the piece of it that is quoted, or where it begins.
func (s *shelf) within(kind string, e *template.Error) diag.Pos {
	begins := regexp.MustCompile(`\{\{-?\s*(?:define|block)\s+"` + regexp.QuoteMeta(e.Name) + `"`)
	for _, name := range append([]string{kind}, commonTemplates...) {
		text := s.text(templateFile(name))
		found := begins.FindStringIndex(text)
		if found == nil {
			continue
		}
		at := found[0]
		if piece, err := strconv.Unquote(fragment.FindString(e.Description)); err == nil && piece != "" {
			at += max(0, strings.Index(text[at:], piece))
		}
		line := 1 + strings.Count(text[:at], "\n")
		return diag.Pos{File: templateFile(name), Line: line, Col: column(text, line, at-1-strings.LastIndex(text[:at], "\n"))}
	}
	return diag.Pos{File: templateFile(kind)}
}
