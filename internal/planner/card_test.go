package planner_test

import (
	"context"
	"math/rand/v2"
	"regexp"
	"slices"
	"strings"
	"testing"

	"github.com/chromedp/cdproto/cdp"
	"github.com/chromedp/cdproto/emulation"
	"github.com/chromedp/chromedp"

	"tankleaf.example/internal/mix"
	"tankleaf.example/internal/unit"
)

var pdfPage = regexp.MustCompile(`/Type\s*/Page[^s]`)

// paper is a sheet with what its margins leave of its width, in px of 1/96 in.
type paper struct {
	name string
	size chromedp.PaperSize
	wide int64
}

var papers = []paper{{"Letter", chromedp.PaperLetter, 702}, {"A4", chromedp.PaperA4, 680}}

// TestLoadCardIsOnePage prints the cards of mixes of two to twelve products, with
// and without hazards, on both papers, in both languages and both families of units:
// each is one page, nothing is cut off, and every product, hazard and caution
// is on it. The long runs print a hundred.
func TestLoadCardIsOnePage(t *testing.T) {
	s := openDemo(t)
	draw := rand.New(rand.NewPCG(7, 7))
	hazards := 0
	cards := 6
	if soak() {
		cards = 100
	}
	for i := range cards {
		n := []int{5, 8, 12, 10, 7, 12, 11, 9, 4, 6, 2}[i%11]
		paper, tongue, units := i%2, i/2%2, i/4%2
		ids := s.mayShare(draw, n, (paper+tongue+units)%2 == 1) // any three of the four meet in every way
		p := papers[paper]
		lang := []string{"", "es/"}[tongue]
		job := []string{"&area=40+ac&spray=20+gal/ac&tank=500+gal&heel=6+gal", "&units=metric&area=16+ha&spray=200+L/ha&tank=1900+L&minimum=300+L"}[units]
		s.open(lang+plan(ids, job), 1280)
		s.settled()
		boxes := len(s.texts(".plan-answer .hazard"))
		hazards += boxes
		pdf, err := chromedp.Run(s.ctx, chromedp.PrintToPDF(chromedp.PDFPaper(p.size)))
		if err != nil {
			t.Fatal(err)
		}
		if pages := len(pdfPage.FindAll(pdf, -1)); pages != 1 {
			t.Errorf("%v %s with %d boxes of hazards on %s: %d pages", ids, lang, boxes, p.name, pages)
		}
		s.media("print")
		s.do(chromedp.EmulateViewport(p.wide, 1000))
		if w := eval[int64](s, `Math.max(...[...document.querySelectorAll("body, body *")].filter(e => e.checkVisibility() && !e.closest("svg")).map(e => Math.ceil(e.getBoundingClientRect().right)))`); w > p.wide+1 {
			t.Errorf("%v on %s: %d wide of %d", ids, p.name, w, p.wide)
		}
		text := eval[string](s, `document.body.innerText`)
		for _, id := range ids {
			if name := s.judge.Index().Product(id).Name; !strings.Contains(text, name) {
				t.Errorf("%s is not on its card", name)
			}
		}
		if seen := eval[int](s, `[...document.querySelectorAll("[data-caution]")].filter(e => e.checkVisibility()).length`); seen != boxes+1 {
			t.Errorf("%v: %d boxes of cautions are printed of %d", ids, seen, boxes+1)
		}
		s.media("")
	}
	if hazards < 2 {
		t.Errorf("only %d boxes of hazards were printed", hazards)
	}
}

// media makes the page look as on a medium.
func (s *site) media(kind string) {
	s.t.Helper()
	set := func(ctx context.Context, t *chromedp.Target) (cdp.Empty, error) {
		return cdp.Call(ctx, t, emulation.SetEmulatedMedia, emulation.SetEmulatedMediaParams{Media: kind})
	}
	if _, err := chromedp.Run(s.ctx, chromedp.Action[cdp.Empty](set)); err != nil {
		s.t.Fatal(err)
	}
}

// mayShare draws products that may share a tank as far as is known; dangerous starts
// with those that are a hazard by themselves.
func (s *site) mayShare(draw *rand.Rand, n int, dangerous bool) []mix.ID {
	s.t.Helper()
	order := draw.Perm(len(s.book.Products))
	if dangerous {
		hazardous := func(i int) bool {
			a := s.judge.Mix([]mix.ID{s.book.Products[i].ID}, mix.Situation{})
			return len(a.Handling) > 0
		}
		slices.SortStableFunc(order, func(a, b int) int {
			switch {
			case hazardous(a) == hazardous(b):
				return 0
			case hazardous(a):
				return -1
			}
			return 1
		})
	}
	most := must(unit.ParseRate("3 gal/ac"))
	var ids []mix.ID
	for _, i := range order {
		if r := s.book.Products[i].Rate.High; r.Comparable(most) && r.Cmp(most) > 0 {
			continue // a carrier: several of them need not fit into the spray volume
		}
		more := append(slices.Clone(ids), s.book.Products[i].ID)
		if len(more) == 1 || s.judge.Mix(more, mix.Situation{}).Verdict < mix.Apart {
			ids = more
		}
		if len(ids) == n {
			return ids
		}
	}
	s.t.Fatalf("no %d products may share a tank", n)
	return nil
}
