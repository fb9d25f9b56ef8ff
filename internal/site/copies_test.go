package site_test

import (
	"bytes"
	"crypto/sha256"
	"encoding/json"
	"fmt"
	"maps"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	"tankleaf.example/internal/site"
)

// fixture is a folder with the small office of the tests of pages, to be changed
// at will.
func fixture(t *testing.T) string {
	t.Helper()
	dir := filepath.Join(t.TempDir(), "office")
	if err := os.CopyFS(dir, os.DirFS("../page/testdata/office")); err != nil {
		t.Fatal(err)
	}
	return dir
}

// edit replaces a text in a file that must have it.
func edit(t *testing.T, file, old, new string) {
	t.Helper()
	text, err := os.ReadFile(file)
	if err != nil || !bytes.Contains(text, []byte(old)) {
		t.Fatalf("%s has no %q: %v", file, old, err)
	}
	if err := os.WriteFile(file, bytes.Replace(text, []byte(old), []byte(new), 1), 0o644); err != nil {
		t.Fatal(err)
	}
}

// build publishes an office.
func build(t *testing.T, dir, out string) {
	t.Helper()
	office, problems := site.Read(os.DirFS(dir))
	if problems.Stops() {
		t.Fatalf("the fixture has problems:\n%s", problems)
	}
	if _, problems, err := site.Build(office, site.Options{Out: out}); err != nil || problems.Stops() {
		t.Fatalf("%v\n%s", err, problems)
	}
}

// copyOf reads what the script knows of its publication.
func copyOf(t *testing.T, out string) site.Copy {
	t.Helper()
	text, err := os.ReadFile(filepath.Join(out, "offline.js"))
	if err != nil {
		t.Fatal(err)
	}
	head, _, _ := bytes.Cut(text, []byte(";\n"))
	var c site.Copy
	if err := json.Unmarshal(bytes.TrimPrefix(head, []byte("const tankleafCopy=")), &c); err != nil {
		t.Fatal(err)
	}
	return c
}

// lines reads a list and holds it to its sum.
func lines(t *testing.T, out, name, sum string) []string {
	t.Helper()
	text, err := os.ReadFile(filepath.Join(out, name))
	if err != nil {
		t.Fatal(err)
	}
	if got := fmt.Sprintf("%x", sha256.Sum256(text)); got != sum {
		t.Errorf("%s has the sum %s, the script wants %s", name, got, sum)
	}
	return strings.Split(strings.TrimSpace(string(text)), "\n")
}

// TestCopiesNameWhatIsPublished: the lists are the manifest, cut into parts.
func TestCopiesNameWhatIsPublished(t *testing.T) {
	for _, c := range []struct {
		why   string
		most  int
		large bool
	}{{"kept whole", 4000, false}, {"large", 10, true}} {
		t.Run(c.why, func(t *testing.T) {
			defer site.LimitCopies(c.most)()
			out := filepath.Join(t.TempDir(), "public")
			build(t, fixture(t), out)
			info := copyOf(t, out)
			if (len(info.Rest) > 0) != c.large || len(info.Editions) != 2 {
				t.Fatalf("%d lists of others, %d editions", len(info.Rest), len(info.Editions))
			}
			got := map[string]bool{}
			for _, e := range info.Editions {
				for _, line := range lines(t, out, e.List, e.Sum) {
					got[line] = true
				}
			}
			core := len(got)
			for n, sum := range info.Rest {
				for _, line := range lines(t, out, fmt.Sprintf("offline/rest-%d.txt", n), sum) {
					got[line] = true
				}
			}
			manifest, err := os.ReadFile(filepath.Join(out, site.ManifestName))
			if err != nil {
				t.Fatal(err)
			}
			want := slices.DeleteFunc(strings.Split(strings.TrimSpace(string(manifest)), "\n"), func(line string) bool {
				return strings.Contains(line, "  offline/") || strings.HasSuffix(line, "  offline.js")
			})
			if diff := cmp.Diff(want, slices.SortedFunc(maps.Keys(got), func(a, b string) int { return strings.Compare(a[66:], b[66:]) })); diff != "" {
				t.Errorf("the lists are not the manifest (-manifest +lists)\n%s", diff)
			}
			if c.large && core*2 > len(want) {
				t.Errorf("the core is %d of %d files", core, len(want))
			}
		})
	}
}

// TestCopiesHaveTheirCore: what answers a question about any mix is kept whatever
// else is not.
func TestCopiesHaveTheirCore(t *testing.T) {
	defer site.LimitCopies(0)()
	out := filepath.Join(t.TempDir(), "public")
	build(t, fixture(t), out)
	all := strings.Join(lines(t, out, copyOf(t, out).Editions[1].List, copyOf(t, out).Editions[1].Sum), "\n") + "\n"
	for _, name := range []string{"es/index.html", "es/matrix.html", "es/safety.html", "es/planner.html", "es/find.html", "es/offline.html",
		"find/es/root.js", "style.css", "site.js", "words-es.js", "print-es.css", "emblem.svg", "tool/planner.js", "tool/core.js", "es/tool/words.js"} {
		if !strings.Contains(all, "  "+name+"\n") {
			t.Errorf("%s is not kept", name)
		}
	}
	for _, name := range []string{"index.html", "words-en.js", "find/en/root.js", "es/product/fizz.html"} {
		if strings.Contains(all, "  "+name+"\n") {
			t.Errorf("%s is kept", name)
		}
	}
}

// TestCopiesTellPublicationsApart: the script is the same for the same files, and
// another for any other.
func TestCopiesTellPublicationsApart(t *testing.T) {
	dir, out := fixture(t), t.TempDir()
	for _, name := range []string{"a", "b"} {
		build(t, dir, filepath.Join(out, name))
	}
	edit(t, filepath.Join(dir, "data/products.yaml"), "Burns mildew off.", "Burns mildew right off.")
	build(t, dir, filepath.Join(out, "c"))
	a, b, c := copyOf(t, filepath.Join(out, "a")), copyOf(t, filepath.Join(out, "b")), copyOf(t, filepath.Join(out, "c"))
	if a.Version != b.Version || a.Version == c.Version || len(a.Version) != 64 {
		t.Errorf("versions %q, %q and, changed, %q", a.Version, b.Version, c.Version)
	}
}
