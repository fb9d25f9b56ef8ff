package search_test

import (
	"bytes"
	"encoding/json"
	"fmt"
	"os"
	"path/filepath"
	"regexp"
	"strconv"
	"strings"
	"testing"

	"tankleaf.example/internal/client"
	"tankleaf.example/internal/outside"
	"tankleaf.example/internal/search"
)

// runNode bundles a test of the client, runs it in Node and returns its report.
func runNode(t *testing.T, entry string, env ...string) string {
	t.Helper()
	script, err := client.Module(os.DirFS("../../templates/client"), entry)
	if err != nil {
		t.Fatal(err)
	}
	return outside.NodeTests(t, script, env...)
}

// reported matches the client's word on how many of something it checked.
var reported = regexp.MustCompile(`(?m)# checked (\w+): (\d+)$`)

func counts(t *testing.T, report string) map[string]int {
	t.Helper()
	out := make(map[string]int)
	for _, m := range reported.FindAllStringSubmatch(report, -1) {
		n, err := strconv.Atoi(m[2])
		if err != nil {
			t.Fatal(err)
		}
		out[m[1]] += n
	}
	return out
}

// An exchange is what the client's test is given: texts with their forms and
// stems, and queries with their answers, by index.
type exchange struct {
	Texts   []textCase   `json:"texts"`
	Indexes []indexCases `json:"indexes"`
}

type textCase struct {
	Text  string     `json:"text"`
	Lang  string     `json:"lang"`
	Forms [][]string `json:"forms"`
	Stems []string   `json:"stems"`
}

type indexCases struct {
	Dir     string      `json:"dir"`
	Queries []queryCase `json:"queries"`
}

type queryCase struct {
	Query   string              `json:"query"`
	Kind    string              `json:"kind"`
	Paths   []string            `json:"paths"`
	Scores  []string            `json:"scores"` // every bit of it
	Total   int                 `json:"total"`
	Changed map[string][]string `json:"changed"`
	Loose   bool                `json:"loose"`
}

// TestClientAgrees has the client cut and stem the real text of the demo
// office, and answer queries on it, whole and in small parts. Forms, stems,
// order, scores to the last bit and corrections must be those of this package.
func TestClientAgrees(t *testing.T) {
	docs := realDocuments(t)
	var x exchange
	for _, d := range docs {
		x.Texts = append(x.Texts, analyzed(d.Title+"\n"+d.Body, "en"))
	}
	spanish, err := filepath.Glob("../../templates/messages/es*")
	if err != nil || len(spanish) == 0 {
		t.Fatalf("no Spanish text: %v", err)
	}
	for _, name := range files(t, spanish) {
		text, err := os.ReadFile(name)
		if err != nil {
			t.Fatal(err)
		}
		x.Texts = append(x.Texts, analyzed(string(text), "es"))
	}
	queries := madeQueries(docs)
	x.Indexes = []indexCases{
		exported(t, docs, search.Options{Lang: "en"}, queries),
		exported(t, docs, search.Options{Lang: "en", Single: 1, Shard: 1000}, queries),
		// so small that many queries come to the end of what they may read
		exported(t, docs, search.Options{Lang: "en", Single: 1, Shard: 150}, queries),
		exported(t, fixture, fixtureOptions("en"), fixtureQueries),
		exported(t, fixture, fixtureOptions("es"), fixtureQueries),
	}
	data, err := json.Marshal(x)
	if err != nil {
		t.Fatal(err)
	}
	file := filepath.Join(t.TempDir(), "exchange.json")
	if err := os.WriteFile(file, data, 0o644); err != nil {
		t.Fatal(err)
	}
	got := counts(t, runNode(t, "search/search.test.ts", "EXCHANGE="+file, "VECTORS=../../testdata/vectors/query.json"))
	want := map[string]int{"texts": len(x.Texts), "queries": 3*len(queries) + 2*len(fixtureQueries), "vectors": vectorCount(t)}
	for what, n := range want {
		if got[what] != n || n == 0 {
			t.Errorf("the client checked %d %s of %d", got[what], what, n)
		}
	}
	t.Logf("agreed on %v", got)
}

