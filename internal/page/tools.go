package page

import (
	"crypto/sha256"
	"fmt"
	"io/fs"
	"iter"
	"maps"
	"regexp"
	"slices"
	"strings"
	"sync"

	"tankleaf.example/internal/client"
	"tankleaf.example/internal/diag"
	"tankleaf.example/internal/mix"
	"tankleaf.example/internal/planner"
	"tankleaf.example/templates"
)

// The reader's tools: pages whose work is done by a script. What they show without
// one is in their templates.

// ToolPage is the page of a tool.
type ToolPage struct {
	Frame
	Scripts []string // ways to the scripts, in the order in which they run
	Shared  string   // way to the folder of data that all editions share
	Own     string   // way to the folder of this edition's data
	Home    string   // way to the top of this edition
	Metric  bool     // units shown first
}

const toolFolder = "tool/"

// tools is what the tools' data of a publication are made of, once.
type tools struct {
	pack    *planner.Pack
	edition string
}

// makeTools packs the book for the planner.
func (p *press) makeTools() (*tools, error) {
	t := &tools{pack: planner.New(p.Judge)}
	var err error
	t.edition, err = t.pack.Edition()
	return t, err
}

// toolScripts are the scripts of the tools, by name, with the module each is bundled
// from.
var toolScripts = map[string]string{"planner": "planner/main.ts", "calculators": "calculators/main.ts", "matrix": "matrix/main.ts"}

// bundled returns a script of the client, bundled once for all publications.
var bundled = func() func(name string) ([]byte, error) {
	var scripts sync.Map
	return func(name string) ([]byte, error) {
		once, _ := scripts.LoadOrStore(name, sync.OnceValues(func() ([]byte, error) {
			return client.Bundle(templates.Client(), toolScripts[name])
		}))
		return once.(func() ([]byte, error))()
	}
}()

// Tools yields the tools with all that they load, in every language: what a
// measurement of them needs of a large office, without its other pages.
func Tools(in Inputs) iter.Seq2[File, error] {
	return func(yield func(File, error) bool) {
		p := newPress(in, readTemplates(in.Templates, &diag.List{}))
		jobs := slices.DeleteFunc(p.commonJobs(), func(j job) bool {
			return strings.Contains(strings.TrimPrefix(j.path, toolFolder), "/")
		})
		for i := range p.book().Site.Languages {
			jobs = append(jobs, p.newEdition(i).toolJobs()...)
		}
		for _, j := range jobs {
			body, err := j.make()
			if !yield(File{j.path, body}, err) {
				return
			}
		}
	}
}

// toolJobs lists the files of the tools that all editions share.
func (p *press) toolJobs() []job {
	var all []job
	for _, name := range slices.Sorted(maps.Keys(toolScripts)) {
		all = append(all, p.bundleJob(name))
	}
	names := []string{"core", "uses"}
	for i := range planner.ShardCount(len(p.book().Products)) {
		names = append(names, fmt.Sprintf("products-%d", i))
	}
	for _, name := range names {
		all = append(all, p.packJob(name))
	}
	return all
}

// packFile writes a part of the planner's data, in no language.
func (p *press) packFile(name string) ([]byte, error) {
	t, err := p.tools()
	if err != nil {
		return nil, err
	}
	return t.pack.File(name, t.edition)
}

// toolJobs lists the tools of an edition: pages and words.
func (e *edition) toolJobs() []job {
	all := []job{{e.folder + "planner.html", e.plannerPage}, {e.folder + "calculators.html", e.calculatorsPage},
		e.messagesJob(), e.benchJob(), e.wordsJob()}
	for i := range planner.SaysCount(len(e.book().Interactions) + len(e.book().Notices)) {
		all = append(all, e.saysJob(i))
	}
	return all
}

// toolPage begins the page of a tool that runs some scripts.
func (l *leaf) toolPage(scripts ...job) (*ToolPage, error) {
	p := &ToolPage{Shared: l.asset(toolFolder), Own: l.link(toolFolder), Home: strings.TrimSuffix(l.link("index.html"), "index.html"),
		Metric: l.book().Site.Metric}
	for _, s := range scripts {
		body, err := s.make()
		if err != nil {
			return nil, err
		}
		p.Scripts = append(p.Scripts, relative(l.path, s.path)+pin(body))
	}
	return p, nil
}

