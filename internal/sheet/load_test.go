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

func (b broken) Open(name string) (fs.File, error) {
	if name == "content/a.md" {
		return nil, &fs.PathError{Op: "openat", Path: name, Err: fs.ErrPermission}
	}
	return b.MapFS.Open(name)
}

func TestUnreadableFileIsAProblem(t *testing.T) {
	_, problems := sheet.Load(broken{fstest.MapFS{"content/a.md": {Data: []byte(head)}}}, book())
	if want := "content/a.md: may not be read\n\tgive yourself the right to read it: chmod u+r a.md\n"; problems.String() != want {
		t.Errorf("got %q, want %q", problems, want)
	}
}

// TestWhatIsNoSheet: what stands in the place of a sheet or of their folder is told.
func TestWhatIsNoSheet(t *testing.T) {
	for _, c := range []struct {
		why, name string
		mode      fs.FileMode
		want      string
	}{
		{"a folder named as a sheet", "content/a.md", fs.ModeDir | 0o755, "content/a.md: is a folder, where a file is read\n\tput a file here, or name the folder otherwise\n"},
		{"a pipe", "content/a.md", fs.ModeNamedPipe | 0o644, "content/a.md: is no plain file\n\tput a plain file here; pipes and devices are not read\n"},
		{"a file in the place of the folder", "content", 0o644, "content: is no folder\n\tmake a folder of that name, and put the files into it\n"},
		{"a link in the place of the folder", "content", fs.ModeSymlink | 0o777, "content: symbolic link: links are not followed\n\tput the file itself here\n"},
	} {
		if _, problems := sheet.Load(fstest.MapFS{c.name: {Mode: c.mode}}, book()); problems.String() != c.want {
			t.Errorf("%s: got\n%swant\n%s", c.why, problems, c.want)
		}
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
