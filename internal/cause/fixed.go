package cause

import (
	"cmp"
	"slices"
)

// Fixed is a set of runs to be made together, without waiting for results.
type Fixed struct {
	Runs []Set // in the order chosen, the most telling first
	// Alone is the probability that their results leave one explanation.
	Alone float64
	// Left is the mean number of explanations that their results leave.
	Left float64
}

// fixedWork is how many times an explanation is held against a run to choose
// one run of a fixed plan. Where that does not reach all explanations, those
// of two causes are thinned out evenly.
const fixedWork = 1 << 21

// Fixed plans at most n runs to be made together, n up to 64, so that two
// explanations drawn by their probabilities are little likely to give the same
// results in all of them. Fewer are planned when more would tell nothing.
// Readings are taken to be right, also with rates.
//
// Runs are chosen one after the other, each the best beside those before it.
// That is done among the runs of each size and among all, for the best
// beginning is not always the best whole: with as many runs as elements, runs
// that leave out one element each settle one cause, and none of them is a good
// first one. In the best of these plans runs are then exchanged for better
// ones. With 12 elements and two causes this takes some 0.3 s.
func (s *Search) Fixed(n int) Fixed {
	n = min(n, 64)
	p := s.newPicker()
	best, runs := 2.0, []mask(nil)
	for size := range len(s.frame.elements) + 1 {
		tried := p.extend(nil, n, size)
		c := p.chance()
		if c < best-sameBits || c < best+sameBits && len(tried) < len(runs) {
			best, runs = c, tried
		}
	}
	for range 3 {
		changed := p.exchange(runs)
		runs = p.prune(runs)
		if !changed {
			break
		}
		runs = p.extend(runs, n, 0)
	}
	return s.measure(p.prune(runs))
}

// extend adds runs of a size, or of any with size 0, until there are n.
func (p *picker) extend(runs []mask, n, size int) []mask {
	p.without(runs, -1)
	for len(runs) < n {
		q, ok := p.pick(size)
		if !ok {
			break
		}
		runs = append(runs, q)
		p.divide(q)
	}
	return runs
}

// without divides by all runs but the one at i.
func (p *picker) without(runs []mask, i int) {
	p.gather()
	for j, q := range runs {
		if j != i {
			p.divide(q)
		}
	}
}

// prune drops the runs that tell nothing beside the others.
func (p *picker) prune(runs []mask) []mask {
	for i := len(runs) - 1; i >= 0; i-- {
		p.without(runs, i)
		if p.together(runs[i]) > p.chance()-sameBits {
			runs = slices.Delete(runs, i, i+1)
		}
	}
	return runs
}

// exchange replaces each run by a better one in turn, the others kept, and
// reports whether any was.
func (p *picker) exchange(runs []mask) bool {
	changed := false
	for i, old := range runs {
		p.without(runs, i)
		if q, ok := p.pick(0); ok && p.together(q) < p.together(old)-sameBits {
			runs[i], changed = q, true
		}
	}
	return changed
}

// picker divides explanations into cells of equal results.
type picker struct {
	s      *Search
	alive  []hypothesis
	weight []float64 // adds up to 1
	cell   []int32
	cells  int
	sums   []float64 // scratch: by cell, clean and reacting
}

func (s *Search) newPicker() *picker {
	p := &picker{s: s}
	p.thin(max(1, fixedWork/s.frame.size()))
	total := 0.0
	for _, w := range p.weight {
		total += w
	}
	for i := range p.weight {
		p.weight[i] /= total
	}
	p.gather()
	return p
}

// thin keeps the explanations of up to one cause and evenly spaced ones of
// two, about most in all, those with the weight of the ones left out.
func (p *picker) thin(most int) {
	few := 0
	for _, h := range p.s.alive {
		if h.b == 0 {
			few++
		}
	}
	every := 1 + (len(p.s.alive)-few)/max(1, most-few)
	seen := 0
	for i, h := range p.s.alive {
		w := p.s.weight[i]
		if h.b != 0 {
			seen++
			if (seen-1)%every != 0 {
				continue
			}
			w *= float64(every)
		}
		p.alive = append(p.alive, h)
		p.weight = append(p.weight, w)
	}
}

// gather puts all explanations into one cell.
func (p *picker) gather() {
	p.cell = make([]int32, len(p.alive))
	p.cells = 1
}

// divide splits every cell by the result of q.
func (p *picker) divide(q mask) {
	number := make(map[int32]int32, 2*p.cells)
	for i, h := range p.alive {
		key := 2 * p.cell[i]
		if h.reacts(q) {
			key++
		}
		c, ok := number[key]
		if !ok {
			c = int32(len(number))
			number[key] = c
		}
		p.cell[i] = c
	}
	p.cells = len(number)
}

// pick returns the run that divides the cells best: the least chance that two
// explanations drawn by their probabilities stay together; fewer elements on
// ties. A size other than 0 is the one size to choose among.
func (p *picker) pick(size int) (mask, bool) {
	best, at := p.chance()-sameBits, mask(0)
	for q := 1; q < p.s.frame.size(); q++ {
		m := mask(q)
		if size != 0 && m.len() != size {
			continue
		}
		t := p.together(m)
		if t > best+sameBits || t > best-sameBits && m.len() >= at.len() { // never before the first: it has no elements
			continue
		}
		if !p.s.expected(m) && !p.s.wasRun(m) {
			best, at = t, m
		}
	}
	return at, at != 0
}

// chance is the chance that two explanations are in one cell.
func (p *picker) chance() float64 { return p.together(0) }

// together is the chance that two explanations stay in one cell after q.
func (p *picker) together(q mask) float64 {
	p.sums = slices.Grow(p.sums[:0], 2*p.cells)[:2*p.cells]
	clear(p.sums)
	for i, h := range p.alive {
		c := 2 * p.cell[i]
		if h.reacts(q) {
			c++
		}
		p.sums[c] += p.weight[i]
	}
	t := 0.0
	for _, x := range p.sums {
		t += x * x
	}
	return t
}

// measure says what the runs achieve, over all explanations.
func (s *Search) measure(runs []mask) Fixed {
	f := Fixed{Runs: make([]Set, len(runs))}
	for i, q := range runs {
		f.Runs[i] = s.frame.unpack(q)
	}
	type cell struct {
		n      int
		weight float64
	}
	cells := map[uint64]cell{}
	total := 0.0
	for i, h := range s.alive {
		var key uint64
		for j, q := range runs {
			if h.reacts(q) {
				key |= 1 << j
			}
		}
		c := cells[key]
		cells[key] = cell{c.n + 1, c.weight + s.weight[i]}
		total += s.weight[i]
	}
	var parts []cell // in an order that does not come from the map
	for _, c := range cells {
		parts = append(parts, c)
	}
	slices.SortFunc(parts, func(a, b cell) int {
		if a.n != b.n {
			return a.n - b.n
		}
		return cmp.Compare(a.weight, b.weight)
	})
	for _, c := range parts {
		f.Left += c.weight * float64(c.n)
		if c.n == 1 {
			f.Alone += c.weight
		}
	}
	f.Left, f.Alone = f.Left/total, f.Alone/total
	return f
}
