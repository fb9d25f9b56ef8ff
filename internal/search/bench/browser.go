package main

import (
	"bytes"
	"compress/gzip"
	"context"
	"encoding/json"
	"fmt"
	"io"
	"net/http"
	"net/http/httptest"
	"net/url"
	"os"
	"path"
	"path/filepath"
	"slices"
	"strings"
	"sync"
	"sync/atomic"

	"github.com/chromedp/chromedp"

	"tankleaf.example/internal/client"
	"tankleaf.example/internal/search"
)

// shown is how many results an answer has.
const shown = 8

// A site serves files compressed and counts what it sends.
type site struct {
	dirs   []string          // folders laid over one another
	files  map[string][]byte // files in memory, before those
	sent   atomic.Int64
	zipped sync.Map
}

var types = map[string]string{".html": "text/html; charset=utf-8", ".js": "text/javascript", ".mjs": "text/javascript",
	".json": "application/json", ".wasm": "application/wasm", ".css": "text/css"}

func (s *site) ServeHTTP(w http.ResponseWriter, r *http.Request) {
	body, err := s.compressed(path.Clean(r.URL.Path))
	if err != nil {
		http.NotFound(w, r)
		return
	}
	h := w.Header()
	h.Set("Content-Encoding", "gzip")
	h.Set("Content-Type", types[path.Ext(r.URL.Path)])
	h.Set("Cache-Control", "no-store") // every page starts from nothing
	// An isolated page has a finer clock.
	h.Set("Cross-Origin-Opener-Policy", "same-origin")
	h.Set("Cross-Origin-Embedder-Policy", "require-corp")
	n, _ := w.Write(body) // a page that was closed is no error
	s.sent.Add(int64(n))
}

func (s *site) compressed(name string) ([]byte, error) {
	if b, ok := s.zipped.Load(name); ok {
		return b.([]byte), nil
	}
	text, ok := s.files[name]
	var err error = os.ErrNotExist
	for _, dir := range s.dirs {
		if !ok && err != nil {
			text, err = os.ReadFile(filepath.Join(dir, name))
		}
	}
	if !ok && err != nil {
		return nil, err
	}
	var out bytes.Buffer
	z, err := gzip.NewWriterLevel(&out, gzip.BestCompression)
	if err != nil {
		return nil, err
	}
	if _, err := z.Write(text); err != nil {
		return nil, err
	}
	if err := z.Close(); err != nil {
		return nil, err
	}
	s.zipped.Store(name, out.Bytes())
	return out.Bytes(), nil
}

// ourPage is a page with our search, as a site has it.
const ourPage = `<!doctype html>
<html lang="en" data-corpus="/%[1]s/ours/">
<meta charset="utf-8">
<title>Search</title>
<form role="search" action="/" data-search="/%[1]s/ours/" data-root="/"><label for="q">Search</label>
<input type="search" id="q" name="q"><button>Find</button></form>
<script src="/ours.js"></script>
</html>
`

// newSite lays out the pages and indexes of one corpus.
func newSite(o options, name string, files []search.File) (*site, error) {
	s := &site{dirs: []string{o.bench, filepath.Join(o.dir, "site")}, files: make(map[string][]byte)}
	for _, f := range files {
		s.files["/"+name+"/ours/"+f.Path] = f.Body
	}
	sources, err := os.MkdirTemp(o.dir, "client")
	if err != nil {
		return nil, err
	}
	defer os.RemoveAll(sources)
	if err := os.CopyFS(sources, os.DirFS("templates/client")); err != nil {
		return nil, err
	}
	entry, err := os.ReadFile(filepath.Join(o.bench, "ours.ts"))
	if err != nil {
		return nil, err
	}
	if err := os.WriteFile(filepath.Join(sources, "ours.ts"), entry, 0o644); err != nil {
		return nil, err
	}
	script, err := client.Bundle(os.DirFS(sources), "ours.ts")
	if err != nil {
		return nil, err
	}
	s.files["/ours.js"] = script
	s.files["/"+name+"/ours.html"] = fmt.Appendf(nil, ourPage, name)
	return s, nil
}

