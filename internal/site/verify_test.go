package site_test

import (
	"bytes"
	"context"
	"net/http"
	"net/http/httptest"
	"net/url"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	"tankleaf.example/internal/site"
)

// published puts version v into a new folder.
func published(t *testing.T, v int) string {
	t.Helper()
	out := filepath.Join(t.TempDir(), "public")
	if err := publishVersion(out, v); err != nil {
		t.Fatal(err)
	}
	return out
}

func sumsOf(t *testing.T, out string) []site.Sum {
	t.Helper()
	sums, err := site.ReadManifest(strings.NewReader(readFile(t, filepath.Join(out, site.ManifestName))))
	if err != nil {
		t.Fatal(err)
	}
	return sums
}

// TestManifestIsInOrder publishes files in another order than that of their paths.
func TestManifestIsInOrder(t *testing.T) {
	sums := sumsOf(t, published(t, 1))
	if !slices.IsSortedFunc(sums, func(a, b site.Sum) int { return strings.Compare(a.Path, b.Path) }) || len(sums) != filesPerVersion {
		t.Errorf("%d files, want %d in order: %v", len(sums), filesPerVersion, sums)
	}
}

// spoiled are the ways a copy may differ. Each names what verify must say of a
// folder, and of the same folder behind a server.
var spoiled = []struct {
	why            string
	spoil          func(t *testing.T, dir string)
	folder, served string
}{
	{"nothing was changed", func(*testing.T, string) {}, "", ""},
	{"a copy may lack the marker", func(t *testing.T, dir string) { remove(t, filepath.Join(dir, site.Marker)) }, "", ""},
	{"one letter differs", func(t *testing.T, dir string) { write(t, filepath.Join(dir, "d1/f1.html"), "version 1, file I\n") },
		"d1/f1.html: is not what was published\n", "d1/f1.html: is not what was published\n"},
	{"a copy broke off", func(t *testing.T, dir string) { write(t, filepath.Join(dir, "d0/f0.html"), "vers") },
		"d0/f0.html: is not what was published\n", "d0/f0.html: is not what was published\n"},
	{"a file was left out", func(t *testing.T, dir string) { remove(t, filepath.Join(dir, "d2/f2.html")) },
		"d2/f2.html: is missing\n", "d2/f2.html: is missing\n"},
	{"somebody added a page, which no server lists", func(t *testing.T, dir string) { write(t, filepath.Join(dir, "d3/more.html"), "x") },
		"d3/more.html: was not published with the site\n", ""},
	{"a folder stands for a file", func(t *testing.T, dir string) {
		remove(t, filepath.Join(dir, "d2/f2.html"))
		mkdir(t, filepath.Join(dir, "d2/f2.html"))
	}, "d2/f2.html: is missing\n", "d2/f2.html: is missing\n"},
	{"all at once", func(t *testing.T, dir string) {
		write(t, filepath.Join(dir, "d1/f1.html"), "x")
		write(t, filepath.Join(dir, "d0/x"), "x")
		remove(t, filepath.Join(dir, "d2/f2.html"))
	}, "d0/x: was not published with the site\nd1/f1.html: is not what was published\nd2/f2.html: is missing\n",
		"d1/f1.html: is not what was published\nd2/f2.html: is missing\n"},
	{"the manifest was left out", func(t *testing.T, dir string) { remove(t, filepath.Join(dir, site.ManifestName)) },
		"SHA256SUMS: is missing\n", "SHA256SUMS: is missing\n"},
}

// firstLines drops the hints.
func firstLines(v site.Verified) string {
	var b strings.Builder
	for _, p := range v.Problems {
		b.WriteString(p.Lines()[0] + "\n")
	}
	return b.String()
}

func TestVerifyFolder(t *testing.T) {
	for _, c := range spoiled {
		out := published(t, 1)
		c.spoil(t, out)
		v, err := site.VerifyFolder(os.DirFS(out), nil)
		if err != nil {
			t.Errorf("%s: %v", c.why, err)
		}
		if diff := cmp.Diff(c.folder, firstLines(v)); diff != "" {
			t.Errorf("%s:\n%s", c.why, diff)
		}
	}
}

// serveFolder serves a folder below /mixes/ as a plain server does, without
// lists of files.
func serveFolder(t *testing.T, dir string) *url.URL {
	t.Helper()
	mux := http.NewServeMux()
	mux.HandleFunc("/mixes/", func(w http.ResponseWriter, r *http.Request) {
		name := filepath.Join(dir, strings.TrimPrefix(r.URL.Path, "/mixes/"))
		body, err := os.ReadFile(name)
		if err != nil {
			http.NotFound(w, r)
			return
		}
		_, _ = w.Write(body)
	})
	s := httptest.NewServer(mux)
	t.Cleanup(s.Close)
	u, err := url.Parse(s.URL + "/mixes")
	if err != nil {
		t.Fatal(err)
	}
	return u
}

