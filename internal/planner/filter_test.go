package planner_test

import (
	"slices"
	"strings"
	"testing"

	"github.com/chromedp/chromedp"
	"github.com/chromedp/chromedp/kb"

	"tankleaf.example/internal/mix"
)

// partners is what a list of partners shows, and what it says of the rest.
type partners struct {
	names       []string // sorted
	left, never int      // not shown, and of those that forbid the mix
}

// partnersOf is what the list of a class has to show of the classes that are kept.
func (s *site) partnersOf(picked mix.ID, keep func(*mix.Class) bool) partners {
	p := partners{names: []string{}}
	for i := range s.book.Classes {
		c := &s.book.Classes[i]
		v := s.judge.Pair(picked, c.ID).Verdict
		switch {
		case !c.Matrix || c.ID == picked && v == mix.Unknown:
		case keep(c):
			p.names = append(p.names, c.Name["en"])
		default:
			p.left++
			if v == mix.Never {
				p.never++
			}
		}
	}
	slices.Sort(p.names)
	return p
}

// listIs holds the list of partners, what it says of those that it leaves out, and
// what of it is told to readers by ear.
func (s *site) listIs(why string, want partners) {
	s.t.Helper()
	got := eval[[]string](s, `[...document.querySelectorAll(".picked li")].map(li => (li.querySelector(".name") ?? li).textContent.trim()).sort()`)
	slices.Sort(got)
	if !slices.Equal(got, want.names) {
		s.t.Errorf("%s: lists %q, want %q", why, got, want.names)
	}
	said := ""
	if want.left > 0 {
		said = s.words.T("matrix.left-partners", "n", want.left)
	}
	if want.never > 0 {
		said += " " + s.words.T("matrix.left-never", "n", want.never)
	}
	for _, at := range []string{".list-said", ".pick-class [role=status]"} {
		if got := strings.Join(s.texts(at), " "); !strings.Contains(got, said) || want.never == 0 && strings.Contains(got, s.words.T("matrix.left-never", "n", 1)[2:]) {
			s.t.Errorf("%s: %s says %q, want %q", why, at, got, said)
		}
	}
	if got := len(s.texts(".list-said button")); (got > 0) != (want.left > 0) {
		s.t.Errorf("%s: %d ways to show everything, with %d left out", why, got, want.left)
	}
}

// openFilter unfolds the filter of the matrix and waits for what it loads.
func (s *site) openFilter() {
	s.t.Helper()
	eval[bool](s, `document.querySelector(".filter summary").click(), true`)
	s.wait(`document.getElementById("filter-crop") !== null`)
}

// forbidden returns a class of the matrix that must never meet another.
func (s *site) forbidden() mix.ID {
	for i := range s.book.Classes {
		for k := range s.book.Classes {
			c, d := &s.book.Classes[i], &s.book.Classes[k]
			if c.Matrix && d.Matrix && i != k && s.judge.Pair(c.ID, d.ID).Verdict == mix.Never {
				return c.ID
			}
		}
	}
	s.t.Fatal("no class must never meet another")
	return ""
}

func everyClass(*mix.Class) bool { return true }

// TestMatrixFiltersOnAPhone narrows the list of a class by role and by crop: it shows
// what Go keeps, and says how much it leaves out, and how much of that forbids a mix.
func TestMatrixFiltersOnAPhone(t *testing.T) {
	s := openSite(t)
	s.openOnPhone("matrix.html")
	s.wait(`document.body.classList.contains("matrix-ready")`)
	picked := s.forbidden()
	s.set("pick-class", string(picked))
	s.listIs("no filter", s.partnersOf(picked, everyClass))
	s.openFilter()
	hidden := 0
	for _, g := range s.book.Groups {
		want := s.partnersOf(picked, func(c *mix.Class) bool { return c.Group.ID == g.ID })
		s.set("filter-role", g.Name["en"])
		s.listIs(string(g.ID), want)
		hidden += want.never
	}
	if hidden == 0 {
		t.Error("no filter hides a partner that must never be met")
	}
	s.usable("one role")
	s.set("filter-role", "")
	x := s.judge.Index()
	for _, crop := range s.book.Crops {
		used := func(c *mix.Class) bool { return c.Carrier || usedOn(x, c.ID, crop.ID) }
		s.set("filter-crop", string(crop.ID))
		s.listIs(string(crop.ID), s.partnersOf(picked, used))
		s.offers(string(crop.ID), func(c *mix.Class) bool { return c.ID == picked || used(c) })
		itself := s.words.T("matrix.picked-left", "name", x.Class(picked).Name["en"])
		if said := s.texts(".list-said"); strings.Contains(said[0], itself) == used(x.Class(picked)) {
			t.Errorf("%s: of the class that was picked it says %q", crop.ID, said)
		}
	}
	s.usable("one crop")
	eval[bool](s, `document.querySelector(".list-said button").click(), true`)
	s.listIs("everything", s.partnersOf(picked, everyClass))
	s.offers("everything", everyClass)
}