// files lists the files at or below the names.
func files(t *testing.T, names []string) []string {
	t.Helper()
	var out []string
	for _, name := range names {
		err := filepath.WalkDir(name, func(path string, d os.DirEntry, err error) error {
			if err == nil && !d.IsDir() {
				out = append(out, path)
			}
			return err
		})
		if err != nil {
			t.Fatal(err)
		}
	}
	return out
}

func analyzed(text, lang string) textCase {
	c := textCase{Text: text, Lang: lang, Forms: [][]string{}, Stems: []string{}}
	for _, token := range search.Tokens(text) {
		c.Forms = append(c.Forms, token)
		for _, f := range token {
			c.Stems = append(c.Stems, search.Stem(lang, f))
		}
	}
	return c
}

func exported(t *testing.T, docs []search.Document, opt search.Options, queries []string) indexCases {
	t.Helper()
	files, err := search.Export(docs, opt)
	if err != nil {
		t.Fatal(err)
	}
	out := indexCases{Dir: t.TempDir()}
	for _, f := range files {
		if err := os.WriteFile(filepath.Join(out.Dir, f.Path), f.Body, 0o644); err != nil {
			t.Fatal(err)
		}
	}
	ix, err := search.Open(files)
	if err != nil {
		t.Fatal(err)
	}
	for i, q := range queries {
		kind := []string{"", "", "sheet", "data"}[i%4]
		a := ix.Find(q, kind, 10)
		c := queryCase{Query: q, Kind: kind, Total: a.Total, Changed: a.Changed, Loose: a.Loose, Paths: []string{}, Scores: []string{}}
		for _, r := range a.Results {
			c.Paths = append(c.Paths, r.Path)
			c.Scores = append(c.Scores, fmt.Sprintf("%x", r.Score))
		}
		out.Queries = append(out.Queries, c)
	}
	return out
}

// madeQueries makes queries from every third text by rule: words, parts of words,
// words with a letter swapped, phrases.
func madeQueries(docs []search.Document) []string {
	var out []string
	for i, d := range docs {
		words := strings.Fields(d.Body)
		if i%3 > 0 || len(words) < 8 {
			continue
		}
		a, b, c := words[i%len(words)], words[(i*7)%len(words)], words[(i*13)%len(words)]
		switch len(out) % 6 {
		case 0:
			out = append(out, a+" "+b)
		case 1:
			out = append(out, a+" "+b[:(len(b)+1)/2])
		case 2:
			out = append(out, a+" "+b+" "+c+" ")
		case 3:
			out = append(out, swapped(a)+" "+b+" ")
		case 4:
			out = append(out, `"`+strings.Join(words[2:4], " ")+`" `+c)
		case 5:
			out = append(out, b)
		}
	}
	return out
}

func swapped(w string) string {
	r := []rune(w)
	if i := len(r) / 2; i > 0 {
		r[i-1], r[i] = r[i], r[i-1]
	}
	return string(r)
}

// fixtureQueries are the queries of testdata/search and some that have no
// answer.
var fixtureQueries = []string{
	"2,4-D", "24d", "2-4-d", "s-metolachlor", "metolachlor", "28-0-0", "28-0", "WG", "0.25 % v/v", "v/v", "AMS",
	"ammonium sulfate", "ams hard water", "glyfosate", "glyphosat", "gly", "g", "water g", "hard water q", "EC g", "foam 28-0-1 ", "wate zzqx ", "herbicides", "foaming", "faom", "not before",
	`"hard water"`, `"water hard"`, "order of", "the", "", "zzzzqx", "agua", "aguas duras", "acido", "polvo mojable", "aceite",
	`"""`, `"hard`, "(((*[", "hard\x00water", "מים", "__proto__ constructor", "no mezcle antes", "CO2", "co₂ bicarbonate", "surfactent", "surfactant first order", "wettable powder", "pt/ac",
}

func vectorCount(t *testing.T) int {
	t.Helper()
	text, err := os.ReadFile("../../testdata/vectors/query.json")
	if err != nil {
		t.Fatal(err)
	}
	return bytes.Count(text, []byte(`"name":`))
}
