package cause

import (
	"fmt"
	"math"
	"slices"
)

// Limits bounds what a search takes into account. The zero value stands for
// the default: up to two causes at once, of up to three elements each.
//
// Limits steer the plan and the probabilities. They never enter Explain, and a
// search whose runs fit nothing inside its limits widens them; see Search.
type Limits struct {
	Causes int // 1 or 2, 0 for the default 2
	Size   int // elements in a cause, 1 or more, 0 for the default 3
}

// Question is what a search is asked.
type Question struct {
	Runs []Run
	// Within is the set whose subsets may be run. Empty stands for all that
	// was in a reacting run; then a reaction must have been seen.
	Within Set
	Limits Limits
	Rates  Rates
}

// The prior odds of no cause, one and two causes within a set that nobody has
// run. All explanations of as many causes are equally likely. Half the weight
// on no cause makes the whole set the first run of a plan that starts from
// nothing. One cause to two at 3 to 1 is our choice. Without rates it decides
// only which run rules out a second cause best, and plans are as long to a
// tenth of a run with 1 to 1 or 9 to 1.
const oddsNone, oddsOne, oddsTwo = 4, 3, 1

// hypothesis is up to two causes that hold at once, a unless 0 and b unless 0.
// b is only used with a, and neither contains the other.
type hypothesis struct{ a, b mask }

func (h hypothesis) reacts(q mask) bool {
	return h.a != 0 && q.contains(h.a) || h.b != 0 && q.contains(h.b)
}

func (h hypothesis) causes() int {
	switch {
	case h.a == 0:
		return 0
	case h.b == 0:
		return 1
	default:
		return 2
	}
}

// Search holds the explanations that the runs leave possible, with their
// probabilities, and proposes what to run next. It is not changed by its
// methods.
//
// Without rates, explanations that a run refutes are gone. If none is left
// inside the limits, the search widens: it takes the established causes as
// given and looks for up to Limits.Causes more; and if that fits nothing
// either, for one cause of any size inside the smallest reacting run that is
// not accounted for. Given, Within and Limits say where it stands.
//
// With rates every explanation stays, with its posterior probability.
type Search struct {
	Within Set    // what may be run
	Limits Limits // in force
	Given  []Set  // established causes that the search takes as given
	Total  int    // explanations inside the limits before any run

	frame  frame
	ev     evidence
	rates  Rates
	given  []mask
	made   []Set // every set that was run, in order
	ran    []tally
	alive  []hypothesis
	weight []float64 // of alive, not scaled; whole numbers without rates
}

// NewSearch weighs the explanations of the runs. It fails when the rates or
// limits are out of range or too wide, and when what must be searched next has
// more than 16 elements: Within, or the smallest reacting run not accounted
// for.
func NewSearch(q Question) (*Search, error) {
	if err := q.Rates.check(); err != nil {
		return nil, err
	}
	lim, err := q.Limits.fill()
	if err != nil {
		return nil, err
	}
	s := &Search{Within: q.Within, Limits: lim, rates: q.Rates, ev: sift(q.Runs)}
	for _, r := range q.Runs {
		s.made = append(s.made, r.Members)
	}
	s.made = tidy(s.made)
	if n := s.Within.Len(); n > maxWithin {
		return nil, tooMany(n)
	}
	if s.Within == 0 {
		for _, r := range s.reacting() {
			s.Within |= r
		}
	}
	n := s.Within.Len()
	if n <= maxWithin && lim.Causes == 2 && most(n, lim.Size) > maxExplanations {
		return nil, fmt.Errorf("two causes of up to %d among %d elements are too many explanations", lim.Size, n)
	}
	if err := s.settle(q.Runs); err != nil {
		return nil, err
	}
	return s, nil
}

// maxExplanations keeps a search under some 100 MB. 12 elements fit with
// causes of up to 6, 16 elements with causes of up to 4.
const maxExplanations = 1 << 22

// most is about how many pairs of causes of up to size there are among n
// elements.
func most(n, size int) int {
	sets, choose := 0, 1
	for k := 1; k <= min(n, size, maxWithin); k++ {
		choose = choose * (n - k + 1) / k
		sets += choose
	}
	return sets * (sets - 1) / 2
}

