package search

import "unicode/utf8"

// A row of sorted keys is cut into parts. Where it is cut decides how many parts
// a word and its inflections are in, and how long the bounds are that the root
// holds: so between two thirds and four thirds of the size that is wanted, the
// cut is where neighbors have least in common.

// cuts returns the first item of every part but the first. size gives about how
// many bytes an item takes, keys are in order.
func cuts(keys []string, size func(i int) int, want int) []int {
	var out []int
	for start := 0; ; {
		start = nextCut(keys, size, start, want)
		if start == len(keys) {
			return out
		}
		out = append(out, start)
	}
}

// nextCut returns where the part that begins at start ends.
func nextCut(keys []string, size func(i int) int, start, want int) int {
	best, least, full := 0, 0, 0
	for i := start; i < len(keys); i++ {
		if full >= want/3*2 {
			if shared, _ := sharedPrefix(keys[i-1], keys[i]); best == 0 || shared <= least {
				best, least = i, shared
			}
		}
		if full += size(i); full > want/3*4 && best > 0 {
			return best
		}
	}
	return len(keys)
}

// bounds writes the least key of every part but the first.
func bounds(keys []string, starts []int) string {
	var w keyWriter
	for _, i := range starts {
		w.add(separator(keys[i-1], keys[i]), ' ')
	}
	return w.b.String()
}

// separator returns the shortest prefix of b that sorts after a.
func separator(a, b string) string {
	for i, r := range b {
		if s := b[:i+utf8.RuneLen(r)]; s > a {
			return s
		}
	}
	return b
}

// spans calls each with the number, start and end of every part.
func spans(n int, starts []int, each func(part, start, end int)) {
	start := 0
	for i, end := range append(starts, n) {
		each(i, start, end)
		start = end
	}
}
