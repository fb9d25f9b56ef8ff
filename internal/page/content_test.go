package page_test

import (
	"fmt"
	"strings"
	"testing"

	"golang.org/x/net/html"

	"tankleaf.example/internal/mix"
)

// site returns all pages of the fixture.
func site(t *testing.T) map[string]*html.Node {
	t.Helper()
	return parsed(t, publish(t, office(t)))
}

func TestPairOpensWithTheAnswer(t *testing.T) {
	doc := site(t)["together/fizz--sour.html"]
	band := find(doc, class("band"))[0]
	if got := attr(band, "data-verdict"); got != "never" {
		t.Errorf("band says %q", got)
	}
	for _, c := range []struct{ part, want, why string }{
		{"says", "Never together", "the verdict in words"},
		{"why", "Fizz 80 SP and Sour SL together: gas in 1 of 1 jar", "the reason in one line"},
		{"instead", "Leave one of them out.", "what to do, from the statement that agrees with the jar"},
		{"rest", "Single jar test", "the grade"},
	} {
		if got := first(t, band, c.part, class(c.part)); !strings.Contains(got, c.want) {
			t.Errorf("%s: got %q, want %q in it", c.why, got, c.want)
		}
	}
	main := find(doc, tag("main"))[0]
	order := text(main)
	if !(strings.Index(order, "Pressure.") < strings.Index(order, "Never together") &&
		strings.Index(order, "Never together") < strings.Index(order, "Evidence Single")) {
		t.Error("hazard, answer and evidence do not follow in this order")
	}
}

func TestLedgerLeadsToRecords(t *testing.T) {
	doc := site(t)["together/fizz--sour.html"]
	entries := find(doc, class("entry"))
	if len(entries) < 2 {
		t.Fatalf("%d entries", len(entries))
	}
	var hrefs []string
	for _, a := range find(find(doc, class("ledger"))[0], tag("a")) {
		hrefs = append(hrefs, attr(a, "href"))
	}
	all := strings.Join(hrefs, " ")
	for _, want := range []string{"../observation/fb-1.html", "../interactions.html#carbonate-with-acid", "#source-bench"} {
		if !strings.Contains(all, want) {
			t.Errorf("the ledger does not lead to %s", want)
		}
	}
	if got := text(entries[1]); !strings.Contains(got, "Fizz 80 SP → Carbonate") {
		t.Errorf("the chain from product to class is not told: %s", got)
	}
}

func TestProductPage(t *testing.T) {
	doc := site(t)["product/fizz.html"]
	if got := first(t, doc, "band", class("says")); got != "Never with Sour SL" {
		t.Errorf("band says %q", got)
	}
	tally := text(find(doc, class("tally"))[0])
	if !strings.Contains(tally, "No evidence") {
		t.Errorf("the tally %q does not count what is unknown", tally)
	}
	untested := find(doc, class("untested"))
	if len(untested) != 1 {
		t.Fatal("what is untested is not told apart")
	}
	for _, name := range []string{"Slick EC", "Dust 50 WP"} {
		if !strings.Contains(text(untested[0]), name) {
			t.Errorf("%s shares bloom with it and is not named as untested", name)
		}
	}
	if strings.Contains(text(untested[0]), "Sour SL") {
		t.Error("a partner with evidence stands among the untested")
	}
}

// TestUnknownIsNeverFine looks for unknown where good news stands.
func TestUnknownIsNeverFine(t *testing.T) {
	for name, doc := range site(t) {
		for _, n := range find(doc, func(n *html.Node) bool { return attr(n, "data-verdict") == "unknown" }) {
			words := text(n)
			if hasClass(n, "tone-clean") || strings.Contains(words, "Mixed cleanly") || strings.Contains(words, "Mezcló bien") {
				t.Errorf("%s: unknown looks fine: %q", name, words)
			}
		}
		for _, n := range find(doc, func(n *html.Node) bool { return attr(n, "data-verdict") == "clean" && !hasClass(n, "chip") }) {
			t.Errorf("%s: nothing in the fixture is clean, yet %q", name, text(n))
		}
	}
}

