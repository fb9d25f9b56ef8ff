package planner_test

import (
	"fmt"
	"slices"
	"strings"
	"testing"

	"github.com/chromedp/chromedp/kb"

	"tankleaf.example/internal/mix"
)

const litCells = `[...document.querySelectorAll(".matrix td.lit")].length`

// TestMatrixByKeyboard goes through the matrix with arrow keys: one stop of Tab, a lit
// row and column, and Enter leads to the pair.
func TestMatrixByKeyboard(t *testing.T) {
	s := openSite(t)
	s.open("matrix.html", 1280)
	s.wait(`document.body.classList.contains("matrix-ready")`)
	if list, _ := s.nameless(); len(list) > 0 {
		t.Errorf("without a name: %q", list)
	}
	if n := eval[int](s, `document.querySelectorAll('.matrix td [tabindex="0"], .matrix td[tabindex="0"]').length`); n != 1 {
		t.Errorf("%d cells are stops of Tab", n)
	}
	eval[bool](s, `document.querySelector('.matrix td [tabindex="0"], .matrix td[tabindex="0"]').focus(), true`)
	at := func() [2]int {
		v := eval[[]int](s, `(() => { const td = document.activeElement.closest("td"); if (!td) return [-1, -1]; const rows = [...document.querySelectorAll(".matrix tbody tr")].filter(r => r.querySelector("td:not(.opened)")); return [rows.indexOf(td.closest("tr")), [...td.closest("tr").querySelectorAll("td")].indexOf(td)] })()`)
		return [2]int{v[0], v[1]}
	}
	rows := eval[int](s, `document.querySelectorAll(".matrix thead a").length`)
	for _, c := range []struct {
		why, keys string
		want      [2]int
	}{
		{"down and right", kb.ArrowDown + kb.ArrowDown + kb.ArrowRight, [2]int{2, 1}},
		{"out at the left", strings.Repeat(kb.ArrowLeft, 2), [2]int{-1, -1}},
		{"and back in", kb.ArrowRight, [2]int{2, 0}},
		{"to the end of the row", kb.End, [2]int{2, rows - 1}},
		{"not out at the right", kb.ArrowRight, [2]int{2, rows - 1}},
		{"to the start of the row", kb.Home, [2]int{2, 0}},
		{"out at the top", strings.Repeat(kb.ArrowUp, 3), [2]int{-1, -1}},
		{"no further than the top", strings.Repeat(kb.ArrowUp, 3) + kb.ArrowDown, [2]int{0, 0}},
	} {
		s.keys(c.keys)
		if got := at(); got != c.want {
			t.Errorf("%s: at %v, want %v", c.why, got, c.want)
		}
	}
	if n := eval[int](s, litCells); n != rows {
		t.Errorf("%d cells of the column are lit, of %d", n, rows)
	}
	for range rows * rows {
		s.keys(kb.ArrowRight)
		if eval[bool](s, `document.activeElement.tagName === "A"`) {
			break
		}
		if at()[1] == rows-1 {
			s.keys(kb.Home + kb.ArrowDown)
		}
	}
	href := eval[string](s, `document.activeElement.href`)
	s.keys(kb.Enter)
	s.wait(`location.href === ` + asJSON(href))
}

