package sheet

import (
	"bytes"
	"fmt"
	"slices"
	"strings"
	"unicode/utf8"

	"github.com/yuin/goldmark/ast"

	"tankleaf.example/internal/diag"
	"tankleaf.example/internal/yamlpos"
)

// fenced reads a fenced block: one of ours, or a listing.
func (r *reading) fenced(n *ast.FencedCodeBlock) {
	at := r.fencePos(n)
	word, more := "", ""
	if n.Info != nil {
		word, more, _ = strings.Cut(string(n.Info.Segment.Value(r.body.src)), " ")
	}
	read, isBlock := blockReaders[word]
	switch {
	case !r.closed(n):
		r.blocks[n] = nil
		r.problems.Add(at, "fenced block is not closed", "end it with a line ``` that starts in the same column")
	case !isBlock && KnownLanguage(word):
	case !isBlock:
		r.blocks[n] = nil
		r.problems.Add(r.pos(n.Info.Segment.Start), fmt.Sprintf("unknown block %q", word), blockHint(word))
	case strings.TrimSpace(more) != "":
		r.blocks[n] = nil
		r.problems.Add(r.pos(n.Info.Segment.Start+len(word)+1), fmt.Sprintf("%q after the word %s", strings.TrimSpace(more), word),
			"write it as a key inside the block")
	default:
		r.blocks[n] = nil
		if b := r.block(n, at, read); b != nil {
			r.blocks[n] = b
			r.sheet.Blocks = append(r.sheet.Blocks, b)
		}
	}
}

// block reads the YAML of one of our blocks; nil means it was refused.
func (r *reading) block(n *ast.FencedCodeBlock, at diag.Pos, read blockReader) Block {
	node, ok := r.yamlOf(n, at)
	if !ok {
		return nil
	}
	before := len(*r.problems)
	b := read(r, at, node)
	if len(*r.problems) > before && slices.ContainsFunc((*r.problems)[before:], func(p diag.Problem) bool { return p.Severity == diag.Stop }) {
		return nil
	}
	return b
}

func blockHint(word string) string {
	var words []string
	for w := range blockReaders {
		words = append(words, w)
	}
	slices.Sort(words)
	var listings []string
	for l := range languages {
		if l != "" {
			listings = append(listings, l)
		}
	}
	slices.Sort(listings)
	if near := diag.Nearest(word, append(slices.Clone(words), listings...)); near != "" {
		return fmt.Sprintf("did you mean %q?", near)
	}
	return "blocks are " + strings.Join(words, ", ") + "; listings are " + strings.Join(listings, ", ")
}

// fencePos is the place of the opening fence itself.
func (r *reading) fencePos(n *ast.FencedCodeBlock) diag.Pos {
	at := r.pos(max(n.Pos(), 0))
	if n.Info == nil {
		return at
	}
	at = r.pos(n.Info.Segment.Start)
	line := r.line(at.Line)
	at.Col = utf8.RuneCount(line[:max(bytes.IndexAny(line, "`~"), 0)]) + 1
	return at
}

// closed reports whether a fence ends with a closing line. The parser takes the
// end of the list, quotation or file for one, and swallows what was meant to
// follow.
func (r *reading) closed(n *ast.FencedCodeBlock) bool {
	last := r.fencePos(n).Line
	if l := n.Lines().Len(); l > 0 {
		last = r.pos(n.Lines().At(l - 1).Start).Line
	}
	if last >= len(r.lines) {
		return false
	}
	line := strings.TrimLeft(string(r.line(last+1)), " \t>")
	return strings.HasPrefix(line, "```") || strings.HasPrefix(line, "~~~")
}

// yamlOf reads the body of a fence as YAML. In a list or a quotation its lines
// start further right than in the text that the parser hands over, so each line
// is given its own start.
func (r *reading) yamlOf(n *ast.FencedCodeBlock, at diag.Pos) (yamlpos.Node, bool) {
	src := yamlpos.Source{File: r.file, Starts: []diag.Pos{at}}
	if l := n.Lines().Len(); l > 0 {
		src.Starts = src.Starts[:0]
		for i := range l {
			seg := n.Lines().At(i)
			src.Text = append(src.Text, seg.Value(r.body.src)...)
			start := r.pos(seg.Start)
			start.Col = max(start.Col-seg.Padding, 1)
			src.Starts = append(src.Starts, start)
		}
	}
	return yamlpos.Parse(src, r.problems)
}
