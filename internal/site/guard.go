package site

import (
	"errors"
	"io/fs"
)

// errNoFile says that a name leads to something that is read without end, or not
// at all: a pipe, a device, a socket.
var errNoFile = errors.New("is no plain file")

// guarded opens plain files and folders alone. To open a named pipe waits until
// somebody writes into it, which may be never.
type guarded struct{ fs.FS }

func (g guarded) Open(name string) (fs.File, error) {
	info, err := fs.Stat(g.FS, name)
	if err != nil {
		return nil, err
	}
	if !info.Mode().IsRegular() && !info.IsDir() {
		return nil, &fs.PathError{Op: "open", Path: name, Err: errNoFile}
	}
	return g.FS.Open(name)
}

func (g guarded) Stat(name string) (fs.FileInfo, error)      { return fs.Stat(g.FS, name) }
func (g guarded) Lstat(name string) (fs.FileInfo, error)     { return fs.Lstat(g.FS, name) }
func (g guarded) ReadLink(name string) (string, error)       { return fs.ReadLink(g.FS, name) }
func (g guarded) ReadDir(name string) ([]fs.DirEntry, error) { return fs.ReadDir(g.FS, name) }