// TestMatrixFilters narrows the matrix by role, crop and the reader's own products:
// what is left out is counted, and what forbids a mix is counted by itself.
func TestMatrixFilters(t *testing.T) {
	s := openSite(t)
	s.open("matrix.html", 1280)
	s.wait(`document.body.classList.contains("matrix-ready")`)
	all := shownCells(s)
	roles := eval[[]string](s, `[...document.getElementById("filter-role").options].map(o => o.value)`)
	s.set("filter-role", roles[1])
	some := shownCells(s)
	if some == 0 || some >= all {
		t.Errorf("%d of %d cells are shown for one role", some, all)
	}
	s.countsLeftOut(all - some)
	s.oneStop()
	eval[bool](s, `document.querySelector(".filter-said button").click(), true`)
	if n := shownCells(s); n != all {
		t.Errorf("%d of %d cells after showing everything", n, all)
	}
	eval[bool](s, `document.querySelector(".filter summary").click(), true`)
	s.wait(`document.getElementById("filter-crop") !== null`)
	p := s.book.Products[0]
	eval[bool](s, `document.getElementById("picker").focus(), true`)
	s.keys(p.Name[:3])
	if eval[bool](s, `[...document.querySelectorAll(".picker-list li")].some(li => { li.scrollIntoView({block: "nearest"}); const r = li.getBoundingClientRect(); return !li.contains(document.elementFromPoint(r.x + r.width / 2, r.y + r.height / 2)) })`) {
		t.Error("the matrix covers what was found")
	}
	s.keys(p.Name[3:] + kb.Enter)
	s.wait(`document.querySelectorAll(".mine li").length === 1`)
	s.oneStop()
	if got, want := eval[string](s, `localStorage.getItem("tankleaf.my-products")`), `["`+string(p.ID)+`"]`; got != want {
		t.Errorf("kept %s, want %s", got, want)
	}
	shown := shownClasses(s)
	for _, id := range shown {
		if !s.judge.Index().IsA(p.ID, id) {
			t.Errorf("%s is shown for %s, which does not belong to it", id, p.ID)
		}
	}
	if len(shown) == 0 {
		t.Error("no class of the product is shown")
	}
	s.countsLeftOut(all - shownCells(s))
	s.open("matrix.html", 1280) // the list is still there
	s.wait(`document.body.classList.contains("matrix-ready")`)
	eval[bool](s, `document.querySelector(".filter summary").click(), true`)
	s.wait(`document.querySelectorAll(".mine li").length === 1`)
	eval[bool](s, `document.querySelector(".mine button").click(), true`)
	if eval[bool](s, `localStorage.getItem("tankleaf.my-products") !== null`) {
		t.Error("something is kept after the last product was taken out")
	}
}

// oneStop holds the table to one stop of Tab, which can be seen.
func (s *site) oneStop() {
	s.t.Helper()
	stops := eval[[]string](s, `[...document.querySelectorAll(".matrix a, .matrix button, .matrix td, .matrix th")].filter(e => e.tabIndex === 0 && !e.closest(".opened")).map(e => (e.offsetParent ? "" : "hidden ") + e.outerHTML.slice(0, 80))`)
	if len(stops) != 1 || strings.HasPrefix(stops[0], "hidden") {
		s.t.Errorf("Tab stops in the table at %q", stops)
	}
}

// shownClasses names the classes whose rows can be seen.
func shownClasses(s *site) []mix.ID {
	s.t.Helper()
	return eval[[]mix.ID](s, `[...document.querySelectorAll(".matrix tbody tr th[scope=row] a")].filter(a => a.offsetParent).map(a => a.getAttribute("href").slice(6, -5))`)
}

// TestMatrixOfACrop holds the rows that a crop leaves to Go: the classes of products
// with a use on it, and what every tank holds.
func TestMatrixOfACrop(t *testing.T) {
	s := openSite(t)
	s.openTool("matrix.html", 1280)
	every := shownClasses(s)
	eval[bool](s, `document.querySelector(".filter summary").click(), true`)
	s.wait(`document.getElementById("filter-crop") !== null`)
	x := s.judge.Index()
	for _, crop := range s.book.Crops {
		var want []mix.ID
		for _, id := range every {
			used := x.Class(id).Carrier
			for _, p := range x.Members(id) {
				used = used || slices.ContainsFunc(x.Product(p).Uses, func(u mix.Use) bool { return u.Crop.ID == crop.ID })
			}
			if used {
				want = append(want, id)
			}
		}
		s.set("filter-crop", string(crop.ID))
		if got := shownClasses(s); !slices.Equal(got, want) {
			t.Errorf("%s: shows %v, want %v", crop.ID, got, want)
		}
	}
}

// TestMatrixUnderTheMouse lights the row and column of the cell that the mouse is on,
// and no other.
func TestMatrixUnderTheMouse(t *testing.T) {
	s := openSite(t)
	s.openTool("matrix.html", 1280)
	columns := eval[int](s, `document.querySelectorAll(".matrix thead a").length`)
	for _, at := range []int{0, columns / 2, columns - 1} {
		cell := fmt.Sprintf(`[...document.querySelectorAll(".matrix tbody tr:has(td)")][2].querySelectorAll("td")[%d]`, at)
		eval[bool](s, cell+`.dispatchEvent(new MouseEvent("mouseover", {bubbles: true}))`)
		if n := eval[int](s, litCells); n != columns {
			t.Errorf("column %d: %d cells are lit of %d", at, n, columns)
		}
		if !eval[bool](s, cell+`.classList.contains("lit") && `+cell+`.closest("tr").classList.contains("lit") && document.querySelectorAll(".matrix tr.lit").length === 1`) {
			t.Errorf("column %d: its cell or its row alone is not lit", at)
		}
	}
}

