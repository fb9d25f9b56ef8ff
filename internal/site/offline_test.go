package site_test

import (
	"context"
	"net/http"
	"net/http/httptest"
	"path/filepath"
	"strings"
	"sync/atomic"
	"testing"
	"time"

	"github.com/chromedp/chromedp"

	"tankleaf.example/internal/outside"
	"tankleaf.example/internal/site"
)

// field is a site behind a web server, and a browser that looks at it.
type field struct {
	context.Context
	dir, out, root string

	cut   atomic.Bool            // there is no signal
	spoil atomic.Pointer[string] // a path whose file arrives changed
	bad   atomic.Int32           // how often it did
}

func newField(t *testing.T) *field {
	t.Helper()
	f := &field{dir: fixture(t), out: filepath.Join(t.TempDir(), "public")}
	build(t, f.dir, f.out)
	server := httptest.NewServer(http.StripPrefix("/office", http.HandlerFunc(f.serve)))
	t.Cleanup(server.Close)
	f.root = server.URL + "/office/"
	f.Context = outside.Browser{}.Open(t, 3*time.Minute)
	return f
}

func (f *field) serve(w http.ResponseWriter, r *http.Request) {
	if f.cut.Load() {
		panic(http.ErrAbortHandler)
	}
	if bad := f.spoil.Load(); bad != nil && r.URL.Path == "/"+*bad {
		f.bad.Add(1)
		_, _ = w.Write([]byte("not what was published"))
		return
	}
	http.FileServer(http.Dir(f.out)).ServeHTTP(w, r)
}

func (f *field) open(t *testing.T, page string) {
	t.Helper()
	if err := chromedp.Do(f, chromedp.Navigate(f.root+page)); err != nil {
		t.Fatalf("%s: %v", page, err)
	}
}

// want waits until an expression, which may be a promise, has a value.
func (f *field) want(t *testing.T, why, expression, want string) {
	t.Helper()
	got := ""
	for range 300 {
		var err error
		got, err = chromedp.Run(f, chromedp.Evaluate[string](`(async () => { try { return String(await (`+expression+`)) } catch (e) { return String(e) } })()`,
			chromedp.EvalAwaitPromise))
		if err == nil && got == want {
			return
		}
		time.Sleep(50 * time.Millisecond)
	}
	t.Fatalf("%s: %s\ngot  %s\nwant %s", why, expression, got, want)
}

// kept asks for the versions of the copies in the browser that are complete, with
// what "|" tells of a file whose sum is not the one it is kept with.
const kept = `(async () => {
	const all = [];
	for (const name of await caches.keys()) {
		if (name.endsWith(" visited")) continue;
		const cache = await caches.open(name);
		if (!await cache.match("` + "%ROOT%" + `offline/state")) continue;
		let bad = "";
		for (const key of await cache.keys()) {
			const r = await cache.match(key), want = r.headers.get("X-Sha256");
			if (key.url.endsWith("/state")) continue;
			const sum = new Uint8Array(await crypto.subtle.digest("SHA-256", await r.arrayBuffer()));
			if ([...sum].map((b) => b.toString(16).padStart(2, "0")).join("") !== want) bad += "|" + key.url;
		}
		all.push(name.split(" ").pop() + bad);
	}
	return all.join();
})()`

// wantCopy waits until the browser keeps one copy, of what is published now.
func (f *field) wantCopy(t *testing.T, why string) {
	t.Helper()
	f.want(t, why, strings.Replace(kept, "%ROOT%", f.root, 1), copyOf(t, f.out).Version)
	f.want(t, why+", and a worker", `navigator.serviceWorker.ready.then(() => navigator.serviceWorker.controller !== null)`, "true")
}

const (
	about  = `document.querySelector("main").textContent.match(/Burns mildew [a-z ]*off/)[0]`
	styled = `getComputedStyle(document.querySelector(".masthead")).display`
	line   = `document.querySelector(".copy-line").hidden ? "" : document.querySelector(".copy-line").textContent.slice(0, 43)`
	noLine = ""
	said   = "No signal: this page comes from the copy on"
)

