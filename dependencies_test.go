package tankleaf_test

import (
	"encoding/json"
	"flag"
	"fmt"
	"maps"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"slices"
	"strings"
	"testing"
)

var measure = flag.Bool("measure", false, "measure the sizes of dependencies in DEVELOPERS.md again")

// dependency is a row of the table in DEVELOPERS.md.
type dependency struct{ name, reason, licence, size string }

// notThere is the size of what is no part of the program.
const notThere = "–"

var row = regexp.MustCompile("(?m)^\\| `([^`]+)` \\| ([^|]+) \\| ([^|]+) \\| ([^|]+) \\|$")

// dependencyTable returns the rows under the heading "Dependencies".
func dependencyTable(t *testing.T) map[string]dependency {
	t.Helper()
	body, err := os.ReadFile("DEVELOPERS.md")
	if err != nil {
		t.Fatal(err)
	}
	_, section, ok := strings.Cut(string(body), "\n## Dependencies\n")
	if !ok {
		t.Fatal("DEVELOPERS.md has no heading Dependencies")
	}
	section, _, _ = strings.Cut(section, "\n## ")
	all := map[string]dependency{}
	for _, m := range row.FindAllStringSubmatch(section, -1) {
		all[m[1]] = dependency{m[1], m[2], m[3], strings.TrimSpace(m[4])}
	}
	return all
}

// goMod is what `go mod edit -json` says.
type goMod struct {
	Require []struct {
		Path     string
		Indirect bool
	}
	Tool []struct{ Path string }
}

// direct lists the modules that go.mod asks for by itself, those of its tools too.
func direct(t *testing.T) []string {
	t.Helper()
	var m goMod
	if err := json.Unmarshal(output(t, "go", "mod", "edit", "-json"), &m); err != nil {
		t.Fatal(err)
	}
	var all []string
	for _, r := range m.Require {
		isTool := slices.ContainsFunc(m.Tool, func(tool struct{ Path string }) bool { return strings.HasPrefix(tool.Path, r.Path+"/") })
		if !r.Indirect || isTool {
			all = append(all, r.Path)
		}
	}
	return all
}

func output(t *testing.T, program string, args ...string) []byte {
	t.Helper()
	cmd := exec.Command(program, args...)
	cmd.Stderr = os.Stderr
	out, err := cmd.Output()
	if err != nil {
		t.Fatalf("%s %v: %v", program, args, err)
	}
	return out
}

// The licence of two clauses is the one of three without its last.
const (
	secondClause = "Redistributions in binary form must reproduce"
	thirdClause  = "Neither the name of"
)

// licences are words that stand in a licence and in no other.
var licences = []struct{ name, words string }{
	{"Apache-2.0", "Apache License Version 2.0"},
	{"Apache-2.0", "Apache License, Version 2.0"},
	{"MPL-2.0", "Mozilla Public License"},
	{"GPL-3.0", "GNU GENERAL PUBLIC LICENSE"},
	{"LGPL", "GNU LESSER GENERAL PUBLIC LICENSE"},
	{"AGPL", "GNU AFFERO GENERAL PUBLIC LICENSE"},
	{"BSD-3-Clause", thirdClause},
	{"MIT", "Permission is hereby granted, free of charge, to any person obtaining a copy of this software"},
}

// licenceOf names the licence in a folder: all that its licence file holds, as
// SPDX writes it.
func licenceOf(t *testing.T, dir string) string {
	t.Helper()
	for _, name := range []string{"LICENSE", "LICENSE.md", "LICENSE.txt", "COPYING"} {
		body, err := os.ReadFile(filepath.Join(dir, name))
		if err != nil {
			continue
		}
		text := strings.Join(strings.Fields(string(body)), " ")
		var found []string
		for _, l := range licences {
			if strings.Contains(text, l.words) {
				found = append(found, l.name)
			}
		}
		if strings.Count(text, secondClause) > strings.Count(text, thirdClause) {
			found = append(found, "BSD-2-Clause")
		}
		slices.Sort(found)
		return strings.Join(slices.Compact(found), " AND ")
	}
	return "none"
}

// npmLocked is package-lock.json.
type npmLocked struct {
	Packages map[string]struct {
		Version         string
		License         string
		DevDependencies map[string]string
		Dependencies    map[string]string
	}
}

func readLock(t *testing.T) npmLocked {
	t.Helper()
	body, err := os.ReadFile("package-lock.json")
	if err != nil {
		t.Fatal(err)
	}
	var l npmLocked
	if err := json.Unmarshal(body, &l); err != nil {
		t.Fatal(err)
	}
	return l
}

