package site

import (
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
)

// Marker is the file by which a folder is known to be a site that we published
// or were staging.
const Marker = ".tankleaf"

const markerText = "A site published by tankleaf build, which replaces this folder whole.\n" +
	"Keep nothing else in it.\n"

// Why a folder is not replaced. All of them are mended by naming another folder
// or by moving something; none by trying again.
var (
	// ErrNotOurs says that a folder in the way was not published by us.
	ErrNotOurs = errors.New("the folder was not published by tankleaf and is not empty; name another with --out, or move it away")
	// ErrStrangers says that a published folder holds files that we did not put
	// there, which replacing it would lose.
	ErrStrangers = errors.New("the folder holds files that tankleaf did not publish, and would lose them; move them away")
	// ErrMountPoint says that the folder cannot be exchanged with another.
	ErrMountPoint = errors.New("the folder is where a file system is mounted, which cannot be exchanged in one step; publish into a folder inside it")
	// ErrReadOnly says that the old site could not be removed after the exchange.
	ErrReadOnly = errors.New("the folder is read-only for this user")
	// ErrDangling says that out is a symbolic link to nothing.
	ErrDangling = errors.New("the symbolic link leads to no folder; make that folder, or remove the link")
)

// mayReplace refuses anything but nothing, an empty folder, and a folder that
// holds our marker. A link to such a folder is not the folder.
func mayReplace(dir string) error {
	info, err := os.Lstat(dir)
	if errors.Is(err, fs.ErrNotExist) {
		return nil
	}
	if err == nil && !info.IsDir() {
		return fmt.Errorf("%s is no folder: %w", dir, ErrNotOurs)
	}
	entries, err := os.ReadDir(dir)
	if err != nil {
		return fmt.Errorf("look into %s: %w", dir, err)
	}
	if len(entries) == 0 || marked(dir) {
		return nil
	}
	return fmt.Errorf("%s: %w", dir, ErrNotOurs)
}

func marked(dir string) bool {
	info, err := os.Lstat(filepath.Join(dir, Marker))
	return err == nil && info.Mode().IsRegular()
}

// mayPublish refuses to exchange out where that would fail half-way or lose
// somebody's files.
func mayPublish(out string) error {
	if err := mayReplace(out); err != nil {
		return err
	}
	if _, err := os.Lstat(out); errors.Is(err, fs.ErrNotExist) {
		return nil
	}
	if mountPoint(out) {
		return fmt.Errorf("%s: %w", out, ErrMountPoint)
	}
	if !writable(out) {
		return fmt.Errorf("%s: %w", out, ErrReadOnly)
	}
	return strangers(out)
}

// strangers refuses a published folder with files that its manifest does not
// name. A folder without a manifest was published by nobody.
func strangers(out string) error {
	if !marked(out) {
		return nil // empty, or mayReplace had said so
	}
	f, err := os.Open(filepath.Join(out, ManifestName))
	if err != nil {
		return fmt.Errorf("read what was published: %w", err)
	}
	defer f.Close()
	sums, err := ReadManifest(f)
	if err != nil {
		return fmt.Errorf("%s: %w; move the folder away", out, err)
	}
	known := map[string]bool{Marker: true, ManifestName: true}
	for _, s := range sums {
		known[s.Path] = true
	}
	var found []string
	err = filepath.WalkDir(out, func(path string, d fs.DirEntry, err error) error {
		if err != nil || d.IsDir() {
			return err
		}
		name, err := filepath.Rel(out, path)
		if name = filepath.ToSlash(name); !known[name] {
			found = append(found, name)
		}
		return err
	})
	if err != nil || len(found) == 0 {
		return err
	}
	more := ""
	if len(found) > 1 {
		more = fmt.Sprintf(" and %d more", len(found)-1)
	}
	return fmt.Errorf("%s: %q%s: %w", out, found[0], more, ErrStrangers)
}

// remove deletes a folder that is ours, the marker last: killed half-way, what is
// left is still known to be ours.
func remove(dir string) error {
	entries, err := os.ReadDir(dir)
	if errors.Is(err, fs.ErrNotExist) {
		return nil
	}
	if err != nil {
		return err
	}
	for _, e := range entries {
		if e.Name() == Marker {
			continue
		}
		if err := os.RemoveAll(filepath.Join(dir, e.Name())); err != nil {
			return err
		}
	}
	return os.RemoveAll(dir)
}
