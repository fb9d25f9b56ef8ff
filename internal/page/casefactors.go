package page

import (
	"slices"
	"strings"

	"tankleaf.example/internal/compat"
	"tankleaf.example/internal/mix"
)

// Factors is what made no difference to a symptom and what did, from records that
// differ in one thing.
type Factors struct{ Same, Differ []FactorLine }

// FactorLine is one circumstance, or one product in place of another.
type FactorLine struct {
	Name  string
	Count string
	Pairs [][2]Link // the records that were compared, the first few
}

// mostPairs is how many comparisons a line leads to.
const mostPairs = 3

func (l *leaf) factors(c *compat.Case) Factors {
	var f Factors
	for i := range c.Factors {
		m := &c.Factors[i]
		name := capital(l.t("circumstance." + string(m.Circumstance)))
		if len(m.Same) > 0 {
			f.Same = append(f.Same, l.factorLine(name, m.Same))
		}
		if len(m.Differ) > 0 {
			f.Differ = append(f.Differ, l.factorLine(name, m.Differ))
		}
	}
	f.Same = append(f.Same, l.alikeLines(c)...)
	f.Differ = append(f.Differ, l.swapLines(c)...)
	return f
}

func (l *leaf) factorLine(name string, pairs []compat.Records) FactorLine {
	line := FactorLine{Name: name, Count: l.t("case.comparisons", "n", len(pairs))}
	for _, p := range pairs[:min(len(pairs), mostPairs)] {
		line.Pairs = append(line.Pairs, [2]Link{l.recordLink(p[0]), l.recordLink(p[1])})
	}
	return line
}

// alikeLines tells which products stood in for another with the same reaction.
func (l *leaf) alikeLines(c *compat.Case) []FactorLine {
	var lines []FactorLine
	for _, group := range c.Alike {
		var pairs []compat.Records
		for i := range c.Swaps {
			if s := &c.Swaps[i]; slices.Contains(group, s.Out) && slices.Contains(group, s.In) {
				pairs = append(pairs, s.Same...)
			}
		}
		lines = append(lines, l.factorLine(l.t("case.swap", "in", l.names(group[1:]), "out", l.nameText(group[0])), pairs))
	}
	return lines
}

// swapLines tells in whose place others made the difference, one line for each
// product without which the symptom was gone. Of those that act alike the first
// speaks for all.
func (l *leaf) swapLines(c *compat.Case) []FactorLine {
	type swap struct {
		in    []mix.ID
		pairs []compat.Records
	}
	lead, found := folding(c), map[mix.ID]*swap{}
	for i := range c.Swaps {
		s := &c.Swaps[i]
		if len(s.Differ) == 0 || len(s.Same) > 0 {
			continue
		}
		gone, come := s.Out, s.In
		if !with(s.Differ[0], c, gone) {
			gone, come = come, gone
		}
		if stands := lead[gone]; stands != "" && stands != gone {
			continue
		}
		if found[gone] == nil {
			found[gone] = &swap{}
		}
		found[gone].in, found[gone].pairs = append(found[gone].in, come), append(found[gone].pairs, s.Differ...)
	}
	var lines []FactorLine
	for _, p := range c.Suspects {
		if s := found[p]; s != nil {
			lines = append(lines, l.factorLine(l.t("case.swap", "in", l.names(s.in), "out", l.nameText(p)), s.pairs))
		}
	}
	return lines
}

// with reports whether the record of two that saw the symptom held a product.
func with(pair compat.Records, c *compat.Case, product mix.ID) bool {
	return slices.ContainsFunc(pair[:], func(o *mix.Observation) bool {
		return slices.Contains(c.Reacted, o) && slices.Contains(portionIDs(o.Products), product)
	})
}

// LiftView is an established cause carried over to classes: as far as members are
// untested it is a guess.
type LiftView struct {
	Claim  string
	Places []LiftPlace
}

// LiftPlace is one product of the cause with what may stand in its place.
type LiftPlace struct {
	Class            Link
	Tested, Untested []Link
	More             string // untested ones beyond those named
}

// The page names so many lifts of a case and untested members of a class.
const (
	mostLifts    = 2
	mostUntested = 8
)

// liftViews lists claims about chemistry and salts. Those about a formulation are
// more often an accident of what was at hand.
func (l *leaf) liftViews(c *compat.Case) []LiftView {
	list := slices.DeleteFunc(slices.Clone(c.Lifts), func(f compat.Lift) bool {
		return slices.ContainsFunc(f.Places, func(p compat.Place) bool { return p.Class != p.Product && !l.chemical(p.Class) })
	})
	var views []LiftView
	for i := range list[:min(len(list), mostLifts)] {
		views = append(views, l.liftView(&list[i]))
	}
	return views
}

func (l *leaf) liftView(f *compat.Lift) LiftView {
	var v LiftView
	var classes []string
	for _, p := range f.Places {
		place := LiftPlace{Class: l.item(p.Class), Tested: l.items(p.Tested)}
		shown := min(len(p.Untested), mostUntested)
		place.Untested = l.items(p.Untested[:shown])
		if n := len(p.Untested) - shown; n > 0 {
			place.More = l.t("case.more-untested", "n", n)
		}
		name := l.nameText(p.Class)
		if p.Class != p.Product {
			name = l.t("case.any", "class", name)
		}
		classes = append(classes, name)
		v.Places = append(v.Places, place)
	}
	v.Claim = capital(l.t("case.claim", "classes", strings.Join(classes, l.t("case.claim-with"))))
	return v
}
