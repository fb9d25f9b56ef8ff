package main

import (
	"os"
	"slices"
	"strings"
	"testing"

	"tankleaf.example/internal/compat"
	"tankleaf.example/internal/mix"
	"tankleaf.example/internal/page"
	"tankleaf.example/internal/search"
	"tankleaf.example/internal/site"
)

// TestNamesFindTheirPages asks for every product and class of the demo by its name:
// its own page stands first, before the pages of its pairs. The rest are names that
// two pages bear, or of which one is the whole of another's first word.
func TestNamesFindTheirPages(t *testing.T) {
	o, problems := site.Read(os.DirFS("../.."))
	if problems.Stops() {
		t.Fatal(problems)
	}
	index, err := openIndex(o, "en")
	if err != nil {
		t.Fatal(err)
	}
	asked, first := 0, 0
	for _, d := range page.Documents(o.Inputs(compat.New(o.Index)), "en") {
		if !strings.HasPrefix(d.Path, "product/") && !strings.HasPrefix(d.Path, "class/") {
			continue
		}
		asked++
		if found := index.Find(d.Title, "", 1).Results; len(found) == 1 && found[0].Path == d.Path {
			first++
		} else {
			t.Logf("%q finds %v", d.Title, found)
		}
	}
	if asked < 300 || first*100 < asked*96 {
		t.Errorf("%d of %d names find their own page first, want 96 in 100", first, asked)
	}
}

// TestToolsAndSheetsAnswerToTheirNames asks in both languages for every tool, list,
// calculator and sheet by its title and by what else readers call it: it is among the
// five that a phone lists.
func TestToolsAndSheetsAnswerToTheirNames(t *testing.T) {
	o, problems := site.Read(os.DirFS("../.."))
	if problems.Stops() {
		t.Fatal(problems)
	}
	asked := 0
	for _, lang := range []mix.Lang{"en", "es"} {
		index, err := openIndex(o, lang)
		if err != nil {
			t.Fatal(err)
		}
		among := func(d search.Document, words string) {
			asked++
			found := index.Find(words, "", 5).Results
			if !slices.ContainsFunc(found, func(r search.Result) bool { return r.Path == d.Path }) {
				t.Errorf("%s: %q is not among the results for %q: %v", lang, d.Path, words, found)
			}
		}
		for _, d := range page.Documents(o.Inputs(compat.New(o.Index)), lang) {
			switch d.Kind {
			case "calculator":
				among(d, d.Title) // their other name is their page's
			case "tool", "sheet":
				for _, name := range append(d.Names, d.Title) {
					among(d, name)
				}
			}
		}
	}
	if asked < 150 {
		t.Errorf("only %d questions", asked)
	}
}
