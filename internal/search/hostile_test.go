package search_test

import (
	"strings"
	"testing"

	"pgregory.net/rapid"

	"tankleaf.example/internal/search"
)

// TestBadInput asks what no reader means: an answer comes, and it has words only
// if there were any.
func TestBadInput(t *testing.T) {
	ix := openFixture(t, fixtureOptions("en"))
	for _, c := range []struct {
		query string
		words int
		why   string
	}{
		{"", 0, "nothing"},
		{" \t\n", 0, "blanks"},
		{"...,;:!?-_/'", 0, "only punctuation, joints among it"},
		{"((([[[{{{***+++\\\\$^", 0, "only what a regular expression is made of"},
		{"\x00\x00", 0, "NUL"},
		{"\"\"\"", 0, "quotation marks around nothing"},
		{"\"hard water", 2, "a quotation mark that is not closed"},
		{"hard\x00water", 2, "NUL between words parts them"},
		{"\u202ehard\u202c", 1, "an order to write from right to left is no letter"},
		{"מים", 1, "another script is a word that is not there"},
		{strings.Repeat("a", 100_000), 0, "a word too long to be one"},
		{strings.Repeat("water ", 2_000), 2_000, "a word two thousand times"},
	} {
		a := ix.Find(c.query, "", 8)
		if a.Words != c.words {
			t.Errorf("%.40q (%s): %d words, want %d", c.query, c.why, a.Words, c.words)
		}
		if a.Words == 0 && len(a.Results) > 0 {
			t.Errorf("%.40q (%s): %d results for no word", c.query, c.why, len(a.Results))
		}
	}
}

// TestAnyInput does the same with random text: no panic, never more results than
// were asked for.
func TestAnyInput(t *testing.T) {
	ix := openFixture(t, fixtureOptions("es"))
	piece := rapid.OneOf(rapid.String(), rapid.SampledFrom([]string{`"`, "agua", "-", "'s", "2,4-D", " ", "no", "\u0301"}))
	rapid.Check(t, func(t *rapid.T) {
		query := strings.Join(rapid.SliceOfN(piece, 0, 9).Draw(t, "pieces"), "")
		if a := ix.Find(query, "", 3); len(a.Results) > 3 && !strings.Contains(query, `"`) {
			t.Fatalf("%q: %d results", query, len(a.Results))
		}
	})
}

// TestAsWrittenBeforeSynonym: a page that has the word in its title does not sink
// because it also has a synonym among its names.
func TestAsWrittenBeforeSynonym(t *testing.T) {
	docs := []search.Document{
		{ID: "a", Path: "a", Kind: "class", Title: "Silicone defoamer", Body: "A defoamer that is an emulsion."},
		{ID: "b", Path: "b", Kind: "class", Title: "Defoamer", Names: []string{"antifoam", "foam breaker"}, Body: "Breaks foam."},
		{ID: "c", Path: "c", Kind: "sheet", Title: "Foam", Body: "An antifoam takes it."},
	}
	ix := open(t, docs, search.Options{Lang: "en", Same: [][]string{{"Defoamer", "antifoam"}, {"Defoamer", "foam breaker"}}})
	for _, c := range []struct{ query, want, why string }{
		{"defoamer ", "b a c", "as the whole title, as half of one, by another name"},
		{"silicone defoamer ", "a b c", "both words before one"},
		{"antifoam ", "b a c", "as written in names, by another name in a title, as written below"},
		{"foam breaker ", "b a c", "a phrase finds what is meant; one word of it comes last"},
	} {
		var got []string
		for _, r := range ix.Find(c.query, "", 8).Results {
			got = append(got, r.Path)
		}
		if strings.Join(got, " ") != c.want {
			t.Errorf("%q: %v, want %s (%s)", c.query, got, c.want, c.why)
		}
	}
}
