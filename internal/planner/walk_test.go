package planner_test

import (
	"context"
	"fmt"
	"slices"
	"strings"
	"testing"

	"github.com/chromedp/cdproto/cdp"
	"github.com/chromedp/cdproto/page"
	"github.com/chromedp/chromedp"

	"tankleaf.example/internal/mix"
)

// headings returns what a screen reader finds of headings, in order.
func (s *site) headings() []string {
	s.t.Helper()
	var list []string
	for _, n := range s.heard() {
		if !n.Ignored && axText(n.Role) == "heading" {
			list = append(list, axText(n.Name))
		}
	}
	return list
}

// TestPlannerIsHeardWhole: once a plan rests, a screen reader finds the headings of all
// that stands on the page, also of what is far below the window.
func TestPlannerIsHeardWhole(t *testing.T) {
	s := openSite(t)
	s.open(plan(s.worst(), ""), 1280)
	s.settled()
	s.wait(`!document.querySelector("#planner.moving") && document.querySelector(".plan-reasons h2") !== null`)
	s.wait(`document.querySelector(".plan-jar-section").getBoundingClientRect().top > 2 * innerHeight`)
	heard := strings.Join(s.headings(), "|")
	for _, h := range eval[[]string](s, `[...document.querySelectorAll("#planner h2, #planner h3")].map(e => e.textContent.replace(/\s+/g, " ").trim())`) {
		if !strings.Contains(strings.Join(strings.Fields(heard), " "), h) {
			t.Errorf("%q is not heard among %q", h, heard)
		}
	}
}

// TestPlannerGoesToTheAnswer: on a phone, who taps a change far down the page sees what
// became of the mix, not the middle of what is left of the list.
func TestPlannerGoesToTheAnswer(t *testing.T) {
	s := openSite(t)
	for _, button := range []string{".conflicts .drop", ".conflicts .swap"} {
		s.openOnPhone(plan(s.replaceable(), "&area=40+ac&spray=20+gal/ac&tank=500+gal"))
		s.settled()
		s.wait(`document.querySelector(` + asJSON(button) + `) !== null`)
		last := `[...document.querySelectorAll(` + asJSON(button) + `)].at(-1)`
		eval[bool](s, last+`.scrollIntoView(), `+last+`.focus(), `+last+`.click(), true`)
		s.settled()
		if top := eval[float64](s, `document.querySelector(".plan-answer").getBoundingClientRect().top`); top < 0 || top > 370 {
			t.Errorf("%s: the answer begins %v px down a screen of 740", button, top)
		}
		if got := eval[string](s, `document.activeElement.id`); got != "answer" {
			t.Errorf("%s: the focus is at %q", button, got)
		}
	}
}

// replaceable is a mix with a conflict that a replacement removes.
func (s *site) replaceable() []mix.ID {
	s.t.Helper()
	for i, a := range s.book.Products {
		for _, b := range s.book.Products[i+1:] {
			ids := []mix.ID{a.ID, b.ID}
			if s.judge.Pair(a.ID, b.ID).Verdict >= mix.Apart && len(s.judge.WhatIf(ids, mix.Situation{}).Instead) > 0 {
				return ids
			}
		}
	}
	s.t.Fatal("no pair can be mended")
	return nil
}

// TestPlannerLeadsToWaysOut: the verdict leads past the cautions to what would remove
// the conflict, and the address stays that of the plan.
func TestPlannerLeadsToWaysOut(t *testing.T) {
	s := openSite(t)
	s.openOnPhone(plan(s.replaceable(), ""))
	s.settled()
	s.wait(`document.querySelector("#conflicts") !== null`)
	before := s.hash()
	eval[bool](s, `document.querySelector(".band .ways-out a").click(), true`)
	s.wait(`Math.abs(document.getElementById("conflicts").getBoundingClientRect().top) < 200`)
	s.wait(`location.hash === ` + asJSON(before))
	one, two := s.quietPair()
	s.openOnPhone(plan([]mix.ID{one, two}, ""))
	s.settled()
	if n := len(s.texts(".ways-out")); n != 0 {
		t.Error("a mix without a conflict leads to ways out of it")
	}
}

// TestPlannerNamesAcidityOnce: a pH that was pasted with its name is told with one.
func TestPlannerNamesAcidityOnce(t *testing.T) {
	s := openSite(t)
	one, two := s.quietPair()
	for typed, want := range map[string]string{"pH 7.2": "pH 7.2.", "ph: 6": "pH 6.", "7": "pH 7."} {
		s.open(plan([]mix.ID{one, two}, "&ph="+strings.ReplaceAll(typed, " ", "+")), 768)
		s.settled()
		s.wait(`document.querySelector(".card-given").textContent !== ""`)
		if got := s.texts(".card-given")[0]; !strings.HasPrefix(got, "Judged for: "+want) {
			t.Errorf("%q is told as %q", typed, got)
		}
	}
}

