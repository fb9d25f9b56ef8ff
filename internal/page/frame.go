package page

import (
	"path"
	"slices"
	"strings"

	"tankleaf.example/internal/mix"
)

// Frame is what stands around every page. Values of pages embed it.
type Frame struct {
	Kind          string // name of the template
	Lang          mix.Lang
	Title         string
	Summary       string
	Canonical     string // full address; "" when the site's address is not known
	PrintStyle    string
	Feed          string // what changed, for feed readers
	Office        Phrase
	SiteTitle     Phrase
	Contact       Phrase
	Demonstration Phrase
	Published     string // date in words
	Editions      []EditionLink
	Nav           []NavLink
	Index         []NavGroup
	Hazards       []HazardLine
	General       *CautionView
	Sources       []SourceView
	OwnEnd        bool // the page sets sources and general caution into its text itself

	leaf *leaf
}

// framed is a page's value.
type framed interface{ frame() *Frame }

func (f *Frame) frame() *Frame { return f }

// Link returns the way to a path of the edition.
func (f *Frame) Link(path string) string { return f.leaf.link(path) }

// Asset returns the way to a file that all editions share and every page loads.
func (f *Frame) Asset(path string) string { return f.pinned(path) }

// Words returns the way to the words of the script.
func (f *Frame) Words() string { return f.pinned(wordsPath(f.Lang)) }

// EditionLink leads to the same page in another language.
type EditionLink struct {
	Lang    mix.Lang
	Name    string // the language's own name
	Href    string
	Current bool
}

// NavLink is an entry of the navigation.
type NavLink struct {
	Name, Href string
	Current    string // "page" for this page, "true" for the section it is in
}

// NavGroup is a heading of the index at the foot of the page.
type NavGroup struct {
	Name  string
	Links []NavLink
}

// head is what a page says of itself.
type head struct{ title, summary string }

// The navigation: message keys under nav., with the pages they lead to.
var (
	mainNav = []string{"planner", "matrix", "products", "classes", "sheets", "recipes", "observations", "unknown"}
	indexes = []struct {
		name  string
		pages []string
	}{
		{"look-up", []string{"index", "find", "planner", "calculators", "matrix", "products", "classes", "interactions", "notices"}},
		{"learn", []string{"sheets", "recipes", "packets", "order", "standing", "observations", "record", "unknown"}},
		{"trust", []string{"verdicts", "changes", "safety", "sources", "data"}},
	}
)

func (l *leaf) makeFrame(kind string, h head) Frame {
	site := &l.book().Site
	f := Frame{
		Kind: kind, Lang: l.lang, Title: h.title, Summary: h.summary,
		PrintStyle: printStylePath(l.lang), Feed: l.link("feed.xml"),
		Office: l.phrase(site.Office), SiteTitle: l.phrase(site.Title), Contact: l.phrase(site.Contact),
		Demonstration: l.phrase(site.Demonstration), Published: l.words.Date(site.Published),
		Editions: l.editions(), Nav: l.nav(mainNav), leaf: l,
	}
	if l.BaseURL != "" {
		f.Canonical = l.BaseURL + strings.TrimSuffix(l.path, "index.html")
	}
	for _, g := range indexes {
		f.Index = append(f.Index, NavGroup{l.t("nav.group." + g.name), l.nav(g.pages)})
	}
	own := len(l.sources)
	f.Hazards = l.hazardLines()
	f.General = l.caution(mix.NoHazard)
	for i, s := range l.sources {
		s.OfCautions = i >= own
		f.Sources = append(f.Sources, s.SourceView)
	}
	return f
}

// editions lists this page in every language.
func (l *leaf) editions() []EditionLink {
	inside := strings.TrimPrefix(l.path, l.folder)
	var all []EditionLink
	for i, lang := range l.book().Site.Languages {
		to := inside
		if i > 0 {
			to = path.Join(string(lang), inside)
		}
		all = append(all, EditionLink{lang, l.Messages[lang].T("language.own-name"), relative(l.path, to), lang == l.lang})
	}
	return all
}

func (l *leaf) nav(pages []string) []NavLink {
	var links []NavLink
	here := strings.TrimPrefix(l.path, l.folder)
	for _, p := range pages {
		to := p + ".html"
		link := NavLink{Name: l.t("nav." + p), Href: l.link(to)}
		switch {
		case to == here:
			link.Current = "page"
		case sectionOf[path.Dir(here)] == p:
			link.Current = "true"
		}
		links = append(links, link)
	}
	return links
}

// sectionOf maps the folders of pages to the entry of the navigation that they
// belong to.
var sectionOf = map[string]string{"class": "classes", "product": "products", "together": "matrix", "sheet": "sheets",
	"recipe": "recipes", "packet": "packets", "observation": "observations", "investigation": "observations"}

// HazardLine says in one line, first on the page, what may hurt.
type HazardLine struct {
	Name    string
	Line    Phrase
	Anchor  string
	Caution *CautionView
	Placed  bool // the page has set the block into its text
}

// CautionView is the box of a caution.
type CautionView struct {
	Hazard string // "general", or the hazard's word
	Anchor string
	Title  Phrase
	Lines  []Phrase
	Cites  []Cite
}

// hazardLines lists the hazards the page mentions, in order of the vocabulary. A
// hazard that the office wrote no caution for still gets its line and a box in
// our words.
func (l *leaf) hazardLines() []HazardLine {
	var lines []HazardLine
	for _, h := range mix.Hazards() {
		if !l.hazards[h] {
			continue
		}
		c := l.caution(h)
		lines = append(lines, HazardLine{l.words.Hazard(h), Phrase{Text: l.t("hazard-line." + h.String())}, c.Anchor, c, l.placed[h]})
	}
	return lines
}

// caution returns the box for a hazard, NoHazard for the general one.
func (l *leaf) caution(h mix.Hazard) *CautionView {
	word := h.String()
	if h == mix.NoHazard {
		word = "general"
	}
	v := &CautionView{Hazard: word, Anchor: "caution-" + word}
	all := l.book().Cautions
	i := slices.IndexFunc(all, func(c mix.Caution) bool { return c.Hazard == h })
	if i < 0 {
		v.Title = Phrase{Text: l.t("caution.title." + word)}
		v.Lines = []Phrase{{Text: l.t("caution.line." + word)}}
		return v
	}
	v.Title = l.phrase(all[i].Title)
	for _, line := range all[i].Lines {
		v.Lines = append(v.Lines, l.phrase(line))
	}
	v.Cites = l.cites(all[i].Sources)
	return v
}
