package search

import (
	"strconv"
	"strings"
)

// A Result is one document found.
type Result struct {
	Path, Kind, Title, Summary string
	Words                      int     // words of the query that it has
	Score                      float64 // comparable within one answer only
}

// An Answer is what a query finds.
type Answer struct {
	Results []Result
	Words   int // words of the query; a result with fewer lacks some
	Total   int // documents with as many words as the first result

	// Changed lists, for a word that was read differently because of a typo,
	// what it was read as.
	Changed map[string][]string

	// Loose says that no document has the words in quotes in this order.
	Loose bool
}

// phraseDepth is how many of the best documents are read for a phrase.
const phraseDepth = 24

// Find returns the best results of a query, at most limit, of one kind or of
// all when kind is empty. A document with more of the query's words comes
// before one with fewer; then the score decides, then the document's number.
func (ix *Index) Find(text, kind string, limit int) Answer {
	f := finder{ix: ix, q: ix.parse(text), typos: make(map[string][]reading)}
	f.low, f.high = ix.kindRange(kind)
	if len(f.q.phrases) > 0 {
		limit = max(limit, phraseDepth)
	}
	a := Answer{Words: f.words()}
	found, total := f.search(limit)
	for _, unknownOnly := range []bool{true, false} {
		if len(found) > 0 && found[0].words == a.Words || !f.correct(unknownOnly) {
			continue
		}
		found, total = f.search(limit)
	}
	a.Total, a.Changed = total, f.changed()
	a.Loose = f.confirm(&found)
	for _, m := range found {
		a.Results = append(a.Results, ix.result(m))
	}
	return a
}

// kindRange returns the range of numbers of a kind, empty if there is none.
func (ix *Index) kindRange(kind string) (low, high int) {
	if kind == "" {
		return 0, len(ix.lengths)
	}
	for i, k := range ix.root.Kinds {
		if k.Kind == kind {
			return ix.kindAt[i] - k.N, ix.kindAt[i]
		}
	}
	return 0, 0
}

// A finder works on one query.
type finder struct {
	ix        *Index
	q         query
	low, high int                  // range of documents
	typos     map[string][]reading // readings of a word with a typo forgiven
}

// words returns how many words a document can have.
func (f *finder) words() int {
	n := 0
	for _, s := range f.q.slots {
		n += len(s.words)
	}
	return n
}

// correct forgives a typo in the words that nothing was found for, or in all.
// It reports whether any word has a new reading.
func (f *finder) correct(unknownOnly bool) bool {
	changed := false
	for _, s := range f.q.slots {
		for _, w := range s.words {
			if _, done := f.typos[w.form]; done || w.exact || unknownOnly && len(f.ix.readings(w)) > 0 {
				continue
			}
			f.typos[w.form] = f.ix.corrections(w.form)
			changed = changed || len(f.typos[w.form]) > 0
		}
	}
	return changed
}

// changed lists what words were read as instead.
func (f *finder) changed() map[string][]string {
	out := make(map[string][]string)
	for form, readings := range f.typos {
		for _, r := range readings {
			out[form] = append(out[form], r[0].form)
		}
	}
	return out
}

// hits scores one word: each document by its best reading.
func (f *finder) hits(w word) []hit {
	var readings [][]hit
	for _, r := range append(f.ix.readings(w), f.typos[w.form]...) {
		readings = append(readings, f.ix.scratch.pool(r))
	}
	if len(readings) == 0 {
		return nil
	}
	return f.ix.scratch.highest(readings)
}

// search scores the documents and returns the best, and how many have as many
// words as the first.
func (f *finder) search(limit int) ([]match, int) {
	all, quoted := newSums(len(f.ix.lengths)), newSums(len(f.ix.lengths))
	quotes := 0
	for _, s := range f.q.slots {
		own := f.sumSlot(s)
		for _, doc := range own.docs {
			all.add(doc, own.score[doc], own.words[doc])
			if s.words[0].exact {
				quoted.add(doc, 0, 1)
			}
		}
		if s.words[0].exact {
			quotes++
		}
	}
	var best top
	best.limit = limit
	for _, doc := range all.docs {
		if f.low <= doc && doc < f.high && quoted.words[doc] == quotes {
			best.add(match{doc, all.words[doc], all.score[doc]})
		}
	}
	return best.list, best.total
}

// sumSlot scores one slot: a document has as many of its words as it holds, or
// all of them when it holds all words of an alternative.
func (f *finder) sumSlot(s slot) *sums {
	own := newSums(len(f.ix.lengths))
	for _, w := range s.words {
		for _, h := range f.hits(w) {
			own.add(h.doc, h.score, 1)
		}
	}
	for _, o := range s.others {
		other := newSums(len(f.ix.lengths))
		for _, w := range o.words {
			for _, h := range f.hits(w) {
				other.add(h.doc, h.score, 1)
			}
		}
		for _, doc := range other.docs {
			if other.words[doc] == len(o.words) {
				own.raise(doc, o.weight*other.score[doc], len(s.words))
			}
		}
	}
	return own
}

// confirm keeps the documents that hold every phrase of the query. When none
// does it keeps all and returns true.
func (f *finder) confirm(found *[]match) (loose bool) {
	if len(f.q.phrases) == 0 {
		return false
	}
	var kept []match
	for _, m := range *found {
		if f.holdsPhrases(m.doc) {
			kept = append(kept, m)
		}
	}
	if len(kept) == 0 {
		return true
	}
	*found = kept
	return false
}

// holdsPhrases reports whether title, summary or body of a document has all
// phrases, word after word.
func (f *finder) holdsPhrases(doc int) bool {
	card := f.ix.card(doc)
	text := " "
	for _, t := range []string{card[0], card[2], f.ix.body(doc)} {
		for _, token := range tokenRegexp.FindAllString(t, -1) {
			if fs := forms(token); len(fs) > 0 {
				text += fs[0] + " "
			}
		}
		text += "\n "
	}
	for _, run := range f.q.phrases {
		if !strings.Contains(text, " "+strings.Join(run, " ")+" ") {
			return false
		}
	}
	return true
}

// result reads the card of a match.
func (ix *Index) result(m match) Result {
	card := ix.card(m.doc)
	r := Result{Title: card[0], Path: card[1], Summary: card[2], Words: m.words, Score: m.score}
	for i, end := range ix.kindAt {
		if m.doc < end {
			r.Kind = ix.root.Kinds[i].Kind
			break
		}
	}
	return r
}

// card returns title, path and summary of a document.
func (ix *Index) card(doc int) [3]string {
	var out [3]string
	copy(out[:], strings.SplitN(ix.grouped("c", doc), "\n", 3))
	return out
}

// body returns the text of a document.
func (ix *Index) body(doc int) string { return ix.grouped("t", doc) }

// grouped returns a document's text in the parts of a name.
func (ix *Index) grouped(name string, doc int) string {
	group, i := doc/ix.root.Cards, doc%ix.root.Cards
	ix.note(name, group)
	if texts := ix.parts[name+strconv.Itoa(group)]; i < len(texts) {
		return texts[i]
	}
	return ""
}
