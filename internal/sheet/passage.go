package sheet

import (
	"html"
	"strings"

	"github.com/yuin/goldmark/ast"
	east "github.com/yuin/goldmark/extension/ast"
	"github.com/yuin/goldmark/util"
)

// plainText returns the words of a node without marks, on one line.
func plainText(n ast.Node, src []byte) string {
	var b strings.Builder
	writePlain(&b, n, src)
	return strings.Join(strings.Fields(b.String()), " ")
}

func writePlain(b *strings.Builder, n ast.Node, src []byte) {
	switch n := n.(type) {
	case *ast.Text:
		b.WriteString(unmark(n.Segment.Value(src), n.IsRaw()))
		if n.SoftLineBreak() || n.HardLineBreak() {
			b.WriteByte(' ')
		}
	case *ast.String: // the typographer writes entities
		b.WriteString(html.UnescapeString(string(n.Value)))
	case *ast.AutoLink:
		b.Write(n.Label(src))
	case *ast.RawHTML:
		b.Write(n.Segments.Value(src))
	case *ast.CodeSpan:
		for c := n.FirstChild(); c != nil; c = c.NextSibling() {
			b.Write(c.(*ast.Text).Segment.Value(src))
		}
		return
	}
	for c := n.FirstChild(); c != nil; c = c.NextSibling() {
		writePlain(b, c, src)
	}
}

func unmark(value []byte, raw bool) string {
	if raw {
		return string(value)
	}
	return string(util.ResolveEntityNames(util.ResolveNumericReferences(util.UnescapePunctuations(value))))
}

// passages gathers the sheet's prose under its headings. Blocks and listings are
// left out: they are found by their own pages.
func (r *reading) passages() []Passage {
	all := []Passage{{}}
	heading := 0
	var lines []string
	flush := func() {
		all[len(all)-1].Text = strings.Join(lines, "\n")
		lines = nil
	}
	_ = ast.Walk(r.doc, func(n ast.Node, entering bool) (ast.WalkStatus, error) {
		if !entering {
			return ast.WalkContinue, nil
		}
		switch n.Kind() {
		case ast.KindHeading:
			flush()
			h := r.sheet.Headings[heading]
			heading++
			all = append(all, Passage{Heading: h.Text, Anchor: h.Anchor})
			return ast.WalkSkipChildren, nil
		case ast.KindParagraph, ast.KindTextBlock, east.KindTableCell:
			if s := plainText(n, r.body.src); s != "" {
				lines = append(lines, s)
			}
			return ast.WalkSkipChildren, nil
		case ast.KindFencedCodeBlock, ast.KindCodeBlock, ast.KindHTMLBlock:
			return ast.WalkSkipChildren, nil
		}
		return ast.WalkContinue, nil
	})
	flush()
	if all[0].Text == "" {
		all = all[1:]
	}
	return all
}
