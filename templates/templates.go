// Package templates holds what pages are printed with: HTML templates, the parts
// of the style sheet and the catalogues of messages, embedded so that one binary
// publishes a site. An office that keeps a templates/ folder of its own lays it
// over this one: files of the same name replace ours.
//
//	*.html           base.html and parts.html around all pages, one file a page
//	styles/*.css     joined in order of name into style.css
//	messages         one catalogue a language: LANG.yaml and LANG/*.yaml
//	client           the sources of the scripts, which an office cannot replace
package templates

import (
	"embed"
	"io/fs"
)

// FS holds the files named above.
//
//go:embed *.html styles/*.css messages client
var FS embed.FS

// Client returns the sources of the scripts alone.
func Client() fs.FS {
	sub, err := fs.Sub(FS, "client")
	if err != nil {
		panic(err) // the folder is embedded above
	}
	return sub
}
