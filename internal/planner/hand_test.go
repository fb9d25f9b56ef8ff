package planner_test

import (
	"math/rand/v2"
	"regexp"
	"slices"
	"strings"
	"testing"

	"github.com/chromedp/chromedp"

	"tankleaf.example/internal/mix"
	"tankleaf.example/internal/planner"
	"tankleaf.example/internal/unit"
)

// TestPickerAboveTheKeyboard types on a phone: what is found stands in the upper half
// of the screen, which the keyboard leaves free.
func TestPickerAboveTheKeyboard(t *testing.T) {
	s := openSite(t)
	one, two := s.quietPair()
	s.openOnPhone(plan([]mix.ID{one, two}, ""))
	s.settled()
	eval[bool](s, `document.getElementById("picker").focus({preventScroll: true}), true`)
	s.keys(s.book.Products[7].Name[:3])
	s.wait(`document.querySelectorAll(".picker-list li").length > 0`)
	if bottom := eval[float64](s, `document.querySelector(".picker-list li").getBoundingClientRect().bottom`); bottom > 370 {
		t.Errorf("the first product found ends at %v of a screen of 740", bottom)
	}
}

// TestVerdictInSight goes down the fields of a long plan, on every width: either the
// verdict itself or the bar that repeats it is on the screen.
func TestVerdictInSight(t *testing.T) {
	s := openSite(t)
	worst := s.worst()
	for _, width := range []int64{360, 768, 1280} {
		s.open(plan(worst, "&spray=15+gal/ac&area=80+ac&tank=500+gal"), width)
		s.settled()
		for _, id := range []string{"picker", "crop", "hardness", "standing", "tank"} {
			eval[bool](s, `document.getElementById(`+asJSON(id)+`).scrollIntoView({block: "center"}), true`)
			s.wait(`[".plan-answer .band", ".plan-bar"].some(q => { const e = document.querySelector(q), r = e.getBoundingClientRect(); return e.checkVisibility() && r.bottom > 0 && r.top < innerHeight })`)
		}
		s.wait(`document.querySelector(".plan-bar").checkVisibility()`)
	}
	eval[bool](s, `window.scrollTo(0, 0), true`)
	s.wait(`!document.querySelector(".plan-bar").checkVisibility()`)
}

// TestCardSaysWhatItIsJudgedFor reads on screen and paper what the verdict was judged
// for, and that the rest is taken at its worst.
func TestCardSaysWhatItIsJudgedFor(t *testing.T) {
	s := openDemo(t)
	ids := s.mayShare(rand.New(rand.NewPCG(3, 3)), 3, false)
	crop := s.book.Crops[0]
	for _, c := range []struct {
		more string
		want []string
	}{
		{"", []string{s.words.T("load.judged-worst")}},
		{"&crop=" + string(crop.ID) + "&hardness=120&ph=7.5&area=a+lot", []string{crop.Name["en"], "120 ppm", "7.5"}},
		{"&crop=kelp&hardness=a+lot&temperature=50+°F", []string{"50 °F"}},
	} {
		s.open(plan(ids, c.more), 1280)
		s.settled()
		for _, media := range []string{"screen", "print"} {
			s.media(media)
			got := s.texts(".card-given")[0]
			for _, want := range c.want {
				if !strings.Contains(got, want) || strings.Contains(got, "lot") || strings.Contains(got, "kelp") {
					t.Errorf("%s: the card says %q on %s, want %q", c.more, got, media, want)
				}
			}
		}
		s.media("screen")
	}
}

