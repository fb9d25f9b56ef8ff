package page

import (
	"fmt"
	"html/template"
	"maps"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"text/template/parse"

	"tankleaf.example/internal/diag"
)

// The template library speaks of its own names and counts lines in what it was given.
// An office is told in which of its files, on which line, and what to write.

// root is the name of what stands outside of every definition.
const root = "outside"

// checkTemplates reads each template by itself, so that a fault has the line of its
// own file; it reports whether all can be read.
func checkTemplates(pages map[string]string, problems *diag.List) bool {
	before := len(*problems)
	defined := map[string]string{} // in the templates that stand in every page
	for _, name := range slices.Sorted(maps.Keys(pages)) {
		t, err := template.New(root).Funcs(words(nil)).Parse(pages[name])
		if err != nil {
			addFault(problems, name, err)
			continue
		}
		if line := stray(t.Tree, pages[name]); line > 0 {
			problems.Add(diag.Pos{File: templateFile(name), Line: line, Col: 1}, "text outside of every definition is shown nowhere",
				`write it between {{define "NAME"}} and {{end}}`)
		}
		if slices.Contains(commonTemplates, name) {
			defineOnce(t, name, defined, problems)
		}
	}
	return len(*problems) == before
}

// defineOnce tells of a definition that another template of every page has already.
func defineOnce(t *template.Template, file string, defined map[string]string, problems *diag.List) {
	for _, one := range t.Templates() {
		if one.Name() == root {
			continue
		}
		if other, twice := defined[one.Name()]; twice {
			problems.Add(diag.Pos{File: templateFile(file)}, fmt.Sprintf("definition %q stands in %s too", one.Name(), templateFile(other)), "name it otherwise")
		}
		defined[one.Name()] = file
	}
}

// stray returns the line of the first text or action that stands in no definition, 0
// for none.
func stray(t *parse.Tree, text string) int {
	if t == nil || t.Root == nil {
		return 0
	}
	for _, n := range t.Root.Nodes {
		written, ok := n.(*parse.TextNode)
		if blank := ok && strings.TrimSpace(string(written.Text)) == ""; !blank {
			at := int(n.Position())
			if ok { // blank lines before it are part of the text
				at += len(written.Text) - len(strings.TrimLeft(string(written.Text), " \t\n"))
			}
			return 1 + strings.Count(text[:min(at, len(text))], "\n")
		}
	}
	return 0
}

var templateFault = regexp.MustCompile(`^(?:html/)?template: [^:]*:(\d+)(?::\d+)?: (.*)$`)

var unknownFunction = regexp.MustCompile(`^function "(.*)" not defined$`)

// addFault puts an error of the template library into words.
func addFault(problems *diag.List, name string, err error) {
	at := diag.Pos{File: templateFile(name)}
	text := err.Error()
	if m := templateFault.FindStringSubmatch(text); m != nil {
		at.Line, _ = strconv.Atoi(m[1])
		at.Col, text = 1, m[2]
	}
	msg, hint := "template cannot be read: "+strings.TrimPrefix(text, "template: "), "mend the template"
	switch m := unknownFunction.FindStringSubmatch(text); {
	case m != nil:
		msg, hint = fmt.Sprintf("unknown function %q in a template", m[1]), "functions are "+strings.Join(slices.Sorted(maps.Keys(words(nil))), ", ")
	case strings.HasPrefix(text, "unexpected EOF"):
		msg, hint = "something is opened in this template and not closed", "write {{end}} for each {{if}}, {{range}}, {{with}}, {{block}} and {{define}}"
	}
	problems.Add(at, msg, hint)
}
