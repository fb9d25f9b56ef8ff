package page

import (
	"fmt"
	"io/fs"
	"maps"
	"regexp"
	"slices"
	"strings"
	"sync"

	"tankleaf.example/internal/client"
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

// toolJobs lists the files of the tools that all editions share.
func (p *press) toolJobs() []job {
	var all []job
	for _, name := range slices.Sorted(maps.Keys(toolScripts)) {
		all = append(all, job{toolFolder + name + ".js", func() ([]byte, error) { return bundled(name) }})
	}
	for _, name := range p.packFiles() {
		all = append(all, job{toolFolder + name + ".js", func() ([]byte, error) { return p.packFile(name) }})
	}
	return all
}

// packFiles names the parts of the planner's data, in no language.
func (p *press) packFiles() []string {
	names := []string{"core", "uses"}
	for i := range planner.ShardCount(len(p.book().Products)) {
		names = append(names, fmt.Sprintf("products-%d", i))
	}
	return names
}

// packFile writes one of them.
func (p *press) packFile(name string) ([]byte, error) {
	t, err := p.tools()
	if err != nil {
		return nil, err
	}
	return t.pack.File(name, t.edition)
}

// toolJobs lists the tools of an edition: pages and words.
func (e *edition) toolJobs(add func(string, func() ([]byte, error))) {
	add("planner.html", e.plannerPage)
	add("calculators.html", e.calculatorsPage)
	add(toolFolder+"bench.js", func() ([]byte, error) { return planner.Script("bench", "", e.bench()) })
	add(toolFolder+"messages.js", func() ([]byte, error) { return planner.Script("messages", "", e.clientMessages()) })
	add(toolFolder+"words.js", func() ([]byte, error) {
		t, err := e.tools()
		if err != nil {
			return nil, err
		}
		return planner.Script("words", t.edition, e.plannerWords(t.pack))
	})
	for i := range planner.SaysCount(len(e.book().Interactions) + len(e.book().Notices)) {
		add(fmt.Sprintf("%ssays-%d.js", toolFolder, i), func() ([]byte, error) { return e.saysFile(i) })
	}
}

func (e *edition) saysFile(i int) ([]byte, error) {
	t, err := e.tools()
	if err != nil {
		return nil, err
	}
	return planner.Script(fmt.Sprintf("says-%d", i), t.edition, e.says(t.pack, i))
}

// toolPage begins the page of a tool that runs some scripts.
func (l *leaf) toolPage(scripts ...string) *ToolPage {
	p := &ToolPage{Shared: l.asset(toolFolder), Own: l.link(toolFolder), Home: strings.TrimSuffix(l.link("index.html"), "index.html"),
		Metric: l.book().Site.Metric}
	for _, s := range scripts {
		p.Scripts = append(p.Scripts, s+".js")
	}
	return p
}

func (e *edition) plannerPage() ([]byte, error) {
	l := e.newLeaf("planner.html")
	p := l.toolPage(l.asset(toolFolder+"planner"), l.link(toolFolder+"messages"), l.asset(toolFolder+"core"), l.link(toolFolder+"words"))
	return l.finish("planner", p, head{l.t("planner.title"), l.t("planner.summary")})
}

func (e *edition) calculatorsPage() ([]byte, error) {
	l := e.newLeaf("calculators.html")
	p := l.toolPage(l.asset(toolFolder+"calculators"), l.link(toolFolder+"messages"), l.link(toolFolder+"bench"))
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
