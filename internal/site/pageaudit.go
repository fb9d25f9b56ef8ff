package site

import (
	"fmt"
	"net/url"
	"path"
	"slices"
	"strings"

	"golang.org/x/net/html"
	"golang.org/x/net/html/atom"

	"tankleaf.example/internal/mix"
)

// pageAudit is what is known of one page while it is walked.
type pageAudit struct {
	*Audit
	*audited
	name             string
	cautions         map[string]bool
	headings, titles int
	demo, loads      bool // loads: something that the page loads has been seen
	policy           string
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
		p.lang = attr(n, "lang")
	case atom.Title:
		if n.Parent.DataAtom == atom.Head && strings.TrimSpace(textOf(n)) != "" {
			p.titles++
		}
	case atom.H1:
		if strings.TrimSpace(textOf(n)) != "" {
			p.headings++
		}
	case atom.Meta:
		p.meta(n)
	case atom.Style:
		p.add(p.name, "has an inline style element", "move it to the style sheet")
	case atom.Script:
		if p.loads = true; attr(n, "src") == "" && attr(n, "type") != "application/json" {
			p.add(p.name, "has an inline script", "move it to a file")
		}
	case atom.Link:
		p.loads = true
	case atom.Iframe, atom.Frame, atom.Object, atom.Embed, atom.Base:
		p.add(p.name, fmt.Sprintf("has an element %q", n.Data), "take it out: it brings in what no rule here can check")
	}
	for _, at := range n.Attr {
		p.attribute(n, at)
	}
}

// meta looks for the policy, which protects only from what comes after it.
func (p *pageAudit) meta(n *html.Node) {
	switch strings.ToLower(attr(n, "http-equiv")) {
	case "content-security-policy":
		if n.Parent.DataAtom == atom.Head && !p.loads {
			p.policy = attr(n, "content")
		}
	case "refresh":
		p.add(p.name, "leads on by itself", "take the refresh out")
	}
}

func (p *pageAudit) attribute(n *html.Node, at html.Attribute) {
	switch key := at.Key; {
	case key == "id":
		if p.ids[at.Val] {
			p.add(p.name, fmt.Sprintf("has the id %q twice", at.Val), "give each element its own id")
		}
		p.ids[at.Val] = true
	case key == "style", key == "srcdoc", strings.HasPrefix(key, "on"):
		p.add(p.name, fmt.Sprintf("has an inline %q attribute", key), "use a class and the style sheet")
	case key == "data-caution":
		p.caution(n, at.Val)
	case key == "data-demonstration":
		p.demo = p.demo || strings.TrimSpace(textOf(n)) != "" && folded(n) == nil
	case key == "data-verdict":
		p.mark(n, at.Val)
	case key == "hreflang" && n.DataAtom == atom.Link:
		p.twin(n, at.Val)
	case key == "href" && p.own(n, at.Val):
	case key == "href" && n.DataAtom == atom.A:
		p.follow(at.Val, false)
	case asks[key]:
		p.follow(at.Val, true)
	}
}

// asks are the attributes by which a page asks for something, or sends.
var asks = map[string]bool{"href": true, "src": true, "srcset": true, "imagesrcset": true, "data": true, "poster": true, "action": true,
	"formaction": true, "ping": true, "background": true, "manifest": true}

// own reports whether a link in the head names the page itself by the address at
// which it will be served.
func (p *pageAudit) own(n *html.Node, ref string) bool {
	return n.DataAtom == atom.Link && attr(n, "rel") == "canonical" && p.Address != "" &&
		ref == p.Address+strings.TrimSuffix(p.name, "index.html")
}

// twin notes the same page in another language.
func (p *pageAudit) twin(n *html.Node, lang string) {
	if attr(n, "rel") == "alternate" && schemeOf(attr(n, "href")) == "" {
		p.twins[lang] = path.Join(path.Dir(p.name), attr(n, "href"))
	}
}

// caution counts a caution block only when it says something and nothing around
// it can hide it.
func (p *pageAudit) caution(n *html.Node, hazard string) {
	if strings.TrimSpace(textOf(n)) == "" {
		p.add(p.name, fmt.Sprintf("has an empty caution block %q", hazard), "give the caution its text")
		return
	}
	if folded(n) != nil {
		p.add(p.name, fmt.Sprintf("hides its caution block %q", hazard), "take the caution out of what can be folded away")
		return
	}
	p.cautions[hazard] = true
}

// folded returns what around a node keeps it from being seen, or nil.
func folded(n *html.Node) *html.Node {
	for up := n; up != nil; up = up.Parent {
		switch up.DataAtom {
		case atom.Details, atom.Template, atom.Dialog, atom.Head, atom.Select, atom.Textarea, atom.Noscript, atom.Canvas:
			return up
		}
		if hasAttr(up, "hidden") || attr(up, "aria-hidden") == "true" || hasAttr(up, "inert") || hasAttr(up, "popover") {
			return up
		}
	}
	return nil
}

