package site

import (
	"bytes"
	"fmt"
	"path"
	"slices"
	"strings"

	"golang.org/x/net/html"
	"golang.org/x/net/html/atom"

	"tankleaf.example/internal/diag"
	"tankleaf.example/internal/mix"
)

// Audit checks what is about to be published: each page as it is added, and the
// links between them at the end. What it finds stops the build. An office that
// overrides templates is held to the same rules as ours.
type Audit struct {
	demonstration bool
	files         map[string]map[string]bool // path → its anchors; nil for what is not a page
	links         []link
	found         diag.List
}

type link struct{ from, path, anchor string }

// NewAudit begins an audit; with demonstration set every page must say that it
// shows demonstration data.
func NewAudit(demonstration bool) *Audit {
	return &Audit{demonstration: demonstration, files: map[string]map[string]bool{}}
}

// Add looks at one file. Pages are what ends in .html.
func (a *Audit) Add(name string, body []byte) {
	a.files[name] = nil
	if !strings.HasSuffix(name, ".html") {
		return
	}
	doc, err := html.Parse(bytes.NewReader(body))
	if err != nil {
		a.add(name, "is no HTML: "+err.Error(), "mend the template")
		return
	}
	p := pageAudit{Audit: a, name: name, ids: map[string]bool{}, cautions: map[string]bool{}}
	p.walk(doc)
	p.judge()
	a.files[name] = p.ids
}

func (a *Audit) add(name, msg, hint string) { a.found.Add(diag.Pos{File: name}, msg, hint) }

// Problems returns what was found, dead links included.
func (a *Audit) Problems() diag.List {
	for _, l := range a.links {
		ids, published := a.files[l.path]
		switch {
		case !published:
			a.add(l.from, fmt.Sprintf("links to %q, which is not published", l.path), "link to a page that exists")
		case l.anchor != "" && !ids[l.anchor]:
			a.add(l.from, fmt.Sprintf("links to %q in %q, which has no such place", "#"+l.anchor, l.path),
				"link to an id that the page has")
		}
	}
	a.links = nil
	return a.found.Sorted()
}

// pageAudit is what is known of one page while it is walked.
type pageAudit struct {
	*Audit
	name             string
	ids              map[string]bool
	cautions         map[string]bool
	headings, titles int
	lang, demo       bool
	policy           bool
}

func (p *pageAudit) walk(n *html.Node) {
	if n.Type == html.ElementNode {
		p.element(n)
	}
	for c := n.FirstChild; c != nil; c = c.NextSibling {
		p.walk(c)
	}
}

func (p *pageAudit) element(n *html.Node) {
	switch n.DataAtom {
	case atom.Html:
		p.lang = attr(n, "lang") != ""
	case atom.Title:
		if n.Parent.DataAtom == atom.Head && n.FirstChild != nil {
			p.titles++
		}
	case atom.H1:
		p.headings++
	case atom.Meta:
		p.policy = p.policy || attr(n, "http-equiv") == "Content-Security-Policy"
	case atom.Style:
		p.add(p.name, "has an inline style element", "move it to the style sheet")
	case atom.Script:
		if attr(n, "src") == "" && attr(n, "type") != "application/json" {
			p.add(p.name, "has an inline script", "move it to a file")
		}
	}
	for _, at := range n.Attr {
		p.attribute(n, at)
	}
}

func (p *pageAudit) attribute(n *html.Node, at html.Attribute) {
	switch key := at.Key; {
	case key == "id":
		if p.ids[at.Val] {
			p.add(p.name, fmt.Sprintf("has the id %q twice", at.Val), "give each element its own id")
		}
		p.ids[at.Val] = true
	case key == "style", strings.HasPrefix(key, "on"):
		p.add(p.name, fmt.Sprintf("has an inline %q attribute", key), "use a class and the style sheet")
	case key == "data-caution":
		p.caution(n, at.Val)
	case key == "data-demonstration":
		p.demo = true
	case key == "data-verdict":
		if _, ok := mix.ParseVerdict(at.Val); !ok {
			p.add(p.name, fmt.Sprintf("has a verdict mark %q", at.Val), "use one of the five verdicts")
		}
	case key == "href" && n.DataAtom == atom.A:
		p.follow(at.Val, false)
	case key == "href", key == "src", key == "srcset", key == "data", key == "poster", key == "action":
		p.follow(at.Val, true)
	}
}

// caution counts a caution block only when it says something and nothing around
// it can hide it.
func (p *pageAudit) caution(n *html.Node, hazard string) {
	if strings.TrimSpace(textOf(n)) == "" {
		p.add(p.name, fmt.Sprintf("has an empty caution block %q", hazard), "give the caution its text")
		return
	}
	for up := n; up != nil; up = up.Parent {
		if up.DataAtom == atom.Details || up.DataAtom == atom.Template || hasAttr(up, "hidden") {
			p.add(p.name, fmt.Sprintf("hides its caution block %q", hazard), "take the caution out of what can be folded away")
			return
		}
	}
	p.cautions[hazard] = true
}

// follow notes a link inside the site. What a page loads must be ours; what a
// reader follows may be elsewhere.
func (p *pageAudit) follow(ref string, loads bool) {
	if strings.HasPrefix(ref, "//") || strings.Contains(schemeOf(ref), ":") {
		outside := schemeOf(ref) == "https:" || schemeOf(ref) == "http:" || schemeOf(ref) == "mailto:"
		if loads || !outside {
			p.add(p.name, fmt.Sprintf("asks for %q", ref), "publish the file with the site")
		}
		return
	}
	target, anchor, _ := strings.Cut(ref, "#")
	target, _, _ = strings.Cut(target, "?")
	if target == "" {
		target = p.name
	} else if target = path.Join(path.Dir(p.name), target); strings.HasPrefix(target, "../") {
		p.add(p.name, fmt.Sprintf("links to %q outside the site", ref), "link to a page of the site")
		return
	}
	p.links = append(p.links, link{p.name, target, anchor})
}

// schemeOf returns the scheme of a reference with its colon, or "".
func schemeOf(ref string) string {
	i := strings.IndexAny(ref, ":/?#")
	if i < 0 || ref[i] != ':' {
		return ""
	}
	return strings.ToLower(ref[:i+1])
}

func (p *pageAudit) judge() {
	for _, rule := range []struct {
		broken    bool
		msg, hint string
	}{
		{!p.cautions["general"], "has no general caution block", `end the page with an element data-caution="general"`},
		{p.demonstration && !p.demo, "does not say that it shows demonstration data", "put an element data-demonstration on the page"},
		{!p.lang, "does not say its language", "set lang on the html element"},
		{p.titles != 1, fmt.Sprintf("has %d titles", p.titles), "give the page one title"},
		{p.headings != 1, fmt.Sprintf("has %d main headings", p.headings), "give the page one h1"},
		{!p.policy, "has no content security policy", "keep the policy in the head of the page"},
	} {
		if rule.broken {
			p.add(p.name, rule.msg, rule.hint)
		}
	}
}

func attr(n *html.Node, key string) string {
	i := slices.IndexFunc(n.Attr, func(a html.Attribute) bool { return a.Key == key })
	if i < 0 {
		return ""
	}
	return n.Attr[i].Val
}

func hasAttr(n *html.Node, key string) bool {
	return slices.ContainsFunc(n.Attr, func(a html.Attribute) bool { return a.Key == key })
}

func textOf(n *html.Node) string {
	if n.Type == html.TextNode {
		return n.Data
	}
	var b strings.Builder
	for c := n.FirstChild; c != nil; c = c.NextSibling {
		b.WriteString(textOf(c))
	}
	return b.String()
}
