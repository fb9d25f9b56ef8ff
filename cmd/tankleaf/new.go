package main

import (
	"embed"
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path"
	"path/filepath"
	"strings"

	tankleaf "tankleaf.example"
)

//go:embed all:starter
var starter embed.FS

var newCommand = &command{
	name: "new",
	args: "DIR",
	does: "make a starter office that builds",
	long: `
Makes the folder DIR with everything an office needs to begin: classes,
interactions, sources, criteria, cautions and the order of addition, two made-up
products, one jar and one sheet to be replaced. It refuses a folder that holds
anything.

  tankleaf new valley-office
  tankleaf build -C valley-office
`,
	run: func(c *call) error {
		if err := c.want(1, 1); err != nil {
			return err
		}
		n, err := makeOffice(c.args[0])
		if err != nil {
			return err
		}
		if c.json {
			return c.printJSON(map[string]any{"dir": c.args[0], "files": n})
		}
		fmt.Fprintf(c.out, "made %s with %d files; next: tankleaf build -C %s\n", c.args[0], n, c.args[0])
		return nil
	},
}

// makeOffice writes the starter files and the knowledge of the demo into dir,
// which must be absent or empty, and counts the files.
func makeOffice(dir string) (int, error) {
	entries, err := os.ReadDir(dir)
	if err == nil && len(entries) > 0 {
		return 0, usagef("name a folder that does not exist yet", "%s is not empty", dir)
	}
	if err != nil && !errors.Is(err, fs.ErrNotExist) {
		return 0, err
	}
	own, err := fs.Sub(starter, "starter")
	if err != nil {
		return 0, err
	}
	n, err := copyFiles(own, dir)
	if err != nil {
		return n, err
	}
	m, err := copyFiles(tankleaf.Knowledge, dir)
	return n + m, err
}

// copyFiles writes every file of fsys below dir. It never overwrites.
func copyFiles(fsys fs.FS, dir string) (n int, err error) {
	err = fs.WalkDir(fsys, ".", func(name string, d fs.DirEntry, err error) error {
		if err != nil || d.IsDir() {
			return err
		}
		to := filepath.Join(dir, filepath.FromSlash(name))
		if strings.HasPrefix(path.Base(name), ".") {
			return nil
		}
		body, err := fs.ReadFile(fsys, name)
		if err != nil {
			return err
		}
		if err := os.MkdirAll(filepath.Dir(to), 0o755); err != nil {
			return err
		}
		n++
		return writeNew(to, body)
	})
	return n, err
}

func writeNew(name string, body []byte) error {
	f, err := os.OpenFile(name, os.O_WRONLY|os.O_CREATE|os.O_EXCL, 0o644)
	if err != nil {
		return err
	}
	if _, err := f.Write(body); err != nil {
		return errors.Join(err, f.Close())
	}
	return f.Close()
}
