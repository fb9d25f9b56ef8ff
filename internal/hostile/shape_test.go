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
	"testing/fstest"

	"github.com/google/go-cmp/cmp"
	"golang.org/x/net/html"

	"tankleaf.example/internal/site"
)

// build publishes an office and returns its files by path.
func build(t testing.TB, office fs.FS) map[string][]byte {
	t.Helper()
	return buildInto(t, office, filepath.Join(t.TempDir(), "public"))
}

func buildInto(t testing.TB, office fs.FS, out string) map[string][]byte {
	t.Helper()
	publish(t, office, out)
	files := map[string][]byte{}
	err := fs.WalkDir(os.DirFS(out), ".", func(name string, d fs.DirEntry, err error) error {
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

// buildAgain publishes what an office said a month before, then the office over
// it: the verdict of its statement softened, and the review tells why.
func buildAgain(t testing.TB, office fstest.MapFS) map[string][]byte {
	t.Helper()
	out := filepath.Join(t.TempDir(), "public")
	publish(t, before(t, office), out)
	return buildInto(t, office, out)
}

func publish(t testing.TB, office fs.FS, out string) {
	t.Helper()
	o, problems := site.Read(office)
	if problems.Stops() {
		t.Fatalf("the office has problems:\n%s", problems)
	}
	_, problems, err := site.Build(o, site.Options{Out: out})
	if err != nil || problems.Stops() {
		t.Fatalf("not published: %v\n%s", err, problems)
	}
}

// before returns the office without its sheets and reviews, a month younger and
// with a statement that asked for more care.
func before(t testing.TB, office fstest.MapFS) fstest.MapFS {
	t.Helper()
	changed, earlier := 0, fstest.MapFS{}
	for name, f := range office {
		body := f.Data
		switch {
		case strings.HasPrefix(name, "content/"), strings.HasPrefix(name, "data/reviews/"):
			continue
		case name == "data/site.yaml":
			body = bytes.Replace(body, []byte("published: 2026-06-30"), []byte("published: 2026-05-31"), 1)
		case strings.HasPrefix(name, "data/interactions/"):
			body = bytes.Replace(body, []byte("verdict: steps"), []byte("verdict: apart"), 1)
		}
		if !bytes.Equal(body, f.Data) {
			changed++
		}
		earlier[name] = &fstest.MapFile{Data: body}
	}
	if changed < 2 {
		t.Fatalf("%d files of the office before differ, want the date and the statements", changed)
	}
	return earlier
}

// TestTextsStayTexts builds an office with hostile texts and its twin with
// harmless ones. Every page must have the same elements with the same attributes
// in the same order, and every text must be among the words of some page.
func TestTextsStayTexts(t *testing.T) {
	for n, d := range dealings(t) {
		t.Run(fmt.Sprint(n), func(t *testing.T) {
			t.Parallel()
			want := map[string]string{} // text → field
			bad := buildAgain(t, makeOffice(t, d.copies, func(k int, field string) string {
				text := d.hostile()(k, field)
				if k >= 0 {
					want[squeeze(text)] = field
				}
				return text
			}))
			sameShape(t, bad, buildAgain(t, makeOffice(t, d.copies, d.harmless())))
			shown := shownWords(t, bad)
			for text, field := range want {
				switch there := strings.Contains(shown, text); {
				case unseen[field] == "" && !there:
					t.Errorf("%q is shown nowhere", text)
				case unseen[field] != "" && there:
					t.Errorf("%s is among the fields that no page shows, and a page shows it", field)
				}
			}
			if !soak {
				everyPayload(t, shown)
			}
		})
	}
}

// everyPayload fails for each payload that the words of the pages lack.
func everyPayload(t *testing.T, shown string) {
	t.Helper()
	for _, text := range allTexts() {
		if !strings.Contains(shown, squeeze(text)) {
			t.Errorf("no field that is shown holds %q", text)
		}
	}
}

func sameShape(t *testing.T, bad, good map[string][]byte) {
	t.Helper()
	if diff := cmp.Diff(paths(good), paths(bad)); diff != "" {
		t.Errorf("other files:\n%s", diff)
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

// paths lists what is published but for the index of the search, which is cut into as
// many parts as the words of the office fill.
func paths(files map[string][]byte) []string {
	all := slices.Sorted(maps.Keys(files))
	return slices.DeleteFunc(all, func(name string) bool { return strings.HasPrefix(name, "find/") })
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

// sum is that of a style sheet or script, some of which hold words of the office.
var sum = regexp.MustCompile(`\?sha256=[0-9a-f]+$`)

var anchor = regexp.MustCompile(`^[a-z0-9-]*$`)

// address returns what is compared of an address or an id.
func address(t testing.TB, a html.Attribute) string {
	t.Helper()
	path, after, _ := strings.Cut(a.Val, "#")
	path = sum.ReplaceAllString(path, "")
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
	"observation.readings[].note":         "the record beside the drawing shows it",
	"recipes.recipes[].products[].batch":  "a batch is of a jar that was run",
	"tools.tools[].name":                  "named where a dose is drawn with it",
	"tools.tools[].sources[].place":       "named where a dose is drawn with it",
	"trials.trials[].aid.batch":           "a batch is of a jar that was run",
	"trials.trials[].products[].batch":    "a batch is of a jar that was run",
	"trials.trials[].substitutes[].batch": "a batch is of a jar that was run",
	"waters.waters[].made_from[].salt":    "no page tells how a water is made yet",
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
