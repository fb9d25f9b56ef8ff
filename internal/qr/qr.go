package qr

// Code is a symbol: a square of modules, dark or light, without the quiet zone of
// four modules that has to stay around it.
type Code struct {
	Size  int
	dark  []bool
	fixed []bool // modules of patterns and formats, which hold no data
}

// Dark reports whether a module is dark; x counts columns and y rows from 0.
func (c *Code) Dark(x, y int) bool { return c.dark[y*c.Size+x] }

func (c *Code) set(x, y int, dark bool) {
	c.dark[y*c.Size+x], c.fixed[y*c.Size+x] = dark, true
}

// version is a size of symbol at level M.
type version struct {
	check  int    // check bytes of each block
	blocks [2]int // short ones, and ones a byte longer
	short  int    // data bytes of a short block
	align  []int  // centers of alignment patterns
}

func (v *version) data() int {
	return v.short*(v.blocks[0]+v.blocks[1]) + v.blocks[1]
}

// versions from 1 on.
var versions = []version{
	{10, [2]int{1, 0}, 16, nil},
	{16, [2]int{1, 0}, 28, []int{6, 18}},
	{26, [2]int{1, 0}, 44, []int{6, 22}},
	{18, [2]int{2, 0}, 32, []int{6, 26}},
	{24, [2]int{2, 0}, 43, []int{6, 30}},
	{16, [2]int{4, 0}, 27, []int{6, 34}},
	{18, [2]int{4, 0}, 31, []int{6, 22, 38}},
	{22, [2]int{2, 2}, 38, []int{6, 24, 42}},
	{22, [2]int{3, 2}, 36, []int{6, 26, 46}},
}

// Longest is the longest text that fits, in bytes: the data of version 9 less mode
// and count.
const Longest = 180

// Encode returns the smallest symbol for a text; ok is false when the text is empty or
// longer than [Longest].
func Encode(text string) (c *Code, ok bool) {
	if text == "" {
		return nil, false
	}
	for i := range versions {
		if v := &versions[i]; len(text) <= v.data()-2 {
			return draw(i+1, v, interleave(v, message(text, v.data()))), true
		}
	}
	return nil, false
}

// message is mode, count and text, ended and padded to n bytes.
func message(text string, n int) []byte {
	var out []byte
	half := byte(0b0100) // the mode of bytes; half a byte runs ahead of the rest
	put := func(b byte) {
		out = append(out, half<<4|b>>4)
		half = b & 15
	}
	put(byte(len(text)))
	for i := range len(text) {
		put(text[i])
	}
	put(0) // the end is four zero bits; this leaves whole bytes
	for pad := byte(0xec); len(out) < n; pad ^= 0xec ^ 0x11 {
		out = append(out, pad)
	}
	return out[:n]
}

// interleave cuts the data into blocks, adds the check bytes of each, and takes one
// byte of each block in turn.
func interleave(v *version, data []byte) []byte {
	var blocks, checks [][]byte
	for i := range v.blocks[0] + v.blocks[1] {
		n := v.short
		if i >= v.blocks[0] {
			n++
		}
		blocks = append(blocks, data[:n])
		checks = append(checks, checkBytes(data[:n], v.check))
		data = data[n:]
	}
	var out []byte
	for i := range v.short + 1 {
		for _, b := range blocks {
			if i < len(b) {
				out = append(out, b[i])
			}
		}
	}
	for i := range v.check {
		for _, b := range checks {
			out = append(out, b[i])
		}
	}
	return out
}
