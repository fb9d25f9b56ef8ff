package page_test

import (
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"

	downloads "github.com/chromedp/cdproto/browser"
	"github.com/chromedp/chromedp"
	"tankleaf.example/internal/dataset"
	"tankleaf.example/internal/mix"
)

// formField is the selector of a place of the draft.
func formField(at string) chromedp.ID { return chromedp.ID("f-" + strings.ReplaceAll(at, ".", "-")) }

// types fills a field in as a person does, and goes on to the next.
func (b *browserT) types(at, text string) {
	b.t.Helper()
	do(b.t, b.browser, chromedp.Focus(formField(at)))
	do(b.t, b.browser, chromedp.SendKeys(formField(at), text))
	do(b.t, b.browser, chromedp.Blur(formField(at)))
}

// picks chooses a value from a list or, by its number, from boxes.
func (b *browserT) picks(at, value string) {
	b.t.Helper()
	js := fmt.Sprintf(`(() => { const e = document.getElementById(%q); e.value = %q; e.dispatchEvent(new Event("change", {bubbles: true})); return e.value; })()`, formField(at), value)
	if got := do(b.t, b.browser, chromedp.Evaluate[string](js)); got != value {
		b.t.Fatalf("%s offers no %q", at, value)
	}
}

func (b *browserT) ticks(at, value string) {
	b.t.Helper()
	js := fmt.Sprintf(`(() => { const e = [...document.getElementsByName(%q)].find(e => e.value === %q); e?.click(); return e?.checked === true; })()`, formField(at), value)
	if !do(b.t, b.browser, chromedp.Evaluate[bool](js)) {
		b.t.Fatalf("%s has no box %q", at, value)
	}
}

func (b *browserT) js(code string) string {
	b.t.Helper()
	return do(b.t, b.browser, chromedp.Evaluate[string](code))
}

// value is what stands in the field of a place.
func (b *browserT) value(at string) string {
	b.t.Helper()
	return b.js(fmt.Sprintf(`document.getElementById(%q).value`, formField(at)))
}

// browserT is a browser in a test that ends when something fails.
type browserT struct {
	*browser
	t *testing.T
}

// fillIn records a jar that hissed.
func (b *browserT) fillIn() {
	b.types("title", `Fizz met Sour: "hissed" # twice`)
	b.picks("date", "2026-05-30")
	do(b.t, b.browser, chromedp.Evaluate[bool](`document.getElementById("f-date").dispatchEvent(new Event("input"))`))
	b.picks("by", "county agent")
	b.picks("place", "upper")
	b.picks("investigation", "lids")
	b.types("products.0.product", "Fizz 80 SP")
	b.types("products.0.rate", "5 lb/ac")
	b.types("products.0.batch", "B2: new")
	b.types("products.1.product", "Sour SL")
	b.types("products.1.rate", "1 qt/100 gal")
	b.ticks("order", "recorded")
	b.types("spray_volume", "100 gal/ac")
	b.types("water_share", "25 %")
	b.picks("vessel.type", "jar")
	b.types("vessel.size", "1 qt")
	b.types("vessel.liquid", "700 mL")
	b.ticks("vessel.closed", "true")
	b.picks("water", "well")
	b.types("temperature", "59 °F")
	b.ticks("readings.0.gas", "bubbles")
	b.types("readings.0.foam", "140 mL")
	do(b.t, b.browser, chromedp.Evaluate[bool](`document.querySelectorAll("details.record-card")[1].open = true`))
	b.ticks("readings.1.gas", "vented")
	b.ticks("readings.1.flakes", "none")
	b.types("readings.1.ph", "6.4")
	b.types("readings.1.note", "The lid jumped.")
}

// TestFormMakesARecordThatLoads: a person fills the form in, opened from a folder,
// saves the file, the office puts it among its records, and the loader takes it as it
// is.
func TestFormMakesARecordThatLoads(t *testing.T) {
	b := &browserT{newBrowser(t), t}
	saved := t.TempDir()
	do(t, b.browser, call(downloads.SetDownloadBehavior, downloads.SetDownloadBehaviorParams{Behavior: downloads.SetDownloadBehaviorBehaviorAllow, DownloadPath: saved}))
	b.open(t, "record.html", 1280, 900)
	b.fillIn()
	if got := b.js(`document.querySelector(".record-state").textContent`); !strings.HasPrefix(got, "Complete") {
		t.Fatalf("%s: %s", got, b.js(`document.querySelector(".record-missing")?.textContent ?? ""`))
	}
	id := b.value("id")
	do(t, b.browser, chromedp.Click(chromedp.CSS(`a[download]`)))
	record := string(waitFor(t, filepath.Join(saved, id+".yaml")))
	if shown := b.js(`document.getElementById("yaml").textContent`); shown != record {
		t.Errorf("the file\n%s\nis not what is shown\n%s", record, shown)
	}
	book, problems := dataset.Load(withRecord(t, id, record))
	if len(problems) > 0 {
		t.Fatalf("the loader refuses\n%s\n%s", record, problems)
	}
	for i := range book.Observations {
		if o := &book.Observations[i]; string(o.ID) == id {
			holdsWhatWasTyped(t, o)
			return
		}
	}
	t.Error("the record is not among the observations")
}

