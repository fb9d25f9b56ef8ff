package search_test

import (
	"strings"
	"testing"
	"unicode/utf8"
)

// FuzzQuery asks the fixture anything. Nothing panics; what is found is a document
// of the index in the kind asked for, better ones first; and the same words mean
// the same again, whatever blanks stand before them.
func FuzzQuery(f *testing.F) {
	for _, q := range []string{"", " ", "glyphosate", "2,4-D", `"hard water"`, `"`, `""`, `"order of`, "glyfosate zinc", "aguas duras",
		"10 fl oz/ac", "CO₂", "s-metolachlor 7.62", "wettable powder", "the", "the the the", "ÄÖÜ ß İ ſ", "日本語", "a\u0301", "\u202eretaw",
		"x\x00y", "\xff\xfe", "-", "'''", strings.Repeat("water ", 400), strings.Repeat("z", 5000), "AMS AMS ams", "“order” ‘of’"} {
		f.Add(q, "")
		f.Add(q, "sheet")
	}
	ix := openFixture(f, fixtureOptions("en"))
	paths := map[string]string{}
	for _, d := range fixture {
		paths[d.Path] = d.Kind
	}
	f.Fuzz(func(t *testing.T, query, kind string) {
		a := ix.Find(query, kind, 5)
		for i, r := range a.Results {
			if k, known := paths[r.Path]; !known || k != r.Kind || kind != "" && kind != k {
				t.Fatalf("%q in %q finds %+v", query, kind, r)
			}
			if r.Words > a.Words || i > 0 && r.Words > a.Results[i-1].Words {
				t.Fatalf("%q: result %d has %d of %d words", query, i, r.Words, a.Words)
			}
		}
		if a.Total < 0 || a.Total > len(fixture) || len(a.Results) > 0 && a.Total == 0 {
			t.Fatalf("%q: %d results of %d", query, len(a.Results), a.Total)
		}
		if !utf8.ValidString(query) {
			return
		}
		again := ix.Find("  \t"+query, kind, 5)
		if len(again.Results) != len(a.Results) || again.Words != a.Words {
			t.Fatalf("%q finds %d of %d words, after blanks %d of %d", query, len(a.Results), a.Words, len(again.Results), again.Words)
		}
	})
}
