package page_test

import (
	"bytes"
	"compress/gzip"
	"io/fs"
	"os"
	"path"
	"regexp"
	"testing"

	"tankleaf.example/internal/compat"
	"tankleaf.example/internal/dataset"
	"tankleaf.example/internal/mix"
	"tankleaf.example/internal/page"
	"tankleaf.example/internal/sheet"
	"tankleaf.example/templates"
)

// demo makes up a publication of the demonstration office.
func demo(t *testing.T) *page.Publication {
	t.Helper()
	root := os.DirFS("../..")
	b, problems := dataset.Load(root)
	sheets, more := sheet.Load(root, b)
	if problems = append(problems, more...); problems.Stops() {
		t.Fatalf("the demo has problems:\n%s", problems)
	}
	x := mix.NewIndex(b)
	pub, problems := page.New(page.Inputs{Index: x, Judge: compat.New(x), Sheets: sheets, Messages: catalogues(t),
		Templates: []fs.FS{templates.FS}, Files: root})
	if problems.Stops() {
		t.Fatalf("the demo has problems:\n%s", problems)
	}
	return pub
}

// compressed is the size of a text as a server sends it, in bytes.
func compressed(t *testing.T, body []byte) int {
	t.Helper()
	var out bytes.Buffer
	z := gzip.NewWriter(&out)
	if _, err := z.Write(body); err != nil {
		t.Fatal(err)
	}
	if err := z.Close(); err != nil {
		t.Fatal(err)
	}
	return out.Len()
}

// loaded matches what a page loads by itself: style, icon and script, and the
// words that the script may load.
var loaded = regexp.MustCompile(`(?:<link rel="(?:stylesheet|icon)" href|<script src| data-words)="([^"?]+)`)

// mostHome is the most that the home page may be, with all it loads, in bytes
// compressed: a second and a half on a slow phone line of 400 kbit/s.
const mostHome = 60_000

func TestHomeIsLight(t *testing.T) {
	pub := demo(t)
	for _, home := range []string{"index.html", "es/index.html"} {
		html, err := pub.One(home)
		if err != nil {
			t.Fatal(err)
		}
		all := compressed(t, html)
		t.Logf("%s: %d", home, all)
		names := map[string]bool{}
		for _, m := range loaded.FindAllSubmatch(html, -1) {
			names[path.Join(path.Dir(home), string(m[1]))] = true
		}
		if len(names) != 5 {
			t.Errorf("%s loads %v", home, names)
		}
		for name := range names {
			body, err := pub.One(name)
			if err != nil {
				t.Fatal(err)
			}
			t.Logf("%s: %d", name, compressed(t, body))
			all += compressed(t, body)
		}
		if all > mostHome {
			t.Errorf("%s is %d bytes with all it loads, more than %d", home, all, mostHome)
		}
		t.Logf("%s with all it loads: %d", home, all)
	}
}
