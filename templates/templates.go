// Package templates holds what pages are printed with: HTML templates, the parts
// of the style sheet and the catalogues of messages, embedded so that one binary
// publishes a site. An office that keeps a templates/ folder of its own lays it
// over this one: files of the same name replace ours.
//
//	*.html           base.html and parts.html around all pages, one file a page
//	styles/*.css     joined in order of name into style.css
//	messages         one catalogue a language: LANG.yaml and LANG/*.yaml
package templates

import "embed"

// FS holds the files named above.
//
//go:embed *.html styles/*.css messages
var FS embed.FS
