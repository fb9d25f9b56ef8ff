package sheet

import (
	"cmp"
	"fmt"
	"io/fs"
	"path"
	"slices"
	"strings"

	"github.com/yuin/goldmark/ast"

	"tankleaf.example/internal/diag"
	"tankleaf.example/internal/folder"
	"tankleaf.example/internal/mix"
)

// Load reads every content/**/*.md of an office's folder. The book is what its
// data/ folder holds: sheets refer to its records. Sheets with problems are
// returned as far as they could be read, so that one run shows all; they must
// not be published. Sheets come back in the order of their slugs, and of the
// site's languages.
func Load(fsys fs.FS, book *mix.Book) ([]*Sheet, diag.List) {
	var problems diag.List
	n := newNames(book)
	var sheets []*Sheet
	office := folder.Dir{FS: fsys, Problems: &problems}
	for _, name := range files(office) {
		raw, ok := office.Read(name, maxBytes)
		if !ok {
			continue
		}
		var own diag.List
		if s := read(&reading{fsys: fsys, names: n, problems: &own}, name, raw, book); s != nil {
			sheets = append(sheets, s)
		}
		problems = append(problems, cut(own.Sorted())...)
	}
	sheets = unique(sheets, &problems)
	for _, s := range sheets {
		n.add(ToSheet, s.Slug)
	}
	slices.SortFunc(sheets, func(a, b *Sheet) int {
		return cmp.Or(cmp.Compare(a.Slug, b.Slug), cmp.Compare(rank(book, a.Lang), rank(book, b.Lang)), cmp.Compare(a.At.File, b.At.File))
	})
	orphans(sheets, &problems)
	checkSheets(sheets, n, &problems)
	return sheets, problems.Sorted()
}

// maxProblems is how many problems of one sheet are listed.
const maxProblems = 200

// cut shortens the list of a sheet that is beyond mending line by line.
func cut(list diag.List) diag.List {
	more := len(list) - maxProblems
	if more <= 0 {
		return list
	}
	add := (*diag.List).Warn
	if list[maxProblems:].Stops() {
		add = (*diag.List).Add
	}
	list = list[:maxProblems:maxProblems]
	add(&list, list[maxProblems-1].Pos, fmt.Sprintf("%d more problems in this sheet are not shown", more), "mend these first and check again")
	return list
}

func rank(b *mix.Book, l mix.Lang) int { return slices.Index(b.Site.Languages, l) }

// files lists the markdown files, in order. A folder without content/ has no
// sheets, which is no problem.
func files(office folder.Dir) []string {
	var all []string
	if !office.Is("content") {
		return nil
	}
	err := fs.WalkDir(office.FS, "content", func(name string, d fs.DirEntry, err error) error {
		switch {
		case err != nil:
			office.Fails(name, err)
			return fs.SkipDir
		case strings.HasPrefix(d.Name(), ".") && d.IsDir():
			return fs.SkipDir
		case strings.HasPrefix(d.Name(), "."):
		case d.Type()&fs.ModeSymlink != 0:
			office.Plain(name, d.Type())
		case d.IsDir() && path.Ext(name) == ".md":
			office.Plain(name, d.Type())
			return fs.SkipDir
		case !d.IsDir() && path.Ext(name) == ".md":
			all = append(all, name)
		}
		return nil
	})
	if err != nil {
		office.Fails("content", err)
	}
	return all
}

// reserved are names that Windows keeps for devices, whatever ends them.
var reserved = map[string]bool{"con": true, "prn": true, "aux": true, "nul": true}

// read reads one file; nil means that nothing of it can be used.
func read(r *reading, file string, raw []byte, book *mix.Book) *Sheet {
	at := diag.Pos{File: file, Line: 1, Col: 1}
	slug := fileSlug(file)
	switch {
	case reserved[slug]:
		r.problems.Add(diag.Pos{File: file}, fmt.Sprintf("file name %q is one that Windows keeps for itself, and names a page", path.Base(file)), "choose another")
		return nil
	case !mix.ValidID(slug) || strings.Count(path.Base(file), ".") > 2:
		r.problems.Add(diag.Pos{File: file}, fmt.Sprintf("file name %q is not that of a sheet", path.Base(file)),
			"use lower-case letters, digits and single hyphens: jar-test.md, or jar-test.es.md for a translation")
		return nil
	}
	t, ok := newText(file, raw, r.problems)
	if !ok {
		return nil
	}
	r.body = &body{text: t, targets: map[ast.Node]int{}, outside: map[ast.Node]string{}, blocks: map[ast.Node]Block{}}
	r.sheet = &Sheet{At: at, Slug: mix.ID(slug), Lang: langOfFile(file), body: r.body}
	if r.sheet.Lang == "" && len(book.Site.Languages) > 0 {
		r.sheet.Lang = book.Site.Languages[0]
	}
	r.anchors = anchors{}
	r.book = book
	if !r.readFront(&book.Site) {
		return nil
	}
	r.parse()
	return r.sheet
}

// unique drops a second sheet of one slug and language.
func unique(sheets []*Sheet, problems *diag.List) []*Sheet {
	type key struct {
		slug mix.ID
		lang mix.Lang
	}
	first := map[key]*Sheet{}
	return slices.DeleteFunc(sheets, func(s *Sheet) bool {
		k := key{s.Slug, s.Lang}
		old, again := first[k]
		if again {
			problems.Add(s.At, fmt.Sprintf("duplicate sheet %q", s.Slug), "name the file otherwise: folders do not tell sheets apart", "first used at "+old.At.File)
			return true
		}
		first[k] = s
		return false
	})
}

// orphans warns of a translation whose original is not there: as a rule the name
// of one of the two is misspelt.
func orphans(sheets []*Sheet, problems *diag.List) {
	original := map[mix.ID]bool{}
	var slugs []string
	for _, s := range sheets {
		if langOfFile(s.At.File) == "" {
			original[s.Slug] = true
			slugs = append(slugs, string(s.Slug))
		}
	}
	for _, s := range sheets {
		if original[s.Slug] {
			continue
		}
		hint := ""
		if near := diag.Nearest(string(s.Slug), slugs); near != "" {
			hint = fmt.Sprintf("did you mean %s.%s.md?", near, s.Lang)
		}
		problems.Warn(s.At, fmt.Sprintf("translation %q has no original", path.Base(s.At.File)), hint)
	}
}
