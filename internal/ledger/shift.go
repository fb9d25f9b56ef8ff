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
	c := comparison{last, now, j, map[string]Shift{}, map[mix.ID][]mix.ID{}}
	for id := range last.Rows {
		if _, still := now.Rows[id]; !still {
			withdrawn = append(withdrawn, id)
		}
	}
	for k := range union(last.Mixes, now.Mixes) {
		c.compare(itemsOf(k))
	}
	c.index()
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
	found     map[string]Shift    // by key
	named     map[mix.ID][]mix.ID // the other items of shifts of two that a publication names
}

func (c *comparison) index() {
	for _, s := range c.found {
		if len(s.Items) == 2 {
			c.named[s.Items[0]] = append(c.named[s.Items[0]], s.Items[1])
			c.named[s.Items[1]] = append(c.named[s.Items[1]], s.Items[0])
		}
	}
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
// cautious of what it said of each two of the items.
func (c *comparison) said(items []mix.ID) Said {
	if s, named := c.last.Mixes[key(items)]; named || len(items) == 1 {
		return s
	}
	var worst Said
	for i, a := range items {
		for _, b := range items[i+1:] {
			worst = moreCautious(worst, c.last.ofTwo(a, b))
		}
	}
	return worst
}

// ofTwo is what was said of two items: by name, or else the most cautious of what
// was said of either beside the classes that the other was of then.
func (a *Advice) ofTwo(x, y mix.ID) Said {
	for _, pair := range [][2]mix.ID{{x, y}, {y, x}} {
		if s, named := a.Rows[pair[0]].With[pair[1]]; named {
			return s
		}
	}
	var worst Said
	for _, up := range a.Rows[y].Of {
		worst = moreCautious(worst, a.Rows[x].With[up])
	}
	for _, up := range a.Rows[x].Of {
		worst = moreCautious(worst, a.Rows[y].With[up])
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

// covered reports whether the shift of an item with a partner, if there is one, is
// told already: by a class of the item that goes from the same to something no
// less soft, or by a narrower item that a publication names and for which alone
// the class speaks.
func (c *comparison) covered(item, partner mix.ID) bool {
	shift, x := c.found[key([]mix.ID{item, partner})], c.judge.Index()
	for _, class := range x.Ancestors(item) {
		s, known := c.found[key([]mix.ID{class, partner})]
		if known && class != item && s.From.equal(shift.From) && s.Softer == shift.Softer && !shift.To.SofterThan(s.To) {
			return true
		}
	}
	for _, narrow := range c.named[partner] {
		s := c.found[key([]mix.ID{narrow, partner})]
		if narrow != item && x.IsA(narrow, item) && s.From.equal(shift.From) && s.To.equal(shift.To) {
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
