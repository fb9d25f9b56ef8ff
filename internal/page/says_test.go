package page_test

import (
	"strings"
	"testing"

	"golang.org/x/net/html"

	"tankleaf.example/internal/mix"
	"tankleaf.example/internal/unit"
)

// TestPagesSay reads what each kind of page must tell, in words.
func TestPagesSay(t *testing.T) {
	pages := site(t)
	for _, c := range []struct{ page, want, why string }{
		{"classes.html", "Acids and carbonates Acid 1 product Carbonate 1 product Mild acid 1 product", "classes by group, then name, with their products"},
		{"class/acid.html", "Kinds of it Mild acid", "a class names what lies below it"},
		{"class/mild-acid.html", "A kind of Acid", "and what lies above it"},
		{"class/acid.html", "Also called sour", "other names"},
		{"class/acid.html", "Law and label No oil with acid in the upper end", "notices that name the class"},
		{"class/acid.html", "Read more Hazards Why lids hiss", "sheets that speak of it"},
		{"class/powder.html", "By formulation WP, wettable powder", "codes that belong here by themselves"},
		{"class/carbonate.html", "Never together Acid Gas builds pressure under a lid.", "partners with what happens"},
		{"products.html", "D Dust 50 WP WP Powder F Fizz 80 SP SP potassium bicarbonate", "products by letter, with what is in them"},
		{"products.html", "By crop Apple Dust 50 WP , Fizz 80 SP , Slick EC , Sour SL", "products by crop"},
		{"products.html", "By purpose Mildew Dust 50 WP , Fizz 80 SP", "products by purpose"},
		{"product/dust.html", "Apple Bloom Mildew 1 to 2 lb/ac", "uses with the product's own rate"},
		{"product/dust.html", "Apple Fall Mildew 1 lb/ac (1.12 kg/ha)", "and with a rate of their own"},
		{"product/sour.html", "Density 10.01 lb/gal (1.2 g/mL)", "density in both systems"},
		{"product/sour.html", "Concentrate. The concentrate harms", "hazards of handling come first"},
		{"product/dust.html", "Jar recipes Oil on powder", "recipes that hold it"},
		{"product/fizz.html", "Fizz by itself 2026-05-13 · Jar test fb-2", "observations that hold it"},
		{"product/slick.html", "Standing in the tank Half-lives as each source gives them.", "how long its actives last"},
		{"product/slick.html", "This gives no leave to let a mix stand.", "which is no permission"},
		{"product/slick.html", "pH 5: over 31 d pH 7: 8 h pH 9: 10 min in water at 77 °F (25 °C) Fernbrook Test Office 2026 (Bulletin) 2 The page prints the constant in the wrong unit.", "a source with its figures and what is wrong with it"},
		{"product/slick.html", "no number given Fernbrook Test Office 2026 (Bulletin) 2 Fast in base.", "a source without numbers"},
		{"product/slick.html", "Sources disagree: at pH 7 from 1 h to 8 h.", "sources that quarrel"},
		{"product/slick.html", "Oils last.", "what is said of its class"},
		{"class/oil.html", "testphos over 31 d 1 h to 8 h 10 min", "the spread of each active"},
		{"standing.html", "testphos Held by Slick EC", "all actives, and what holds them"},
		{"es/product/slick.html", "Esto no es permiso para dejar reposar una mezcla.", "no permission in Spanish either"},
		{"together/oil--powder.html", "Slurry the powder first Add the oil last", "steps stand in the answer"},
		{"together/oil--powder.html", "Depends on a condition: water temperature under 10 °C.", "so does its condition"},
		{"together/oil--powder.html", "Prove it in a jar with your own water first.", "a jar is advised where nobody is in danger"},
		{"together/acid--oil.html", "Holds only in Upper end.", "a rule of one district says where it holds"},
		{"together/acid--carbonate.html", "Another view One old bulletin calls it safe.", "who disagrees is told"},
		{"interactions.html", "Instead Leave one of them out. Oil", "an interaction with its advice"},
		{"interactions.html", "Shows as gas and foam", "and its symptoms"},
		{"notices.html", "Law Forbids the mix Never together No oil with acid in the upper end", "a notice with basis, effect and verdict"},
		{"sources.html", "Rests on it: carbonate-with-acid", "a source with what rests on it"},
		{"sources.html", "Common practice, no source.", "what has no source says so"},
		{"recipes.html", "Oil on powder Dust 50 WP and Slick EC 1 qt (946 mL) Mix with steps 2 doubts", "a recipe with its verdict and doubts"},
		{"recipe/cold-oil.html", "Goes in with: Dry products", "why a product goes in where it does"},
		{"recipe/cold-oil.html", "Add the oil last", "the steps of a mix that needs them"},
		{"observations.html", "Investigations The lids Which of the two hisses? 2 observations · opened May 1, 2026", "investigations before single records"},
		{"observations.html", "A tank nobody looked into 2026-05-14 · Field report fb-3", "a field report says that it is one"},
		{"investigation/lids.html", "What the office concluded Both together do.", "the office's own conclusion"},
		{"investigation/lids.html", "What the records say Gas Narrowed to 2 From Sour SL by itself, or from Fizz 80 SP with Sour SL.", "beside what the records say"},
		{"investigation/lids.html", "Next jar Sour SL Its result divides what is still possible best; it reacts with a chance of 50 %. If it reacts, it comes from Sour SL by itself.", "the jar that comes next"},
		{"investigation/lids.html", "It may react. Never under a tight lid", "with care where gas is about"},
		{"investigation/lids.html", "It reacted Fizz 80 SP and Sour SL Because of Sour SL by itself Fizz 80 SP with Sour SL Quiet, so not because of Fizz 80 SP by itself fb-2", "what can be, and what was ruled out by which jar"},
		{"investigation/lids.html", "What is still open The dose.", "what is open"},
		{"es/investigation/lids.html", "El próximo frasco Sour SL", "the next jar in Spanish"},
		{"investigation/lids.html", "fb-1 2026-05-12 gas in in The pair Reacted: gas. fb-2 2026-05-13 quiet in not in Fizz by itself Looked for and not seen: gas and flakes.", "who was in, and what happened"},
		{"verdicts.html", "Foam A head of 10 % counts. 1 Mix with steps", "criteria with their sources"},
		{"safety.html", "Handling concentrate Wear gloves.", "all cautions"},
		{"data.html", "Office well 1 Upper end 310 7.8 not recorded March 2, 2026", "measured waters; what was not measured says so"},
		{"404.html", "Go to the start page", "a way on"},
		{"es/product/fizz.html", "Nunca con Sour SL", "the band in Spanish"},
		{"es/matrix.html", "Condición: temperatura del agua de menos de 10 °C.", "conditions in Spanish"},
		{"es/observation/fb-3.html", "No se anotó el orden en que entraron.", "what was not recorded, in Spanish"},
		{"es/unknown.html", "Manzano 3 3", "counts in Spanish"},
	} {
		doc := pages[c.page]
		if doc == nil {
			t.Errorf("no page %s", c.page)
			continue
		}
		if got := text(find(doc, tag("main"))[0]); !strings.Contains(got, c.want) {
			t.Errorf("%s: %s: no %q in\n%s", c.page, c.why, c.want, got)
		}
	}
}

