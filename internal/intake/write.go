package intake

import (
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
)

// Write puts the records into a new folder of an office's observations. They are
// written into a hidden folder beside it first, which readers pass over, and appear
// by one rename; on any failure nothing is left behind. A folder that is there is
// never touched.
func Write(office, folder string, records []Record) error {
	home := filepath.Join(office, filepath.FromSlash(dir))
	to := filepath.Join(home, folder)
	if _, err := os.Lstat(to); !errors.Is(err, fs.ErrNotExist) {
		return fmt.Errorf("make %s: it is there already", to)
	}
	if err := os.MkdirAll(home, 0o755); err != nil {
		return err
	}
	staging, err := os.MkdirTemp(home, ".importing-*")
	if err != nil {
		return err
	}
	if err := fill(staging, records); err != nil {
		return errors.Join(err, os.RemoveAll(staging))
	}
	if err := os.Rename(staging, to); err != nil {
		return errors.Join(err, os.RemoveAll(staging))
	}
	return nil
}

func fill(staging string, records []Record) error {
	if err := os.Chmod(staging, 0o755); err != nil {
		return err
	}
	for i := range records {
		if err := writeFile(filepath.Join(staging, string(records[i].ID)+".yaml"), records[i].Text); err != nil {
			return err
		}
	}
	return nil
}

// writeFile writes a new file down to the disk.
func writeFile(name string, text []byte) error {
	f, err := os.OpenFile(name, os.O_WRONLY|os.O_CREATE|os.O_EXCL, 0o644)
	if err != nil {
		return err
	}
	_, err = f.Write(text)
	return errors.Join(err, f.Sync(), f.Close())
}
