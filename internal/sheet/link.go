package sheet

import (
	"bytes"
	"fmt"
	"io/fs"
	"net/url"
	"path"
	"slices"
	"strings"

	"github.com/yuin/goldmark/ast"

	"tankleaf.example/internal/diag"
	"tankleaf.example/internal/mix"
)

// Files under content/ that a sheet may show or link to. Formats that can carry
// a script are not among them.
var (
	imageFiles = []string{".png", ".jpg", ".jpeg", ".webp"}
	otherFiles = []string{".pdf", ".csv", ".txt"}
)

// link checks where a link goes and remembers it when it stays in the site.
func (r *reading) link(n ast.Node, address string) {
	at := r.addressAt(n, address)
	scheme, rest, hasScheme := strings.Cut(address, ":")
	record, isRecord := ParseRecord(scheme)
	switch {
	case strings.HasPrefix(address, "#"):
		r.inside(n, Target{At: at, To: ToSheet, ID: r.sheet.Slug, Anchor: address[1:]})
	case hasScheme && isRecord:
		r.record(n, at, record, rest)
	case hasScheme && !strings.ContainsAny(scheme, "/?#"):
		r.external(n, at, strings.ToLower(scheme), address)
	case strings.HasPrefix(address, "/"):
		r.problems.Add(at, fmt.Sprintf("link %q starts at the root of a host", address),
			"write the path from this file: the site may be opened from a folder")
	default:
		r.fileLink(n, at, address, append(otherFiles, imageFiles...))
	}
}

// addressAt is the place of a link's address, or of the link when the address
// stands elsewhere in the file.
func (r *reading) addressAt(n ast.Node, address string) diag.Pos {
	start := max(n.Pos(), 0)
	end := bytes.Index(r.body.src[start:], []byte("\n\n"))
	if end < 0 {
		end = len(r.body.src) - start
	}
	if i := bytes.Index(r.body.src[start:start+end], []byte("]("+address)); i >= 0 && address != "" {
		start += i + len("](")
	}
	return r.pos(start)
}

func (r *reading) inside(n ast.Node, t Target) {
	r.targets[n] = len(r.sheet.Links)
	r.sheet.Links = append(r.sheet.Links, t)
}

// record checks a link such as class:sulfur. Sheets are checked when all of them
// are read.
func (r *reading) record(n ast.Node, at diag.Pos, to Record, id string) {
	anchor := ""
	if to == ToSheet {
		id, anchor, _ = strings.Cut(id, "#")
	}
	if !mix.ValidID(id) {
		r.problems.Add(at, fmt.Sprintf("%q is no id", clip(id)), idHint)
		return
	}
	t := Target{At: at, To: to, ID: mix.ID(id), Anchor: anchor}
	if to != ToSheet {
		if _, ok := r.names.check(at, t.ID, r.problems, to); !ok {
			return
		}
	}
	r.inside(n, t)
}

// external lets through what a reader's browser may open.
func (r *reading) external(n ast.Node, at diag.Pos, scheme, address string) {
	u, err := url.Parse(address)
	switch {
	case scheme != "http" && scheme != "https" && scheme != "mailto":
		r.problems.Add(at, fmt.Sprintf("link to %q is not allowed", scheme+":"), schemeHint(scheme))
	case err != nil, scheme != "mailto" && u.Hostname() == "", scheme == "mailto" && !strings.Contains(u.Opaque, "@"):
		r.problems.Add(at, fmt.Sprintf("%q is not an address", address), "write https://host/path or mailto:name@host")
	case u.User != nil:
		r.problems.Add(at, "address carries a name or a password", "remove what stands before the @")
	default:
		r.outside[n] = u.String()
	}
}

func schemeHint(scheme string) string {
	allowed := append(slices.Clone(recordNames[ToClass:ToFile]), "http", "https", "mailto")
	if near := diag.Nearest(scheme, allowed); near != "" {
		return fmt.Sprintf("did you mean %q?", near+":")
	}
	return "write " + strings.Join(allowed[:len(allowed)-1], ":, ") + ": or mailto:"
}

