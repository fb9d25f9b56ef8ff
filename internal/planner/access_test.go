package planner_test

import (
	"context"
	"encoding/json"
	"fmt"
	"slices"
	"strings"
	"testing"

	"github.com/chromedp/cdproto/accessibility"
	"github.com/chromedp/cdproto/cdp"
	"github.com/chromedp/chromedp"
	"github.com/chromedp/chromedp/kb"

	"tankleaf.example/internal/mix"
)

// controls are the roles that a person can do something with, or can leap to.
var controls = []string{"button", "link", "textbox", "searchbox", "combobox", "checkbox", "listbox", "option", "menuitem",
	"DisclosureTriangle", "gridcell", "table", "grid", "region", "navigation"}

// heard returns the accessibility tree of the page.
func (s *site) heard() []*accessibility.Node {
	s.t.Helper()
	tree := func(ctx context.Context, t *chromedp.Target) (accessibility.GetFullAXTreeResult, error) {
		return cdp.Call(ctx, t, accessibility.GetFullAXTree, accessibility.GetFullAXTreeParams{})
	}
	r, err := chromedp.Run(s.ctx, chromedp.Action[accessibility.GetFullAXTreeResult](tree))
	if err != nil {
		s.t.Fatal(err)
	}
	return r.Nodes
}

// nameless lists what the accessibility tree holds of controls and landmarks that
// have no name, and counts those that have one.
func (s *site) nameless() (list []string, named int) {
	s.t.Helper()
	for _, n := range s.heard() {
		role, name := axText(n.Role), axText(n.Name)
		switch {
		case n.Ignored || !slices.Contains(controls, role):
		case name != "":
			named++
		case role == "gridcell" && len(n.ChildIDs) > 0: // its link has the name
		default:
			list = append(list, fmt.Sprintf("%s %v", role, n.BackendDOMNodeID))
		}
	}
	return list, named
}

// axText is the text of a value of the accessibility tree.
func axText(v *accessibility.Value) string {
	if v == nil {
		return ""
	}
	var s string
	if json.Unmarshal(v.Value, &s) != nil {
		return ""
	}
	return strings.TrimSpace(s)
}

// toolStates are the tools as readers meet them: empty, with an answer, with hazards,
// with fields that cannot be read.
func (s *site) toolStates() []string {
	one, two := s.quietPair()
	full := "&spray=15+gal/ac&area=80+ac&tank=500+gal"
	return []string{
		"planner.html", plan([]mix.ID{one}, ""), plan([]mix.ID{one, two}, full), plan(s.worst(), full),
		plan([]mix.ID{one, two, "long-gone"}, "&area=8,0+ac&ph=99&spray=none&d=2020-01-01"),
		"calculators.html", "matrix.html", "es/" + plan([]mix.ID{one, two}, full), "es/calculators.html",
	}
}

// worst is two products that must never meet.
func (s *site) worst() []mix.ID {
	for i := range s.book.Products {
		for k := range i {
			ids := []mix.ID{s.book.Products[i].ID, s.book.Products[k].ID}
			if a := s.judge.Mix(ids, mix.Situation{}); a.Verdict == mix.Never && len(a.Hazards) > 0 {
				return ids
			}
		}
	}
	s.t.Fatal("no such pair")
	return nil
}

// openTool opens a state of a tool and waits until it is all there.
func (s *site) openTool(name string, width int64) {
	s.t.Helper()
	s.open(name, width)
	s.wait(`document.querySelector("#planner.ready, .calcs, .matrix-ready") !== null`)
	if strings.Contains(name, "&") {
		s.settled()
	}
}

// small targets at 360 px: what a gloved thumb presses and that is less than 44 px
// high or narrower than a field can be read in. Links inside of sentences and lists of
// evidence are read, not pressed in a hurry.
const smallTargets = `[...document.querySelectorAll("main button, main input, main select, main summary, main [role=option], main .calc-nav a, .plan-bar, .site-nav a, .seek input")].filter(e => e.checkVisibility())
	.map(e => [e.type === "checkbox" ? e.closest("label") : e, e]).filter(([box, e]) => {
		const r = box.getBoundingClientRect();
		return r.height < 43.5 || r.width < (e.matches("input, select") ? 96 : 44);
	}).map(([box]) => box.outerHTML.slice(0, 90) + " " + box.getBoundingClientRect().width + " by " + box.getBoundingClientRect().height)`

// TestToolsForEverybody looks at every state of the tools on a phone: each control has
// a name in the accessibility tree and is large enough to press, and nothing sticks
// out of the screen.
func TestToolsForEverybody(t *testing.T) {
	s := openSite(t)
	for _, name := range s.toolStates() {
		s.openTool(name, 360)
		list, named := s.nameless()
		if len(list) > 0 || named < 20 {
			t.Errorf("%s: %d controls have a name, not %q", name, named, list)
		}
		if small := eval[[]string](s, smallTargets); len(small) > 0 {
			t.Errorf("%s: too small:\n%s", name, strings.Join(small, "\n"))
		}
		if w := eval[int](s, `document.documentElement.scrollWidth`); w > 360 {
			t.Errorf("%s is %d wide on a screen of 360", name, w)
		}
	}
}

