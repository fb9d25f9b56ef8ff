package site

import (
	"errors"
	"fmt"
	"io/fs"
	"strings"

	"tankleaf.example/internal/compat"
	"tankleaf.example/internal/dataset"
	"tankleaf.example/internal/diag"
	"tankleaf.example/internal/message"
	"tankleaf.example/internal/mix"
	"tankleaf.example/internal/page"
	"tankleaf.example/internal/sheet"
	"tankleaf.example/templates"
)

// Office is everything that was read from an office's folder.
type Office struct {
	Book     *mix.Book
	Index    *mix.Index
	Sheets   []*sheet.Sheet
	Messages message.Set
	layers   []fs.FS // templates: ours, then the office's own
	files    fs.FS   // the folder itself, for photographs
}

// Read reads an office's folder, with every problem in it. Nothing is judged or
// written. A book with problems that stop publication is returned as far as it
// could be read and must not be judged.
func Read(fsys fs.FS) (*Office, diag.List) {
	o := Office{files: fsys, layers: layers(fsys)}
	var problems, more diag.List
	o.Book, problems = dataset.Load(fsys)
	o.Sheets, more = sheet.Load(fsys, o.Book)
	problems = append(problems, more...)
	o.Messages, more = message.Load(o.layers...)
	problems = append(problems, more...)
	for _, lang := range o.Book.Site.Languages {
		if o.Messages[lang] == nil {
			problems.Add(o.Book.Site.At, fmt.Sprintf("no catalogue of messages for language %q", lang),
				fmt.Sprintf("write templates/messages/%s.yaml, or leave the language out", lang))
		}
	}
	o.Index = mix.NewIndex(o.Book)
	return &o, problems.Sorted()
}

// layers returns our templates and, when the office has a templates folder, its
// own above them.
func layers(fsys fs.FS) []fs.FS {
	all := []fs.FS{templates.FS}
	if info, err := fs.Stat(fsys, "templates"); err == nil && info.IsDir() {
		if own, err := fs.Sub(fsys, "templates"); err == nil {
			all = append(all, own)
		}
	}
	return all
}

// Options are what a build is told beside the office's folder.
type Options struct {
	Out      string                      // the folder to publish into
	BaseURL  string                      // where the site will be served; "" when not known
	Progress func(done int, path string) // called after each file; may be nil
}

// Summary counts what was published.
type Summary struct {
	Files    int   `json:"files"`
	Pages    int   `json:"pages"`
	Pairs    int   `json:"pairs"` // pages of two partners, in the first language
	Products int   `json:"products"`
	Classes  int   `json:"classes"`
	Jars     int   `json:"observations"`
	Sheets   int   `json:"sheets"`
	Bytes    int64 `json:"bytes"`
}

// Check makes every page and audits it without writing any: the problems that a
// build would find beyond those of reading.
func Check(o *Office) (diag.List, error) {
	pub, problems := o.publication("")
	if problems.Stops() {
		return problems, nil
	}
	b := newBuild(o, nil)
	if err := b.write(pub); err != nil {
		return problems, err
	}
	return append(problems, b.audit.Problems()...).Sorted(), nil
}

// Build judges the office, writes the site and puts it in place. Problems in the
// list stop it as they stop reading, and leave the old site as it was; an error is
// a failure of the machine, and does the same.
func Build(o *Office, opt Options) (Summary, diag.List, error) {
	pub, problems := o.publication(opt.BaseURL)
	if problems.Stops() {
		return Summary{}, problems, nil
	}
	staging, err := Stage(opt.Out)
	if err != nil {
		return Summary{}, problems, err
	}
	b := newBuild(o, opt.Progress)
	b.staging = staging
	if err := b.write(pub); err != nil {
		return b.Summary, problems, errors.Join(err, staging.Drop())
	}
	problems = append(problems, b.audit.Problems()...).Sorted()
	if problems.Stops() {
		return b.Summary, problems, staging.Drop()
	}
	return b.Summary, problems, staging.Publish()
}

func (o *Office) publication(baseURL string) (*page.Publication, diag.List) {
	in := o.Inputs(compat.New(o.Index))
	in.BaseURL = baseURL
	return page.New(in)
}

// Inputs returns what pages and explanations are made of.
func (o *Office) Inputs(j *compat.Judge) page.Inputs {
	return page.Inputs{Index: o.Index, Judge: j, Sheets: o.Sheets, Messages: o.Messages, Templates: o.layers, Files: o.files}
}

// build is one run over the files of a publication.
type build struct {
	Summary
	staging  *Staging // nil: look, do not write
	audit    *Audit
	progress func(int, string)
}

func newBuild(o *Office, progress func(int, string)) *build {
	b := &build{audit: NewAudit(!o.Book.Site.Demonstration.IsZero()), progress: progress}
	b.Products, b.Classes = len(o.Book.Products), len(o.Book.Classes)
	b.Jars, b.Sheets = len(o.Book.Observations), len(o.Sheets)
	return b
}
func (b *build) write(pub *page.Publication) error {
	for file, err := range pub.Files() {
		if err != nil {
			return err
		}
		if b.staging != nil {
			if err := b.staging.Write(file.Path, file.Body); err != nil {
				return fmt.Errorf("write %s: %w", file.Path, err)
			}
		}
		b.audit.Add(file.Path, file.Body)
		b.count(file)
	}
	return nil
}

func (b *build) count(f page.File) {
	b.Files++
	b.Bytes += int64(len(f.Body))
	if strings.HasSuffix(f.Path, ".html") {
		b.Pages++
	}
	if strings.HasPrefix(f.Path, "together/") {
		b.Pairs++
	}
	if b.progress != nil {
		b.progress(b.Files, f.Path)
	}
}
