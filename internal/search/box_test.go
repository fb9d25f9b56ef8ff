package search_test

import (
	"bytes"
	"context"
	"encoding/json"
	"net/http"
	"net/http/httptest"
	"net/url"
	"os"
	"path/filepath"
	"strings"
	"sync"
	"testing"
	"time"

	"github.com/chromedp/chromedp"
	"github.com/chromedp/chromedp/kb"

	"tankleaf.example/internal/client"
	"tankleaf.example/internal/outside"
	"tankleaf.example/internal/search"
)

// boxPage is a page with a search box, under the policy of a site.
const boxPage = `<!doctype html>
<html lang="en">
<meta charset="utf-8">
<meta http-equiv="Content-Security-Policy" content="default-src 'none'; script-src 'self'; base-uri 'none'; form-action 'self'">
<title>Search</title>
<div class="seek" role="search" data-home="pages/index.html" data-label="Search" data-hint="Name or word"><a href="pages/find.html">Lists</a></div>
<script src="site.js" data-words="words-en.js"></script>
</html>
`

var boxWords = map[string]string{
	"site.results.one": "{n} result", "site.results.other": "{n} results", "site.none": "Nothing has {words}.",
	"site.none-do": "That is no evidence.", "site.some": "No page has all words.", "site.lacks": "Some only.",
	"site.changed": "{word} was also read as {others}.", "site.loose": "Not in this order.", "site.lists": "Lists",
	"site.no-word": "Type a word.", "site.working": "Searching", "site.every": "Every kind",
	"site.failed": "Search could not be loaded.", "site.again": "Again", "site.everything": "every kind",
	"site.show": "Show", "site.list": "Results", "site.more": "More", "site.all": "All", "site.key": "Press /",
	"find.kind.product": "Product", "find.kind.sheet": "Fact sheet",
}

// writeBoxPage lays out a site of one page with the fixture's index.
func writeBoxPage(t testing.TB, single int) string {
	t.Helper()
	dir := t.TempDir()
	write := func(name string, text []byte) {
		if err := os.MkdirAll(filepath.Dir(filepath.Join(dir, name)), 0o755); err != nil {
			t.Fatal(err)
		}
		if err := os.WriteFile(filepath.Join(dir, name), text, 0o644); err != nil {
			t.Fatal(err)
		}
	}
	words, err := json.Marshal(boxWords)
	if err != nil {
		t.Fatal(err)
	}
	write("words-en.js", []byte("tankleafWords("+string(words)+");"))
	write("index.html", []byte(boxPage))
	write("pages/products/uan.html", []byte("<!doctype html><title>UAN</title>"))
	script, err := client.Bundle(os.DirFS("../../templates/client"), "site.ts")
	if err != nil {
		t.Fatal(err)
	}
	write("site.js", script)
	opt := fixtureOptions("en")
	opt.Single, opt.Shard = single, 200
	files, err := search.Export(fixture, opt)
	if err != nil {
		t.Fatal(err)
	}
	for _, f := range files {
		write("find/en/"+f.Path, f.Body)
	}
	return dir
}

