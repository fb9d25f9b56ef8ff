package site

import (
	"errors"
	"io/fs"
	"os"

	"golang.org/x/sys/unix"
)

// swap puts the folder next in place of out in one step: exchanged when out
// exists, renamed when it does not. After it next is the old site or gone.
func swap(next, out string) error {
	err := unix.Renameat2(unix.AT_FDCWD, next, unix.AT_FDCWD, out, unix.RENAME_EXCHANGE)
	switch {
	case err == nil:
		return nil
	case errors.Is(err, fs.ErrNotExist):
		return os.Rename(next, out)
	case errors.Is(err, unix.EINVAL), errors.Is(err, unix.ENOSYS), errors.Is(err, unix.ENOTSUP):
		return swapInTwo(next, out) // a file system without exchange
	case errors.Is(err, unix.EBUSY), errors.Is(err, unix.EXDEV):
		return ErrMountPoint
	}
	return &os.LinkError{Op: "exchange", Old: next, New: out, Err: err}
}

// syncTree asks the kernel to write the file system that holds dir, once for all
// files, before the exchange makes them visible.
func syncTree(dir string) error {
	f, err := os.Open(dir)
	if err != nil {
		return err
	}
	defer f.Close()
	return unix.Syncfs(int(f.Fd()))
}

// syncFolder brings the names in a folder to the disk: after a power cut the
// exchange has happened before the old site is gone.
func syncFolder(dir string) error {
	f, err := os.Open(dir)
	if err != nil {
		return err
	}
	defer f.Close()
	err = f.Sync()
	if errors.Is(err, unix.EINVAL) || errors.Is(err, unix.ENOTSUP) {
		return nil // a file system whose folders need none
	}
	return err
}
