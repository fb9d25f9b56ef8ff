package diag

// Nearest returns the one name in names that is within two edits of got, when
// no other name is as near; otherwise "". With product names a confident wrong
// hint does harm, so a tie names nobody. A distance of two asks for at least
// five characters, or short codes would all be near one another.
func Nearest(got string, names []string) string {
	best, second, name := 3, 3, ""
	for _, n := range names {
		d := distance(got, n, 3)
		switch {
		case n == name || n == got:
		case d < best:
			best, second, name = d, best, n
		case d < second:
			second = d
		}
	}
	if best > 2 || best == second || (best == 2 && len([]rune(got)) < 5) {
		return ""
	}
	return name
}

// distance is the Damerau-Levenshtein distance (insert, drop, change, swap of
// neighbours; restricted form), or limit when it is limit or more.
func distance(a, b string, limit int) int {
	x, y := []rune(a), []rune(b)
	if len(x)-len(y) >= limit || len(y)-len(x) >= limit {
		return limit
	}
	rows := [3][]int{make([]int, len(y)+1), make([]int, len(y)+1), make([]int, len(y)+1)}
	for j := range rows[1] {
		rows[1][j] = j
	}
	for i := 1; i <= len(x); i++ {
		older, last, now := rows[(i+2)%3], rows[i%3], rows[(i+1)%3]
		if i == 1 {
			last = rows[1]
		}
		now[0] = i
		for j := 1; j <= len(y); j++ {
			cost := 1
			if x[i-1] == y[j-1] {
				cost = 0
			}
			now[j] = min(last[j]+1, now[j-1]+1, last[j-1]+cost)
			if i > 1 && j > 1 && x[i-1] == y[j-2] && x[i-2] == y[j-1] {
				now[j] = min(now[j], older[j-2]+1)
			}
		}
	}
	return min(rows[(len(x)+1)%3][len(y)], limit)
}
