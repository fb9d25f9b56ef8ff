package compat_test

import (
	"math"
	"testing"

	"pgregory.net/rapid"

	"tankleaf.example/internal/compat"
)

// TestInterval holds handbook values of the exact binomial interval at 95 %, in
// percent to one decimal: those of 0 of 5, 0 of 10 and 1 of 5 as handbook tables
// have them (from memory), the others by bisection on the binomial tail, which
// is another way to the same definition (Clopper and Pearson 1934; Oxford
// Dictionary of Statistics).
func TestInterval(t *testing.T) {
	for _, c := range []struct {
		k, n             int
		low, high, upper float64 // upper: one-sided
	}{
		{0, 1, 0, 97.5, 95.0}, {0, 2, 0, 84.2, 77.6}, {0, 3, 0, 70.8, 63.2}, {0, 5, 0, 52.2, 45.1},
		{0, 10, 0, 30.8, 25.9}, {0, 15, 0, 21.8, 18.1}, {0, 20, 0, 16.8, 13.9}, {0, 30, 0, 11.6, 9.5},
		{0, 100, 0, 3.6, 3.0}, {1, 3, 0.8, 90.6, 86.5}, {1, 5, 0.5, 71.6, 65.7}, {2, 5, 5.3, 85.3, 81.1},
		{3, 5, 14.7, 94.7, 92.4}, {1, 10, 0.3, 44.5, 39.4}, {2, 10, 2.5, 55.6, 50.7}, {5, 10, 18.7, 81.3, 77.8},
		{10, 10, 69.2, 100, 100}, {1, 1, 2.5, 100, 100}, {1, 20, 0.1, 24.9, 21.6},
	} {
		low, high := compat.Interval(c.k, c.n, 0.95)
		upper := compat.Upper(c.k, c.n, 0.95)
		for _, v := range []struct{ got, want float64 }{{low, c.low}, {high, c.high}, {upper, c.upper}} {
			if math.Abs(100*v.got-v.want) > 0.0501 {
				t.Errorf("%d of %d: got %.3f %%, want %.1f %%", c.k, c.n, 100*v.got, v.want)
			}
		}
	}
}

// TestNothingSeen holds the closed forms for none of n.
func TestNothingSeen(t *testing.T) {
	for n := 1; n <= 500; n++ {
		_, high := compat.Interval(0, n, 0.95)
		for _, v := range []struct{ got, want float64 }{
			{compat.Upper(0, n, 0.95), 1 - math.Pow(0.05, 1/float64(n))},
			{high, 1 - math.Pow(0.025, 1/float64(n))},
		} {
			if math.Abs(v.got-v.want) > 1e-9 {
				t.Errorf("0 of %d: got %.12f, want %.12f", n, v.got, v.want)
			}
		}
	}
	if low, high := compat.Interval(0, 0, 0.95); low != 0 || high != 1 || compat.Upper(0, 0, 0.95) != 1 {
		t.Error("with nothing tried, anything is possible")
	}
}

// TestTails holds the definition: at the bounds, as many or more, or as few or
// fewer, have just the probability of one tail.
func TestTails(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		n := rapid.IntRange(1, 60).Draw(t, "n")
		k := rapid.IntRange(0, n).Draw(t, "k")
		low, high := compat.Interval(k, n, 0.95)
		if k > 0 {
			if p := 1 - atMost(k-1, n, low); math.Abs(p-0.025) > 1e-6 {
				t.Fatalf("%d of %d: lower bound %v has tail %v", k, n, low, p)
			}
		}
		if k < n {
			if p := atMost(k, n, high); math.Abs(p-0.025) > 1e-6 {
				t.Fatalf("%d of %d: upper bound %v has tail %v", k, n, high, p)
			}
		}
	})
}

// atMost is the probability of k or fewer of n at a share p, summed term by term.
func atMost(k, n int, p float64) float64 {
	total := 0.0
	for i := range k + 1 {
		a, _ := math.Lgamma(float64(n + 1))
		b, _ := math.Lgamma(float64(i + 1))
		c, _ := math.Lgamma(float64(n - i + 1))
		total += math.Exp(a - b - c + float64(i)*math.Log(p) + float64(n-i)*math.Log1p(-p))
	}
	return total
}
