package outside

import (
	"bytes"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"testing"
)

// Program returns the path of a program that a test needs. Without it the test is
// skipped, but fails when the environment says CI=true.
func Program(t testing.TB, name string) string {
	t.Helper()
	path, err := exec.LookPath(name)
	if err != nil && os.Getenv("CI") == "true" {
		t.Fatalf("%s is not installed", name)
	} else if err != nil {
		t.Skipf("%s is not installed; make setup brings it", name)
	}
	return path
}

// NodeTests runs a module in Node.js as a file of tests and returns its report in
// the Test Anything Protocol. The test fails when a test of the module does. More
// variables of the environment have the form NAME=value.
func NodeTests(t testing.TB, module []byte, env ...string) string {
	t.Helper()
	node := Program(t, "node")
	file := filepath.Join(t.TempDir(), "test.mjs")
	if err := os.WriteFile(file, module, 0o644); err != nil {
		t.Fatal(err)
	}
	cmd := exec.Command(node, "--test", "--test-reporter=tap", file)
	cmd.Env = append(os.Environ(), env...)
	report, err := cmd.CombinedOutput()
	if err != nil {
		t.Fatalf("node: %v\n%s", err, bytes.Join(failed.FindAll(report, -1), nil))
	}
	return string(report)
}

// failed matches the report of a test that did not come out, up to its stack.
var failed = regexp.MustCompile(`(?ms)^\s*not ok .*?stack:`)
