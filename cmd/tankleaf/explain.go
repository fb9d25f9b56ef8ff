package main

import (
	"fmt"
	"slices"
	"strings"

	"tankleaf.example/internal/compat"
	"tankleaf.example/internal/diag"
	"tankleaf.example/internal/mix"
	"tankleaf.example/internal/page"
	"tankleaf.example/internal/site"
)

var explainCommand = &command{
	name: "explain",
	args: "ITEM ITEM… [--place ID] [--crop ID] [--water ID] [--lang CODE] [--json]",
	does: "tell the verdict of a mix and everything it rests on",
	long: `
Items are ids of products or classes, two to twelve. The answer is the worst known
verdict and, apart from it, what is untested in the mix. Each line of evidence says
what it does in the answer, down to its source or record. What you say of place,
crop and water narrows the conditions; what you leave out is taken to be the worst.
Then comes what becomes of the mix without each item and, where products may not share
a tank, which others of the same purpose would take their place without a conflict: the
same list, in the same order, as in the planner of the site. What such a product is
untested with is said beside it.

  tankleaf explain potassium-bicarbonate acidifier
  tankleaf explain captan horticultural-oil --json
  tankleaf explain glyphosate zinc-sulfate --place lower-quillback
`,
	run: runExplain,
}

func runExplain(c *call) error {
	var s mix.Situation
	place, crop := c.flags.String("place", "", ""), c.flags.String("crop", "", "")
	water, lang := c.flags.String("water", "", ""), c.flags.String("lang", "", "")
	if err := c.want(2, 12); err != nil {
		return err
	}
	office, err := c.mustRead()
	if err != nil {
		return err
	}
	items, err := items(office, c.args)
	if err != nil {
		return err
	}
	if s, err = situation(office, *place, *crop, *water); err != nil {
		return err
	}
	words, err := language(office, *lang)
	if err != nil {
		return err
	}
	judge := compat.New(office.Index)
	answer := judge.Mix(items, s)
	if c.json {
		v := answerJSON(&answer)
		v.Changes = changesJSON(judge.WhatIf(items, s))
		return c.printJSON(v)
	}
	c.printExplanation(page.ExplainChanges(office.Inputs(judge), words, &answer, s), &answer)
	return nil
}

// mustRead reads the office and ends the command when publication would stop.
func (c *call) mustRead() (*site.Office, error) {
	office, problems, err := c.read()
	if err != nil {
		return nil, err
	}
	if problems.Stops() {
		if c.json {
			return nil, c.reportJSON(problems, nil)
		}
		return nil, c.report(problems)
	}
	return office, nil
}

// items looks words up as products or classes.
func items(o *site.Office, words []string) ([]mix.ID, error) {
	var found []mix.ID
	for _, w := range words {
		id := mix.ID(w)
		if o.Index.Product(id) == nil && o.Index.Class(id) == nil {
			return nil, unknownID("product or class", w, itemNames(o))
		}
		if slices.Contains(found, id) {
			return nil, usagef("name each item once", "%q is there twice", w)
		}
		found = append(found, id)
	}
	return found, nil
}

func unknownID(kind, got string, names []string) error {
	hint := ""
	if near := diag.Nearest(got, names); near != "" {
		hint = fmt.Sprintf("did you mean %q?", near)
	}
	return usagef(hint, "unknown %s %q", kind, got)
}

func itemNames(o *site.Office) []string {
	var names []string
	for i := range o.Book.Products {
		names = append(names, string(o.Book.Products[i].ID))
	}
	for i := range o.Book.Classes {
		names = append(names, string(o.Book.Classes[i].ID))
	}
	return names
}

// itemNames lists what explain may be asked about, for completion; nothing when
// the folder is no office.
func (c *call) itemNames() []string {
	office, _, err := c.read()
	if err != nil {
		return nil
	}
	return itemNames(office)
}

// situation reads the flags that say under which conditions the mix is meant.
func situation(o *site.Office, place, crop, water string) (mix.Situation, error) {
	var s mix.Situation
	if place != "" && o.Index.Place(mix.ID(place)) == nil {
		return s, unknownID("place", place, ids(o.Book.Places, func(p *mix.Place) mix.ID { return p.ID }))
	}
	if crop != "" && o.Index.Crop(mix.ID(crop)) == nil {
		return s, unknownID("crop", crop, ids(o.Book.Crops, func(p *mix.Crop) mix.ID { return p.ID }))
	}
	s.Place, s.Crop = mix.ID(place), mix.ID(crop)
	if water == "" {
		return s, nil
	}
	w := o.Index.Water(mix.ID(water))
	if w == nil {
		return s, unknownID("water", water, ids(o.Book.Waters, func(p *mix.WaterSource) mix.ID { return p.ID }))
	}
	s.Hardness, s.PH, s.Bicarbonate = w.Hardness, w.PH, w.Bicarbonate
	return s, nil
}

