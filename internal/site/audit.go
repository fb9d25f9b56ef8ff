package site

import (
	"bytes"
	"fmt"
	"path"

	"golang.org/x/net/html"

	"tankleaf.example/internal/diag"
	"tankleaf.example/internal/mix"
)

// Rules are what pages are held to beyond what holds of every site.
type Rules struct {
	Demonstration bool                                    // every page must say that it shows demonstration data
	Address       string                                  // of the site, with its last slash; "" when not known
	Words         func(lang string, v mix.Verdict) string // what a verdict is shown as; "" in a language that is not spoken
	Hazards       func(path string) []mix.Hazard          // that a page must caution of; may be nil
}

// Audit checks what is about to be published: each page as it is added, and the
// links between them at the end. What it finds stops the build. An office that
// overrides templates is held to the same rules as ours.
type Audit struct {
	Rules
	files map[string]*audited // by path
	names map[string]string   // lower-cased path → path, for systems that fold case
	links []link
	found diag.List
}

// audited is what is remembered of a file; of one that is no page, nothing.
type audited struct {
	ids   map[string]bool
	lang  string
	twins map[string]string // language → path of the same page in it
}

type link struct{ from, path, anchor string }

// NewAudit begins an audit.
func NewAudit(r Rules) *Audit {
	return &Audit{Rules: r, files: map[string]*audited{}, names: map[string]string{}}
}

// Add looks at one file. Pages are what ends in .html. It reports whether the
// file can be written under its name.
func (a *Audit) Add(name string, body []byte) (named bool) {
	if why := claim(a.names, name); why != "" {
		a.add(name, why, "rename what it is made from")
		return false
	}
	a.files[name] = &audited{}
	switch path.Ext(name) {
	case ".html":
		a.page(name, body)
	case ".css":
		a.style(name, body)
	case ".svg":
		a.drawing(name, body)
	case ".xml":
		a.feed(name, body)
	}
	return true
}

func (a *Audit) page(name string, body []byte) {
	doc, err := html.Parse(bytes.NewReader(body))
	if err != nil {
		a.add(name, "is no HTML: "+err.Error(), "mend the template")
		return
	}
	p := pageAudit{Audit: a, audited: a.files[name], name: name, cautions: map[string]bool{}}
	p.ids, p.twins = map[string]bool{}, map[string]string{}
	p.walk(doc)
	p.judge()
}

func (a *Audit) add(name, msg, hint string) { a.found.Add(diag.Pos{File: name}, msg, hint) }

// Problems returns what was found, dead links included.
func (a *Audit) Problems() diag.List {
	for _, l := range a.links {
		to := a.files[l.path]
		switch {
		case to == nil:
			a.add(l.from, fmt.Sprintf("links to %q, which is not published", l.path), "link to a page that exists")
		case l.anchor != "" && !to.ids[l.anchor]:
			a.add(l.from, fmt.Sprintf("links to %q in %q, which has no such place", "#"+l.anchor, l.path),
				"link to an id that the page has")
		}
	}
	a.links = nil
	for name, f := range a.files {
		for lang, twin := range f.twins {
			if to := a.files[twin]; to != nil && (to.lang != lang || to.twins[f.lang] != name) {
				a.add(name, fmt.Sprintf("says that %q is itself in %q, which that page does not", twin, lang), "link the two to each other")
			}
		}
	}
	return a.found.Sorted()
}
