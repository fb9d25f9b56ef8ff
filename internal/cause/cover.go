package cause

// Coverage says what the runs decide about every subset of a set.
type Coverage struct {
	Reacting int // subsets that hold a reacting run
	Clean    int // subsets inside a clean run; the empty set is one
	Open     int // the rest
	// Widest is the open subsets inside no other open one. Were each of them
	// run and found clean, nothing would be open.
	Widest []Set
}

// The bits of one subset in a coverage.
const (
	knownReacting = 1 << iota
	knownClean
)

// Cover sorts the subsets of within, of up to 16 elements, by what the runs
// decide about them. Runs in conflict decide nothing.
func Cover(within Set, runs []Run) (Coverage, error) {
	if n := within.Len(); n > maxWithin {
		return Coverage{}, tooMany(n)
	}
	ev := sift(runs)
	f := newFrame(within)
	known := make([]uint8, f.size())
	for _, r := range ev.sound {
		if within.Contains(r) {
			known[f.pack(r)] |= knownReacting
		}
	}
	for _, c := range ev.clean {
		known[f.pack(c)] |= knownClean
	}
	spreadKnown(known)
	var cov Coverage
	for q, k := range known {
		switch {
		case k&knownReacting != 0:
			cov.Reacting++
		case k&knownClean != 0:
			cov.Clean++
		default:
			cov.Open++
			if f.edge(known, mask(q)) {
				cov.Widest = append(cov.Widest, f.unpack(mask(q)))
			}
		}
	}
	cov.Widest = tidy(cov.Widest)
	return cov, nil
}

// spreadKnown carries reactions up to all larger sets and clean results down
// to all smaller ones, one element at a time.
func spreadKnown(known []uint8) {
	for step := 1; step < len(known); step <<= 1 {
		for q := range known {
			if q&step == 0 {
				known[q|step] |= known[q] & knownReacting
				known[q] |= known[q|step] & knownClean
			}
		}
	}
}

// edge reports whether every set one element larger than the open set q
// reacts. None can be clean, for then q would be.
func (f *frame) edge(known []uint8, q mask) bool {
	for i := range f.elements {
		if up := q | 1<<i; up != q && known[up]&knownReacting == 0 {
			return false
		}
	}
	return true
}
