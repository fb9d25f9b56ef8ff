package planner_test

import (
	"context"
	"maps"
	"net/http"
	"net/http/httptest"
	"net/url"
	"slices"
	"strings"
	"testing"

	"github.com/chromedp/cdproto/cdp"
	"github.com/chromedp/cdproto/page"
	"github.com/chromedp/chromedp"

	"tankleaf.example/internal/mix"
)

// entered is the address of one calculator with what is entered into it, as Go would
// write it.
func entered(id string, typed [][2]string, units string) string {
	address := "calculators.html#v=1&at=" + id
	for _, f := range typed {
		address += "&" + id + "-" + f[0] + "=" + url.QueryEscape(f[1])
	}
	return address + "&units=" + units
}

// outs are the results of the calculators, by their IDs, with what stands in their
// fields.
const outs = `[...document.querySelectorAll(".calc")].map(e => e.id + " " + [...e.querySelectorAll("input, select")].map(f => f.value).join("|") + " " + e.querySelector(".calc-out").innerText)`

// openThere opens a page of a site that is served or lies in a folder.
func (s *site) openThere(root, name string) {
	s.t.Helper()
	s.do(chromedp.Navigate("about:blank"))
	s.do(chromedp.Navigate(root + name))
	s.wait(`document.querySelector(".calcs") !== null`)
}

// left is the address of the page as it is left, without a wait for a pause.
func (s *site) left() string {
	s.t.Helper()
	return eval[string](s, `(window.dispatchEvent(new Event("pagehide")), location.hash)`)
}

// openCalculators opens calculators at an address.
func (s *site) openCalculators(name string) {
	s.t.Helper()
	s.open(name, 1280)
	s.wait(`document.querySelector(".calcs") !== null`)
}

// served is the root of the site over http. The copy that browsers keep of a site is
// looked at elsewhere; here no worker is started for it.
func (s *site) served() string {
	s.t.Helper()
	server := httptest.NewServer(http.FileServer(http.Dir(s.root)))
	s.t.Cleanup(server.CloseClientConnections)
	alone := func(ctx context.Context, target *chromedp.Target) (page.AddScriptToEvaluateOnNewDocumentResult, error) {
		return cdp.Call(ctx, target, page.AddScriptToEvaluateOnNewDocument, page.AddScriptToEvaluateOnNewDocumentParams{Source: `delete Navigator.prototype.serviceWorker`})
	}
	if _, err := chromedp.Run(s.ctx, chromedp.Action[page.AddScriptToEvaluateOnNewDocumentResult](alone)); err != nil {
		s.t.Fatal(err)
	}
	return server.URL + "/"
}

// fillEverything types into every calculator and returns what the address then holds.
func (s *site) fillEverything(units string) url.Values {
	s.t.Helper()
	s.set("units-first", units)
	holds := url.Values{"v": {"1"}, "at": {"gas"}, "units": {units}}
	for _, f := range filledIn {
		for _, one := range f.typed {
			s.set(f.id+"-"+one[0], one[1])
			holds.Set(f.id+"-"+one[0], one[1])
		}
	}
	if n := len(s.texts(".answers")); n != len(filledIn) {
		s.t.Errorf("%d calculators of %d have a result", n, len(filledIn))
	}
	return holds
}

// TestCalculatorsInTheAddress fills every calculator in, in both units and languages,
// from a folder and over http: the address holds each text as it was typed, and
// opened anew or loaded again it shows the same.
func TestCalculatorsInTheAddress(t *testing.T) {
	s := openSite(t)
	s.do(chromedp.EmulateViewport(1280, 900))
	files := url.URL{Scheme: "file", Path: s.root + "/"}
	for _, c := range []struct{ root, edition, units string }{{files.String(), "", "metric"}, {s.served(), "es/", "us"}} {
		s.openThere(c.root, c.edition+"calculators.html")
		want := s.fillEverything(c.units)
		s.wait(`location.hash.includes("gas-temperature")`) // by itself, after a pause
		hash := s.left()
		if got, err := url.ParseQuery(strings.TrimPrefix(hash, "#")); err != nil || got.Encode() != want.Encode() {
			t.Errorf("%v: the address holds\n%v, want\n%v, %v", c, got, want, err)
		}
		before := eval[[]string](s, outs)
		same := func(why string) {
			t.Helper()
			if after := eval[[]string](s, outs); !slices.Equal(after, before) {
				t.Errorf("%v: it showed\n%q\nand %s\n%q", c, before, why, after)
			}
		}
		s.openThere(c.root, c.edition+"calculators.html"+hash)
		same("opened anew")
		s.do(chromedp.Reload())
		s.wait(`document.querySelector(".calcs") !== null`)
		same("loaded again")
		if after := s.left(); after != hash {
			t.Errorf("%v: loaded again the address is %s", c, after)
		}
		s.openThere(c.root, c.edition+"calculators.html#"+want.Encode())
		same("opened from Go's address")
		if top := eval[float64](s, `document.getElementById("gas").getBoundingClientRect().top`); top < -1 || top > 900 {
			t.Errorf("%v: the address opens %v px away from the calculator that was used last", c, top)
		}
	}
}

