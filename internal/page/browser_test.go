package page_test

import (
	"context"
	"fmt"
	"os"
	"path/filepath"
	"regexp"
	"strings"
	"sync"
	"testing"
	"time"

	"github.com/chromedp/cdproto/cdp"
	"github.com/chromedp/cdproto/emulation"
	browserlog "github.com/chromedp/cdproto/log"
	"github.com/chromedp/chromedp"

	"tankleaf.example/internal/outside"
)

// browser is Debian's Chromium with the fixture's site in a folder, opened as a
// reader opens it by double click.
type browser struct {
	context.Context
	root string

	mu   sync.Mutex
	said []string // what the browser complained of
}

func newBrowser(t *testing.T) *browser {
	t.Helper()
	b := &browser{root: t.TempDir()}
	for name, body := range publish(t, office(t)) {
		file := filepath.Join(b.root, filepath.FromSlash(name))
		if err := os.MkdirAll(filepath.Dir(file), 0o755); err != nil {
			t.Fatal(err)
		}
		if err := os.WriteFile(file, body, 0o644); err != nil {
			t.Fatal(err)
		}
	}
	limit := 2 * time.Minute
	if soak {
		limit = 15 * time.Minute
	}
	b.Context = outside.Browser{Hear: b.hear}.Open(t, limit)
	if _, err := chromedp.Run(b.Context, call(browserlog.Enable, cdp.Empty{})); err != nil {
		t.Fatal(err)
	}
	return b
}

// hear keeps complaints: a policy that blocks, a file that is not there.
func (b *browser) hear(ev any) {
	if e, ok := ev.(*browserlog.EventEntryAdded); ok {
		b.mu.Lock()
		b.said = append(b.said, e.Entry.Text)
		b.mu.Unlock()
	}
}

// call is a protocol command as an action.
func call[P, R any](c cdp.Command[P, R], params P) chromedp.Action[R] {
	return func(ctx context.Context, t *chromedp.Target) (R, error) { return cdp.Call(ctx, t, c, params) }
}

// do runs one action and ends the test when it fails.
func do[T any](t *testing.T, b *browser, a chromedp.Action[T]) T {
	t.Helper()
	v, err := chromedp.Run(b, a)
	if err != nil {
		t.Fatal(err)
	}
	return v
}

func (b *browser) open(t *testing.T, page string, width, height int64) {
	t.Helper()
	do(t, b, chromedp.EmulateViewport(width, height))
	do(t, b, chromedp.Navigate("file://"+filepath.ToSlash(b.root)+"/"+page))
}

// kinds is one page of each kind.
var kinds = []string{"index.html", "matrix.html", "classes.html", "class/acid.html", "products.html", "product/fizz.html",
	"together/fizz--sour.html", "sheets.html", "sheet/lids.html", "recipes.html", "recipe/cold-oil.html", "recipe/pinch.html", "record.html", "es/record.html", "observations.html",
	"observation/fb-1.html", "investigation/lids.html", "standing.html", "product/slick.html", "class/oil.html", "interactions.html", "notices.html", "sources.html", "unknown.html",
	"verdicts.html", "safety.html", "data.html", "404.html", "es/product/fizz.html"}

// wide lists elements that stick out of the window and out of nothing that
// scrolls by itself.
const wide = `[...document.querySelectorAll("body *")].filter(e => {
	if (e.getBoundingClientRect().right <= innerWidth + 1) return false;
	for (let p = e.parentElement; p; p = p.parentElement)
		if (["auto", "hidden"].includes(getComputedStyle(p).overflowX)) return false;
	return true;
}).map(e => e.tagName + "." + e.className).slice(0, 5)`

