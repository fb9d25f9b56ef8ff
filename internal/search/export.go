package search

import (
	"cmp"
	"errors"
	"fmt"
	"maps"
	"math"
	"slices"
	"strings"
	"unicode/utf8"
)

// Options says what to index and how.
type Options struct {
	Lang  string   // documents of other languages are left out
	Kinds []string // order of kinds; equal scores are listed in this order

	// Same lists words or phrases that mean the same: a query for one finds
	// the others. Misspelled maps a way of writing, found in no document, to
	// what is meant.
	Same       [][]string
	Misspelled map[string]string

	// Single is the size of all text in bytes up to which the index is one
	// file, and Shard about how large a part of a larger one is. Zero takes
	// the measured best.
	Single, Shard int
}

// A File is one file of an exported index. Path is relative to the folder that
// root.js is in.
type File struct {
	Path string
	Body []byte
}

// Measured on 10,000 documents of 110 words: with parts of 2 kB three words
// and their results come to less than 12 kB, and smaller ones cost the whole
// more than they save a query. Below 230 kB of text one file under 60 kB
// compressed is better. Cards come eight at a time from anywhere, so few share
// a file, unless all are read at once; a body comes alone.
const (
	defaultSingle = 230_000
	defaultShard  = 2_200
	cardsPerFile  = 2
	cardsAtOnce   = 32
	bodiesPerFile = 4
	summaryLength = 120 // characters of a summary kept on a card
)

// weights says how many times a word in each field counts. They are baked into
// the exported postings.
// headWeight, of titles and names, is part of the format.
const headWeight = 8

var weights = [numFields]int{fieldTitle: headWeight, fieldNames: headWeight, fieldSummary: 2, fieldBody: 1}

// length returns what a posting adds to the weighted length of its document.
func (c counts) length() int {
	n := 0
	for f, k := range c {
		n += weights[f] * k
	}
	return n
}

// weight returns the weighted frequency of a posting. One in neither title nor names
// stays below headWeight, which tells that one is.
func (c counts) weight() int {
	if c[fieldTitle]+c[fieldNames] == 0 {
		return min(c.length(), headWeight-1)
	}
	return c.length()
}

// An occurrence is a posting as exported.
type occurrence struct {
	doc    int // number of the document
	weight int // weighted frequency, 1 or more
}

// An entry is a form, or a prefix followed by a star, with its occurrences.
type entry struct {
	key    string
	list   []occurrence
	titled bool // stands in a title or name
}

// Export indexes the documents of one language and returns the files that the
// client searches. The same documents give the same bytes, in any order.
func Export(docs []Document, opt Options) ([]File, error) {
	if err := checkLanguage(opt.Lang); err != nil {
		return nil, err
	}
	opt.Single = cmp.Or(opt.Single, defaultSingle)
	opt.Shard = cmp.Or(opt.Shard, defaultShard)
	docs, err := ofLanguage(docs, opt.Lang)
	if err != nil {
		return nil, err
	}
	byForm, err := indexDocuments(docs, opt.Lang)
	if err != nil {
		return nil, err
	}
	lengths := make([]int, len(docs))
	for _, list := range byForm {
		for _, p := range list {
			lengths[p.doc] += p.n.length()
		}
	}
	e := newExporter(docs, lengths, opt)
	e.entries(byForm)
	return e.files(), nil
}

// ofLanguage returns the documents of a language and checks their IDs.
func ofLanguage(docs []Document, lang string) ([]Document, error) {
	seen := make(map[string]bool)
	var out []Document
	for _, d := range docs {
		if d.Lang != "" && d.Lang != lang {
			continue
		}
		if d.ID == "" {
			return nil, errors.New("a document has no ID")
		}
		if seen[d.ID] {
			return nil, fmt.Errorf("two documents have the ID %q", d.ID)
		}
		seen[d.ID] = true
		out = append(out, d)
	}
	slices.SortFunc(out, func(a, b Document) int { return cmp.Compare(a.ID, b.ID) })
	return out, nil
}

// An exporter holds an index on its way into files.
type exporter struct {
	opt     Options
	docs    []Document // by number
	lengths []int      // weighted, by number
	number  []int      // number of each document that was indexed
	forms   []entry    // in order of key
	widest  []entry    // wide prefixes
	single  bool       // all in one file
}

