package cause

import (
	"cmp"
	"fmt"
	"math"
	"slices"
)

// Why says what a step is for.
type Why uint8

// The uses of a step. The zero value is no step.
const (
	None    Why = iota
	Split       // its result divides the explanations
	Confirm     // one explanation of so few causes is left, and this cause of it was never run by itself
	Exclude     // that explanation was confirmed, and there may be one more cause
	Repeat      // a run made before, made again because it may have been misread
)

// String returns the word for the use.
func (w Why) String() string {
	switch w {
	case None:
		return "none"
	case Split:
		return "split"
	case Confirm:
		return "confirm"
	case Exclude:
		return "exclude"
	case Repeat:
		return "repeat"
	default:
		return fmt.Sprintf("Why(%d)", uint8(w))
	}
}

// Step is a run to make next.
type Step struct {
	Run Set
	Why Why
	// Reacts is the probability, by all explanations, that it will be read as
	// reacting.
	Reacts float64
	// Bits is what its result is expected to tell about all explanations, at
	// most 1.
	Bits float64
	// IfReacts and IfClean count the explanations that stay possible. With
	// rates none ever goes, and both are all of them.
	IfReacts, IfClean int
}

// Explanation is a set of causes that hold at once and together account for
// every reaction. Given causes are not repeated in it. No causes at all means
// that nothing (more) reacts.
type Explanation struct {
	Causes []Set // by Set.Compare
	P      float64
	// Missed and False count the runs that it calls misread.
	Missed, False int
}

// Belief is a set with the probability that it is one of the causes.
type Belief struct {
	Cause Set
	P     float64
}

// Left is how many explanations the runs leave possible.
func (s *Search) Left() int { return len(s.alive) }

// Next proposes the run whose result tells most, of those the one with fewest
// elements, and of those the first by Set.Compare.
//
// Without rates it never proposes a run already made, and looks at the
// explanations of the fewest causes first. When one of these is left, its
// causes are each run by themselves, and only then is what more causes would
// add excluded. There is no step when nothing is left to learn, or only a run
// in conflict could tell more.
//
// With rates it looks at all explanations by their probability. There is
// always something to learn then, and when to stop is the caller's to say, by
// the probability of the leading explanation.
func (s *Search) Next() (Step, bool) {
	if !s.rates.exact() {
		return s.pick(2, Split)
	}
	fewest, front := 2, 0
	var lead hypothesis
	for _, h := range s.alive {
		switch n := h.causes(); {
		case n < fewest:
			fewest, front, lead = n, 1, h
		case n == fewest:
			front, lead = front+1, h
		}
	}
	if front > 1 {
		return s.pick(fewest, Split)
	}
	for _, c := range s.unpack(lead) {
		if !slices.Contains(s.made, c) {
			return s.step(s.frame.pack(c), Confirm), true
		}
	}
	if fewest == 0 && len(s.Given) == 0 {
		return s.pick(2, Split)
	}
	return s.pick(2, Exclude)
}

// Two runs whose results tell as much to within sameBits are equal, so that
// the order of additions decides nothing. A result that tells less than
// minBits tells nothing.
const sameBits, minBits = 1e-9, 1e-9

// pick chooses the run that tells most about the explanations of up to so many
// causes.
func (s *Search) pick(causes int, why Why) (Step, bool) {
	total, react := s.spread(causes)
	most, at := minBits, mask(0)
	for q := 1; q < s.frame.size(); q++ {
		m := mask(q)
		_, bits := s.rates.tells(react[q] / total)
		d := bits - most
		better := d > sameBits || d > -sameBits && at != 0 && m.len() < at.len()
		if better && !s.expected(m) && !(s.rates.exact() && s.wasRun(m)) {
			most, at = bits, m
		}
	}
	if at == 0 {
		return Step{}, false
	}
	return s.step(at, why), true
}

// step describes a run.
func (s *Search) step(q mask, why Why) Step {
	if s.wasRun(q) {
		why = Repeat
	}
	t := Step{Run: s.frame.unpack(q), Why: why}
	total, react := 0.0, 0.0
	for i, h := range s.alive {
		total += s.weight[i]
		if h.reacts(q) {
			react += s.weight[i]
			t.IfReacts++
		}
	}
	t.Reacts, t.Bits = s.rates.tells(react / total)
	t.IfClean = len(s.alive) - t.IfReacts
	if !s.rates.exact() {
		t.IfReacts, t.IfClean = len(s.alive), len(s.alive)
	}
	return t
}