// asOpened tells of fields what stands in each and beside it, whether it is marked,
// which results its calculator shows, and what stands beside it once the same is typed.
const asOpened = `(rows => rows.map(([id, text]) => {
	const e = document.getElementById(id), note = document.getElementById(id + "-note");
	const row = {id, text, stands: e.value, note: note.textContent.trim(), marked: e.getAttribute("aria-invalid") === "true",
		results: [...e.closest(".calc").querySelectorAll(".answers, .numbers")].map(r => r.innerText)};
	for (const typed of ["", text]) { e.value = typed; e.dispatchEvent(new Event("input")); }
	return {...row, typed: note.textContent.trim()};
}))`

type openedRow struct {
	ID, Text, Stands, Note, Typed string
	Marked                        bool
	Results                       []string
}

// openOrChange opens calculators at an address, or changes the address of those that
// are open.
func (s *site) openOrChange(address string, open bool) {
	s.t.Helper()
	if open {
		s.openCalculators(address)
		return
	}
	_, hash, _ := strings.Cut(address, "#")
	eval[bool](s, `location.hash = `+asJSON(hash)+`, true`)
}

// withOneBad is the address of all calculators filled in, with a bad text in the nth
// of the fields of each that may not hold it, and those fields with their texts.
func withOneBad(kind, bad string, n int) (address string, fields [][2]string) {
	address = "calculators.html#v=1&units=us"
	for _, c := range filledIn {
		may := slices.DeleteFunc(slices.Clone(c.typed), func(f [2]string) bool {
			return f[0] == "active" || f[0] == "material" || f[0] == c.signed && kind == "minus"
		})
		for _, f := range c.typed {
			if f[0] == may[n%len(may)][0] {
				_, unit, _ := strings.Cut(f[1], " ")
				f[1] = strings.ReplaceAll(bad, "%s", unit)
				fields = append(fields, [2]string{c.id + "-" + f[0], f[1]})
			}
			address += "&" + c.id + "-" + f[0] + "=" + url.QueryEscape(f[1])
		}
	}
	return address, fields
}

// TestCalculatorsTakeNoNonsenseFromAnAddress opens every calculator, or changes its
// address, with everything bad in one field after the other: it stands in its field as it was written, marked,
// beside the words that typing it brings, and there is no result.
func TestCalculatorsTakeNoNonsenseFromAnAddress(t *testing.T) {
	s := openSite(t)
	tried, texts := map[string]bool{}, 0
	for _, kind := range slices.Sorted(maps.Keys(badTexts)) {
		if kind == "" {
			continue // spaces are nothing, as when they are typed
		}
		for _, bad := range badTexts[kind] {
			address, fields := withOneBad(kind, bad, texts)
			s.openOrChange(address, texts%8 == 0)
			s.wait(`document.getElementById(` + asJSON(fields[0][0]) + `).value === ` + asJSON(fields[0][1]))
			texts++
			for _, row := range eval[[]openedRow](s, asOpened+`(`+asJSON(fields)+`)`) {
				tried[row.ID] = true
				if row.Stands != row.Text || row.Note == "" || row.Note != row.Typed || !row.Marked || len(row.Results) > 0 {
					t.Errorf("%s=%q stands as %q, says %q (typed: %q), marked %v, with %q", row.ID, row.Text, row.Stands, row.Note, row.Typed, row.Marked, row.Results)
				}
			}
			s.left()
			if got := s.texts(".calc-note .note"); len(got) > 0 {
				t.Errorf("%q: the page does not understand %q", bad, got)
			}
		}
	}
	if len(tried) != 32 || texts < 20 {
		t.Errorf("%d texts in %d fields", texts, len(tried))
	}
}

