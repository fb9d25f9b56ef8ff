package page_test

import (
	"slices"
	"strings"
	"testing"

	"golang.org/x/net/html"

	"tankleaf.example/internal/message"
	"tankleaf.example/internal/mix"
	"tankleaf.example/internal/unit"
	"tankleaf.example/templates"
)

// doseRows returns the rows of a card by what they begin with.
func doseRows(t *testing.T, doc *html.Node) map[string]string {
	t.Helper()
	tables := find(doc, class("doses"))
	if len(tables) != 1 {
		t.Fatalf("%d cards on the page", len(tables))
	}
	rows := map[string]string{}
	for _, tr := range find(tables[0], tag("tr")) {
		rows[first(t, tr, "head", tag("th"))] = text(tr)
	}
	return rows
}

func wantRows(t *testing.T, doc *html.Node, want map[string]string) {
	t.Helper()
	rows := doseRows(t, doc)
	for head, words := range want {
		if !strings.Contains(rows[head], words) {
			t.Errorf("%s: %q, want %q in it (rows %q)", head, rows[head], words, rows)
		}
	}
}

// TestCardIsMeasured: exact dose, poured dose with its tool, and error, side by
// side. 1 qt = 946.353 mL; 2 lb in 100 gal is 907.185 g in 378.541 L; the oil is 1 %.
func TestCardIsMeasured(t *testing.T) {
	doc := site(t)["recipe/cold-oil.html"]
	wantRows(t, doc, map[string]string{
		"First water":                     "473.2 mL 16.0 fl oz 475 mL with 500 mL cylinder",
		"Dust 50 WP 2 lb/ac (2.24 kg/ha)": "2.27 g 0.080 oz 2.3 g with Kitchen scale +1.4 % Weigh it. Slurry first. Wait 5 min.",
		"Slick EC 1 gal/100 gal":          "9.46 mL 0.320 fl oz 9.4 mL with 10 mL syringe −0.7 % Slowly.",
		"Top up with water":               "462.0 mL 15.6 fl oz 460 mL with 500 mL cylinder makes 31.9 fl oz (944 mL)",
	})
	foot := first(t, doc, "foot of the card", class("card-foot"))
	// (2.3 ÷ 2.26796) × (946.353 ÷ 944.4) − 1 = 1.62 %, rounded up; 946.353 ÷ 0.75 = 1261.8.
	for _, want := range []string{"within 1.7 % of what was asked", "holds 1.27 L (1.34 qt) or more: 25 % of it stays free"} {
		if !strings.Contains(foot, want) {
			t.Errorf("no %q in %q", want, foot)
		}
	}
	record := find(doc, class("fill"))[0]
	if n := len(find(record, tag("td"))); n != 55 {
		t.Errorf("%d empty cells to fill in, want 11 rows of 5 times", n)
	}
}

// TestTooSmallADoseComesFromAStock: 1 lb in 100 gal is 0.599 g in 500 mL, which no
// scale of the office weighs. A stock of 2 g in 20 mL is drawn from instead.
func TestTooSmallADoseComesFromAStock(t *testing.T) {
	doc := site(t)["recipe/pinch.html"]
	wantRows(t, doc, map[string]string{
		"Dust 50 WP 1 lb/ac (1.12 kg/ha)": "0.599 g 0.021 oz 6.0 mL with 10 mL syringe of stock A holding 0.600 g of product +0.1 % Shake before drawing.",
		"Sour SL 1 pt/100 gal":            "0.625 mL 0.021 fl oz 0.6 mL with 3 mL syringe −4.0 %",
	})
	for what, want := range map[string]string{
		"card-note": "No tool at hand measures the dose of Dust 50 WP, 0.599 g. So it is drawn from a stock.",
		"stocks": "Make the stock first Stock A: Dust 50 WP, 1 in 10 Weigh 2.0 g of Dust 50 WP on the Kitchen scale and tip it into the 100 mL cylinder. " +
			"Fill with the jar's water to 20 mL, close and mix. Shake it before every draw. This jar takes 6 mL of it.",
		"card-head": "Jar of 500 mL (16.9 fl oz) · sprayed at 100 gal/ac (935 L/ha) · Water: Office well",
	} {
		if got := first(t, doc, what, class(what)); !strings.Contains(got, want) {
			t.Errorf("%s: no %q in %q", what, want, got)
		}
	}
	if got := doseRows(t, doc)["Dust 50 WP 1 lb/ac (1.12 kg/ha)"]; strings.Contains(got, "Weigh it") {
		t.Errorf("what is drawn from a stock is weighed again: %q", got)
	}
}

