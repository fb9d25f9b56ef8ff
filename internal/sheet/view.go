package sheet

import (
	"bytes"
	"fmt"
	"html/template"

	"github.com/yuin/goldmark/ast"
	"github.com/yuin/goldmark/extension"
	east "github.com/yuin/goldmark/extension/ast"
	"github.com/yuin/goldmark/renderer"
	"github.com/yuin/goldmark/renderer/html"
	"github.com/yuin/goldmark/util"
)

// View says how a sheet is shown on one page.
type View struct {
	// Href returns the address of a record, relative to the page, without its
	// anchor. "" shows the link's words alone.
	Href func(Target) string

	// Back is the title of the link from a footnote to the place that refers to
	// it, in the reader's language.
	Back string
}

// mark stands for a block in the rendered text until it is cut there. No sheet
// holds a NUL, so no prose can forge it.
const mark = 0

// Body renders the sheet. It may be called often and from several goroutines.
func (s *Sheet) Body(v View) ([]Piece, error) {
	p := &painter{Sheet: s, View: v}
	var out bytes.Buffer
	if err := p.renderer().Render(&out, s.body.src, s.body.doc); err != nil {
		return nil, fmt.Errorf("render %s: %w", s.At.File, err)
	}
	return p.cut(out.String())
}

// painter renders one sheet for one view.
type painter struct {
	*Sheet
	View
	placed []Block // in the order of their marks
}

func (p *painter) renderer() renderer.Renderer {
	return renderer.NewRenderer(renderer.WithNodeRenderers(
		util.Prioritized(p, 100),
		util.Prioritized(extension.NewTableHTMLRenderer(extension.WithTableCellAlignMethod(extension.TableCellAlignNone)), 500),
		util.Prioritized(extension.NewFootnoteHTMLRenderer(extension.WithFootnoteIDPrefix(AnchorPrefix),
			extension.WithFootnoteBacklinkTitle(p.Back)), 500),
		util.Prioritized(html.NewRenderer(), 1000),
	))
}

// cut splits the rendered text at its marks.
func (p *painter) cut(out string) ([]Piece, error) {
	var pieces []Piece
	prose := func(s string) {
		if s != "" {
			pieces = append(pieces, Prose{template.HTML(s)})
		}
	}
	for _, b := range p.placed {
		before, after, ok := bytes.Cut([]byte(out), []byte{mark})
		if !ok {
			return nil, fmt.Errorf("render %s: a block was lost", p.At.File)
		}
		prose(string(before))
		pieces = append(pieces, b)
		out = string(after)
	}
	prose(out)
	return pieces, nil
}

// RegisterFuncs implements [renderer.NodeRenderer].
func (p *painter) RegisterFuncs(reg renderer.NodeRendererFuncRegisterer) {
	reg.Register(ast.KindLink, p.link)
	reg.Register(ast.KindAutoLink, p.autoLink)
	reg.Register(ast.KindImage, p.image)
	reg.Register(ast.KindFencedCodeBlock, p.fenced)
	reg.Register(ast.KindCodeBlock, p.listing)
	reg.Register(ast.KindHTMLBlock, p.htmlBlock)
	reg.Register(ast.KindRawHTML, p.rawHTML)
	reg.Register(east.KindTable, p.table)
}

// href returns the address of a link, or "" when it was refused.
func (p *painter) href(n ast.Node) string {
	if address, ok := p.body.outside[n]; ok {
		return address
	}
	i, ok := p.body.targets[n]
	if !ok || p.Href == nil {
		return ""
	}
	t := p.Links[i]
	if t.To == ToSheet && t.ID == p.Slug && t.Anchor != "" {
		return "#" + t.Anchor
	}
	address := p.Href(t)
	if t.Anchor != "" && address != "" {
		address += "#" + t.Anchor
	}
	return address
}

func (p *painter) link(w util.BufWriter, _ []byte, node ast.Node, entering bool) (ast.WalkStatus, error) {
	n := node.(*ast.Link)
	address := p.href(n)
	if address == "" {
		return ast.WalkContinue, nil
	}
	if !entering {
		_, err := w.WriteString("</a>")
		return ast.WalkContinue, err
	}
	title := ""
	if len(n.Title) > 0 {
		title = ` title="` + escape(unmark(n.Title, false)) + `"`
	}
	_, err := fmt.Fprintf(w, `<a href="%s"%s%s>`, escape(address), title, p.rel(n))
	return ast.WalkContinue, err
}

