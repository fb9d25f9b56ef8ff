package planner_test

import (
	"fmt"
	"math/rand/v2"
	"net/url"
	"slices"
	"strings"
	"testing"

	"github.com/chromedp/chromedp/kb"

	"tankleaf.example/internal/compat"
	"tankleaf.example/internal/jar"
	"tankleaf.example/internal/mix"
	"tankleaf.example/internal/unit"
)

func must[T any](v T, err error) T {
	if err != nil {
		panic(err)
	}
	return v
}

// plan is the address of a plan.
func plan(ids []mix.ID, more string) string {
	address := "planner.html#v=1"
	for _, id := range ids {
		address += "&p=" + string(id)
	}
	return address + more
}

// TestPlannerPage opens plans of random mixes and holds what the page shows to what
// Go says of them.
func TestPlannerPage(t *testing.T) {
	s := openSite(t)
	d := &mixDrawer{Rand: rand.New(rand.NewPCG(11, 3)), book: s.book}
	verdicts := map[mix.Verdict]int{}
	for range 20 {
		q := d.question()
		q.Items = slices.DeleteFunc(q.Items, func(id mix.ID) bool { return s.judge.Index().Product(id) == nil })
		if len(q.Items) < 2 {
			continue
		}
		crop, place := s.book.Crops[d.IntN(3)].ID, s.book.Places[d.IntN(3)].ID
		situation := mix.Situation{Crop: crop, Place: place, Hardness: mix.Known(unit.Int(400)), WaterTemp: mix.Known(unit.Int(10)),
			Carrier: []mix.ID{"water"}, CarrierRate: mix.Known(must(unit.ParseSprayVolume("20 gal/ac")).Base())}
		s.open(plan(q.Items, fmt.Sprintf("&crop=%s&place=%s&hardness=400+ppm&temperature=50+°F&carrier=water&spray=20+gal/ac&area=40+ac&tank=500+gal", crop, place)), 1280)
		s.settled()
		a := s.judge.Mix(q.Items, situation)
		verdicts[a.Verdict]++
		s.shows(&a)
	}
	for _, v := range mix.Verdicts() {
		if verdicts[v] == 0 {
			t.Errorf("no plan was %v: %v", v, verdicts)
		}
	}
}

// shows compares the page with an answer.
func (s *site) shows(a *compat.Answer) {
	s.t.Helper()
	mixed := fmt.Sprint(a.Items)
	if got := eval[string](s, `document.querySelector(".plan-answer .band").dataset.verdict`); got != a.Verdict.String() {
		s.t.Errorf("%s: the page says %s, Go %v", mixed, got, a.Verdict)
	}
	if got, want := len(s.texts(".untested .pairs li")), len(a.Untested); got != want {
		s.t.Errorf("%s: the page shows %d untested pairs of %d", mixed, got, want)
	}
	want := words(append(slices.Clone(a.Hazards), a.Handling...))
	slices.Sort(want)
	got := eval[[]string](s, `[...document.querySelectorAll(".plan-answer [data-caution]")].filter(e => e.checkVisibility() && !e.closest("details")).map(e => e.dataset.caution).sort()`)
	if !slices.Equal(got, slices.Compact(want)) {
		s.t.Errorf("%s: the page shows hazards %v, Go says %v", mixed, got, want)
	}
	if cards := len(s.texts(".load-card table")); (cards > 0) != (a.Verdict < mix.Apart) {
		s.t.Errorf("%s is %v and the page shows %d load tables", mixed, a.Verdict, cards)
	}
	if jars := len(s.texts(".plan-jar table")); (jars > 0) != (a.Verdict < mix.Never) {
		s.t.Errorf("%s is %v and the page shows %d jars", mixed, a.Verdict, jars)
	}
	if got, want := len(s.texts(".ledger .entry"))+len(s.texts(".looked-at li")), len(a.Findings); got != want {
		s.t.Errorf("%s: the page shows %d findings of %d", mixed, got, want)
	}
}

