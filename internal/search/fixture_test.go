package search_test

import (
	"os"
	"path/filepath"
	"strings"
	"testing"

	"tankleaf.example/internal/search"
)

// fixture is a small site: what each document is there for stands in its name.
var fixture = []search.Document{
	{ID: "24d", Path: "products/24d.html", Kind: "product", Title: "2,4-D amine 4", Names: []string{"2,4-D dimethylamine", "24d"},
		Summary: "Growth regulator herbicide, a weak acid.", Body: "Formulation SL. 1 to 2 pt/ac. Hard water ties it up; add ammonium sulfate first."},
	{ID: "glyphosate", Path: "products/glyphosate.html", Kind: "product", Title: "Glyphosate potassium 5.5", Names: []string{"glyphosate"},
		Summary: "Burndown herbicide.", Body: "Formulation SL. 16 to 32 fl oz/ac. Do not mix with zinc before a jar test."},
	{ID: "smoc", Path: "products/s-metolachlor.html", Kind: "product", Title: "S-metolachlor 7.62",
		Summary: "Pre-emergence herbicide.", Body: "Formulation EC. 1 to 1.67 pt/ac."},
	{ID: "sulfur", Path: "products/sulfur.html", Kind: "product", Title: "Wettable sulfur 80",
		Summary: "Fungicide, dry.", Body: "Formulation WG. 3 to 10 lb/ac. Never with oil."},
	{ID: "uan", Path: "products/uan.html", Kind: "product", Title: "UAN 28-0-0",
		Summary: "Liquid nitrogen fertilizer and carrier.", Body: "Density 10.66 lb/gal. Check before mixing glyphosate in it."},
	{ID: "nis", Path: "products/nis.html", Kind: "product", Title: "Nonionic surfactant 90",
		Summary: "Adjuvant.", Body: "Use 0.25 % v/v. Foams when it is added first."},
	{ID: "order", Path: "sheets/order.html", Kind: "sheet", Title: "Order of addition",
		Summary: "What goes into the tank first, and why.", Body: "Water first, then dry products such as WG and DF, then SL and EC, the surfactant last. Wait until each is dispersed."},
	{ID: "foam", Path: "sheets/foam.html", Kind: "sheet", Title: "Foam in the tank",
		Summary: "Surfactants foam; some mixtures foam for another reason.", Body: "A carbonate with an acid gives off gas. That is not foam, and a defoamer does not stop it."},
	{ID: "water", Path: "sheets/water.html", Kind: "sheet", Title: "Spray water",
		Summary: "Hardness, pH and bicarbonate.", Body: "Ammonium sulfate helps 2,4-D and glyphosate in hard water. Not every product minds CO₂ or bicarbonate."},
	{ID: "agua", Path: "es/sheets/agua.html", Kind: "sheet", Lang: "es", Title: "Agua de aspersión",
		Summary: "Dureza, pH y bicarbonato.", Body: "No mezcle el herbicida antes de probar el agua en un frasco. Las aguas duras atan los ácidos débiles."},
	{ID: "orden", Path: "es/sheets/orden.html", Kind: "sheet", Lang: "es", Title: "Orden de adición",
		Summary: "Qué entra primero en el tanque.", Body: "Primero el agua, después los polvos mojables, los aceites al final."},
}

// fixtureOptions are the data that an index is given.
func fixtureOptions(lang string) search.Options {
	return search.Options{
		Lang: lang, Kinds: []string{"product", "sheet"},
		Same:       [][]string{{"AMS", "ammonium sulfate"}, {"wettable powder", "WP"}},
		Misspelled: map[string]string{"glyfosate": "glyphosate", "2-4-D": "2,4-D"},
	}
}

// openFixture returns the fixture's index in a language.
func openFixture(t testing.TB, opt search.Options) *search.Index {
	t.Helper()
	return open(t, fixture, opt)
}

func open(t testing.TB, docs []search.Document, opt search.Options) *search.Index {
	t.Helper()
	files, err := search.Export(docs, opt)
	if err != nil {
		t.Fatal(err)
	}
	ix, err := search.Open(files)
	if err != nil {
		t.Fatal(err)
	}
	return ix
}

// realDocuments cuts the demo office's sheets and data into documents: a
// heading's section, or a record of a list, is one.
func realDocuments(t testing.TB) []search.Document {
	t.Helper()
	var docs []search.Document
	for _, pattern := range []string{"content/*/*.md", "data/*.yaml", "data/*/*.yaml", "data/*/*/*.yaml"} {
		names, err := filepath.Glob("../../" + pattern)
		if err != nil {
			t.Fatal(err)
		}
		for _, name := range names {
			text, err := os.ReadFile(name)
			if err != nil {
				t.Fatal(err)
			}
			docs = append(docs, sections(strings.TrimPrefix(name, "../../"), string(text))...)
		}
	}
	if len(docs) < 300 {
		t.Fatalf("%d documents from the demo office, want 300 or more", len(docs))
	}
	return docs
}

func sections(name, text string) []search.Document {
	cut := "\n## "
	if strings.HasSuffix(name, ".yaml") {
		cut = "\n- "
	}
	var docs []search.Document
	for i, part := range strings.Split(text, cut) {
		title, body, _ := strings.Cut(part, "\n")
		kind, _, _ := strings.Cut(name, "/")
		id := name + "#" + string(rune('a'+i%26)) + strings.Repeat("'", i/26)
		docs = append(docs, search.Document{ID: id, Path: id, Kind: kind, Title: title, Body: body})
	}
	return docs
}
