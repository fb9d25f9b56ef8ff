package main

import (
	"os"
	"strings"
	"testing"

	"tankleaf.example/internal/compat"
	"tankleaf.example/internal/page"
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
