package qr

import "slices"

// draw lays data into the symbol of version n under the best mask.
func draw(n int, v *version, data []byte) *Code {
	size := 17 + 4*n
	c := &Code{Size: size, dark: make([]bool, size*size), fixed: make([]bool, size*size)}
	c.patterns(v)
	c.format(0)
	if n >= 7 {
		c.number(n)
	}
	c.fill(data)
	best, least := 0, -1
	for mask := range masks {
		c.flip(mask)
		c.format(mask)
		if p := c.penalty(); least < 0 || p < least {
			best, least = mask, p
		}
		c.flip(mask)
	}
	c.flip(best)
	c.format(best)
	return c
}

// patterns draws what tells a reader where the symbol lies.
func (c *Code) patterns(v *version) {
	for i := range c.Size {
		c.set(6, i, i%2 == 0)
		c.set(i, 6, i%2 == 0)
	}
	last := c.Size - 7
	for _, at := range [][2]int{{0, 0}, {last, 0}, {0, last}} {
		for dy := -1; dy <= 7; dy++ {
			for dx := -1; dx <= 7; dx++ {
				x, y := at[0]+dx, at[1]+dy
				if x >= 0 && y >= 0 && x < c.Size && y < c.Size {
					ring := max(abs(dx-3), abs(dy-3))
					c.set(x, y, ring != 2 && ring != 4)
				}
			}
		}
	}
	for _, y := range v.align {
		for _, x := range v.align {
			end := v.align[len(v.align)-1]
			if x == 6 && y == 6 || x == 6 && y == end || x == end && y == 6 {
				continue // a finder is there
			}
			for dy := -2; dy <= 2; dy++ {
				for dx := -2; dx <= 2; dx++ {
					c.set(x+dx, y+dy, max(abs(dx), abs(dy)) != 1)
				}
			}
		}
	}
}

func abs(n int) int { return max(n, -n) }

// remainder appends to some bits those that make them divisible by a polynomial of
// the given degree (Bose, Chaudhuri and Hocquenghem).
func remainder(bits, polynomial, degree int) int {
	rest := bits << degree
	for i := 17; i >= degree; i-- {
		if rest>>i&1 == 1 {
			rest ^= polynomial << (i - degree)
		}
	}
	return bits<<degree | rest
}

// format writes level M and the mask, twice.
func (c *Code) format(mask int) {
	bits := remainder(0b00<<3|mask, 0b10100110111, 10) ^ 0b101010000010010
	bit := func(i int) bool { return bits>>i&1 == 1 }
	n := c.Size
	for i := range 15 {
		switch { // down the left finder, then along it
		case i < 6:
			c.set(8, i, bit(i))
		case i < 8:
			c.set(8, i+1, bit(i))
		case i == 8:
			c.set(7, 8, bit(i))
		default:
			c.set(14-i, 8, bit(i))
		}
		if i < 8 { // along the right finder, then down the lower one
			c.set(n-1-i, 8, bit(i))
		} else {
			c.set(8, n-15+i, bit(i))
		}
	}
	c.set(8, n-8, true)
}

// number writes the version beside two finders; symbols below version 7 have none.
func (c *Code) number(n int) {
	bits := remainder(n, 0b1111100100101, 12)
	for i := range 18 {
		dark := bits>>i&1 == 1
		c.set(c.Size-11+i%3, i/3, dark)
		c.set(i/3, c.Size-11+i%3, dark)
	}
}

// fill lays the data up and down in columns of two from the right, past the timing
// column; modules that are left over stay light.
func (c *Code) fill(data []byte) {
	next := 0
	up := true
	for right := c.Size - 1; right > 0; right -= 2 {
		if right == 6 {
			right--
		}
		for i := range c.Size {
			y := i
			if up {
				y = c.Size - 1 - i
			}
			for _, x := range []int{right, right - 1} {
				if c.fixed[y*c.Size+x] {
					continue
				}
				if next < 8*len(data) {
					c.dark[y*c.Size+x] = data[next/8]>>(7-next%8)&1 == 1
				}
				next++
			}
		}
		up = !up
	}
}

// masks tell which modules of data are turned over.
var masks = []func(x, y int) bool{
	func(x, y int) bool { return (x+y)%2 == 0 },
	func(_, y int) bool { return y%2 == 0 },
	func(x, _ int) bool { return x%3 == 0 },
	func(x, y int) bool { return (x+y)%3 == 0 },
	func(x, y int) bool { return (y/2+x/3)%2 == 0 },
	func(x, y int) bool { return x*y%2+x*y%3 == 0 },
	func(x, y int) bool { return (x*y%2+x*y%3)%2 == 0 },
	func(x, y int) bool { return ((x+y)%2+x*y%3)%2 == 0 },
}

func (c *Code) flip(mask int) {
	for i := range c.dark {
		if !c.fixed[i] && masks[mask](i%c.Size, i/c.Size) {
			c.dark[i] = !c.dark[i]
		}
	}
}

// penalty counts what disturbs readers: long runs of one color, blocks, what looks
// like a finder, and too much of one color.
func (c *Code) penalty() int {
	sum, darks := 0, 0
	for i := range c.Size {
		row, column := make([]bool, c.Size), make([]bool, c.Size)
		for j := range c.Size {
			row[j], column[j] = c.Dark(j, i), c.Dark(i, j)
			if row[j] {
				darks++
			}
		}
		sum += lines(row) + lines(column)
	}
	for y := range c.Size - 1 {
		for x := range c.Size - 1 {
			if d := c.Dark(x, y); c.Dark(x+1, y) == d && c.Dark(x, y+1) == d && c.Dark(x+1, y+1) == d {
				sum += 3
			}
		}
	}
	all := c.Size * c.Size
	return sum + abs(20*darks-10*all)/all*10
}

// finderLike is a finder seen from its side with the light before or behind it.
var finderLike = [][]bool{
	{true, false, true, true, true, false, true, false, false, false, false},
	{false, false, false, false, true, false, true, true, true, false, true},
}

// lines is the penalty of one row or column.
func lines(row []bool) int {
	sum, run := 0, 0
	for i, d := range row {
		if i > 0 && d == row[i-1] {
			run++
		} else {
			run = 1
		}
		switch {
		case run == 5:
			sum += 3
		case run > 5:
			sum++
		}
		for _, f := range finderLike {
			if i+len(f) <= len(row) && slices.Equal(row[i:i+len(f)], f) {
				sum += 40
			}
		}
	}
	return sum
}
