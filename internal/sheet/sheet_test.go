package sheet_test

import (
	"strings"
	"testing"
	"testing/fstest"
	"time"

	"github.com/google/go-cmp/cmp"
	"pgregory.net/rapid"

	"tankleaf.example/internal/diag"
	"tankleaf.example/internal/mix"
	"tankleaf.example/internal/sheet"
)

func TestPassages(t *testing.T) {
	s := fine(t, "Before *all*.\n\n## Lids & jars\n\nThey \"hissed\" — `a < b` [oil](class:oil).\nTwo lines[^1].\n\n- one\n- two\n\n"+
		"| x | y |\n|---|---|\n| 1 | 2 |\n\n```caution\nhazard: pressure\n```\n\n### Foam\n\n```text\nlisting\n```\n\n[^1]: A note.\n")
	want := []sheet.Passage{
		{Text: "Before all."},
		{Heading: "Lids & jars", Anchor: "sheet-lids-jars", Text: "They “hissed” — a < b oil. Two lines.\none\ntwo\nx\ny\n1\n2"},
		{Heading: "Foam", Anchor: "sheet-foam", Text: "A note."},
	}
	if diff := cmp.Diff(want, s.Passages); diff != "" {
		t.Errorf("-want +got:\n%s", diff)
	}
}

func TestAnchors(t *testing.T) {
	s := fine(t, "## Foam\n\n## Foam\n\n## Foam 2\n\n## ¿Qué pasó en España?\n\n## 北\n\n## !?\n\n## Don't *shake*\n\n## "+strings.Repeat("a b ", 60)+"\n")
	var got []string
	for _, h := range s.Headings {
		got = append(got, strings.TrimPrefix(h.Anchor, sheet.AnchorPrefix))
	}
	want := []string{"foam", "foam-2", "foam-2-2", "que-paso-en-espana", "北", "section", "dont-shake", strings.TrimSuffix(strings.Repeat("a-b-", 30), "-")}
	if diff := cmp.Diff(want, got); diff != "" {
		t.Errorf("-want +got:\n%s", diff)
	}
}

// TestAnchorsAreUnique draws headings from few words, so that they collide.
func TestAnchorsAreUnique(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		words := rapid.SliceOfN(rapid.SampledFrom([]string{"a", "a 2", "A", "a-2", "2", "!"}), 1, 20).Draw(t, "headings")
		sheets, problems := load(map[string]string{"content/a.md": head + "## " + strings.Join(words, "\n\n## ") + "\n"})
		if len(problems) > 0 {
			t.Fatal(problems.String())
		}
		seen := map[string]bool{}
		for _, h := range sheets[0].Headings {
			if seen[h.Anchor] || !strings.HasPrefix(h.Anchor, sheet.AnchorPrefix) {
				t.Fatalf("anchor %q in %v", h.Anchor, sheets[0].Headings)
			}
			seen[h.Anchor] = true
		}
	})
}

func TestOverdue(t *testing.T) {
	s := fine(t, "Text.\n") // review_by 2027-05-12
	for _, c := range []struct {
		on   string
		want bool
		why  string
	}{
		{"2027-05-11", false, "the day before"},
		{"2027-05-12", false, "the day itself is in time"},
		{"2027-05-13", true, "the day after"},
	} {
		on, _ := mix.ParseDate(c.on)
		if got := s.Overdue(on); got != c.want {
			t.Errorf("%s: got %v", c.why, got)
		}
	}
}

func TestBlocks(t *testing.T) {
	s := fine(t, "```verdict\nmix: [brindle-kb, tarn-lower]\nsituation: {water: office-well, ph: 6.5, temperature: 50 °F, water_share: 25 %,\n"+
		"  standing: 2 h, vessel: closed, crop: apple, order: [tarn-lower, brindle-kb]}\n```\n\n"+
		"```recipe\ntitle: Crowded\nproducts: [{product: brindle-kb, rate: 5 lb/ac}]\njar: 1 qt\nspray_volume: 100 gal/ac\n```\n")
	v := s.Blocks[0].(*sheet.VerdictBlock)
	sit := v.Situation
	got := []string{sit.Hardness.N.Fixed(0), sit.PH.N.Fixed(1), sit.WaterTemp.N.Fixed(0), sit.WaterShare.N.Fixed(2), sit.Standing.N.Fixed(0), sit.Vessel, string(sit.Crop)}
	if diff := cmp.Diff([]string{"310", "6.5", "10", "0.25", "120", "closed", "apple"}, got); diff != "" {
		t.Errorf("situation: a measured water fills in what is not written (-want +got):\n%s", diff)
	}
	if diff := cmp.Diff([]mix.ID{"tarn-lower", "brindle-kb"}, sit.Order); diff != "" || !v.Given {
		t.Errorf("order: %s", diff)
	}
	if want := (diag.Pos{File: "content/a.md", Line: headLines + 1, Col: 1}); v.Pos() != want {
		t.Errorf("block at %v, want %v", v.Pos(), want)
	}
	r := s.Blocks[1].(*sheet.RecipeBlock).Recipe
	if title, _ := r.Title.In("en", "en"); title != "Crowded" || !r.WaterShare.IsInt() || r.Products[0].Rate.String() != "5 lb/ac" {
		t.Errorf("recipe read as %+v", r)
	}
	var links []string
	for _, l := range s.Links {
		links = append(links, l.To.String()+":"+string(l.ID))
	}
	if diff := cmp.Diff([]string{"product:brindle-kb", "product:tarn-lower", "water:office-well", "crop:apple", "product:brindle-kb"}, links); diff != "" {
		t.Errorf("blocks are mentions too (-want +got):\n%s", diff)
	}
}

