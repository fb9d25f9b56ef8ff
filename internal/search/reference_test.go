package search

import (
	"cmp"
	"context"
	"fmt"
	"math"
	"os"
	"path/filepath"
	"slices"
	"strconv"
	"strings"
	"testing"

	"github.com/blevesearch/bleve/v2/document"
	"github.com/blevesearch/bleve/v2/index/scorch"
	index "github.com/blevesearch/bleve_index_api"
)

// A reference ranks documents plainly: maps, floating point, the whole
// dictionary read for every word, straight from bleve's own postings and field
// lengths. It shares with the engine what a form and a stem are, the weights,
// and nothing of how they are stored and found.
type reference struct {
	lang  string
	freq  map[string]map[string]float64 // weighted, by form and path
	head  map[string]map[string]bool    // whether in title or names
	size  map[string]float64            // weighted length, by path
	mean  float64
	stop  map[string]bool
	title map[string]string
}

func newReference(t testing.TB, docs []Document, lang string) *reference {
	t.Helper()
	queue := index.NewAnalysisQueue(1)
	defer queue.Close()
	idx, err := scorch.NewScorch(scorch.Name, map[string]any{"path": ""}, queue)
	check(t, err)
	check(t, idx.Open())
	defer idx.Close()
	batch := index.NewBatch()
	for _, d := range docs {
		doc := document.NewDocument(d.Path)
		for i, text := range []string{d.Title, strings.Join(d.Names, "\n"), d.Summary, d.Body} {
			doc.AddField(document.NewTextFieldCustom(strconv.Itoa(i), nil, []byte(text), index.IndexField, analyzer(lang)))
		}
		batch.Update(doc)
	}
	check(t, idx.Batch(batch))
	reader, err := idx.Reader()
	check(t, err)
	defer reader.Close()
	r := &reference{lang: lang, freq: map[string]map[string]float64{}, head: map[string]map[string]bool{},
		size: map[string]float64{}, stop: stopSet(lang), title: map[string]string{}}
	for _, d := range docs {
		r.title[d.Path] = d.Title
	}
	for i, weight := range []float64{8, 8, 2, 1} {
		r.readField(t, reader, strconv.Itoa(i), weight)
	}
	for _, n := range r.size {
		r.mean += n / float64(len(docs))
	}
	return r
}

func check(t testing.TB, err error) {
	t.Helper()
	if err != nil {
		t.Fatal(err)
	}
}

func (r *reference) readField(t testing.TB, reader index.IndexReader, field string, weight float64) {
	t.Helper()
	dict, err := reader.FieldDict(field)
	check(t, err)
	sized := map[string]bool{}
	for {
		entry, err := dict.Next()
		check(t, err)
		if entry == nil {
			return
		}
		terms, err := reader.TermFieldReader(context.Background(), []byte(entry.Term), field, true, true, false)
		check(t, err)
		for td, err := terms.Next(nil); td != nil; td, err = terms.Next(nil) {
			check(t, err)
			path, err := reader.ExternalID(td.ID)
			check(t, err)
			if r.freq[entry.Term] == nil {
				r.freq[entry.Term] = map[string]float64{}
			}
			r.freq[entry.Term][path] += weight * float64(td.Freq)
			if !sized[path] {
				sized[path] = true
				r.size[path] += weight * math.Round(1/(float64(td.Norm)*float64(td.Norm)))
			}
			if weight == 8 {
				if r.head[entry.Term] == nil {
					r.head[entry.Term] = map[string]bool{}
				}
				r.head[entry.Term][path] = true
			}
		}
	}
}

// find ranks all documents for words that are complete, or of which the last
// is a beginning.
func (r *reference) find(words []string, typing bool) []string {
	ways := make([][]map[string]float64, len(words))
	for i, w := range words {
		ways[i] = r.ways(w, typing && i == len(words)-1)
	}
	list := r.rank(words, ways, typing)
	reach := len(words) // but for words that turn out to be in no document
	tried := make([][]string, len(words))
	for _, step := range []struct{ known, listed bool }{{false, false}, {false, true}, {true, false}, {true, true}} {
		if len(list) > 0 && list[0].words >= reach {
			break
		}
		for i, w := range words {
			own := r.ways(w, typing && i == len(words)-1)
			if len(own) > 0 && !step.known {
				continue
			}
			near := r.typos(w)
			if !step.listed {
				near = r.inTitles(w, list)
			}
			for _, form := range near {
				if !slices.Contains(tried[i], form) {
					tried[i] = append(tried[i], form)
					ways[i] = append(ways[i], map[string]float64{form: 0.6})
				}
			}
		}
		if step.listed {
			reach = len(words)
			for _, own := range ways {
				reach -= one(len(own) == 0)
			}
		}
		list = r.rank(words, ways, typing)
	}
	var out []string
	for _, f := range list {
		out = append(out, f.path)
	}
	return out
}

