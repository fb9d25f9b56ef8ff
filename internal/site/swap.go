package site

import (
	"errors"
	"io/fs"
	"os"
	"path/filepath"
)

func asideName(out string) string {
	return filepath.Join(filepath.Dir(out), "."+filepath.Base(out)+".tankleaf-old")
}

// restore brings the old site back when a build was killed between the two
// renames of swapInTwo.
func restore(out string) error {
	_, err := os.Lstat(out)
	if !errors.Is(err, fs.ErrNotExist) {
		return err
	}
	err = os.Rename(asideName(out), out)
	if errors.Is(err, fs.ErrNotExist) {
		return nil
	}
	return err
}

// swapInTwo moves the old site aside and the new one in. Between the two renames
// out is absent; where that matters, use a system that exchanges folders.
func swapInTwo(next, out string) error {
	aside := asideName(out)
	if err := clearLeft(aside); err != nil {
		return err
	}
	err := os.Rename(out, aside)
	if err != nil && !errors.Is(err, fs.ErrNotExist) {
		return err
	}
	moved := err == nil
	if err := os.Rename(next, out); err != nil {
		if moved {
			return errors.Join(err, os.Rename(aside, out))
		}
		return err
	}
	return remove(aside)
}
