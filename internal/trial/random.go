package trial

// random is a small generator of its own, so that a seed gives the same order of
// runs on every machine and in every release of Go: splitmix64, by Steele, Lea and
// Flood, "Fast Splittable Pseudorandom Number Generators", OOPSLA 2014 (constants
// from memory, held by the published first outputs in a test). It is for shuffling,
// never for secrets.
type random struct{ state uint64 }

func (r *random) next() uint64 {
	r.state += 0x9e3779b97f4a7c15
	z := r.state
	z = (z ^ z>>30) * 0xbf58476d1ce4e5b9
	z = (z ^ z>>27) * 0x94d049bb133111eb
	return z ^ z>>31
}

// below returns a number from 0 to n-1, each as likely; n must be positive. Numbers
// from the uneven rest at the top of the range are drawn again.
func (r *random) below(n int) int {
	limit := ^uint64(0) - ^uint64(0)%uint64(n)
	for {
		if x := r.next(); x < limit {
			return int(x % uint64(n))
		}
	}
}

// shuffled returns 0 to n-1 in random order (Fisher and Yates).
func (r *random) shuffled(n int) []int {
	list := make([]int, n)
	for i := range list {
		j := r.below(i + 1)
		list[i] = list[j]
		list[j] = i
	}
	return list
}

// The letters and figures of codes: none that look like another, no vowels, so that
// no code reads as a word.
const (
	codeLetters = "BCDFGHKLMNPRTVWX"
	codeFigures = "23456789"
)

// MaxJars is the most jars of a trial: as many as there are codes.
const MaxJars = len(codeLetters) * len(codeFigures)

// codes returns n different codes, n up to MaxJars, in random order: "K7".
func (r *random) codes(n int) []string {
	var list []string
	for _, k := range r.shuffled(MaxJars)[:n] {
		list = append(list, string(codeLetters[k/len(codeFigures)])+string(codeFigures[k%len(codeFigures)]))
	}
	return list
}