func TestMatrixIsReadableEitherWay(t *testing.T) {
	doc := site(t)["matrix.html"]
	table := find(doc, class("matrix"))[0]
	heads := find(find(table, tag("thead"))[0], tag("th"))
	if len(heads) != 5 {
		t.Fatalf("%d heads, want a corner and four classes", len(heads))
	}
	cells := map[string]string{}
	for _, row := range find(table, tag("tr")) {
		if hasClass(row, "group") || len(find(row, tag("td"))) == 0 {
			continue
		}
		for i, td := range find(row, tag("td")) {
			cells[first(t, row, "row head", tag("th"))+"/"+text(heads[i+1])] = attr(td, "data-verdict")
			if marks := find(td, tag("svg")); attr(td, "data-verdict") != "" && (len(marks) != 1 || attr(marks[0], "aria-label") == "") {
				t.Error("a cell without a mark that says its word")
			}
			if links := find(td, tag("a")); attr(td, "data-verdict") == "unknown" && len(links) > 0 {
				t.Error("a cell without evidence leads somewhere")
			}
		}
	}
	for _, c := range []struct{ pair, want string }{
		{"Acid/Carbonate", "never"}, {"Carbonate/Acid", "never"}, {"Oil/Powder", "steps"}, {"Acid/Acid", ""}, {"Carbonate/Oil", "unknown"},
	} {
		if cells[c.pair] != c.want {
			t.Errorf("%s: %q, want %q", c.pair, cells[c.pair], c.want)
		}
	}
	if notes := text(find(doc, class("notes"))[0]); !strings.Contains(notes, "water temperature under 10 °C") {
		t.Errorf("the condition of oil with powder is no footnote: %s", notes)
	}
}

func TestObservationPage(t *testing.T) {
	pages := site(t)
	doc := pages["observation/fb-1.html"]
	drawn := find(doc, func(n *html.Node) bool { return n.Data == "svg" && attr(n, "role") == "img" })
	if len(drawn) != 2 {
		t.Fatalf("%d jars drawn for two readings", len(drawn))
	}
	if alt := attr(drawn[1], "aria-label"); !strings.Contains(alt, "2 h") || !strings.Contains(alt, "walls or lid firm") {
		t.Errorf("the drawing's words are %q", alt)
	}
	whole := text(doc)
	for _, want := range []string{
		"Reacted: gas.", "140 mL, 20 % of the liquid", "Not recorded, so nothing is known: heat", "batch B2",
		"59 °F (15 °C)", "hardness 310 ppm, pH 7.8", "In the order they went in.", "id : fb-1",
	} {
		if !strings.Contains(strings.ReplaceAll(whole, "id: fb-1", "id : fb-1"), want) {
			t.Errorf("the page does not say %q", want)
		}
	}
	if got := text(pages["observation/fb-3.html"]); !strings.Contains(got, "The order they went in was not recorded.") ||
		!strings.Contains(got, "Nothing was recorded that can be judged.") {
		t.Error("what was not recorded is not said")
	}
}

func TestTextInAnotherLanguageSaysSo(t *testing.T) {
	pages := site(t)
	doc := pages["es/together/acid--carbonate.html"]
	band := find(doc, class("band"))[0]
	spans := find(band, func(n *html.Node) bool { return attr(n, "lang") == "en" })
	if len(spans) == 0 || !strings.Contains(text(spans[0]), "Leave one of them out.") {
		t.Error("English advice on a Spanish page is not marked as English")
	}
	if got := first(t, band, "why", class("why")); !strings.HasPrefix(got, "El gas crea presión bajo la tapa.") {
		t.Errorf("why: %q", got)
	}
	sheet := pages["es/sheet/only-english.html"]
	if attr(find(sheet, class("prose"))[0], "lang") != "en" || !strings.Contains(text(sheet), "aún no está traducida") {
		t.Error("an English sheet on a Spanish page does not say so")
	}
	if attr(find(pages["es/sheet/lids.html"], class("prose"))[0], "lang") != "" {
		t.Error("a Spanish sheet on a Spanish page is marked as foreign")
	}
}

