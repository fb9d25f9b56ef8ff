package folder_test

import (
	"errors"
	"io/fs"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"testing/fstest"
	"unicode/utf8"

	"github.com/google/go-cmp/cmp"

	"tankleaf.example/internal/diag"
	"tankleaf.example/internal/folder"
)

const limit = 64 << 10

// failing is a folder whose files cannot be opened.
type failing struct {
	fstest.MapFS
	err error
}

func (f failing) Open(name string) (fs.File, error) {
	if name == "a.txt" {
		return nil, &fs.PathError{Op: "openat", Path: name, Err: f.err}
	}
	return f.MapFS.Open(name)
}

// TestRead: what stands under a name is a plain file of a size that people write, or
// is told.
func TestRead(t *testing.T) {
	plain := &fstest.MapFile{Data: []byte("words")}
	for _, c := range []struct {
		why, text, want string
		fsys            fs.FS
	}{
		{"a plain file", "words", "", fstest.MapFS{"a.txt": plain}},
		{"an empty file", "", "", fstest.MapFS{"a.txt": {}}},
		{"as large as may be", strings.Repeat("x", limit), "", fstest.MapFS{"a.txt": {Data: []byte(strings.Repeat("x", limit))}}},
		{"a byte more", "", "in/a.txt: larger than 64 KiB\n\tsplit it into several files\n", fstest.MapFS{"a.txt": {Data: []byte(strings.Repeat("x", limit+1))}}},
		{"nothing", "", "in/a.txt: no such file\n\tput it there, or take its name out\n", fstest.MapFS{}},
		{"a folder", "", "in/a.txt: is a folder, where a file is read\n\tput a file here, or name the folder otherwise\n", fstest.MapFS{"a.txt/b": plain}},
		{"a link", "", "in/a.txt: symbolic link: links are not followed\n\tput the file itself here\n", fstest.MapFS{"a.txt": {Data: []byte("b.txt"), Mode: fs.ModeSymlink}, "b.txt": plain}},
		{"a pipe", "", "in/a.txt: is no plain file\n\tput a plain file here; pipes and devices are not read\n", fstest.MapFS{"a.txt": {Mode: fs.ModeNamedPipe}}},
		{"a device", "", "in/a.txt: is no plain file\n\tput a plain file here; pipes and devices are not read\n", fstest.MapFS{"a.txt": {Mode: fs.ModeDevice | fs.ModeCharDevice}}},
		{"no right to it", "", "in/a.txt: may not be read\n\tgive yourself the right to read it: chmod u+r a.txt\n", failing{fstest.MapFS{"a.txt": plain}, fs.ErrPermission}},
		{"a disk that fails", "", "in/a.txt: cannot be read: input/output error\n\tlook whether the disk is sound, and copy the file again\n", failing{fstest.MapFS{"a.txt": plain}, errors.New("input/output error")}},
	} {
		var problems diag.List
		text, ok := folder.Dir{FS: c.fsys, Shown: "in/", Problems: &problems}.Read("a.txt", limit)
		if ok != (c.want == "") || string(text) != c.text {
			t.Errorf("%s: %d bytes, %v", c.why, len(text), ok)
		}
		if diff := cmp.Diff(c.want, problems.String()); diff != "" {
			t.Errorf("%s (-want +got)\n%s", c.why, diff)
		}
	}
}

// growing is a file that has more in it than it says.
type growing struct{ fs.File }

func (growing) Read(p []byte) (int, error) { return copy(p, "more and more"), nil }

type growingFS struct{ fstest.MapFS }

func (g growingFS) Open(name string) (fs.File, error) {
	f, err := g.MapFS.Open(name)
	return growing{f}, err
}

// TestNoMoreThanTheLimitIsRead: a file that grows under the reader, without end.
func TestNoMoreThanTheLimitIsRead(t *testing.T) {
	var problems diag.List
	d := folder.Dir{FS: growingFS{fstest.MapFS{"a.txt": {Data: []byte("x")}}}, Problems: &problems}
	if text, ok := d.Read("a.txt", 1<<20); ok || text != nil || problems.String() != "a.txt: larger than 1 MiB\n\tsplit it into several files\n" {
		t.Errorf("%d bytes, %v", len(text), problems)
	}
}

