package site_test

import (
	"errors"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	"tankleaf.example/internal/site"
)

// publish stages the files and puts them in place.
func publish(t *testing.T, out string, files map[string]string) error {
	t.Helper()
	s, err := site.Stage(out)
	if err != nil {
		return err
	}
	for name, body := range files {
		if err := s.Write(name, []byte(body)); err != nil {
			return errors.Join(err, s.Drop())
		}
	}
	return s.Publish()
}

// tree returns every file below dir but the marker, the manifest and links.
func tree(t *testing.T, dir string) map[string]string {
	t.Helper()
	got := map[string]string{}
	err := filepath.WalkDir(dir, func(path string, d os.DirEntry, err error) error {
		if err != nil || d.IsDir() {
			return err
		}
		name, _ := filepath.Rel(dir, path)
		if name == site.Marker || name == site.ManifestName || d.Type()&os.ModeSymlink != 0 {
			return nil
		}
		body, err := os.ReadFile(path)
		got[filepath.ToSlash(name)] = string(body)
		return err
	})
	if err != nil {
		t.Fatal(err)
	}
	return got
}

func names(t *testing.T, dir string) []string {
	t.Helper()
	entries, err := os.ReadDir(dir)
	if err != nil {
		t.Fatal(err)
	}
	var all []string
	for _, e := range entries {
		all = append(all, e.Name())
	}
	return all
}

func TestPublishReplacesWhole(t *testing.T) {
	parent := t.TempDir()
	out := filepath.Join(parent, "public")
	first := map[string]string{"index.html": "one", "class/acid.html": "old"}
	second := map[string]string{"index.html": "two"}
	for _, files := range []map[string]string{first, second} {
		if err := publish(t, out, files); err != nil {
			t.Fatal(err)
		}
		if diff := cmp.Diff(files, tree(t, out)); diff != "" {
			t.Error(diff)
		}
	}
	if got := names(t, parent); len(got) != 1 {
		t.Errorf("left beside the site: %v", got)
	}
}

func TestDropLeavesTheOldSite(t *testing.T) {
	parent := t.TempDir()
	out := filepath.Join(parent, "public")
	if err := publish(t, out, map[string]string{"index.html": "one"}); err != nil {
		t.Fatal(err)
	}
	s, err := site.Stage(out)
	if err != nil {
		t.Fatal(err)
	}
	if err := s.Write("index.html", []byte("two")); err != nil {
		t.Fatal(err)
	}
	if err := s.Drop(); err != nil {
		t.Fatal(err)
	}
	if got := tree(t, out)["index.html"]; got != "one" || len(names(t, parent)) != 1 {
		t.Errorf("got %q beside %v, want the old site alone", got, names(t, parent))
	}
}

func TestStageRefusesWhatIsNotOurs(t *testing.T) {
	for _, c := range []struct{ dir, why string }{
		{"public", "the output folder holds somebody's files"},
		{".public.tankleaf-next", "so does the folder we would stage in"},
	} {
		parent := t.TempDir()
		theirs := filepath.Join(parent, c.dir, "thesis.txt")
		if err := os.MkdirAll(filepath.Dir(theirs), 0o755); err != nil {
			t.Fatal(err)
		}
		if err := os.WriteFile(theirs, []byte("years of work"), 0o644); err != nil {
			t.Fatal(err)
		}
		err := publish(t, filepath.Join(parent, "public"), map[string]string{"index.html": "x"})
		if !errors.Is(err, site.ErrNotOurs) {
			t.Errorf("%s: got error %v, want ErrNotOurs", c.why, err)
		}
		if body, err := os.ReadFile(theirs); err != nil || string(body) != "years of work" {
			t.Errorf("%s: the file is gone or changed: %q, %v", c.why, body, err)
		}
	}
}

