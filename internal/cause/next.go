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
	Split       // its result divides what is possible
	Confirm     // one explanation is left, and this cause of it was never run by itself
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
	// Reacts is the probability that it will be read as reacting.
	Reacts float64
	// Bits is what its result is expected to tell, at most 1.
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
// elements, and of those the first by Set.Compare. Without rates it never
// proposes a run already made. It returns no step when there is nothing left
// to learn: one explanation is left and its causes were run by themselves, or
// only a run in conflict could tell more.
// With rates there is always something to learn, and when to stop is the
// caller's to say, by the probability of the leading explanation.
func (s *Search) Next() (Step, bool) {
	total, react := s.spread()
	best := Step{Bits: minBits}
	var at mask
	for q := 1; q < s.frame.size(); q++ {
		m := mask(q)
		p, bits := s.rates.tells(react[q] / total)
		d := bits - best.Bits
		better := d > sameBits || d > -sameBits && at != 0 && m.len() < at.len()
		if better && !s.expected(m) && !(s.rates.exact() && s.wasRun(m)) {
			best, at = Step{Why: Split, Reacts: p, Bits: bits}, m
		}
	}
	if at == 0 {
		return s.confirm()
	}
	best.Run = s.frame.unpack(at)
	if s.wasRun(at) {
		best.Why = Repeat
	}
	best.IfReacts, best.IfClean = s.leaves(at)
	return best, true
}

// Two runs whose results tell as much to within sameBits are equal, so that
// the order of additions decides nothing. A result that tells less than
// minBits tells nothing.
const sameBits, minBits = 1e-9, 1e-9

// spread returns the weight of all explanations, and of those by which each
// subset of the frame reacts. Of an explanation with causes a and b the
// subsets that contain a or b are those that contain a, and those that contain
// b, less those that contain both.
func (s *Search) spread() (total float64, react []float64) {
	react = make([]float64, s.frame.size())
	for i, h := range s.alive {
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

// leaves counts the explanations left by either result of a run.
func (s *Search) leaves(q mask) (ifReacts, ifClean int) {
	if !s.rates.exact() {
		return len(s.alive), len(s.alive)
	}
	for _, h := range s.alive {
		if h.reacts(q) {
			ifReacts++
		}
	}
	return ifReacts, len(s.alive) - ifReacts
}

// confirm proposes a cause of the one explanation left that was never run by
// itself: until it was, it is not established.
func (s *Search) confirm() (Step, bool) {
	if len(s.alive) != 1 || !s.rates.exact() {
		return Step{}, false
	}
	for _, c := range s.unpack(s.alive[0]) {
		if !slices.Contains(s.made, c) {
			return Step{Run: c, Why: Confirm, Reacts: 1, IfReacts: 1}, true
		}
	}
	return Step{}, false
}

// unpack returns the causes of h in order.
func (s *Search) unpack(h hypothesis) []Set {
	var causes []Set
	for _, m := range []mask{h.a, h.b} {
		if m != 0 {
			causes = append(causes, s.frame.unpack(m))
		}
	}
	slices.SortFunc(causes, Set.Compare)
	return causes
}

// Explanations returns the n most probable explanations, the most probable
// first, fewer causes first among equals. All of them when n is negative.
func (s *Search) Explanations(n int) []Explanation {
	order := make([]int, len(s.alive))
	total := 0.0
	for i, w := range s.weight {
		order[i] = i
		total += w
	}
	slices.SortFunc(order, func(i, j int) int {
		return cmp.Or(cmp.Compare(s.weight[j], s.weight[i]), s.compare(s.alive[i], s.alive[j]))
	})
	if n >= 0 && n < len(order) {
		order = order[:n]
	}
	out := make([]Explanation, len(order))
	for k, i := range order {
		out[k] = Explanation{Causes: s.unpack(s.alive[i]), P: s.weight[i] / total}
		out[k].Missed, out[k].False = s.misread(s.alive[i])
	}
	return out
}

func (s *Search) compare(g, h hypothesis) int {
	return cmp.Or(cmp.Compare(g.causes(), h.causes()),
		slices.CompareFunc(s.unpack(g), s.unpack(h), Set.Compare))
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