// TestBox drives the search box by keyboard, over http with the index in parts
// and from a folder with the index in one file.
func TestBox(t *testing.T) {
	ctx := outside.Browser{}.Open(t, 5*time.Minute)
	parts := writeBoxPage(t, 1)
	server := httptest.NewServer(http.FileServer(http.Dir(parts)))
	defer server.Close()
	folder := url.URL{Scheme: "file", Path: filepath.Join(writeBoxPage(t, 0), "index.html")}
	for name, at := range map[string]string{"http": server.URL + "/", "folder": folder.String()} {
		t.Run(name, func(t *testing.T) {
			b := box{t, ctx}
			b.do(chromedp.Navigate(at))
			b.types("hard wat")
			b.want("several", `results().split("] ").slice(0, 2).join("] ")`, "[Spray <water>|Fact sheet|<Hardness>, pH and bicarbonate.] "+
				"[2,4-D amine 4|Product|Formulation SL. 1 to 2 pt/ac. <Hard> <water> ties it up; add ammonium sulfate first.")
			b.want("less last", `document.querySelector(".found-lacks").parentElement.textContent.slice(0, 17)`, "Order of addition")
			b.want("announced", `document.querySelector("[role=status]").textContent`, "2 results")
			b.want("expanded", `q.getAttribute("aria-expanded")`, "true")
			b.do(chromedp.KeyEvent(kb.ArrowDown)) // arrow down
			b.want("active", `document.getElementById(q.getAttribute("aria-activedescendant")).textContent.slice(0, 11)`, "Spray water")
			b.do(chromedp.KeyEvent(kb.ArrowUp), chromedp.KeyEvent(kb.ArrowUp)) // arrow up twice: through the box to the last
			b.want("round", `document.querySelector("[aria-selected=true]").href.split("/").slice(-3).join("/")`, "pages/sheets/order.html")
			b.do(chromedp.KeyEvent(kb.Tab), chromedp.KeyEvent("F"))
			b.want("chosen", `document.querySelector("select").selectedOptions[0].text`, "Fact sheet")
			b.want("filtered", `results().split("[").length - 1`, "2")
			b.do(chromedp.KeyEvent(kb.Home))
			b.want("all again", `results().split("[").length - 1 > 2`, "true")
			b.types("hard w")
			b.want("a letter marks nothing", `results().split("]")[0]`, "[Spray water|Fact sheet|<Hardness>, pH and bicarbonate.")
			b.types("surfictant")
			b.want("typo", `document.querySelector(".seek-note").textContent`, "surfictant was also read as surfactant.")
			b.types("zzqqx")
			b.want("nothing", `document.querySelector(".seek-note").textContent`, "Nothing has zzqqx. That is no evidence.")
			b.do(chromedp.KeyEvent(kb.Escape)) // escape
			b.want("closed", `q.getAttribute("aria-expanded") + document.querySelector(".seek-panel").hidden`, "falsetrue")
			b.badInput()
			b.types("28-0-0")
			b.want("found as written", `results().slice(0, 22)`, "[UAN <28-0-0>|Product|")
			b.run(`(() => { const k = document.querySelector("#seek-kind"); k.value = "sheet"; return k.dispatchEvent(new Event("change")); })()`)
			b.want("nothing of the kind", `document.querySelector(".seek-note").textContent + document.querySelector(".seek-foot").textContent`,
				"Nothing has 28-0-0. That is no evidence.Every kind")
			b.run(`(document.querySelector(".seek-foot button").click(), true)`)
			b.want("every kind again", `results().slice(0, 22)`, "[UAN <28-0-0>|Product|")
			b.do(chromedp.KeyEvent(kb.ArrowDown), chromedp.KeyEvent(kb.Enter))
			b.want("opened", `location.href.split("/").slice(-3).join("/")`, "pages/products/uan.html")
		})
	}
}

// TestBoxFits wants a short list where the keys cover half of the screen, and the way
// to the rest below it.
func TestBoxFits(t *testing.T) {
	ctx := outside.Browser{}.Open(t, 5*time.Minute)
	at := url.URL{Scheme: "file", Path: filepath.Join(writeBoxPage(t, 0), "index.html")}
	b := box{t, ctx}
	for _, c := range []struct {
		width int64
		rows  string
		top   string // whether the box goes up when it lists
	}{{360, "5 All", "true"}, {1280, "8 All", "false"}} {
		b.do(chromedp.EmulateViewport(c.width, 740), chromedp.Navigate(at.String()))
		b.types("water first herbicide foam formulation")
		b.want("rows", `document.querySelectorAll("[role=option]").length + " " + document.querySelector(".seek-foot").textContent`, c.rows)
		b.run(`(() => { // far down the page, as on the front page
			for (const where of ["afterbegin", "beforeend"]) document.body.insertAdjacentHTML(where, '<svg height="3000"></svg>');
			return document.body.dispatchEvent(new Event("focusin", { bubbles: true })); })()`)
		b.types("herbicide")
		b.want("at the top", `document.querySelector("form").getBoundingClientRect().top < 20`, c.top)
	}
}

// badInput pastes what nobody should have to be afraid of: nothing throws, and what
// the box says has nothing in it that was not seen.
func (b box) badInput() {
	b.t.Helper()
	for _, c := range []struct{ text, says, why string }{
		{`...,;-- !?`, "Type a word.", "punctuation alone holds no word"},
		{`(((`, "Type a word.", "nor does the beginning of a pattern"},
		{`zzq.*[a-z]+$^(`, "Nothing has zzq.*[a-z]+$^(. That is no evidence.", "a pattern is read as words"},
		{"zzq\x00\x07qx\u200b", "Nothing has zzq qx. That is no evidence.", "what cannot be seen is not repeated"},
		{`"zzq`, `Nothing has "zzq. That is no evidence.`, "a quotation mark that is not closed"},
		{"זזקק", "Nothing has \u2068זזקק\u2069. That is no evidence.", "a script from right to left does not turn the sentence round"},
		{strings.Repeat("zq", 5000), "Type a word.", "ten thousand letters in a row are no word"},
		{strings.Repeat("zqqx ", 3000), "Nothing has " + strings.TrimSpace(strings.Repeat("zqqx ", 12)) + "…. That is no evidence.", "of very many the first stand for all"},
		{"__proto__ constructor toString", "Nothing has __proto__ constructor toString. That is no evidence.", "words that mean something to the script"},
	} {
		text, err := json.Marshal(c.text)
		if err != nil {
			b.t.Fatal(err)
		}
		b.run(`(() => {
			globalThis.thrown ??= (addEventListener("error", (e) => thrown.push(e.message)), addEventListener("unhandledrejection", (e) => thrown.push(String(e.reason))), []);
			const q = document.querySelector("#seek-words");
			q.value = ` + string(text) + `;
			return q.dispatchEvent(new Event("input"));
		})()`)
		b.want(c.why, `document.querySelector(".seek-note").textContent + thrown`, c.says)
	}
}