func TestHazards(t *testing.T) {
	block := func(h string) string { return "```caution\nhazard: " + h + "\n```\n\n" }
	s := fine(t, block("heat")+block("pressure")+block("heat"))
	if diff := cmp.Diff([]mix.Hazard{mix.HotMix, mix.Pressure}, s.Hazards()); diff != "" {
		t.Error(diff)
	}
}

// TestRefusedBlockIsNotDrawn holds the invariant that half a block is no block.
func TestRefusedBlockIsNotDrawn(t *testing.T) {
	sheets, problems := load(map[string]string{"content/a.md": head + "```verdict\nmix: [sulfur, oil]\nnot: x\n```\n\nText.\n"})
	if !problems.Stops() || len(sheets[0].Blocks) != 0 || body(t, sheets[0]) != "<p>Text.</p>\n" {
		t.Errorf("drawn as %q, problems %s", body(t, sheets[0]), problems)
	}
}

func TestNoContentIsNoProblem(t *testing.T) {
	if sheets, problems := sheet.Load(fstest.MapFS{"data/site.yaml": {}}, &mix.Book{}); len(sheets)+len(problems) > 0 {
		t.Errorf("%v, %v", sheets, problems)
	}
}

func TestOrderOfFilesChangesNothing(t *testing.T) {
	files := map[string]string{}
	for _, n := range []string{"z", "a", "m"} {
		files["content/"+n+".md"] = head + "[x](class:nothing)\n"
	}
	_, want := load(files)
	for range 5 {
		if _, got := load(files); got.String() != want.String() {
			t.Fatal("problems come in another order")
		}
	}
}

// TestHostileSizes bounds what a bad file can cost. The limit is generous: the
// point is that nothing is quadratic in a whole sheet.
func TestHostileSizes(t *testing.T) {
	fill := func(s string) string { // lines of legal length up to the size limit
		line := strings.Repeat(s, 3900/len(s)) + "\n"
		return strings.Repeat(line, 250_000/len(line))
	}
	for _, c := range []struct{ why, body string }{
		{"open brackets", fill("[")}, {"brackets and parentheses", fill("[a](")}, {"images", fill("![")}, {"footnotes", fill("[^a")},
		{"emphasis", fill("*a **a ")}, {"quotations", fill("> ")}, {"list markers", fill("+ ")}, {"backticks", fill("`a``")},
		{"entities", fill("&amp")}, {"tags", fill("<a ")}, {"table rows", "|a|\n|-|\n" + fill("|a")}, {"links", fill("[a](class:oil) ")},
		{"unknown links", fill("[a](class:oyl) ")}, {"references", fill("[a]: b ")}, {"fences", strings.Repeat("```caution\nhazard: heat\n```\n", 8000)},
		{"headings", strings.Repeat("## a\n\n", 30_000)},
	} {
		start := time.Now()
		sheets, _ := load(map[string]string{"content/a.md": head + c.body})
		for _, s := range sheets {
			body(t, s)
		}
		took := time.Since(start)
		t.Logf("%s: %v", c.why, took)
		if took > 10*time.Second {
			t.Errorf("%s: took %v", c.why, took)
		}
	}
}

func TestTooLargeIsRefused(t *testing.T) {
	_, problems := load(map[string]string{"content/a.md": head + strings.Repeat("Mix.\n", 60_000)})
	if len(problems) != 1 || !strings.Contains(problems[0].Msg, "larger than 256 KiB") {
		t.Errorf("got %s", problems)
	}
}
