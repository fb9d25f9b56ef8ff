package page

import (
	"tankleaf.example/internal/compat"
	"tankleaf.example/internal/mix"
)

// GapEntry is a pair about which nothing is known, with what makes it pressing and
// the jar that would settle most.
type GapEntry struct {
	N       int
	Pair    [2]Link
	Alike   string   // for how many pairs of the same classes it stands; "" for itself alone
	Meets   []string // where labels put the two into one tank
	More    string   // further crops and timings, how many
	Worst   string   // how bad it could be, in words; a guess, never a verdict
	From    Line     // what makes that plausible
	Records []Link   // of From; a single one is From's own way
	Jar     []Link
	Settles string
	Careful bool // what is plausible hurts people: no jar for everybody
}

// GapList is the most pressing gaps with the sources they mention.
type GapList struct {
	Entries []GapEntry
	Heads   GapHeads
	Sources []SourceView
}

// GapHeads is the words around a list of gaps.
type GapHeads struct{ Title, How, None, Worst, Meets, Jar, Careful, Sources string }

// Gaps puts gaps into words in one language of the catalogues, for one who has no
// page to follow.
func Gaps(in Inputs, lang mix.Lang, gaps []compat.Gap) GapList {
	l := looseLeaf(in, lang)
	list := GapList{Entries: l.gapEntries(gaps), Heads: GapHeads{
		Title: l.t("gaps.title"), How: l.t("gaps.how"), None: l.t("unknown.none"), Worst: l.t("gaps.worst-head"), Meets: l.t("gaps.meets"),
		Jar: l.t("gaps.jar"), Careful: l.t("gaps.careful"), Sources: l.t("explain.sources"),
	}}
	for _, s := range l.sources {
		list.Sources = append(list.Sources, s.SourceView)
	}
	return list
}

// mostSlots is how many crops and timings of a gap are named.
const mostSlots = 4

func (l *leaf) gapEntries(gaps []compat.Gap) []GapEntry {
	var entries []GapEntry
	for i := range gaps {
		entries = append(entries, l.gapEntry(&gaps[i], i+1))
	}
	return entries
}

func (l *leaf) gapEntry(g *compat.Gap, n int) GapEntry {
	e := GapEntry{N: n, Pair: [2]Link{l.item(g.Pair[0]), l.item(g.Pair[1])}, Jar: l.items(g.Jar), Careful: g.Worst == mix.Never,
		Worst: l.t("gaps.worst-unknown")}
	if pairs := pairsOf(g.Products); pairs > 1 {
		e.Alike = l.t("gaps.alike", "n", pairs)
	}
	for i, s := range g.Slots {
		if i == mostSlots {
			e.More = l.t("gaps.more-slots", "n", len(g.Slots)-mostSlots)
			break
		}
		e.Meets = append(e.Meets, l.t("gaps.slot", "crop", l.nameText(s.Crop), "timing", l.timingName(s.Crop, s.Timing)))
	}
	if g.From != nil {
		e.Worst = l.t("gaps.worst", "verdict", l.words.Verdict(g.Worst))
		e.From = l.what(&compat.Finding{Evidence: g.From})
		e.Records = l.evidenceLinks([]compat.Evidence{g.From})
		e.Records = e.Records[:min(len(e.Records), mostDoubtLinks)]
		if len(e.Records) == 1 {
			e.From.Href = e.Records[0].Href
		}
		l.danger(l.hazardsOf(g.From)...)
	}
	if g.Settles > 1 {
		e.Settles = l.t("gaps.settles", "n", g.Settles)
	}
	return e
}

// pairsOf counts the pairs of products of two kinds, which may be one.
func pairsOf(kinds [2][]mix.ID) int {
	a, b := len(kinds[0]), len(kinds[1])
	if a > 0 && b > 0 && kinds[0][0] == kinds[1][0] {
		return a * (a - 1) / 2
	}
	return a * b
}

// hazardsOf returns what a piece of evidence says of danger to people.
func (l *leaf) hazardsOf(ev compat.Evidence) []mix.Hazard {
	switch e := ev.(type) {
	case compat.Statement:
		return e.Hazards
	case *compat.JarSet:
		var all []mix.Hazard
		for _, o := range e.Jars {
			all = append(all, l.outcomeHazards(o)...)
		}
		return all
	}
	return nil
}
