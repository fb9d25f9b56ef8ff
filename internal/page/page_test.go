package page_test

import (
	"bytes"
	"flag"
	"os"
	"path/filepath"
	"reflect"
	"regexp"
	"slices"
	"strings"
	"testing"
	"testing/fstest"

	"github.com/google/go-cmp/cmp"
	"golang.org/x/net/html"

	"tankleaf.example/internal/mix"
	"tankleaf.example/internal/page"
)

var update = flag.Bool("update", false, "write golden files")

func TestFilesComeInOrderAndAlike(t *testing.T) {
	pub, _ := page.New(office(t))
	paths := pub.Paths()
	if !slices.IsSorted(paths) || len(slices.Compact(slices.Clone(paths))) != len(paths) {
		t.Error("paths are not sorted, each once")
	}
	var got []string
	for f, err := range pub.Files() {
		if err != nil {
			t.Fatal(err)
		}
		got = append(got, f.Path)
	}
	if diff := cmp.Diff(paths, got); diff != "" {
		t.Errorf("files come in another order (-announced +got)\n%s", diff)
	}
	again := publish(t, office(t))
	for name, body := range publish(t, office(t)) {
		if !bytes.Equal(again[name], body) {
			t.Errorf("%s differs between two builds", name)
		}
	}
}

func TestFilesStopWhenNobodyWantsMore(t *testing.T) {
	pub, _ := page.New(office(t))
	n := 0
	for range pub.Files() {
		if n++; n == 3 {
			break
		}
	}
	if n != 3 {
		t.Errorf("%d files", n)
	}
}

// TestOrderOfRecordsChangesNothing: a book read in another order prints the same.
func TestOrderOfRecordsChangesNothing(t *testing.T) {
	b := book(t)
	slices.Reverse(b.Products)
	slices.Reverse(b.Interactions)
	slices.Reverse(b.Observations)
	slices.Reverse(b.Sources)
	want, got := publish(t, office(t)), publish(t, inputs(t, b))
	for _, name := range []string{"products.html", "product/fizz.html", "together/acid--carbonate.html", "class/acid.html",
		"observations.html", "investigation/lids.html", "sources.html", "matrix.html", "unknown.html"} {
		if !bytes.Equal(want[name], got[name]) {
			t.Errorf("%s depends on the order of records", name)
		}
	}
}

func TestLanguagesHaveTheSamePaths(t *testing.T) {
	files := publish(t, office(t))
	own, other := 0, 0
	for name := range files {
		if !strings.HasSuffix(name, ".html") {
			continue
		}
		if inside, ok := strings.CutPrefix(name, "es/"); ok {
			other++
			if files[inside] == nil {
				t.Errorf("%s has no page in the office's own language", name)
			}
			continue
		}
		own++
		if files["es/"+name] == nil {
			t.Errorf("%s has no Spanish page", name)
		}
	}
	if own != other || own < 30 {
		t.Errorf("%d and %d pages", own, other)
	}
}

// TestGolden keeps the whole text of a few pages under eyes. Run with -update
// after a change and read the difference line by line.
func TestGolden(t *testing.T) {
	pin := regexp.MustCompile(`\?sha256=[0-9a-f]{8}`) // tells of other files
	files := publish(t, office(t))
	for _, name := range []string{"together/acid--carbonate.html", "es/product/dust.html", "data/verdicts.csv", "print-en.css"} {
		body := pin.ReplaceAll(files[name], nil)
		golden := filepath.Join("testdata", "golden", strings.ReplaceAll(name, "/", "-"))
		if *update {
			if err := os.MkdirAll(filepath.Dir(golden), 0o755); err != nil {
				t.Fatal(err)
			}
			if err := os.WriteFile(golden, body, 0o644); err != nil {
				t.Fatal(err)
			}
		}
		want, err := os.ReadFile(golden)
		if err != nil {
			t.Fatal(err)
		}
		if diff := cmp.Diff(strings.Split(string(want), "\n"), strings.Split(string(body), "\n")); diff != "" {
			t.Errorf("%s (-want +got)\n%s", name, diff)
		}
	}
}

// probe is text that would do harm if any place took it for anything but text.
const probe = `"'><img src=x onerror=alert(1)></title></svg><script>alert(2)</script>{{.}}`

// poison appends the probe to every text in a value: names, titles, statements,
// whatever an author may write. References, words of enumerations and what is
// parsed before it gets here (dates, rates) stay as they are.
func poison(v reflect.Value) int {
	n := 0
	switch v.Kind() {
	case reflect.Pointer:
		return poison(v.Elem())
	case reflect.Slice:
		for i := range v.Len() {
			n += poison(v.Index(i))
		}
	case reflect.Map:
		if texts, ok := v.Interface().(mix.Text); ok {
			for lang := range texts {
				texts[lang] += probe
				n++
			}
		}
	case reflect.Struct:
		for i := range v.NumField() {
			if f := v.Type().Field(i); f.IsExported() && !slices.Contains([]string{"At", "Type", "Link", "Photo", "Written"}, f.Name) {
				n += poison(v.Field(i))
			}
		}
	case reflect.String:
		if v.Type() == reflect.TypeFor[string]() {
			v.SetString(v.String() + probe)
			n++
		}
	}
	return n
}

