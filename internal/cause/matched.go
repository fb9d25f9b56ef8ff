package cause

import "slices"

// Setting is a run with the circumstances it was made under.
type Setting struct {
	Run
	// Factors is one value for each factor, 1 or more. 0 means that it was
	// not recorded, and so does a value that is missing at the end.
	Factors []int
}

// Pair is two runs by their places in the list, the earlier first.
type Pair struct{ First, Second int }

// Factor is what matched runs say about one factor. Runs match on it when they
// have the same members, and every other factor was recorded for both and is
// equal, and this one was recorded for both and differs.
type Factor struct {
	Same   []Pair // the outcome was the same
	Differ []Pair // the outcome was not
	// Unsure counts the pairs that would match but for a factor that was not
	// recorded for one of them or both. They are in neither list.
	Unsure int
}

// Matched compares every two runs of the same members and returns one Factor
// for each of the given number of factors. The time grows with the square of
// the number of runs of the same members.
func Matched(runs []Setting, factors int) []Factor {
	out := make([]Factor, max(0, factors))
	alike := map[Set][]int{}
	for i, r := range runs {
		for _, j := range alike[r.Members] {
			f, sure := contrast(runs[j].Factors, r.Factors, len(out))
			switch {
			case f < 0:
			case !sure:
				out[f].Unsure++
			case runs[j].Reacted == r.Reacted:
				out[f].Same = append(out[f].Same, Pair{j, i})
			default:
				out[f].Differ = append(out[f].Differ, Pair{j, i})
			}
		}
		alike[r.Members] = append(alike[r.Members], i)
	}
	for i := range out {
		slices.SortFunc(out[i].Same, Pair.compare)
		slices.SortFunc(out[i].Differ, Pair.compare)
	}
	return out
}

// contrast returns the one factor that differs between two runs, or -1 when
// that is none or several, and whether all others are known to be equal.
func contrast(a, b []int, factors int) (factor int, sure bool) {
	factor, sure = -1, true
	for f := range factors {
		x, y := value(a, f), value(b, f)
		switch {
		case x == 0 || y == 0:
			sure = false
		case x == y:
		case factor >= 0:
			return -1, false
		default:
			factor = f
		}
	}
	return factor, sure
}

func value(values []int, f int) int {
	if f >= len(values) || values[f] < 0 {
		return 0
	}
	return values[f]
}

func (p Pair) compare(q Pair) int {
	if p.First != q.First {
		return p.First - q.First
	}
	return p.Second - q.Second
}