// spread returns the weight of the explanations of up to so many causes, and
// of those among them by which each subset of the frame reacts. Of an
// explanation with causes a and b the subsets that contain a or b are those
// that contain a, and those that contain b, less those that contain both.
func (s *Search) spread(causes int) (total float64, react []float64) {
	react = make([]float64, s.frame.size())
	for i, h := range s.alive {
		if h.causes() > causes {
			continue
		}
		w := s.weight[i]
		total += w
		if h.a != 0 {
			react[h.a] += w
		}
		if h.b != 0 {
			react[h.b] += w
			react[h.a|h.b] -= w
		}
	}
	sum(react)
	return total, react
}

// tells returns the chance that a run is read as reacting when it reacts with
// chance p, and what the reading tells about it in bits: the entropy of the
// reading less the entropy that misreading alone gives it.
func (r Rates) tells(p float64) (read, bits float64) {
	p = min(max(p, 0), 1) // sums of rounded weights stray a little
	read = p*(1-r.Missed) + (1-p)*r.False
	return read, entropy(read) - p*entropy(r.Missed) - (1-p)*entropy(r.False)
}

// entropy of a coin, in bits.
func entropy(p float64) float64 {
	if p <= 0 || p >= 1 {
		return 0
	}
	return -p*math.Log2(p) - (1-p)*math.Log2(1-p)
}

func (s *Search) wasRun(m mask) bool { return slices.Contains(s.made, s.frame.unpack(m)) }

// unpack returns the causes of h in order.
func (s *Search) unpack(h hypothesis) []Set {
	h = h.ordered()
	causes := make([]Set, 0, 2)
	for _, m := range [...]mask{h.a, h.b} {
		if m != 0 {
			causes = append(causes, s.frame.unpack(m))
		}
	}
	return causes
}

// Explanations returns the n most probable explanations, the most probable
// first, fewer causes first among equals. All of them when n is negative.
func (s *Search) Explanations(n int) []Explanation {
	if n < 0 || n > len(s.alive) {
		n = len(s.alive)
	}
	order := make([]int, len(s.alive))
	total := 0.0
	for i, w := range s.weight {
		order[i] = i
		total += w
	}
	if n < len(order)/2 {
		order = s.first(n)
	} else {
		slices.SortFunc(order, s.compare)
	}
	out := make([]Explanation, n)
	for k, i := range order {
		out[k] = Explanation{Causes: s.unpack(s.alive[i]), P: s.weight[i] / total}
		out[k].Missed, out[k].False = s.misread(s.alive[i])
	}
	return out
}

// first returns what sorting all explanations would put first, without
// sorting all of them.
func (s *Search) first(n int) []int {
	best := make([]int, 0, n+1)
	for i := range s.alive {
		if len(best) == n && (n == 0 || s.compare(i, best[n-1]) > 0) {
			continue
		}
		at, _ := slices.BinarySearchFunc(best, i, s.compare)
		best = slices.Insert(best, at, i)
		best = best[:min(n, len(best))]
	}
	return best
}

// compare orders explanations by their place in alive. Masks compare as the
// sets that they stand for do.
func (s *Search) compare(i, j int) int {
	if d := cmp.Compare(s.weight[j], s.weight[i]); d != 0 {
		return d
	}
	g, h := s.alive[i].ordered(), s.alive[j].ordered()
	return cmp.Or(cmp.Compare(g.causes(), h.causes()), g.a.compare(h.a), g.b.compare(h.b))
}

// ordered has the smaller cause as a.
func (h hypothesis) ordered() hypothesis {
	if h.b != 0 && h.b.compare(h.a) < 0 {
		return hypothesis{h.b, h.a}
	}
	return h
}

// misread counts the readings that h contradicts.
func (s *Search) misread(h hypothesis) (missed, false int) {
	for _, t := range s.ran {
		if h.reacts(t.set) {
			missed += t.clean
		} else {
			false += t.reacted
		}
	}
	return missed, false
}

// Beliefs returns every set that is a cause in some explanation left, with
// the probability that it is one, the most probable first. With two causes at
// once the probabilities add up to more than 1.
func (s *Search) Beliefs() []Belief {
	weight := make([]float64, s.frame.size())
	total := 0.0
	for i, h := range s.alive {
		weight[h.a] += s.weight[i]
		if h.b != 0 {
			weight[h.b] += s.weight[i]
		}
		total += s.weight[i]
	}
	var out []Belief
	for m, w := range weight {
		if m != 0 && w > 0 {
			out = append(out, Belief{s.frame.unpack(mask(m)), w / total})
		}
	}
	slices.SortFunc(out, func(a, b Belief) int {
		return cmp.Or(cmp.Compare(b.P, a.P), a.Cause.Compare(b.Cause))
	})
	return out
}
