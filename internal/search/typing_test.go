package search_test

import (
	"context"
	"encoding/json"
	"fmt"
	"io/fs"
	"math/rand/v2"
	"net/http"
	"net/http/httptest"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"
	"time"

	"github.com/chromedp/cdproto/cdp"
	"github.com/chromedp/cdproto/emulation"
	"github.com/chromedp/cdproto/performance"
	"github.com/chromedp/chromedp"

	"tankleaf.example/internal/compat"
	"tankleaf.example/internal/message"
	"tankleaf.example/internal/mix"
	"tankleaf.example/internal/office"
	"tankleaf.example/internal/outside"
	"tankleaf.example/internal/page"
	"tankleaf.example/internal/search"
	"tankleaf.example/internal/sheet"
	"tankleaf.example/internal/site"
	"tankleaf.example/templates"
)

// slowdown is how much slower than this machine a reader's phone is taken to be.
const slowdown = 4

// BenchmarkTyping measures how long it takes from a keystroke until the results are
// laid out, in a browser that is slowed down, on what the demonstration and an office
// of 10,000 products and 2,000 sheets have to be found. wall is the page's clock from
// the event on, loading over http and other work on the machine included; busy is
// what the page's own thread was at work.
func BenchmarkTyping(b *testing.B) {
	for _, c := range []struct {
		name   string
		inputs func(testing.TB) page.Inputs
	}{{"demo", demoInputs}, {"large", largeInputs}} {
		b.Run(c.name, func(b *testing.B) {
			in := c.inputs(b)
			docs := page.Documents(in, "en")
			files, err := search.Export(docs, page.FindOptions(in, "en"))
			if err != nil {
				b.Fatal(err)
			}
			server := httptest.NewServer(http.FileServer(http.Dir(writeBench(b, files))))
			defer server.Close()
			p := typist{b, outside.Browser{}.Open(b, 5*time.Minute)}
			var wall, busy []float64
			for b.Loop() {
				w, u := p.typeAll(server.URL+"/", docs)
				wall, busy = append(wall, w...), append(busy, u...)
			}
			slices.Sort(wall)
			slices.Sort(busy)
			b.ReportMetric(wall[len(wall)/2], "wall-p50-ms")
			b.ReportMetric(wall[len(wall)*95/100], "wall-p95-ms")
			b.ReportMetric(busy[len(busy)/2], "busy-p50-ms")
			b.ReportMetric(busy[len(busy)*95/100], "busy-p95-ms")
			b.ReportMetric(float64(len(docs)), "documents")
			b.ReportMetric(0, "ns/op")
		})
	}
}

// demoInputs are the demonstration's.
func demoInputs(t testing.TB) page.Inputs {
	t.Helper()
	o, problems := site.Read(os.DirFS("../.."))
	if problems.Stops() {
		t.Fatal(problems)
	}
	return o.Inputs(compat.New(o.Index))
}

// largeInputs are those of the largest office, with sheets of made-up words.
func largeInputs(t testing.TB) page.Inputs {
	t.Helper()
	words, problems := message.Load(templates.FS)
	if problems.Stops() {
		t.Fatal(problems)
	}
	x := mix.NewIndex(office.Make(office.Large, 1))
	in := page.Inputs{Index: x, Judge: compat.New(x), Messages: words, Templates: []fs.FS{templates.FS}}
	for i, d := range largeSite(2000) {
		in.Sheets = append(in.Sheets, &sheet.Sheet{Slug: mix.ID(fmt.Sprintf("sheet-%d", i)), Lang: "en", Title: d.Title,
			Passages: []sheet.Passage{{Text: d.Body + " " + d.Body[len(d.Body)/2:]}}})
	}
	return in
}

// writeBench lays out the box's page with the site's own style and words.
func writeBench(t testing.TB, files []search.File) string {
	t.Helper()
	dir := writeBoxPage(t, 0)
	styles, err := fs.Glob(templates.FS, "styles/*.css")
	if err != nil {
		t.Fatal(err)
	}
	var style []byte
	for _, name := range styles {
		text, err := templates.FS.ReadFile(name)
		if err != nil {
			t.Fatal(err)
		}
		style = append(style, text...)
	}
	page := strings.NewReplacer("script-src 'self'", "script-src 'self'; style-src 'self'", "<title>",
		`<link rel="stylesheet" href="style.css"><title>`).Replace(boxPage)
	for name, body := range map[string][]byte{"style.css": style, "index.html": []byte(page)} {
		if err := os.WriteFile(filepath.Join(dir, name), body, 0o644); err != nil {
			t.Fatal(err)
		}
	}
	for _, f := range files {
		if err := os.WriteFile(filepath.Join(dir, "find/en", f.Path), f.Body, 0o644); err != nil {
			t.Fatal(err)
		}
	}
	return dir
}

