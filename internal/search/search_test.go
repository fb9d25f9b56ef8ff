package search_test

import (
	"bytes"
	"fmt"
	"math/rand/v2"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	"tankleaf.example/internal/search"
)

// TestResults runs testdata/search: in each file a title, then for each query
// a line "lang: query", and the paths expected, in order, indented.
func TestResults(t *testing.T) {
	names, err := filepath.Glob("../../testdata/search/*.txt")
	if err != nil || len(names) == 0 {
		t.Fatalf("no cases: %v", err)
	}
	for _, name := range names {
		text, err := os.ReadFile(name)
		if err != nil {
			t.Fatal(err)
		}
		title, cases, _ := strings.Cut(string(text), "\n\n")
		t.Run(title, func(t *testing.T) {
			n := 0
			for block := range strings.SplitSeq(strings.TrimSpace(cases), "\n\n") {
				n++
				resultCase(t, block)
			}
			if n == 0 {
				t.Errorf("%s has no cases", name)
			}
		})
	}
}

func resultCase(t *testing.T, block string) {
	t.Helper()
	lines := strings.Split(block, "\n")
	lang, query, ok := strings.Cut(lines[0], ": ")
	if !ok {
		t.Fatalf("%q is not a query", lines[0])
	}
	query, kind, _ := strings.Cut(strings.TrimSuffix(query, "|"), " in kind ")
	var want []string
	for _, l := range lines[1:] {
		want = append(want, strings.TrimSpace(l))
	}
	a := openFixture(t, fixtureOptions(lang)).Find(query, kind, 10)
	var got []string
	for _, r := range a.Results {
		if r.Words == a.Words {
			got = append(got, r.Path)
		}
	}
	if d := cmp.Diff(want, got); d != "" {
		t.Errorf("%s: %q (-want +got):\n%s", lang, query, d)
	}
}

// TestSameBytes wants the same files from the same documents in any order.
func TestSameBytes(t *testing.T) {
	docs := realDocuments(t)
	opt := search.Options{Lang: "en", Single: 1, Shard: 2000}
	first, err := search.Export(docs, opt)
	if err != nil {
		t.Fatal(err)
	}
	shuffled := slices.Clone(docs)
	rand.New(rand.NewPCG(1, 2)).Shuffle(len(shuffled), func(i, j int) { shuffled[i], shuffled[j] = shuffled[j], shuffled[i] })
	second, err := search.Export(shuffled, opt)
	if err != nil {
		t.Fatal(err)
	}
	if len(first) < 50 || len(first) != len(second) {
		t.Fatalf("%d files, then %d", len(first), len(second))
	}
	for i := range first {
		if first[i].Path != second[i].Path || !bytes.Equal(first[i].Body, second[i].Body) {
			t.Fatalf("%s differs from %s", first[i].Path, second[i].Path)
		}
	}
}

// TestOneFileOrMany wants every index to start at root.js, a small one to need
// no other file but the bodies, and all to be ASCII script.
func TestOneFileOrMany(t *testing.T) {
	for _, c := range []struct {
		single int
		want   string
		why    string
	}{
		{0, "root t0 t1 t2", "below the limit all is in root.js"},
		{1, "a0 a1 b0 b1 c0 c1 c2 c3 c4 p0 p1 p2 p3 p4 p5 root t0 t1 t2", "above it parts are files"},
	} {
		opt := fixtureOptions("en")
		opt.Single, opt.Shard = c.single, 100
		files, err := search.Export(fixture, opt)
		if err != nil {
			t.Fatal(err)
		}
		var names []string
		for _, f := range files {
			names = append(names, strings.TrimSuffix(f.Path, ".js"))
			if i := bytes.IndexFunc(f.Body, func(r rune) bool { return r > 126 }); i >= 0 {
				t.Errorf("%s is not ASCII at byte %d", f.Path, i)
			}
		}
		slices.Sort(names)
		if got := strings.Join(names, " "); got != c.want {
			t.Errorf("single %d (%s): files %s, want %s", c.single, c.why, got, c.want)
		}
	}
}

// TestPartsGiveWhatOneFileGives compares complete words on the two forms.
func TestPartsGiveWhatOneFileGives(t *testing.T) {
	docs := realDocuments(t)
	one := open(t, docs, search.Options{Lang: "en", Single: 1 << 30})
	many := open(t, docs, search.Options{Lang: "en", Single: 1, Shard: 7000})
	n := 0
	for _, q := range madeQueries(docs) {
		q += " "
		if d := cmp.Diff(one.Find(q, "", 10), many.Find(q, "", 10)); d != "" {
			t.Errorf("%q (-one +many):\n%s", q, d)
		}
		n++
	}
	if n < 150 {
		t.Errorf("only %d queries", n)
	}
}

