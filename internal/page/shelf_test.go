package page

import (
	"io/fs"
	"strings"
	"testing"
	"testing/fstest"

	"github.com/google/go-cmp/cmp"

	"tankleaf.example/internal/diag"
	"tankleaf.example/templates"
)

// TestTemplatesOfAnOffice: what can be wrong with a template is told in its file, on
// its line, without the words of the library.
func TestTemplatesOfAnOffice(t *testing.T) {
	const fine = `{{define "main"}}<h1>T</h1>{{end}}`
	for _, c := range []struct{ why, name, text, want string }{
		{"one of ours replaced", "safety.html", fine, ""},
		{"a mark of Windows before it and its line ends", "safety.html", "\ufeff{{define \"main\"}}\r\n<h1>T</h1>\r\n{{end}}\r\n", ""},
		{"a comment around the definition", "safety.html", "{{/* ours */}}\n" + fine, ""},
		{"what is opened is not closed", "safety.html", "{{define \"main\"}}\n{{if .X}}\n", "templates/safety.html:3:1: something is opened in this template and not closed\n\twrite {{end}} for each {{if}}, {{range}}, {{with}}, {{block}} and {{define}}\n"},
		{"an unknown function", "safety.html", "{{define \"main\"}}\n{{tt \"x\"}}{{end}}", "templates/safety.html:2:1: unknown function \"tt\" in a template\n\tfunctions are count, meaning, say, t, uilang, verdict, verdicts\n"},
		{"a brace too many", "safety.html", "{{define \"main\"}}{{t \"a\"}}}}{{.}{{end}}", "templates/safety.html:1:1: template cannot be read: bad character U+007D '}'\n\tmend the template\n"},
		{"text outside", "safety.html", "\n" + fine + "\n\nand more", "templates/safety.html:4:1: text outside of every definition is shown nowhere\n\twrite it between {{define \"NAME\"}} and {{end}}\n"},
		{"an action outside", "safety.html", "{{t \"a\"}}" + fine, "templates/safety.html:1:1: text outside of every definition is shown nowhere\n\twrite it between {{define \"NAME\"}} and {{end}}\n"},
		{"a definition that another has", "base.html", `{{define "page"}}x{{end}}{{define "chip"}}y{{end}}`, "templates/parts.html: definition \"chip\" stands in templates/base.html too\n\tname it otherwise\n"},
		{"a name misspelt", "saftey.html", fine, "templates/saftey.html: no page is made of this template\n\tdid you mean \"safety.html\"?\n"},
		{"a name of no page", "welcome.html", fine, "templates/welcome.html: no page is made of this template\n\ttemplates are 404, base, "},
		{"a byte that is no text", "safety.html", "{{define \"main\"}}\n<p>é\xff</p>{{end}}", "templates/safety.html:2:5: byte 0xff is not UTF-8 text\n\tsave the file as UTF-8\n"},
		{"a NUL in a style", "styles/own.css", "p {}\n\x00", "templates/styles/own.css:2:1: control character U+0000\n\tremove it\n"},
		{"a style with a mark of Windows", "styles/own.css", "\ufeffp {}\r\n", ""},
		{"a template without end", "safety.html", fine + strings.Repeat(" ", maxTemplate), "templates/safety.html: larger than 1 MiB\n\tsplit it into several files\n"},
		{"what is no template", "readme.txt", "words", ""},
	} {
		var problems diag.List
		readTemplates([]fs.FS{templates.FS, fstest.MapFS{c.name: {Data: []byte(c.text)}}}, &problems)
		got := problems.String()
		if strings.HasSuffix(c.want, ", ") { // the list goes on
			got = got[:min(len(c.want), len(got))]
		}
		if diff := cmp.Diff(c.want, got); diff != "" {
			t.Errorf("%s (-want +got)\n%s", c.why, diff)
		}
	}
}

// TestStyleBeginsWithItsRules: no mark of Windows gets between two parts of the style
// sheet.
func TestStyleBeginsWithItsRules(t *testing.T) {
	var problems diag.List
	s := readTemplates([]fs.FS{templates.FS, fstest.MapFS{"styles/9-own.css": {Data: []byte("\ufeffp {}\r\nq {}")}}}, &problems)
	if css := string(s.style()); len(problems) > 0 || !strings.Contains(css, "\np {}\nq {}\n") {
		t.Errorf("%q, %v", css, problems)
	}
}
