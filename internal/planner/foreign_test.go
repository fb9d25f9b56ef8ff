package planner_test

import (
	"strings"
	"testing"
	"time"

	"tankleaf.example/internal/mix"
)

// hash is the address as it stands, when everything that waits has had its time.
func (s *site) hash() string {
	s.t.Helper()
	time.Sleep(300 * time.Millisecond) // the address is written once nothing has changed for 200
	return eval[string](s, `location.hash`)
}

// choiceOf tells of a choice what is chosen in it, whether it is marked, and the words
// beside it.
const choiceOf = `(id => { const e = document.getElementById(id), note = document.getElementById(e.getAttribute("aria-describedby") ?? "");
	return [e.value, e.getAttribute("aria-invalid") ?? "", note?.textContent ?? "", e.selectedOptions[0].textContent] })`

// TestPlannerKeepsStrangeChoices opens a plan from a publication with other places and
// crops. What this one does not have stays chosen, marked and in the address until its
// reader chooses another; the answer is that of a plan that does not say it.
func TestPlannerKeepsStrangeChoices(t *testing.T) {
	s := openSite(t)
	one, two := s.quietPair()
	const strange = "&crop=kelp&place=atlantis&water=spring-9&carrier=tea&area=40+ac&spray=20+gal/ac&tank=500+gal"
	address := plan([]mix.ID{one, two}, strange)
	s.open(address, 768)
	s.settled()
	for id, value := range map[string]string{"crop": "kelp", "place": "atlantis", "water": "spring-9", "carrier": "tea"} {
		got := eval[[]string](s, choiceOf+`(`+asJSON(id)+`)`)
		if got[0] != value || got[1] != "true" || !strings.Contains(got[2], value) || !strings.Contains(got[3], value) {
			t.Errorf("%s=%s stands as %q", id, value, got)
		}
	}
	if got := s.hash(); !strings.HasSuffix(address, got) {
		t.Errorf("the address was %s and became %s with nobody changing the plan", address, got)
	}
	a := s.judge.Mix([]mix.ID{one, two}, mix.Situation{})
	s.shows(&a)
	s.set("area", "80 ac")
	if got := s.hash(); !strings.Contains(got, "area=80+ac") || !strings.Contains(got, "&crop=kelp&place=atlantis&water=spring-9&carrier=tea") {
		t.Errorf("after another change the address is %s", got)
	}
	crop := string(s.book.Crops[0].ID)
	s.set("crop", crop)
	if got := eval[[]string](s, choiceOf+`("crop")`); got[0] != crop || got[1] != "" || got[2] != "" {
		t.Errorf("a crop of this publication stands as %q", got)
	}
	if eval[bool](s, `[...document.getElementById("crop").options].some(o => o.value === "kelp")`) {
		t.Error("the strange crop can still be chosen")
	}
	if got := s.hash(); strings.Contains(got, "kelp") || !strings.Contains(got, "crop="+crop) || !strings.Contains(got, "place=atlantis") {
		t.Errorf("after choosing a crop the address is %s", got)
	}
}

// TestPlannerNamesWhatItCannotRead opens addresses that hold more than a plan: what
// was not understood is named, and stays in the address until the plan is changed.
func TestPlannerNamesWhatItCannotRead(t *testing.T) {
	s := openSite(t)
	one, two := s.quietPair()
	long := strings.Repeat("x", 3000)
	for _, c := range []struct{ why, more, named string }{
		{"a key of another version", "&nozzle=fan+110", "nozzle=fan 110"},
		{"a product twice", "&p=" + string(one) + ":2+qt/ac", "p=" + string(one) + ":2 qt/ac"},
		{"a broken escape", "&area=%E0%A4%A", "area=%E0%A4%A"},
		{"a text longer than a field", "&area=" + long, "area=xxx"},
	} {
		address := plan([]mix.ID{one, two}, c.more)
		s.open(address, 768)
		s.settled()
		if got := strings.Join(s.texts(".plan-notes .note"), " "); !strings.Contains(got, c.named) || len(got) > 400 {
			t.Errorf("%s: the page says %q", c.why, got)
		}
		if got := s.hash(); !strings.HasSuffix(address, got) {
			t.Errorf("%s: the address became %s with nobody changing the plan", c.why, got)
		}
	}
	s.set("hardness", "120 ppm")
	if got := s.hash(); strings.Contains(got, "xxx") || !strings.Contains(got, "hardness=120+ppm") {
		t.Errorf("after a change the address is %s", got)
	}
}

