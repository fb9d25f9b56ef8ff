package outside

import (
	"context"
	"fmt"
	"os"
	"testing"
	"time"

	"github.com/chromedp/chromedp"
)

// Browser says how Debian's Chromium is started for a test.
type Browser struct {
	Rules string            // where hosts are found, as the flag host-resolver-rules says it; "" finds this machine alone
	Hear  func(message any) // is told of the first tab's messages; may be nil
}

// nowhere finds no host but this machine: a page that asks another gets no answer.
const nowhere = "MAP * ~NOTFOUND, EXCLUDE 127.0.0.1, EXCLUDE localhost"

// quiet are the flags that keep Chromium from doing anything that no page asks for.
var quiet = []string{"disable-quic", "disable-background-networking", "disable-component-update", "disable-sync", "disable-dev-shm-usage"}

// Start starts a Chromium with a profile of its own and returns the context of its
// first tab. The caller ends it with stop, also after an error.
func (b Browser) Start() (tab context.Context, stop func(), err error) {
	profile, err := os.MkdirTemp("", "tankleaf-browser")
	if err != nil {
		return nil, func() {}, fmt.Errorf("make a profile: %w", err)
	}
	rules := b.Rules
	if rules == "" {
		rules = nowhere
	}
	options := append(chromedp.DefaultExecAllocatorOptions[:], chromedp.NoSandbox, chromedp.DisableGPU, chromedp.UserDataDir(profile),
		chromedp.Flag("host-resolver-rules", rules))
	for _, f := range quiet {
		options = append(options, chromedp.Flag(f, true))
	}
	var first []chromedp.ContextOption
	if b.Hear != nil {
		first = append(first, chromedp.WithListener(b.Hear))
	}
	allocator, end := chromedp.NewExecAllocator(context.Background(), options...)
	tab, leave := chromedp.NewContext(allocator, first...)
	return tab, func() { leave(); end(); _ = os.RemoveAll(profile) }, chromedp.Do(tab)
}

// Open starts a Chromium that ends with the test, and at the latest after limit.
// In a short run the test is skipped.
func (b Browser) Open(t testing.TB, limit time.Duration) context.Context {
	t.Helper()
	if testing.Short() {
		t.Skip("needs a browser")
	}
	Program(t, "chromium")
	tab, stop, err := b.Start()
	t.Cleanup(stop)
	if err != nil {
		t.Fatalf("start chromium: %v", err)
	}
	tab, cancel := context.WithTimeout(tab, limit)
	t.Cleanup(cancel)
	return tab
}
