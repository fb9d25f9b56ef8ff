package search

import "cmp"

// sums adds up scores by document.
type sums struct {
	score []float64
	words []int
	docs  []int // those with any, in the order in which they were met
}

func newSums(n int) *sums {
	return &sums{score: make([]float64, n), words: make([]int, n)}
}

// add counts one or more words, with their score.
func (s *sums) add(doc int, score float64, words int) {
	if s.words[doc] == 0 {
		s.docs = append(s.docs, doc)
	}
	s.score[doc] += score
	s.words[doc] += words
}

// raise replaces what a document has by more words, or as many with a higher
// score.
func (s *sums) raise(doc int, score float64, words int) {
	if s.words[doc] > words || s.words[doc] == words && s.score[doc] >= score {
		return
	}
	if s.words[doc] == 0 {
		s.docs = append(s.docs, doc)
	}
	s.score[doc], s.words[doc] = score, words
}

// A match is a document with how many words of the query it has, and its score.
type match struct {
	doc, words int
	score      float64
}

// compareMatches orders matches, the best first: all words first.
func compareMatches(a, b match) int {
	return cmp.Or(cmp.Compare(b.words, a.words), cmp.Compare(b.score, a.score), cmp.Compare(a.doc, b.doc))
}

// A top keeps the best matches in order.
type top struct {
	limit int
	list  []match
	total int // matches with as many words as the first
}

func (t *top) add(m match) {
	switch {
	case len(t.list) == 0 || m.words > t.list[0].words:
		t.total = 1
	case m.words == t.list[0].words:
		t.total++
	}
	if len(t.list) == t.limit && (t.limit == 0 || compareMatches(m, t.list[t.limit-1]) > 0) {
		return
	}
	t.list = append(t.list, m)
	for i := len(t.list) - 1; i > 0 && compareMatches(t.list[i], t.list[i-1]) < 0; i-- {
		t.list[i], t.list[i-1] = t.list[i-1], t.list[i]
	}
	t.list = t.list[:min(len(t.list), t.limit)]
}