// TestJarSaysWhatCannotBeMeasured works out a jar whose dose is below what any tool of
// the office measures, and the jar that the page proposes: there it can be measured.
func TestJarSaysWhatCannotBeMeasured(t *testing.T) {
	s := openDemo(t)
	least := planner.New(s.judge).Core.Least
	if least.Liquid != "0.1" || least.Dry != "0.2" {
		t.Fatalf("the demonstration's tools measure from %+v", least)
	}
	var liquid mix.ID
	for i := range s.book.Products {
		if p := &s.book.Products[i]; !p.Dry && liquid == "" && s.judge.Mix([]mix.ID{p.ID}, mix.Situation{}).Verdict < mix.Steps {
			liquid = p.ID
		}
	}
	jar := func(rate, size string) string {
		s.open(plan([]mix.ID{liquid}, ":"+rate+"&spray=20+gal/ac&jar="+size), 768)
		s.settled()
		return eval[string](s, `[...document.querySelectorAll(".in-jar .warn")].map(e => e.textContent).join(" ")`)
	}
	small := jar("2+fl+oz/100+gal", "250+mL") // 0.039 mL
	proposed := regexp.MustCompile(`jar of (\S+ m?L)`).FindStringSubmatch(small)
	if !strings.Contains(small, "0.1 mL") || !strings.Contains(small, "1 in 10.") || proposed == nil {
		t.Fatalf("the page says %q", small)
	}
	if got := jar("2+fl+oz/100+gal", strings.ReplaceAll(proposed[1], " ", "+")); got != "" {
		t.Errorf("in the jar of %s that it proposed it says %q", proposed[1], got)
	}
	below := must(unit.ParseVolume(proposed[1])).Base().Sub(unit.Int(20))
	if got := jar("2+fl+oz/100+gal", below.Short(0)+"+mL"); got == "" {
		t.Errorf("a jar of %s mL would have done, and %s was proposed", below.Short(0), proposed[1])
	}
	if got := jar("0.1+fl+oz/100+gal", "100+mL"); !strings.Contains(got, "1 in 100") || strings.Contains(got, "jar of") {
		t.Errorf("for a dose that needs a barrel it says %q", got)
	}
}

// TestRatesAreNamedApart asks the fields of rates for the names that readers by ear
// are told, and for what is said beside them.
func TestRatesAreNamedApart(t *testing.T) {
	s := openSite(t)
	one, two := s.quietPair()
	s.open(plan([]mix.ID{one}, ":900+oz/ac&p="+string(two)), 768)
	s.settled()
	names := eval[[]string](s, `[...document.querySelectorAll(".pick-card input")].map(e => e.ariaLabel)`)
	for i, id := range []mix.ID{one, two} {
		if name := s.judge.Index().Product(id).Name; !strings.Contains(names[i], name) || !strings.HasPrefix(names[i], s.words.T("planner.rate")) {
			t.Errorf("the rate of %s is called %q", name, names[i])
		}
	}
	said := eval[string](s, `document.querySelector(".pick-card input").getAttribute("aria-describedby").split(" ").map(id => document.getElementById(id).textContent).join(" ")`)
	if above, _, _ := strings.Cut(s.words.Text("planner.fit-above"), "{"); !strings.Contains(said, above) {
		t.Errorf("a rate of 900 oz/ac is described as %q", said)
	}
	for _, level := range eval[[]string](s, `[...document.querySelectorAll("#answer h3")].map(e => e.closest("#answer").querySelector("h1, h2, h3").tagName)`) {
		if level != "H2" {
			t.Error("the boxes of the answer stand under the heading of the products")
		}
	}
	heads := eval[[]string](s, `[...document.querySelectorAll(".caution h3")].map(e => e.textContent)`)
	if slices.ContainsFunc(heads, func(h string) bool {
		return regexp.MustCompile(`\p{Ll}` + s.words.T("planner.hazard-of-handling")).MatchString(h)
	}) {
		t.Errorf("words run together in %q", heads)
	}
}

