package main

import (
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"

	"tankleaf.example/internal/diag"
	"tankleaf.example/internal/intake"
	"tankleaf.example/internal/mix"
)

var importCommand = &command{
	name: "import",
	args: "FILE [--into NAME] [--dry-run] [-C DIR] [--json]",
	does: "make observations of a filled-in record sheet",
	long: `
Reads a table of jars, a CSV export of the record sheet with one line for each jar
and reading, and makes one observation of each jar: all of them, or none. They
appear in a new folder of data/observations, named after the table or by --into.
Headings and words are those of an observation; tankleaf trial --sheet FILE writes
a table to be filled in. What is wrong is told by row and column. A record that is
there is never replaced.

  tankleaf import bench-day.csv
  tankleaf import bench-day.csv --into 2026-spring --dry-run
`,
	run: runImport,
}

func runImport(c *call) error {
	into, dry := c.flags.String("into", "", ""), c.flags.Bool("dry-run", false, "")
	if err := c.want(1, 1); err != nil {
		return err
	}
	name := c.args[0]
	text, err := readTable(name)
	if err != nil {
		return err
	}
	if *into == "" {
		*into = intake.Folder(name)
	}
	if !mix.ValidID(*into) {
		return usagef(fmt.Sprintf("write %q", intake.Folder(*into)), "%q is no name of a folder", *into)
	}
	records, problems := intake.Read(filepath.ToSlash(name), text)
	if !problems.Stops() {
		found, err := c.checkIntake(*into, records)
		if err != nil {
			return err
		}
		problems = append(problems, found...).Sorted()
	}
	if problems.Stops() {
		if c.json {
			return c.reportJSON(problems, nil)
		}
		return c.report(problems)
	}
	if err := c.report(problems); err != nil { // warnings
		return err
	}
	if !*dry {
		if err := intake.Write(c.dir, *into, records); err != nil {
			return err
		}
	}
	return c.imported(*into, *dry, records)
}

// readTable reads the file, but no more of it than is worth refusing.
func readTable(name string) ([]byte, error) {
	info, err := plainFile(name, "a CSV file")
	if err != nil {
		return nil, err
	}
	if info.Size() > intake.MaxBytes {
		return nil, usagef("split it", "%s is larger than %d MB", name, intake.MaxBytes>>20)
	}
	text, err := os.ReadFile(name)
	return text, unreadable(name, err)
}

// plainFile looks at a file that somebody named, without opening it: a pipe would be
// waited at for ever.
func plainFile(name, what string) (os.FileInfo, error) {
	info, err := os.Stat(name)
	switch {
	case errors.Is(err, fs.ErrNotExist):
		return nil, usagef("name "+what, "there is no file %s", name)
	case err != nil:
		return nil, unreadable(name, err)
	case info.IsDir():
		return nil, usagef("name "+what+" in it", "%s is a folder", name)
	case !info.Mode().IsRegular():
		return nil, usagef("name "+what+"; pipes and devices are not read", "%s is no plain file", name)
	}
	return info, nil
}

// unreadable says in our words that a named file may not be read; other failures stay
// those of the machine.
func unreadable(name string, err error) error {
	if errors.Is(err, fs.ErrPermission) {
		return usagef("give yourself the right to read it: chmod u+r "+filepath.Base(name), "%s may not be read", name)
	}
	return err
}

func (c *call) checkIntake(into string, records []intake.Record) (diag.List, error) {
	if info, err := os.Stat(filepath.Join(c.dir, "data")); err != nil || !info.IsDir() {
		return nil, usagef("name one with -C DIR, or make one: tankleaf new DIR", "%s is not an office folder: it has no data/", c.dir)
	}
	root, err := os.OpenRoot(c.dir) // links that lead outside are not followed
	if err != nil {
		return nil, err
	}
	defer root.Close()
	return intake.Check(root.FS(), into, records), nil
}

func (c *call) imported(into string, dry bool, records []intake.Record) error {
	var ids []mix.ID
	for i := range records {
		ids = append(ids, records[i].ID)
	}
	if c.json {
		return c.printJSON(map[string]any{"ok": true, "folder": "data/observations/" + into, "written": !dry, "observations": ids})
	}
	did := "imported"
	if dry {
		did = "would import"
	}
	fmt.Fprintf(c.out, "%s %d observations into data/observations/%s\n", did, len(records), into)
	return nil
}
