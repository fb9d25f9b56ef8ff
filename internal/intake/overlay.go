package intake

import (
	"bytes"
	"io"
	"io/fs"
	"path"
	"slices"
	"strings"
	"time"
)

// overlay is an office with one more folder of files, none of which is written.
type overlay struct {
	fs.FS
	folder string // not in FS
	files  map[string][]byte
}

// Open opens a new file or passes the name on.
func (o *overlay) Open(name string) (fs.File, error) {
	if text, ok := o.files[name]; ok {
		return &openFile{entry{path.Base(name), len(text), false}, bytes.NewReader(text)}, nil
	}
	if name == o.folder || strings.HasPrefix(o.folder, name+"/") {
		return o.openDir(name)
	}
	return o.FS.Open(name)
}

func (o *overlay) openDir(name string) (fs.File, error) {
	list, err := o.ReadDir(name)
	if err != nil {
		return nil, err
	}
	d := &openDir{info: entry{path.Base(name), 0, true}, list: list}
	if info, err := fs.Stat(o.FS, name); err == nil {
		d.info = info
	}
	return d, nil
}

// isNewDir reports whether a folder is there only because of the new files.
func (o *overlay) isNewDir(name string) bool {
	if name != o.folder && !strings.HasPrefix(o.folder, name+"/") {
		return false
	}
	_, err := fs.Stat(o.FS, name)
	return err != nil
}

// ReadDir lists what is there and what is new.
func (o *overlay) ReadDir(name string) ([]fs.DirEntry, error) {
	var list []fs.DirEntry
	if !o.isNewDir(name) {
		var err error
		if list, err = fs.ReadDir(o.FS, name); err != nil {
			return nil, err
		}
	}
	add := func(e entry) {
		if !slices.ContainsFunc(list, func(d fs.DirEntry) bool { return d.Name() == e.name }) {
			list = append(list, e)
		}
	}
	if below, ok := strings.CutPrefix(o.folder, name+"/"); ok {
		first, _, _ := strings.Cut(below, "/")
		add(entry{first, 0, true})
	}
	for file, text := range o.files {
		if path.Dir(file) == name {
			add(entry{path.Base(file), len(text), false})
		}
	}
	slices.SortFunc(list, func(a, b fs.DirEntry) int { return strings.Compare(a.Name(), b.Name()) })
	return list, nil
}

// entry is a new file or folder.
type entry struct {
	name string
	size int
	dir  bool
}

func (e entry) Name() string               { return e.name }
func (e entry) Size() int64                { return int64(e.size) }
func (e entry) IsDir() bool                { return e.dir }
func (e entry) ModTime() time.Time         { return time.Time{} }
func (e entry) Sys() any                   { return nil }
func (e entry) Info() (fs.FileInfo, error) { return e, nil }
func (e entry) Type() fs.FileMode          { return e.Mode().Type() }

func (e entry) Mode() fs.FileMode {
	if e.dir {
		return fs.ModeDir | 0o755
	}
	return 0o644
}

// openFile is a new file being read.
type openFile struct {
	entry
	*bytes.Reader
}

func (f *openFile) Stat() (fs.FileInfo, error) { return f.entry, nil }
func (f *openFile) Close() error               { return nil }
func (f *openFile) Size() int64                { return f.entry.Size() }

// openDir is a folder with something new in it being read.
type openDir struct {
	info fs.FileInfo
	list []fs.DirEntry
}

func (d *openDir) Stat() (fs.FileInfo, error) { return d.info, nil }
func (d *openDir) Close() error               { return nil }

func (d *openDir) Read([]byte) (int, error) {
	return 0, &fs.PathError{Op: "read", Path: d.info.Name(), Err: fs.ErrInvalid}
}

// ReadDir returns the next n entries, or all that are left.
func (d *openDir) ReadDir(n int) ([]fs.DirEntry, error) {
	if n > 0 && len(d.list) == 0 {
		return nil, io.EOF
	}
	if n <= 0 || n > len(d.list) {
		n = len(d.list)
	}
	next := d.list[:n]
	d.list = d.list[n:]
	return next, nil
}
