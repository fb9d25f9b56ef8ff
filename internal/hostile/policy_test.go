package hostile_test

import (
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"github.com/chromedp/chromedp"
)

// breaches are what somebody would write who had got past every escape. The
// policy of the page is what then remains.
var breaches = []struct{ html, why string }{
	{`<script>hit(%d)</script>`, "a script in the page"},
	{`<img src=x: onerror=hit(%d)>`, "a script in an attribute"},
	{`<svg onload=hit(%d)></svg>`, "a script in a drawing"},
	{`<a id=go href="javascript:hit(%d)">x</a>`, "a script in a link that is followed"},
	{`<iframe src="javascript:parent.hit(%d)"></iframe>`, "a script as a frame"},
	{`<iframe srcdoc="<script>parent.hit(%d)</script>"></iframe>`, "a page in a frame"},
	{`<script src="http://evil.test/%d.js"></script>`, "a script from elsewhere"},
	{`<script type=module src="http://evil.test/%d.js"></script>`, "a module from elsewhere"},
	{`<img src="http://evil.test/%d">`, "an image from elsewhere"},
	{`<link rel=stylesheet href="http://evil.test/%d">`, "a style sheet from elsewhere"},
	{`<link rel=icon href="http://evil.test/%d"><style>@import "http://evil.test/%[1]d";</style>`, "a style sheet that asks for another"},
	{`<p style="background:url(http://evil.test/%d)">x</p>`, "a style in an attribute"},
	{`<iframe src="http://evil.test/%d"></iframe>`, "a frame from elsewhere"},
	{`<object data="http://evil.test/%d"></object>`, "an object from elsewhere"},
	{`<embed src="http://evil.test/%d">`, "a plug-in from elsewhere"},
	{`<video src="http://evil.test/%d"></video>`, "a film from elsewhere"},
	{`<base href="http://evil.test/"><img src="%d">`, "another root for all links"},
	{`<form action="http://evil.test/%d"><button id=go>x</button></form>`, "a form that goes elsewhere"},
	{`<style onload=hit(%d)>b{}</style>`, "a style sheet in the page"},
}

// breached returns a page with a breach at the end of its body, and the same page
// without its policy.
func breached(t *testing.T, index, breach string, n int) (with, without string) {
	t.Helper()
	with = strings.Replace(index, "</main>", fmt.Sprintf(breach, n)+"</main>", 1)
	head, rest, ok := strings.Cut(with, `<meta http-equiv="Content-Security-Policy"`)
	_, tail, closed := strings.Cut(rest, ">")
	if !ok || !closed || !strings.Contains(index, "</main>") {
		t.Fatal("the page has no policy")
	}
	return with, head + tail
}

// TestPolicyHolds puts breaches into a published page: none may run or reach out,
// neither served nor from a folder; without the policy each of them does.
func TestPolicyHolds(t *testing.T) {
	l := newLab(t)
	folder := t.TempDir()
	files := build(t, makeOffice(t, 1, func(int, string) string { return "x" }))
	for name, body := range files {
		l.pages["/"+name] = body
		file := filepath.Join(folder, filepath.FromSlash(name))
		check(t, os.MkdirAll(filepath.Dir(file), 0o755))
		check(t, os.WriteFile(file, body, 0o644))
	}
	for n, b := range breaches {
		with, without := breached(t, string(files["index.html"]), b.html, 1000+n)
		for kind, text := range map[string]string{"with": with, "without": without} {
			name := fmt.Sprintf("%s-%d.html", kind, n)
			l.pages["/"+name] = []byte(text)
			check(t, os.WriteFile(filepath.Join(folder, name), []byte(text), 0o644))
		}
	}
	for _, root := range []string{l.URL, "file://" + filepath.ToSlash(folder)} {
		tab := l.tab(t, false, "http", "file", "about:")
		for n, b := range breaches {
			for _, kind := range []string{"with", "without"} {
				address := fmt.Sprintf("%s/%s-%d.html", root, kind, n)
				check(t, chromedp.Do(tab, chromedp.Navigate(address)))
				// A click that leaves the page ends what asked for it.
				_ = chromedp.Do(tab, chromedp.Evaluate[chromedp.Void](`document.getElementById("go")?.click()`))
				if got := l.waitFor(1000+n, kind == "without"); got != (kind == "without") {
					t.Errorf("%s, %s policy: %s fires: %v", address, kind, b.why, got)
				}
			}
		}
	}
}

// waitFor reports whether a payload fires: soon when it is expected to, within a
// short while when not.
func (l *lab) waitFor(n int, expected bool) bool {
	wait := 150 * time.Millisecond
	if expected {
		wait = 3 * time.Second
	}
	for end := time.Now().Add(wait); time.Now().Before(end); time.Sleep(10 * time.Millisecond) {
		if fired, _ := l.taken(); fired[n] {
			return true
		}
	}
	return false
}
