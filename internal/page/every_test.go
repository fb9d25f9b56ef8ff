package page_test

import (
	"crypto/sha256"
	"fmt"
	"path"
	"slices"
	"strings"
	"testing"

	"golang.org/x/net/html"

	"tankleaf.example/internal/mix"
)

// TestEveryPage holds all pages to what every page must be.
func TestEveryPage(t *testing.T) {
	files := publish(t, office(t))
	pages := parsed(t, files)
	for name, doc := range pages {
		for _, rule := range []struct {
			why   string
			check func(*testing.T, *html.Node)
		}{
			{"has one h1, one title and one main", oneOfEach},
			{"says its language, also in its path", func(t *testing.T, n *html.Node) { rightLanguage(t, name, n) }},
			{"carries the general caution last and says what it shows", cautionsAndBanner},
			{"shows a block for each hazard it names", hazardBlocks},
			{"marks verdicts so that audits need not guess", marksAreMarked},
			{"has no id twice", uniqueIDs},
			{"runs nothing inline and asks no other host", harmless},
			{"leads with a way past the navigation", skipLink},
			{"gives every picture and drawing its words", alternatives},
			{"hides no hazard in what folds away", nothingFolded},
			{"skips no level of heading", headingLevels},
		} {
			t.Run(name+" "+rule.why, func(t *testing.T) { rule.check(t, doc) })
		}
	}
	checkLinks(t, files, pages)
}

func oneOfEach(t *testing.T, doc *html.Node) {
	for _, name := range []string{"h1", "main"} {
		if n := len(find(doc, tag(name))); n != 1 {
			t.Errorf("%d elements %s", n, name)
		}
	}
	titles := find(doc, func(n *html.Node) bool { return n.Data == "title" && n.Namespace == "" })
	if len(titles) != 1 || text(titles[0]) == "" {
		t.Errorf("%d titles", len(titles))
	}
}

func rightLanguage(t *testing.T, name string, doc *html.Node) {
	want, other := "en", "es"
	if strings.HasPrefix(name, "es/") {
		want, other = other, want
	}
	if got := attr(find(doc, tag("html"))[0], "lang"); got != want {
		t.Errorf("lang %q, want %q", got, want)
	}
	alternates := find(doc, func(n *html.Node) bool {
		return n.Data == "link" && attr(n, "rel") == "alternate" && attr(n, "hreflang") != ""
	})
	if len(alternates) != 1 || attr(alternates[0], "hreflang") != other {
		t.Errorf("alternates %d", len(alternates))
	}
	switches := find(doc, func(n *html.Node) bool { return n.Data == "a" && attr(n, "hreflang") == other })
	if len(switches) == 0 || path.Base(attr(switches[0], "href")) != path.Base(name) {
		t.Error("no way to the same page in the other language")
	}
}

func cautionsAndBanner(t *testing.T, doc *html.Node) {
	all := find(doc, func(n *html.Node) bool { return attr(n, "data-caution") != "" })
	if len(all) == 0 || attr(all[len(all)-1], "data-caution") != "general" {
		t.Error("the general caution does not close the page")
	}
	if len(find(doc, func(n *html.Node) bool {
		return slices.ContainsFunc(n.Attr, func(a html.Attribute) bool { return a.Key == "data-demonstration" })
	})) != 1 {
		t.Error("no demonstration banner")
	}
}

// hazardBlocks compares the lines at the top with the blocks they lead to.
func hazardBlocks(t *testing.T, doc *html.Node) {
	blocks := map[string]int{}
	for _, n := range find(doc, func(n *html.Node) bool { return attr(n, "data-caution") != "" }) {
		blocks["#"+attr(n, "id")]++
	}
	delete(blocks, "#caution-general")
	lines := map[string]bool{}
	for _, list := range find(doc, func(n *html.Node) bool { return hasClass(n, "hazards") || hasClass(n, "hazards-brief") }) {
		for _, a := range find(list, tag("a")) {
			lines[attr(a, "href")] = true
			if blocks[attr(a, "href")] != 1 {
				t.Errorf("%d blocks for the hazard line %q", blocks[attr(a, "href")], attr(a, "href"))
			}
		}
	}
	for id := range blocks {
		if !lines[id] {
			t.Errorf("block %s has no line at the top", id)
		}
	}
}

// marksAreMarked: each drawn mark stands in an element that names its verdict,
// and that name is the mark's.
func marksAreMarked(t *testing.T, doc *html.Node) {
	uses := find(doc, func(n *html.Node) bool { return n.Data == "use" && strings.HasPrefix(attr(n, "href"), "#mark-") })
	for _, n := range uses {
		want := strings.TrimPrefix(attr(n, "href"), "#mark-")
		up := n
		for up != nil && attr(up, "data-verdict") == "" {
			up = up.Parent
		}
		if up == nil || attr(up, "data-verdict") != want {
			t.Errorf("a mark %s stands in no element with data-verdict=%q", want, want)
		}
	}
	for _, n := range find(doc, func(n *html.Node) bool { return attr(n, "data-verdict") != "" }) {
		if _, ok := mix.ParseVerdict(attr(n, "data-verdict")); !ok {
			t.Errorf("data-verdict %q", attr(n, "data-verdict"))
		}
	}
}