// rel marks links that leave the site.
func (p *painter) rel(n ast.Node) string {
	if _, ok := p.body.outside[n]; ok {
		return ` rel="external noreferrer"`
	}
	return ""
}

func (p *painter) autoLink(w util.BufWriter, src []byte, node ast.Node, entering bool) (ast.WalkStatus, error) {
	n := node.(*ast.AutoLink)
	if !entering {
		return ast.WalkContinue, nil
	}
	label := escape(string(n.Label(src)))
	if address := p.href(n); address != "" {
		label = fmt.Sprintf(`<a href="%s"%s>%s</a>`, escape(address), p.rel(n), label)
	}
	_, err := w.WriteString(label)
	return ast.WalkContinue, err
}

func (p *painter) image(w util.BufWriter, src []byte, node ast.Node, entering bool) (ast.WalkStatus, error) {
	n := node.(*ast.Image)
	if !entering {
		return ast.WalkContinue, nil
	}
	alt := escape(plainText(n, src))
	if address := p.href(n); address != "" {
		alt = fmt.Sprintf(`<img src="%s" alt="%s" loading="lazy">`, escape(address), alt)
	}
	_, err := w.WriteString(alt)
	return ast.WalkSkipChildren, err
}

// fenced writes a listing, or leaves the mark of a block.
func (p *painter) fenced(w util.BufWriter, src []byte, node ast.Node, entering bool) (ast.WalkStatus, error) {
	n := node.(*ast.FencedCodeBlock)
	b, isBlock := p.body.blocks[n]
	switch {
	case !entering:
		return ast.WalkContinue, nil
	case b != nil:
		p.placed = append(p.placed, b)
		return ast.WalkContinue, w.WriteByte(mark)
	case isBlock:
		return ast.WalkContinue, nil
	}
	listing, err := Highlight(known(string(n.Language(src))), string(n.Lines().Value(src)))
	if err != nil {
		return ast.WalkStop, err
	}
	_, err = w.WriteString(string(listing))
	return ast.WalkContinue, err
}

// known returns the language, or plain text for one that was refused.
func known(lang string) string {
	if KnownLanguage(lang) {
		return lang
	}
	return ""
}

func (p *painter) listing(w util.BufWriter, src []byte, n ast.Node, entering bool) (ast.WalkStatus, error) {
	if !entering {
		return ast.WalkContinue, nil
	}
	_, err := fmt.Fprintf(w, "<pre class=\"hl\" tabindex=\"0\"><code>%s</code></pre>\n", escape(string(n.Lines().Value(src))))
	return ast.WalkContinue, err
}

// htmlBlock shows HTML as the text it is.
func (p *painter) htmlBlock(w util.BufWriter, src []byte, node ast.Node, entering bool) (ast.WalkStatus, error) {
	n := node.(*ast.HTMLBlock)
	if !entering {
		return ast.WalkContinue, nil
	}
	written := n.Lines().Value(src)
	if n.HasClosure() {
		written = append(bytes.Clone(written), n.ClosureLine.Value(src)...)
	}
	_, err := fmt.Fprintf(w, "<pre class=\"hl\" tabindex=\"0\"><code>%s</code></pre>\n", escape(string(written)))
	return ast.WalkContinue, err
}

func (p *painter) rawHTML(w util.BufWriter, src []byte, node ast.Node, entering bool) (ast.WalkStatus, error) {
	if !entering {
		return ast.WalkSkipChildren, nil
	}
	_, err := w.WriteString(escape(string(node.(*ast.RawHTML).Segments.Value(src))))
	return ast.WalkSkipChildren, err
}

// table lets a wide table scroll by itself on a narrow screen.
func (p *painter) table(w util.BufWriter, _ []byte, n ast.Node, entering bool) (ast.WalkStatus, error) {
	if entering {
		_, err := w.WriteString("<div class=\"table\" tabindex=\"0\">\n<table>\n")
		return ast.WalkContinue, err
	}
	_, err := w.WriteString("</table>\n</div>\n")
	return ast.WalkContinue, err
}

func escape(s string) string { return template.HTMLEscapeString(s) }
