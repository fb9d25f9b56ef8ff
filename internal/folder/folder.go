// Package folder reads what an office put into its folder: plain files, whole and up
// to a size, and names in a folder. Whatever else stands under a name is a problem
// at that name, told with what to do instead: a link, which could lead anywhere; a
// folder; a pipe or a device, at which a reader may wait for ever; a file that is
// larger than anybody writes; one that may not be read.
//
// Invariants:
//   - nothing is opened before it is known to be a plain file or a folder;
//   - no link is followed, wherever it leads;
//   - no more is read than the limit and one byte;
//   - what could not be read is told, once, and never left out in silence.
//
// It does not know what files mean.
package folder

import (
	"bytes"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"path"
	"strings"
	"unicode/utf8"

	"tankleaf.example/internal/diag"
)

// Dir is a folder that is read, with what is wrong in it.
type Dir struct {
	FS       fs.FS
	Shown    string // what authors see before a name: "templates/"; "" for the office's own folder
	Problems *diag.List
}

func (f Dir) at(name string) diag.Pos { return diag.Pos{File: f.Shown + name} }

// Read returns the bytes of a plain file; false when there are none to be had, which
// was told. A file of more than the limit in bytes is a problem too.
func (f Dir) Read(name string, limit int) ([]byte, bool) {
	info, err := fs.Lstat(f.FS, name)
	if err != nil {
		f.Fails(name, err)
		return nil, false
	}
	if !f.Plain(name, info.Mode()) {
		return nil, false
	}
	if info.Size() > int64(limit) {
		f.tooLarge(name, limit)
		return nil, false
	}
	text, err := f.open(name, limit)
	if err != nil {
		f.Fails(name, err)
		return nil, false
	}
	if len(text) > limit { // it grew, or did not say how large it is
		f.tooLarge(name, limit)
		return nil, false
	}
	return text, true
}

func (f Dir) tooLarge(name string, limit int) {
	f.Problems.Add(f.at(name), "larger than "+size(limit), "split it into several files")
}

func (f Dir) open(name string, limit int) ([]byte, error) {
	opened, err := f.FS.Open(name)
	if err != nil {
		return nil, err
	}
	defer opened.Close()
	return io.ReadAll(io.LimitReader(opened, int64(limit)+1))
}

// Plain reports whether a mode is that of a plain file; otherwise it tells what
// stands there.
func (f Dir) Plain(name string, mode fs.FileMode) bool {
	switch {
	case mode.IsRegular():
		return true
	case mode&fs.ModeSymlink != 0:
		f.Problems.Add(f.at(name), "symbolic link: links are not followed", "put the file itself here")
	case mode.IsDir():
		f.Problems.Add(f.at(name), "is a folder, where a file is read", "put a file here, or name the folder otherwise")
	default:
		f.Problems.Add(f.at(name), "is no plain file", "put a plain file here; pipes and devices are not read")
	}
	return false
}

// Fails tells that a name could not be read, in words that do not hold the names of
// the machine.
func (f Dir) Fails(name string, err error) {
	switch {
	case errors.Is(err, fs.ErrNotExist):
		f.Problems.Add(f.at(name), "no such file", "put it there, or take its name out")
	case errors.Is(err, fs.ErrPermission):
		f.Problems.Add(f.at(name), "may not be read", "give yourself the right to read it: chmod u+r "+path.Base(name))
	default:
		f.Problems.Add(f.at(name), "cannot be read: "+reason(err), "look whether the disk is sound, and copy the file again")
	}
}

// reason is an error's cause without what was done and to which path.
func reason(err error) string {
	if p, ok := errors.AsType[*fs.PathError](err); ok {
		return p.Err.Error()
	}
	return err.Error()
}

// Text returns a text in UTF-8 with the line ends of Unix, without the mark that
// editors on Windows put before it. Bytes that are no UTF-8 and characters that
// nobody sees are told at their place.
func (f Dir) Text(name string, limit int) (string, bool) {
	raw, ok := f.Read(name, limit)
	if !ok {
		return "", false
	}
	raw = bytes.TrimPrefix(raw, []byte("\ufeff"))
	raw = bytes.ReplaceAll(raw, []byte("\r\n"), []byte("\n"))
	if at := strange(raw); at >= 0 {
		f.refuse(name, raw, at)
		return "", false
	}
	return string(raw), true
}

// strange returns the first byte that is no part of a text, -1 for none.
func strange(text []byte) int {
	for i := 0; i < len(text); {
		r, n := utf8.DecodeRune(text[i:])
		if r == utf8.RuneError && n == 1 || r < ' ' && r != '\t' && r != '\n' || r == 0x7f {
			return i
		}
		i += n
	}
	return -1
}

func (f Dir) refuse(name string, text []byte, at int) {
	before := text[:at]
	p := f.at(name)
	p.Line = bytes.Count(before, []byte("\n")) + 1
	p.Col = utf8.RuneCount(before[bytes.LastIndexByte(before, '\n')+1:]) + 1
	if text[at] >= utf8.RuneSelf {
		f.Problems.Add(p, fmt.Sprintf("byte 0x%02x is not UTF-8 text", text[at]), "save the file as UTF-8")
		return
	}
	f.Problems.Add(p, fmt.Sprintf("control character U+%04X", text[at]), "remove it")
}

// Below lists what stands in a folder, in order of name: the files of an ending,
// which are still to be read, and the folders. Nothing when there is no such folder.
// Other plain files and names that begin with a dot are left out; links, pipes and a
// folder that is none are told.
func (f Dir) Below(name, ending string) (files, folders []string) {
	for _, d := range f.entries(name) {
		below := path.Join(name, d.Name())
		switch mode := d.Type(); {
		case strings.HasPrefix(d.Name(), "."):
		case path.Ext(below) == ending:
			files = append(files, below)
		case mode.IsDir():
			folders = append(folders, below)
		default:
			f.Plain(below, mode)
		}
	}
	return files, folders
}

// Is reports whether there is a folder of a name to look into. What stands there
// otherwise is told; nothing is no problem.
func (f Dir) Is(name string) bool {
	info, err := fs.Lstat(f.FS, name)
	switch {
	case errors.Is(err, fs.ErrNotExist):
	case err != nil:
		f.Fails(name, err)
	case info.Mode().IsRegular():
		f.Problems.Add(f.at(name), "is no folder", "make a folder of that name, and put the files into it")
	case !info.IsDir():
		f.Plain(name, info.Mode())
	default:
		return true
	}
	return false
}

func (f Dir) entries(name string) []fs.DirEntry {
	if !f.Is(name) {
		return nil
	}
	list, err := fs.ReadDir(f.FS, name)
	if err != nil {
		f.Fails(name, err)
	}
	return list
}

// size writes a limit: "16 MiB".
func size(n int) string {
	if n%(1<<20) == 0 {
		return fmt.Sprintf("%d MiB", n>>20)
	}
	return fmt.Sprintf("%d KiB", n>>10)
}
