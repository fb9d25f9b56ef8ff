package page

import (
	"cmp"
	"slices"

	"tankleaf.example/internal/mix"
)

// HomePage is the reader's question first.
type HomePage struct {
	Frame
	Letters []Letter // empty when there are too many products for one page
	AtoZ    []Link
	Groups  []ClassGroup
	Lead    *Lead
	Never   []HazardPair
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
	Sheet              *SheetCard
}

// HazardPair is an interaction that endangers people.
type HazardPair struct {
	Link
	What    Phrase
	Hazards string
}

// HomeCounts says how much there is, and how much is not known.
type HomeCounts struct{ Products, Classes, Interactions, Observations, Sources int }

// mostOnHome is how many products the home page lists by name; a larger office
// gets letters that lead to the list.
const mostOnHome = 240

func (e *edition) homePage() ([]byte, error) {
	l := e.newLeaf("index.html")
	b := e.book()
	p := &HomePage{Groups: l.classList(e.classGroups(func(c *mix.Class) bool { return c.Matrix })), Lead: l.lead(), Never: l.hazardPairs(),
		Counts: HomeCounts{len(b.Products), len(b.Classes), len(b.Interactions), len(b.Observations), len(b.Sources)}}
	letters := l.letters()
	for _, letter := range letters {
		p.AtoZ = append(p.AtoZ, Link{l.link("products.html#" + letter.Anchor), Phrase{Text: letter.Letter}})
	}
	if len(b.Products) <= mostOnHome {
		p.Letters = letters
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

// lead tells of the newest investigation that has a conclusion, else of the
// newest.
func (l *leaf) lead() *Lead {
	var pick *mix.Investigation
	for i := range l.book().Investigations {
		inv := &l.book().Investigations[i]
		if pick == nil || newerStory(inv, pick) {
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
		if lead.Drawing == nil {
			lead.Drawing = l.strongest(o)
		}
	}
	return lead
}

func newerStory(a, b *mix.Investigation) bool {
	told := func(i *mix.Investigation) int {
		if i.Conclude.IsZero() {
			return 0
		}
		return 1
	}
	return cmp.Or(cmp.Compare(told(a), told(b)), a.Opened.Compare(b.Opened), cmp.Compare(b.ID, a.ID)) > 0
}

// strongest draws the reading with the strongest sign of gas, when there is one
// with walls gone firm.
func (l *leaf) strongest(o *mix.Observation) *JarDrawing {
	for i := range o.Readings {
		if r := &o.Readings[i]; r.Gas >= mix.Firm {
			d := l.drawing(o, r)
			return &d
		}
	}
	return nil
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
