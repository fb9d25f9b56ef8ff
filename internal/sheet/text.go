package sheet

import (
	"bytes"
	"fmt"
	"sort"
	"unicode/utf8"

	"tankleaf.example/internal/diag"
)

// Limits on what an author may hand in. They are far above any real sheet and
// keep a hostile one from costing minutes.
const (
	maxBytes = 256 << 10 // of a whole sheet
	maxLine  = 4000      // bytes in one line
	maxDepth = 16        // containers inside one another: lists, quotes, emphasis
)

// text is a sheet's source with the places of its bytes.
type text struct {
	file  string
	src   []byte // line ends are "\n", valid UTF-8
	lines []int  // offset of each line's first byte
}

// newText takes in a file. It reports what would make the text mean something
// else than it shows, and then ok is false and the file is read no further.
func newText(file string, raw []byte, problems *diag.List) (t *text, ok bool) {
	raw = bytes.TrimPrefix(raw, []byte("\ufeff"))
	t = &text{file: file, src: bytes.ReplaceAll(raw, []byte("\r\n"), []byte("\n")), lines: []int{0}}
	if len(t.src) > maxBytes {
		problems.Add(diag.Pos{File: file}, fmt.Sprintf("sheet of %d bytes is over the limit of %d", len(t.src), maxBytes),
			"split it into several sheets")
		return t, false
	}
	for i, c := range t.src {
		if c == '\n' {
			t.lines = append(t.lines, i+1)
		}
	}
	before := len(*problems)
	t.refuseCharacters(problems)
	t.refuseLongLines(problems)
	return t, len(*problems) == before
}

// refuseCharacters reports the first byte that is no UTF-8, and every control
// character that a reader cannot see.
func (t *text) refuseCharacters(problems *diag.List) {
	for i := 0; i < len(t.src); {
		r, size := utf8.DecodeRune(t.src[i:])
		switch {
		case r == utf8.RuneError && size == 1:
			problems.Add(t.pos(i), fmt.Sprintf("byte 0x%02x is not UTF-8", t.src[i]), "save the file as UTF-8")
			return // all that follows would be guesswork
		case hidden(r):
			problems.Add(t.pos(i), fmt.Sprintf("control character U+%04X", r), "remove it")
		}
		i += size
	}
}

// hidden reports whether r is a control character other than tab and line feed,
// or one that changes the direction of the text around it (Unicode Standard
// Annex 9, section 2: explicit and implicit directional marks).
func hidden(r rune) bool {
	switch {
	case r == '\t', r == '\n':
		return false
	case r < 0x20, r >= 0x7f && r < 0xa0:
		return true
	case r == 0x61c, r == 0x200e, r == 0x200f, r >= 0x202a && r <= 0x202e, r >= 0x2066 && r <= 0x2069:
		return true
	}
	return r == 0xfeff
}

func (t *text) refuseLongLines(problems *diag.List) {
	for i := range t.lines {
		if n := len(t.line(i + 1)); n > maxLine {
			problems.Add(diag.Pos{File: t.file, Line: i + 1, Col: 1},
				fmt.Sprintf("line of %d bytes is over the limit of %d", n, maxLine), "break it where a sentence ends")
		}
	}
}

// line returns line n, from 1, without its end.
func (t *text) line(n int) []byte {
	end := len(t.src)
	if n < len(t.lines) {
		end = t.lines[n] - 1
	}
	return t.src[t.lines[n-1]:end]
}

// pos returns the place of the byte at off; an offset outside of the text is
// moved to its nearer end.
func (t *text) pos(off int) diag.Pos {
	off = min(max(off, 0), len(t.src))
	n := sort.Search(len(t.lines), func(i int) bool { return t.lines[i] > off })
	return diag.Pos{File: t.file, Line: n, Col: utf8.RuneCount(t.src[t.lines[n-1]:off]) + 1}
}
