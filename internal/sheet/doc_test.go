package sheet_test

import (
	"go/parser"
	"go/token"
	"slices"
	"strings"
	"testing"
	"testing/fstest"

	"github.com/google/go-cmp/cmp"

	"tankleaf.example/internal/diag"
	"tankleaf.example/internal/mix"
	"tankleaf.example/internal/sheet"
	"tankleaf.example/internal/unit"
)

// book is the small dataset that the tests' sheets speak of.
func book() *mix.Book {
	b := &mix.Book{Site: mix.Site{Languages: []mix.Lang{"en", "es"}, Published: mix.Date{Year: 2026, Month: 11, Day: 20}}}
	for _, id := range []mix.ID{"carbonate", "acidic-material", "sulfur", "oil", "copper", "captan"} {
		b.Classes = append(b.Classes, mix.Class{ID: id})
	}
	for _, id := range []mix.ID{"brindle-kb", "tarn-lower"} {
		b.Products = append(b.Products, mix.Product{ID: id})
	}
	b.Sources = []mix.Source{{ID: "k2co3-p"}, {ID: "uc-81"}}
	b.Observations = []mix.Observation{{ID: "qv-2026-014"}}
	b.Recipes = []mix.Recipe{{ID: "first-jar"}}
	b.Investigations = []mix.Investigation{{ID: "hissing-lids"}}
	b.Notices = []mix.Notice{{ID: "no-lime-sulfur"}}
	b.Places = []mix.Place{{ID: "upper-quillback"}}
	b.Crops = []mix.Crop{{ID: "apple"}}
	b.Waters = []mix.WaterSource{{ID: "office-well", Hardness: mix.Known(unit.Int(310)), PH: mix.Known(unit.Frac(78, 10)),
		Bicarbonate: mix.Known(unit.Int(280))}}
	return b
}

const head = "---\ntitle: A sheet\nsummary: What it says.\ntopic: water\nclasses: [sulfur]\nauthor: office specialist\n" +
	"reviewed: 2026-05-12\nreview_by: 2027-05-12\nlanguage: en\n---\n"

// headLines is how many lines stand before a body in the tests.
var headLines = strings.Count(head, "\n")

func load(files map[string]string) ([]*sheet.Sheet, diag.List) {
	fsys := fstest.MapFS{}
	for name, text := range files {
		fsys[name] = &fstest.MapFile{Data: []byte(text)}
	}
	return sheet.Load(fsys, book())
}

// fine reads one sheet with the given body and fails on any problem.
func fine(t *testing.T, body string) *sheet.Sheet {
	t.Helper()
	sheets, problems := load(map[string]string{"content/a.md": head + body})
	if len(problems) > 0 || len(sheets) != 1 {
		t.Fatalf("%d sheets, problems:\n%s", len(sheets), problems)
	}
	return sheets[0]
}

// examples returns the indented examples of the package comment that start with
// the given line.
func examples(t *testing.T, start string) []string {
	t.Helper()
	f, err := parser.ParseFile(token.NewFileSet(), "doc.go", nil, parser.ParseComments)
	if err != nil {
		t.Fatal(err)
	}
	var all []string
	for _, part := range strings.Split(f.Doc.Text(), "\n\n") {
		if strings.HasPrefix(part, "\t"+start) {
			all = append(all, strings.ReplaceAll(strings.TrimPrefix(part, "\t"), "\n\t", "\n")+"\n")
		}
	}
	return all
}

// TestEveryExampleOfTheGrammarIsRead keeps the package comment true: each of its
// blocks is read, and every kind of block has at least one.
func TestEveryExampleOfTheGrammarIsRead(t *testing.T) {
	blocks := examples(t, "```")
	var got []string
	for _, text := range blocks {
		s := fine(t, text)
		if strings.HasPrefix(text, "```yaml") {
			continue
		}
		if len(s.Blocks) != 1 {
			t.Fatalf("no block in\n%s", text)
		}
		got = append(got, strings.Fields(strings.TrimPrefix(text, "```"))[0])
	}
	want := []string{"matrix", "verdict", "recipe", "recipe", "observation", "source", "caution"}
	if diff := cmp.Diff(want, got); diff != "" {
		t.Errorf("blocks of the package comment (-want +got):\n%s", diff)
	}
}

func TestExampleOfFrontMatterIsRead(t *testing.T) {
	all := examples(t, "---")
	if len(all) != 1 {
		t.Fatalf("%d examples of front matter, want 1", len(all))
	}
	sheets, problems := load(map[string]string{"content/a.md": all[0] + "```caution\nhazard: pressure\n```\n"})
	if len(problems) > 0 {
		t.Fatal(problems.String())
	}
	s := sheets[0]
	if s.Topic != sheet.Hazards || !slices.Equal(s.Also, []string{"fizzing", "lid blew off"}) || s.Order != 1 || s.Author != "office specialist" || s.ReviewBy.String() != "2027-05-12" {
		t.Errorf("read %+v", s)
	}
}