func holdsWhatWasTyped(t *testing.T, o *mix.Observation) {
	t.Helper()
	if o.Title["en"] != `Fizz met Sour: "hissed" # twice` || o.By != "county agent" || o.Place.ID != "upper" || o.Investigation.ID != "lids" {
		t.Errorf("title %v, by %q, place %v, investigation %v", o.Title, o.By, o.Place, o.Investigation)
	}
	if len(o.Products) != 2 || o.Products[0].ID != "fizz" || o.Products[0].Batch != "B2: new" || o.Products[1].Rate.String() != "1 qt/100 gal" || !o.OrderKnown {
		t.Errorf("products %v, order known %v", o.Products, o.OrderKnown)
	}
	if !o.Vessel.Closed || o.Vessel.Size.String() != "1 qt" || o.Temperature.N.Short(1) != "15" || !o.WaterShare.Known {
		t.Errorf("vessel %v, temperature %v, share %v", o.Vessel, o.Temperature, o.WaterShare)
	}
	if len(o.Readings) != 2 || o.Readings[0].Gas != mix.Bubbles || o.Readings[1].Gas != mix.Vented || o.Readings[1].Flakes != mix.None ||
		o.Readings[1].Gel != mix.NotRecorded || o.Readings[1].After.String() != "15 min" || o.Readings[1].Note["en"] != "The lid jumped." {
		t.Errorf("readings %+v", o.Readings)
	}
}

// waitFor reads a file once the browser has written it.
func waitFor(t *testing.T, name string) []byte {
	t.Helper()
	for range 100 {
		if body, err := os.ReadFile(name); err == nil && len(body) > 0 {
			return body
		}
		time.Sleep(50 * time.Millisecond)
	}
	t.Fatalf("the browser has not saved %s", filepath.Base(name))
	return nil
}

// TestFormLosesNothing: what cannot be read stays as it was typed, says beside itself
// what to write, and offers it.
func TestFormLosesNothing(t *testing.T) {
	b := &browserT{newBrowser(t), t}
	b.open(t, "record.html", 360, 800)
	if got := b.js(`[...document.querySelectorAll(".field-note")].map(e => e.textContent).join("")`); got != "" {
		t.Errorf("an untouched form complains: %q", got)
	}
	b.types("products.0.product", "Fizz 80 SP")
	b.types("products.0.rate", "5 lbs")
	note := `document.querySelector("#f-products-0-rate-note").textContent`
	if got := b.js(note); got == "" || b.js(`document.getElementById("f-products-0-rate").getAttribute("aria-invalid")`) != "true" {
		t.Errorf("nothing is said beside a rate that cannot be read: %q", got)
	}
	if got := b.value("products.0.rate"); got != "5 lbs" {
		t.Errorf("what was typed has become %q", got)
	}
	if got := b.js(`String(document.getElementById("yaml"))`); got != "null" {
		t.Error("there is a record although things are missing")
	}
	do(t, b.browser, chromedp.Evaluate[bool](`document.querySelector("#f-products-0-rate-note .offer").click() === undefined`))
	if got := b.js(note); got != "" {
		t.Errorf("what the form offered is refused: %q, %q", b.value("products.0.rate"), got)
	}
	missing := b.js(`document.querySelector(".record-missing").textContent`)
	for _, want := range []string{"Title This is needed", "Vessel A jar test needs its vessel", "What you saw Nothing that was seen"} {
		if !strings.Contains(missing, want) {
			t.Errorf("%q does not name %q", missing, want)
		}
	}
	do(t, b.browser, chromedp.Evaluate[bool](`document.querySelector(".go-to").click() === undefined`))
	if got := b.js(`document.activeElement.id`); got != "f-title" {
		t.Errorf("the way to the first field leads to %q", got)
	}
}

// TestFormKeepsNothingUnasked: nothing is stored until the box is ticked; then the
// draft is there again after a reload; and unticking takes it away.
func TestFormKeepsNothingUnasked(t *testing.T) {
	b := &browserT{newBrowser(t), t}
	b.open(t, "record.html", 1280, 900)
	b.types("title", "A first try")
	stored := func() string { return b.js(`String(localStorage.length + sessionStorage.length) + document.cookie`) }
	if got := stored(); got != "0" {
		t.Errorf("%s things are stored and nobody asked for it", got)
	}
	do(t, b.browser, chromedp.Click(chromedp.ID("keep")))
	if got := b.js(`document.querySelector(".keeping p").textContent`); !strings.HasPrefix(got, "Kept in this browser") || stored() == "0" {
		t.Errorf("the box is ticked and the page says %q", got)
	}
	b.types("title", ", and a second")
	b.open(t, "record.html", 1280, 900)
	if got := b.value("title"); got != "A first try, and a second" {
		t.Errorf("after a reload the title is %q", got)
	}
	do(t, b.browser, chromedp.Click(chromedp.ID("keep")))
	if got := stored(); got != "0" {
		t.Errorf("the box is unticked and %s things are stored", got)
	}
	for _, said := range b.said {
		t.Errorf("the browser complains: %s", said)
	}
}

// TestFormTakesAMixFromTheAddress: the way from a recipe fills in what was poured.
func TestFormTakesAMixFromTheAddress(t *testing.T) {
	b := &browserT{newBrowser(t), t}
	b.open(t, "recipe/pinch.html", 1280, 900)
	href := b.js(`document.querySelector(".fill-in a").getAttribute("href")`)
	b.open(t, "recipe/"+href, 1280, 900)
	for at, want := range map[string]string{"products.0.product": "dust", "products.0.rate": "1 lb/ac", "products.2.product": "sour", "spray_volume": "100 gal/ac", "water": "well"} {
		if got := b.value(at); got != want {
			t.Errorf("%s is %q, want %q", at, got, want)
		}
	}
}
