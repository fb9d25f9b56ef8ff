package site

import (
	"io/fs"
	"testing/fstest"

	"tankleaf.example/internal/diag"
	"tankleaf.example/internal/message"
	"tankleaf.example/internal/mix"
	"tankleaf.example/templates"
)

// LimitCopies has editions kept whole up to so many files, until restore.
func LimitCopies(files int) (restore func()) {
	old := mostCopyFiles
	mostCopyFiles = files
	return func() { mostCopyFiles = old }
}

// OfficeOf returns the office of a book that was not read from files.
func OfficeOf(b *mix.Book) (*Office, diag.List) {
	o := &Office{Book: b, Index: mix.NewIndex(b), layers: []fs.FS{templates.FS}, files: fstest.MapFS{}}
	var problems diag.List
	o.Messages, problems = message.Load(o.layers...)
	return o, problems
}