func TestPagesFitTheirScreens(t *testing.T) {
	b := newBrowser(t)
	for _, width := range []int64{360, 768, 1280} {
		for _, page := range kinds {
			b.open(t, page, width, 800)
			if got := do(t, b, chromedp.Evaluate[int64](`document.documentElement.scrollWidth`)); got > width {
				t.Errorf("%s is %d wide on a screen of %d: %v", page, got, width, do(t, b, chromedp.Evaluate[[]string](wide)))
			}
		}
	}
	b.mu.Lock()
	defer b.mu.Unlock()
	if len(b.said) > 0 {
		t.Errorf("the browser complains: %q", b.said)
	}
}

// TestAnswerOnTheFirstScreen: verdict, reason and what to do instead, on a small
// phone, without scrolling.
func TestAnswerOnTheFirstScreen(t *testing.T) {
	b := newBrowser(t)
	for _, page := range []string{"together/fizz--sour.html", "product/fizz.html", "es/together/fizz--sour.html", "es/product/fizz.html"} {
		b.open(t, page, 360, 640)
		for _, part := range []string{"says", "why", "instead"} {
			js := fmt.Sprintf(`document.querySelector(".band .%s").getBoundingClientRect().bottom`, part)
			if y := do(t, b, chromedp.Evaluate[float64](js)); y > 640 || y <= 0 {
				t.Errorf("%s: %s ends at %g of 640", page, part, y)
			}
		}
	}
}

// TestTargetsAreLargeEnough: what is pressed with gloves on is at least 44 px
// high, apart from links inside sentences and cells of the matrix (28).
func TestTargetsAreLargeEnough(t *testing.T) {
	b := newBrowser(t)
	small := `[...document.querySelectorAll(".site-nav a, .index a, .letters a, .names-list a, .partner, .tally a, .inline a, .hazards a, .hazards-brief a, .to-menu a, .contents a, summary")]
		.filter(e => e.offsetParent && e.getBoundingClientRect().height < 43.5).map(e => e.textContent.trim() + " " + e.getBoundingClientRect().height).slice(0, 8)`
	cells := `[...document.querySelectorAll(".matrix td a")].filter(e => e.offsetParent).map(e => [e.getBoundingClientRect(), e.outerHTML])
		.filter(([r]) => r.height < 28 || r.width < 28).map(([r, html]) => r.width + " by " + r.height + ": " + html).slice(0, 8)`
	for _, page := range kinds {
		b.open(t, page, 360, 800)
		if got := do(t, b, chromedp.Evaluate[[]string](small)); len(got) > 0 {
			t.Errorf("%s: too small to hit: %q", page, got)
		}
		if got := do(t, b, chromedp.Evaluate[[]string](cells)); len(got) > 0 {
			t.Errorf("%s: cells below 28 px: %q", page, got)
		}
	}
	b.open(t, "matrix.html", 768, 1024) // a phone has a list in place of the cells
	if got := do(t, b, chromedp.Evaluate[[]string](cells)); len(got) > 0 {
		t.Errorf("cells below 28 px: %q", got)
	}
	if do(t, b, chromedp.Evaluate[int](`[...document.querySelectorAll(".matrix td a")].filter(e => e.offsetParent).length`)) == 0 {
		t.Error("no cell is seen")
	}
}

// contrast works out the lowest ratio of text to what lies behind it, by WCAG
// 2.2, over the elements that match.
const contrast = `(selector => {
	const rgb = c => c.match(/[\d.]+/g).map(Number);
	const light = c => { const [r, g, b] = rgb(c).map(v => (v /= 255) <= 0.04045 ? v / 12.92 : ((v + 0.055) / 1.055) ** 2.4); return 0.2126 * r + 0.7152 * g + 0.0722 * b; };
	const behind = e => { for (; e; e = e.parentElement) { const c = getComputedStyle(e).backgroundColor; if ((rgb(c)[3] ?? 1) === 1) return c; } return "rgb(255,255,255)"; };
	let worst = [99, "none"];
	for (const e of document.querySelectorAll(selector)) {
		const a = light(getComputedStyle(e).color), b = light(behind(e));
		const ratio = (Math.max(a, b) + 0.05) / (Math.min(a, b) + 0.05);
		if (ratio < worst[0]) worst = [ratio, e.className + ": " + e.textContent.trim().slice(0, 30)];
	}
	return worst;
})("body, p, a, li, th, td, dt, dd, h1, h2, h3, b, .chip, .figure, .cite, .quiet, .under")`

