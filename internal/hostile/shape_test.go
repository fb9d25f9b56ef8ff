package hostile_test

import (
	"bytes"
	"fmt"
	"io/fs"
	"maps"
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"strings"
	"testing"
	"unicode"

	"golang.org/x/net/html"

	"tankleaf.example/internal/site"
)

// batch is how many payloads share one office. What an office has once holds all
// of them.
const batch = 40

// batches cuts the payloads into offices.
func batches() [][]payload {
	return slices.Collect(slices.Chunk(payloads(), batch))
}

// hostile makes every text of an office a payload; each says in which field it
// stands, so that its way to the page can be followed.
func hostile(all []payload) texts {
	return func(k int, field string) string {
		if k >= 0 {
			return mark(k, field, all[k].text)
		}
		var joined []string
		for k, p := range all {
			joined = append(joined, mark(k, field, p.text))
		}
		return strings.Join(joined, " ")
	}
}

// mark puts a number before the text, so that hostile and harmless texts sort
// alike, and the field behind.
func mark(k int, field, text string) string { return fmt.Sprintf("%03d %s ~%s", k, text, field) }

// harmless is an office of the same shape: the same texts with letters for
// whatever means something to a browser.
func harmless(all []payload) texts {
	tame := slices.Clone(all)
	for i := range tame {
		tame[i].text = strings.Map(func(r rune) rune {
			if unicode.IsLetter(r) || unicode.IsDigit(r) || r == ' ' {
				return r
			}
			return 'x'
		}, tame[i].text)
	}
	return hostile(tame)
}

// build publishes an office and returns its files by path.
func build(t testing.TB, office fs.FS) map[string][]byte {
	t.Helper()
	o, problems := site.Read(office)
	if problems.Stops() {
		t.Fatalf("the office has problems:\n%s", problems)
	}
	out := filepath.Join(t.TempDir(), "public")
	_, problems, err := site.Build(o, site.Options{Out: out})
	if err != nil || problems.Stops() {
		t.Fatalf("not published: %v\n%s", err, problems)
	}
	files := map[string][]byte{}
	err = fs.WalkDir(os.DirFS(out), ".", func(name string, d fs.DirEntry, err error) error {
		if err != nil || d.IsDir() {
			return err
		}
		files[name], err = os.ReadFile(filepath.Join(out, name))
		return err
	})
	if err != nil {
		t.Fatal(err)
	}
	return files
}

// TestTextsStayTexts builds an office with hostile texts and its twin with
// harmless ones. Every page must have the same elements with the same attributes
// in the same order, and every text must be among the words of some page.
func TestTextsStayTexts(t *testing.T) {
	for n, all := range batches() {
		t.Run(fmt.Sprint(n), func(t *testing.T) {
			t.Parallel()
			want := map[string]string{} // text → field
			bad := build(t, makeOffice(t, len(all), func(k int, field string) string {
				text := hostile(all)(k, field)
				if k >= 0 {
					want[squeeze(text)] = field
				}
				return text
			}))
			sameShape(t, bad, build(t, makeOffice(t, len(all), harmless(all))))
			shown := shownWords(t, bad)
			for text, field := range want {
				if unseen[field] == "" && !strings.Contains(shown, text) {
					t.Errorf("%q is shown nowhere", text)
				}
			}
		})
	}
}

func sameShape(t *testing.T, bad, good map[string][]byte) {
	t.Helper()
	if a, b := slices.Sorted(maps.Keys(bad)), slices.Sorted(maps.Keys(good)); !slices.Equal(a, b) {
		t.Errorf("%d files, want %d", len(a), len(b))
	}
	for name, body := range bad {
		if !strings.HasSuffix(name, ".html") {
			continue
		}
		if at := difference(shape(t, body), shape(t, good[name])); at != "" {
			t.Errorf("%s differs in shape: %s", name, at)
		}
	}
}

func difference(a, b []string) string {
	for i := range min(len(a), len(b)) {
		if a[i] != b[i] {
			return fmt.Sprintf("element %d is %s, want %s", i, a[i], b[i])
		}
	}
	if len(a) != len(b) {
		return fmt.Sprintf("%d elements, want %d", len(a), len(b))
	}
	return ""
}