func TestStageClearsWhatAKilledBuildLeft(t *testing.T) {
	parent := t.TempDir()
	out := filepath.Join(parent, "public")
	left := filepath.Join(parent, ".public.tankleaf-next")
	if err := os.MkdirAll(left, 0o755); err != nil {
		t.Fatal(err)
	}
	for _, name := range []string{site.Marker, "half.html"} {
		if err := os.WriteFile(filepath.Join(left, name), nil, 0o644); err != nil {
			t.Fatal(err)
		}
	}
	if err := publish(t, out, map[string]string{"index.html": "whole"}); err != nil {
		t.Fatal(err)
	}
	if diff := cmp.Diff(map[string]string{"index.html": "whole"}, tree(t, out)); diff != "" || len(names(t, parent)) != 1 {
		t.Errorf("%s beside %v", diff, names(t, parent))
	}
}

func TestStageRestoresASiteMovedAside(t *testing.T) {
	parent := t.TempDir()
	out := filepath.Join(parent, "public")
	if err := publish(t, out, map[string]string{"index.html": "one"}); err != nil {
		t.Fatal(err)
	}
	if err := os.Rename(out, filepath.Join(parent, ".public.tankleaf-old")); err != nil {
		t.Fatal(err)
	}
	s, err := site.Stage(out)
	if err != nil {
		t.Fatal(err)
	}
	if err := s.Drop(); err != nil {
		t.Fatal(err)
	}
	if got := tree(t, out)["index.html"]; got != "one" {
		t.Errorf("got %q, want the site that was moved aside", got)
	}
}

func TestPublishThroughALink(t *testing.T) {
	parent := t.TempDir()
	real, link := filepath.Join(parent, "real"), filepath.Join(parent, "public")
	if err := os.Mkdir(real, 0o755); err != nil {
		t.Fatal(err)
	}
	if err := os.Symlink(real, link); err != nil {
		t.Fatal(err)
	}
	if err := publish(t, link, map[string]string{"index.html": "x"}); err != nil {
		t.Fatal(err)
	}
	if info, err := os.Lstat(link); err != nil || info.Mode()&os.ModeSymlink == 0 {
		t.Errorf("the link was replaced: %v, %v", info, err)
	}
	if got := tree(t, real)["index.html"]; got != "x" {
		t.Errorf("behind the link: got %q", got)
	}
}

func TestStageRefusesWhatItWouldLose(t *testing.T) {
	for _, c := range []struct {
		spoil func(t *testing.T, out string)
		want  error
		why   string
	}{
		{func(t *testing.T, out string) { write(t, filepath.Join(out, "CNAME"), "mixes.example.org") },
			site.ErrStrangers, "somebody put a file beside ours"},
		{func(t *testing.T, out string) { write(t, filepath.Join(out, "d1", ".git"), "x") },
			site.ErrStrangers, "somebody put a file below ours"},
		{func(t *testing.T, out string) { symlink(t, "/", filepath.Join(out, "all")) },
			site.ErrStrangers, "a link is not ours either"},
		{func(t *testing.T, out string) { remove(t, filepath.Join(out, site.ManifestName)) },
			os.ErrNotExist, "without a manifest nobody knows what is ours"},
		{func(t *testing.T, out string) { remove(t, filepath.Join(out, site.Marker)) },
			site.ErrNotOurs, "without the marker it is not ours"},
		{func(t *testing.T, out string) {
			remove(t, filepath.Join(out, site.Marker))
			symlink(t, "SHA256SUMS", filepath.Join(out, site.Marker))
		}, site.ErrNotOurs, "a link is no marker"},
	} {
		parent := t.TempDir()
		out := filepath.Join(parent, "public")
		if err := publishVersion(out, 1); err != nil {
			t.Fatal(err)
		}
		c.spoil(t, out)
		before := tree(t, out)
		if err := publishVersion(out, 2); !errors.Is(err, c.want) {
			t.Errorf("%s: got error %v, want %v", c.why, err, c.want)
		}
		if diff := cmp.Diff(before, tree(t, out)); diff != "" || len(names(t, parent)) != 1 {
			t.Errorf("%s: beside %v\n%s", c.why, names(t, parent), diff)
		}
	}
}

