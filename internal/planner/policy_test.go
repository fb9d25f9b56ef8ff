package planner_test

import (
	"slices"
	"strings"
	"testing"
	"time"

	"tankleaf.example/internal/mix"
)

// TestToolsKeepNothing uses every tool: nothing is kept but the products that a reader
// put on a list, which the page says beside the list; every file comes from the site
// itself; and each page says what becomes of what is entered.
func TestToolsKeepNothing(t *testing.T) {
	s := openSite(t)
	one, two := s.quietPair()
	kept := func(why string, want ...string) {
		t.Helper()
		got := eval[[]string](s, `[document.cookie, ...Object.keys(sessionStorage), ...Object.keys(localStorage)].filter(k => k !== "")`)
		if !slices.Equal(got, want) {
			t.Errorf("%s: the browser keeps %q, want %q", why, got, want)
		}
		if from := eval[[]string](s, `performance.getEntriesByType("resource").map(e => e.name).filter(n => !n.startsWith(new URL(".", document.querySelector("link[rel=stylesheet]").href).href))`); len(from) > 0 {
			t.Errorf("%s: asks others for %q", why, from)
		}
	}
	said := func(why, key string) {
		t.Helper()
		if !strings.Contains(eval[string](s, `document.body.innerText`), s.words.T(key)) {
			t.Errorf("%s: the page does not say %s", why, key)
		}
	}
	s.openTool(plan([]mix.ID{one, two}, "&spray=15+gal/ac&area=80+ac&tank=500+gal"), 1280)
	s.set("hardness", "300 ppm")
	kept("a plan")
	said("a plan", "planner.private")
	s.openTool("calculators.html", 1280)
	s.set("units-quantity", "1 gal")
	kept("a calculator")
	said("a calculator", "planner.private")
	s.openTool("matrix.html", 1280)
	eval[bool](s, `document.querySelector(".filter summary").click(), true`)
	s.wait(`document.getElementById("filter-crop") !== null`)
	eval[bool](s, `document.getElementById("picker").focus(), true`)
	s.keys(s.judge.Index().Product(one).Name + "\r")
	s.wait(`document.querySelectorAll(".mine li").length === 1`)
	kept("my products", "tankleaf.my-products")
	said("my products", "matrix.mine-how")
	eval[bool](s, `document.querySelector(".mine button").click(), true`)
	kept("none of my products")
	s.open("data.html", 1280)
	said("the page on what is kept", "offline.device-nothing")
}

// TestPolicyHolds tries what a page under the policy must not be able to do.
func TestPolicyHolds(t *testing.T) {
	s := openSite(t)
	for _, c := range []struct{ why, try string }{
		{"a script in the page", `(() => { const e = document.createElement("script"); e.textContent = "window.ran = true"; document.body.append(e) })()`},
		{"a handler in the page", `document.body.insertAdjacentHTML("beforeend", "<button id=b onclick='window.ran = true'></button>"), document.getElementById("b").click()`},
		{"a text that is run", `setTimeout("window.ran = true", 0)`},
		{"a style in the page", `(() => { const e = document.createElement("style"); e.textContent = "html { --ran: 1 }"; document.head.append(e); window.ran = getComputedStyle(document.documentElement).getPropertyValue("--ran") !== "" || undefined })()`},
		{"a picture from elsewhere", `(() => { const e = new Image(); e.onload = () => window.ran = true; e.src = "data:image/gif;base64,R0lGODlhAQABAAAAACwAAAAAAQABAAA=" })()`},
		{"a question to elsewhere", `void fetch("http://127.0.0.1:9/").then(() => window.ran = true, (e) => window.refused = true)`},
		{"a form to elsewhere", `(() => { const f = document.createElement("form"); f.action = "http://127.0.0.1:9/"; document.body.append(f); f.submit() })()`},
		{"a base elsewhere", `(() => { const e = document.createElement("base"); e.href = "http://127.0.0.1:9/"; document.head.append(e); window.ran = document.baseURI.startsWith("http") || undefined })()`},
	} {
		s.openTool("planner.html", 1280)
		if eval[bool](s, `(() => { `+strings.TrimSuffix(c.try, ";")+`; return true })()`); s.complained() == 0 {
			t.Errorf("%s: the browser did not complain", c.why)
		}
		if eval[bool](s, `window.ran !== undefined || !location.href.includes("planner.html")`) {
			t.Errorf("%s: it ran", c.why)
		}
	}
}

// complained waits for a complaint of the browser, and forgets what it said.
func (s *site) complained() int {
	for range 100 {
		s.mu.Lock()
		n := len(s.said)
		s.said = nil
		s.mu.Unlock()
		if n > 0 {
			return n
		}
		time.Sleep(10 * time.Millisecond)
	}
	return 0
}
