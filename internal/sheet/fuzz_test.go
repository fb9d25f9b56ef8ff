package sheet_test

import (
	"path/filepath"
	"strings"
	"testing"
	"unicode/utf8"

	"github.com/rogpeppe/go-internal/txtar"

	"tankleaf.example/internal/sheet"
)

// FuzzSheet reads anything as a sheet: no panic, no problem outside of the file,
// no markup of the author's own in what is rendered, and no block on the page
// that was not read.
func FuzzSheet(f *testing.F) {
	for _, in := range hostile {
		f.Add(head + in)
	}
	names, err := filepath.Glob("testdata/problems/*.txtar")
	if err != nil || len(names) == 0 {
		f.Fatalf("no seeds: %v", err)
	}
	for _, name := range names {
		ar, err := txtar.ParseFile(name)
		if err != nil {
			f.Fatal(err)
		}
		f.Add(string(ar.Files[0].Data))
	}
	f.Fuzz(func(t *testing.T, in string) {
		sheets, problems := load(map[string]string{"content/a.md": in})
		lines := strings.Split(strings.ReplaceAll(strings.TrimPrefix(in, "\ufeff"), "\r\n", "\n"), "\n")
		for _, p := range problems {
			switch at := p.Pos; {
			case at.Line == 0 && at.Col == 0:
			case at.Line < 1 || at.Line > len(lines):
				t.Errorf("line %d of %d: %s", at.Line, len(lines), p.Msg)
			case at.Col < 1 || at.Col > utf8.RuneCountInString(lines[at.Line-1])+1:
				t.Errorf("line %d %q has no column %d: %s", at.Line, lines[at.Line-1], at.Col, p.Msg)
			}
		}
		for _, s := range sheets {
			out := body(t, s)
			safe(t, in, out)
			if got := strings.Count(out, "{{") - strings.Count(in, "{{"); got > len(s.Blocks) {
				t.Errorf("%d blocks drawn, %d read", got, len(s.Blocks))
			}
		}
		if len(sheets) > 0 && !problems.Stops() && sheets[0].Title == "" {
			t.Error("a sheet without a title was let through")
		}
	})
}

// TestLoadSeesLoneFiles keeps the fuzz target honest: a sound sheet does come
// back with its title.
func TestLoadSeesLoneFiles(t *testing.T) {
	if s := fine(t, "Text.\n"); s.Title != "A sheet" || s.Topic != sheet.Water || s.Lang != "en" {
		t.Errorf("read %+v", s)
	}
}