// TestPublishLooksAgain is about what comes into the folder while the new site is
// being written.
func TestPublishLooksAgain(t *testing.T) {
	parent := t.TempDir()
	out := filepath.Join(parent, "public")
	if err := publishVersion(out, 1); err != nil {
		t.Fatal(err)
	}
	s, err := site.Stage(out)
	if err != nil {
		t.Fatal(err)
	}
	write(t, filepath.Join(out, "thesis.txt"), "years of work")
	before := tree(t, out)
	if err := s.Publish(); !errors.Is(err, site.ErrStrangers) {
		t.Errorf("got error %v, want %v", err, site.ErrStrangers)
	}
	if diff := cmp.Diff(before, tree(t, out)); diff != "" || len(names(t, parent)) != 1 {
		t.Errorf("beside %v\n%s", names(t, parent), diff)
	}
}

func TestStageRefusesWhatIsNoFolder(t *testing.T) {
	for _, c := range []struct {
		put func(t *testing.T, out string)
		why string
	}{
		{func(t *testing.T, out string) { write(t, out, "thesis") }, "a file is in the way"},
		{func(t *testing.T, out string) { symlink(t, "gone", out) }, "a link to nothing is in the way"},
		{func(t *testing.T, out string) { symlink(t, "public", out) }, "a link to itself is in the way"},
	} {
		parent := t.TempDir()
		out := filepath.Join(parent, "public")
		c.put(t, out)
		before, _ := os.Lstat(out)
		if err := publishVersion(out, 1); err == nil {
			t.Errorf("%s: published over it", c.why)
		}
		after, err := os.Lstat(out)
		if err != nil || !os.SameFile(before, after) || len(names(t, parent)) != 1 {
			t.Errorf("%s: it is gone (%v) beside %v", c.why, err, names(t, parent))
		}
	}
}

// TestStageFollowsNoLinks is about links where we would stage: what they lead to
// may be a site of ours and is not ours to clear.
func TestStageFollowsNoLinks(t *testing.T) {
	for _, name := range []string{".public.tankleaf-next", ".public.tankleaf-old"} {
		parent := t.TempDir()
		other, out := filepath.Join(parent, "other"), filepath.Join(parent, "public")
		for _, site := range []string{other, out} {
			if err := publishVersion(site, 1); err != nil {
				t.Fatal(err)
			}
		}
		symlink(t, other, filepath.Join(parent, name))
		if err := publishVersion(out, 2); !errors.Is(err, site.ErrNotOurs) {
			t.Errorf("%s: got error %v, want %v", name, err, site.ErrNotOurs)
		}
		wholeVersion(t, other, false)
		wholeVersion(t, out, false)
	}
}

func write(t *testing.T, name, body string) {
	t.Helper()
	if err := os.WriteFile(name, []byte(body), 0o644); err != nil {
		t.Fatal(err)
	}
}

func symlink(t *testing.T, to, name string) {
	t.Helper()
	if err := os.Symlink(to, name); err != nil {
		t.Fatal(err)
	}
}

func remove(t *testing.T, name string) {
	t.Helper()
	if err := os.Remove(name); err != nil {
		t.Fatal(err)
	}
}

func TestWriteRefusesPaths(t *testing.T) {
	for _, c := range []struct{ path, why string }{
		{"../x.html", "leaves the site"},
		{"/etc/x.html", "is absolute"},
		{"a//b.html", "has an empty part"},
		{site.Marker, "is the marker itself"},
		{"class/con.html", "is a device on Windows"},
		{"class/lpt1.html", "is a device on Windows"},
		{"class/a:b.html", "has a character that Windows cannot hold"},
		{"class/a\x00.html", "has a NUL"},
		{"CLASS/acid.html", "differs from another file in case alone"},
		{strings.Repeat("x", 300) + ".html", "is longer than file systems allow"},
	} {
		s, err := site.Stage(filepath.Join(t.TempDir(), "public"))
		if err != nil {
			t.Fatal(err)
		}
		if err := s.Write("class/acid.html", nil); err != nil {
			t.Fatal(err)
		}
		if err := s.Write(c.path, nil); err == nil {
			t.Errorf("%q was taken; it %s", c.path, c.why)
		}
		if err := s.Drop(); err != nil {
			t.Fatal(err)
		}
	}
}