// askAll asks every search in one browser.
func askAll(out io.Writer, o options, name string, docs []search.Document, files []search.File, queries []knownItem) error {
	if err := buildPeers(o, name, docs); err != nil {
		return err
	}
	s, err := newSite(o, name, files)
	if err != nil {
		return err
	}
	server := httptest.NewServer(s)
	defer server.Close()
	profile, err := os.MkdirTemp(o.dir, "profile")
	if err != nil {
		return err
	}
	defer os.RemoveAll(profile)
	ctx, stop := newBrowser(profile)
	defer stop()
	for engine := range strings.SplitSeq(o.engines, ",") {
		r := run1{out: out, site: s, engine: engine, url: server.URL + "/peer.html?corpus=" + name + "&engine=" + engine, queries: queries}
		if engine == "ours" {
			r.url = server.URL + "/" + name + "/ours.html"
			if r.folder, err = s.folder(o, name); err != nil {
				return err
			}
		}
		if err := r.all(ctx); err != nil {
			return fmt.Errorf("%s on %s: %w", engine, name, err)
		}
	}
	return nil
}

// folder lays our page and index out as files and returns the page's address.
func (s *site) folder(o options, name string) (string, error) {
	dir := filepath.Join(o.dir, "folder", name)
	if err := os.RemoveAll(dir); err != nil {
		return "", err
	}
	for at, body := range s.files {
		if at == "/"+name+"/ours.html" {
			body = bytes.ReplaceAll(body, []byte(`="/`), []byte(`="../`))
		}
		at = filepath.Join(dir, at)
		if err := os.MkdirAll(filepath.Dir(at), 0o755); err != nil {
			return "", err
		}
		if err := os.WriteFile(at, body, 0o644); err != nil {
			return "", err
		}
	}
	return "file://" + filepath.ToSlash(filepath.Join(dir, name, "ours.html")), nil
}

func newBrowser(profile string) (context.Context, func()) {
	opts := append(chromedp.DefaultExecAllocatorOptions[:],
		chromedp.NoSandbox, chromedp.DisableGPU, chromedp.UserDataDir(profile))
	for _, f := range []string{"disable-quic", "disable-background-networking", "disable-component-update", "disable-sync"} {
		opts = append(opts, chromedp.Flag(f, true))
	}
	ctx, stop := chromedp.NewExecAllocator(context.Background(), opts...)
	ctx, stopTab := chromedp.NewContext(ctx)
	return ctx, func() { stopTab(); stop() }
}

// A run1 measures one search on one corpus.
type run1 struct {
	out         io.Writer
	site        *site
	engine, url string
	folder      string // ours only: the same page, opened from a folder
	queries     []knownItem
}

func (r *run1) all(ctx context.Context) error {
	l, err := r.loads(ctx)
	if err != nil {
		return err
	}
	t, times, err := r.warm(ctx)
	if err != nil {
		return err
	}
	fmt.Fprintf(r.out, "  %-10s%s  warm p50 %.2f p95 %.2f ms\n%s", r.engine, t, times[len(times)/2], times[len(times)*95/100], l)
	if r.folder == "" {
		return nil
	}
	for _, at := range []string{r.url, r.folder} {
		waits, err := r.waits(ctx, at)
		if err != nil {
			return err
		}
		fmt.Fprintf(r.out, "             from %s:", at[:4])
		for i, what := range []string{"script", "first result", "whole answer"} {
			ms := waits[i]
			fmt.Fprintf(r.out, " %s after p50 %.0f p95 %.0f ms;", what, ms[len(ms)/2], ms[len(ms)*95/100])
		}
		fmt.Fprintln(r.out)
	}
	return nil
}

// A transfer is what came over the network, by kind of query.
type transfer struct{ first, later map[string][]int }

func (l transfer) String() string {
	var b strings.Builder
	for _, k := range queryKinds {
		fmt.Fprintf(&b, "             %-10s bytes of a first answer %s; later %s\n", k, spread(l.first[k]), spread(l.later[k]))
	}
	return b.String()
}