func TestVerifyServed(t *testing.T) {
	for _, c := range spoiled {
		out := published(t, 1)
		c.spoil(t, out)
		v, err := site.VerifyServed(context.Background(), serveFolder(t, out), nil)
		if err != nil {
			t.Errorf("%s: %v", c.why, err)
		}
		if diff := cmp.Diff(c.served, firstLines(v)); diff != "" {
			t.Errorf("%s:\n%s", c.why, diff)
		}
	}
}

// TestVerifyWithAnotherManifest is about a copy that agrees with itself and is
// not what the office has published since.
func TestVerifyWithAnotherManifest(t *testing.T) {
	v, err := site.VerifyFolder(os.DirFS(published(t, 1)), sumsOf(t, published(t, 2)))
	if err != nil {
		t.Fatal(err)
	}
	if v.Files != filesPerVersion || v.Same != 0 || len(v.Problems) != filesPerVersion+1 {
		t.Errorf("%d of %d files are the same and %d problems; want none the same, and the manifest named too", v.Same, v.Files, len(v.Problems))
	}
	if got := v.Problems[0].Lines()[0]; got != "SHA256SUMS: is that of another publication" {
		t.Errorf("got %q first", got)
	}
}

// TestVerifyCannotTell is about comparisons that end in an error, never in a
// report that something is the same or missing.
func TestVerifyCannotTell(t *testing.T) {
	for _, c := range []struct {
		why    string
		answer http.HandlerFunc
		want   string
	}{
		{"the server fails", func(w http.ResponseWriter, _ *http.Request) { http.Error(w, "x", http.StatusInternalServerError) }, "500"},
		{"the server wants a password", func(w http.ResponseWriter, _ *http.Request) { w.WriteHeader(http.StatusUnauthorized) }, "401"},
		{"the server sends us elsewhere", func(w http.ResponseWriter, _ *http.Request) {
			w.Header().Set("Location", "http://127.0.0.1:1/")
			w.WriteHeader(http.StatusFound)
		}, "302"},
		{"the answer breaks off", func(w http.ResponseWriter, _ *http.Request) {
			w.Header().Set("Content-Length", "100")
			_, _ = w.Write([]byte("short"))
		}, "unexpected EOF"},
	} {
		out := published(t, 1)
		for _, only := range []string{"", "/" + versionFile(7)} { // all that is asked for, or one file
			s := httptest.NewServer(http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
				if only == "" || r.URL.Path == only {
					c.answer(w, r)
					return
				}
				http.ServeFile(w, r, filepath.Join(out, r.URL.Path))
			}))
			base, _ := url.Parse(s.URL)
			v, err := site.VerifyServed(context.Background(), base, sumsOf(t, out))
			s.Close()
			if err == nil || !strings.Contains(err.Error(), c.want) || only == "" && v.Same != 0 || len(v.Problems) != 0 {
				t.Errorf("%s %s: got %v, %d files the same and problems %v, want an error with %q", c.why, only, err, v.Same, v.Problems, c.want)
			}
		}
	}
}

func TestReadManifestRefuses(t *testing.T) {
	sum := strings.Repeat("ab", 32)
	for _, c := range []struct{ text, why string }{
		{"", "it names nothing"},
		{sum + "  index.html\n" + sum + "  index.html\n", "one path stands twice"},
		{sum + " index.html\n", "one space is none of ours"},
		{sum[1:] + "  index.html\n", "the digest is short"},
		{"z" + sum[1:] + "  index.html\n", "the digest has a letter that is none"},
		{sum + "  ../index.html\n", "the path leaves the site"},
		{sum + "  /etc/passwd\n", "the path is absolute"},
		{sum + "  a\\b\n", "a backslash leaves the site on Windows"},
		{sum + "  " + strings.Repeat("x", 70000) + "\n", "the line is endless"},
	} {
		if sums, err := site.ReadManifest(bytes.NewReader([]byte(c.text))); err == nil {
			t.Errorf("%s: read %v", c.why, sums)
		}
	}
}

// FuzzReadManifest holds that no path that is read leaves the site.
func FuzzReadManifest(f *testing.F) {
	f.Add(strings.Repeat("ab", 32) + "  index.html\n")
	f.Add(strings.Repeat("AB", 32) + "  class/ácido.html\n")
	f.Add("  \n")
	f.Fuzz(func(t *testing.T, text string) {
		sums, err := site.ReadManifest(strings.NewReader(text))
		if err != nil {
			return
		}
		for _, s := range sums {
			if strings.HasPrefix(s.Path, "/") || strings.Contains("/"+s.Path+"/", "/../") {
				t.Errorf("path %q leaves the site", s.Path)
			}
		}
	})
}

func mkdir(t *testing.T, name string) {
	t.Helper()
	if err := os.Mkdir(name, 0o755); err != nil {
		t.Fatal(err)
	}
}
