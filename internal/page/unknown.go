package page

import (
	"slices"

	"tankleaf.example/internal/compat"
	"tankleaf.example/internal/mix"
)

// UnknownPage lists what is not known yet.
type UnknownPage struct {
	Frame
	Ranked []GapEntry // most pressing first
	Crops  []CropGap
}

// CropGap is the pairs that share a timing of a crop and about which nothing is
// known: of products, in a large office of printed classes.
type CropGap struct {
	Anchor  string
	Name    Phrase
	Known   int // pairs with evidence
	Unknown int
	Timings []TimingGap
}

// TimingGap is the untested pairs of one timing, item by item.
type TimingGap struct {
	Name  Phrase
	Lines []GapLine
	N     int
}

// GapLine is one item with those it shares a timing with and is untested with.
// Each pair stands once, under the item that comes first by name.
type GapLine struct {
	Link
	N      int
	Others string
}

func (e *edition) unknownPage() ([]byte, error) {
	l := e.newLeaf("unknown.html")
	p := &UnknownPage{Ranked: l.gapEntries(e.gaps())}
	for i := range e.book().Crops {
		p.Crops = append(p.Crops, l.cropGap(&e.book().Crops[i]))
	}
	return l.finish("unknown", p, head{l.t("unknown.title"), l.t("unknown.summary")})
}

// mostRanked is how many gaps the page ranks: what an office can run in a season.
const mostRanked = 24

// gaps ranks what is untested, once for all editions.
func (p *press) gaps() []compat.Gap {
	p.rank.Do(func() { p.ranked = p.Judge.Gaps(mostRanked) })
	return p.ranked
}

func (l *leaf) cropGap(c *mix.Crop) CropGap {
	gap := CropGap{Anchor: "crop-" + string(c.ID), Name: l.phrase(c.Name)}
	for _, t := range c.Timings {
		found, known := l.timingGap(timing{c.ID, t.ID})
		found.Name = l.phrase(t.Name)
		gap.Known += known
		gap.Unknown += found.N
		if found.N > 0 {
			gap.Timings = append(gap.Timings, found)
		}
	}
	return gap
}

// timingGap returns the untested pairs of a timing and the number of known ones.
func (l *leaf) timingGap(at timing) (gap TimingGap, known int) {
	ids := l.atTiming(at)
	for i, a := range ids {
		var others []mix.ID
		for _, b := range ids[i+1:] {
			switch {
			case l.Index.IsA(a, b) || l.Index.IsA(b, a):
			case l.unknown(a, b):
				others = append(others, b)
			default:
				known++
			}
		}
		if len(others) > 0 {
			gap.N += len(others)
			gap.Lines = append(gap.Lines, GapLine{l.item(a), len(others), l.names(others)})
		}
	}
	return gap, known
}

// atTiming lists the products of a timing by name; in a large office the printed
// classes they belong to.
func (l *leaf) atTiming(at timing) []mix.ID {
	ids := slices.Clone(l.uses.byTiming[at])
	if l.large() {
		var classes []mix.ID
		for _, c := range l.printed() {
			if slices.ContainsFunc(ids, func(p mix.ID) bool { return l.Index.IsA(p, c) }) {
				classes = append(classes, c)
			}
		}
		ids = classes
	}
	slices.SortFunc(ids, func(a, b mix.ID) int { return l.compare(l.nameText(a), l.nameText(b)) })
	return slices.Compact(ids)
}
