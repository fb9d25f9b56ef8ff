package dataset

import (
	"cmp"
	"fmt"
	"io/fs"
	"path"
	"slices"
	"strings"

	"tankleaf.example/internal/diag"
	"tankleaf.example/internal/folder"
	"tankleaf.example/internal/mix"
	"tankleaf.example/internal/yamlpos"
)

// dir is the folder of an office that is read; siteFile is read before all else,
// because it says in which languages and up to which day the rest is written.
// photoDir holds pictures, which are not read.
const (
	dir      = "data"
	siteFile = dir + "/site.yaml"
	photoDir = dir + "/photos"
)

// maxShown is how many problems one run lists; beyond it the list says how many
// more there are. Ten screens are more than anybody mends in one go.
const maxShown = 500

// loader collects the book and what has to be looked at once all is read.
type loader struct {
	fsys     fs.FS
	table    []fileKind // what may stand below data/; the site first
	problems diag.List
	book     mix.Book
	lang     mix.Lang   // the office's own
	langs    []mix.Lang // allowed in texts; nil: any
	today    mix.Date   // day of publication; zero: not known
	defs     map[space]map[mix.ID]definition
	refs     []reference
	repeats  []mix.Ref // members that stand twice in one interaction
	rates    []usedRate
	dry      []trialRates    // trials without a spray volume
	unread   map[string]bool // kinds of which a file could not be read
	file     input           // being read
}

// input is a file on its way through the loader.
type input struct {
	name string
	text []byte
}

// Load reads the folder data/ of an office. It returns what could be read and
// everything that is wrong; paths in the list start with data/. Only an error of
// the list that stops publication makes the book unfit for use.
func Load(fsys fs.FS) (*mix.Book, diag.List) {
	l := newLoader(fsys)
	if !l.folder().Is(dir) {
		if len(l.problems) == 0 {
			l.problems.Add(diag.Pos{File: dir}, "no such folder", "make an office with tankleaf new DIR")
		}
		return &l.book, l.problems
	}
	files := l.files()
	if slices.Contains(files, siteFile) {
		l.read(siteFile, l.table[0])
	} else if _, err := fs.Lstat(fsys, siteFile); err != nil { // what stands there instead was told
		l.problems.Add(diag.Pos{File: siteFile}, "no such file", "write one with office, title, languages and published")
	}
	for _, name := range files {
		if name != siteFile {
			l.readFile(name)
		}
	}
	l.sortBook()
	l.check()
	return &l.book, cut(l.problems.Sorted())
}

func newLoader(fsys fs.FS) *loader {
	l := &loader{fsys: fsys, lang: "en", defs: map[space]map[mix.ID]definition{}, unread: map[string]bool{}}
	l.table = l.kinds()
	l.book.Routine = mix.UsualRoutine()
	return l
}

// cut shortens a list that nobody would read to its end.
func cut(list diag.List) diag.List {
	if len(list) <= maxShown {
		return list
	}
	more := len(list) - maxShown
	list = slices.Clone(list[:maxShown])
	list.Add(list[maxShown-1].Pos, fmt.Sprintf("%d more problems are not shown", more), "mend these first and check again")
	return list
}

// files lists the files to be read in the order of their names.
func (l *loader) files() []string {
	var files []string
	err := fs.WalkDir(l.fsys, dir, func(name string, d fs.DirEntry, err error) error {
		switch {
		case err != nil:
			l.unread[kindOf(name)] = true
			l.folder().Fails(name, err)
			return nil
		case name == dir:
		case strings.HasPrefix(d.Name(), "."), name == dir+"/schema" && d.IsDir():
			if d.IsDir() {
				return fs.SkipDir
			}
		case d.Type()&fs.ModeSymlink != 0:
			l.unread[kindOf(name)] = true
			l.folder().Plain(name, d.Type())
		case d.IsDir() && path.Ext(name) == ".yaml":
			l.unread[kindOf(name)] = true
			l.folder().Plain(name, d.Type())
			return fs.SkipDir
		case d.IsDir() || path.Ext(name) == ".md" || strings.HasPrefix(name, photoDir+"/"):
		default:
			files = append(files, name)
		}
		return nil
	})
	if err != nil {
		l.folder().Fails(dir, err)
	}
	slices.Sort(files)
	return files
}

// kindOf is what the place of a file or folder in data/ says of its records.
func kindOf(name string) string {
	top, _, _ := strings.Cut(strings.TrimPrefix(name, dir+"/"), "/")
	return strings.TrimSuffix(top, path.Ext(top))
}