// settle weighs the explanations within ever wider limits until some are left.
func (s *Search) settle(runs []Run) error {
	known := s.ev.causes()
	if s.Within.Len() <= maxWithin {
		for _, given := range [][]Set{nil, within(known, s.Within)} {
			s.Given = given
			if s.weigh(runs); len(s.alive) > 0 {
				return nil
			}
		}
	}
	s.Given = nil
	for _, r := range s.reacting() {
		if slices.ContainsFunc(known, r.Contains) || s.Within != 0 && !s.Within.Contains(r) {
			continue
		}
		if r.Len() > maxWithin {
			return tooMany(r.Len())
		}
		s.Within, s.Limits = r, Limits{Causes: 1, Size: r.Len()}
		s.weigh(runs)
		return nil
	}
	s.Within, s.Given = 0, known // all accounted for
	s.weigh(nil)
	return nil
}

func tooMany(n int) error {
	return fmt.Errorf("cannot search among %d elements; the most is %d", n, maxWithin)
}

// fill puts the defaults in.
func (l Limits) fill() (Limits, error) {
	if l.Causes < 0 || l.Causes > 2 || l.Size < 0 {
		return l, fmt.Errorf("limits of %d causes of %d elements; causes are 1 or 2 and elements 1 or more",
			l.Causes, l.Size)
	}
	if l.Causes == 0 {
		l.Causes = 2
	}
	if l.Size == 0 {
		l.Size = 3
	}
	return l, nil
}

// reacting is the reacting runs that count: with rates a conflict is for the
// rates to settle.
func (s *Search) reacting() []Set {
	if s.rates.exact() {
		return s.ev.sound
	}
	return s.ev.reacting
}

// weigh fills in the explanations and their weights.
func (s *Search) weigh(runs []Run) {
	s.frame = newFrame(s.Within)
	s.given = s.given[:0]
	for _, g := range s.Given {
		s.given = append(s.given, s.frame.pack(g))
	}
	s.tally(runs)
	single := s.singles()
	pairs := 0
	if s.Limits.Causes == 2 {
		pairs = count(single)
	}
	s.Total = 1 + len(single) + pairs
	prior := prior(len(single), pairs)
	if s.rates.exact() {
		s.refute(single, prior)
		return
	}
	s.alive = s.hypotheses(single)
	s.update(prior)
}

// singles lists the sets that could be a cause inside the limits.
func (s *Search) singles() []mask {
	var single []mask
	for t := range subsets(Set(s.frame.size()-1), s.Limits.Size) {
		if m := mask(t); m != 0 && !s.expected(m) {
			single = append(single, m)
		}
	}
	return single
}

// count returns how many pairs of the sets can be causes at once.
func count(single []mask) int {
	n := 0
	for i, a := range single {
		for _, b := range single[i+1:] {
			if !a.contains(b) && !b.contains(a) {
				n++
			}
		}
	}
	return n
}

// prior returns the weight of an explanation of no, one or two causes, from
// how many there are of one and two. They are whole numbers, so that without
// rates all sums are exact: with 16 elements and the default limits the sum is
// under 2^31.
func prior(ones, twos int) [3]float64 {
	one, two := float64(max(ones, 1)), float64(max(twos, 1))
	return [3]float64{oddsNone * one * two, oddsOne * two, oddsTwo * one}
}

// hypotheses lists every explanation by the given sets.
func (s *Search) hypotheses(single []mask) []hypothesis {
	all := make([]hypothesis, 1, 1+len(single))
	for _, m := range single {
		all = append(all, hypothesis{a: m})
	}
	if s.Limits.Causes == 1 {
		return all
	}
	for i, a := range single {
		for _, b := range single[i+1:] {
			if !a.contains(b) && !b.contains(a) {
				all = append(all, hypothesis{a, b})
			}
		}
	}
	return all
}

// expected reports whether q reacts by a given cause.
func (s *Search) expected(q mask) bool {
	for _, g := range s.given {
		if q.contains(g) {
			return true
		}
	}
	return false
}

// refute keeps the explanations that agree with every run. The causes that lie
// inside a clean run go first, before they are paired.
func (s *Search) refute(single []mask, prior [3]float64) {
	single = slices.DeleteFunc(single, func(m mask) bool {
		return slices.ContainsFunc(s.ran, func(t tally) bool { return t.clean > 0 && t.set.contains(m) })
	})
	s.alive = slices.DeleteFunc(s.hypotheses(single), func(h hypothesis) bool { return !s.agrees(h) })
	s.weight = make([]float64, len(s.alive))
	for i, h := range s.alive {
		s.weight[i] = prior[h.causes()]
	}
}