// TestRefusals lists what cannot be indexed or opened.
func TestRefusals(t *testing.T) {
	doc := search.Document{ID: "a", Title: "one"}
	for _, c := range []struct {
		docs []search.Document
		opt  search.Options
		want string
	}{
		{nil, search.Options{Lang: "fr"}, `no analysis for language "fr"; there is [en es]`},
		{[]search.Document{{Title: "x"}}, search.Options{Lang: "en"}, "a document has no ID"},
		{[]search.Document{doc, doc}, search.Options{Lang: "en"}, `two documents have the ID "a"`},
	} {
		if _, err := search.Export(c.docs, c.opt); err == nil || err.Error() != c.want {
			t.Errorf("Export: error %v, want %s", err, c.want)
		}
	}
	for body, want := range map[string]string{
		"alert(1);\n":                 "p0.js: not a call of shard",
		"shard(\"v\",\"p0\",\"\");\n": "no root among the 1 files of a search index",
	} {
		if _, err := search.Open([]search.File{{Path: "p0.js", Body: []byte(body)}}); err == nil || err.Error() != want {
			t.Errorf("Open(%q): error %v, want %s", body, err, want)
		}
	}
}

// TestEmpty wants an index of nothing to answer, with nothing.
func TestEmpty(t *testing.T) {
	ix := open(t, nil, search.Options{Lang: "en"})
	for _, q := range []string{"", "foam", `"foam gas"`, "x"} {
		if a := ix.Find(q, "", 10); len(a.Results) != 0 || a.Total != 0 {
			t.Errorf("%q: %v", q, a)
		}
	}
}

// TestTypos says which words are forgiven, and that codes and rates never are.
func TestTypos(t *testing.T) {
	ix := openFixture(t, fixtureOptions("en"))
	for _, c := range []struct {
		query string
		want  string
		why   string
	}{
		{"surfictant ", "map[surfictant:[surfactant]]", "one letter replaced"},
		{"faom ", "map[faom:[foam]]", "four letters, the middle swapped"},
		{"glyphosate ", "map[]", "known words stay"},
		{"2,4-DB ", "map[]", "another code is another thing"},
		{"28-0-1 ", "map[]", "so is another analysis"},
		{"0.26 ", "map[]", "and another rate"},
		{`"surfictant" `, "map[]", "quotes mean as written"},
		{"foam q", "map[]", "a letter that is being typed casts no doubt on the word before"},
	} {
		if got := fmt.Sprint(ix.Find(c.query, "", 10).Changed); got != c.want {
			t.Errorf("%q (%s): changed %s, want %s", c.query, c.why, got, c.want)
		}
	}
}

// TestDoubts says when a word that is known is taken for another.
func TestDoubts(t *testing.T) {
	ix := open(t, []search.Document{
		{ID: "1", Path: "1", Kind: "sheet", Title: "Foam in the tank"},
		{ID: "2", Path: "2", Kind: "sheet", Title: "Form of a product"},
	}, search.Options{Lang: "en"})
	for _, c := range []struct {
		query string
		want  string
		why   string
	}{
		{"foam product ", "map[foam:[form]]", "with another reading a page has all words"},
		{"foam 28-0-0 ", "map[]", "no page has the number, whatever foam is read as"},
		{"foam zzqx ", "map[]", "nor what is no word"},
		{"foam zzqx product ", "map[foam:[form]]", "two of three are more than one"},
		{"foam t", "map[]", "a letter that is being typed is not missed"},
	} {
		if got := fmt.Sprint(ix.Find(c.query, "", 10).Changed); got != c.want {
			t.Errorf("%q (%s): changed %s, want %s", c.query, c.why, got, c.want)
		}
	}
}

// TestPhrases says what quotes do.
func TestPhrases(t *testing.T) {
	ix := openFixture(t, fixtureOptions("en"))
	for _, c := range []struct {
		query   string
		results int
		loose   bool
		why     string
	}{
		{`"hard water"`, 2, false, "in two bodies"},
		{`"water hard"`, 2, true, "nowhere in this order: all documents with both words"},
		{`"not mix" zinc`, 1, false, "with another word"},
		{`"order of addition"`, 1, false, "a stop word counts inside a phrase"},
		{`"zinc" foam`, 1, false, "a quoted word is required"},
	} {
		if a := ix.Find(c.query, "", 10); len(a.Results) != c.results || a.Loose != c.loose {
			t.Errorf("%s (%s): %d results, loose %v; want %d, %v", c.query, c.why, len(a.Results), a.Loose, c.results, c.loose)
		}
	}
}