// A typist types into the box of a page.
type typist struct {
	t   testing.TB
	ctx context.Context
}

// typeAll opens the page and types queries, letter by letter.
func (p typist) typeAll(url string, docs []search.Document) (wall, busy []float64) {
	p.t.Helper()
	on := func(ctx context.Context, t *chromedp.Target) (cdp.Empty, error) {
		return cdp.Call(ctx, t, performance.Enable, performance.EnableParams{TimeDomain: performance.EnableTimeDomainThreadTicks})
	}
	slow := func(ctx context.Context, t *chromedp.Target) (cdp.Empty, error) {
		return cdp.Call(ctx, t, emulation.SetCPUThrottlingRate, emulation.SetCPUThrottlingRateParams{Rate: slowdown})
	}
	for _, step := range []chromedp.Action[cdp.Empty]{on, slow} {
		if _, err := chromedp.Run(p.ctx, step); err != nil {
			p.t.Fatal(err)
		}
	}
	if err := chromedp.Do(p.ctx, chromedp.EmulateViewport(360, 740), chromedp.Navigate(url)); err != nil {
		p.t.Fatal(err)
	}
	p.key("a") // root and words come with the first letter
	for _, q := range typedQueries(docs) {
		for n := range len(q) {
			before := p.spent()
			wall = append(wall, p.key(q[:n+1]))
			busy = append(busy, p.spent()-before)
		}
	}
	return wall, busy
}

// key puts a text into the box as typing does, and returns after how many ms the
// results stood laid out.
func (p typist) key(text string) float64 {
	p.t.Helper()
	quoted, err := json.Marshal(text)
	if err != nil {
		p.t.Fatal(err)
	}
	ms, err := chromedp.Run(p.ctx, chromedp.Evaluate[float64](`new Promise((done) => {
		const q = document.querySelector("#seek-words"), start = performance.now();
		const shown = new MutationObserver(() => {
			if (document.querySelector(".seek-panel[aria-busy]")) return;
			shown.disconnect();
			document.querySelector(".seek-panel").offsetHeight;
			done(performance.now() - start);
		});
		shown.observe(q, { attributes: true, attributeFilter: ["aria-expanded"] });
		q.value = `+string(quoted)+`;
		q.dispatchEvent(new Event("input"));
	})`, chromedp.EvalAwaitPromise))
	if err != nil {
		p.t.Fatal(err)
	}
	return ms
}

// spent is what scripts, styles and layout have cost the page's thread, in ms.
func (p typist) spent() float64 {
	p.t.Helper()
	get := func(ctx context.Context, t *chromedp.Target) (performance.GetMetricsResult, error) {
		return cdp.Call(ctx, t, performance.GetMetrics, cdp.Empty{})
	}
	r, err := chromedp.Run(p.ctx, chromedp.Action[performance.GetMetricsResult](get))
	if err != nil {
		p.t.Fatal(err)
	}
	sum := 0.0
	for _, m := range r.Metrics {
		if m.Name == "ScriptDuration" || m.Name == "LayoutDuration" || m.Name == "RecalcStyleDuration" {
			sum += m.Value * 1000
		}
	}
	return sum
}

// typedQueries takes two words from the titles of some documents, and doubles a
// letter in every third.
func typedQueries(docs []search.Document) []string {
	r := rand.New(rand.NewPCG(5, 8))
	var out []string
	for len(out) < 30 {
		words := strings.Fields(docs[r.IntN(len(docs))].Title)
		r.Shuffle(len(words), func(i, j int) { words[i], words[j] = words[j], words[i] })
		words = words[:min(2, len(words))]
		if len(out)%3 == 0 {
			w := &words[len(words)-1]
			*w = (*w)[:len(*w)/2] + (*w)[max(len(*w)/2-1, 0):]
		}
		if q := strings.ToLower(strings.Join(words, " ")); len(q) < 40 {
			out = append(out, q)
		}
	}
	return out
}