// loads opens the page anew for some queries of every kind, and asks one and
// then another: what each costs over the network.
func (r *run1) loads(ctx context.Context) (transfer, error) {
	by := r.byKind()
	n := 2
	if r.engine == "ours" {
		n = 40
	}
	l := transfer{make(map[string][]int), make(map[string][]int)}
	for _, k := range queryKinds {
		for i := range n {
			first, later, err := r.load(ctx, by[k][2*i].Query, by[k][2*i+1].Query)
			if err != nil {
				return l, err
			}
			l.first[k], l.later[k] = append(l.first[k], first), append(l.later[k], later)
		}
	}
	return l, nil
}

func (r *run1) byKind() map[string][]knownItem {
	by := make(map[string][]knownItem)
	for _, q := range r.queries {
		by[q.Kind] = append(by[q.Kind], q)
	}
	return by
}

func (r *run1) load(ctx context.Context, one, two string) (first, later int, err error) {
	r.site.sent.Store(0)
	if err := chromedp.Do(ctx, chromedp.Navigate(r.url)); err != nil {
		return 0, 0, err
	}
	if _, err := chromedp.Run(ctx, find(one)); err != nil {
		return 0, 0, err
	}
	first = int(r.site.sent.Swap(0))
	if _, err := chromedp.Run(ctx, find(two)); err != nil {
		return 0, 0, err
	}
	return first, int(r.site.sent.Load()), nil
}

// waits opens our page at an address that asks some queries of every kind, and returns how
// many ms after it began to open each ran its script, had its first result and had its
// answer, each in order.
func (r *run1) waits(ctx context.Context, at string) (out [3][]float64, err error) {
	by := r.byKind()
	for _, k := range queryKinds {
		for _, q := range firstN(by[k], 40) {
			if err := chromedp.Do(ctx, chromedp.Navigate(at+"?q="+url.QueryEscape(q.Query))); err != nil {
				return out, err
			}
			ms, err := chromedp.Run(ctx, chromedp.Evaluate[[3]float64]("waits", chromedp.EvalAwaitPromise))
			if err != nil {
				return out, err
			}
			for i := range ms {
				out[i] = append(out[i], ms[i])
			}
		}
	}
	for _, ms := range out {
		slices.Sort(ms)
	}
	return out, nil
}

// find asks the search of the page, as soon as it is ready.
func find(query string) chromedp.Action[[]string] {
	return chromedp.Evaluate[[]string](fmt.Sprintf("ready.then(() => find_(%s))", quoted(query)), chromedp.EvalAwaitPromise)
}

func quoted(v any) []byte {
	text, err := json.Marshal(v)
	if err != nil {
		panic(err) // strings and lists of them always encode
	}
	return text
}

// An asked is one query with its results and the time it took.
type asked struct {
	Paths []string `json:"paths"`
	Ms    float64  `json:"ms"`
}

// warm asks every query twice and times the second, when all parts are there.
func (r *run1) warm(ctx context.Context) (*tally, []float64, error) {
	var texts []string
	for _, q := range r.queries {
		texts = append(texts, q.Query)
	}
	script := fmt.Sprintf(`ready.then(async () => {
		const out = [];
		for (const q of %s) {
			await find_(q);
			const start = performance.now();
			const paths = await find_(q);
			out.push({ paths, ms: performance.now() - start });
		}
		return out;
	})`, quoted(texts))
	if err := chromedp.Do(ctx, chromedp.Navigate(r.url)); err != nil {
		return nil, nil, err
	}
	got, err := chromedp.Run(ctx, chromedp.Evaluate[[]asked](script, chromedp.EvalAwaitPromise))
	if err != nil {
		return nil, nil, err
	}
	t := newTally()
	var times []float64
	for i, g := range got {
		t.add(r.queries[i], g.Paths)
		times = append(times, g.Ms)
	}
	slices.Sort(times)
	return t, times, nil
}
