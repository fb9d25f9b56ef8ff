package search

import "cmp"

// A sum is what a document has of a query so far.
type sum struct {
	words   int // how many of its words, 1 or more
	heads   int // how many in title or names
	written int // how many as they were written
	titled  int // how many in title or names, as they were written
	near    int // how many there so, or in the plural or singular
	score   float64
}

func (h hit) sum() sum {
	return sum{words: 1, heads: one(h.head), written: one(h.written), titled: one(h.titled), near: one(h.near), score: h.score}
}

func one(b bool) int {
	if b {
		return 1
	}
	return 0
}

// standFor returns what a full alternative counts in place of n words.
func (s sum) standFor(n int, weight float64) sum {
	out := sum{words: n, score: weight * s.score}
	if s.heads == s.words {
		out.heads = n
	}
	return out
}

// sums adds up by document.
type sums struct {
	of   []sum
	docs []int // those with any, in the order in which they were met
}

func newSums(n int) *sums { return &sums{of: make([]sum, n)} }

func (s *sums) add(doc int, more sum) {
	have := &s.of[doc]
	if have.words == 0 {
		s.docs = append(s.docs, doc)
	}
	have.words += more.words
	have.heads += more.heads
	have.written += more.written
	have.titled += more.titled
	have.near += more.near
	have.score += more.score
}

// lift raises the score of a document that is there already.
func (s *sums) lift(doc int, score float64) {
	if s.of[doc].words > 0 {
		s.of[doc].score += score
	}
}

// raise gives a document what it has by another name, if that is more words. If
// it is as many, the document keeps having what it has as written: a page that
// has a word in its title does not sink because it also has a synonym there.
func (s *sums) raise(doc int, other sum) {
	have := &s.of[doc]
	if have.words > other.words {
		return
	}
	if have.words == other.words {
		have.score, have.heads = max(have.score, other.score), max(have.heads, other.heads)
		return
	}
	if have.words == 0 {
		s.docs = append(s.docs, doc)
	}
	*have = other
}

// A match is a document found.
type match struct {
	doc, words int
	rank       int // see top.add
	titled     int // words in title or names as they were written, of a document that has all there
	score      float64
}

// compareMatches orders matches, the best first: all words first.
func compareMatches(a, b match) int {
	return cmp.Or(
		cmp.Compare(b.words, a.words),
		cmp.Compare(b.rank, a.rank),
		cmp.Compare(b.titled, a.titled),
		cmp.Compare(b.score, a.score),
		cmp.Compare(a.doc, b.doc))
}

// A top keeps the best matches in order.
type top struct {
	limit int
	words int // in the query
	list  []match
	most  int // words of the first
	total int // matches with as many
}

func (t *top) add(doc int, s sum) {
	m := match{doc: doc, words: s.words, score: s.score}
	switch t.words {
	case s.titled:
		m.rank = 4
	case s.near:
		m.rank = 3
	case s.heads:
		m.rank = 2
	case s.written:
		m.rank = 1
	}
	if s.heads == t.words {
		m.titled = s.titled
	}
	if m.words > t.most {
		t.most, t.total = m.words, 0
	}
	if m.words == t.most {
		t.total++
	}
	t.list = append(t.list, m)
	for i := len(t.list) - 1; i > 0 && compareMatches(t.list[i], t.list[i-1]) < 0; i-- {
		t.list[i], t.list[i-1] = t.list[i-1], t.list[i]
	}
	t.list = t.list[:min(len(t.list), t.limit)]
}
