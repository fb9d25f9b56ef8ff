package planner_test

import (
	"bytes"
	"encoding/json"
	"io/fs"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"testing"

	"tankleaf.example/internal/client"
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

// lookFor returns the path of a program that a test needs; without it the test is
// skipped, but fails in CI.
func lookFor(t testing.TB, program string) string {
	t.Helper()
	path, err := exec.LookPath(program)
	if err != nil && os.Getenv("CI") == "true" {
		t.Fatalf("%s is not installed", program)
	} else if err != nil {
		t.Skipf("%s is not installed", program)
	}
	return path
}

// passed matches a line of the report for a vector that came out as it should.
var passed = regexp.MustCompile(`(?m)^\s*ok \d+ - (unit|jar|load): `)

// failed matches the report of a test that did not come out, up to its stack.
var failed = regexp.MustCompile(`(?ms)^\s*not ok .*?stack:`)

// TestVectorsInNode runs the client's code on the vectors that Go runs, and compares
// how many there were.
func TestVectorsInNode(t *testing.T) {
	node := lookFor(t, "node")
	out := filepath.Join(t.TempDir(), "vectors.mjs")
	bundle(t, client.Module, "vectors.test.ts", out)
	cmd := exec.Command(node, "--test", "--test-reporter=tap", out)
	vectors, err := filepath.Abs("../../testdata/vectors")
	if err != nil {
		t.Fatal(err)
	}
	cmd.Env = append(os.Environ(), "VECTORS="+vectors)
	report, err := cmd.CombinedOutput()
	if err != nil {
		t.Fatalf("node: %v\n%s", err, bytes.Join(failed.FindAll(report, -1), nil))
	}
	ran := map[string]int{}
	for _, m := range passed.FindAllSubmatch(report, -1) {
		ran[string(m[1])]++
	}
	for _, name := range []string{"unit", "jar", "load"} {
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