func uniqueIDs(t *testing.T, doc *html.Node) {
	seen := map[string]bool{}
	for _, n := range find(doc, func(n *html.Node) bool { return attr(n, "id") != "" }) {
		if seen[attr(n, "id")] {
			t.Errorf("id %q twice", attr(n, "id"))
		}
		seen[attr(n, "id")] = true
	}
}

func harmless(t *testing.T, doc *html.Node) {
	policies := find(doc, func(n *html.Node) bool { return attr(n, "http-equiv") == "Content-Security-Policy" })
	if len(policies) != 1 || !strings.HasPrefix(attr(policies[0], "content"), "default-src 'none'; ") {
		t.Error("no content security policy")
	}
	for _, n := range find(doc, func(*html.Node) bool { return true }) {
		if n.Data == "style" || n.Data == "script" && (attr(n, "src") == "" || n.FirstChild != nil) || n.Data == "iframe" || n.Data == "form" || n.Data == "base" {
			t.Errorf("element %s", n.Data)
		}
		for _, a := range n.Attr {
			loads := a.Key == "src" || a.Key == "srcset" || a.Key == "href" && n.Data != "a"
			switch {
			case a.Key == "style" || strings.HasPrefix(a.Key, "on"):
				t.Errorf("attribute %s on %s", a.Key, n.Data)
			case loads && strings.Contains(a.Val, ":"):
				t.Errorf("%s loads %q", n.Data, a.Val)
			case a.Key == "href" && strings.Contains(a.Val, ":") && !strings.HasPrefix(a.Val, "https://"):
				t.Errorf("%s leads to %q", n.Data, a.Val)
			}
		}
	}
}

func skipLink(t *testing.T, doc *html.Node) {
	links := find(find(doc, tag("body"))[0], tag("a"))
	if !hasClass(links[0], "skip") || attr(links[0], "href") != "#main" {
		t.Error("the first link does not skip to the page")
	}
}

func alternatives(t *testing.T, doc *html.Node) {
	for _, n := range find(doc, tag("svg")) {
		if attr(n, "aria-hidden") != "true" && attr(n, "aria-label") == "" {
			t.Error("a drawing without words")
		}
	}
	for _, n := range find(doc, tag("img")) {
		if attr(n, "alt") == "" {
			t.Errorf("picture %q without words", attr(n, "src"))
		}
	}
}

func nothingFolded(t *testing.T, doc *html.Node) {
	for _, n := range find(doc, tag("details")) {
		for _, in := range find(n, func(d *html.Node) bool { return attr(d, "data-caution") != "" || attr(d, "data-verdict") != "" }) {
			t.Errorf("%s folds away", attr(in, "class"))
		}
	}
}

func headingLevels(t *testing.T, doc *html.Node) {
	last := 1
	for _, n := range find(find(doc, tag("main"))[0], func(n *html.Node) bool {
		return len(n.Data) == 2 && n.Data[0] == 'h' && n.Data[1] >= '1' && n.Data[1] <= '6'
	}) {
		level := int(n.Data[1] - '0')
		if level > last+1 {
			t.Errorf("h%d %q after h%d", level, text(n), last)
		}
		last = level
	}
}

// checkPin holds the way to a file to the sum it is asked for with, if any.
func checkPin(t *testing.T, name, query string, body []byte) {
	t.Helper()
	if pin, ok := strings.CutPrefix(query, "sha256="); ok && pin != fmt.Sprintf("%.4x", sha256.Sum256(body)) {
		t.Errorf("%s asks for a file with the sum %s, which it has not", name, pin)
	}
}

// checkLinks follows every link inside the site to its file and anchor, and looks
// for every script.
func checkLinks(t *testing.T, files map[string][]byte, pages map[string]*html.Node) {
	anchors := map[string]map[string]bool{}
	for name, doc := range pages {
		anchors[name] = map[string]bool{}
		for _, n := range find(doc, func(n *html.Node) bool { return attr(n, "id") != "" }) {
			anchors[name][attr(n, "id")] = true
		}
	}
	followed := 0
	for name, doc := range pages {
		for _, n := range find(doc, func(n *html.Node) bool { return attr(n, "href")+attr(n, "src") != "" }) {
			href := attr(n, "href") + attr(n, "src")
			if strings.Contains(href, ":") {
				continue
			}
			followed++
			target, anchor, _ := strings.Cut(href, "#")
			target, query, _ := strings.Cut(target, "?")
			if target = path.Join(path.Dir(name), target); strings.HasPrefix(href, "#") {
				target = name
			}
			checkPin(t, name, query, files[target])
			if _, ok := files[target]; !ok {
				t.Errorf("%s links to %q, which is no file", name, href)
			} else if anchor != "" && !anchors[target][anchor] {
				t.Errorf("%s links to %q, which has no such place", name, href)
			}
		}
	}
	if followed < 2000 {
		t.Errorf("followed only %d links", followed)
	}
}