// TestWhatCannotBePouredSaysSo: without a cylinder there is no stock; a larger jar
// comes next, and where none passes the dose is not guessed.
func TestWhatCannotBePouredSaysSo(t *testing.T) {
	// Without a cylinder the water is filled to marks on the jar.
	noStock := func(b *mix.Book) {
		b.Tools = slices.DeleteFunc(b.Tools, func(t mix.Tool) bool { return t.Kind == mix.Cylinder })
	}
	for _, c := range []struct {
		why, note string
		change    func(*mix.Book)
		dust      string
	}{
		{"the next jar on the shelf is large enough", "So this card is for a jar of 2 qt (1.89 L); 500 mL (16.9 fl oz) was asked for.",
			func(b *mix.Book) { noStock(b); b.Site.Jars = append(b.Site.Jars, unit.Quart.Of(unit.Int(2))) }, "2.27 g 0.080 oz 2.3 g with Kitchen scale"},
		{"no jar on the shelf is", "Neither a stock nor a larger jar on the shelf helps. Do not guess the dose.", noStock, "0.599 g 0.021 oz no tool measures it"},
	} {
		b := book(t)
		c.change(b)
		doc := parsed(t, publish(t, inputs(t, b)))["recipe/pinch.html"]
		if got := first(t, doc, "note", class("card-note")); !strings.Contains(got, c.note) {
			t.Errorf("%s: %q", c.why, got)
		}
		wantRows(t, doc, map[string]string{"Dust 50 WP 1 lb/ac (1.12 kg/ha)": c.dust})
	}
}

func TestOfficeWithoutToolsShowsExactDosesAlone(t *testing.T) {
	b := book(t)
	b.Tools = nil
	doc := parsed(t, publish(t, inputs(t, b)))["recipe/cold-oil.html"]
	wantRows(t, doc, map[string]string{
		"Dust 50 WP 2 lb/ac (2.24 kg/ha)": "2.27 g 0.080 oz Weigh it.",
		"Top up with water":               "463.7 mL 15.7 fl oz to the mark at 1 qt (946 mL)",
	})
	if heads := find(find(doc, class("doses"))[0], func(n *html.Node) bool { return attr(n, "scope") == "col" }); len(heads) != 4 {
		t.Errorf("%d columns, want no pour and no error", len(heads))
	}
}

// TestOpeningRuleStandsOnEveryJar: known gas keeps the jar open, and a jar of which
// none is known is still opened with care.
func TestOpeningRuleStandsOnEveryJar(t *testing.T) {
	pages := site(t)
	for _, c := range []struct {
		page, want, never string
		hazard            bool
	}{
		{"recipe/lid-lesson.html", "It stays open: no fixed lid", "Turn it over", true},
		{"recipe/cold-oil.html", "that is no proof. Let it stand open for a minute", "no fixed lid", false},
		{"recipe/pinch.html", "One pair in it is untested. Nothing speaks for gas", "no fixed lid", false},
		{"es/recipe/lid-lesson.html", "Queda abierto: sin tapa fija", "Inviértalo", true},
	} {
		boxes := find(pages[c.page], class("opening-rule"))
		if len(boxes) != 1 {
			t.Errorf("%s: %d rules for opening", c.page, len(boxes))
			continue
		}
		if got := text(boxes[0]); !strings.Contains(got, c.want) || strings.Contains(got, c.never) || hasClass(boxes[0], "hazard") != c.hazard {
			t.Errorf("%s: %q", c.page, got)
		}
	}
}

