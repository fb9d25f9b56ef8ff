package planner_test

import (
	"bytes"
	"compress/gzip"
	"context"
	"fmt"
	"math/rand/v2"
	"os"
	"path"
	"path/filepath"
	"regexp"
	"slices"
	"strings"
	"sync"
	"testing"

	"github.com/chromedp/cdproto/cdp"
	"github.com/chromedp/cdproto/emulation"
	"github.com/chromedp/cdproto/performance"
	"github.com/chromedp/chromedp"

	"tankleaf.example/internal/dataset"
	"tankleaf.example/internal/mix"
	"tankleaf.example/internal/office"
)

// slowdown is how much slower than this machine a reader's phone is taken to be.
const slowdown = 4

// slow slows the browser down.
func (s *site) slow(rate float64) {
	s.t.Helper()
	throttle := func(ctx context.Context, t *chromedp.Target) (cdp.Empty, error) {
		return cdp.Call(ctx, t, emulation.SetCPUThrottlingRate, emulation.SetCPUThrottlingRateParams{Rate: rate})
	}
	if _, err := chromedp.Run(s.ctx, chromedp.Action[cdp.Empty](throttle)); err != nil {
		s.t.Fatal(err)
	}
}

// aChange changes one field of a plan, as typing does, and lays the page out.
const aChange = `(() => {
	const e = document.getElementById(%q) ?? document.querySelector(%[1]q);
	e.value = %q;
	e.dispatchEvent(new Event(e.tagName === "SELECT" ? "change" : "input"));
	document.body.offsetHeight;
	return true;
})()`

// changes are what a person may change in a plan, one after the other.
func (s *site) changes() []string {
	crops := s.book.Crops
	var list []string
	for n := range 30 {
		for _, c := range [][2]string{{"hardness", fmt.Sprintf("%d ppm", 100+n)}, {"temperature", fmt.Sprintf("%d °F", 40+n)},
			{"area", fmt.Sprintf("%d ac", 20+n)}, {"crop", string(crops[n%len(crops)].ID)}, {".pick-card input", fmt.Sprintf("1.%02d pt/ac", n)}} {
			list = append(list, fmt.Sprintf(aChange, c[0], c[1]))
		}
	}
	return list
}

// timed makes changes one by one and returns what each cost the page's thread until
// the answer stood laid out, and until every reason stood under it, in ms. The thread's
// own clock is read: other work on the machine does not count.
func (s *site) timed() (answers, all []float64) {
	s.t.Helper()
	for _, change := range s.changes() {
		before := s.spent()
		eval[bool](s, change)
		answered := s.spent()
		s.wait(`!document.querySelector("[aria-busy=true]") && document.body.offsetHeight > 0`)
		answers, all = append(answers, answered-before), append(all, s.spent()-before)
	}
	return answers, all
}

// spent is what scripts, styles and layout have cost the page's thread, in ms.
func (s *site) spent() float64 {
	s.t.Helper()
	get := func(ctx context.Context, t *chromedp.Target) (performance.GetMetricsResult, error) {
		return cdp.Call(ctx, t, performance.GetMetrics, cdp.Empty{})
	}
	r, err := chromedp.Run(s.ctx, chromedp.Action[performance.GetMetricsResult](get))
	if err != nil {
		s.t.Fatal(err)
	}
	sum := 0.0
	for _, m := range r.Metrics {
		if m.Name == "ScriptDuration" || m.Name == "LayoutDuration" || m.Name == "RecalcStyleDuration" {
			sum += m.Value * 1000
		}
	}
	return sum
}

// clock makes the page's metrics count the time of its own thread.
func (s *site) clock() {
	s.t.Helper()
	on := func(ctx context.Context, t *chromedp.Target) (cdp.Empty, error) {
		return cdp.Call(ctx, t, performance.Enable, performance.EnableParams{TimeDomain: performance.EnableTimeDomainThreadTicks})
	}
	if _, err := chromedp.Run(s.ctx, chromedp.Action[cdp.Empty](on)); err != nil {
		s.t.Fatal(err)
	}
}