func TestSheetPage(t *testing.T) {
	doc := site(t)["sheet/lids.html"]
	whole := text(doc)
	for _, want := range []string{"was due for review on June 1, 2026", "Judged for: a closed vessel.", "A note on the verdict.",
		"Three of them", "Oil on powder", "(table 3)"} {
		if !strings.Contains(whole, want) {
			t.Errorf("the sheet does not say %q", want)
		}
	}
	prose := find(doc, class("prose"))[0]
	if n := len(find(prose, func(n *html.Node) bool { return attr(n, "data-caution") == "pressure" })); n != 1 {
		t.Errorf("%d pressure cautions in the prose, want the one the author placed", n)
	}
	if strings.Contains(text(site(t)["es/sheet/lids.html"]), "debía revisarse") {
		t.Error("a sheet within its date says it is overdue")
	}
}

func TestUnknownPageCounts(t *testing.T) {
	doc := site(t)["unknown.html"]
	row := text(find(find(doc, tag("tbody"))[0], tag("tr"))[0])
	// Four products at bloom make six pairs. fizz+sour, slick+sour and slick+dust
	// have evidence; dust+fizz, dust+sour and fizz+slick have none.
	if row != "Apple 3 3" {
		t.Errorf("counted %q, want 3 without and 3 with evidence", row)
	}
}

func TestNoticesStandUnderTheirDistrict(t *testing.T) {
	doc := site(t)["notices.html"]
	for _, s := range find(doc, tag("section")) {
		has := strings.Contains(text(s), "No oil with acid")
		if want := attr(s, "aria-labelledby") == "place-upper"; has != want {
			t.Errorf("section %s: holds the notice %v", attr(s, "aria-labelledby"), has)
		}
	}
}

func TestHomeLeadsWithTheQuestion(t *testing.T) {
	doc := site(t)["index.html"]
	whole := text(find(doc, tag("main"))[0])
	at := -1
	for _, want := range []string{"May these go in together?", "Pick a product", "Pick a class", "The lids", "What can hurt people"} {
		next := strings.Index(whole, want)
		if next <= at {
			t.Errorf("%q does not follow what comes before it", want)
		}
		at = next
	}
}

func TestCautionInOurWordsWhenTheOfficeHasNone(t *testing.T) {
	b := book(t)
	b.Cautions = b.Cautions[:0]
	doc := parsed(t, publish(t, inputs(t, b)))["together/acid--carbonate.html"]
	for _, hazard := range []string{"pressure", "general"} {
		blocks := find(doc, func(n *html.Node) bool { return attr(n, "data-caution") == hazard })
		if len(blocks) != 1 || len(text(blocks[0])) < 40 {
			t.Errorf("no caution %s in our words", hazard)
		}
	}
}

// TestLargeOffice: with more products than a page can set against each other,
// pages speak of classes, and lists are split.
func TestLargeOffice(t *testing.T) {
	b := book(t)
	for i := range 1000 {
		id := fmt.Sprintf("extra-%04d", i)
		b.Products = append(b.Products, mix.Product{ID: mix.ID(id), Name: "Extra " + id, Form: "SL"})
	}
	for i := range 600 {
		o := b.Observations[0]
		o.ID = mix.ID(fmt.Sprintf("more-%04d", i))
		b.Observations = append(b.Observations, o)
	}
	files := publish(t, inputs(t, b))
	pages := parsed(t, files)
	checkLinks(t, files, pages)
	product := text(pages["product/fizz.html"])
	if strings.Contains(product, "Extra") || !strings.Contains(product, "Sour SL") {
		t.Error("a product's page does not keep to partners it was seen with")
	}
	if got := text(find(pages["product/fizz.html"], class("untested"))[0]); !strings.Contains(got, "Oil") || !strings.Contains(got, "Powder") {
		t.Errorf("the classes it is untested with are not named: %s", got)
	}
	if text(pages["products-f.html"]) == "" || strings.Contains(text(pages["products-f.html"]), "Extra") {
		t.Error("the list of products is not split by letter")
	}
	if got := text(pages["unknown.html"]); !strings.Contains(got, "Apple Bloom 3 pairs Acid Powder Carbonate Oil and Powder") {
		t.Errorf("classes that share a timing and are untested are not listed: %s", got)
	}
	if pages["observations-2026-2.html"] == nil {
		t.Error("a busy year is not split")
	}
}