// TestPlannerKeepsInStep changes one thing after the other in plans of random mixes:
// what then stands on the page is what stands there when the same plan is opened anew.
func TestPlannerKeepsInStep(t *testing.T) {
	s := openSite(t)
	d := &mixDrawer{Rand: rand.New(rand.NewPCG(21, 3)), book: s.book}
	results := `document.querySelector(".plan-results").textContent`
	for range 5 {
		q := d.question()
		q.Items = slices.DeleteFunc(q.Items, func(id mix.ID) bool { return s.judge.Index().Product(id) == nil })
		s.open(plan(q.Items, "&hardness=400+ppm&temperature=50+°F&spray=20+gal/ac&area=40+ac&tank=500+gal"), 1280)
		s.settled()
		for _, c := range [][2]string{{"hardness", "5 ppm"}, {"temperature", ""}, {"ph", "9"}, {"hardness", ""}, {"crop", string(s.book.Crops[0].ID)}, {"place", string(s.book.Places[1].ID)}, {"units", "metric"}, {"area", "10 ac"}, {"heel", "3 gal"}} {
			s.set(c[0], c[1])
		}
		s.settled()
		s.wait(`location.hash.includes("heel=3")`)
		before := eval[string](s, results)
		where := eval[string](s, `location.hash`)
		s.open("planner.html"+where, 1280)
		s.settled()
		if after := eval[string](s, results); after != before || !strings.Contains(after, " ") {
			t.Errorf("%v: the page showed\n%s\nand opened anew\n%s", q.Items, before, after)
		}
	}
}

// quietPair returns two products that may share a tank, one dry and one liquid.
func (s *site) quietPair() (mix.ID, mix.ID) {
	for i := range s.book.Products {
		for k := range i {
			a, b := &s.book.Products[i], &s.book.Products[k]
			if a.Dry != b.Dry && s.judge.Mix([]mix.ID{a.ID, b.ID}, mix.Situation{}).Verdict < mix.Apart {
				return a.ID, b.ID
			}
		}
	}
	s.t.Fatal("no such pair")
	return "", ""
}

// TestPlannerLoads holds the amounts on the page to Go's plan of the loads.
func TestPlannerLoads(t *testing.T) {
	s := openSite(t)
	one, two := s.quietPair()
	s.open("planner.html#v=1&p="+string(one)+":3+oz/ac&p="+string(two)+":1+pt/ac&spray=15+gal/ac&area=80+ac&tank=500+gal&heel=5+gal&minimum=100+gal", 1280)
	s.settled()
	x := s.judge.Index()
	dose := func(id mix.ID, rate string) jar.Product {
		return jar.FromBook(x, x.Product(id), must(unit.ParseRate(rate)))
	}
	dry, wet := one, two
	if !x.Product(one).Dry {
		dry, wet = two, one
	}
	s.open("planner.html#v=1&p="+string(dry)+":3+oz/ac&p="+string(wet)+":1+pt/ac&spray=15+gal/ac&area=80+ac&tank=500+gal&heel=5+gal&minimum=100+gal", 1280)
	s.settled()
	p := must(jar.LoadRequest{Area: must(unit.ParseArea("80 ac")), SprayVolume: must(unit.ParseSprayVolume("15 gal/ac")),
		Tank: must(unit.ParseVolume("500 gal")), Heel: must(unit.ParseVolume("5 gal")), Minimum: must(unit.ParseVolume("100 gal")),
		FirstWater: unit.Frac(1, 2), Products: []jar.Product{dose(dry, "3 oz/ac"), dose(wet, "1 pt/ac")}, Steps: s.book.Order}.Plan())
	rows := s.texts(".loads tr.dose")
	if len(rows) != 2 {
		t.Fatalf("rows %q", rows)
	}
	for i, d := range p.Total {
		for _, want := range []string{d.Product.Name, d.Amount.Split(unit.US).String(), d.Amount.Split(unit.Metric).String(),
			p.Loads[0].Doses[i].Amount.Split(unit.US).String(), p.Loads[len(p.Loads)-1].Doses[i].Amount.Split(unit.US).String()} {
			if !strings.Contains(strings.ReplaceAll(rows[i], "\u00a0", " "), want) {
				t.Errorf("row %q does not hold %q", rows[i], want)
			}
		}
	}
	if got := s.texts(".card-head")[0]; !strings.HasPrefix(got, s.words.T("load.count", "n", len(p.Loads))) {
		t.Errorf("head %q, want %d loads", got, len(p.Loads))
	}
}

