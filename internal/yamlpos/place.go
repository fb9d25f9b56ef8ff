package yamlpos

import (
	"strings"

	"gopkg.in/yaml.v3"
	"tankleaf.example/internal/diag"
)

// PosAt returns the place of a character of a scalar's text, counted from 0. It
// follows quotes, escapes, folded lines and block indentation through the
// author's text, and returns the place of the node where it loses the thread.
func (n Node) PosAt(offset int) diag.Pos {
	c, ok := n.content()
	if !ok {
		return n.Pos()
	}
	for i, want := range []rune(n.y.Value) {
		if i == offset {
			c.settle(want)
			break
		}
		if !c.pass(want) {
			return n.Pos()
		}
	}
	return n.d.place(c.line+1, c.col+1)
}

// cursor is a place in the author's text, counted from 0.
type cursor struct {
	d         *document
	chars     []rune // of the current line
	line, col int
	quote     rune // of a quoted scalar, else 0
	indent    int  // of a block's lines, which may be indented further; else -1
}

func (c *cursor) goTo(line, col int) {
	c.line, c.col, c.chars = line, col, c.d.line(line+1)
}

// content returns a cursor at the first character of the scalar's own text.
func (n Node) content() (cursor, bool) {
	line, col := n.y.Line-1, n.y.Column-1
	if n.y.Kind != yaml.ScalarNode || line < 0 || line >= len(n.d.lines) {
		return cursor{}, false
	}
	c := cursor{d: n.d, indent: -1}
	c.goTo(line, col)
	switch {
	case n.y.Style&(yaml.LiteralStyle|yaml.FoldedStyle) != 0:
		if line+1 >= len(n.d.lines) {
			return cursor{}, false
		}
		c.indent = n.d.indent(line + 1)
		c.goTo(line+1, 0)
		c.skipSpace()
	case n.y.Style&yaml.DoubleQuotedStyle != 0:
		c.quote = '"'
		c.col++
	case n.y.Style&yaml.SingleQuotedStyle != 0:
		c.quote = '\''
		c.col++
	}
	return c, c.col <= len(c.chars)
}

// settle moves over line ends and indentation to the character that stands for
// want, when it is not white space itself.
func (c *cursor) settle(want rune) {
	if want != ' ' && want != '\n' && want != '\t' {
		c.nextText()
	}
}

// pass moves behind the author's writing of one character of the value.
func (c *cursor) pass(want rune) bool {
	if want == '\n' || want == ' ' && c.col >= len(c.chars) {
		return c.passFold()
	}
	if want != ' ' && want != '\t' {
		c.nextText()
	}
	switch {
	case c.col >= len(c.chars):
		return false
	case c.quote == '"' && c.chars[c.col] == '\\':
		return c.passEscape()
	case c.chars[c.col] != want:
		return false
	case c.quote == '\'' && want == '\'':
		c.col++ // written twice
	}
	c.col++
	return true
}

// nextText moves to the next line's text while at a line's end.
func (c *cursor) nextText() {
	for c.col >= len(c.chars) && c.line+1 < len(c.d.lines) {
		c.goTo(c.line+1, 0)
		c.skipSpace()
	}
}

// passFold moves over a line's end, which a value shows as a space or a line end.
func (c *cursor) passFold() bool {
	if c.quote == '"' && c.col < len(c.chars) && c.chars[c.col] == '\\' {
		return c.passEscape()
	}
	c.skipSpace()
	if c.col < len(c.chars) || c.line+1 >= len(c.d.lines) {
		return false
	}
	c.goTo(c.line+1, 0)
	c.skipSpace()
	return true
}

// escapes holds how many characters follow the letter of a numeric escape.
var escapes = map[rune]int{'x': 2, 'u': 4, 'U': 8}

func (c *cursor) passEscape() bool {
	if c.col+1 >= len(c.chars) {
		c.col = len(c.chars) // an escaped line end
		return false
	}
	c.col += 2 + escapes[c.chars[c.col+1]]
	return c.col <= len(c.chars)
}

// indent returns the indentation of the first line with text at or below the
// given line, counted from 0.
func (d *document) indent(line int) int {
	for ; line < len(d.lines); line++ {
		if rest := strings.TrimLeft(d.lines[line], " "); rest != "" {
			return len(d.lines[line]) - len(rest)
		}
	}
	return 0
}

// skipSpace moves over the white space before a line's text.
func (c *cursor) skipSpace() {
	for c.col != c.indent && c.col < len(c.chars) && (c.chars[c.col] == ' ' || c.chars[c.col] == '\t') {
		c.col++
	}
}
