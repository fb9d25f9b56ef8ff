package search

import (
	"cmp"
	"slices"
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
// before one with fewer. Of those with all words, the ones that have them all
// in title or names come first, and first of these the ones that have them so
// as they were written, then those that have them so or in the plural, then those
// that have more of them so as written; then the ones that have them all as they
// were written. Then the score decides, then the document's number.
func (ix *Index) Find(text, kind string, limit int) Answer {
	f := finder{ix: ix, q: ix.parse(text), typos: make(map[string][]reading)}
	f.low, f.high = ix.kindRange(kind)
	f.gather()
	if len(f.q.phrases) > 0 {
		limit = max(limit, phraseDepth)
	}
	a := Answer{Words: f.words()}
	depth := max(limit, typoTitles)
	found, total := f.search(depth)
	for _, e := range efforts {
		if len(found) > 0 && found[0].words >= f.reach() || !f.correct(e, found) {
			continue
		}
		found, total = f.search(depth)
	}
	found = found[:min(len(found), limit)]
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
	read      map[asked]readings   // of every word
	typos     map[string][]reading // readings of a word with a typo forgiven
}

// An asked is all of a word that its readings depend on.
type asked struct {
	form          string
	typing, exact bool
}

func (w word) asked() asked { return asked{w.form, w.typing, w.exact} }

// gather reads every word: first as written, then what it may stand for, as far as
// the parts that a query reads allow.
func (f *finder) gather() {
	clear(f.ix.used)
	all := f.eachWord()
	for _, w := range all {
		f.ix.lookUp(w.form)
	}
	f.ix.written = len(f.ix.used)
	f.read = make(map[asked]readings)
	for _, w := range all {
		f.read[w.asked()] = f.ix.readings(w)
	}
}

func (f *finder) eachWord() []word {
	var out []word
	for _, s := range f.q.slots {
		out = append(out, s.words...)
		for _, o := range s.others {
			out = append(out, o.words...)
		}
	}
	return out
}

// words returns how many words a document can have.
func (f *finder) words() int {
	n := 0
	for _, s := range f.q.slots {
		if !s.words[0].extra {
			n += len(s.words)
		}
	}
	return n
}

// An effort is how far a search goes to forgive a typo.
type effort struct {
	unknownOnly bool // leaves words alone that something was found for
	listed      bool // looks among all words, not only in titles
}

// efforts are made one after the other, until a document has all words. A word in
// the title of a document that has the other words is the likeliest, and to look
// there costs a reader hardly more than the results do.
var efforts = []effort{{true, false}, {true, true}, {false, false}, {false, true}}

// reach returns how many words a document can have: not those that no document
// has, however they are read. Other words are not doubted for their sake.
func (f *finder) reach() int {
	n := f.words()
	for _, s := range f.q.slots {
		if f.lost(s) {
			n--
		}
	}
	return n
}

// lost reports whether no document has a slot's only word or an alternative.
func (f *finder) lost(s slot) bool {
	unread := func(w word) bool { return len(f.read[w.asked()]) == 0 }
	w := s.words[0]
	if w.extra || len(s.words) > 1 || !unread(w) {
		return false
	}
	for _, o := range s.others {
		if !slices.ContainsFunc(o.words, unread) {
			return false
		}
	}
	typos, tried := f.typos[w.form]
	return w.exact || !isWord(w.form) || tried && len(typos) == 0
}

// correct forgives a typo, and reports whether any word has a new reading. So far
// the best documents are those found.
func (f *finder) correct(e effort, found []match) bool {
	var titles []string
	if !e.listed {
		titles = f.titleWords(found)
	}
	changed := false
	for _, w := range f.doubted(e) {
		candidates := oneAway(titles, w.form)
		if e.listed {
			candidates = f.ix.candidates(w.form)
		}
		had := f.typos[w.form]
		more := f.ix.corrections(candidates, had)
		if e.listed || len(more) > 0 { // from then on the word has been tried
			f.typos[w.form] = slices.Concat(had, more)
		}
		changed = changed || len(more) > 0
	}
	return changed
}

// doubted returns the words that may have a typo, the rarest first: it is the
// likeliest to, and the parts that a query may read may not last for all.
func (f *finder) doubted(e effort) []word {
	var out []word
	for _, s := range f.q.slots {
		for _, w := range s.words {
			if !w.exact && !w.extra && (!e.unknownOnly || len(f.read[w.asked()]) == 0) {
				out = append(out, w)
			}
		}
	}
	slices.SortStableFunc(out, func(a, b word) int {
		return cmp.Compare(f.read[a.asked()].occurrences(), f.read[b.asked()].occurrences())
	})
	return out
}

// titleWords returns the words in the titles of the first documents found.
func (f *finder) titleWords(found []match) []string {
	var out []string
	for _, m := range found[:min(len(found), typoTitles)] {
		for _, token := range tokenRegexp.FindAllString(f.ix.card(m.doc)[0], -1) {
			out = append(out, forms(token)...)
		}
	}
	return out
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
	own := f.read[w.asked()]
	var readings [][]hit
	for _, r := range slices.Concat(own, f.typos[w.form]) {
		readings = append(readings, f.ix.scratch.pool(r))
	}
	if len(readings) == 0 {
		return nil
	}
	out := f.ix.scratch.highest(readings)
	if w.typing && !own.known() { // what is written so far is written
		for i := range out {
			out[i].written, out[i].titled, out[i].near = true, out[i].head, out[i].head
		}
	}
	return out
}

// search scores the documents and returns the best, and how many have as many
// words as the first.
func (f *finder) search(limit int) ([]match, int) {
	n := len(f.ix.lengths)
	all, quoted := newSums(n), newSums(n)
	quotes := 0
	for _, s := range f.q.slots {
		own := f.sumSlot(s)
		for _, doc := range own.docs {
			if s.words[0].extra {
				all.lift(doc, own.of[doc].score)
				continue
			}
			all.add(doc, own.of[doc])
			if s.words[0].exact {
				quoted.add(doc, own.of[doc])
			}
		}
		if s.words[0].exact {
			quotes++
		}
	}
	best := top{limit: limit, words: f.words()}
	for _, doc := range all.docs {
		if f.low <= doc && doc < f.high && quoted.of[doc].words == quotes {
			best.add(doc, all.of[doc])
		}
	}
	return best.list, best.total
}

// sumSlot scores one slot: a document has as many of its words as it holds, or
// all of them when it holds all words of an alternative.
func (f *finder) sumSlot(s slot) *sums {
	own := f.sumWords(s.words)
	for _, o := range s.others {
		other := f.sumWords(o.words)
		for _, doc := range other.docs {
			if sum := other.of[doc]; sum.words == len(o.words) {
				own.raise(doc, sum.standFor(len(s.words), o.weight))
			}
		}
	}
	return own
}

func (f *finder) sumWords(words []word) *sums {
	out := newSums(len(f.ix.lengths))
	for _, w := range words {
		for _, h := range f.hits(w) {
			out.add(h.doc, h.sum())
		}
	}
	return out
}

// confirm keeps the documents that hold every phrase of the query. When none
// does it keeps all and returns true.
func (f *finder) confirm(found *[]match) (loose bool) {
	if len(f.q.phrases) == 0 || len(*found) == 0 {
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
	copy(out[:], strings.SplitN(ix.grouped("c", ix.root.Cards, doc), "\n", 3))
	return out
}

// body returns the text of a document.
func (ix *Index) body(doc int) string { return ix.grouped("t", ix.root.Bodies, doc) }

// grouped returns a document's text in the parts of a name, size to a part.
func (ix *Index) grouped(name string, size, doc int) string {
	group, i := doc/size, doc%size
	ix.note(name, group)
	if texts := ix.parts[name+strconv.Itoa(group)]; i < len(texts) {
		return texts[i]
	}
	return ""
}
