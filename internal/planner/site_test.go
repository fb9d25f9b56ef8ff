package planner_test

import (
	"context"
	"fmt"
	"io/fs"
	"iter"
	"net/url"
	"os"
	"path/filepath"
	"strings"
	"sync"
	"testing"
	"time"

	"github.com/chromedp/cdproto/cdp"
	browserlog "github.com/chromedp/cdproto/log"
	"github.com/chromedp/chromedp"

	"tankleaf.example/internal/compat"
	"tankleaf.example/internal/message"
	"tankleaf.example/internal/mix"
	"tankleaf.example/internal/office"
	"tankleaf.example/internal/page"
	"tankleaf.example/templates"
)

// published is a site in a folder. It is not changed once it is written.
type published struct {
	root  string
	book  *mix.Book
	judge *compat.Judge
	words *message.Catalogue
}

// site is a published site in a tab of the browser, looked at as a reader does who
// opened it by double click.
type site struct {
	published
	t   testing.TB
	ctx context.Context

	mu   sync.Mutex
	said []string // what the browser complained of
}

// small is the whole site of a small made office, which most tests look at.
var small = sync.OnceValues(func() (published, error) {
	return publish(withHalfLives(office.Make(office.Small, 3)), func(in page.Inputs) (iter.Seq2[page.File, error], error) {
		pub, problems := page.New(in)
		if problems.Stops() {
			return nil, fmt.Errorf("%v", problems)
		}
		return pub.Files(), nil
	})
})

// tools publishes of a book only what the planner and the calculators need.
func tools(b *mix.Book) (published, error) {
	return publish(b, func(in page.Inputs) (iter.Seq2[page.File, error], error) { return page.Tools(in), nil })
}

// publish writes the files of a book into a folder of its own.
func publish(b *mix.Book, files func(page.Inputs) (iter.Seq2[page.File, error], error)) (published, error) {
	words, problems := message.Load(templates.FS)
	if problems.Stops() {
		return published{}, fmt.Errorf("%v", problems)
	}
	x := mix.NewIndex(b)
	root, err := os.MkdirTemp(folder(), "site")
	if err != nil {
		return published{}, err
	}
	p := published{root: root, book: b, judge: compat.New(x), words: words["en"]}
	list, err := files(page.Inputs{Index: x, Judge: p.judge, Messages: words, Templates: []fs.FS{templates.FS}})
	if err != nil {
		return p, err
	}
	for f, err := range list {
		if err != nil {
			return p, err
		}
		if err := p.write(f); err != nil {
			return p, err
		}
	}
	return p, nil
}

// openSite opens a tab for the small site.
func openSite(t testing.TB) *site {
	t.Helper()
	p, err := small()
	return openIn(t, p, err)
}

// openIn opens a tab for a site.
func openIn(t testing.TB, p published, err error) *site {
	t.Helper()
	if err != nil {
		t.Fatal(err)
	}
	s := &site{published: p, t: t, ctx: openTab(t, limitOfTools)}
	if err := chromedp.Listen(s.ctx, s.hear); err != nil {
		t.Fatal(err)
	}
	enable := func(ctx context.Context, target *chromedp.Target) (cdp.Empty, error) {
		return cdp.Call(ctx, target, browserlog.Enable, cdp.Empty{})
	}
	if _, err := chromedp.Run(s.ctx, chromedp.Action[cdp.Empty](enable)); err != nil {
		t.Fatal(err)
	}
	t.Cleanup(s.quiet)
	return s
}

func (p published) write(f page.File) error {
	path := filepath.Join(p.root, filepath.FromSlash(f.Path))
	if err := os.MkdirAll(filepath.Dir(path), 0o755); err != nil {
		return err
	}
	return os.WriteFile(path, f.Body, 0o644)
}

// hear keeps complaints: a policy that blocks, a file that is not there, a script
// that fails.
func (s *site) hear(ev any) {
	if e, ok := ev.(*browserlog.EventEntryAdded); ok {
		s.mu.Lock()
		s.said = append(s.said, e.Entry.Text+" "+e.Entry.URL)
		s.mu.Unlock()
	}
}

// quiet fails the test when the browser complained.
func (s *site) quiet() {
	s.mu.Lock()
	defer s.mu.Unlock()
	if len(s.said) > 0 {
		s.t.Errorf("the browser complained:\n%s", strings.Join(s.said, "\n"))
	}
}

// open goes to a page on a screen of some width.
func (s *site) open(name string, width int64) {
	s.t.Helper()
	s.do(chromedp.EmulateViewport(width, 900))
	s.visit(name)
}

// openOnPhone goes to a page on a small screen that is touched.
func (s *site) openOnPhone(name string) {
	s.t.Helper()
	s.do(chromedp.EmulateViewport(360, 740, chromedp.EmulateMobile, chromedp.EmulateTouch))
	s.visit(name)
}

// visit goes to a page.
func (s *site) visit(name string) {
	s.t.Helper()
	path, hash, _ := strings.Cut(name, "#")
	address := url.URL{Scheme: "file", Path: filepath.ToSlash(filepath.Join(s.root, path))}
	where := address.String()
	if hash != "" {
		where += "#" + hash
	}
	s.do(chromedp.Navigate("about:blank")) // so that an address that differs in its hash alone is opened anew
	s.do(chromedp.Navigate(where))
}

func (s *site) do(a chromedp.Action[chromedp.Void]) {
	s.t.Helper()
	if err := chromedp.Do(s.ctx, a); err != nil {
		s.t.Fatal(err)
	}
}

// eval asks the page for a value.
func eval[T any](s *site, script string) T {
	s.t.Helper()
	v, err := chromedp.Run(s.ctx, chromedp.Evaluate[T](script))
	if err != nil {
		s.t.Fatalf("%v: %s", err, script)
	}
	return v
}

// wait waits until a script is true.
func (s *site) wait(script string) {
	s.t.Helper()
	for range 200 {
		if eval[bool](s, script) {
			return
		}
		time.Sleep(15 * time.Millisecond)
	}
	s.t.Fatalf("never came true: %s\n%s", script, eval[string](s, `document.querySelector("main").innerText.slice(0, 800)`))
}

// keys presses keys one after the other.
func (s *site) keys(text string) {
	s.t.Helper()
	s.do(chromedp.KeyEvent(text))
}

// texts returns the texts of the elements that a selector finds.
func (s *site) texts(selector string) []string {
	s.t.Helper()
	return eval[[]string](s, `[...document.querySelectorAll(`+asJSON(selector)+`)].map(e => e.innerText.replace(/\s+/g, " ").trim())`)
}

// set writes into a field as typing does.
func (s *site) set(id, value string) {
	s.t.Helper()
	eval[bool](s, `(() => { const e = document.getElementById(`+asJSON(id)+`); e.value = `+asJSON(value)+
		`; e.dispatchEvent(new Event(e.tagName === "SELECT" || e.type === "checkbox" ? "change" : "input")); return true })()`)
}

// settled waits until the planner knows all that it can of its mix.
func (s *site) settled() {
	s.t.Helper()
	s.wait(`document.querySelector("#planner.ready") !== null && !document.querySelector(".plan-answer .quiet, [aria-busy=true]") && !document.body.innerText.includes(` +
		asJSON(s.words.T("planner.loading")) + `)`)
}