// TestCalculatorsReadWhatTheyCan opens addresses that hold more than calculators, or
// less: what is not understood is named, changes nothing, and stays in the address
// until something is changed.
func TestCalculatorsReadWhatTheyCan(t *testing.T) {
	s := openSite(t)
	const load = "calculators.html#v=1&load-rate=1.5+pt/ac&load-area=80+ac"
	for _, c := range []struct{ why, more, named, field, stands string }{
		{"a field that no calculator has", "&load-wind=5+mph", "load-wind=5 mph", "load-area", "80 ac"},
		{"a part without a value", "&print", "print", "load-area", "80 ac"},
		{"a field twice", "&load-area=8+ac", "load-area=8 ac", "load-area", "80 ac"},
		{"another version", "&v=7", "v=7", "load-area", "80 ac"},
		{"units of nobody", "&units=cubits", "units=cubits", "units-first", "us"},
		{"a calculator of nobody", "&at=wand", "at=wand", "load-area", "80 ac"},
		{"bytes that are no text", "&load-tank=%E0%A4%A", "load-tank=%E0%A4%A", "load-tank", ""},
		{"a text longer than a field", "&load-tank=" + strings.Repeat("9", 3000), "load-tank=999", "load-tank", ""},
		{"a percent sign as people write it", "&rates-rate=0.25 % v/v", "", "rates-rate", "0.25 % v/v"},
		{"figures on two lines", "&load-tank=50%0A0+gal", "", "load-tank", "50 0 gal"},
		{"a name of the language", "&__proto__=x&constructor=y", "constructor=y", "load-area", "80 ac"},
		{"an active of another publication", "&standing-active=kelpin&standing-ph=7&standing-wait=4+h", "", "standing-active", "kelpin"},
		{"a material of another publication", "&gas-material=1", "", "gas-material", "1"},
	} {
		s.openCalculators(load + c.more)
		opened := eval[string](s, `location.hash`)
		if got := strings.Join(s.texts(".calc-note .note"), " "); !strings.Contains(got, c.named) || (got == "") != (c.named == "") || len(got) > 400 {
			t.Errorf("%s: the page says %q, want %q", c.why, got, c.named)
		}
		if got := eval[string](s, `document.getElementById(`+asJSON(c.field)+`).value`); got != c.stands {
			t.Errorf("%s: %s holds %q, want %q", c.why, c.field, got, c.stands)
		}
		if got := s.left(); got != opened {
			t.Errorf("%s: the address became %s with nobody changing anything", c.why, got)
		}
	}
	for id, pick := range map[string]string{"standing": "calculators.pick-active", "gas": "calculators.fill-in"} {
		s.openCalculators(entered(id, [][2]string{{"active", "kelpin"}, {"material", "1"}, {"ph", "7"}, {"wait", "4 h"}}, "us"))
		want, _, _ := strings.Cut(s.words.Text(pick), "{")
		if out := s.texts("#" + id + " .calc-out")[0]; !strings.HasPrefix(out, want) || len(s.texts("#"+id+" .answers")) > 0 {
			t.Errorf("%s: a choice that is not here gives %q, want %q", id, out, want)
		}
	}
	s.openCalculators(load + "&load-wind=5+mph")
	s.set("load-tank", "500 gal")
	if got := s.left(); got != "#v=1&at=load&load-rate=1.5+pt/ac&load-area=80+ac&load-tank=500+gal&units=us" {
		t.Errorf("after a change the address is %s", got)
	}
	eval[bool](s, `location.hash = "v=1&pace-time=27+s", true`)
	s.wait(`document.getElementById("pace-time").value === "27 s" && document.getElementById("load-area").value === ""`)
}

