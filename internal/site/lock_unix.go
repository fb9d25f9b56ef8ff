//go:build unix

package site

import (
	"os"

	"golang.org/x/sys/unix"
)

// lock takes the parent folder itself as the lock, so that no lock file is left
// behind; the kernel lets go of it when the process dies, however it dies.
func lock(parent string) (unlock func(), err error) {
	f, err := os.Open(parent)
	if err != nil {
		return nil, err
	}
	for {
		err = unix.Flock(int(f.Fd()), unix.LOCK_EX)
		if err != unix.EINTR {
			break
		}
	}
	if err != nil {
		f.Close()
		return nil, err
	}
	return func() { f.Close() }, nil
}
