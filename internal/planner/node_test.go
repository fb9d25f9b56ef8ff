package planner_test

import (
	"encoding/json"
	"io/fs"
	"os"
	"path/filepath"
	"regexp"
	"testing"

	"tankleaf.example/internal/client"
	"tankleaf.example/internal/compat"
	"tankleaf.example/internal/mix"
	"tankleaf.example/internal/outside"
	"tankleaf.example/internal/planner"
)

const clientDir = "../../templates/client"

// bundle joins one module of the client and what it imports into one file.
func bundle(t testing.TB, join func(fs.FS, string) ([]byte, error), entry, out string) {
	t.Helper()
	script, err := join(os.DirFS(clientDir), entry)
	if err == nil {
		err = os.WriteFile(out, script, 0o644)
	}
	if err != nil {
		t.Fatal(err)
	}
}

// passed matches a line of the report for a vector that came out as it should.
var passed = regexp.MustCompile(`(?m)^\s*ok \d+ - (unit|jar|load|whatif): `)

// TestVectorsInNode runs the client's code on the vectors that Go runs, and compares
// how many there were.
func TestVectorsInNode(t *testing.T) {
	script, err := client.Module(os.DirFS(clientDir), "vectors.test.ts")
	if err != nil {
		t.Fatal(err)
	}
	vectors, err := filepath.Abs("../../testdata/vectors")
	if err != nil {
		t.Fatal(err)
	}
	pack := filepath.Join(t.TempDir(), "pack.json")
	if err := os.WriteFile(pack, []byte(asJSON(planner.New(compat.New(mix.NewIndex(demo(t)))))), 0o600); err != nil {
		t.Fatal(err)
	}
	report := outside.NodeTests(t, script, "VECTORS="+vectors, "PACK="+pack)
	ran := map[string]int{}
	for _, m := range passed.FindAllStringSubmatch(report, -1) {
		ran[m[1]]++
	}
	for _, name := range []string{"unit", "jar", "load", "whatif"} {
		if want := countCases(t, filepath.Join(vectors, name+".json")); ran[name] != want || want == 0 {
			t.Errorf("%s: node ran %d vectors of %d", name, ran[name], want)
		}
	}
}

func countCases(t *testing.T, path string) int {
	t.Helper()
	data, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	var v struct {
		Cases []json.RawMessage `json:"cases"`
	}
	if err := json.Unmarshal(data, &v); err != nil {
		t.Fatal(err)
	}
	return len(v.Cases)
}
