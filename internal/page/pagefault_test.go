package page

import (
	"errors"
	"html/template"
	"io"
	"io/fs"
	"strings"
	"testing"
	"testing/fstest"

	"github.com/google/go-cmp/cmp"

	"tankleaf.example/internal/diag"
	"tankleaf.example/internal/message"
	"tankleaf.example/templates"
)

// faulty is what the templates of this test are made of.
type faulty struct {
	Name  string
	Lines []string
	Of    *struct{ Title string }
	N     int
}

// TestFaultsOfTemplates holds what is said of a template that can be read and makes no
// page: its place in the office's file, in our words, and what to write.
func TestFaultsOfTemplates(t *testing.T) {
	words, problems := message.Load(templates.FS)
	if problems.Stops() {
		t.Fatal(problems)
	}
	for _, c := range []struct{ why, main, want string }{
		{"a part misspelt", "\n\n<p>é {{.Nmae}}</p>", `3:8: there is no "Nmae" here|did you mean "Name"?`},
		{"a part that nothing is like", "{{.Whatever}}", `1:20: there is no "Whatever" here|there are Lines, N, Name, Of`},
		{"a part of a list", "{{.Lines.Name}}", `1:26: there is no "Name" here|this is a list: write {{range …}} and {{end}} round it`},
		{"a part of a text", "{{.Name.X}}", `1:25: there is no "X" here|this is a single value without parts: write it without .X`},
		{"a part of what the page does not have", "{{.Of.Title}}", `1:23: "Title" is asked of what this page does not have|write {{with …}} and {{end}} round it, so that it is left out where there is none`},
		{"no list", "{{range .Name}}x{{end}}", `1:26: {{range}} is given what is no list|write {{with}} for one value, {{if}} for yes or no`},
		{"too few values", "{{t}}", `1:20: "t" is given 0 values and needs at least 1|write {{t "KEY"}} or {{t "KEY" "NAME" VALUE}}; say, verdict, meaning and count take one value`},
		{"an item too far", "{{index .Lines 3}}", `1:20: there is no item 3 in this list|write {{range}} round it, which leaves out what is not there`},
		{"two kinds compared", "{{if eq .Name .N}}x{{end}}", `1:23: "eq" compares values of two kinds|compare a text with a text in quotes, a number with a number`},
		{"a function that cannot", "{{len .N}}", `1:20: "len" can do nothing with this value|give it the value that the template which this one takes the place of gives it`},
		{"another kind of value", "{{say .N}}", `1:24: a value of another kind is needed here|say takes a phrase, t a key in quotes, verdict and meaning a verdict, count a whole number`},
		{"values for what takes none", "{{.Name 1}}", `1:20: values are given to what takes none|write a function before them, or leave them out`},
		{"itself", `{{template "main" .}}`, `1:29: a definition calls itself without end|take the {{template}} of its own name out of it`},
		{"what nothing else fits", "{{nil}}", `1:20: this cannot be carried out|compare it with the template that this one takes the place of`},
		{"no such definition", `{{template "mrak" .Name}}`, `1:29: no definition "mrak"|did you mean "mark"?`},
		{"a definition that nothing is like", `{{template "whatever-else" .Name}}`, `1:29: no definition "whatever-else"|definitions are `},
		{"branches that differ", "<p>\n<a href=\"{{if .N}}\"{{end}}>", `2:15: one branch ends inside a tag, quotes or a script and another does not|close in each branch what it opens`},
		{"an open quote", "<p>\n<a href=\"x", `1:1: a definition ends inside a tag, quotes, a comment or a script|close in it what it opens`},
		{"a quote in a value", "<p>\n<b>é <i class=b\"c>", `2:15: a tag cannot be read|write its attributes as name="value", with a space between them`},
		{"an escaper", "{{.Name | html | printf}}", `1:20: html and urlquery have no place here: everything is escaped already|leave them out`},
		{"an address in two halves", `<a href="{{if .N}}/x?y{{end}}{{.Name}}">x</a>`, `1:49: this cannot be escaped safely where it stands|write it as text, or as the value of an attribute in quotes`},
	} {
		problem := faultOf(t, words["en"], map[string]string{"safety": `{{define "main"}}` + c.main + `{{end}}`})
		got := problem.Error() + "|" + problem.Hint
		want := "templates/safety.html:" + c.want
		if !strings.HasPrefix(got, want) || len(problem.Notes) > 0 || !strings.HasSuffix(c.want, " ") && got != want {
			t.Errorf("%s\n got %s %q\nwant %s", c.why, got, problem.Notes, want)
		}
	}
}

// faultOf carries out an office's templates of the page of safety and returns what is
// wrong with them.
func faultOf(t *testing.T, c *message.Catalogue, texts map[string]string) diag.Problem {
	t.Helper()
	own := fstest.MapFS{}
	for name, text := range texts {
		own[name+".html"] = &fstest.MapFile{Data: []byte(text)}
	}
	var problems diag.List
	s := readTemplates([]fs.FS{templates.FS, own}, &problems)
	if problems.Stops() {
		t.Fatalf("%v: %v", texts, problems)
	}
	parsed, err := s.parse("safety", s.pages["safety"], words(c))
	if err != nil {
		t.Fatal(err)
	}
	value := &faulty{Name: "x"}
	failed := parsed.ExecuteTemplate(io.Discard, "page", value)
	if _, ok := errors.AsType[*template.Error](failed); !ok { // all of it can be escaped: the page's own part alone, which has a value
		failed = parsed.ExecuteTemplate(io.Discard, "main", value)
	}
	fault, ok := errors.AsType[*Fault](s.fault("safety", parsed, value, failed))
	if !ok {
		t.Fatalf("%v: no fault", texts)
	}
	return fault.Problem
}

// TestFaultOfOurTemplate: where an office wrote a definition anew, one of ours may fail
// that it has no file of; it is told so.
func TestFaultOfOurTemplate(t *testing.T) {
	words, _ := message.Load(templates.FS)
	text, err := templates.FS.ReadFile("parts.html")
	if err != nil {
		t.Fatal(err)
	}
	own := strings.Replace(string(text), `{{define "cautions"}}`, `{{define "other-cautions"}}`, 1)
	if own == string(text) {
		t.Fatal("parts.html does not define cautions")
	}
	p := faultOf(t, words["en"], map[string]string{"parts": own})
	if diff := cmp.Diff(diag.Problem{Pos: p.Pos, Msg: `no definition "cautions"`, Hint: p.Hint,
		Notes: []string{"this template is the tool's own, and uses a definition that the office wrote anew"}}, p); diff != "" || p.Pos.Line == 0 {
		t.Errorf("(-want +got)\n%s", diff)
	}
}

// TestOtherFailures: what is no fault of a template is no problem of an office.
func TestOtherFailures(t *testing.T) {
	err := errors.New("disk")
	if got := (&shelf{}).fault("", nil, nil, err); got != err {
		t.Errorf("got %v", got)
	}
}