// TestPlannerPutsBack takes a product out by a slip of the thumb: one tap puts it back
// where it stood, at its rate.
func TestPlannerPutsBack(t *testing.T) {
	s := openSite(t)
	one, two := s.quietPair()
	s.open(plan([]mix.ID{one}, ":7+oz/ac&p="+string(two)), 360)
	s.settled()
	before := eval[string](s, `document.querySelector(".plan-answer").textContent`)
	eval[bool](s, `document.querySelector(".pick-card .remove").click(), true`)
	s.wait(`document.querySelectorAll(".pick-card").length === 1`)
	name := s.judge.Index().Product(one).Name
	if got := s.texts(".picks > :first-child"); !strings.Contains(got[0], name) || eval[string](s, `document.activeElement.ariaLabel ?? ""`) != s.words.T("planner.put-back-name", "name", name) {
		t.Errorf("where %s stood the page says %q, without the focus", name, got)
	}
	eval[bool](s, `document.querySelector(".taken-out button").click(), true`)
	s.wait(`document.querySelectorAll(".pick-card").length === 2`)
	s.settled()
	if got := s.texts(".pick-card .name"); got[0] != name {
		t.Errorf("it came back as %q", got)
	}
	if got := eval[[]string](s, `[document.activeElement.id, document.activeElement.value]`); got[0] != "rate-"+string(one) || got[1] != "7 oz/ac" {
		t.Errorf("the focus is at %q", got)
	}
	if after := eval[string](s, `document.querySelector(".plan-answer").textContent`); after != before {
		t.Errorf("the answer was %q and is %q", before, after)
	}
	if got := s.texts(".taken-out"); len(got) > 0 {
		t.Errorf("the page still says %q", got)
	}
}

// TestPlannerStaysWhenLeaping follows the links of the page to its own parts: the way
// past the frame, the reasons, the footnotes of a caution. The plan stays, in the page
// and in the address; another plan in the address is opened.
func TestPlannerStaysWhenLeaping(t *testing.T) {
	s := openSite(t)
	s.open(plan(s.worst(), "&hardness=120+ppm"), 1280)
	s.settled()
	s.set("area", "80 ac")
	whole := s.hash()
	links := eval[[]string](s, `[...new Set([...document.querySelectorAll("a[href^='#']")].map(a => a.getAttribute("href")))]`)
	if len(links) < 3 {
		t.Fatalf("the page leaps to %q alone", links)
	}
	for _, link := range links {
		eval[bool](s, `document.querySelector("a[href=" + CSS.escape(`+asJSON(link)+`) + "]").click(), true`)
		if got := s.hash(); got != whole {
			t.Errorf("after %s the address is %s", link, got)
		}
	}
	if n := len(s.texts(".pick-card")); n != 2 {
		t.Errorf("%d products are left", n)
	}
	one, two := s.quietPair()
	eval[bool](s, `location.hash = `+asJSON("v=1&p="+string(one)+"&p="+string(two)+"&p=gone")+`, true`)
	s.wait(`document.querySelectorAll(".pick-card").length === 3`)
	s.open("planner.html#main", 1280)
	s.wait(`document.querySelector(".plan-empty") !== null`)
	if got := s.texts(".plan-notes .note"); len(got) > 0 {
		t.Errorf("opened at a part of the page it says %q", got)
	}
}

// TestPlannerKeepsAGoneProduct opens a plan with a product of an older publication at
// a rate: both are shown and stay in the address, and no amount pretends that the rest
// is the whole load.
func TestPlannerKeepsAGoneProduct(t *testing.T) {
	s := openSite(t)
	one, two := s.quietPair()
	s.open(plan([]mix.ID{one, two, "long-gone"}, ":3+pt/ac&area=40+ac&spray=20+gal/ac&tank=500+gal"), 768)
	s.settled()
	if got := s.texts(".pick-card.gone")[0]; !strings.Contains(got, "long-gone") || !strings.Contains(got, "3 pt/ac") {
		t.Errorf("the card says %q", got)
	}
	if got := strings.Join(s.texts(".load-card .note"), " "); !strings.Contains(got, "long-gone") || len(s.texts(".load-card table")) > 0 {
		t.Errorf("the load card says %q", got)
	}
	s.set("hardness", "120 ppm")
	if got := s.hash(); !strings.Contains(got, "p=long-gone:3+pt/ac") {
		t.Errorf("the address became %s", got)
	}
}

// TestPlannerCopiesTheWholePlan copies the address of a plan that was opened without
// its rates: what is copied holds them, but loses nothing that could not be read.
func TestPlannerCopiesTheWholePlan(t *testing.T) {
	s := openSite(t)
	one, two := s.quietPair()
	for _, c := range []struct {
		more  string
		whole bool
	}{{"", true}, {"&nozzle=fan", false}} {
		address := plan([]mix.ID{one, two}, c.more)
		s.open(address, 768)
		s.settled()
		eval[bool](s, `[...document.querySelectorAll(".card-tools .act")].at(-1).click(), true`)
		got := s.hash()
		if c.whole && (!strings.Contains(got, "p="+string(one)+":") || !strings.Contains(got, "units=us")) {
			t.Errorf("what is copied is %s", got)
		}
		if !c.whole && !strings.HasSuffix(address, got) {
			t.Errorf("what is copied of %s is %s", address, got)
		}
	}
}
