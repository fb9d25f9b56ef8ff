package sheet

import (
	"bytes"
	"fmt"

	"github.com/yuin/goldmark/ast"
	east "github.com/yuin/goldmark/extension/ast"
	"github.com/yuin/goldmark/parser"
	gtext "github.com/yuin/goldmark/text"
)

// Footnotes that point nowhere, and footnotes nobody points at, would vanish
// without a word: the parser leaves the first as text and drops the second.

type noteProblem struct {
	at        int // byte offset
	msg, hint string
}

type noteProblems struct{ all []noteProblem }

func (p *noteProblems) add(at int, msg, hint string) {
	p.all = append(p.all, noteProblem{at, msg, hint})
}

var noteKey = parser.NewContextKey()

// danglingNotes stands behind the footnote parser in the queue for "[", so that
// it sees only what that parser could not resolve. It never makes a node.
type danglingNotes struct{}

// Trigger implements [parser.InlineParser].
func (danglingNotes) Trigger() []byte { return []byte{'['} }

// Parse implements [parser.InlineParser].
func (danglingNotes) Parse(_ ast.Node, block gtext.Reader, ctx parser.Context) ast.Node {
	line, segment := block.PeekLine()
	end := bytes.IndexByte(line, ']')
	found, listening := ctx.Get(noteKey).(*noteProblems)
	if listening && end > 2 && line[1] == '^' {
		found.add(segment.Start-segment.Padding, fmt.Sprintf("footnote %q is not written", line[2:end]),
			fmt.Sprintf("write [^%s]: and its text on a line of its own", line[2:end]))
	}
	return nil
}

// uselessNotes reports footnotes that are written twice or never referred to.
type uselessNotes struct{}

// Transform implements [parser.ASTTransformer].
func (uselessNotes) Transform(doc *ast.Document, _ gtext.Reader, ctx parser.Context) {
	found, listening := ctx.Get(noteKey).(*noteProblems)
	if !listening {
		return
	}
	_ = ast.Walk(doc, func(n ast.Node, entering bool) (ast.WalkStatus, error) {
		if !entering || n.Kind() != east.KindFootnoteList {
			return ast.WalkContinue, nil
		}
		seen := map[string]bool{}
		for c := n.FirstChild(); c != nil; c = c.NextSibling() {
			note := c.(*east.Footnote)
			switch ref := string(note.Ref); {
			case seen[ref]:
				found.add(note.Pos(), fmt.Sprintf("footnote %q is written twice", ref), "give one of them another name")
			case note.Index < 0:
				found.add(note.Pos(), fmt.Sprintf("nothing refers to footnote %q", ref), fmt.Sprintf("write [^%s] in the text", ref))
				fallthrough
			default:
				seen[ref] = true
			}
		}
		return ast.WalkSkipChildren, nil
	})
}