// usedOn reports whether a class has a product with a use on a crop.
func usedOn(x *mix.Index, class, crop mix.ID) bool {
	return slices.ContainsFunc(x.Members(class), func(p mix.ID) bool {
		return slices.ContainsFunc(x.Product(p).Uses, func(u mix.Use) bool { return u.Crop.ID == crop })
	})
}

// offers holds the classes that can be picked to those that are kept.
func (s *site) offers(why string, keep func(*mix.Class) bool) {
	s.t.Helper()
	var want []string
	for i := range s.book.Classes {
		if c := &s.book.Classes[i]; c.Matrix && keep(c) {
			want = append(want, string(c.ID))
		}
	}
	got := eval[[]string](s, `[...document.querySelectorAll("#pick-class optgroup option")].map(o => o.value)`)
	slices.Sort(want)
	if slices.Sort(got); !slices.Equal(got, want) {
		s.t.Errorf("%s: offers %q, want %q", why, got, want)
	}
}

// usable holds a page on a phone to what a thumb and a reader by ear need.
func (s *site) usable(why string) {
	s.t.Helper()
	if small := eval[[]string](s, smallTargets); len(small) > 0 {
		s.t.Errorf("%s: too small:\n%s", why, strings.Join(small, "\n"))
	}
	if list, _ := s.nameless(); len(list) > 0 {
		s.t.Errorf("%s: without a name: %q", why, list)
	}
	if w := eval[int](s, `document.documentElement.scrollWidth`); w > 360 {
		s.t.Errorf("%s: %d wide on a screen of 360", why, w)
	}
}

// TestMatrixOfMyProductsOnAPhone puts a product on the reader's list with the thumb:
// the list of partners is that of its classes, and it is the list that the grid uses,
// also once the phone is turned.
func TestMatrixOfMyProductsOnAPhone(t *testing.T) {
	s := openSite(t)
	s.openOnPhone("matrix.html")
	s.wait(`document.body.classList.contains("matrix-ready")`)
	picked := s.forbidden()
	p := &s.book.Products[0]
	mine := func(c *mix.Class) bool { return c.Carrier || s.judge.Index().IsA(p.ID, c.ID) }
	s.openFilter()
	eval[bool](s, `document.getElementById("picker").focus(), true`)
	s.keys(p.Name + kb.Enter)
	s.wait(`document.querySelectorAll(".mine li").length === 1`)
	s.offers("nothing picked", mine)
	pairs := s.hiddenPairs(mine)
	if got, want := s.texts(".list-said")[0], s.words.T("matrix.left-pairs", "n", pairs.left)+" "+s.words.T("matrix.left-never", "n", pairs.never); pairs.never == 0 || !strings.Contains(got, want) {
		t.Errorf("with nothing picked it says %q, want %q", got, want)
	}
	s.usable("my products")
	eval[bool](s, `document.querySelector(".list-said button").click(), true`)
	s.set("pick-class", string(picked))
	eval[bool](s, `document.getElementById("only-mine").click(), true`)
	s.listIs("my products", s.partnersOf(picked, mine))
	if got, want := eval[string](s, `localStorage.getItem("tankleaf.my-products")`), `["`+string(p.ID)+`"]`; got != want {
		t.Errorf("kept %s, want %s", got, want)
	}
	s.do(chromedp.EmulateViewport(1280, 740))
	s.wait(`document.querySelector(".matrix").offsetParent !== null && document.querySelector(".filter > .filter-said") !== null`)
	for _, id := range shownClasses(s) {
		if !mine(s.judge.Index().Class(id)) {
			t.Errorf("turned, the grid shows %s", id)
		}
	}
	s.oneStop()
	s.do(chromedp.EmulateViewport(360, 740))
	s.wait(`document.querySelector(".pick-class .filter") !== null`)
	s.listIs("turned back", s.partnersOf(picked, mine))
	eval[bool](s, `localStorage.clear(), true`)
}

// hiddenPairs counts the pairs of which a filter on products keeps one class at most.
func (s *site) hiddenPairs(keep func(*mix.Class) bool) (p partners) {
	for i := range s.book.Classes {
		for k := range i + 1 {
			c, d := &s.book.Classes[i], &s.book.Classes[k]
			v := s.judge.Pair(c.ID, d.ID).Verdict
			if !c.Matrix || !d.Matrix || i == k && v == mix.Unknown || keep(c) && keep(d) {
				continue
			}
			p.left++
			if v == mix.Never {
				p.never++
			}
		}
	}
	return p
}
