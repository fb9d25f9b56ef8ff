package planner_test

import (
	"context"
	"net/url"
	"os"
	"path/filepath"
	"testing"
	"time"

	"github.com/chromedp/chromedp"
)

// limitOfTools is how long a browser may be open for the tools of a large office.
const limitOfTools = 8 * time.Minute

// openBrowser starts a Chromium of its own, which ends with the test.
func openBrowser(t testing.TB, limit time.Duration) context.Context {
	t.Helper()
	path := lookFor(t, "chromium")
	options := append(chromedp.DefaultExecAllocatorOptions[:],
		chromedp.ExecPath(path), chromedp.NoSandbox, chromedp.DisableGPU, chromedp.UserDataDir(t.TempDir()),
		chromedp.Flag("disable-quic", true), chromedp.Flag("disable-component-update", true))
	all, cancel := context.WithTimeout(context.Background(), limit)
	t.Cleanup(cancel)
	allocated, cancel := chromedp.NewExecAllocator(all, options...)
	t.Cleanup(cancel)
	ctx, cancel := chromedp.NewContext(allocated)
	t.Cleanup(cancel)
	if err := chromedp.Do(ctx); err != nil {
		t.Fatalf("start chromium: %v", err)
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