// TestJarsToRunBeside: the same recipe in another share of the water, and with or
// without what hides or mends, each on a page of its own that leads back.
func TestJarsToRunBeside(t *testing.T) {
	b := book(t)
	b.Classes = append(b.Classes, mix.Class{ID: "calmer", Name: mix.Text{"en": "Calmer", "es": "Calmante"}, Suppresses: []mix.Symptom{mix.Foam}})
	for i := range b.Products {
		if b.Products[i].ID == "sour" {
			b.Products[i].Classes = append(b.Products[i].Classes, mix.Ref{ID: "calmer"})
		}
	}
	in := &b.Interactions[slices.IndexFunc(b.Interactions, func(in mix.Interaction) bool { return in.ID == "oil-with-powder" })]
	in.Mends = []mix.Mend{{Class: mix.Ref{ID: "carbonate"}, To: mix.Clean, How: mix.Text{"en": "It keeps them apart."}}}
	pages := parsed(t, publish(t, inputs(t, b)))
	for _, c := range []struct{ page, want, why string }{
		{"recipe/cold-oil--crowded.html", "Oil on powder: crowded fill, 25 % of the water", "the same doses in a quarter of the water"},
		{"recipe/lid-lesson--full-water.html", "The lesson of the lid: full water", "what was written as crowded is run in full water"},
		{"recipe/pinch--without-sour.html", "A pinch of powder: without Sour SL", "without what hides the foam"},
		{"recipe/cold-oil--with-fizz.html", "Oil on powder: with Fizz 80 SP", "with what a source names as a mend"},
	} {
		doc := pages[c.page]
		if doc == nil {
			t.Errorf("no %s: %s", c.page, c.why)
			continue
		}
		if got := first(t, doc, "heading", tag("h1")); got != c.want {
			t.Errorf("%s is headed %q", c.page, got)
		}
		base, _, _ := strings.Cut(c.page, "--")
		if got := text(find(pages[base+".html"], class("beside"))[0]); !strings.Contains(strings.ToLower(got), strings.ToLower(c.want[strings.Index(c.want, ":")+2:])) {
			t.Errorf("%s.html does not lead to %s: %q", base, c.page, got)
		}
	}
	wantRows(t, pages["recipe/cold-oil--with-fizz.html"], map[string]string{"Fizz 80 SP 2.5 lb/ac (2.8 kg/ha)": "2.83 g"})
	if rows := doseRows(t, pages["recipe/pinch--without-sour.html"]); len(rows) != 5 {
		t.Errorf("rows %q, want two products, two waters and the head", rows)
	}
	if pages["recipe/lid-lesson--without-sour.html"] != nil {
		t.Error("one product alone is offered as a pair")
	}
}

// TestRecordWordsAreThoseOfTheData: what is written on paper is typed back without
// translation.
func TestRecordWordsAreThoseOfTheData(t *testing.T) {
	set, _ := message.Load(templates.FS)
	n := 0
	for _, key := range set["en"].Keys() {
		if word, ok := strings.CutPrefix(key, "word."); ok {
			n++
			if got := set["en"].T(key); got != word {
				t.Errorf("%s reads %q in English", word, got)
			}
		}
	}
	if n != 12 {
		t.Errorf("%d words, want those of extents, gas, redispersal and residue", n)
	}
	for _, word := range ticksOfData() {
		if !set["en"].Has("word." + word) {
			t.Errorf("no box for %q", word)
		}
	}
}

func ticksOfData() []string {
	var words []string
	for e := mix.None; e <= mix.Heavy; e++ {
		words = append(words, e.String())
	}
	for g := mix.NoGas; g <= mix.Vented; g++ {
		words = append(words, g.String())
	}
	for r := mix.Fully; r <= mix.NotAtAll; r++ {
		words = append(words, r.String())
	}
	for r := mix.NoResidue; r <= mix.Stays; r++ {
		words = append(words, r.String())
	}
	return words
}

func TestTroubleIsToldInThePagesLanguage(t *testing.T) {
	b := book(t)
	b.Recipes[0].SprayVolume = unit.SprayVolume{}
	pages := parsed(t, publish(t, inputs(t, b)))
	if got := text(find(pages["es/recipe/cold-oil.html"], tag("main"))[0]); !strings.Contains(got, "falta el volumen de aplicación") {
		t.Errorf("no reason in Spanish: %q", got)
	}
}

// TestGasOfARecipe works the bound of a jar's gas by hand. 5 lb/ac in a quart of 100
// gal/ac is 5.670 g, of which 80 % is potassium bicarbonate, 100.115 g/mol: 0.04531
// mol, 1.108 L at 25 °C and one atmosphere, 4.65 times the 238.4 mL in the jar. In a
// closed vessel of 320 mL it shares itself between 81.6 mL, 3.29e-8 mol/Pa, and the
// liquid, 7.9e-8 mol/Pa by Henry's law (Sander, 3.3e-4 mol/m³/Pa): 405 kPa. All are
// rounded up to two digits.
func TestGasOfARecipe(t *testing.T) {
	files := site(t)
	doc := files["recipe/lid-lesson.html"]
	got := first(t, doc, "bound of gas", class("gas-bound"))
	for _, want := range []string{"up to 0.3 gal (1.2 L) of carbon dioxide, 4.7 times the liquid", "up to 60 psi (410 kPa) above the start, at 77 °F (25 °C)",
		"This never clears a mix."} {
		if !strings.Contains(got, want) {
			t.Errorf("no %q in %q", want, got)
		}
	}
	if boxes := find(files["recipe/cold-oil.html"], class("gas-bound")); len(boxes) != 0 {
		t.Error("a jar without a carbonate has a bound of gas")
	}
}