// BenchmarkPlanner measures how long the planner takes to answer after a change, with
// eight products, in a browser that is slowed down: on the demonstration and on the
// largest office.
func BenchmarkPlanner(b *testing.B) {
	for _, c := range []struct {
		name string
		open func(testing.TB) *site
	}{{"demo", openDemo}, {"large", openLarge}} {
		b.Run(c.name, func(b *testing.B) {
			s := c.open(b)
			s.clock()
			draw := rand.New(rand.NewPCG(1, 1))
			var answers, all []float64
			for b.Loop() {
				s.open(plan(s.mayShare(draw, 8, false), "&hardness=300+ppm&spray=20+gal/ac&area=40+ac&tank=500+gal"), 1280)
				s.settled()
				s.slow(slowdown)
				s.timed() // the first round warms the engine up
				one, two := s.timed()
				answers, all = append(answers, one...), append(all, two...)
				s.slow(1)
			}
			slices.Sort(answers)
			slices.Sort(all)
			b.ReportMetric(answers[len(answers)/2], "p50-ms")
			b.ReportMetric(answers[len(answers)*95/100], "p95-ms")
			b.ReportMetric(all[len(all)*95/100], "all-p95-ms")
			b.ReportMetric(0, "ns/op")
		})
	}
}

// soak reports whether the long runs are asked for.
func soak() bool { return os.Getenv("TANKLEAF_SOAK") != "" }

// openLarge opens a tab for the tools of the largest office.
func openLarge(t testing.TB) *site {
	t.Helper()
	return openTools(t, office.Make(office.Large, 1))
}

// openTools publishes only what the tools need, which of a large office is much less
// than its pages, and opens a tab for it.
func openTools(t testing.TB, b *mix.Book) *site {
	t.Helper()
	p, err := tools(b)
	return openIn(t, p, err)
}

// demoTools is the demonstration's tools.
var demoTools = sync.OnceValues(func() (published, error) {
	b, problems := dataset.Load(os.DirFS("../.."))
	if problems.Stops() {
		return published{}, fmt.Errorf("%v", problems)
	}
	return tools(b)
})

// openDemo opens a tab for the demonstration's tools.
func openDemo(t testing.TB) *site {
	t.Helper()
	p, err := demoTools()
	return openIn(t, p, err)
}

// TestPlannerBytes counts what a reader loads until the planner answers: the page with
// all that it names, and the parts that a mix of four products asks for.
func TestPlannerBytes(t *testing.T) {
	for _, c := range []struct {
		name string
		soak bool
		open func(testing.TB) *site
		most int
	}{
		{"demo", false, openDemo, 150_000},
		{"large", true, openLarge, 400_000},
	} {
		if c.soak && !soak() {
			continue
		}
		s := c.open(t)
		loaded := s.named("planner.html")
		all := s.book.Products
		s.open(plan([]mix.ID{all[0].ID, all[1].ID, all[len(all)/2].ID, all[len(all)-1].ID}, ""), 1280)
		s.settled()
		for _, name := range eval[[]string](s, `[...document.scripts].map(e => e.src)`) {
			_, inside, ok := strings.Cut(name, filepath.ToSlash(s.root)+"/")
			if inside, _, _ = strings.Cut(inside, "?"); ok && !slices.Contains(loaded, inside) {
				loaded = append(loaded, inside)
			}
		}
		sum, first := 0, 0
		for i, name := range loaded {
			n := s.zipped(name)
			sum += n
			if i < len(s.named("planner.html")) {
				first += n
			}
		}
		t.Logf("%s: %d bytes compressed until the planner is ready, %d with a mix of four in %d files", c.name, first, sum, len(loaded))
		if first > c.most || len(loaded) < 8 {
			t.Errorf("%s: %d bytes in %v, want at most %d", c.name, first, loaded, c.most)
		}
	}
}

var loads = regexp.MustCompile(`<(?:script|link)[^>]*(?:src|href)="([^"#:]+\.(?:js|css|svg))(?:\?[^"]*)?"`)

// named lists a page and the files that its HTML loads.
func (s *site) named(name string) []string {
	s.t.Helper()
	html, err := os.ReadFile(filepath.Join(s.root, name))
	if err != nil {
		s.t.Fatal(err)
	}
	list := []string{name}
	for _, m := range loads.FindAllSubmatch(html, -1) {
		list = append(list, path.Clean(string(m[1])))
	}
	return list
}

// zipped is the size of a file as a server sends it.
func (s *site) zipped(name string) int {
	s.t.Helper()
	data, err := os.ReadFile(filepath.Join(s.root, filepath.FromSlash(name)))
	if err != nil {
		s.t.Fatal(err)
	}
	var b bytes.Buffer
	w, _ := gzip.NewWriterLevel(&b, gzip.BestCompression)
	if _, err := w.Write(data); err != nil {
		s.t.Fatal(err)
	}
	if err := w.Close(); err != nil {
		s.t.Fatal(err)
	}
	return b.Len()
}
