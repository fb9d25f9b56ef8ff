package ledger

import (
	"cmp"
	"fmt"
	"maps"
	"slices"

	"tankleaf.example/internal/compat"
	"tankleaf.example/internal/mix"
)

// Shift is a mix of which a publication says something else than the one before.
type Shift struct {
	Items     []mix.ID `json:"items"` // sorted; a class twice: two of its members
	From      Said     `json:"from"`
	To        Said     `json:"to"`
	Softer    bool     `json:"softer"`
	DecidedBy []string `json:"decided_by,omitempty"` // KIND:ID of what decides now
	Review    mix.ID   `json:"review,omitempty"`     // that answers for a softer verdict
}

// Compare lists what a judge's book says that the last publication said
// otherwise, softer first, then by the caution that was asked for and by items;
// and the items that it no longer has.
func Compare(last, now *Advice, j *compat.Judge) (shifts []Shift, withdrawn []mix.ID) {
	c := comparison{last, now, j, map[string]Shift{}}
	for id := range last.Rows {
		if _, still := now.Rows[id]; !still {
			withdrawn = append(withdrawn, id)
		}
	}
	for k := range union(last.Mixes, now.Mixes) {
		c.compare(itemsOf(k))
	}
	c.rows()
	shifts = slices.Collect(maps.Values(c.found))
	sortShifts(shifts)
	slices.Sort(withdrawn)
	return shifts, withdrawn
}

func union[K comparable, V any](a, b map[K]V) map[K]bool {
	all := map[K]bool{}
	for k := range a {
		all[k] = true
	}
	for k := range b {
		all[k] = true
	}
	return all
}

func sortShifts(list []Shift) {
	soft := func(s Shift) int {
		if s.Softer {
			return 0
		}
		return 1
	}
	slices.SortFunc(list, func(a, b Shift) int {
		return cmp.Or(soft(a)-soft(b), caution[b.From.Verdict]-caution[a.From.Verdict],
			caution[b.To.Verdict]-caution[a.To.Verdict], compareIDs(a.Items, b.Items))
	})
}

type comparison struct {
	last, now *Advice
	judge     *compat.Judge
	found     map[string]Shift // by key
}

// compare looks at one mix of items that are still there.
func (c *comparison) compare(items []mix.ID) {
	for _, id := range items {
		if _, there := c.now.Rows[id]; !there {
			return
		}
	}
	from, answer := c.said(items), c.answer(items)
	if to := said(answer); !from.equal(to) {
		c.found[key(items)] = Shift{Items: items, From: from, To: to, Softer: to.SofterThan(from), DecidedBy: decides(answer)}
	}
}

// said is what the last publication said of a mix: by name, or else the most
// cautious of what it said of each two of the items and of the classes that they
// were of then.
func (c *comparison) said(items []mix.ID) Said {
	if s, named := c.last.Mixes[key(items)]; named || len(items) == 1 {
		return s
	}
	var worst Said
	for i, a := range items {
		for _, b := range items[i+1:] {
			worst = moreCautious(worst, moreCautious(c.last.beside(a, b), c.last.beside(b, a)))
		}
	}
	return worst
}

// beside is what the row of an item says of another and of its classes.
func (a *Advice) beside(item, other mix.ID) Said {
	row := a.Rows[item].With
	worst := row[other]
	for _, up := range a.Rows[other].Of {
		worst = moreCautious(worst, row[up])
	}
	return worst
}

// moreCautious returns the one of two that asks for more care. Of something and
// nothing it is something.
func moreCautious(s, t Said) Said {
	if s.Verdict == mix.Unknown || t.Verdict != mix.Unknown && caution[t.Verdict] > caution[s.Verdict] {
		return t
	}
	return s
}

func (c *comparison) answer(items []mix.ID) *compat.Answer {
	switch len(items) {
	case 1:
		return c.judge.Solo(items[0])
	case 2:
		return c.judge.Pair(items[0], items[1])
	}
	made := c.judge.Mix(items, mix.Situation{})
	return &made
}

// rows looks at each class and product of both publications beside all that it
// meets: classes before their members, whose shifts they cover.
func (c *comparison) rows() {
	x := c.judge.Index()
	items := slices.SortedFunc(maps.Keys(c.last.Rows), func(a, b mix.ID) int {
		return cmp.Or(len(x.Ancestors(a))-len(x.Ancestors(b)), cmp.Compare(a, b))
	})
	for _, item := range items {
		for partner := range union(c.last.Rows[item].With, c.now.Rows[item].With) {
			pair := []mix.ID{item, partner}
			slices.Sort(pair)
			if _, told := c.found[key(pair)]; told {
				continue
			}
			if c.compare(pair); c.covered(item, partner) {
				delete(c.found, key(pair))
			}
		}
	}
}

// covered reports whether the shift of an item with a partner, if there is one,
// says nothing that a class of the item does not say with the same partner: from
// the same, and no softer.
func (c *comparison) covered(item, partner mix.ID) bool {
	shift := c.found[key([]mix.ID{item, partner})]
	for _, class := range c.judge.Index().Ancestors(item) {
		s, known := c.found[key([]mix.ID{class, partner})]
		if known && class != item && s.From.equal(shift.From) && s.Softer == shift.Softer && !shift.To.SofterThan(s.To) {
			return true
		}
	}
	return false
}

// decides names what the verdict of an answer rests on.
func decides(answer *compat.Answer) []string {
	f := answer.Deciding()
	if f == nil {
		return nil
	}
	switch e := f.Evidence.(type) {
	case compat.Statement:
		return []string{"interaction:" + string(e.ID)}
	case compat.Ruling:
		return []string{"notice:" + string(e.ID)}
	case *compat.JarSet:
		var all []string
		for _, o := range e.Jars {
			all = append(all, "observation:"+string(o.ID))
		}
		return all
	default:
		panic(fmt.Sprintf("ledger: evidence %T", e))
	}
}