// TestDependencies holds the table in DEVELOPERS.md to go.mod, to the lock file, to
// the licence files, and to what is linked into the program. With -measure the sizes
// are measured again.
func TestDependencies(t *testing.T) {
	table, rows := dependencyTable(t), 0
	check := func(name, licence string, linked bool) {
		rows++
		d, there := table[name]
		switch {
		case !there:
			t.Errorf("no row for %s, licence %s", name, licence)
		case d.licence != licence:
			t.Errorf("%s: licence %q in the table, its file says %q", name, d.licence, licence)
		case linked != (d.size != notThere):
			t.Errorf("%s: size %q, linked into the program: %v", name, d.size, linked)
		case len(d.reason) < 10:
			t.Errorf("%s: reason %q", name, d.reason)
		}
	}
	modules := direct(t)
	linked := strings.Fields(string(output(t, "go", "list", "-deps", "-f", "{{with .Module}}{{.Path}}{{end}}", "./cmd/tankleaf")))
	for _, line := range strings.Split(strings.TrimSpace(string(output(t, "go", append([]string{"list", "-m", "-f", "{{.Path}}\t{{.Dir}}"}, modules...)...))), "\n") {
		name, dir, _ := strings.Cut(line, "\t")
		check(name, licenceOf(t, dir), slices.Contains(linked, name))
	}
	lock := readLock(t)
	for name := range lock.Packages[""].DevDependencies {
		check(name, lock.Packages["node_modules/"+name].License, false)
	}
	if len(lock.Packages[""].Dependencies) > 0 {
		t.Error("package.json has dependencies beside the check tools")
	}
	if rows != len(table) || rows < 15 {
		t.Errorf("%d dependencies, %d rows", rows, len(table))
	}
	if *measure && !t.Failed() {
		writeSizes(t, table)
	}
}

// TestLicencesMayBeUsed: whatever comes with the dependencies of the checks is
// free to use, too.
func TestLicencesMayBeUsed(t *testing.T) {
	free := []string{"MIT", "ISC", "Apache-2.0", "BSD-2-Clause", "BSD-3-Clause", "BlueOak-1.0.0", "0BSD", "CC0-1.0"}
	for name, p := range readLock(t).Packages {
		if !slices.Contains(free, p.License) {
			t.Errorf("%q has licence %q", name, p.License)
		}
	}
}

// writeSizes measures how much of the program each module is, by the symbols that
// bear its name, and writes it into the table.
func writeSizes(t *testing.T, table map[string]dependency) {
	t.Helper()
	program := filepath.Join(t.TempDir(), "tankleaf")
	output(t, "go", "build", "-o", program, "./cmd/tankleaf")
	sizes := map[string]int{}
	// The longest name first: one module may stand inside another.
	names := slices.SortedFunc(maps.Keys(table), func(a, b string) int { return len(b) - len(a) })
	for line := range strings.Lines(string(output(t, "go", "tool", "nm", "-size", program))) {
		var address, kind, symbol string
		var size int
		if n, _ := fmt.Sscan(line, &address, &size, &kind, &symbol); n < 4 {
			continue
		}
		for _, name := range names {
			if strings.Contains(symbol, symbolName(name)) {
				sizes[name] += size
				break
			}
		}
	}
	body, err := os.ReadFile("DEVELOPERS.md")
	if err != nil {
		t.Fatal(err)
	}
	text := row.ReplaceAllStringFunc(string(body), func(line string) string {
		m := row.FindStringSubmatch(line)
		if _, ours := table[m[1]]; !ours || strings.TrimSpace(m[4]) == notThere {
			return line
		}
		size := "below 0.1 MB"
		if mb := float64(sizes[m[1]]) / 1e6; mb >= 0.1 {
			size = fmt.Sprintf("%.1f MB", mb)
		}
		return fmt.Sprintf("| `%s` | %s | %s | %s |", m[1], m[2], m[3], size)
	})
	if err := os.WriteFile("DEVELOPERS.md", []byte(text), 0o644); err != nil {
		t.Fatal(err)
	}
}

// symbolName is a module's path as symbols bear it: dots in its last part are
// written as escapes.
func symbolName(module string) string {
	at := strings.LastIndex(module, "/") + 1
	return module[:at] + strings.ReplaceAll(module[at:], ".", "%2e")
}
