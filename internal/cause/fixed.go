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

// Fixed plans at most n runs to be made together, n up to 64. They are chosen
// one after the other, each so that two explanations drawn by their
// probabilities are least likely to give the same results, then each is
// exchanged once for a better one. Fewer than n are planned when more would
// tell nothing. Readings are taken to be right, also with rates.
func (s *Search) Fixed(n int) Fixed {
	p := s.newPicker()
	var runs []mask
	for len(runs) < min(n, 64) {
		q, ok := p.pick()
		if !ok {
			break
		}
		runs = append(runs, q)
		p.divide(q)
	}
	for i := range runs {
		p.gather()
		for j, q := range runs {
			if j != i {
				p.divide(q)
			}
		}
		if q, ok := p.pick(); ok {
			runs[i] = q
		}
	}
	return s.measure(runs)
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
// ties.
func (p *picker) pick() (mask, bool) {
	p.sums = make([]float64, 2*p.cells)
	best, at := p.together(0)-sameBits, mask(0)
	for q := 1; q < p.s.frame.size(); q++ {
		m := mask(q)
		t := p.together(m)
		if t > best+sameBits || t > best-sameBits && (at == 0 || m.len() >= at.len()) {
			continue
		}
		if !p.s.expected(m) && !p.s.wasRun(m) {
			best, at = t, m
		}
	}
	return at, at != 0
}

// together is the chance that two explanations stay in one cell after q.
func (p *picker) together(q mask) float64 {
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
