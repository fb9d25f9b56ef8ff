package page

import (
	"fmt"
	"io/fs"
	"path"
	"strings"

	"tankleaf.example/internal/compat"
	"tankleaf.example/internal/diag"
	"tankleaf.example/internal/mix"
	"tankleaf.example/internal/sheet"
)

// styleFile is the one style sheet: ours, then that of listings.
func (p *press) styleFile() ([]byte, error) {
	return append(p.shelf.style(), sheet.CSS()...), nil
}

// printStyle is the running head of printed pages, which holds words of the
// office: its name at the left, the day of publication at the right, and the
// page's number at the foot.
func (p *press) printStyle(lang mix.Lang) []byte {
	site := &p.book().Site
	office, _ := site.Office.In(lang, site.Languages[0])
	title, _ := site.Title.In(lang, site.Languages[0])
	words := p.Messages[lang]
	left := office + " · " + title
	if !site.Demonstration.IsZero() {
		left += " · " + words.T("print.demonstration")
	}
	right := words.T("print.published", "date", words.Date(site.Published))
	return fmt.Appendf(nil, `@page {
  @top-left { content: %s; }
  @top-right { content: %s; }
  @bottom-right { content: %s counter(page) %s counter(pages); }
}
`, cssString(left), cssString(right), cssString(words.T("print.page")+" "), cssString(" "+words.T("print.of")+" "))
}

// cssString quotes a text for a style sheet. Everything but letters, digits and
// spaces is written as an escape, so that no text can end the string.
func cssString(s string) string {
	var b strings.Builder
	b.WriteByte('"')
	for _, r := range s {
		if r == ' ' || r >= 'a' && r <= 'z' || r >= 'A' && r <= 'Z' || r >= '0' && r <= '9' {
			b.WriteRune(r)
			continue
		}
		fmt.Fprintf(&b, "\\%06x ", r)
	}
	b.WriteByte('"')
	return b.String()
}

// emblemFile is the sign of the site in a browser's tab.
func (p *press) emblemFile() ([]byte, error) {
	const svg = `<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 48 48"><rect width="48" height="48" rx="9" fill="#142033"/>` +
		`<g fill="none" stroke="#f8f3e7" stroke-linecap="round" stroke-linejoin="round"><path stroke-width="3" d="M16 7h16M18 7v5l-6 7v17a5 5 0 0 0 5 5h14a5 5 0 0 0 5-5V19l-6-7V7"/>` +
		`<path stroke-width="2.500" d="M12 25c4 2 7 1 12 0s8-1 12 0"/></g></svg>` + "\n"
	return []byte(svg), nil
}

// picture reads a photograph or a figure from the office's folder.
func (p *press) picture(name string) ([]byte, error) { return fs.ReadFile(p.Files, fileOf(name)) }

// fileOf is where a published picture lies in the office's folder: photographs are
// named in records as seen from data/.
func fileOf(name string) string {
	if strings.HasPrefix(name, "photos/") {
		return "data/" + name
	}
	return name
}

// maxPicture is the most that a photograph or another file of a sheet may have, in
// bytes. A phone's camera makes less; on a slow line this takes a minute.
const maxPicture = 10 << 20

// checkPictures reports pictures that are named and not there, or too large.
func (p *press) checkPictures(problems *diag.List) {
	check := func(at diag.Pos, name string) {
		if p.Files == nil {
			problems.Add(at, fmt.Sprintf("no folder to read %q from", name), "")
			return
		}
		switch info, err := fs.Lstat(p.Files, fileOf(name)); {
		case err != nil || !info.Mode().IsRegular():
			problems.Add(at, fmt.Sprintf("no file %q", fileOf(name)), "put it there, or take the name out")
		case info.Size() > maxPicture:
			problems.Add(at, fmt.Sprintf("file %q has more than %d MiB", fileOf(name), maxPicture>>20), "make it smaller: readers load it on a phone")
		}
	}
	for i := range p.book().Observations {
		if o := &p.book().Observations[i]; o.Photo != "" {
			check(o.At, cleanPath(o.Photo))
		}
	}
	for _, s := range p.Sheets {
		for _, t := range s.Links {
			if t.To == sheet.ToFile {
				check(t.At, cleanPath(t.File))
			}
		}
	}
}

// cleanPath makes a path that an author wrote one that fs takes.
func cleanPath(name string) string { return strings.TrimPrefix(path.Clean("/"+name), "/") }

// evidenceIDs names the records of a piece of evidence.
func evidenceIDs(ev compat.Evidence) []string {
	switch e := ev.(type) {
	case compat.Statement:
		return []string{"interaction:" + string(e.ID)}
	case compat.Ruling:
		return []string{"notice:" + string(e.ID)}
	case *compat.JarSet:
		var ids []string
		for _, o := range e.Jars {
			ids = append(ids, "observation:"+string(o.ID))
		}
		return ids
	}
	panic(fmt.Sprintf("page: evidence %T", ev))
}