// TestNoSignal: after one page, all others come from the copy, with search, and
// say so; back in reach they say nothing.
func TestNoSignal(t *testing.T) {
	t.Parallel() // it mostly waits
	f := newField(t)
	f.open(t, "index.html")
	f.wantCopy(t, "one page brings the copy")
	f.cut.Store(true)
	for _, page := range []string{"product/fizz.html", "together/fizz--sour.html", "matrix.html", ""} {
		f.open(t, page)
		f.want(t, page+" comes from the copy", line, said)
		f.want(t, page+" with its style", styled, "grid")
	}
	if err := chromedp.Do(f, chromedp.SendKeys(chromedp.CSS("#seek-words"), "fizz 80 sp")); err != nil {
		t.Fatal(err)
	}
	f.want(t, "the search works", `document.querySelectorAll(".found").length > 0`, "true")
	f.open(t, "planner.html#v=1&p=fizz&p=sour&area=10+ac&spray=10+gal/ac&tank=200+gal")
	f.want(t, "a tank is planned", `document.querySelector(".plan-answer .band").dataset.verdict`, "never")
	f.want(t, "with every reason", `document.querySelectorAll(".ledger .entry").length > 0 && !document.querySelector("[aria-busy=true]")`, "true")
	f.open(t, "calculators.html")
	f.want(t, "sums are worked out", `(() => { const e = document.getElementById("units-quantity"); e.value = "1 gal"; e.dispatchEvent(new Event("input")); return document.querySelector("#units .calc-out").innerText.includes("4 qt") })()`, "true")
	f.open(t, "es/product/fizz.html")
	f.want(t, "a language that nobody read is not kept", `location.pathname + location.search`, "/office/offline.html?page=es%2Fproduct%2Ffizz.html")
	f.cut.Store(false)
	f.open(t, "product/fizz.html")
	f.want(t, "back in reach", line, noLine)
	f.open(t, "es/index.html")
	f.want(t, "now it is read", strings.Replace(`caches.match("%ROOT%offline/state").then((r) => r.json()).then((s) => s.langs.sort().join())`, "%ROOT%", f.root, 1), "en,es")
	f.cut.Store(true)
	f.open(t, "es/product/fizz.html")
	f.want(t, "and kept", `document.documentElement.lang + document.querySelector(".copy-line").textContent.slice(0, 9)`, "esSin señal")
}

// TestNewPublicationReplacesTheCopyWhole: who has a signal reads the new one at
// once; the copy stays the old one, all of it, until all of the new one is there
// and is what was published.
func TestNewPublicationReplacesTheCopyWhole(t *testing.T) {
	t.Parallel() // it mostly waits
	f := newField(t)
	f.open(t, "product/fizz.html")
	f.wantCopy(t, "the first publication")
	old := copyOf(t, f.out).Version
	edit(t, filepath.Join(f.dir, "data/products.yaml"), "Burns mildew off.", "Burns mildew right off.")
	build(t, f.dir, f.out)
	bad := "find/en/root.js"
	f.spoil.Store(&bad)
	f.open(t, "product/fizz.html")
	f.want(t, "the new page from the network", about, "Burns mildew right off")
	for i := 0; f.bad.Load() == 0; i++ { // else the attempt may have to begin yet
		if i > 600 {
			t.Fatal("the browser made no attempt to renew the copy")
		}
		time.Sleep(50 * time.Millisecond)
	}
	f.want(t, "the attempt has ended", `navigator.serviceWorker.getRegistration().then((r) => String(r.installing || r.waiting))`, "null")
	f.want(t, "the old copy is whole", strings.Replace(kept, "%ROOT%", f.root, 1), old)
	f.cut.Store(true)
	f.open(t, "product/fizz.html")
	f.want(t, "and what is read with no signal", about+` + document.querySelector(".copy-line").hidden`, "Burns mildew offfalse")
	f.want(t, "in its own style", styled, "grid")
	f.cut.Store(false)
	f.spoil.Store(nil)
	f.open(t, "index.html")
	f.wantCopy(t, "the new publication")
	f.want(t, "an open page is told", `document.querySelector(".copy-line a").textContent`, "Show the new page")
	f.cut.Store(true)
	f.open(t, "product/fizz.html")
	f.want(t, "the new page from the copy", about+` + document.querySelector(".copy-line").hidden`, "Burns mildew right offfalse")
}

// TestLargeOfficeKeepsWhatWasRead: the core and the pages that were looked at; for
// another page there is one that says so, and leads to what is kept.
func TestLargeOfficeKeepsWhatWasRead(t *testing.T) {
	defer site.LimitCopies(0)()
	f := newField(t)
	f.open(t, "index.html")
	f.wantCopy(t, "the core")
	f.open(t, "product/fizz.html")
	f.want(t, "looked at and kept", `caches.match(location.href).then((r) => r.status)`, "200")
	f.cut.Store(true)
	f.open(t, "product/fizz.html")
	f.want(t, "there again", about, "Burns mildew off")
	f.open(t, "class/acid.html")
	f.want(t, "not kept, and says so", `location.pathname.split("/").pop() + location.search`, "offline.html?page=class%2Facid.html")
	f.want(t, "leads back", `document.querySelector("#offline-again a").href`, f.root+"class/acid.html")
	for _, page := range []string{"matrix.html", "planner.html", "safety.html"} {
		f.open(t, page)
		f.want(t, page, line, said)
	}
	f.cut.Store(false)
	edit(t, filepath.Join(f.dir, "data/products.yaml"), "Burns mildew off.", "Burns mildew right off.")
	build(t, f.dir, f.out)
	f.open(t, "index.html")
	f.wantCopy(t, "the new core")
	f.cut.Store(true)
	f.open(t, "product/fizz.html")
	f.want(t, "what was read is brought along, as it is now", about, "Burns mildew right off")
}