// ways lists the readings of a word, each as weights by form.
func (r *reference) ways(word string, typing bool) []map[string]float64 {
	own, longer := map[string]float64{}, map[string]float64{}
	for form := range r.freq {
		switch {
		case form == word:
			own[form] = 1
		case stem(r.lang, form) != stem(r.lang, word) || !strings.HasPrefix(form, stemBase(stem(r.lang, word))):
		case form+"s" == word || word+"s" == form || form+"es" == word || word+"es" == form ||
			strings.TrimSuffix(form, "y")+"ies" == word || strings.TrimSuffix(word, "y")+"ies" == form:
			own[form] = 0.95
		default:
			own[form] = 0.85
		}
		if typing && strings.HasPrefix(form, word) {
			longer[form] = 0.7
		}
	}
	var out []map[string]float64
	for _, way := range []map[string]float64{own, longer} {
		if len(way) > 0 {
			out = append(out, way)
		}
	}
	return out
}

// inTitles lists the words one letter away in the titles of the eight best.
func (r *reference) inTitles(word string, list []found) []string {
	var out []string
	for _, f := range list[:min(len(list), 8)] {
		for _, token := range tokenRegexp.FindAllString(r.title[f.path], -1) {
			for _, w := range forms(token) {
				if isWord(w) && isWord(word) && distance(w, word) == 1 {
					out = append(out, w)
				}
			}
		}
	}
	return out
}

// typos lists the six likeliest words one letter away.
func (r *reference) typos(word string) []string {
	type near struct {
		form    string
		differs bool
		rank    int
	}
	var list []near
	for form, docs := range r.freq {
		if !isWord(form) || r.head[form] == nil && len(docs) < 6 || distance(form, word) != 1 {
			continue
		}
		rank := 0
		for n := len(docs); n > 0; n /= 2 {
			rank++
		}
		rank = 2 * min(rank/3, 4)
		if r.head[form] != nil {
			rank++
		}
		list = append(list, near{form, len(word) >= 6 && form[0] != word[0], rank})
	}
	slices.SortFunc(list, func(a, b near) int {
		if a.differs != b.differs {
			if a.differs {
				return 1
			}
			return -1
		}
		return cmp.Or(b.rank-a.rank, cmp.Compare(a.form, b.form))
	})
	var out []string
	for _, n := range list[:min(len(list), 6)] {
		out = append(out, n.form)
	}
	return out
}

// distance is the optimal string alignment distance.
func distance(a, b string) int {
	d := make([][]int, len(a)+1)
	for i := range d {
		d[i] = make([]int, len(b)+1)
		for j := range d[i] {
			if i == 0 || j == 0 {
				d[i][j] = i + j
				continue
			}
			d[i][j] = min(d[i-1][j], d[i][j-1]) + 1
			if a[i-1] == b[j-1] {
				d[i][j] = min(d[i][j], d[i-1][j-1])
			} else {
				d[i][j] = min(d[i][j], d[i-1][j-1]+1)
			}
			if i > 1 && j > 1 && a[i-1] == b[j-2] && a[i-2] == b[j-1] {
				d[i][j] = min(d[i][j], d[i-2][j-2]+1)
			}
		}
	}
	return d[len(a)][len(b)]
}

type found struct {
	path        string
	words, rank int
	titled      int
	score       float64
}

