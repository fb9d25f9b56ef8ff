package page_test

import (
	"bytes"
	"path"
	"strings"
	"testing"

	"golang.org/x/net/html"
)

// demoPages are the pages of the demonstration in its own language, by path.
func demoPages(t *testing.T) map[string]*html.Node {
	t.Helper()
	pub, _ := demonstration(t)
	pages := map[string]*html.Node{}
	for f, err := range pub.Files() {
		if err != nil {
			t.Fatal(err)
		}
		if !strings.HasSuffix(f.Path, ".html") || strings.HasPrefix(f.Path, "es/") {
			continue
		}
		if pages[f.Path], err = html.Parse(bytes.NewReader(f.Body)); err != nil {
			t.Fatal(err)
		}
	}
	return pages
}

// walker follows links between pages.
type walker struct {
	pages map[string]*html.Node
	ids   map[string]map[string]*html.Node // by page
}

// at returns the element that a link leads to, nil when there is none: the page's
// root for a link without an anchor.
func (w *walker) at(from, href string) (string, *html.Node) {
	to, anchor, _ := strings.Cut(href, "#")
	name := from
	if to != "" {
		name = path.Join(path.Dir(from), to)
	}
	doc := w.pages[name]
	if doc == nil || anchor == "" {
		return name, doc
	}
	if w.ids[name] == nil {
		w.ids[name] = map[string]*html.Node{}
		for _, n := range find(doc, func(n *html.Node) bool { return attr(n, "id") != "" }) {
			w.ids[name][attr(n, "id")] = n
		}
	}
	return name, w.ids[name][anchor]
}

// leads reports what a part of a page leads to by clicking: a record of the office
// (an observation, an interaction, a notice), and a source in the bibliography.
func (w *walker) leads(from string, part *html.Node) (record, source bool) {
	for _, a := range find(part, tag("a")) {
		name, to := w.at(from, attr(a, "href"))
		if to == nil {
			continue
		}
		switch {
		case name == from && strings.HasPrefix(attr(to, "id"), "source-"):
			source = source || w.listed(from, to)
		case strings.HasPrefix(name, "observation/"):
			record = true
		case name == "interactions.html" || name == "notices.html":
			record = record || to.Data != "html" && w.cites(name, to)
		}
	}
	return record, source
}

// cites reports whether a record on a page of records cites a source that the
// bibliography lists.
func (w *walker) cites(name string, record *html.Node) bool {
	for _, a := range find(record, class("cite")) {
		if _, to := w.at(name, attr(a, "href")); to != nil && w.listed(name, to) {
			return true
		}
	}
	return false
}

// listed reports whether a source at the foot of a page leads to its entry in the
// bibliography, and that entry says where it is from.
func (w *walker) listed(from string, source *html.Node) bool {
	for _, a := range find(source, tag("a")) {
		if name, to := w.at(from, attr(a, "href")); name == "sources.html" && to != nil && to.Data != "html" {
			return len(text(to)) > 20
		}
	}
	return false
}

// TestEveryVerdictCanBeFollowed clicks through the demonstration: each line of each
// verdict leads to an observation, an interaction or a notice that is there, and a
// statement from there to a source in the bibliography. Nothing but "no evidence"
// stands without a way on.
func TestEveryVerdictCanBeFollowed(t *testing.T) {
	w := &walker{demoPages(t), map[string]map[string]*html.Node{}}
	entries, marks := 0, 0
	for name, doc := range w.pages {
		for _, e := range find(doc, class("entry")) {
			entries++
			record, source := w.leads(name, e)
			jars := len(find(e, func(n *html.Node) bool { return strings.Contains(attr(n, "href"), "observation/") })) > 0
			record = record || name == "interactions.html" || name == "notices.html" // it is one
			if !record || !source && !jars {
				t.Errorf("%s#%s: leads to a record %v, to a source %v: %s", name, attr(e, "id"), record, source, text(e))
			}
		}
		for _, m := range find(doc, func(n *html.Node) bool { return class("partner")(n) || n.Data == "td" && attr(n, "data-verdict") != "" }) {
			marks++
			w.markLeads(t, name, m)
		}
		w.bandLeads(t, name, doc)
	}
	if entries < 500 || marks < 2000 {
		t.Errorf("walked %d lines of evidence and %d marks: the pages have lost them", entries, marks)
	}
}

// markLeads: a verdict in a list or a matrix leads to what explains it.
func (w *walker) markLeads(t *testing.T, name string, m *html.Node) {
	verdict := attr(m, "data-verdict")
	links := find(m, tag("a"))
	if m.Data == "a" {
		links = append(links, m)
	}
	for _, v := range find(m, func(n *html.Node) bool { return attr(n, "data-verdict") != "" }) {
		verdict = attr(v, "data-verdict")
	}
	if verdict == "unknown" && len(links) == 0 {
		return
	}
	if len(links) == 0 {
		t.Errorf("%s: %s leads nowhere: %s", name, verdict, text(m))
	}
	for _, a := range links {
		if _, to := w.at(name, attr(a, "href")); to == nil {
			t.Errorf("%s: no %s", name, attr(a, "href"))
		}
	}
}

// bandLeads: a page that opens with a verdict has its evidence, or a way to it.
func (w *walker) bandLeads(t *testing.T, name string, doc *html.Node) {
	for _, band := range find(doc, class("band")) {
		if attr(band, "data-verdict") == "unknown" || len(find(doc, class("entry"))) > 0 {
			continue
		}
		found := false
		for _, a := range find(band.Parent, tag("a")) {
			to, at := w.at(name, attr(a, "href"))
			found = found || at != nil && (to != name || strings.HasPrefix(attr(at, "id"), "evidence-"))
		}
		if !found {
			t.Errorf("%s: opens with %q and does not say why: %s", name, attr(band, "data-verdict"), text(band))
		}
	}
}
