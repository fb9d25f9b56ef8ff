package page_test

import (
	"bytes"
	"io/fs"
	"os"
	"strings"
	"testing"

	"golang.org/x/net/html"

	"tankleaf.example/internal/compat"
	"tankleaf.example/internal/dataset"
	"tankleaf.example/internal/message"
	"tankleaf.example/internal/mix"
	"tankleaf.example/internal/page"
	"tankleaf.example/internal/sheet"
	"tankleaf.example/templates"
)

// office reads the fixture: four products, five classes, three observations and
// two sheets, one of them in both languages.
func office(t *testing.T) page.Inputs {
	t.Helper()
	return inputs(t, book(t))
}

func book(t *testing.T) *mix.Book {
	t.Helper()
	b, problems := dataset.Load(os.DirFS("testdata/office"))
	if len(problems) > 0 {
		t.Fatalf("the fixture has problems:\n%s", problems)
	}
	return b
}

// inputs puts a book together with the fixture's sheets and our templates.
func inputs(t *testing.T, b *mix.Book) page.Inputs {
	t.Helper()
	sheets, problems := sheet.Load(os.DirFS("testdata/office"), b)
	words, more := message.Load(templates.FS)
	if problems = append(problems, more...); problems.Stops() {
		t.Fatalf("the fixture has problems:\n%s", problems)
	}
	x := mix.NewIndex(b)
	return page.Inputs{Index: x, Judge: compat.New(x), Sheets: sheets, Messages: words, Templates: []fs.FS{templates.FS}}
}

// publish makes all files of a publication.
func publish(t *testing.T, in page.Inputs) map[string][]byte {
	t.Helper()
	pub, problems := page.New(in)
	if len(problems) > 0 {
		t.Fatalf("unexpected problems:\n%s", problems)
	}
	files := map[string][]byte{}
	for f, err := range pub.Files() {
		if err != nil {
			t.Fatal(err)
		}
		files[f.Path] = f.Body
	}
	if len(files) != pub.Len() {
		t.Fatalf("%d files made, %d announced", len(files), pub.Len())
	}
	return files
}

// parsed returns the pages of a publication as trees, by path.
func parsed(t *testing.T, files map[string][]byte) map[string]*html.Node {
	t.Helper()
	trees := map[string]*html.Node{}
	for path, body := range files {
		if !strings.HasSuffix(path, ".html") {
			continue
		}
		doc, err := html.Parse(bytes.NewReader(body))
		if err != nil {
			t.Fatalf("%s: %v", path, err)
		}
		trees[path] = doc
	}
	if len(trees) < 60 {
		t.Fatalf("only %d pages", len(trees))
	}
	return trees
}

// find returns the elements below n that match, in order.
func find(n *html.Node, match func(*html.Node) bool) []*html.Node {
	var found []*html.Node
	for d := range n.Descendants() {
		if d.Type == html.ElementNode && match(d) {
			found = append(found, d)
		}
	}
	return found
}

func tag(name string) func(*html.Node) bool {
	return func(n *html.Node) bool { return n.Data == name }
}

// class matches elements that carry a class.
func class(name string) func(*html.Node) bool {
	return func(n *html.Node) bool { return hasClass(n, name) }
}

func hasClass(n *html.Node, name string) bool {
	for _, c := range strings.Fields(attr(n, "class")) {
		if c == name {
			return true
		}
	}
	return false
}

func attr(n *html.Node, key string) string {
	for _, a := range n.Attr {
		if a.Key == key {
			return a.Val
		}
	}
	return ""
}

// text returns what a reader reads of n, in one line.
func text(n *html.Node) string {
	var b strings.Builder
	for d := range n.Descendants() {
		if d.Type == html.TextNode {
			b.WriteString(d.Data + " ")
		}
	}
	return strings.Join(strings.Fields(b.String()), " ")
}

// first returns the text of the first element that matches.
func first(t *testing.T, n *html.Node, what string, match func(*html.Node) bool) string {
	t.Helper()
	all := find(n, match)
	if len(all) == 0 {
		t.Fatalf("no %s on the page", what)
	}
	return text(all[0])
}
