package page

import (
	"cmp"
	"slices"

	"tankleaf.example/internal/mix"
)

// HomePage is the reader's question first.
type HomePage struct {
	Frame
	AtoZ    []Link
	Groups  []ClassGroup
	Lead    *Lead
	Never   []HazardPair // the first few
	Dangers int          // how many there are in all
	Crops   []Link
	Sheets  []SheetCard
	Recipes []Link
	Counts  HomeCounts
}

// Lead is the story of the newest investigation.
type Lead struct {
	Link
	Question, Conclude Phrase
	Opened             string
	Jars               int
	Drawing            *JarDrawing
}

// HazardPair is an interaction that endangers people.
type HazardPair struct {
	Link
	What    Phrase
	Hazards string
}

// HomeCounts says how much there is, and how much is not known.
type HomeCounts struct{ Products, Classes, Interactions, Observations, Sources int }

// neverOnHome is how many dangerous pairs the home page names; all are on the
// page on safety.
const neverOnHome = 10

func (e *edition) homePage() ([]byte, error) {
	l := e.newLeaf("index.html")
	b := e.book()
	p := &HomePage{Groups: l.classList(e.classGroups(func(c *mix.Class) bool { return c.Matrix })), Lead: l.lead(),
		Counts: HomeCounts{len(b.Products), len(b.Classes), len(b.Interactions), len(b.Observations), len(b.Sources)}}
	never := l.hazardPairs()
	p.Never, p.Dangers = never[:min(len(never), neverOnHome)], len(never)
	if !e.large() {
		for _, g := range l.byCrop() {
			p.Crops = append(p.Crops, Link{l.link("products.html#" + g.Anchor), g.Name})
		}
	}
	for _, letter := range l.letters() {
		p.AtoZ = append(p.AtoZ, Link{l.link(e.letterPath(letter.Letter)), Phrase{Text: letter.Letter}})
	}
	for _, s := range e.sheetOrder() {
		if len(p.Sheets) < 6 {
			p.Sheets = append(p.Sheets, l.sheetCard(s))
		}
	}
	for i := range b.Recipes {
		p.Recipes = append(p.Recipes, Link{l.link(recipePath(b.Recipes[i].ID)), l.phrase(b.Recipes[i].Title)})
	}
	return l.finish("index", p, head{l.phrase(b.Site.Title).Text, l.phrase(b.Site.Tagline).Text})
}

// lead tells of one investigation: of those in which people were in danger
// before others, the one with most observations; the newest of equals.
func (l *leaf) lead() *Lead {
	var pick *mix.Investigation
	for i := range l.book().Investigations {
		if inv := &l.book().Investigations[i]; pick == nil || l.leads(inv, pick) {
			pick = inv
		}
	}
	if pick == nil {
		return nil
	}
	list := l.uses.inquiry[pick.ID]
	lead := &Lead{Link: Link{l.link(investigationPath(pick.ID)), l.phrase(pick.Title)}, Question: l.phrase(pick.Question),
		Conclude: l.phrase(pick.Conclude), Opened: l.words.Date(pick.Opened), Jars: len(list)}
	for _, o := range list {
		l.danger(l.outcomeHazards(o)...)
	}
	lead.Drawing = l.strongest(list)
	return lead
}

// leads reports whether a comes before b.
func (l *leaf) leads(a, b *mix.Investigation) bool {
	x, y := l.uses.inquiry[a.ID], l.uses.inquiry[b.ID]
	return cmp.Or(cmp.Compare(min(1, l.dangers(x)), min(1, l.dangers(y))), cmp.Compare(len(x), len(y)),
		a.Opened.Compare(b.Opened), cmp.Compare(b.ID, a.ID)) > 0
}

// dangers counts the observations in which people were in danger.
func (l *leaf) dangers(list []*mix.Observation) int {
	n := 0
	for _, o := range list {
		if slices.ContainsFunc(l.outcomeHazards(o), func(h mix.Hazard) bool { return h != mix.NoHazard }) {
			n++
		}
	}
	return n
}

// strongest draws the reading with the strongest sign of gas, among equals the
// one with most foam; nil when no walls went firm.
func (l *leaf) strongest(list []*mix.Observation) *JarDrawing {
	var at *mix.Observation
	var pick *mix.Reading
	for _, o := range list {
		for i := range o.Readings {
			r := &o.Readings[i]
			if r.Gas >= mix.Firm && (pick == nil || cmp.Or(cmp.Compare(r.Gas, pick.Gas),
				cmp.Compare(foamShare(&o.Vessel, &r.Foam), foamShare(&at.Vessel, &pick.Foam))) > 0) {
				at, pick = o, r
			}
		}
	}
	if pick == nil {
		return nil
	}
	d := l.drawing(at, pick)
	return &d
}

// hazardPairs lists the interactions that endanger people, in the order of the
// book.
func (l *leaf) hazardPairs() []HazardPair {
	var list []HazardPair
	for i := range l.book().Interactions {
		in := &l.book().Interactions[i]
		if in.Verdict != mix.Never || len(in.Hazards) == 0 {
			continue
		}
		l.danger(in.Hazards...)
		var hazards []string
		for _, h := range in.Hazards {
			hazards = append(hazards, l.words.Hazard(h))
		}
		pair := HazardPair{What: l.phrase(in.What), Hazards: l.words.List(hazards)}
		ids := refIDs(in.Members)
		pair.Name = Phrase{Text: l.names(ids)}
		pair.Href = l.link(interactionPath(in.ID))
		if len(ids) == 2 && l.hasPage(ids[0], ids[1]) {
			pair.Href = l.link(togetherPath(ids[0], ids[1]))
		}
		list = append(list, pair)
	}
	return slices.Clip(list)
}
