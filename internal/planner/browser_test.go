package planner_test

import (
	"context"
	"net/url"
	"os"
	"path/filepath"
	"sync"
	"testing"
	"time"

	"github.com/chromedp/chromedp"

	"tankleaf.example/internal/outside"
)

// limitOfTools is how long a tab may be open for the tools of a large office.
const limitOfTools = 8 * time.Minute

// chromium is the one browser of these tests. Each test has a tab of its own in it.
var chromium struct {
	sync.Once
	context.Context
	end []func()
	err error
}

// folder is where sites are kept while the tests run.
var folder = sync.OnceValue(func() string {
	dir, err := os.MkdirTemp("", "planner")
	if err != nil {
		panic(err)
	}
	chromium.end = append(chromium.end, func() { _ = os.RemoveAll(dir) })
	return dir
})

func TestMain(m *testing.M) {
	folder()
	code := m.Run()
	for i := range chromium.end {
		chromium.end[len(chromium.end)-1-i]()
	}
	os.Exit(code)
}

// openTab opens a tab, which closes with the test, at the latest after a limit: four
// times that in the long runs, which ask it for more.
func openTab(t testing.TB, limit time.Duration) context.Context {
	t.Helper()
	if soak() {
		limit *= 4
	}
	outside.Program(t, "chromium")
	chromium.Do(func() {
		var stop func()
		chromium.Context, stop, chromium.err = outside.Browser{}.Start()
		chromium.end = append(chromium.end, stop)
	})
	if chromium.err != nil {
		t.Fatalf("start chromium: %v", chromium.err)
	}
	all, cancel := context.WithTimeout(chromium.Context, limit)
	t.Cleanup(cancel)
	ctx, cancel := chromedp.NewContext(all)
	t.Cleanup(cancel)
	if err := chromedp.Do(ctx); err != nil {
		t.Fatalf("open a tab: %v", err)
	}
	return ctx
}

// openScript opens a page, from a folder, that runs one classic script.
func openScript(t testing.TB, ctx context.Context, script string) {
	t.Helper()
	page := filepath.Join(filepath.Dir(script), "page.html")
	html := `<!doctype html><meta charset="utf-8"><title>Test</title><script src="` + filepath.Base(script) + `"></script>`
	if err := os.WriteFile(page, []byte(html), 0o644); err != nil {
		t.Fatal(err)
	}
	address := url.URL{Scheme: "file", Path: page}
	if err := chromedp.Do(ctx, chromedp.Navigate(address.String())); err != nil {
		t.Fatal(err)
	}
}