// TestPlannerByKeyboard plans a tank without a mouse: products are found by name,
// active, class and misspelling, taken with Enter, and taken out again.
func TestPlannerByKeyboard(t *testing.T) {
	s := openSite(t)
	b := s.book
	s.open("planner.html", 1280)
	s.wait(`document.querySelector("#planner.ready") !== null`)
	eval[bool](s, `document.getElementById("picker").focus(), true`)
	slip := b.Products[3].Name
	slip = slip[:2] + slip[3:]
	var misspelled *mix.Product
	for i := range b.Products {
		if len(b.Products[i].Also) > 0 {
			misspelled = &b.Products[i]
		}
	}
	for _, c := range []struct {
		why, typed string
		finds      mix.ID
	}{
		{"by name", b.Products[0].Name, b.Products[0].ID},
		{"in any case", strings.ToUpper(b.Products[1].Name), b.Products[1].ID},
		{"with a slip", slip, b.Products[3].ID},
		{"by a misspelling on file", misspelled.Also[0], misspelled.ID},
		{"by active ingredient", b.Products[5].Actives[0].Name, b.Products[5].ID},
	} {
		s.keys(c.typed)
		found := s.texts(".picker-list .name")
		name := s.judge.Index().Product(c.finds).Name
		at := slices.Index(found, name)
		if at < 0 {
			t.Fatalf("%s: %q finds %q, not %q", c.why, c.typed, found, name)
		}
		s.keys(strings.Repeat(kb.ArrowDown, at) + kb.Enter)
		s.wait(`location.hash.includes(` + asJSON("p="+string(c.finds)) + `)`)
		if eval[string](s, `document.activeElement.id + document.getElementById("picker").value`) != "picker" {
			t.Errorf("%s: the box is not empty and focused after Enter", c.why)
		}
	}
	s.settled()
	if n := len(s.texts(".pick-card")); n != 5 {
		t.Errorf("%d cards", n)
	}
	s.keys(kb.Tab + kb.Tab + kb.Enter) // to the first product's link, then its button
	s.wait(`document.querySelectorAll(".pick-card").length === 4`)
	for range 80 {
		s.keys(kb.Tab)
		if eval[bool](s, `document.activeElement.matches(".swap, .act")`) {
			return
		}
	}
	t.Error("no button of the answer is reached with Tab")
}

// TestPlannerAddresses opens addresses from elsewhere: nothing is lost, nothing
// fails, and the page says kindly what it could not read.
func TestPlannerAddresses(t *testing.T) {
	s := openSite(t)
	known := s.book.Products[0].ID
	many := ""
	for i := range 14 {
		many += "&p=" + string(s.book.Products[i].ID)
	}
	for _, c := range []struct {
		why, hash string
		notes     []string
		cards     int
	}{
		{"an unknown product is kept and marked", "v=1&p=" + string(known) + "&p=long-gone", []string{"planner.gone-some.one"}, 2},
		{"an older publication", "v=1&d=2024-01-31&p=" + string(known), []string{"planner.other-publication"}, 1},
		{"broken escapes and unknown keys", "v=1&p=%E0%A4%A&zz=1&p=" + string(known), []string{"planner.not-understood.other"}, 1},
		{"another version", "v=9&p=" + string(known), []string{"planner.not-understood.one"}, 1},
		{"the same product twice", "v=1&p=" + string(known) + "&p=" + string(known), []string{"planner.not-understood.one"}, 1},
		{"a place that is not there", "v=1&place=atlantis&p=" + string(known), []string{"planner.strange-some.one"}, 1},
		{"a crop and a carrier that are not there", "v=1&crop=kelp&carrier=tea&p=" + string(known), []string{"planner.strange-some.other"}, 1},
		{"more than a plan holds", "v=1" + many, []string{"planner.not-understood.other"}, 12},
		{"markup", "v=1&p=" + url.QueryEscape("<img src=x onerror=alert(1)>") + "&area=" + url.QueryEscape("<b>1</b>"), []string{"planner.not-understood.one"}, 0},
		{"nothing at all", "", nil, 0},
	} {
		s.open("planner.html#"+c.hash, 768)
		s.wait(`document.querySelector("#planner.ready") !== null`)
		notes := s.texts(".plan-notes .note")
		if len(notes) != len(c.notes) {
			t.Errorf("%s: notes %q", c.why, notes)
		}
		for i, key := range c.notes {
			beginning, _, _ := strings.Cut(s.words.Text(key), "{")
			if i < len(notes) && beginning != "" && !strings.HasPrefix(notes[i], beginning) {
				t.Errorf("%s: note %q is not %s", c.why, notes[i], key)
			}
		}
		if n := len(s.texts(".pick-card")); n != c.cards {
			t.Errorf("%s: %d cards, want %d", c.why, n, c.cards)
		}
	}
	s.open("planner.html#v=1&p="+string(known)+":1,5+L/ha&area=minus+a+lot&tank=500+gal", 768)
	s.wait(`document.querySelectorAll(".pick-card").length === 1`)
	if got := eval[[]string](s, `[document.getElementById("area").value, document.querySelector(".pick-card input").value]`); !slices.Equal(got, []string{"minus a lot", "1,5 L/ha"}) {
		t.Errorf("what was typed became %q", got)
	}
	s.wait(`location.hash.includes("area=minus+a+lot")`)
}

