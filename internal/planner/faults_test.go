package planner_test

import (
	"io/fs"
	"math/rand/v2"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"testing/fstest"
	"time"

	"tankleaf.example/internal/client"
	"tankleaf.example/internal/compat"
	"tankleaf.example/internal/office"
)

// faulty is the client's sources with one fault in one file.
type faulty struct {
	fs.FS
	file, right, wrong string
}

// Open gives the file with its fault, and every other as it is.
func (f faulty) Open(name string) (fs.File, error) {
	if name != f.file {
		return f.FS.Open(name)
	}
	text, err := fs.ReadFile(f.FS, name)
	if err != nil {
		return nil, err
	}
	return fstest.MapFS{name: {Data: []byte(strings.Replace(string(text), f.right, f.wrong, 1))}}.Open(name)
}

// TestFaultsAreFound puts one fault at a time into the client and compares it with Go
// as the tests of equal answers do: they must differ.
func TestFaultsAreFound(t *testing.T) {
	t.Parallel()
	ctx := openTab(t, 2*time.Minute)
	b := office.Make(office.Small, 1)
	for _, c := range []struct {
		why                string
		judge              bool
		file, right, wrong string
	}{
		{"cuts off where it should round", false, "unit/number.ts", "(twice < 0n ? twice - this.d : twice + this.d)", "twice"},
		{"fills the tank to the brim", false, "jar/load.ts", "q.maxFill.isZero() ? q.tank : q.maxFill", "q.tank"},
		{"calls the top of a range too high", false, "jar/fit.ts", "n.cmp(high.base) > 0", "n.cmp(high.base) >= 0"},
		{"calls the most spray too much", false, "jar/fit.ts", "v.cmp(high) > 0", "v.cmp(high) >= 0"},
		{"takes a comma for a point", false, "unit/scan.ts", `"comma"`, `"point"`},
		{"does not count what jars saw", true, "compat/settle.ts", "if (h.verdict > worst) worst", "if (h.rule && h.verdict > worst) worst"},
		{"leaves out the wrong product", true, "compat/whatif.ts", "item.id !== out", "item.id === out"},
		{"offers what brings a conflict of its own", true, "compat/whatif.ts", "g.items.includes(taken)", "g.items.includes(r.out)"},
		{"puts no evidence first", true, "compat/whatif.ts", "a.untested.length - b.untested.length", "b.untested.length - a.untested.length"},
		{"lets a symptom speak for another", true, "compat/settle.ts", "|| (a & b) !== 0", "|| true"},
	} {
		sources := os.DirFS(clientDir)
		if text, err := fs.ReadFile(sources, c.file); err != nil || !strings.Contains(string(text), c.right) {
			t.Errorf("%s: %s does not hold %q", c.why, c.file, c.right)
			continue
		}
		script := filepath.Join(t.TempDir(), "differential.js")
		bundle(t, func(s fs.FS, entry string) ([]byte, error) {
			return client.Bundle(faulty{s, c.file, c.right, c.wrong}, entry)
		}, "differential.ts", script)
		openScript(t, ctx, script)
		differ := 0
		if c.judge {
			differ = len(judgeBoth(t, ctx, b, 1, func(*compat.Answer) {}))
		} else {
			b := (&drawer{rand.New(rand.NewPCG(1, 2))}).batch(3000)
			for i, got := range askBrowser(t, ctx, b.cases) {
				if got != b.want[i] {
					differ++
				}
			}
		}
		if differ == 0 {
			t.Errorf("%s: no answer differs", c.why)
		}
		t.Logf("%s: %d answers differ", c.why, differ)
	}
}
