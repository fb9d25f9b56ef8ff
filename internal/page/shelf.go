package page

import (
	"bytes"
	"fmt"
	"html/template"
	"io/fs"
	"maps"
	"path"
	"slices"
	"strings"

	"tankleaf.example/internal/diag"
	"tankleaf.example/internal/folder"
	"tankleaf.example/internal/message"
	"tankleaf.example/internal/mix"
)

// shelf holds the texts of templates and styles, laid over each other.
type shelf struct {
	pages  map[string]string // kind of page → text
	common map[string]string // of commonTemplates
	theirs map[string]bool   // names of templates that the office wrote
	styles map[string]string // name → text
}

// commonTemplates stand in every page; all others are a page of their own.
var commonTemplates = []string{"base", "parts", "findings", "card"}

// readTemplates reads all layers, ours and then those of the office over it.
func readTemplates(layers []fs.FS, problems *diag.List) *shelf {
	s := &shelf{pages: layered(layers, ".", ".html", problems), styles: layered(layers, "styles", ".css", problems), common: map[string]string{}}
	s.theirs = written(layers)
	sound := checkTemplates(s.pages, problems)
	for _, name := range commonTemplates {
		s.common[name] = s.pages[name]
		delete(s.pages, name)
	}
	if !sound {
		return s
	}
	for name, text := range s.pages {
		if _, err := s.parse(name, text, words(nil)); err != nil {
			addFault(problems, name, err)
		}
	}
	return s
}

// maxTemplate is the most that a template or a style sheet may have, in bytes: thirty
// times the largest of ours.
const maxTemplate = 1 << 20

// layered returns the texts of files of a folder by name without its ending. Files of
// an office that take the place of none of ours are told.
func layered(layers []fs.FS, where, ending string, problems *diag.List) map[string]string {
	texts := map[string]string{}
	for i, layer := range layers {
		f := folder.Dir{FS: layer, Shown: "templates/", Problems: problems}
		names, _ := f.Below(where, ending)
		for _, name := range names {
			base := strings.TrimSuffix(path.Base(name), ending)
			if _, known := texts[base]; !known && i > 0 && ending == ".html" {
				lonely(problems, base, slices.Sorted(maps.Keys(texts)))
				continue
			}
			if text, ok := f.Text(name, maxTemplate); ok {
				texts[base] = text
			}
		}
	}
	return texts
}

// written returns the names of the templates that stand in any layer but ours.
func written(layers []fs.FS) map[string]bool {
	names := map[string]bool{}
	for _, layer := range layers[min(1, len(layers)):] {
		found, _ := fs.Glob(layer, "*.html")
		for _, file := range found {
			names[strings.TrimSuffix(file, ".html")] = true
		}
	}
	return names
}

// lonely tells of a template that nothing is made of.
func lonely(problems *diag.List, name string, known []string) {
	hint := "templates are " + strings.Join(known, ", ")
	if near := diag.Nearest(name, known); near != "" {
		hint = fmt.Sprintf("did you mean %q?", near+".html")
	}
	problems.Add(diag.Pos{File: templateFile(name)}, "no page is made of this template", hint)
}

func templateFile(name string) string { return "templates/" + name + ".html" }

// parse reads a page over the common templates, each under the name of its file: that
// is how the library names the place of a fault.
func (s *shelf) parse(name, text string, funcs template.FuncMap) (*template.Template, error) {
	t := template.New(root).Funcs(funcs)
	for _, common := range commonTemplates {
		if _, err := t.New(templateFile(common)).Parse(s.common[common]); err != nil {
			return nil, err
		}
	}
	if _, err := t.New(templateFile(name)).Parse(text); err != nil {
		return nil, err
	}
	return t, nil
}

// text returns the text of a template by its file.
func (s *shelf) text(file string) string {
	name := strings.TrimSuffix(path.Base(file), ".html")
	if text, ok := s.common[name]; ok {
		return text
	}
	return s.pages[name]
}

// style joins the parts of the style sheet in order of name.
func (s *shelf) style() []byte {
	var out bytes.Buffer
	for _, name := range slices.Sorted(maps.Keys(s.styles)) {
		out.WriteString(s.styles[name])
		out.WriteByte('\n')
	}
	return out.Bytes()
}

// templatesFor parses every page with the words of one language.
func (s *shelf) templatesFor(c *message.Catalogue) map[string]*template.Template {
	parsed := make(map[string]*template.Template, len(s.pages))
	for name, text := range s.pages {
		t, err := s.parse(name, text, words(c))
		if err != nil {
			panic(fmt.Sprintf("page: template %s was parsed before: %v", name, err))
		}
		parsed[name] = t
	}
	return parsed
}

// words are the functions that templates may call.
func words(c *message.Catalogue) template.FuncMap {
	return template.FuncMap{
		"t":        func(key string, args ...any) string { return c.T(key, args...) },
		"say":      say,
		"verdict":  func(v mix.Verdict) string { return c.Verdict(v) },
		"meaning":  func(v mix.Verdict) string { return c.T("meaning." + v.String()) },
		"verdicts": mix.Verdicts,
		"count":    func(n int) string { return c.Count(n) },
		"uilang":   func() mix.Lang { return c.Lang() },
	}
}

// say writes a phrase, marked with its language when that is not the page's.
func say(p Phrase) template.HTML {
	text := template.HTMLEscapeString(p.Text)
	if p.Lang == "" || p.Text == "" {
		return template.HTML(text)
	}
	return template.HTML(`<span lang="` + template.HTMLEscapeString(string(p.Lang)) + `">` + text + `</span>`)
}