// TestPlannerRefuses writes what people write into fields: beside each stands why it
// is refused and what to write, and no amount is shown.
func TestPlannerRefuses(t *testing.T) {
	s := openSite(t)
	one, two := s.quietPair()
	s.open(plan([]mix.ID{one, two}, "&spray=15+gal/ac&area=80+ac&tank=500+gal"), 1280)
	s.settled()
	if len(s.texts(".load-card table")) == 0 {
		t.Fatal("no load table to begin with")
	}
	for _, c := range []struct{ field, typed, code, offer string }{
		{"area", "1,5 ac", "comma", "1.5 ac"},
		{"area", "1,500 ac", "thousands", "1500 ac"},
		{"area", "-80 ac", "negative", "80 ac"},
		{"area", "80", "no-unit", "80 ac"},
		{"area", "80 acers", "unknown-unit", "80 ac"},
		{"area", "9999999999 ac", "too-large", ""},
		{"spray", "0 gal/ac", "zero", ""}, // an example would be a number that nobody wrote
		{"spray", "15 gal", "wrong-unit", "15 gal/ac"},
		{"tank", "500 gal tank", "trailing", "500 gal"},
		{"tank", "four hundred", "no-number", ""},
		{"tank", "3 cups", "kitchen-unit", "3 fl oz"},
		{"rate-" + string(one), "2 L", "no-base", "2 L/ha"},
		{"rate-" + string(one), ".5 pt/ac", "point", "0.5 pt/ac"},
	} {
		before := eval[string](s, `document.getElementById(`+asJSON(c.field)+`).value`)
		s.set(c.field, c.typed)
		note := `document.getElementById(` + asJSON(c.field+"-note") + `)`
		words := eval[string](s, note+`.querySelector("span")?.innerText ?? ""`)
		want, _, _ := strings.Cut(s.words.Text("refuse."+c.code), "{")
		if !strings.HasPrefix(words, want) || words == "" {
			t.Errorf("%s %q: says %q, want %s", c.field, c.typed, words, c.code)
		}
		offers := eval[[]string](s, `[...`+note+`.querySelectorAll("button")].map(b => b.innerText)`)
		if c.offer != "" && !slices.Contains(offers, c.offer) {
			t.Errorf("%s %q: offers %q, not %q", c.field, c.typed, offers, c.offer)
		}
		if c.offer == "" && len(offers) > 0 {
			t.Errorf("%s %q: offers %q, of which nothing was typed", c.field, c.typed, offers)
		}
		if n := s.texts(".load-card table, .load-card .number"); len(n) > 0 {
			t.Errorf("%s %q: the page shows amounts %q", c.field, c.typed, n)
		}
		if got := eval[string](s, `document.getElementById(`+asJSON(c.field)+`).value`); got != c.typed {
			t.Errorf("%s: %q became %q", c.field, c.typed, got)
		}
		if c.offer != "" {
			eval[bool](s, note+`.querySelector("button").click(), true`)
			if eval[string](s, `document.getElementById(`+asJSON(c.field)+`).value`) != offers[0] {
				t.Errorf("%s %q: the offer was not taken", c.field, c.typed)
			}
		}
		s.set(c.field, before)
		if len(s.texts(".load-card table")) == 0 {
			t.Fatalf("no load table after mending %s", c.field)
		}
	}
}

// TestToolsInSpanish looks for words that were not sent along.
func TestToolsInSpanish(t *testing.T) {
	s := openSite(t)
	one, two := s.quietPair()
	for _, address := range []string{plan([]mix.ID{one, two}, "&spray=15+gal/ac&area=8,0+ac"), plan([]mix.ID{s.book.Products[0].ID, s.book.Products[1].ID, "gone"}, ""), "calculators.html"} {
		for _, folder := range []string{"", "es/"} {
			s.open(folder+address, 360)
			s.wait(`document.querySelector("#planner.ready, .calcs") !== null`)
			if i := eval[string](s, `(document.querySelector("main").innerText.match(/\[[a-z-]+(\.[a-z.-]+)?\]/) ?? [""])[0]`); i != "" {
				t.Errorf("%s%s: no words for %s", folder, address, i)
			}
			if w := eval[int](s, `document.documentElement.scrollWidth`); w > 360 {
				t.Errorf("%s%s is %d wide on a screen of 360", folder, address, w)
			}
		}
	}
}