// TestPagesDoNotSay looks for what must not be read on a page.
func TestPagesDoNotSay(t *testing.T) {
	pages := site(t)
	for _, c := range []struct{ page, never, why string }{
		{"together/acid--carbonate.html", "Prove it in a jar", "nobody is sent to try what builds pressure"},
		{"observation/fb-3.html", "Looked for and not seen", "a tank nobody looked into is not clear"},
		{"observation/fb-2.html", "Mixed cleanly", "one product alone has not mixed with anything"},
		{"product/sour.html", "Mixed cleanly", "no evidence of clean mixes exists"},
		{"recipe/cold-oil.html", "Mixed cleanly", "a mix that needs steps"},
	} {
		if got := text(find(pages[c.page], tag("main"))[0]); strings.Contains(got, c.never) {
			t.Errorf("%s says %q: %s", c.page, c.never, c.why)
		}
	}
	if got := text(find(pages["matrix.html"], class("matrix"))[0]); strings.Contains(got, "Mild acid") {
		t.Error("the matrix prints a class that is not marked for print")
	}
}

func TestFieldReportIsNotDrawn(t *testing.T) {
	pages := site(t)
	drawn := func(page string) int {
		return len(find(pages[page], func(n *html.Node) bool { return n.Data == "svg" && attr(n, "role") == "img" }))
	}
	if drawn("observation/fb-3.html") != 0 || drawn("observation/fb-2.html") != 1 {
		t.Error("a tank is drawn as a jar, or a jar is not drawn")
	}
}