func TestContrastByDayAndNight(t *testing.T) {
	b := newBrowser(t)
	for _, scheme := range []string{"light", "dark"} {
		do(t, b, call(emulation.SetEmulatedMedia, emulation.SetEmulatedMediaParams{Features: []*emulation.MediaFeature{{Name: "prefers-color-scheme", Value: scheme}}}))
		for _, page := range kinds {
			b.open(t, page, 1280, 800)
			worst := do(t, b, chromedp.Evaluate[[]any](contrast))
			if ratio, ok := worst[0].(float64); !ok || ratio < 4.5 {
				t.Errorf("%s, %s: contrast %v at %v", page, scheme, worst[0], worst[1])
			}
		}
	}
}

var (
	pdfPage = regexp.MustCompile(`/Type\s*/Page[^s]`)
	pdfBox  = regexp.MustCompile(`/MediaBox\s*\[\s*0 0 ([0-9.]+) ([0-9.]+)\s*\]`)
)

func TestPrintsOnItsPaper(t *testing.T) {
	b := newBrowser(t)
	for _, c := range []struct {
		page  string
		paper chromedp.PaperSize
		pages int
		why   string
	}{
		{"recipe/cold-oil.html", chromedp.PaperLetter, 1, "a recipe and its record fill one page"},
		{"recipe/cold-oil.html", chromedp.PaperA4, 1, "on A4 too"},
		{"es/recipe/cold-oil.html", chromedp.PaperLetter, 1, "in Spanish too"},
		{"recipe/pinch.html", chromedp.PaperLetter, 1, "with a stock to make first"},
		{"es/recipe/pinch--crowded.html", chromedp.PaperLetter, 1, "the crowded jar beside it"},
		{"es/recipe/lid-lesson.html", chromedp.PaperLetter, 1, "with the caution of its gas"},
	} {
		b.open(t, c.page, 1280, 800)
		pdf := do(t, b, chromedp.PrintToPDF(chromedp.PDFPaper(c.paper)))
		if n := len(pdfPage.FindAll(pdf, -1)); n != c.pages {
			t.Errorf("%s: %d pages, want %d", c.why, n, c.pages)
		}
	}
	b.open(t, "matrix.html", 1280, 800)
	pdf := do(t, b, chromedp.PrintToPDF(chromedp.PDFPreferCSSPageSize()))
	box := pdfBox.FindSubmatch(pdf)
	if box == nil || !strings.HasPrefix(string(box[1]), "119") || !strings.HasPrefix(string(box[2]), "168") {
		t.Errorf("the wall chart is %s by %s points, want ISO A2, 1191 by 1684", box[1], box[2])
	}
}

// TestKeyboardReachesTheMatrix: the first tab leads past the navigation, and what
// scrolls by itself can be scrolled by keys.
func TestKeyboardReachesTheMatrix(t *testing.T) {
	b := newBrowser(t)
	b.open(t, "matrix.html", 1280, 800)
	if got := do(t, b, chromedp.Evaluate[string](`document.querySelector("a[href], [tabindex='0']").className`)); got != "skip" {
		t.Errorf("the first stop is %q", got)
	}
	if n := do(t, b, chromedp.Evaluate[int64](`[...document.querySelectorAll("*")].filter(e => ["auto", "scroll"].includes(getComputedStyle(e).overflowX) && e.scrollWidth > e.clientWidth && e.tabIndex < 0).length`)); n > 0 {
		t.Errorf("%d boxes scroll and cannot be reached by keys", n)
	}
}
