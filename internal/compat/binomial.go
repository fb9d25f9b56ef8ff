package compat

import "gonum.org/v1/gonum/stat/distuv"

// Confidence is the level of all intervals and bounds that are shown.
const Confidence = 0.95

// Interval returns the exact two-sided interval of a share, 0 to 1, of which k
// were seen in n independent tries: that of Clopper and Pearson (Biometrika 26
// (1934) 404; Oxford Dictionary of Statistics). With nothing tried it is 0 to 1.
// It panics unless 0 ≤ k ≤ n.
func Interval(k, n int, confidence float64) (low, high float64) {
	checkCount(k, n)
	tail := (1 - confidence) / 2
	return lower(k, n, tail), upper(k, n, tail)
}

// Upper returns the exact one-sided upper bound of a share: with nothing seen in
// n tries, 1 - (1-confidence)^(1/n), of which 3/n is the rough form (Jovanovic
// and Levy, Am. Stat. 51 (1997) 137).
func Upper(k, n int, confidence float64) float64 {
	checkCount(k, n)
	return upper(k, n, 1-confidence)
}

func checkCount(k, n int) {
	if k < 0 || k > n {
		panic("compat: more seen than tried")
	}
}

// lower is the share at which k or more of n has the probability tail. The tail
// of a binomial is a beta distribution function, so that its quantile is exact.
func lower(k, n int, tail float64) float64 {
	if k == 0 {
		return 0
	}
	return distuv.Beta{Alpha: float64(k), Beta: float64(n - k + 1)}.Quantile(tail)
}

// upper is the share at which k or fewer of n has the probability tail.
func upper(k, n int, tail float64) float64 {
	if k == n {
		return 1
	}
	return distuv.Beta{Alpha: float64(k + 1), Beta: float64(n - k)}.Quantile(1 - tail)
}