func (r *reference) rank(words []string, ways [][]map[string]float64, typing bool) []found {
	var list []found
	for path, size := range r.size {
		f := found{path: path}
		heads, written, titled, near := 0, 0, 0, 0
		for i, w := range words {
			best, head, exact, both, plural := 0.0, false, false, false, false
			for _, way := range ways[i] {
				with := map[string]bool{}
				freq, weight := 0.0, 0.0
				for form, wt := range way {
					for p := range r.freq[form] {
						with[p] = true
					}
					n := r.freq[form][path]
					if n == 0 {
						continue
					}
					in := r.head[form][path]
					if !in {
						n = min(n, 7)
					}
					freq, weight = freq+n, max(weight, wt)
					head = head || in
					exact = exact || wt == 1
					both = both || in && wt == 1
					plural = plural || in && wt >= 0.95
				}
				if freq > 0 {
					idf := math.Log2((float64(len(r.size)) + 1) / (float64(len(with)) + 0.5))
					best = max(best, weight*idf*freq*2.2/(freq+1.2*(0.7+0.3*size/r.mean)))
				}
			}
			if best == 0 {
				continue
			}
			if typing && i == len(words)-1 && r.freq[w] == nil {
				exact, both, plural = true, head, head
			}
			f.words, f.score = f.words+1, f.score+best
			heads, written, titled, near = heads+one(head), written+one(exact), titled+one(both), near+one(plural)
		}
		switch len(words) {
		case titled:
			f.rank = 4
		case near:
			f.rank = 3
		case heads:
			f.rank = 2
		case written:
			f.rank = 1
		}
		if heads == len(words) {
			f.titled = titled
		}
		if f.words > 0 {
			list = append(list, f)
		}
	}
	slices.SortFunc(list, func(a, b found) int {
		return cmp.Or(b.words-a.words, b.rank-a.rank, b.titled-a.titled, cmp.Compare(b.score, a.score), cmp.Compare(a.path, b.path))
	})
	return list
}

// TestRankingIsPlainBM25 compares the ten best of every query, ties aside, with
// the reference.
func TestRankingIsPlainBM25(t *testing.T) {
	docs := officeDocuments(t)
	r := newReference(t, docs, "en")
	files, err := Export(docs, Options{Lang: "en", Single: math.MaxInt})
	check(t, err)
	ix, err := Open(files)
	check(t, err)
	n, typos := 0, 0
	for i, d := range docs {
		words := plain(d.Body, r.stop)
		if len(words) < 6 {
			continue
		}
		for j, q := range [][]string{
			{words[i%len(words)]}, {words[0], words[i*3%len(words)]}, {words[1], words[i*5%len(words)], words[i*7%len(words)]},
			{words[2], doubled(words[i*11%len(words)])},
		} {
			typing := (i+j)%3 == 0
			if typing {
				last := &q[len(q)-1]
				*last = (*last)[:(len(*last)+1)/2]
			}
			text := strings.Join(q, " ")
			if !typing {
				text += " "
			}
			n++
			a := ix.Find(text, "", 30)
			typos += one(len(a.Changed) > 0)
			compareRanking(t, text, a.Results, r.find(q, typing), r, q)
		}
		if n > 240 {
			break
		}
	}
	if n < 240 || typos < 25 {
		t.Fatalf("only %d queries, %d with typos", n, typos)
	}
	t.Logf("%d queries agree, %d of them with a typo", n, typos)
}

// compareRanking wants the first ten in the same order, but lets documents of
// equal score change places.
func compareRanking(t *testing.T, query string, got []Result, want []string, r *reference, words []string) {
	t.Helper()
	score := make(map[string]string)
	for _, g := range got {
		score[g.Path] = fmt.Sprintf("%d %.6f", g.Words, g.Score)
	}
	for i := range min(10, max(len(got), len(want))) {
		if i >= len(got) || i >= len(want) {
			t.Errorf("%q: %d results, want %d", query, len(got), len(want))
			return
		}
		if got[i].Path != want[i] && score[got[i].Path] != score[want[i]] {
			t.Errorf("%q: place %d is %s (%s), want %s (%s)", query, i+1, got[i].Path, score[got[i].Path], want[i], score[want[i]])
			return
		}
	}
}

// doubled makes a typo: the middle letter twice.
func doubled(w string) string { return w[:len(w)/2+1] + w[len(w)/2:] }

// plain returns the words of five letters or more that are their own only form.
func plain(text string, stop map[string]bool) []string {
	var out []string
	for _, token := range tokenRegexp.FindAllString(text, -1) {
		if f := forms(token); len(f) == 1 && len(f[0]) >= 5 && isWord(f[0]) && !stop[f[0]] {
			out = append(out, f[0])
		}
	}
	return out
}

// officeDocuments makes a document of every section of the demo office's sheets.
func officeDocuments(t testing.TB) []Document {
	t.Helper()
	names, err := filepath.Glob("../../content/*/*.md")
	check(t, err)
	var docs []Document
	for _, name := range names {
		text, err := os.ReadFile(name)
		check(t, err)
		for i, part := range strings.Split(string(text), "\n## ") {
			title, body, _ := strings.Cut(part, "\n")
			id := fmt.Sprintf("%s#%d", name, i)
			docs = append(docs, Document{ID: id, Path: id, Kind: "sheet", Title: title, Summary: strings.SplitN(body, ".", 2)[0], Body: body})
		}
	}
	return docs
}