// TestPlannerInventsNoNumber: where nothing can be made of what was written, what could
// stand there is told and is not one tap from the plan.
func TestPlannerInventsNoNumber(t *testing.T) {
	s := openSite(t)
	one, two := s.quietPair()
	s.open(plan([]mix.ID{one, two}, ""), 768)
	s.settled()
	for _, c := range [][2]string{{"area", "lots"}, {"tank", "9e9"}, {"temperature", "900 °F"}, {"ph", "20"}, {"standing", "%ZZ"}} {
		s.set(c[0], c[1])
		note := s.texts("#" + c[0] + "-note")[0]
		if n := eval[int](s, `document.querySelectorAll("#`+c[0]+`-note button").length`); n != 0 || note == "" {
			t.Errorf("%s %q: %d buttons, %q", c[0], c[1], n, note)
		}
		hint := s.words.T("planner." + c[0] + "-hint")
		if c[1] != "9e9" && !strings.Contains(note, hint) {
			t.Errorf("%s %q: %q does not say %q", c[0], c[1], note, hint)
		}
	}
}

// TestPlannerOffersLikelyUnits: a bare number is offered in the units of the label and
// in those that tanks are sold in, for a rate per acre in place of one per 100 gallons is
// another dose.
func TestPlannerOffersLikelyUnits(t *testing.T) {
	s := openSite(t)
	one, two := s.quietPair()
	s.open(plan([]mix.ID{one, two}, ""), 768)
	s.settled()
	for _, id := range []mix.ID{one, two} {
		var want []string
		r := s.judge.Index().Product(id).Rate
		for _, end := range []string{r.High.String(), r.Low.String()} {
			if _, unit, ok := strings.Cut(end, " "); ok && !slices.Contains(want, "2 "+unit) {
				want = append(want, "2 "+unit)
			}
		}
		s.set("rate-"+string(id), "2")
		if got := s.texts("#rate-" + string(id) + "-note button"); !slices.Equal(got, want) || len(want) == 0 {
			t.Errorf("%s: offers %q, its label says %q", id, got, want)
		}
	}
	for field, want := range map[string][]string{"tank": {"500 gal", "500 L"}, "jar": {"500 mL"}} {
		s.set(field, "500")
		if got := eval[[]string](s, `[...document.querySelectorAll("#`+field+`-note button")].map(b => b.textContent)`); !slices.Equal(got, want) {
			t.Errorf("%s: offers %q, want %q", field, got, want)
		}
	}
}

// keyboard stands for a touch screen of which a keyboard can take the lower part.
const keyboard = `Object.defineProperty(window, "visualViewport", {value: Object.assign(new EventTarget(), {height: 740, offsetTop: 0, scale: 1})});
function cover(px, scale) { Object.assign(visualViewport, {height: 740 - px, scale}); visualViewport.dispatchEvent(new Event("resize")); }`

// TestPlannerBarAboveKeyboard: the verdict stays in sight while one types.
func TestPlannerBarAboveKeyboard(t *testing.T) {
	s := openSite(t)
	before := func(ctx context.Context, t *chromedp.Target) (page.AddScriptToEvaluateOnNewDocumentResult, error) {
		return cdp.Call(ctx, t, page.AddScriptToEvaluateOnNewDocument, page.AddScriptToEvaluateOnNewDocumentParams{Source: keyboard})
	}
	if _, err := chromedp.Run(s.ctx, chromedp.Action[page.AddScriptToEvaluateOnNewDocumentResult](before)); err != nil {
		t.Fatal(err)
	}
	one, two := s.quietPair()
	s.openOnPhone(plan([]mix.ID{one, two}, ""))
	s.settled()
	for _, c := range []struct {
		covered int
		scale   float64
		want    float64 // where the bar ends
		why     string
	}{
		{0, 1, 740, "no keyboard"},
		{320, 1, 420, "above it"},
		{320, 2, 740, "zoomed in: the page is left alone"},
		{0, 1, 740, "put away again"},
	} {
		eval[bool](s, fmt.Sprintf(`cover(%d, %v), true`, c.covered, c.scale))
		if got := eval[float64](s, `document.querySelector(".plan-bar").getBoundingClientRect().bottom`); got != c.want {
			t.Errorf("%s: the bar ends at %v, want %v", c.why, got, c.want)
		}
	}
}

// TestPlannerNamesGroupsOfChanges: heard alone, the name of a product does not say that
// it would take the place of another; the group that it stands in does.
func TestPlannerNamesGroupsOfChanges(t *testing.T) {
	s := openSite(t)
	ids := s.replaceable()
	s.open(plan(ids, ""), 1280)
	s.settled()
	s.wait(`document.querySelector(".swap") !== null`)
	out := eval[mix.ID](s, `document.querySelector(".swap").dataset.out`)
	want := s.words.T("planner.instead-of", "name", s.judge.Index().Product(out).Name)
	if got := eval[string](s, `document.querySelector(".swap").closest("[role=group]").getAttribute("aria-label")`); got != want {
		t.Errorf("the group is named %q, want %q", got, want)
	}
	if got := eval[string](s, `document.querySelector(".drop").closest("[role=group]").getAttribute("aria-label")`); got != s.words.T("planner.leave-out") {
		t.Errorf("what can be left out is named %q", got)
	}
}