// TestFirstResultsFirst holds back all cards but the first: its result is shown, not
// yet announced, and stays as it is and chosen when the others come.
func TestFirstResultsFirst(t *testing.T) {
	ctx := outside.Browser{}.Open(t, 5*time.Minute)
	dir := writeBoxPage(t, 1)
	files := http.FileServer(http.Dir(dir))
	const query = "herbicide "
	first := open(t, fixture, fixtureOptions("en")).Find(query, "", 1).Results[0].Path
	others := make(chan struct{})
	server := httptest.NewServer(http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
		if strings.HasPrefix(r.URL.Path, "/find/en/c") {
			if card, err := os.ReadFile(filepath.Join(dir, r.URL.Path)); err == nil && !bytes.Contains(card, []byte(first)) {
				<-others
			}
		}
		files.ServeHTTP(w, r)
	}))
	defer server.Close()
	release := sync.OnceFunc(func() { close(others) })
	defer release()
	b := box{t, ctx}
	b.do(chromedp.Navigate(server.URL + "/"))
	b.types("zzqqx")
	b.want("nothing", `document.querySelector(".seek-note").hidden + document.querySelector(".seek-foot").textContent`, "falseLists")
	b.run(`(() => { const q = document.querySelector("#seek-words"); q.value = "` + query + `"; return q.dispatchEvent(new Event("input")); })()`)
	b.want("nothing of the question before", `document.querySelectorAll("[role=option]").length + document.querySelector(".seek-note").textContent +
		document.querySelector(".seek-foot").textContent`, "1")
	state := `document.querySelectorAll("[role=option]").length + " " + document.querySelector(".seek-panel").getAttribute("aria-busy") +
		" " + document.querySelectorAll("[role=option][aria-selected=true]").length + " " + document.querySelector("[role=status]").textContent`
	b.want("the first alone", state, "1 true 0 ")
	b.run(`(globalThis.first = document.querySelector("[role=option]")).isConnected`)
	b.do(chromedp.Focus(chromedp.CSS("#seek-words")), chromedp.KeyEvent(kb.ArrowDown))
	b.want("chosen", state, "1 true 1 ")
	release()
	b.want("all", state, "3 null 1 3 results")
	b.want("the same first", `first.isConnected + first.getAttribute("aria-selected")`, "truetrue")
}

// TestBoxFails wants a plain word when the index is not there.
func TestBoxFails(t *testing.T) {
	ctx := outside.Browser{}.Open(t, 5*time.Minute)
	dir := writeBoxPage(t, 0)
	if err := os.Remove(filepath.Join(dir, "find/en/root.js")); err != nil {
		t.Fatal(err)
	}
	at := url.URL{Scheme: "file", Path: filepath.Join(dir, "index.html")}
	b := box{t, ctx}
	b.do(chromedp.Navigate(at.String()))
	b.types("foam")
	b.want("failed", `document.querySelector(".seek-note").textContent`, "Search could not be loaded. Again")
}

type box struct {
	t   *testing.T
	ctx context.Context
}

func (b box) do(steps ...chromedp.Action[chromedp.Void]) {
	b.t.Helper()
	if err := chromedp.Do(b.ctx, steps...); err != nil {
		b.t.Fatal(err)
	}
}

// run runs a script that ends in true.
func (b box) run(script string) {
	b.t.Helper()
	if ok, err := chromedp.Run(b.ctx, chromedp.Evaluate[bool](script)); err != nil || !ok {
		b.t.Fatalf("%s: %v, %v", script, ok, err)
	}
}

// types empties the box and types a text.
func (b box) types(text string) {
	b.t.Helper()
	if _, err := chromedp.Run(b.ctx, chromedp.Evaluate[string](`document.querySelector("#seek-words").value = ""`)); err != nil {
		b.t.Fatal(err)
	}
	b.do(chromedp.SendKeys(chromedp.CSS("#seek-words"), text))
}

// want waits until an expression has a value.
func (b box) want(what, expression, want string) {
	b.t.Helper()
	script := `(() => { try {
		const q = document.querySelector("#seek-words");
		const text = (e) => [...e.childNodes].map((n) => n.nodeName === "MARK" ? "<" + n.textContent + ">" : n.textContent).join("");
		const results = () => [...document.querySelectorAll("[role=option]")].map((o) => "[" + [...o.children].map(text).join("|") + "]").join(" ");
		return String(` + expression + `);
	} catch (e) { return String(e); } })()`
	got := ""
	for range 100 {
		var err error
		if got, err = chromedp.Run(b.ctx, chromedp.Evaluate[string](script)); err == nil && got == want {
			return
		}
		time.Sleep(30 * time.Millisecond)
	}
	b.t.Fatalf("%s: %s\nwant %s", what, got, want)
}
