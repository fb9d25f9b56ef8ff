package preview_test

import (
	"os"
	"path/filepath"
	"testing"
	"time"

	"github.com/chromedp/chromedp"

	"tankleaf.example/internal/outside"
)

// TestReloadsInABrowser looks at one page while the office breaks and is mended:
// problems appear and go without a touch, under the policy of the page.
func TestReloadsInABrowser(t *testing.T) {
	dir := office(t)
	s, addr := start(t, dir, true)
	ctx := outside.Browser{}.Open(t, 2*time.Minute)
	if err := chromedp.Do(ctx, chromedp.Navigate("http://"+addr+"/product/fizz.html")); err != nil {
		t.Fatal(err)
	}
	const problems = `(document.querySelector(".preview-problems") || {textContent: ""}).textContent + getComputedStyle(document.querySelector(".preview-problems") || document.body).borderBottomWidth`
	until := func(why string, good func(string) bool) {
		t.Helper()
		got := ""
		var err error
		for range 200 {
			if got, err = chromedp.Run(ctx, chromedp.Evaluate[string](problems)); err == nil && good(got) {
				return
			}
			time.Sleep(100 * time.Millisecond)
		}
		t.Fatalf("%s: %q, %v", why, got, err)
	}
	until("at first all is well", func(s string) bool { return s == "0px" })
	name := filepath.Join(dir, "data", "crops.yaml")
	good, err := os.ReadFile(name)
	if err != nil {
		t.Fatal(err)
	}
	for _, step := range []struct {
		why, text string
		good      func(string) bool
	}{
		{"a problem stands above the page, with its rule", "crops: [", func(s string) bool {
			return len(s) > 40 && s[len(s)-3:] == "4px"
		}},
		{"mended, it is gone", string(good), func(s string) bool { return s == "0px" }},
	} {
		if err := os.WriteFile(name, []byte(step.text), 0o644); err != nil {
			t.Fatal(err)
		}
		if _, err := s.Build(); err != nil {
			t.Fatal(err)
		}
		until(step.why, step.good)
	}
}
