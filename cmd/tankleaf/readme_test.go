package main

import (
	"bytes"
	"os"
	"path/filepath"
	"regexp"
	"strings"
	"testing"
)

// examples are the fenced blocks of the README that start with a command, and
// seconds is the one thing in their output that differs from run to run.
var (
	examples = regexp.MustCompile("(?m)^```\n\\$ tankleaf (.*)\n((?s).*?)```$")
	seconds  = regexp.MustCompile(`\b[0-9.]+ s\b`)
)

// TestReadmeUpToDate runs every example of the README in the demo office and
// holds what it prints against what the README says. -update writes it again.
func TestReadmeUpToDate(t *testing.T) {
	const name = "../../README.md"
	text, err := os.ReadFile(name)
	if err != nil {
		t.Fatal(err)
	}
	found := examples.FindAllSubmatch(text, -1)
	if len(found) < 3 {
		t.Fatalf("%d examples in the README, want at least 3", len(found))
	}
	now := text
	for _, m := range found {
		got := runExample(t, string(m[1]))
		if seconds.ReplaceAllString(got, "N s") == seconds.ReplaceAllString(string(m[2]), "N s") {
			continue
		}
		if !*update {
			t.Errorf("tankleaf %s: the README is out of date; run with -update\nit says\n%s\nthe command prints\n%s", m[1], m[2], got)
			continue
		}
		now = bytes.Replace(now, m[0], []byte("```\n$ tankleaf "+string(m[1])+"\n"+got+"```"), 1)
	}
	if *update && !bytes.Equal(now, text) {
		if err := os.WriteFile(name, now, 0o644); err != nil {
			t.Fatal(err)
		}
	}
}

// runExample runs one command line in the demo office. A site goes into a folder
// of the test, and is said to be in public.
func runExample(t *testing.T, line string) string {
	t.Helper()
	args := append([]string{"-C", "../.."}, words(line)...)
	out := filepath.Join(t.TempDir(), "public")
	if strings.HasPrefix(line, "build") {
		args = append(args, "--out", out)
	}
	var stdout, stderr bytes.Buffer
	if code := run(args, nil, &stdout, &stderr); code != exitFine {
		t.Fatalf("tankleaf %s: exit code %d\n%s", line, code, stderr.String())
	}
	return strings.ReplaceAll(stdout.String(), out, "public")
}

// words splits a command line as a shell does, as far as double quotes go.
func words(line string) []string {
	var all []string
	for i, part := range strings.Split(line, `"`) {
		if i%2 == 1 {
			all[len(all)-1] += part
			continue
		}
		fields := strings.Fields(part)
		if strings.HasSuffix(part, " ") && i < strings.Count(line, `"`) {
			fields = append(fields, "")
		}
		all = append(all, fields...)
	}
	return all
}