func ids[T any](records []T, id func(*T) mix.ID) []string {
	var names []string
	for i := range records {
		names = append(names, string(id(&records[i])))
	}
	return names
}

// language picks the language of the words: the office's own when none is named.
func language(o *site.Office, code string) (mix.Lang, error) {
	if code == "" {
		return o.Book.Site.Languages[0], nil
	}
	if o.Messages[mix.Lang(code)] == nil {
		return "", usagef("", "no messages in language %q", code)
	}
	return mix.Lang(code), nil
}

// printExplanation prints hazards first, then the verdict, why, what to do, what
// is untested, and the evidence with its sources.
func (c *call) printExplanation(x page.Explanation, a *compat.Answer) {
	fmt.Fprintf(c.out, "%s\n\n", x.Title)
	if x.Hazard != "" {
		fmt.Fprintln(c.out, x.Hazard)
	}
	fmt.Fprintf(c.out, "%s: %s%s\n", x.Words.Verdict(a.Verdict), x.Band.Why.Text, cites(x.Band.Why.Cites))
	for _, step := range x.Band.Steps {
		fmt.Fprintf(c.out, "  - %s\n", step.Text)
	}
	instead := x.Band.Instead.Text
	for i, u := range x.Band.Use {
		instead += map[bool]string{true: " ", false: ", "}[i == 0] + u.Name.Text
	}
	fmt.Fprintf(c.out, "%s: %s\n%s\n", x.InsteadHead, strings.TrimSpace(instead), x.Band.Rest)
	c.printDoubts("", x.Doubts)
	if len(x.Untested) > 0 {
		fmt.Fprintf(c.out, "\n%s\n", x.UntestedHead)
		for _, u := range x.Untested {
			fmt.Fprintf(c.out, "  - %s\n", u.Name.Text)
		}
	}
	for i, e := range x.Ledger {
		c.printEntry(x, i+1, e)
	}
	c.printChanges(&x)
	if len(x.Sources) > 0 {
		fmt.Fprintf(c.out, "\n%s\n", x.SourcesHead)
	}
	for i, s := range x.Sources {
		fmt.Fprintf(c.out, "  [%d] %s\n", i+1, sourceLine(s))
	}
}

// printChanges prints what a change of one item would do, a line each.
func (c *call) printChanges(x *page.Explanation) {
	if x.Changes.IsZero() {
		return
	}
	fmt.Fprintf(c.out, "\n%s\n", x.ChangesHead)
	c.printChangeLines(x, x.Changes.Out)
	for _, s := range x.Changes.Swaps {
		c.printChangeLines(x, s.In)
		if s.More != "" {
			fmt.Fprintf(c.out, "    %s\n", s.More)
		}
	}
	for _, none := range x.Changes.None {
		fmt.Fprintf(c.out, "  - %s\n", none)
	}
}

func (c *call) printChangeLines(x *page.Explanation, lines []page.ChangeLine) {
	for _, line := range lines {
		notes := ""
		if len(line.Notes) > 0 {
			notes = " (" + strings.Join(line.Notes, "; ") + ")"
		}
		fmt.Fprintf(c.out, "  - %s: %s%s\n", line.Text, x.Words.Verdict(line.Verdict), notes)
	}
}

func (c *call) printEntry(x page.Explanation, n int, e page.Entry) {
	fmt.Fprintf(c.out, "\n%d. %s%s\n", n, e.What.Text, cites(e.What.Cites))
	verdict := "" // a record for information has none, which is not "no evidence"
	if e.Verdict != mix.Unknown {
		verdict = x.Words.Verdict(e.Verdict) + "; "
	}
	fmt.Fprintf(c.out, "   %s%s; %s\n", verdict, e.Grade, e.Part)
	for _, f := range e.Facts {
		for i, line := range f.Lines {
			label := f.Label + ": "
			if i > 0 {
				label = strings.Repeat(" ", len([]rune(label)))
			}
			fmt.Fprintf(c.out, "   %s%s%s\n", label, line.Text, cites(line.Cites))
		}
	}
	c.printDoubts("   ", e.Doubts)
}

func (c *call) printDoubts(indent string, doubts []page.DoubtLine) {
	for _, d := range doubts {
		fmt.Fprintf(c.out, "%s  (%d) %s\n", indent, d.N, d.Text)
	}
}

func cites(all []page.Cite) string {
	text := ""
	for _, n := range all {
		text += fmt.Sprintf(" [%d]", n.N)
	}
	return text
}

func sourceLine(s page.SourceView) string {
	var parts []string
	for _, p := range []string{s.Authors, s.Title, s.Where, s.Link} {
		if p != "" {
			parts = append(parts, p)
		}
	}
	if s.Year != 0 {
		parts = append(parts, fmt.Sprint(s.Year))
	}
	return strings.Join(parts, ", ")
}
