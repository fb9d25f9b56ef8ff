package qr

// The field of 256 elements in which check bytes are reckoned: polynomials over one
// bit modulo x⁸+x⁴+x³+x²+1, in which x generates all but zero.

var exp, log = tables()

func tables() (e [510]byte, l [256]int) {
	x := 1
	for i := range 255 {
		e[i], e[i+255] = byte(x), byte(x)
		l[x] = i
		if x <<= 1; x > 255 {
			x ^= 0x11d
		}
	}
	return e, l
}

func times(a, b byte) byte {
	if a == 0 || b == 0 {
		return 0
	}
	return exp[log[a]+log[b]]
}

// checkBytes are the remainder of the data, as a polynomial times xⁿ, divided by the
// product of (x − gⁱ) for i from 0 to n−1 (Reed and Solomon, 1960).
func checkBytes(data []byte, n int) []byte {
	generator := []byte{1}
	for i := range n {
		next := make([]byte, len(generator)+1)
		for j, c := range generator {
			next[j] ^= c
			next[j+1] ^= times(c, exp[i])
		}
		generator = next
	}
	rest := make([]byte, n)
	for _, d := range data {
		lead := d ^ rest[0]
		copy(rest, rest[1:])
		rest[n-1] = 0
		for i := range rest {
			rest[i] ^= times(lead, generator[i+1])
		}
	}
	return rest
}
