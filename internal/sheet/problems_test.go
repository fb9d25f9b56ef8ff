package sheet_test

import (
	"flag"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/rogpeppe/go-internal/txtar"
)

var update = flag.Bool("update", false, "rewrite the wanted parts of testdata")

// TestProblems reads each archive of testdata/problems: files of an office, and
// want, the exact lines that an author sees. The archive's comment says what is
// wrong in words, for the catalogue.
func TestProblems(t *testing.T) {
	names, err := filepath.Glob("testdata/problems/sheet_*.txtar")
	if err != nil || len(names) < 20 {
		t.Fatalf("found %d archives, error %v", len(names), err)
	}
	for _, name := range names {
		t.Run(strings.TrimSuffix(filepath.Base(name), ".txtar"), func(t *testing.T) { checkArchive(t, name) })
	}
}

func checkArchive(t *testing.T, name string) {
	ar, err := txtar.ParseFile(name)
	if err != nil {
		t.Fatal(err)
	}
	if len(strings.TrimSpace(string(ar.Comment))) == 0 {
		t.Error("archive does not say what it shows")
	}
	files := map[string]string{}
	want := -1
	for i, f := range ar.Files {
		if f.Name == "want" {
			want = i
			continue
		}
		files[f.Name] = string(f.Data)
	}
	if want < 0 {
		t.Fatal("archive without want")
	}
	_, problems := load(files)
	got := problems.String()
	if *update {
		ar.Files[want].Data = []byte(got)
		if err := os.WriteFile(name, txtar.Format(ar), 0o644); err != nil {
			t.Fatal(err)
		}
		return
	}
	if got == "" {
		t.Error("no problem found")
	}
	if got != string(ar.Files[want].Data) {
		t.Errorf("got\n%s\nwant\n%s", got, ar.Files[want].Data)
	}
}
