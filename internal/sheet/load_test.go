package sheet_test

import (
	"io/fs"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"testing/fstest"

	"tankleaf.example/internal/sheet"
)

// TestLinksAreNotFollowed keeps a sheet from showing a file of the machine.
func TestLinksAreNotFollowed(t *testing.T) {
	dir := t.TempDir()
	if err := os.MkdirAll(filepath.Join(dir, "content"), 0o755); err != nil {
		t.Fatal(err)
	}
	secret := filepath.Join(dir, "secret")
	if err := os.WriteFile(secret, []byte(head+"Secret.\n"), 0o600); err != nil {
		t.Fatal(err)
	}
	if err := os.Symlink(secret, filepath.Join(dir, "content", "a.md")); err != nil {
		t.Skip(err)
	}
	sheets, problems := sheet.Load(os.DirFS(dir), book())
	if len(sheets) != 0 || !strings.Contains(problems.String(), "content/a.md: symbolic link") {
		t.Errorf("%d sheets, problems: %s", len(sheets), problems)
	}
}

func TestHiddenFilesAreNoSheets(t *testing.T) {
	sheets, problems := load(map[string]string{"content/.draft.md": "x", "content/.git/a.md": "x", "content/notes.txt": "x", "content/a.md": head + "Text.\n"})
	if len(sheets) != 1 || len(problems) > 0 {
		t.Errorf("%d sheets, problems: %s", len(sheets), problems)
	}
}

// broken is a file system that lists a file it cannot read.
type broken struct{ fstest.MapFS }

func (b broken) ReadFile(name string) ([]byte, error) {
	return nil, &fs.PathError{Op: "read", Path: name, Err: fs.ErrPermission}
}

func TestUnreadableFileIsAProblem(t *testing.T) {
	_, problems := sheet.Load(broken{fstest.MapFS{"content/a.md": {Data: []byte(head)}}}, book())
	if want := "content/a.md: cannot be read: permission denied\n"; problems.String() != want {
		t.Errorf("got %q, want %q", problems, want)
	}
}

// TestManyWarningsStayWarnings keeps the cut from making a stop of warnings.
func TestManyWarningsStayWarnings(t *testing.T) {
	_, problems := load(map[string]string{"content/a.md": head + strings.Repeat("a <b>\n\n", 500)})
	if problems.Stops() || len(problems) != 201 {
		t.Errorf("%d problems, stops: %v", len(problems), problems.Stops())
	}
}

// TestManyProblemsAreCut keeps one hopeless file from hiding all others.
func TestManyProblemsAreCut(t *testing.T) {
	_, problems := load(map[string]string{"content/a.md": head + strings.Repeat("[a](class:oyl)\n", 5000), "content/b.md": "x"})
	if len(problems) > 400 {
		t.Errorf("%d problems", len(problems))
	}
	for _, want := range []string{"content/a.md:11:5: unknown class", "more problems in this sheet are not shown", "content/b.md:1:1: sheet does not start"} {
		if !strings.Contains(problems.String(), want) {
			t.Errorf("no %q in the list", want)
		}
	}
}
