package planner_test

import (
	"context"
	"io/fs"
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
	"tankleaf.example/internal/page"
	"tankleaf.example/templates"
)

// site is a published site in a folder with a browser that looks at it as a reader
// does who opened it by double click.
type site struct {
	t     testing.TB
	ctx   context.Context
	root  string
	book  *mix.Book
	judge *compat.Judge
	words *message.Catalogue

	mu   sync.Mutex
	said []string // what the browser complained of
}

// openSite publishes a book and starts a browser.
func openSite(t testing.TB, b *mix.Book) *site {
	t.Helper()
	words, problems := message.Load(templates.FS)
	if problems.Stops() {
		t.Fatal(problems)
	}
	x := mix.NewIndex(b)
	s := &site{t: t, root: t.TempDir(), book: b, judge: compat.New(x), words: words["en"]}
	pub, problems := page.New(page.Inputs{Index: x, Judge: s.judge, Messages: words, Templates: []fs.FS{templates.FS}})
	if problems.Stops() {
		t.Fatal(problems)
	}
	for f, err := range pub.Files() {
		if err != nil {
			t.Fatal(err)
		}
		s.write(f)
	}
	s.ctx = openBrowser(t, 3*time.Minute)
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

func (s *site) write(f page.File) {
	path := filepath.Join(s.root, filepath.FromSlash(f.Path))
	if err := os.MkdirAll(filepath.Dir(path), 0o755); err != nil {
		s.t.Fatal(err)
	}
	if err := os.WriteFile(path, f.Body, 0o644); err != nil {
		s.t.Fatal(err)
	}
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
	path, hash, _ := strings.Cut(name, "#")
	address := url.URL{Scheme: "file", Path: filepath.ToSlash(filepath.Join(s.root, path))}
	where := address.String()
	if hash != "" {
		where += "#" + hash
	}
	s.do(chromedp.EmulateViewport(width, 900))
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