// TestTextStaysText poisons every text of the book and reads all pages as a
// browser would.
func TestTextStaysText(t *testing.T) {
	in := office(t)
	if n := poison(reflect.ValueOf(in.Index.Book())); n < 80 {
		t.Fatalf("poisoned only %d texts", n)
	}
	in = inputs(t, in.Index.Book())
	in.Sheets = office(t).Sheets
	shown := 0
	for name, doc := range parsed(t, publish(t, in)) {
		harmless(t, doc)
		for _, n := range find(doc, func(n *html.Node) bool { return n.Data == "img" || n.Data == "script" && attr(n, "src") == "" }) {
			t.Errorf("%s: the probe became an element %s", name, n.Data)
		}
		shown += strings.Count(text(doc), "<script>alert(2)</script>")
	}
	if shown < 500 {
		t.Errorf("the probe is shown as text only %d times", shown)
	}
}

func TestCSSStringsCannotEnd(t *testing.T) {
	in := office(t)
	in.Index.Book().Site.Office = mix.Text{"en": `O"; } body { display: none } /* ` + "\n\\"}
	css := string(publish(t, in)["print-en.css"])
	if strings.Contains(css, "display: none") || strings.Count(css, `"`) != 8 {
		t.Errorf("text of the office got out of its string:\n%s", css)
	}
}

func TestOfficeLaysItsTemplatesOver(t *testing.T) {
	in := office(t)
	in.Templates = append(in.Templates, fstest.MapFS{
		"404.html":          {Data: []byte(`{{define "main"}}<h1>Gone fishing</h1>{{end}}`)},
		"styles/own.css":    {Data: []byte("h1 { color: teal }")},
		"styles/readme.txt": {Data: []byte("not a style")},
	})
	files := publish(t, in)
	if !bytes.Contains(files["404.html"], []byte("<h1>Gone fishing</h1>")) {
		t.Error("the office's own page is not used")
	}
	if css := string(files["style.css"]); !strings.Contains(css, "color: teal") || strings.Contains(css, "not a style") {
		t.Error("the office's own style is not joined")
	}
	in.Templates = append(in.Templates, fstest.MapFS{"matrix.html": {Data: []byte(`{{define "main"}}{{if}}`)}})
	if _, problems := page.New(in); !problems.Stops() || !strings.Contains(problems.String(), "templates/matrix.html") {
		t.Errorf("a broken template passes: %v", problems)
	}
}

func TestProblems(t *testing.T) {
	for _, c := range []struct {
		why  string
		harm func(*page.Inputs)
		want string
	}{
		{"a language without a catalogue", func(in *page.Inputs) { in.Index.Book().Site.Languages = []mix.Lang{"en", "fr"} }, `no messages in language "fr"`},
		{"a photograph that is not there", func(in *page.Inputs) {
			in.Index.Book().Observations[0].Photo = "photos/gone.jpg"
			in.Files = os.DirFS("testdata/office")
		}, `no file "data/photos/gone.jpg"`},
		{"a photograph and no folder", func(in *page.Inputs) { in.Index.Book().Observations[0].Photo = "a.jpg" }, `no folder to read "a.jpg" from`},
	} {
		in := office(t)
		c.harm(&in)
		if _, problems := page.New(in); !problems.Stops() || !strings.Contains(problems.String(), c.want) {
			t.Errorf("%s: got %v", c.why, problems)
		}
	}
}

func TestPhotographsArePublished(t *testing.T) {
	in := office(t)
	in.Files = fstest.MapFS{"data/photos/a.jpg": {Data: []byte("jpeg")}}
	in.Index.Book().Observations[0].Photo = "/photos/../photos/a.jpg"
	files := publish(t, in)
	if string(files["photos/a.jpg"]) != "jpeg" {
		t.Error("the photograph is not published")
	}
	doc := parsed(t, files)["es/observation/fb-1.html"]
	if img := find(doc, tag("img")); len(img) != 1 || attr(img[0], "src") != "../../photos/a.jpg" || attr(img[0], "alt") == "" {
		t.Error("the photograph is not shown with its words")
	}
}

func TestCanonicalAddress(t *testing.T) {
	in := office(t)
	in.BaseURL = "https://example.org/tank/"
	pages := parsed(t, publish(t, in))
	for name, want := range map[string]string{"index.html": "https://example.org/tank/", "es/matrix.html": "https://example.org/tank/es/matrix.html"} {
		links := find(pages[name], func(n *html.Node) bool { return attr(n, "rel") == "canonical" })
		if len(links) != 1 || attr(links[0], "href") != want {
			t.Errorf("%s: canonical link is not %s", name, want)
		}
	}
}