// mark holds a mark of a verdict to one of the five, and to saying it in words:
// a shape alone is not enough, nor is a tone.
func (p *pageAudit) mark(n *html.Node, word string) {
	v, ok := mix.ParseVerdict(word)
	if !ok {
		p.add(p.name, fmt.Sprintf("has a verdict mark %q", word), "use one of the five verdicts")
		return
	}
	if p.Words == nil {
		return
	}
	said := p.Words(p.lang, v)
	if strings.Contains(heard(n), said) || strings.TrimSpace(textOf(classed(n, "says"))) != "" {
		return
	}
	if up := n.Parent; up.DataAtom != atom.Main && up.DataAtom != atom.Body && strings.Contains(heard(up), said) {
		return
	}
	p.add(p.name, fmt.Sprintf("has a mark of %q that does not say %q", word, said), "write the words beside the mark")
}

// follow notes a link inside the site. What a page loads must be ours; what a
// reader follows may be elsewhere.
func (p *pageAudit) follow(ref string, loads bool) {
	if strings.HasPrefix(ref, "//") || strings.HasPrefix(ref, `\`) || strings.Contains(schemeOf(ref), ":") {
		outside := schemeOf(ref) == "https:" || schemeOf(ref) == "http:" || schemeOf(ref) == "mailto:"
		if loads || !outside {
			p.add(p.name, fmt.Sprintf("asks for %q", ref), "publish the file with the site")
		}
		return
	}
	target, anchor, _ := strings.Cut(ref, "#")
	target, _, _ = strings.Cut(target, "?")
	target, err := url.PathUnescape(target)
	anchor, err2 := url.PathUnescape(anchor)
	switch to := path.Join(path.Dir(p.name), target); {
	case err != nil || err2 != nil:
		p.add(p.name, fmt.Sprintf("links to %q, which is no address", ref), "escape what an address cannot hold")
	case target == "":
		p.links = append(p.links, link{p.name, p.name, anchor})
	case strings.HasPrefix(to, "../") || strings.HasPrefix(target, "/"):
		p.add(p.name, fmt.Sprintf("links to %q outside the site", ref), "link to a page of the site, from this page")
	default:
		p.links = append(p.links, link{p.name, to, anchor})
	}
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
		{p.Demonstration && !p.demo, "does not say that it shows demonstration data", "put an element data-demonstration on the page"},
		{p.lang == "", "does not say its language", "set lang on the html element"},
		{p.titles != 1, fmt.Sprintf("has %d titles", p.titles), "give the page one title"},
		{p.headings != 1, fmt.Sprintf("has %d main headings", p.headings), "give the page one h1"},
		{p.policy == "", "has no content security policy", "keep the policy in the head of the page, before all that it loads"},
		{p.policy != "" && !strict(p.policy), fmt.Sprintf("has the policy %q, which lets others in", p.policy), "allow 'self' and nothing else"},
	} {
		if rule.broken {
			p.add(p.name, rule.msg, rule.hint)
		}
	}
	if p.Hazards == nil {
		return
	}
	for _, h := range p.Hazards(p.name) {
		if !p.cautions[h.String()] {
			p.add(p.name, fmt.Sprintf("speaks of %v and has no caution of it", h), fmt.Sprintf("put an element data-caution=%q on the page", h))
		}
	}
}

// strict reports whether a policy allows nothing by default and otherwise
// nothing but the site itself.
func strict(policy string) bool {
	none := false
	for directive := range strings.SplitSeq(policy, ";") {
		words := strings.Fields(directive)
		if len(words) < 2 {
			return false
		}
		for _, source := range words[1:] {
			if source != "'self'" && source != "'none'" {
				return false
			}
		}
		none = none || words[0] == "default-src" && words[1] == "'none'"
	}
	return none
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

// textOf returns the words inside a node; none of nil.
func textOf(n *html.Node) string {
	var b strings.Builder
	if n == nil {
		return ""
	}
	if n.Type == html.TextNode {
		return n.Data
	}
	for d := range n.Descendants() {
		if d.Type == html.TextNode {
			b.WriteString(d.Data)
		}
	}
	return b.String()
}

// heard returns the words of a node with those that only a screen reader says.
func heard(n *html.Node) string {
	var b strings.Builder
	b.WriteString(attr(n, "aria-label"))
	for d := range n.Descendants() {
		if d.Type == html.TextNode {
			b.WriteString(d.Data)
		}
		if label := attr(d, "aria-label"); label != "" {
			b.WriteString(" " + label + " ")
		}
	}
	return b.String()
}

// classed returns the first element inside n of a class, or nil.
func classed(n *html.Node, class string) *html.Node {
	for d := range n.Descendants() {
		if slices.Contains(strings.Fields(attr(d, "class")), class) {
			return d
		}
	}
	return nil
}