// folder is the office's, with what is wrong in it.
func (l *loader) folder() folder.Dir { return folder.Dir{FS: l.fsys, Problems: &l.problems} }

// readFile reads a file by the kind that its place in data/ says.
func (l *loader) readFile(name string) {
	rel := strings.TrimPrefix(name, dir+"/")
	top, below, nested := strings.Cut(rel, "/")
	var names []string
	for _, k := range l.table {
		names = append(names, k.Name)
		oneFile := !nested && rel == k.Name+".yaml"
		inFolder := nested && top == k.Name && (!strings.Contains(below, "/") || k.Deep) && path.Ext(below) == ".yaml"
		if oneFile && !k.Deep || inFolder && !k.Alone {
			l.read(name, k)
			return
		}
	}
	hint := "files are data/KIND.yaml or data/KIND/NAME.yaml, KIND one of " + strings.Join(names, ", ")
	base := strings.TrimSuffix(top, path.Ext(top))
	switch near := diag.Nearest(base, names); {
	case path.Ext(rel) == ".yml":
		hint = "rename it to end in .yaml"
	case near != "":
		hint = fmt.Sprintf("did you mean %q?", near)
	case base == "observations":
		hint = "observations are one file each: data/observations/ID.yaml"
	}
	l.problems.Add(diag.Pos{File: name}, "file of no known kind", hint)
}

func (l *loader) read(name string, k fileKind) {
	text, ok := l.folder().Read(name, yamlpos.MaxBytes)
	if !ok {
		l.unread[k.Name] = true
		return
	}
	l.file = input{name, text}
	l.checkMark(k)
	n, ok := yamlpos.Parse(yamlpos.Source{File: name, Text: text}, &l.problems)
	if !ok {
		l.unread[k.Name] = true
		return
	}
	k.read(n)
}

// sortBook puts records that have no order of their own into the order of their
// IDs, so that the order of files and records changes nothing. Groups, the order
// of addition and its disputes keep the order they are written in.
func (l *loader) sortBook() {
	b := &l.book
	by(b.Classes, func(r *mix.Class) mix.ID { return r.ID })
	by(b.Products, func(r *mix.Product) mix.ID { return r.ID })
	by(b.Crops, func(r *mix.Crop) mix.ID { return r.ID })
	by(b.Purposes, func(r *mix.Purpose) mix.ID { return r.ID })
	by(b.Interactions, func(r *mix.Interaction) mix.ID { return r.ID })
	by(b.Notices, func(r *mix.Notice) mix.ID { return r.ID })
	by(b.Observations, func(r *mix.Observation) mix.ID { return r.ID })
	by(b.Investigations, func(r *mix.Investigation) mix.ID { return r.ID })
	by(b.Sources, func(r *mix.Source) mix.ID { return r.ID })
	by(b.Places, func(r *mix.Place) mix.ID { return r.ID })
	by(b.Waters, func(r *mix.WaterSource) mix.ID { return r.ID })
	by(b.Tools, func(r *mix.Tool) mix.ID { return r.ID })
	by(b.Sequences, func(r *mix.Sequence) mix.ID { return r.ID })
	by(b.Recipes, func(r *mix.Recipe) mix.ID { return r.ID })
	by(b.HalfLives, func(r *mix.HalfLife) mix.ID { return r.ID })
	by(b.Trials, func(r *mix.Trial) mix.ID { return r.ID })
	by(b.Reviews, func(r *mix.Review) mix.ID { return r.ID })
	slices.SortStableFunc(b.Cautions, func(x, y mix.Caution) int { return cmp.Compare(x.Hazard, y.Hazard) })
	slices.SortStableFunc(b.Criteria, compareCriteria)
}

func by[T any](list []T, id func(*T) mix.ID) {
	slices.SortStableFunc(list, func(a, b T) int { return cmp.Compare(id(&a), id(&b)) })
}

func compareCriteria(x, y mix.Criterion) int {
	return cmp.Or(cmp.Compare(x.Symptom, y.Symptom), cmp.Compare(x.Extent, y.Extent), cmp.Compare(x.Gas, y.Gas),
		cmp.Compare(x.Residue, y.Residue), x.Rise.N.Cmp(y.Rise.N), x.Share.N.Cmp(y.Share.N),
		x.After.Cmp(y.After), cmp.Compare(x.Verdict, y.Verdict))
}