// shownCells counts the cells that can be seen.
func shownCells(s *site) int {
	return eval[int](s, `[...document.querySelectorAll(".matrix td:not(.opened)")].filter(c => c.offsetParent !== null).length`)
}

// countsLeftOut holds the line under the filter to what is hidden.
func (s *site) countsLeftOut(n int) {
	s.t.Helper()
	said := s.texts(".filter-said")[0]
	if want := s.words.T("matrix.left-out", "n", n); !strings.HasPrefix(said, want) {
		s.t.Errorf("says %q, want %q", said, want)
	}
	never := eval[int](s, `[...document.querySelectorAll(".matrix td[data-verdict=never]")].filter(c => c.offsetParent === null).length`)
	if want := s.words.T("matrix.left-never", "n", never); never > 0 && !strings.Contains(said, want) {
		s.t.Errorf("says %q, want %q", said, want)
	}
}

// TestMatrixOpensAClass looks at the products of a class and the way into a plan.
func TestMatrixOpensAClass(t *testing.T) {
	s := openSite(t)
	s.open("matrix.html", 1280)
	s.wait(`document.body.classList.contains("matrix-ready")`)
	for _, c := range s.book.Classes[:12] {
		members := s.judge.Index().Members(c.ID)
		row := `[...document.querySelectorAll(".matrix tbody th a")].find(a => a.getAttribute("href") === "class/` + string(c.ID) + `.html").closest("tr")`
		eval[bool](s, row+`.querySelector(".opener").click(), true`)
		s.wait(row + `.nextElementSibling.innerText.trim() !== "" && !` + row + `.nextElementSibling.innerText.includes("` + s.words.T("planner.loading") + `")`)
		links := eval[[]string](s, `[...`+row+`.nextElementSibling.querySelectorAll("a")].map(a => a.getAttribute("href"))`)
		if len(links) != 2*len(members) {
			t.Errorf("%s opens into %d links for %d products", c.ID, len(links), len(members))
		}
		for _, id := range members {
			if !slices.Contains(links, "product/"+string(id)+".html") || !slices.Contains(links, "planner.html#v=1&p="+string(id)) {
				t.Errorf("%s does not lead to %s", c.ID, id)
			}
		}
	}
}

// TestMatrixOnAPhone picks one class and holds the list of its partners to Go:
// verdicts from most caution down, no evidence apart and last.
func TestMatrixOnAPhone(t *testing.T) {
	s := openSite(t)
	s.open("matrix.html", 360)
	s.wait(`document.body.classList.contains("matrix-ready")`)
	if eval[bool](s, `document.querySelector(".matrix").offsetParent !== null`) {
		t.Error("the table is still shown")
	}
	for _, c := range s.book.Classes[:8] {
		s.set("pick-class", string(c.ID))
		want := map[mix.Verdict]int{}
		for _, other := range s.book.Classes {
			if a := s.judge.Pair(c.ID, other.ID); other.Matrix && (other.ID != c.ID || a.Verdict != mix.Unknown) {
				want[a.Verdict]++
			}
		}
		var heads []string
		for _, v := range []mix.Verdict{mix.Never, mix.Apart, mix.Steps, mix.Clean, mix.Unknown} {
			if want[v] > 0 {
				heads = append(heads, s.words.Verdict(v))
			}
		}
		if got := s.texts(".picked h3"); !slices.Equal(got, heads) {
			t.Errorf("%s: lists %q, want %q", c.ID, got, heads)
		}
		if got, sum := len(s.texts(".picked li")), want[mix.Never]+want[mix.Apart]+want[mix.Steps]+want[mix.Clean]+want[mix.Unknown]; got != sum {
			t.Errorf("%s: %d partners, want %d", c.ID, got, sum)
		}
	}
	if w := eval[int](s, `document.documentElement.scrollWidth`); w > 360 {
		t.Errorf("%d wide on a screen of 360", w)
	}
}
