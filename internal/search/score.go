package search

// The score is BM25 over weighted frequencies: the fields of a document are
// one text in which a title word stands eight times. Robertson, Zaragoza and
// Taylor, "Simple BM25 extension to multiple weighted fields" (CIKM 2004).
//
// Both sides compute it by additions, multiplications and divisions alone, in
// the same order, so that they agree to the last bit; a library's logarithm
// does not. Products are converted before they are added, since Go may fuse
// the two otherwise.
//
// b is below the usual 0.75: title words that stand eight times make lengths differ
// where texts do not. Chosen on the half of the queries of bench that may be seen.
const (
	k1  = 1.2
	b25 = 0.3
)

// What a match by other than the form itself counts.
const (
	weightPlural     = 0.95 // the plural or the singular
	weightVariant    = 0.85 // another form of the same stem
	weightCompletion = 0.7  // a longer word, while this one is being typed
	weightTypo       = 0.6  // a word one letter away
	weightSame       = 0.8  // a synonym, or the parts of a compound
)

// logarithm returns the logarithm of x, which is 1 or more, to base 2, exact to
// about 2⁻³⁰.
func logarithm(x float64) float64 {
	whole := 0.0
	for x >= 2 {
		x /= 2
		whole++
	}
	bit := 0.5
	for range 30 {
		x *= x
		if x >= 2 {
			x /= 2
			whole += bit
		}
		bit /= 2
	}
	return whole
}

// rarity is the inverse document frequency of something found in n of all
// documents.
func rarity(all, n int) float64 {
	return logarithm((float64(all) + 1) / (float64(n) + 0.5))
}

// A scratch holds sums by document while a query is worked on.
type scratch struct {
	all   int
	slack []float64 // k1·(1−b+b·length/average), by number
	freq  []int
	best  []float64
	place []int // of the hit in the list being made, plus 1
}

func newScratch(r *root, lengths []int) scratch {
	s := scratch{
		all:   len(lengths),
		slack: make([]float64, len(lengths)),
		freq:  make([]int, len(lengths)),
		best:  make([]float64, len(lengths)),
		place: make([]int, len(lengths)),
	}
	average := float64(r.Total) / float64(r.Docs)
	for i, n := range lengths {
		s.slack[i] = k1 * (1 - b25 + float64(b25*(float64(n)/average)))
	}
	return s
}

// A hit is a document that has a word.
type hit struct {
	doc     int
	score   float64
	head    bool // in the title or a name
	written bool // as it was written in the query
	titled  bool // both at once
	near    bool // in the title or a name, as written or in its plural or singular
}

// mark notes an occurrence of a form that weighs so much.
func (h *hit) mark(head bool, weight float64) {
	h.head = h.head || head
	h.written = h.written || weight == 1
	h.titled = h.titled || head && weight == 1
	h.near = h.near || head && weight >= weightPlural
}

// A weighted is one form that a word is read as.
type weighted struct {
	form   string
	weight float64
	list   []occurrence
}

// pool scores the forms of one reading as one word: frequencies are added, the
// rarity is that of all documents with any of them, and each document counts
// by the best of its forms.
func (s *scratch) pool(forms reading) []hit {
	var hits []hit
	for _, f := range forms {
		for _, o := range f.list {
			if s.place[o.doc] == 0 {
				hits = append(hits, hit{doc: o.doc})
				s.place[o.doc] = len(hits)
			}
			hits[s.place[o.doc]-1].mark(o.weight >= headWeight, f.weight)
			s.freq[o.doc] += o.weight
			s.best[o.doc] = max(s.best[o.doc], f.weight)
		}
	}
	idf := rarity(s.all, len(hits))
	for i := range hits {
		h := &hits[i]
		freq := float64(s.freq[h.doc])
		h.score = s.best[h.doc] * idf * (freq * (k1 + 1) / (freq + s.slack[h.doc]))
		s.freq[h.doc], s.best[h.doc], s.place[h.doc] = 0, 0, 0
	}
	return hits
}

// highest joins the hits of several readings: each document has its best.
func (s *scratch) highest(readings [][]hit) []hit {
	if len(readings) == 1 {
		return readings[0]
	}
	var out []hit
	for _, hits := range readings {
		for _, h := range hits {
			if s.place[h.doc] == 0 {
				out = append(out, h)
				s.place[h.doc] = len(out)
				continue
			}
			best := &out[s.place[h.doc]-1]
			best.score = max(best.score, h.score)
			best.head = best.head || h.head
			best.written = best.written || h.written
			best.titled = best.titled || h.titled
			best.near = best.near || h.near
		}
	}
	for _, h := range out {
		s.place[h.doc] = 0
	}
	return out
}
