package site_test

import (
	"bytes"
	"fmt"
	"io/fs"
	"math/rand/v2"
	"os"
	"os/exec"
	"path"
	"path/filepath"
	"runtime"
	"slices"
	"strings"
	"testing"
	"testing/fstest"

	"github.com/google/go-cmp/cmp"
	"gopkg.in/yaml.v3"

	"tankleaf.example/internal/site"
)

// smallOffice is an office of a few records of every kind, in two languages.
const smallOffice = "../page/testdata/office"

// A test binary started with these set builds an office into a folder.
const (
	buildFrom = "TANKLEAF_TEST_BUILD_FROM"
	buildInto = "TANKLEAF_TEST_BUILD_INTO"
)

func buildOffice(office fs.FS, out string) error {
	o, problems := site.Read(office)
	if problems.Stops() {
		return fmt.Errorf("the office has problems:\n%s", problems)
	}
	_, problems, err := site.Build(o, site.Options{Out: out})
	if err == nil && problems.Stops() {
		err = fmt.Errorf("the site has problems:\n%s", problems)
	}
	return err
}

// sums builds an office and returns its manifest.
func sums(t *testing.T, office fs.FS) string {
	t.Helper()
	out := filepath.Join(t.TempDir(), "public")
	if err := buildOffice(office, out); err != nil {
		t.Fatal(err)
	}
	return readFile(t, filepath.Join(out, site.ManifestName))
}

// TestSameWhereverItIsBuilt builds one office in processes that differ in all
// that a machine can differ in.
func TestSameWhereverItIsBuilt(t *testing.T) {
	t.Parallel()
	want := sums(t, os.DirFS(smallOffice))
	if strings.Count(want, "\n") < 80 {
		t.Fatalf("only %d files: the test shows little", strings.Count(want, "\n"))
	}
	far := filepath.Join(t.TempDir(), "a folder with blanks", "ünïcode", strings.Repeat("deep/", 20), "public")
	for _, c := range []struct {
		why string
		out string
		env []string
	}{
		{"another time zone, where it is another day", "", []string{"TZ=Pacific/Kiritimati"}},
		{"one west of it", "", []string{"TZ=Pacific/Pago_Pago"}},
		{"no time zone that is known", "", []string{"TZ=Nowhere/Land"}},
		{"a locale that sorts and writes numbers otherwise", "", []string{"LANG=es_ES.UTF-8", "LC_ALL=tr_TR.UTF-8", "LC_NUMERIC=de_DE.UTF-8"}},
		{"the plainest locale", "", []string{"LANG=C", "LC_ALL=C"}},
		{"one processor", "", []string{"GOMAXPROCS=1"}},
		{"many processors", "", []string{"GOMAXPROCS=16"}},
		{"little memory", "", []string{"GOGC=5"}},
		{"no home and no path", "", []string{"HOME=", "PATH=", "USER="}},
		{"a folder far away", far, nil},
		{"another process, with maps in another order", "", nil},
		{"and another", "", nil},
	} {
		out := c.out
		if out == "" {
			out = filepath.Join(t.TempDir(), "public")
		}
		cmd := exec.Command(os.Args[0])
		cmd.Env = append(os.Environ(), buildFrom+"="+smallOffice, buildInto+"="+out, "GORACE=atexit_sleep_ms=0")
		cmd.Env = append(cmd.Env, c.env...)
		if said, err := cmd.CombinedOutput(); err != nil {
			t.Fatalf("%s: %v\n%s", c.why, err, said)
		}
		if diff := cmp.Diff(want, readFile(t, filepath.Join(out, site.ManifestName))); diff != "" {
			t.Errorf("%s:\n%s", c.why, diff)
		}
	}
}

// shuffled lists folders in another order each time.
type shuffled struct {
	fs.FS
	random *rand.Rand
}

func (s shuffled) ReadDir(name string) ([]fs.DirEntry, error) {
	entries, err := fs.ReadDir(s.FS, name)
	s.random.Shuffle(len(entries), func(i, j int) { entries[i], entries[j] = entries[j], entries[i] })
	return entries, err
}

// soak is set for the long run.
var soak = os.Getenv("TANKLEAF_SOAK") != ""

// TestSameInAnyOrder builds an office whose files come in another order, and
// whose records stand in other files and in another order.
func TestSameInAnyOrder(t *testing.T) {
	want := sums(t, os.DirFS(smallOffice))
	defer runtime.GOMAXPROCS(runtime.GOMAXPROCS(0))
	seeds := uint64(2)
	if soak {
		seeds = 24
	}
	for seed := range seeds {
		random := rand.New(rand.NewPCG(seed, 77))
		runtime.GOMAXPROCS(1 + int(seed%6))
		if diff := cmp.Diff(want, sums(t, shuffled{os.DirFS(smallOffice), random})); diff != "" {
			t.Errorf("files in another order, seed %d:\n%s", seed, diff)
		}
		if diff := cmp.Diff(want, sums(t, dealt(t, random))); diff != "" {
			t.Errorf("records in other files, seed %d:\n%s", seed, diff)
		}
	}
}

// keepsItsOrder are the lists whose order means something.
var keepsItsOrder = []string{"groups", "order", "disputes"}

// dealt returns the office with each record in a file of its own, under a random
// name.
func dealt(t *testing.T, random *rand.Rand) fs.FS {
	t.Helper()
	out := fstest.MapFS{}
	err := fs.WalkDir(os.DirFS(smallOffice), ".", func(name string, d fs.DirEntry, err error) error {
		if err != nil || d.IsDir() {
			return err
		}
		body, err := os.ReadFile(filepath.Join(smallOffice, name))
		if err != nil {
			return err
		}
		if path.Dir(name) != "data" || name == "data/site.yaml" || name == "data/routine.yaml" {
			out[name] = &fstest.MapFile{Data: body}
			return nil
		}
		kind := strings.TrimSuffix(path.Base(name), ".yaml")
		var lists map[string]yaml.Node
		if err := yaml.Unmarshal(body, &lists); err != nil {
			return err
		}
		for key, list := range lists {
			for _, part := range parts(key, &list) {
				file := fmt.Sprintf("data/%s/%x.yaml", kind, random.Uint64())
				text, err := yaml.Marshal(map[string]*yaml.Node{key: part})
				if err != nil {
					return err
				}
				out[file] = &fstest.MapFile{Data: text}
			}
		}
		return nil
	})
	if err != nil || len(out) < 30 {
		t.Fatalf("%d files, %v", len(out), err)
	}
	return out
}

// parts cuts a list into lists of one, unless its order means something.
func parts(key string, list *yaml.Node) []*yaml.Node {
	if slices.Contains(keepsItsOrder, key) || list.Kind != yaml.SequenceNode {
		return []*yaml.Node{list}
	}
	var all []*yaml.Node
	for _, item := range list.Content {
		one := *list
		one.Content = []*yaml.Node{item}
		all = append(all, &one)
	}
	return all
}

// TestSameBuiltAgain builds over what was built: the last publication is read,
// and changes nothing.
func TestSameBuiltAgain(t *testing.T) {
	out := filepath.Join(t.TempDir(), "public")
	var first []byte
	for n := range 3 {
		if err := buildOffice(os.DirFS(smallOffice), out); err != nil {
			t.Fatal(err)
		}
		now, err := os.ReadFile(filepath.Join(out, site.ManifestName))
		if err != nil {
			t.Fatal(err)
		}
		if n == 0 {
			first = now
		}
		if !bytes.Equal(first, now) {
			t.Errorf("build %d differs:\n%s", n+1, cmp.Diff(string(first), string(now)))
		}
	}
}
