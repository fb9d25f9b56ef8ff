package site_test

import (
	"bytes"
	"io/fs"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"tankleaf.example/internal/office"
	"tankleaf.example/internal/site"
)

// generatedInto is where the generated office is published for `make site-check`.
const generatedInto = "TANKLEAF_GENERATED_INTO"

// generated is smaller than the office of other tests, and says as much of each
// product.
var generated = office.Size{Products: 24, Classes: 20, Interactions: 40, Notices: 8, Observations: 150}

// TestGeneratedOffice publishes an office that nobody wrote, which the audit looks
// through page by page, and looks for what the audit rests on: a page that it did
// not see would not have passed it.
func TestGeneratedOffice(t *testing.T) {
	out := os.Getenv(generatedInto)
	if out == "" {
		out = filepath.Join(t.TempDir(), "public")
	}
	o, problems := site.OfficeOf(office.Make(generated, 1))
	if problems.Stops() {
		t.Fatal(problems)
	}
	made, problems, err := site.Build(o, site.Options{Out: out, First: true})
	if err != nil || problems.Stops() {
		t.Fatalf("%v\n%s", err, problems)
	}
	pages := 0
	err = fs.WalkDir(os.DirFS(out), ".", func(name string, d fs.DirEntry, err error) error {
		if err != nil || d.IsDir() || !strings.HasSuffix(name, ".html") {
			return err
		}
		pages++
		body, err := os.ReadFile(filepath.Join(out, name))
		for _, part := range []string{`data-caution="general"`, `<html lang="`, "<title>", "<h1"} {
			if n := bytes.Count(body, []byte(part)); n != 1 {
				t.Errorf("%s has %s %d times", name, part, n)
			}
		}
		return err
	})
	if err != nil || pages != made.Pages || pages < 200 {
		t.Errorf("%d pages found, %d published, %v", pages, made.Pages, err)
	}
	t.Logf("%d pages", pages)
}
