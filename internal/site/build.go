package site

import (
	"errors"
	"fmt"
	"io/fs"
	"net/url"
	"slices"
	"strings"

	"tankleaf.example/internal/compat"
	"tankleaf.example/internal/dataset"
	"tankleaf.example/internal/diag"
	"tankleaf.example/internal/ledger"
	"tankleaf.example/internal/message"
	"tankleaf.example/internal/mix"
	"tankleaf.example/internal/page"
	"tankleaf.example/internal/sheet"
	"tankleaf.example/internal/trial"
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
	fsys = guarded{fsys}
	o := Office{files: fsys}
	var problems diag.List
	o.layers = layers(fsys, &problems)
	book, more := dataset.Load(fsys)
	o.Book, problems = book, append(problems, more...)
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
func layers(fsys fs.FS, problems *diag.List) []fs.FS {
	all := []fs.FS{templates.FS}
	info, err := fs.Lstat(fsys, "templates")
	if errors.Is(err, fs.ErrNotExist) {
		return all
	}
	if err != nil || !info.IsDir() {
		problems.Add(diag.Pos{File: "templates"}, "is no folder; links are not followed", "put the folder itself here")
		return all
	}
	own, err := fs.Sub(fsys, "templates")
	if err != nil {
		problems.Add(diag.Pos{File: "templates"}, "cannot be read: "+err.Error(), "")
		return all
	}
	return append(all, own)
}

// Options are what a build is told beside the office's folder.
type Options struct {
	Out      string                      // the folder to publish into
	BaseURL  string                      // where the site will be served; "" when not known
	Last     string                      // folder or address of the last publication; "": the folder to publish into
	First    bool                        // there is no last publication, whatever lies in the folder
	Review   bool                        // what softens must have a review that answers for it
	Progress func(done int, path string) // called after each file; may be nil
}

// Address makes the address of a site from what somebody wrote: http or https, a
// host, and a path that ends in a slash.
func Address(s string) (string, error) {
	u, err := url.Parse(s)
	if err != nil || u.Scheme != "http" && u.Scheme != "https" || u.Host == "" || u.User != nil || u.RawQuery != "" || u.Fragment != "" {
		return "", fmt.Errorf("%q is no address of a site", s)
	}
	return u.JoinPath("/").String(), nil
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
	Changed  int   `json:"changed"` // mixes of which the last publication said something else
	Softer   int   `json:"softer"`  // of those, that became softer
}

// Check makes every page and audits it without writing any: the problems that a
// build would find beyond those of reading.
func Check(o *Office) (diag.List, error) {
	b := newBuild(o, Options{})
	pub, problems := b.publication()
	if problems.Stops() {
		return problems, nil
	}
	if err := b.write(pub); err != nil {
		return problems, err
	}
	return append(problems, b.found()...).Sorted(), nil
}

// Build judges the office, compares what it says with the last publication,
// writes the site and puts it in place. Problems in the list stop it as they stop
// reading, and leave the old site as it was; an error is a failure of the machine,
// or [ErrNoLast], and does the same.
func Build(o *Office, opt Options) (Summary, diag.List, error) {
	staging, err := Stage(opt.Out)
	if err != nil {
		return Summary{}, nil, err
	}
	b := newBuild(o, opt)
	b.staging = staging
	problems, err := b.run(opt)
	if err != nil || problems.Stops() {
		return b.Summary, problems, errors.Join(err, staging.Drop())
	}
	return b.Summary, problems, staging.Publish()
}

// run does everything up to putting the site in place.
func (b *build) run(opt Options) (diag.List, error) {
	l, err := b.last(opt)
	if err != nil {
		return nil, err
	}
	problems := b.compare(l, opt.Review)
	if problems.Stops() {
		return problems, nil
	}
	pub, more := b.publication()
	if problems = append(problems, more...); problems.Stops() {
		return problems.Sorted(), nil
	}
	if err := b.write(pub); err != nil {
		return problems, err
	}
	return append(problems, b.found()...).Sorted(), nil
}

// last reads the publication to compare with.
func (b *build) last(opt Options) (last, error) {
	where := opt.Last
	if where == "" {
		where = b.staging.out
	}
	if opt.First {
		return last{}, nil
	}
	l, err := readLast(where)
	if err == nil && l.advice == nil && (opt.Review || opt.Last != "") {
		err = fmt.Errorf("%s: %w", where, ErrNoLast)
	}
	return l, err
}

// Inputs returns what pages and explanations are made of.
func (o *Office) Inputs(j *compat.Judge) page.Inputs {
	return page.Inputs{Index: o.Index, Judge: j, Sheets: o.Sheets, Messages: o.Messages, Templates: o.layers, Files: o.files}
}

// build is one run over the files of a publication.
type build struct {
	Summary
	office   *Office
	judge    *compat.Judge
	baseURL  string
	advice   *ledger.Advice // nil: not compared with anything
	history  ledger.History
	staging  *Staging // nil: look, do not write
	audit    *Audit
	faults   diag.List      // of the office's templates
	sizes    map[string]int // of the files, by path
	progress func(int, string)
}

func newBuild(o *Office, opt Options) *build {
	b := &build{office: o, judge: compat.New(o.Index), baseURL: opt.BaseURL, progress: opt.Progress, sizes: map[string]int{}}
	b.audit = NewAudit(Rules{
		Demonstration: !o.Book.Site.Demonstration.IsZero(),
		Address:       opt.BaseURL,
		Words:         o.verdictWords,
		Hazards:       b.hazards,
	})
	b.Products, b.Classes = len(o.Book.Products), len(o.Book.Classes)
	b.Jars, b.Sheets = len(o.Book.Observations), len(o.Sheets)
	return b
}

// publication makes the pages, once every trial that the office offers can be poured:
// a packet that says why there is none is no packet.
func (b *build) publication() (*page.Publication, diag.List) {
	if problems := trial.New(b.judge).Check(); problems.Stops() {
		return nil, problems
	}
	in := b.office.Inputs(b.judge)
	in.BaseURL, in.Advice, in.History = b.baseURL, b.advice, b.history
	return page.New(in)
}

// verdictWords is what a verdict is shown as.
func (o *Office) verdictWords(lang string, v mix.Verdict) string {
	if words := o.Messages[mix.Lang(lang)]; words != nil {
		return words.Verdict(v)
	}
	return ""
}

// hazards returns those that a page must caution of, worked out from its path
// alone and without the code that makes pages.
func (b *build) hazards(name string) []mix.Hazard {
	for _, lang := range b.office.Book.Site.Languages {
		name = strings.TrimPrefix(name, string(lang)+"/")
	}
	kind, record, _ := strings.Cut(strings.TrimSuffix(name, ".html"), "/")
	switch kind {
	case "together":
		first, second, _ := strings.Cut(record, "--")
		return b.judge.Pair(mix.ID(first), mix.ID(second)).Hazards
	case "product", "class":
		return append(b.judge.Solo(mix.ID(record)).Hazards, b.partnerHazards(mix.ID(record))...)
	}
	return nil
}

// partnerHazards are those of all partners of an item.
func (b *build) partnerHazards(id mix.ID) []mix.Hazard {
	var all []mix.Hazard
	for _, p := range b.judge.Partners(id) {
		all = append(all, p.Answer.Hazards...)
	}
	slices.Sort(all)
	return slices.Compact(all)
}

func (b *build) write(pub *page.Publication) error {
	for file, err := range pub.Files() {
		if fault, ok := errors.AsType[*page.Fault](err); ok && len(b.office.layers) > 1 {
			fault.Notes = append(fault.Notes, "so "+file.Path+" cannot be made")
			b.faults = append(b.faults, fault.Problem)
			return nil // the office's own templates are content
		}
		if err != nil {
			return err
		}
		if err := b.add(file); err != nil {
			return err
		}
	}
	if b.staging == nil {
		return nil
	}
	c := copier{langs: b.office.Book.Site.Languages, sizes: b.sizes, write: func(path string, body []byte) error {
		return b.add(page.File{Path: path, Body: body})
	}}
	return c.publish(b.staging.sums)
}

// found returns what was found in the pages. Once a template has made none the rest
// were not made either, and links to them would bury the reason.
func (b *build) found() diag.List {
	if len(b.faults) > 0 {
		return b.faults
	}
	return b.audit.Problems()
}

// add audits, writes and counts a file.
func (b *build) add(file page.File) error {
	if named := b.audit.Add(file.Path, file.Body); named && b.staging != nil {
		if err := b.staging.Write(file.Path, file.Body); err != nil {
			return fmt.Errorf("write %s: %w", file.Path, err)
		}
	}
	b.sizes[file.Path] = len(file.Body)
	b.count(file)
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