// TestCalculatorsKeepTheirWayBack goes to each calculator by its link: what is entered
// stays, the address names the calculator, and the way back still leads off the page.
func TestCalculatorsKeepTheirWayBack(t *testing.T) {
	s := openSite(t)
	s.openTool("calculators.html", 360)
	before := eval[int](s, `history.length`)
	press := func(link string) {
		eval[bool](s, `document.querySelector("a[href=" + CSS.escape(`+asJSON(link)+`) + "]").click(), true`)
	}
	press("#gas")
	if got := s.left(); got != "#gas" {
		t.Errorf("with nothing entered the address is %s", got)
	}
	s.set("pace-time", "27 s")
	for _, c := range filledIn {
		press("#" + c.id)
		want := "#v=1&at=" + c.id + "&pace-time=27+s&units=us"
		if got := s.left(); got != want {
			t.Errorf("at %s the address is %s, want %s", c.id, got, want)
		}
		if at := eval[string](s, `document.activeElement.id`); at != c.id {
			t.Errorf("the focus is at %q, not at %s", at, c.id)
		}
	}
	if n := eval[int](s, `history.length`); n != before {
		t.Errorf("the way back has %d steps and had %d", n, before)
	}
	whole := s.left()
	press("#main")
	if got := s.left(); got != whole || eval[string](s, `document.getElementById("pace-time").value`) != "27 s" {
		t.Errorf("past the frame the address is %s", got)
	}
}

// TestToolsInTheOtherLanguage goes to the other language with something entered, at
// once after the last key: it stands there too.
func TestToolsInTheOtherLanguage(t *testing.T) {
	s := openSite(t)
	one, two := s.quietPair()
	for _, c := range []struct{ page, ready, field, text string }{
		{"calculators.html", ".calcs", "units-quantity", "80 ac"},
		{plan([]mix.ID{one, two}, ""), "#planner.ready", "area", "80 ac"},
	} {
		s.open(c.page, 1280)
		s.wait(`document.querySelector(` + asJSON(c.ready) + `) !== null`)
		s.set(c.field, c.text)
		eval[bool](s, `document.querySelector(".tongues a").click(), true`)
		s.wait(`location.pathname.includes("/es/") && document.querySelector(` + asJSON(c.ready) + `) !== null`)
		if got := eval[string](s, `document.getElementById(`+asJSON(c.field)+`).value`); got != c.text {
			t.Errorf("%s: in the other language %s holds %q", c.page, c.field, got)
		}
	}
}

// TestCalculatorsAreEmptied copies the address of a calculator, empties it by a slip
// of the thumb and puts all back.
func TestCalculatorsAreEmptied(t *testing.T) {
	s := openSite(t)
	s.openOnPhone(entered("units", [][2]string{{"quantity", "80 ac"}}, "us") + "&gas-material=potassium-bicarbonate")
	s.wait(`document.querySelector(".calcs") !== null`)
	tools := func() []string { return s.texts("#units .calc-tools button") }
	if got, want := tools(), []string{s.words.T("calculators.copy"), s.words.T("calculators.empty")}; !slices.Equal(got, want) {
		t.Fatalf("offers %q, want %q", got, want)
	}
	if got := s.texts("#load .calc-tools button"); len(got) > 0 {
		t.Errorf("a blank calculator offers %q", got)
	}
	eval[bool](s, `(() => { window.copied = []; Object.defineProperty(navigator, "clipboard", {value: {writeText: (text) => { copied.push(text); return Promise.resolve() }}}); return true })()`)
	press := func(n string) {
		eval[bool](s, `document.querySelectorAll("#units .calc-tools button")[`+n+`].click(), true`)
	}
	press("0")
	s.wait(`document.querySelector("#units .calc-tools button").textContent === ` + asJSON(s.words.T("calculators.copied")))
	if got := eval[[]string](s, `copied`); len(got) != 1 || !strings.HasSuffix(got[0], "/calculators.html#v=1&at=units&units-quantity=80+ac&units=us") {
		t.Errorf("copied %q", got)
	}
	s.usable("filled in")
	before := eval[[]string](s, outs)
	press("1")
	if got := eval[string](s, `document.getElementById("units-quantity").value`); got != "" {
		t.Errorf("emptied, it holds %q", got)
	}
	if got := s.left(); strings.Contains(got, "units-quantity") || !strings.Contains(got, "gas-material") {
		t.Errorf("emptied, the address is %s", got)
	}
	if got := tools(); !slices.Equal(got, []string{s.words.T("calculators.put-back")}) || eval[string](s, `document.activeElement.textContent`) != got[0] {
		t.Errorf("emptied, it offers %q, without the focus", got)
	}
	s.usable("emptied")
	press("0")
	if after := eval[[]string](s, outs); !slices.Equal(after, before) || eval[string](s, `document.activeElement.id`) != "units-quantity" {
		t.Errorf("put back, it shows %q", after)
	}
	if got := s.left(); !strings.Contains(got, "units-quantity=80+ac") {
		t.Errorf("put back, the address is %s", got)
	}
}