// file checks a link to a file beside the sheet.
func (r *reading) fileLink(n ast.Node, at diag.Pos, address string, allowed []string) {
	name, err := url.PathUnescape(address)
	full := path.Join(path.Dir(r.text.file), name)
	switch {
	case err != nil || name == "" || strings.ContainsAny(name, "\\?#"):
		r.problems.Add(at, fmt.Sprintf("%q is not a path", address), "write the path from this file, such as jars/foam.png")
	case strings.HasSuffix(name, ".md"):
		r.problems.Add(at, fmt.Sprintf("link to the source file %q", address), "write sheet:"+fileSlug(name))
	case !strings.HasPrefix(full, "content/"):
		r.problems.Add(at, fmt.Sprintf("path %q leads out of content/", address), "keep files for sheets under content/")
	case !slices.Contains(allowed, strings.ToLower(path.Ext(name))):
		r.problems.Add(at, fmt.Sprintf("file %q is of no kind that sheets use", address), "allowed are "+strings.Join(allowed, ", "))
	default:
		if info, err := fs.Stat(r.fsys, full); err != nil || info.IsDir() {
			r.problems.Add(at, fmt.Sprintf("there is no file %q", full), "paths start at the folder of this sheet")
			return
		}
		r.inside(n, Target{At: at, To: ToFile, File: full})
	}
}

func fileSlug(name string) string {
	base, _, _ := strings.Cut(path.Base(name), ".")
	return base
}

func (r *reading) autoLink(n *ast.AutoLink) {
	address := string(n.URL(r.body.src))
	if n.AutoLinkType == ast.AutoLinkEmail && !strings.HasPrefix(strings.ToLower(address), "mailto:") {
		address = "mailto:" + address
	}
	r.link(n, address)
}

// image checks that a picture is ours and says in words what it shows.
func (r *reading) image(n *ast.Image) {
	address := string(n.Destination)
	at := r.addressAt(n, address)
	if plainText(n, r.body.src) == "" {
		r.problems.Add(at, "image without words for those who cannot see it", "write ![what it shows]("+address+")")
	}
	if scheme, _, ok := strings.Cut(address, ":"); ok && !strings.Contains(scheme, "/") || strings.HasPrefix(address, "/") {
		r.problems.Add(at, fmt.Sprintf("image %q is not a file of this office", address), "copy it under content/ and write its path from this file")
		return
	}
	r.fileLink(n, at, address, imageFiles)
}

// checkSheets resolves the links from sheet to sheet, now that all are known. A
// link goes to the sheet in its own language if there is one, else to any.
func checkSheets(sheets []*Sheet, n *names, problems *diag.List) {
	bySlug := map[mix.ID][]*Sheet{}
	for _, s := range sheets {
		bySlug[s.Slug] = append(bySlug[s.Slug], s)
	}
	for _, s := range sheets {
		for i, t := range s.Links {
			if t.To != ToSheet {
				continue
			}
			if _, ok := n.check(t.At, t.ID, problems, ToSheet); ok && t.Anchor != "" {
				s.setAnchor(i, choose(bySlug[t.ID], s.Lang), problems)
			}
		}
	}
}

func choose(versions []*Sheet, lang mix.Lang) *Sheet {
	for _, v := range versions {
		if v.Lang == lang {
			return v
		}
	}
	return versions[0]
}

// setAnchor gives link i of s the id attribute of the heading it names.
func (s *Sheet) setAnchor(i int, to *Sheet, problems *diag.List) {
	t := &s.Links[i]
	var known []string
	for _, h := range to.Headings {
		known = append(known, strings.TrimPrefix(h.Anchor, AnchorPrefix))
	}
	if !slices.Contains(known, t.Anchor) {
		hint := "its headings are " + strings.Join(known, ", ")
		if near := diag.Nearest(t.Anchor, known); near != "" {
			hint = fmt.Sprintf("did you mean %q?", "#"+near)
		}
		problems.Add(t.At, fmt.Sprintf("no heading %q in sheet %q", "#"+t.Anchor, to.Slug), hint)
		return
	}
	t.Anchor = AnchorPrefix + t.Anchor
}
