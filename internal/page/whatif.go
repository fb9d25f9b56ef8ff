package page

import (
	"slices"

	"tankleaf.example/internal/compat"
	"tankleaf.example/internal/mix"
)

// ChangesView is what becomes of a mix when one item is left out or another product
// of the same purpose takes its place.
type ChangesView struct {
	Out   []ChangeLine // one item left out; none for a pair, whose rest is no mix
	Swaps []SwapView   // by the item that is replaced
	None  string       // said when a caution stands and no replacement removes it
}

// IsZero reports whether there is nothing to say.
func (v ChangesView) IsZero() bool { return len(v.Out)+len(v.Swaps) == 0 && v.None == "" }

// ChangeLine is a changed mix: the item that left it or came into it, and the
// answer.
type ChangeLine struct {
	Link
	Text     string // "Without …", or "… in place of …"
	Verdict  mix.Verdict
	Untested string // "2 pairs untested"; empty when none is
	Why      Phrase // one line of the deciding evidence
}

// SwapView is the replacements of one item, known answers first, those that are
// merely unknown last.
type SwapView struct {
	Out Link
	In  []ChangeLine
}

// changes puts into words what a change of one product would do to an answer.
func (l *leaf) changes(a *compat.Answer, s mix.Situation) ChangesView {
	var v ChangesView
	for _, c := range l.Judge.WhatIf(a.Items, s) {
		l.danger(c.Answer.Hazards...)
		if c.In != "" {
			v.swap(l.item(c.Out), l.change(&c))
		} else if len(a.Items) > 2 {
			v.Out = append(v.Out, l.change(&c))
		}
	}
	if len(v.Swaps) == 0 && a.Verdict >= mix.Steps && l.anyProduct(a.Items) {
		v.None = l.t("whatif.none")
	}
	return v
}

func (v *ChangesView) swap(out Link, line ChangeLine) {
	if n := len(v.Swaps); n == 0 || v.Swaps[n-1].Out.Name != out.Name {
		v.Swaps = append(v.Swaps, SwapView{Out: out})
	}
	last := &v.Swaps[len(v.Swaps)-1]
	last.In = append(last.In, line)
}

func (l *leaf) change(c *compat.Change) ChangeLine {
	line := ChangeLine{Link: l.item(c.Out), Verdict: c.Answer.Verdict}
	line.Text = l.t("whatif.without", "out", l.nameText(c.Out))
	if c.In != "" {
		line.Link = l.item(c.In)
		line.Text = l.t("whatif.in-place", "in", l.nameText(c.In), "out", l.nameText(c.Out))
	}
	if d := c.Answer.Deciding(); d != nil {
		line.Why = l.short(d)
	}
	if n := len(c.Answer.Untested); n > 0 {
		line.Untested = l.t("whatif.untested", "n", n)
	}
	return line
}

// anyProduct reports whether one of the items is a product: a class serves no
// purpose, so nothing is sought in its place.
func (e *edition) anyProduct(items []mix.ID) bool {
	return slices.ContainsFunc(items, func(id mix.ID) bool { return e.Index.Product(id) != nil })
}
