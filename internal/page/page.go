package page

import (
	"bytes"
	"cmp"
	"fmt"
	"io/fs"
	"iter"
	"runtime"
	"slices"

	"tankleaf.example/internal/compat"
	"tankleaf.example/internal/diag"
	"tankleaf.example/internal/ledger"
	"tankleaf.example/internal/message"
	"tankleaf.example/internal/mix"
	"tankleaf.example/internal/sheet"
)

// Inputs is everything a publication is made of.
type Inputs struct {
	Index     *mix.Index
	Judge     *compat.Judge
	Sheets    []*sheet.Sheet
	Messages  message.Set
	Templates []fs.FS        // later ones replace files of earlier ones
	Files     fs.FS          // the office's own folder, for photographs; may be nil
	BaseURL   string         // address of the site with its last slash; "" when not known
	Advice    *ledger.Advice // of this publication; nil: worked out from the judge
	History   ledger.History // what it and those before it changed
}

// File is one file of the site.
type File struct {
	Path string // slash-separated, relative to the site
	Body []byte
}

// Publication is a site that is ready to be written.
type Publication struct {
	jobs []job
}

// job makes one file when it is wanted.
type job struct {
	path string
	make func() ([]byte, error)
}

// New makes up a publication: it checks what can be wrong with templates and
// languages, and lists the files. Pages are made when they are asked for.
func New(in Inputs) (*Publication, diag.List) {
	var problems diag.List
	if in.Advice == nil {
		in.Advice = ledger.Of(in.Judge)
	}
	press := newPress(in, readTemplates(in.Templates, &problems))
	press.checkPictures(&problems)
	site := press.book().Site
	p := &Publication{}
	for i, lang := range site.Languages {
		if in.Messages[lang] == nil {
			problems.Add(site.At, fmt.Sprintf("no messages in language %q", lang), "add templates/messages/"+string(lang)+".yaml, or leave the language out")
			continue
		}
		if !problems.Stops() {
			p.jobs = append(p.jobs, press.newEdition(i).jobs()...)
		}
	}
	if problems.Stops() {
		return nil, problems.Sorted()
	}
	p.jobs = append(p.jobs, press.commonJobs()...)
	slices.SortFunc(p.jobs, func(a, b job) int { return cmp.Compare(a.path, b.path) })
	return p, problems.Sorted()
}

// Len returns the number of files.
func (p *Publication) Len() int { return len(p.jobs) }

// Paths returns the paths of all files in order.
func (p *Publication) Paths() []string {
	paths := make([]string, len(p.jobs))
	for i, j := range p.jobs {
		paths[i] = j.path
	}
	return paths
}

// File makes one file; ok is false when the publication has none of that path.
func (p *Publication) File(path string) (f File, ok bool, err error) {
	at, ok := slices.BinarySearchFunc(p.jobs, path, func(j job, path string) int { return cmp.Compare(j.path, path) })
	if !ok {
		return File{}, false, nil
	}
	body, err := p.jobs[at].make()
	if err != nil {
		return File{}, true, fmt.Errorf("page %s: %w", path, err)
	}
	return File{path, body}, true, nil
}

// Files makes the files in order of their paths and hands them out one by one. A
// few are made ahead, one a processor, so that all of them are busy. It stops at
// the first failure, which names the file.
func (p *Publication) Files() iter.Seq2[File, error] {
	return func(yield func(File, error) bool) {
		stop := make(chan struct{})
		defer close(stop)
		for made := range p.ahead(stop) {
			m := <-made
			if m.err != nil {
				yield(File{Path: m.Path}, fmt.Errorf("page %s: %w", m.Path, m.err))
				return
			}
			if !yield(m.File, nil) {
				return
			}
		}
	}
}

// made is a file, or why there is none.
type made struct {
	File
	err error
}

// ahead starts making files in order and returns where each will come out. It
// ends when stop is closed.
func (p *Publication) ahead(stop <-chan struct{}) <-chan chan made {
	line := make(chan chan made, runtime.GOMAXPROCS(0))
	go func() {
		defer close(line)
		for _, j := range p.jobs {
			out := make(chan made, 1)
			select {
			case line <- out:
			case <-stop:
				return
			}
			go func() {
				body, err := j.make()
				out <- made{File{j.path, body}, err}
			}()
		}
	}()
	return line
}

// render runs the template of one kind of page.
func (e *edition) render(kind string, value any) ([]byte, error) {
	var out bytes.Buffer
	if err := e.templates[kind].ExecuteTemplate(&out, "page", value); err != nil {
		return nil, e.shelf.fault(kind, e.templates[kind], value, err)
	}
	return out.Bytes(), nil
}
