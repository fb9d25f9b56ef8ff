package page_test

import (
	"net/http"
	"net/http/httptest"
	"strings"
	"testing"
	"time"

	"github.com/chromedp/cdproto/emulation"
	"github.com/chromedp/chromedp"
	"github.com/chromedp/chromedp/kb"

	"tankleaf.example/internal/page"
)

// field is the selector of the search field.
var field = chromedp.CSS("#seek-words")

// wait evaluates an expression until it gives what is wanted.
func (b *browser) wait(t *testing.T, why, expression, want string) {
	t.Helper()
	got := ""
	for range 150 {
		got, _ = chromedp.Run(b, chromedp.Evaluate[string](`(() => { try { return String(`+expression+`) } catch (e) { return String(e) } })()`))
		if got == want {
			return
		}
		time.Sleep(20 * time.Millisecond)
	}
	t.Fatalf("%s: %s\ngot  %s\nwant %s", why, expression, got, want)
}

// quiet fails when the browser has complained: of the policy, of a file that is not
// there, of a script that failed.
func (b *browser) quiet(t *testing.T) {
	t.Helper()
	b.mu.Lock()
	defer b.mu.Unlock()
	if len(b.said) > 0 {
		t.Errorf("the browser complains: %q", b.said)
	}
}

// TestSearchByKeyboardAlone: from any page, over http and from a folder, on a wide
// and on a narrow screen, a slash leads to the field, typing finds, arrows choose,
// enter opens.
func TestSearchByKeyboardAlone(t *testing.T) {
	b := newBrowser(t)
	files := http.NewServeMux()
	files.Handle("/", http.FileServer(http.Dir(b.root)))
	files.HandleFunc("/"+page.OfflinePath, func(w http.ResponseWriter, _ *http.Request) { // which the build writes
		w.Header().Set("Content-Type", "text/javascript")
	})
	server := httptest.NewServer(files)
	t.Cleanup(server.Close)
	for _, root := range []string{server.URL + "/", "file://" + b.root + "/"} {
		for i, from := range []string{"index.html", "product/fizz.html", "es/together/fizz--sour.html"} {
			width := []int64{360, 1280}[i%2]
			do(t, b, chromedp.EmulateViewport(width, 760))
			do(t, b, chromedp.Navigate(root+from))
			do(t, b, chromedp.KeyEvent("/"))
			b.wait(t, "a slash leads to the field", `document.activeElement.id`, "seek-words")
			do(t, b, chromedp.SendKeys(field, "fizz 80 sp"))
			b.wait(t, "found while it is typed", `document.querySelector(".found-title").textContent`, "Fizz 80 SP")
			b.wait(t, "and marked", `document.querySelector(".found-title mark").textContent`, "Fizz")
			b.wait(t, "nothing sticks out", `JSON.stringify(`+wide+`)`, "[]")
			b.wait(t, "how many is said aloud", `/^\d+ p[aá]g/.test(document.querySelector(".seek [role=status]").textContent)`, "true")
			do(t, b, chromedp.KeyEvent(kb.ArrowDown))
			b.wait(t, "the field names the choice", `document.getElementById(document.activeElement.getAttribute("aria-activedescendant")).ariaSelected`, "true")
			do(t, b, chromedp.KeyEvent(kb.Enter))
			b.wait(t, "enter opens it", `location.pathname.split("/").slice(-2).join("/")`, "product/fizz.html")
			lang := "en"
			if strings.HasPrefix(from, "es/") {
				lang = "es"
			}
			b.wait(t, "in the same language", `document.documentElement.lang`, lang)
		}
	}
	b.quiet(t)
}

// TestFoundPairsSayTheirVerdict: being found is never leave to mix.
func TestFoundPairsSayTheirVerdict(t *testing.T) {
	b := newBrowser(t)
	for _, c := range []struct{ page, words, verdict, says string }{
		{"find.html?kind=together&q=fizz+sour", "fizz sour", "never", "Never together"},
		{"es/find.html?kind=together&q=fizz+sour", "fizz sour", "never", "Nunca juntos"},
	} {
		b.open(t, c.page, 360, 700)
		b.wait(t, "the question is kept", `document.querySelector("#seek-words").value`, c.words)
		b.wait(t, "its kind too", `document.querySelector("#seek-kind").value`, "together")
		b.wait(t, "the verdict is said", `document.querySelector(".found [data-verdict]").textContent`, c.says)
		b.wait(t, "and marked", `document.querySelector(".found [data-verdict] use").getAttribute("href")`, "#mark-"+c.verdict)
		b.wait(t, "on every pair", `document.querySelectorAll(".found").length - document.querySelectorAll(".found [data-verdict]").length`, "0")
		b.wait(t, "nothing sticks out", `document.documentElement.scrollWidth`, "360")
	}
	b.quiet(t)
}

// TestEnterListsEverything: without a choice, enter leads to the page of all
// results; escape closes the list, and then empties the field.
func TestEnterListsEverything(t *testing.T) {
	b := newBrowser(t)
	b.open(t, "class/acid.html", 1280, 800)
	do(t, b, chromedp.SendKeys(field, "carbonate"))
	b.wait(t, "found", `document.querySelectorAll(".found").length > 0`, "true")
	do(t, b, chromedp.KeyEvent(kb.Escape))
	b.wait(t, "closed", `document.querySelector(".seek-panel").hidden + document.querySelector("#seek-words").value`, "truecarbonate")
	do(t, b, chromedp.KeyEvent(kb.Enter))
	b.wait(t, "listed", `location.search + (document.querySelectorAll(".found").length > 2)`, "?q=carbonatetrue")
	do(t, b, chromedp.KeyEvent("/"))
	do(t, b, chromedp.KeyEvent(kb.Escape))
	b.wait(t, "emptied", `location.search + document.querySelector("#seek-words").value + document.querySelector(".seek-panel").hidden`, "true")
	b.quiet(t)
}

// TestNothingFoundIsNoEvidence: the words are said, and where to look instead.
func TestNothingFoundIsNoEvidence(t *testing.T) {
	b := newBrowser(t)
	b.open(t, "index.html", 360, 700)
	do(t, b, chromedp.SendKeys(field, "zzqqx"))
	b.wait(t, "said", `document.querySelector(".seek-note").textContent.includes("“zzqqx”. That is no evidence")`, "true")
	b.wait(t, "aloud", `document.querySelector(".seek [role=status]").textContent.includes("no evidence")`, "true")
	b.wait(t, "led on", `document.querySelector(".seek-foot a").getAttribute("href").split("/").pop()`, "find.html")
	b.quiet(t)
}

// TestSearchWithoutScript: the field is the way to the lists of everything.
func TestSearchWithoutScript(t *testing.T) {
	b := newBrowser(t)
	do(t, b, call(emulation.SetScriptExecutionDisabled, emulation.SetScriptExecutionDisabledParams{Value: true}))
	b.open(t, "product/fizz.html", 360, 700)
	do(t, b, chromedp.Click(chromedp.CSS(".seek-box")))
	b.wait(t, "on the page of lists", `location.pathname.split("/").pop()`, "find.html")
	b.wait(t, "which says why", `document.querySelector(".seek .lead").textContent.includes("JavaScript")`, "true")
	b.wait(t, "and leads on", `document.querySelectorAll(".seek-lists a").length > 8`, "true")
}