// TestCalculatorsOnPaper prints calculators: those that were used, each in one piece,
// and all of them while none was.
func TestCalculatorsOnPaper(t *testing.T) {
	s := openSite(t)
	s.openTool("calculators.html", 1280)
	seen := `[...document.querySelectorAll(".calc")].filter(e => e.checkVisibility()).map(e => e.id)`
	s.media("print")
	if got := eval[[]string](s, seen); len(got) < 9 {
		t.Errorf("blank, %q are printed", got)
	}
	s.set("units-quantity", "1 gal")
	s.set("nozzle-speed", "5 mph")
	if got := eval[[]string](s, seen); !slices.Equal(got, []string{"nozzle", "units"}) {
		t.Errorf("after using two, %q are printed", got)
	}
	if inside := eval[[]string](s, `[...document.querySelectorAll(".calc")].map(e => getComputedStyle(e).breakInside)`); slices.ContainsFunc(inside, func(b string) bool { return b != "avoid" }) {
		t.Errorf("calculators break as %q", inside)
	}
	pdf, err := chromedp.Run(s.ctx, chromedp.PrintToPDF())
	if err != nil {
		t.Fatal(err)
	}
	if pages := len(pdfPage.FindAll(pdf, -1)); pages > 2 {
		t.Errorf("two calculators take %d pages", pages)
	}
	s.media("screen")
}

// TestCalculatorsAreNotChatty types a quantity key by key: readers by ear are told
// once, when typing has paused, and not of calculators that were left alone.
func TestCalculatorsAreNotChatty(t *testing.T) {
	s := openSite(t)
	s.openTool("calculators.html", 1280)
	eval[bool](s, `(() => { window.told = []; for (const e of document.querySelectorAll("[role=status], [aria-live]")) new MutationObserver(() => told.push(e.textContent)).observe(e, {childList: true, subtree: true, characterData: true}); return true })()`)
	eval[bool](s, `document.getElementById("units-quantity").focus(), true`)
	s.keys("1.5 gal")
	s.wait(`told.some(words => words.includes("6 qt"))`)
	if told := eval[[]string](s, `told`); len(told) != 1 {
		t.Errorf("%d things are told: %q", len(told), told)
	}
	for id, may := range map[string]bool{"load-tank": true, "load-rate": false, "nozzle-flow": false, "gas-vessel": true} {
		hint := eval[string](s, `document.getElementById(`+asJSON(id+"-hint")+`).textContent`)
		if got := strings.HasSuffix(hint, strings.TrimPrefix(s.words.Text("calculators.may-stay-empty"), "{hint}")); got != may {
			t.Errorf("%s says %q", id, hint)
		}
	}
}

// TestLongNamesStayOnTheScreen looks on a phone at all the reasons of mixes whose
// records have long names: nothing sticks out of the screen.
func TestLongNamesStayOnTheScreen(t *testing.T) {
	s := openDemo(t)
	for _, name := range []string{"", "es/"} {
		s.openOnPhone(name + plan([]mix.ID{"tartpitcher", "sallowmere", "foamwren", "larkstile"}, "&place=upper-quillback&area=37+ac&spray=25+gal/ac&tank=300+gal"))
		s.settled()
		out := eval[[]string](s, `(document.querySelectorAll(".planner *").forEach(e => e.style.contentVisibility = "visible"), [...document.querySelectorAll(".planner a, .planner p, .planner li, .planner td")]
			.filter(e => e.checkVisibility() && !e.closest(".ear") && e.getBoundingClientRect().right > 360.5).map(e => e.textContent.slice(0, 60)))`)
		if w := eval[int](s, `document.documentElement.scrollWidth`); w > 360 || len(out) > 0 {
			t.Errorf("%s is %d wide on a screen of 360: %q", name, w, out)
		}
	}
}

// TestMatrixUnderTheThumb measures what is touched in the table on a tablet.
func TestMatrixUnderTheThumb(t *testing.T) {
	s := openSite(t)
	s.do(chromedp.EmulateViewport(800, 1100, chromedp.EmulateMobile, chromedp.EmulateTouch))
	s.visit("matrix.html")
	s.wait(`document.body.classList.contains("matrix-ready")`)
	small := eval[[]string](s, `[...document.querySelectorAll(".matrix td a, .matrix .opener, .filter select, .filter summary")].filter(e => { const r = (e.closest("td") ?? e).getBoundingClientRect(); return e.checkVisibility() && (r.height < 43.5 || r.width < 43.5) }).map(e => e.outerHTML.slice(0, 80))`)
	if len(small) > 0 {
		t.Errorf("%d are too small to touch, the first %s", len(small), small[0])
	}
}