// TestToolsAreHeard holds what is told to readers by ear: the verdict and the count of
// what is untested once typing has paused, what a box finds, what a field refuses,
// what a calculator works out.
func TestToolsAreHeard(t *testing.T) {
	s := openSite(t)
	s.openTool(plan(s.worst(), ""), 1280)
	hears := func(why, selector, want string) {
		t.Helper()
		s.wait(`[...document.querySelectorAll(` + asJSON(selector) + `)].some(e => e.matches("[role=status], [aria-live]") && e.textContent.includes(` + asJSON(want) + `))`)
	}
	hears("the verdict", "#planner > [role=status]", s.words.Verdict(mix.Never))
	eval[bool](s, `document.getElementById("picker").focus(), true`)
	s.keys(s.book.Products[0].Name[:4])
	hears("what was found", ".picker [role=status]", "")
	if got := eval[string](s, `document.getElementById(document.getElementById("picker").getAttribute("aria-activedescendant")).textContent`); got == "" {
		t.Error("the option that Enter takes has no text")
	}
	s.set("area", "8,0 ac")
	note := `document.getElementById(document.getElementById("area").getAttribute("aria-describedby").split(" ").find(id => document.getElementById(id).classList.contains("field-note")))`
	if !eval[bool](s, `document.getElementById("area").getAttribute("aria-invalid") === "true" && `+note+`.textContent.length > 5`) {
		t.Error("a field that cannot be read is not marked and described")
	}
	s.openTool("calculators.html", 1280)
	s.set("units-quantity", "1 gal")
	hears("what was worked out", "#units [role=status]", "4 qt")
	s.openTool("matrix.html", 360)
	s.set("pick-class", string(s.book.Classes[0].ID))
	hears("how long the list is", ".pick-class [role=status]", s.book.Classes[0].Name["en"]+": ")
}

// walk presses Tab until an element that a selector matches has the focus. Each stop
// must be seen to have the focus.
func (s *site) walk(to string) {
	s.t.Helper()
	for range 150 {
		s.keys(kb.Tab)
		at := eval[[]string](s, `(() => { const e = document.activeElement, c = getComputedStyle(e);
			return [e.matches(`+asJSON(to)+`) ? "there" : "", e === document.body || (c.outlineStyle !== "none" && parseFloat(c.outlineWidth) >= 2) || e.closest("li[aria-selected]") ? "" : e.outerHTML.slice(0, 100)] })()`)
		if at[1] != "" {
			s.t.Errorf("the focus is not seen on %s", at[1])
		}
		if at[0] != "" {
			return
		}
	}
	s.t.Fatalf("Tab does not reach %s", to)
}

// TestKeyboardAlone goes from the matrix over the search to a plan without a mouse.
func TestKeyboardAlone(t *testing.T) {
	s := openSite(t)
	one, two := s.quietPair()
	x := s.judge.Index()
	s.openTool("matrix.html", 1280)
	s.walk(".matrix td, .matrix td a")
	s.keys(kb.ArrowDown + kb.ArrowRight)
	if n := eval[int](s, litCells); n == 0 {
		t.Error("no column is lit")
	}
	s.open("index.html", 1280)
	s.walk(".seek input")
	s.keys(x.Product(one).Name)
	s.wait(`document.querySelectorAll(".found").length > 0`)
	s.keys(kb.ArrowDown)
	s.wait(`document.activeElement.hasAttribute("aria-activedescendant")`)
	leads := eval[string](s, `document.getElementById(document.activeElement.getAttribute("aria-activedescendant")).pathname`)
	s.keys(kb.Enter)
	s.wait(`location.pathname === ` + asJSON(leads))
	if !strings.Contains(leads, string(one)) {
		t.Errorf("the first result of %q is %s", x.Product(one).Name, leads)
	}
	s.openTool("planner.html", 1280)
	s.walk("#picker")
	s.keys(x.Product(one).Name + kb.Enter)
	s.wait(`document.querySelectorAll(".pick-card").length === 1`)
	s.keys(x.Product(two).Name + kb.Enter)
	s.wait(`document.querySelectorAll(".pick-card").length === 2`)
	s.settled()
	for _, field := range [][2]string{{"area", "80 ac"}, {"spray", "15 gal/ac"}, {"tank", "500 gal"}} {
		s.walk("#" + field[0])
		s.keys(field[1])
	}
	s.wait(`document.querySelector(".loads") !== null`)
	s.walk(".load-card .act")
}
