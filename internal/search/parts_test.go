package search_test

import (
	"fmt"
	"math/rand/v2"
	"strings"
	"testing"

	"tankleaf.example/internal/search"
)

// largeSite makes many documents of made-up words, with the frequencies of
// natural text: the nth word is n times rarer than the first.
func largeSite(n int) []search.Document {
	r := rand.New(rand.NewPCG(3, 5))
	zipf := rand.NewZipf(r, 1.1, 4, 9_999)
	syllables := []string{"ba", "con", "dri", "el", "fo", "gar", "hum", "il", "jo", "kes", "lam", "mor", "nu", "pro", "qui", "ral"}
	word := func() string {
		var b strings.Builder
		for v := zipf.Uint64() + 1; v > 0; v /= uint64(len(syllables)) {
			b.WriteString(syllables[v%uint64(len(syllables))])
		}
		return b.String()
	}
	words := func(k int) string {
		out := make([]string, k)
		for i := range out {
			out[i] = word()
		}
		return strings.Join(out, " ")
	}
	docs := make([]search.Document, n)
	for i := range docs {
		id := fmt.Sprintf("d%05d", i)
		docs[i] = search.Document{ID: id, Path: id, Kind: []string{"product", "sheet"}[i%2], Title: "Title " + words(4), Body: words(90)}
	}
	return docs
}

// TestLoadsLittle bounds how much of a large index a query reads.
func TestLoadsLittle(t *testing.T) {
	docs := largeSite(3000)
	files, err := search.Export(docs, search.Options{Lang: "en"})
	if err != nil {
		t.Fatal(err)
	}
	size, total := make(map[string]int), 0
	for _, f := range files {
		size[strings.TrimSuffix(f.Path, ".js")] = len(f.Body)
		total += len(f.Body)
	}
	ix, err := search.Open(files)
	if err != nil {
		t.Fatal(err)
	}
	for _, c := range []struct {
		query string
		limit int
		why   string
	}{
		{"k", 4_000, "one letter completes nothing here"},
		{"pr", 9_000, "a wide prefix is one list"},
		{"pro", 16_000, "so is a longer one"},
		{"title ", 8_000, "the commonest word is one list"},
		{"bacondri foelgar ", 28_000, "two words, or candidates for typos in them"},
	} {
		sum := 0
		parts := ix.Read(func() { ix.Find(c.query, "", 8) })
		for _, p := range parts {
			sum += size[p]
		}
		if sum > c.limit {
			t.Errorf("%q (%s) reads %d bytes in %v, at most %d of %d wanted", c.query, c.why, sum, parts, c.limit, total)
		}
	}
}

// TestWidePrefix wants a prefix of very many words to find the titles that hold
// one, all of them.
func TestWidePrefix(t *testing.T) {
	docs := largeSite(3000)
	ix := open(t, docs, search.Options{Lang: "en", Single: 1})
	want := 0
	for _, d := range docs {
		if strings.Contains(d.Title, " con") {
			want++
		}
	}
	a := ix.Find("co", "", 10)
	if a.Total != want || want < 100 {
		t.Errorf("found %d documents, want the %d with such a word in the title", a.Total, want)
	}
	for _, r := range a.Results {
		if !strings.Contains(r.Title, " con") {
			t.Errorf("%q has no word that begins with co", r.Title)
		}
	}
}

// TestKinds wants a kind to narrow the answer to its documents, in the order of
// the whole answer.
func TestKinds(t *testing.T) {
	ix := open(t, largeSite(400), search.Options{Lang: "en", Kinds: []string{"sheet", "product"}})
	all := ix.Find("title ", "", 400)
	if len(all.Results) != 400 {
		t.Fatalf("%d results, want 400", len(all.Results))
	}
	for _, kind := range []string{"sheet", "product"} {
		var want, got []string
		for _, r := range all.Results {
			if r.Kind == kind {
				want = append(want, r.Path)
			}
		}
		for _, r := range ix.Find("title ", kind, 400).Results {
			got = append(got, r.Path)
		}
		if fmt.Sprint(got) != fmt.Sprint(want) || len(got) != 200 {
			t.Errorf("%s: %d results, want %d in the same order", kind, len(got), len(want))
		}
	}
	if a := ix.Find("title ", "nonsense", 10); len(a.Results) != 0 {
		t.Errorf("a kind that is not there has %d results", len(a.Results))
	}
}