func TestLeadIsTheStoryOfDanger(t *testing.T) {
	b := book(t)
	b.Investigations = append([]mix.Investigation{{ID: "a-newer-one", Title: mix.Text{"en": "Harmless and newer"},
		Opened: mix.Date{Year: 2026, Month: 6, Day: 1}}}, b.Investigations...)
	doc := parsed(t, publish(t, inputs(t, b)))["index.html"]
	if got := first(t, doc, "story", class("story")); !strings.Contains(got, "The lids") {
		t.Errorf("the lead is %q", got)
	}
	if n := len(find(find(doc, class("story"))[0], tag("svg"))); n != 1 {
		t.Errorf("%d drawings beside the lead, want the jar with firm walls", n)
	}
	b.Investigations = nil
	for i := range b.Observations {
		b.Observations[i].Investigation = mix.Ref{}
	}
	in := inputs(t, book(t))
	in.Index = mix.NewIndex(b)
	in.Sheets = nil
	if got := find(parsed(t, publish(t, in))["index.html"], class("story")); len(got) != 0 {
		t.Error("an office without investigations has a lead story")
	}
}

func TestRecipeThatCannotBeWorkedOutSaysWhy(t *testing.T) {
	b := book(t)
	b.Recipes[0].Jar = unit.Volume{}
	doc := parsed(t, publish(t, inputs(t, b)))["recipe/cold-oil.html"]
	if got := text(find(doc, tag("main"))[0]); !strings.Contains(got, "This jar cannot be worked out:") {
		t.Error("a recipe without a jar does not say why there are no doses")
	}
	if len(find(doc, class("doses"))) != 0 {
		t.Error("doses are shown for a jar that cannot be worked out")
	}
}

func TestCrowdedFillSaysSo(t *testing.T) {
	b := book(t)
	b.Recipes[0].WaterShare = unit.Frac(1, 4)
	doc := parsed(t, publish(t, inputs(t, b)))["recipe/cold-oil.html"]
	// A quarter of the water beside the same doses: (946.353 - 9.464) / 4 + 9.464 mL.
	if got := first(t, doc, "card head", class("card-head")); !strings.Contains(got, "crowded fill: 25 % of the water") || !strings.Contains(got, "(244 mL) in the jar") {
		t.Errorf("got %q", got)
	}
}

func TestRateOffTheLabelIsMarked(t *testing.T) {
	b := book(t)
	rate, err := unit.ParseRate("9 lb/ac")
	if err != nil {
		t.Fatal(err)
	}
	b.Recipes[0].Products[0].Rate = rate
	doc := parsed(t, publish(t, inputs(t, b)))["recipe/cold-oil.html"]
	if got := first(t, doc, "warning", class("warn")); got != "Above the label's range, 1 to 2 lb/ac" {
		t.Errorf("got %q", got)
	}
}

func TestMetricOfficeShowsMetricFirst(t *testing.T) {
	b := book(t)
	b.Site.Metric = true
	pages := parsed(t, publish(t, inputs(t, b)))
	if got := text(pages["observation/fb-1.html"]); !strings.Contains(got, "15 °C (59 °F)") || !strings.Contains(got, "946 mL (1 qt)") {
		t.Error("a metric office does not show metric units first")
	}
}

func TestOneLanguageNeedsNoSwitch(t *testing.T) {
	in := office(t)
	in.Index.Book().Site.Languages = []mix.Lang{"en"}
	files := publish(t, in)
	for name := range files {
		if strings.HasPrefix(name, "es/") {
			t.Fatalf("%s in an office of one language", name)
		}
	}
	if strings.Contains(string(files["index.html"]), "hreflang") {
		t.Error("a page in one language offers another")
	}
}

func TestOfficeWithoutDemonstrationHasNoBanner(t *testing.T) {
	b := book(t)
	b.Site.Demonstration = nil
	files := publish(t, inputs(t, b))
	if strings.Contains(string(files["index.html"]), "data-demonstration") || strings.Contains(string(files["print-en.css"]), "Demonstration") {
		t.Error("real data is called a demonstration")
	}
}