// pin says which of the files that ever bore a name is meant, so that a page never gets
// that of another publication from a memory on the way.
func pin(body []byte) string { return fmt.Sprintf("?sha256=%.4x", sha256.Sum256(body)) }

// The scripts that tools run, of all editions and of this one.
func (p *press) bundleJob(name string) job {
	return job{toolFolder + name + ".js", func() ([]byte, error) { return bundled(name) }}
}

func (p *press) packJob(name string) job {
	return job{toolFolder + name + ".js", func() ([]byte, error) { return p.packFile(name) }}
}

func (e *edition) ownJob(name string, make func() ([]byte, error)) job {
	return job{e.folder + toolFolder + name + ".js", make}
}

func (e *edition) messagesJob() job {
	return e.ownJob("messages", func() ([]byte, error) { return planner.Script("messages", "", e.clientMessages()) })
}

func (e *edition) benchJob() job {
	return e.ownJob("bench", func() ([]byte, error) { return planner.Script("bench", "", e.bench()) })
}

func (e *edition) wordsJob() job {
	return e.ownJob("words", func() ([]byte, error) {
		t, err := e.tools()
		if err != nil {
			return nil, err
		}
		return planner.Script("words", t.edition, e.plannerWords(t.pack))
	})
}

func (e *edition) saysJob(i int) job {
	name := fmt.Sprintf("says-%d", i)
	return e.ownJob(name, func() ([]byte, error) {
		t, err := e.tools()
		if err != nil {
			return nil, err
		}
		return planner.Script(name, t.edition, e.says(t.pack, i))
	})
}

func (e *edition) plannerPage() ([]byte, error) {
	l := e.newLeaf("planner.html")
	p, err := l.toolPage(e.bundleJob("planner"), e.messagesJob(), e.packJob("core"), e.wordsJob())
	if err != nil {
		return nil, err
	}
	return l.finish("planner", p, head{l.t("planner.title"), l.t("planner.summary")})
}

func (e *edition) calculatorsPage() ([]byte, error) {
	l := e.newLeaf("calculators.html")
	p, err := l.toolPage(e.bundleJob("calculators"), e.messagesJob(), e.benchJob())
	if err != nil {
		return nil, err
	}
	l.danger(mix.Pressure)
	return l.finish("calculators", p, head{l.t("calculators.title"), l.t("calculators.summary")})
}

// asked matches the keys of messages in the client's sources: t("verdict.never"),
// and the beginnings of keys, t("verdict." + name) or t(`verdict.${name}`).
var asked = regexp.MustCompile("\\bt\\((?:\"([a-z0-9.-]+)\"|`([a-z0-9.-]+)\\$\\{)")

// clientMessages are the messages that the client's sources ask for.
func (e *edition) clientMessages() map[string]string {
	texts := map[string]string{}
	for _, key := range e.words.Keys() {
		if strings.HasPrefix(key, "site.") {
			continue // of the script of every page, which brings them itself
		}
		if slices.ContainsFunc(clientKeys(), func(k string) bool { return belongs(key, k) }) {
			texts[key] = e.words.Text(key)
		}
	}
	return texts
}

// belongs reports whether a message is asked for by a key, by its beginning, or as a
// plural form.
func belongs(key, asked string) bool {
	return key == asked || strings.HasSuffix(asked, ".") && strings.HasPrefix(key, asked) ||
		key == asked+".one" || key == asked+".other"
}

// clientKeys are the keys, and beginnings of keys, in the client's sources.
var clientKeys = sync.OnceValue(func() []string {
	var keys []string
	err := fs.WalkDir(templates.Client(), ".", func(name string, d fs.DirEntry, err error) error {
		if err != nil || d.IsDir() || !strings.HasSuffix(name, ".ts") || strings.Contains(name, ".test.") {
			return err
		}
		text, err := fs.ReadFile(templates.Client(), name)
		for _, m := range asked.FindAllSubmatch(text, -1) {
			keys = append(keys, string(m[1])+string(m[2]))
		}
		return err
	})
	if err != nil {
		panic(err) // the sources are embedded
	}
	slices.Sort(keys)
	return slices.Compact(keys)
})