func newExporter(docs []Document, lengths []int, opt Options) *exporter {
	byID := make(map[string]int)
	place := make(map[string]int)
	for i, d := range docs {
		byID[d.ID], place[d.ID] = lengths[i], i
	}
	e := &exporter{opt: opt, docs: order(docs, byID, opt.Kinds), number: make([]int, len(docs))}
	for n, d := range e.docs {
		e.number[place[d.ID]] = n
		e.lengths = append(e.lengths, byID[d.ID])
	}
	if e.single = e.textSize() <= opt.Single; e.single {
		e.opt.Shard = math.MaxInt32 // nothing to cut: all of it is loaded at once
	}
	return e
}

// entries turns postings into entries.
func (e *exporter) entries(byForm map[string][]posting) {
	for form, list := range byForm {
		en := entry{key: form}
		for _, p := range list {
			en.titled = en.titled || p.n[fieldTitle]+p.n[fieldNames] > 0
			en.list = append(en.list, occurrence{e.number[p.doc], p.n.weight()})
		}
		slices.SortFunc(en.list, func(a, b occurrence) int { return cmp.Compare(a.doc, b.doc) })
		e.forms = append(e.forms, en)
	}
	slices.SortFunc(e.forms, func(a, b entry) int { return cmp.Compare(a.key, b.key) })
	if !e.single {
		e.widen(byForm)
	}
}

// widen adds the entries of wide prefixes.
func (e *exporter) widen(byForm map[string][]posting) {
	titles := make(map[string][]posting)
	for form, list := range byForm {
		for _, p := range list {
			p.n[fieldSummary], p.n[fieldBody] = 0, 0
			if p.n.weight() > 0 {
				titles[form] = append(titles[form], p)
			}
		}
	}
	for _, prefix := range widePrefixes(e.forms, len(e.docs)) {
		e.widest = append(e.widest, e.wideEntry(prefix, titles))
	}
}

// wideBytes is how much the occurrences of all forms with one prefix may take
// before they are too many to load while a reader is still typing. Such a
// prefix gets an entry of its own, which knows titles and names alone.
const (
	wideBytes   = 6_000
	shortPrefix = 2 // a wide prefix shorter than this completes nothing
)

// widePrefixes returns the wide prefixes, in order.
func widePrefixes(forms []entry, all int) []string {
	size := make(map[string]int)
	for _, f := range forms {
		n := f.size("", all)
		for i := range f.key {
			if i > 0 {
				size[f.key[:i]] += n
			}
		}
		size[f.key] += n
	}
	var out []string
	for prefix, n := range size {
		if n > wideBytes && utf8.RuneCountInString(prefix) >= shortPrefix {
			out = append(out, prefix)
		}
	}
	slices.Sort(out)
	return out
}

// wideEntry joins the titles and names with a word that starts with prefix.
func (e *exporter) wideEntry(prefix string, titles map[string][]posting) entry {
	docs := make(map[int]bool)
	start, _ := slices.BinarySearchFunc(e.forms, prefix, func(f entry, p string) int { return cmp.Compare(f.key, p) })
	for _, f := range e.forms[start:] {
		if !strings.HasPrefix(f.key, prefix) {
			break
		}
		for _, p := range titles[f.key] {
			docs[e.number[p.doc]] = true
		}
	}
	out := entry{key: prefix + wideMark}
	for _, doc := range slices.Sorted(maps.Keys(docs)) {
		out.list = append(out.list, occurrence{doc, headWeight})
	}
	return out
}

// wideMark ends the key of a wide prefix. It sorts before all letters and
// digits, so the entry stands before every longer form.
const wideMark = "*"

func isWide(key string) bool { return strings.HasSuffix(key, wideMark) }

// write appends how many occurrences there are, their places among all
// documents, and the weight of each.
func (en entry) write(w *bitWriter, all int) {
	w.count(len(en.list))
	w.places(en.list, 0, all-1)
	if isWide(en.key) {
		return
	}
	for _, o := range en.list {
		w.weight(o.weight)
	}
}

// size returns about how many bytes an entry takes after the key last.
func (en entry) size(last string, all int) int {
	var w bitWriter
	w.key(last, en.key)
	en.write(&w, all)
	return w.size()
}
