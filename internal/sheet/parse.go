package sheet

import (
	"bytes"
	"io/fs"
	"regexp"
	"strings"

	"github.com/yuin/goldmark"
	"github.com/yuin/goldmark/ast"
	"github.com/yuin/goldmark/extension"
	east "github.com/yuin/goldmark/extension/ast"
	"github.com/yuin/goldmark/parser"
	gtext "github.com/yuin/goldmark/text"
	"github.com/yuin/goldmark/util"

	"tankleaf.example/internal/diag"
	"tankleaf.example/internal/mix"
)

// markdown reads CommonMark with tables, footnotes and typographic quotes. It
// never renders: that is the work of view.go.
var markdown = goldmark.New(
	goldmark.WithExtensions(extension.NewTable(), extension.NewFootnote(), extension.Typographer),
	goldmark.WithParserOptions(
		parser.WithInlineParsers(util.Prioritized(danglingNotes{}, 102)),  // after footnotes, before links
		parser.WithASTTransformers(util.Prioritized(uselessNotes{}, 998)), // before footnotes are sorted
	),
)

// reading is one sheet while it is read.
type reading struct {
	*body
	fsys     fs.FS
	names    *names
	book     *mix.Book
	problems *diag.List
	sheet    *Sheet
	anchors  anchors
	level    int // of the heading before
}

// parse reads the markdown and everything in it.
func (r *reading) parse() {
	ctx := parser.NewContext()
	notes := &noteProblems{}
	ctx.Set(noteKey, notes)
	r.doc = markdown.Parser().Parse(gtext.NewReader(r.body.src), parser.WithContext(ctx))
	if !r.shallow() {
		return
	}
	for _, n := range notes.all {
		r.problems.Add(r.pos(n.at), n.msg, n.hint)
	}
	r.walk()
	r.sheet.Passages = r.passages()
	r.cautionFirst()
}

// shallow reports nesting that no reader could follow.
func (r *reading) shallow() bool {
	depth, deepest, at := 0, 0, 0
	_ = ast.Walk(r.doc, func(n ast.Node, entering bool) (ast.WalkStatus, error) {
		if !entering {
			depth--
			return ast.WalkContinue, nil
		}
		depth++
		if depth > deepest {
			deepest, at = depth, max(n.Pos(), at)
		}
		return ast.WalkContinue, nil
	})
	if deepest > maxDepth+2 { // the document and the text itself count
		r.problems.Add(r.pos(at), "lists, quotations and emphasis are nested too deeply", "use headings instead")
		return false
	}
	return true
}

// walk visits every node once, in the order of the page.
func (r *reading) walk() {
	_ = ast.Walk(r.doc, func(n ast.Node, entering bool) (ast.WalkStatus, error) {
		if !entering {
			return ast.WalkContinue, nil
		}
		switch n := n.(type) {
		case *ast.Heading:
			r.heading(n)
		case *ast.Link:
			r.link(n, string(n.Destination))
		case *ast.AutoLink:
			r.autoLink(n)
		case *ast.Image:
			r.image(n)
		case *ast.FencedCodeBlock:
			r.fenced(n)
		case *ast.HTMLBlock:
			r.rawHTML(r.firstByte(n))
		case *ast.RawHTML:
			r.rawHTML(n.Segments.At(0).Start)
		case *ast.Text:
			r.brokenLink(n)
		case *ast.CodeSpan:
			return ast.WalkSkipChildren, nil
		case *east.TableCell:
			setCell(n)
		}
		return ast.WalkContinue, nil
	})
}

// firstByte returns where a block starts; blocks whose parser sets no position
// start at their first line.
func (r *reading) firstByte(n ast.Node) int {
	if n.Lines().Len() > 0 {
		return n.Lines().At(0).Start
	}
	return n.Pos()
}

func (r *reading) rawHTML(at int) {
	r.problems.Warn(r.pos(at), "HTML in a sheet is shown as it is written", "write markdown, or put HTML to be shown between backticks")
}

// heading checks the level and gives the heading its anchor.
func (r *reading) heading(n *ast.Heading) {
	at := r.pos(r.firstByte(n))
	at.Col = 1
	title := plainText(n, r.body.src)
	switch {
	case n.Level == 1:
		r.problems.Add(at, "heading of level 1 in the body of a sheet", `write "## `+title+`": the title is the only heading of level 1`)
	case n.Level > max(r.level, 1)+1:
		r.problems.Add(at, "heading skips a level", `write "`+strings.Repeat("#", max(r.level, 1)+1)+" "+title+`"`)
	case title == "":
		r.problems.Add(at, "heading without words", "write some after the #")
	}
	r.level = n.Level
	anchor := AnchorPrefix + r.anchors.next(title)
	n.SetAttributeString("id", []byte(anchor))
	r.sheet.Headings = append(r.sheet.Headings, Heading{At: at, Level: n.Level, Text: title, Anchor: anchor})
}

// setCell replaces a column's alignment, which would be written as inline style,
// with a class.
func setCell(c *east.TableCell) {
	if c.Alignment != east.AlignNone {
		c.SetAttributeString("class", []byte("to-"+c.Alignment.String()))
	}
	if c.Parent().Kind() == east.KindTableHeader {
		c.SetAttributeString("scope", []byte("col"))
	}
}

// failedLink is what is left in the text when brackets did not make a link.
var failedLink = regexp.MustCompile(`(^|[^\\])\](\(|\[[^\]^])`)

func (r *reading) brokenLink(n *ast.Text) {
	if n.IsRaw() || n.Parent().Kind() == ast.KindCodeSpan {
		return
	}
	value := r.body.src[n.Segment.Start:n.Segment.Stop]
	if next, ok := n.NextSibling().(*ast.Text); ok && next.Segment.Start == n.Segment.Stop {
		value = r.body.src[n.Segment.Start:min(n.Segment.Stop+2, len(r.body.src))] // the bracket may open the next piece
	}
	for _, at := range failedLink.FindAllIndex(value, -1) {
		start := n.Segment.Start + at[0] + bytes.IndexByte(value[at[0]:], ']')
		r.problems.Add(r.pos(start), "this is not a link", "write [words](class:id), with no blank in the address")
	}
}

// cautionFirst holds hazard sheets to their first duty.
func (r *reading) cautionFirst() {
	if r.sheet.Topic != Hazards {
		return
	}
	first, isFence := r.doc.FirstChild().(*ast.FencedCodeBlock)
	if isFence {
		if _, ok := r.blocks[first].(*CautionBlock); ok || r.blocks[first] == nil {
			return // a block that was refused has its own problem
		}
	}
	at := r.pos(len(r.body.src))
	if n := r.doc.FirstChild(); n != nil {
		at = r.pos(max(n.Pos(), 0))
	}
	at.Col = 1
	r.problems.Add(at, "sheet on a hazard does not open with a caution", "start the text with a block ```caution that names the hazard")
}
