package site

import (
	"crypto/sha256"
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"strings"
)

// Staging is a new site in the making, in a folder beside the one it is for.
type Staging struct {
	out    string // where readers look
	dir    string // the folder being filled
	unlock func()
	sums   []Sum             // in the order written
	names  map[string]string // lower-cased path → path, for systems that fold case
}

// Stage begins a new site for the folder out. It waits for another build into
// the same parent folder, clears what a killed build left, and refuses a folder
// that is not ours. The caller ends with [Staging.Publish] or [Staging.Drop].
func Stage(out string) (*Staging, error) {
	out, err := resolve(out)
	if err != nil {
		return nil, err
	}
	parent := filepath.Dir(out)
	if err := os.MkdirAll(parent, 0o755); err != nil {
		return nil, fmt.Errorf("make the folder that holds %s: %w", out, err)
	}
	unlock, err := lock(parent)
	if err != nil {
		return nil, fmt.Errorf("wait for other builds into %s: %w", parent, err)
	}
	s := &Staging{out: out, dir: stagingName(out), unlock: unlock, names: map[string]string{}}
	if err := s.begin(); err != nil {
		unlock()
		return nil, err
	}
	return s, nil
}

// resolve follows a symbolic link at out itself, so that the folder behind it is
// exchanged and the link stays.
func resolve(out string) (string, error) {
	abs, err := filepath.Abs(out)
	if err != nil {
		return "", err
	}
	real, err := filepath.EvalSymlinks(abs)
	if !errors.Is(err, fs.ErrNotExist) {
		return real, err
	}
	if _, err := os.Lstat(abs); err == nil {
		return "", fmt.Errorf("%s: %w", out, ErrDangling)
	}
	return abs, nil
}

func stagingName(out string) string {
	return filepath.Join(filepath.Dir(out), "."+filepath.Base(out)+".tankleaf-next")
}

func (s *Staging) begin() error {
	if err := restore(s.out); err != nil {
		return err
	}
	if err := mayPublish(s.out); err != nil {
		return err
	}
	for _, left := range []string{s.dir, asideName(s.out)} {
		if err := clearLeft(left); err != nil {
			return err
		}
	}
	if err := os.Mkdir(s.dir, 0o755); err != nil {
		return fmt.Errorf("make the staging folder: %w", err)
	}
	if err := os.WriteFile(filepath.Join(s.dir, Marker), []byte(markerText), 0o644); err != nil {
		_ = os.RemoveAll(s.dir)
		return fmt.Errorf("write the marker: %w", err)
	}
	return nil
}

// clearLeft removes what a killed build left beside the site.
func clearLeft(dir string) error {
	if err := mayReplace(dir); err != nil {
		return err
	}
	if err := remove(dir); err != nil {
		return fmt.Errorf("clear what an earlier build left: %w", err)
	}
	return nil
}

// Write adds one file. The path is slash-separated and relative; it is refused
// when it leaves the site, collides with another on a system that folds case, or
// has a name that some system cannot hold.
func (s *Staging) Write(path string, body []byte) error {
	if err := s.claim(path); err != nil {
		return err
	}
	full := filepath.Join(s.dir, filepath.FromSlash(path))
	if err := os.MkdirAll(filepath.Dir(full), 0o755); err != nil {
		return err
	}
	if err := os.WriteFile(full, body, 0o644); err != nil {
		return err
	}
	s.sums = append(s.sums, Sum{path, sha256.Sum256(body)})
	return nil
}

func (s *Staging) claim(path string) error {
	if why := claim(s.names, path); why != "" {
		return fmt.Errorf("%q %s", path, why)
	}
	return nil
}

// claim takes a path for a published file, or says why it cannot be one. It
// keeps what was taken in names.
func claim(names map[string]string, path string) (why string) {
	if !fs.ValidPath(path) || path == "." || path == Marker || path == ManifestName {
		return "is no path for a published file"
	}
	for part := range strings.SplitSeq(path, "/") {
		if !portable(part) {
			return fmt.Sprintf("holds %q, a file name that some systems or servers cannot hold", part)
		}
	}
	low := strings.ToLower(path)
	if other, taken := names[low]; taken {
		return fmt.Sprintf("is the same file as %q on systems that fold case", other)
	}
	names[low] = path
	return ""
}

// reserved are the device names that Windows keeps in every folder, with or
// without an extension.
var reserved = map[string]bool{"con": true, "prn": true, "aux": true, "nul": true}

// portable reports whether name may be a file name on every common system and
// part of an address as it is. Letters outside of ASCII have two spellings that
// look alike, and copying between systems changes one into the other.
func portable(name string) bool {
	if len(name) > 200 || strings.HasSuffix(name, ".") {
		return false
	}
	for _, r := range name {
		if (r < 'a' || r > 'z') && (r < 'A' || r > 'Z') && (r < '0' || r > '9') && !strings.ContainsRune("-_.", r) {
			return false
		}
	}
	stem, _, _ := strings.Cut(strings.ToLower(name), ".")
	device := len(stem) == 4 && (stem[:3] == "com" || stem[:3] == "lpt") && stem[3] >= '0' && stem[3] <= '9'
	return !reserved[stem] && !device
}

// Publish writes the manifest and puts the staged site in place of the old one.
func (s *Staging) Publish() error {
	defer s.unlock()
	if err := s.publish(); err != nil {
		_ = remove(s.dir)
		return err
	}
	return nil
}

func (s *Staging) publish() error {
	if err := os.WriteFile(filepath.Join(s.dir, ManifestName), manifest(s.sums), 0o644); err != nil {
		return fmt.Errorf("write the manifest: %w", err)
	}
	if err := syncTree(s.dir); err != nil {
		return fmt.Errorf("bring the new site to the disk: %w", err)
	}
	if err := mayPublish(s.out); err != nil { // it may have changed while we wrote
		return err
	}
	if err := swap(s.dir, s.out); err != nil {
		return fmt.Errorf("put the new site in place: %w", err)
	}
	if err := syncFolder(filepath.Dir(s.out)); err != nil {
		return fmt.Errorf("the new site is in place; bring that to the disk: %w", err)
	}
	if err := remove(s.dir); err != nil {
		return fmt.Errorf("the new site is in place; remove the old one: %w", err)
	}
	return nil
}

// Drop gives up the staged site and leaves the old one as it was.
func (s *Staging) Drop() error {
	defer s.unlock()
	return remove(s.dir)
}