// addresses are attributes whose values the shape holds too: where they lead must
// not depend on texts. What follows a # may: it is made of letters, digits and
// hyphens.
var addresses = []string{"href", "src", "srcset", "action", "data", "id", "class", "content-security-policy", "rel", "http-equiv", "for", "name", "type"}

var anchor = regexp.MustCompile(`^[a-z0-9-]*$`)

// address returns what is compared of an address or an id.
func address(t testing.TB, a html.Attribute) string {
	t.Helper()
	path, after, _ := strings.Cut(a.Val, "#")
	if a.Key == "id" {
		path, after = "", a.Val
	}
	if !anchor.MatchString(after) {
		t.Errorf("%s=%q is made of a text", a.Key, a.Val)
	}
	return path
}

// shape lists the elements of a page with their attributes. Inside listings of
// records only their being spans counts.
func shape(t testing.TB, body []byte) []string {
	t.Helper()
	doc, err := html.Parse(bytes.NewReader(body))
	if err != nil {
		t.Fatal(err)
	}
	var all []string
	for n := range doc.Descendants() {
		if n.Type != html.ElementNode {
			continue
		}
		if listed(n) {
			if n.Data != "span" || len(n.Attr) > 1 || len(n.Attr) == 1 && n.Attr[0].Key != "class" {
				t.Errorf("a listing holds <%s %v>", n.Data, n.Attr)
			}
			continue
		}
		line := n.Data
		for _, a := range n.Attr {
			line += " " + a.Key
			if slices.Contains(addresses, a.Key) {
				line += "=" + address(t, a)
			}
		}
		all = append(all, line)
	}
	return all
}

// listed reports whether a node stands in a listing and is not the code element
// itself.
func listed(n *html.Node) bool {
	for up := n.Parent; up != nil; up = up.Parent {
		if up.Data == "pre" {
			return n.Data != "code" || n.Parent != up
		}
	}
	return false
}

// unseen are fields that no page shows, with why.
var unseen = map[string]string{
	"observation.readings[].note":                  "the record beside the drawing shows it",
	"order.disputes[].positions[].says":            "no page tells of the order yet",
	"order.disputes[].positions[].sources[].place": "no page tells of the order yet",
	"order.disputes[].question":                    "no page tells of the order yet",
	"order.order[].do":                             "no page tells of the order yet",
	"order.order[].name":                           "no page tells of the order yet",
	"order.order[].sources[].place":                "no page tells of the order yet",
	"order.sequences[].name":                       "no page tells of the order yet",
	"order.sequences[].note":                       "no page tells of the order yet",
	"order.sequences[].sources[].place":            "no page tells of the order yet",
	"order.sequences[].steps[].do":                 "no page tells of the order yet",
	"order.sequences[].steps[].name":               "no page tells of the order yet",
	"reviews.reviews[].because":                    "shown beside the change it explains, and a first publication changes nothing",
	"reviews.reviews[].sources[].place":            "shown beside the change it explains, and a first publication changes nothing",
	"recipes.recipes[].products[].batch":           "a batch is of a jar that was run",
	"tools.tools[].name":                           "named where a dose is drawn with it",
	"tools.tools[].sources[].place":                "named where a dose is drawn with it",
	"waters.waters[].made_from[].salt":             "no page tells how a water is made yet",
}

func squeeze(s string) string { return strings.Join(strings.Fields(s), " ") }

// shownWords returns the words of all pages.
func shownWords(t testing.TB, files map[string][]byte) string {
	t.Helper()
	var all strings.Builder
	for name, body := range files {
		if !strings.HasSuffix(name, ".html") {
			continue
		}
		doc, err := html.Parse(bytes.NewReader(body))
		if err != nil {
			t.Fatal(err)
		}
		for n := range doc.Descendants() {
			if n.Type == html.TextNode && !listed(n) {
				all.WriteString(squeeze(n.Data) + "\n")
			}
		}
	}
	return all.String()
}