// agrees reports whether h explains every reaction; its causes lie in no clean
// run.
func (s *Search) agrees(h hypothesis) bool {
	for i := range s.ran {
		t := &s.ran[i]
		if t.reacted > 0 && !h.reacts(t.set) {
			return false
		}
	}
	return true
}

// update multiplies the prior by the chance of the readings. It works with
// logarithms and scales by the largest, so that many runs do not end in 0.
func (s *Search) update(prior [3]float64) {
	chance := s.chance()
	s.weight = make([]float64, len(s.alive))
	top := math.Inf(-1)
	for i, h := range s.alive {
		w := math.Log(prior[h.causes()]) + chance(h)
		s.weight[i] = w
		top = max(top, w)
	}
	kept := 0
	for i, w := range s.weight {
		if math.IsInf(w, -1) { // one rate is 0 and a run refutes it
			continue
		}
		s.alive[kept], s.weight[kept] = s.alive[i], math.Exp(w-top)
		kept++
	}
	s.alive, s.weight = s.alive[:kept], s.weight[:kept]
}

// chance returns what gives the log of the chance of all readings by an
// explanation, but for a constant.
//
// With neither rate 0 it does not go through the runs each time: a run that
// reacts adds a gain over its being clean, the gains of the runs that hold a
// given set are summed once for all sets, and those that hold a or b are those
// that hold a, and those that hold b, less those that hold both.
func (s *Search) chance() func(hypothesis) float64 {
	if s.rates.Missed == 0 || s.rates.False == 0 {
		return func(h hypothesis) float64 {
			w := 0.0
			for i := range s.ran {
				w += s.ran[i].chance(h)
			}
			return w
		}
	}
	gain := make([]float64, s.frame.size())
	for _, t := range s.ran {
		gain[t.set] = t.ifReacts - t.ifClean
	}
	sumAbove(gain)
	return func(h hypothesis) float64 {
		switch h.causes() {
		case 0:
			return 0
		case 1:
			return gain[h.a]
		default:
			return gain[h.a] + gain[h.b] - gain[h.a|h.b]
		}
	}
}

// tally is what was read of one subset of the frame.
type tally struct {
	set            mask
	reacted, clean int
	ifReacts       float64 // log of the chance of these readings
	ifClean        float64
}

func (t *tally) chance(h hypothesis) float64 {
	if h.reacts(t.set) {
		return t.ifReacts
	}
	return t.ifClean
}

// tally counts the runs by their part inside the frame. A reacting run that
// reaches outside says nothing, for its cause may be there; a clean one is
// clean inside as well. Without rates the runs in conflict are left out, and
// so is what a given cause accounts for.
func (s *Search) tally(runs []Run) {
	count := map[mask]*tally{}
	add := func(set Set, reacted, clean int) {
		m := s.frame.pack(set)
		if m == 0 || s.expected(m) {
			return
		}
		if count[m] == nil {
			count[m] = &tally{set: m}
		}
		count[m].reacted += reacted
		count[m].clean += clean
	}
	if s.rates.exact() {
		for _, r := range within(s.ev.sound, s.Within) {
			add(r, 1, 0)
		}
		for _, c := range s.ev.clean {
			add(c, 0, 1)
		}
	} else {
		for _, r := range runs {
			if !r.Reacted {
				add(r.Members, 0, 1)
			} else if s.Within.Contains(r.Members) {
				add(r.Members, 1, 0)
			}
		}
	}
	s.ran = make([]tally, 0, len(count))
	for _, t := range count {
		t.ifReacts = times(t.clean, s.rates.Missed) + times(t.reacted, 1-s.rates.Missed)
		t.ifClean = times(t.reacted, s.rates.False) + times(t.clean, 1-s.rates.False)
		s.ran = append(s.ran, *t)
	}
	slices.SortFunc(s.ran, func(a, b tally) int { return int(a.set) - int(b.set) })
}

// times is n·log p, and 0 for no n even when p is 0.
func times(n int, p float64) float64 {
	if n == 0 {
		return 0
	}
	return float64(n) * math.Log(p)
}
