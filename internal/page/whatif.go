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
	None  []string     // one for each conflict that no replacement removes
}

// IsZero reports whether there is nothing to say.
func (v ChangesView) IsZero() bool { return len(v.Out)+len(v.Swaps)+len(v.None) == 0 }

// ChangeLine is a changed mix: the item that left it or came into it, and the
// answer.
type ChangeLine struct {
	Link
	Text    string // "Without …", or "… in place of …"
	Verdict mix.Verdict
	Why     Phrase   // one line of the deciding evidence
	Notes   []string // conflicts that stay, hazards, what is untested in it
}

// SwapView is the replacements of one item, in the judge's order.
type SwapView struct {
	Out  Link
	In   []ChangeLine
	More string // that there are more than those listed; empty when there are not
}

// changes puts into words what a change of one product would do to an answer.
func (l *leaf) changes(a *compat.Answer, s mix.Situation) ChangesView {
	var v ChangesView
	all := l.Judge.WhatIf(a.Items, s)
	for i := range all.Without {
		if len(a.Items) > 2 {
			v.Out = append(v.Out, l.change(&all.Without[i]))
		}
	}
	for _, r := range all.Instead {
		one := SwapView{Out: l.item(r.Out)}
		for i := range r.Best {
			one.In = append(one.In, l.change(&r.Best[i]))
		}
		if n := r.Found - len(r.Best); n > 0 {
			one.More = l.t("whatif.more", "n", n)
		}
		v.Swaps = append(v.Swaps, one)
	}
	v.None = l.unanswered(a, all.Instead)
	return v
}

// unanswered says of each conflict with a product in it that nothing removes it, for
// silence reads as if nobody had looked. A class serves no purpose: nothing is sought
// in its place.
func (l *leaf) unanswered(a *compat.Answer, found []compat.Replacement) []string {
	var lines []string
	for _, c := range a.Conflicts() {
		answered := slices.ContainsFunc(found, func(r compat.Replacement) bool { return slices.Contains(c.Items, r.Out) })
		if products := l.onlyProducts(slices.Clone(c.Items)...); !answered && len(products) > 0 {
			lines = append(lines, l.t("whatif.none", "items", l.names(products)))
		}
	}
	return lines
}

func (l *leaf) change(c *compat.Change) ChangeLine {
	l.danger(c.Answer.Hazards...)
	line := ChangeLine{Link: l.item(c.Out), Verdict: c.Answer.Verdict, Notes: l.changeNotes(c)}
	line.Text = l.t("whatif.without", "out", l.nameText(c.Out))
	if c.In != "" {
		line.Link = l.item(c.In)
		line.Text = l.t("whatif.in-place", "in", l.nameText(c.In), "out", l.nameText(c.Out))
	}
	if d := c.Answer.Deciding(); d != nil {
		line.Why = l.short(d)
	}
	return line
}

// mostNamed is how many products are named with which a replacement is untested.
const mostNamed = 3

// changeNotes is what stands beside the verdict of a changed mix: the planner says the
// same of its own.
func (l *leaf) changeNotes(c *compat.Change) []string {
	var notes []string
	for _, h := range c.Answer.Hazards {
		notes = append(notes, l.words.Hazard(h))
	}
	if c.Left > 0 {
		notes = append(notes, l.t("whatif.stay", "n", c.Left))
	}
	pairs, brought := len(c.Answer.Untested), len(c.Untested)
	switch {
	case brought > mostNamed:
		notes = append(notes, l.t("whatif.untested-many", "n", brought))
	case brought > 0:
		notes = append(notes, l.t("whatif.untested-with", "items", l.names(c.Untested)))
	}
	switch {
	case pairs > brought && brought > 0:
		notes = append(notes, l.t("whatif.untested-all", "n", pairs))
	case pairs > brought:
		notes = append(notes, l.t("whatif.untested", "n", pairs))
	}
	return notes
}