// TestText: a text has one kind of line end and nothing in it that nobody sees.
func TestText(t *testing.T) {
	for _, c := range []struct{ why, raw, text, want string }{
		{"a text", "é\n\tb\n", "é\n\tb\n", ""},
		{"as Windows writes it", "\ufeffa\r\nb\r\n", "a\nb\n", ""},
		{"bytes of another alphabet", "a\né\xe9\n", "", "a.css:2:2: byte 0xe9 is not UTF-8 text\n\tsave the file as UTF-8\n"},
		{"a character cut off at the end", "ab\xc3", "", "a.css:1:3: byte 0xc3 is not UTF-8 text\n\tsave the file as UTF-8\n"},
		{"a NUL", "\n\n\x00", "", "a.css:3:1: control character U+0000\n\tremove it\n"},
		{"an escape of the terminal", "é\x1b[0m", "", "a.css:1:2: control character U+001B\n\tremove it\n"},
		{"a rubout", "\x7f", "", "a.css:1:1: control character U+007F\n\tremove it\n"},
		{"a carriage return alone", "a\rb", "", "a.css:1:2: control character U+000D\n\tremove it\n"},
		{"the mark of Windows within", "a\ufeffb", "a\ufeffb", ""},
		{"the character that stands for what could not be read", "a\ufffdb", "a\ufffdb", ""},
	} {
		var problems diag.List
		d := folder.Dir{FS: fstest.MapFS{"a.css": {Data: []byte(c.raw)}}, Problems: &problems}
		text, ok := d.Text("a.css", limit)
		if text != c.text || ok != (c.want == "") || problems.String() != c.want {
			t.Errorf("%s: %q, %v\n%s", c.why, text, ok, problems)
		}
	}
	var problems diag.List
	if _, ok := (folder.Dir{FS: fstest.MapFS{}, Problems: &problems}).Text("a.css", limit); ok || len(problems) != 1 {
		t.Errorf("nothing is no text: %v", problems)
	}
}

// TestBelow lists a folder on a disk, with all that may stand there.
func TestBelow(t *testing.T) {
	dir := t.TempDir()
	for _, name := range []string{"in/b.yaml", "in/a.yaml", "in/.hidden.yaml", "in/readme.txt", "in/es/c.yaml", "in/x.yaml/d"} {
		file := filepath.Join(dir, filepath.FromSlash(name))
		if err := errors.Join(os.MkdirAll(filepath.Dir(file), 0o755), os.WriteFile(file, nil, 0o644)); err != nil {
			t.Fatal(err)
		}
	}
	for name, to := range map[string]string{"in/l.yaml": "a.yaml", "in/fr": "es", "out": "in"} {
		if err := os.Symlink(to, filepath.Join(dir, filepath.FromSlash(name))); err != nil {
			t.Skip("no links here:", err)
		}
	}
	root, err := os.OpenRoot(dir)
	if err != nil {
		t.Fatal(err)
	}
	defer root.Close()
	for _, c := range []struct {
		name           string
		files, folders []string
		want           string
	}{
		{"in", []string{"in/a.yaml", "in/b.yaml", "in/l.yaml", "in/x.yaml"}, []string{"in/es"}, "in/fr: symbolic link: links are not followed\n\tput the file itself here\n"},
		{"nothing", nil, nil, ""},
		{"out", nil, nil, "out: symbolic link: links are not followed\n\tput the file itself here\n"},
		{"in/readme.txt", nil, nil, "in/readme.txt: is no folder\n\tmake a folder of that name, and put the files into it\n"},
	} {
		var problems diag.List
		files, folders := folder.Dir{FS: root.FS(), Problems: &problems}.Below(c.name, ".yaml")
		if !cmp.Equal(files, c.files) || !cmp.Equal(folders, c.folders) || problems.String() != c.want {
			t.Errorf("%s: %q and %q\n%s", c.name, files, folders, problems)
		}
	}
}

// FuzzText reads anything as a text: what comes back is one, and what is refused has a
// place inside of it.
func FuzzText(f *testing.F) {
	for _, in := range []string{"", "words\n", "\ufeffa\r\nb", "\xff", "a\n\x00", "é\xc3", "\r", "\ufeff\ufeff", "\u2028", "\ufffd"} {
		f.Add([]byte(in))
	}
	f.Fuzz(func(t *testing.T, in []byte) {
		var problems diag.List
		text, ok := folder.Dir{FS: fstest.MapFS{"a": {Data: in}}, Problems: &problems}.Text("a", limit)
		if ok != (len(problems) == 0) || ok && (!utf8.ValidString(text) || strings.ContainsAny(text, "\x00\r\x1b")) || !ok && text != "" {
			t.Fatalf("%q is read as %q, %v", in, text, problems)
		}
		for _, p := range problems {
			lines := strings.Split(strings.ReplaceAll(strings.TrimPrefix(string(in), "\ufeff"), "\r\n", "\n"), "\n")
			if p.Pos.Line > 0 && (p.Pos.Line > len(lines) || p.Pos.Col < 1 || p.Pos.Col > utf8.RuneCountInString(lines[p.Pos.Line-1])) {
				t.Fatalf("%q has no place %v", in, p.Pos)
			}
		}
	})
}
