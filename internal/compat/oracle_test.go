package compat_test

import (
	"cmp"
	"slices"

	"tankleaf.example/internal/compat"
	"tankleaf.example/internal/mix"
)

// oracle judges mixes by the rules of the package's comment, by trying everything:
// every way to stand for a member, every set of jars, nothing kept and nothing
// numbered. It knows outcomes from the judge, which other tests hold. What it says
// is compared with the judge's answers over random books.
type oracle struct {
	x    *mix.Index
	book *mix.Book
	sets []*heap
	out  map[mix.ID]*compat.Outcome
	need []mix.Symptom
}

// claim is one piece of evidence as it bears on a mix.
type claim struct {
	name                  string
	rank                  int // statements, notices, jars
	part                  compat.Part
	verdict, stated       mix.Verdict
	reached               mix.Verdict // after gates and mends, whether or not it proves anything here
	grade, basis          mix.Grade
	items                 []mix.ID
	exact, narrower       bool
	narrow, larger        bool
	symptoms              []mix.Symptom
	hazards, care         []mix.Hazard
	rule, firm, law, asks bool
	when                  []mix.Gate
	liquid                []mix.ID // members that the liquid of the tank stands for
	mend                  *mix.Mend
	mendItem              mix.ID
	rank0                 mix.Verdict // what the rule says before its mend
	open, failed          int
	clean                 bool
	heap                  *heap
	doubts                map[compat.DoubtCode]bool
}

func (c *claim) doubt(code compat.DoubtCode) { c.doubts[code] = true }

func (o *oracle) isClass(id mix.ID) bool { return o.x.Class(id) != nil }

// seat is one thing that may stand for a member.
type seat struct {
	id       mix.ID
	item     bool
	supposed bool
}

// ways returns the cheapest way for each set of items to stand for the members.
func (o *oracle) ways(members, items []mix.ID, s *mix.Situation) [][]seat {
	sure, maybe := o.known(s)
	var pool []seat
	for _, id := range items {
		pool = append(pool, seat{id: id, item: true})
	}
	for _, id := range sure {
		if !slices.Contains(items, id) {
			pool = append(pool, seat{id: id})
		}
	}
	for _, id := range maybe {
		if slices.Contains(members, id) && !slices.Contains(items, id) {
			pool = append(pool, seat{id: id, supposed: true})
		}
	}
	best := map[string][]seat{}
	var try func(taken []int)
	try = func(taken []int) {
		if len(taken) < len(members) {
			for i := range pool {
				if !slices.Contains(taken, i) && o.fits(pool[i], members[len(taken)]) {
					try(append(slices.Clone(taken), i))
				}
			}
			return
		}
		way := make([]seat, len(taken))
		for n, i := range taken {
			way[n] = pool[i]
		}
		k := key(seated(way))
		if old := best[k]; k != "" && (old == nil || o.cost(way, members) < o.cost(old, members)) {
			best[k] = way
		}
	}
	try(nil)
	var all [][]seat
	for _, w := range best {
		all = append(all, w)
	}
	return all
}

func (o *oracle) fits(s seat, member mix.ID) bool {
	switch {
	case s.supposed:
		return s.id == member
	case s.id == member || o.x.IsA(s.id, member):
		return true
	}
	return s.item && o.isClass(s.id) && o.x.IsA(member, s.id)
}

func (o *oracle) cost(way []seat, members []mix.ID) int {
	n := 0
	for i, s := range way {
		switch {
		case s.supposed:
			n += 1000
		case s.id != members[i] && !o.x.IsA(s.id, members[i]):
			n++
		}
	}
	return n
}

// seated returns the items of a way, sorted.
func seated(way []seat) []mix.ID {
	var list []mix.ID
	for _, s := range way {
		if s.item {
			list = append(list, s.id)
		}
	}
	slices.Sort(list)
	return list
}

func key(ids []mix.ID) string {
	k := ""
	for _, id := range ids {
		k += string(id) + " "
	}
	return k
}

// statement says what an interaction says by itself.
func (o *oracle) statement(n *mix.Interaction) claim {
	c := claim{name: string(n.ID), rule: true, stated: n.Verdict, verdict: n.Verdict, symptoms: slices.Clone(n.Symptoms),
		hazards: n.Hazards, when: n.When, law: n.Kind == mix.Legal, basis: mix.Practice, doubts: map[compat.DoubtCode]bool{}}
	slices.Sort(c.symptoms)
	unread := false
	for _, r := range n.Sources {
		if s := o.x.Source(r.ID); s != nil {
			c.basis = max(c.basis, s.Kind.Grade())
			unread = unread || s.Kind == mix.Memory || s.Kind == mix.CommonPractice
		}
	}
	switch {
	case c.basis == mix.Practice:
		c.doubt(compat.NoSourceSeen)
	case unread:
		c.doubt(compat.PartRemembered)
	}
	if len(n.Disputes) > 0 {
		c.doubt(compat.Disputed)
	}
	if n.Verdict >= mix.Steps {
		for symptom, hazard := range map[mix.Symptom]mix.Hazard{mix.Gas: mix.Pressure, mix.Heat: mix.HotMix, mix.Fire: mix.FireHazard} {
			if slices.Contains(n.Symptoms, symptom) {
				c.care = append(c.care, hazard)
			}
		}
		if slices.ContainsFunc(n.Hazards, func(h mix.Hazard) bool { return h != mix.Concentrate }) {
			c.verdict = mix.Never
		}
		c.firm = c.verdict == mix.Never || len(c.care) > 0 || c.law
	}
	return c
}

// ruling says what a notice says by itself.
func (o *oracle) ruling(n *mix.Notice) claim {
	c := claim{name: string(n.ID), rank: 1, rule: true, basis: mix.Rule, law: true, firm: true, when: slices.Clone(n.When),
		doubts: map[compat.DoubtCode]bool{}}
	switch n.Effect {
	case mix.NoEffect, mix.Allows, mix.Informs:
	case mix.Forbids:
		c.verdict = mix.Never
	case mix.Requires:
		c.verdict, c.asks = mix.Steps, true
	}
	c.stated = c.verdict
	if n.Place.ID != "" {
		c.when = append(c.when, mix.Gate{Factor: mix.PlaceFactor, Ref: n.Place})
	}
	today := o.book.Site.Published
	if today != (mix.Date{}) && (n.From.Compare(today) > 0 || n.Until != (mix.Date{}) && n.Until.Compare(today) < 0) {
		c.part = compat.OffGate
		c.doubt(compat.NotInForce)
	}
	return c
}

// rules returns what all rules say of a mix, and the waters that would matter.
func (o *oracle) rules(items []mix.ID, s *mix.Situation) (all []*claim, waters bool) {
	hear := func(c claim, members []mix.Ref, mends []mix.Mend) {
		ids := make([]mix.ID, len(members))
		for i, m := range members {
			ids[i] = m.ID
		}
		for _, way := range o.ways(ids, items, s) {
			supposed := slices.ContainsFunc(way, func(s seat) bool { return s.supposed })
			if supposed && len(seated(way)) == 1 && len(items) > 1 {
				waters = true
				continue
			}
			one := c
			one.doubts = map[compat.DoubtCode]bool{}
			for d := range c.doubts {
				one.doubt(d)
			}
			o.place(&one, way, ids, s)
			o.soften(&one, mends, items)
			o.prove(&one, supposed, items)
			all = append(all, &one)
		}
	}
	for i := range o.book.Interactions {
		n := &o.book.Interactions[i]
		hear(o.statement(n), n.Members, n.Mends)
	}
	for i := range o.book.Notices {
		n := &o.book.Notices[i]
		hear(o.ruling(n), n.Members, nil)
	}
	return all, waters
}

// place says how a rule reaches the items, and whether its gates hold.
func (o *oracle) place(c *claim, way []seat, members []mix.ID, s *mix.Situation) {
	c.items, c.exact, c.grade = seated(way), true, c.basis
	for i, w := range way {
		switch m := members[i]; {
		case w.supposed:
			c.open++
			c.doubt(compat.Conditional)
			c.liquid = append(c.liquid, m)
		case w.item && w.id == m:
		case w.item && o.x.IsA(w.id, m):
			c.exact = false
		case w.item:
			c.exact, c.narrower = false, true
			c.narrow = c.narrow || o.x.Product(m) != nil
		default:
			c.liquid = append(c.liquid, m)
		}
	}
	if !c.exact && !c.law {
		c.grade = mix.Inference
	}
	for _, g := range c.when {
		switch o.holds(g, s, c.items) {
		case mix.Holds:
		case mix.Fails:
			c.failed++
		case mix.NotKnown:
			c.open++
			c.doubt(map[bool]compat.DoubtCode{true: compat.ElsewhereOnly, false: compat.Conditional}[g.Factor == mix.PlaceFactor])
		}
	}
	if c.failed > 0 || c.part == compat.OffGate {
		c.part, c.verdict = compat.OffGate, mix.Unknown
	}
	c.rank0 = c.verdict
}

// soften applies the mend that says most, the first of those that say the same.
func (o *oracle) soften(c *claim, mends []mix.Mend, items []mix.ID) {
	if c.firm || c.verdict < mix.Steps {
		return
	}
	for i := range mends {
		d := &mends[i]
		n := slices.IndexFunc(items, func(id mix.ID) bool { return !slices.Contains(c.items, id) && o.x.IsA(id, d.Class.ID) })
		if n < 0 {
			continue
		}
		to := max(d.To, mix.Steps)
		if named := c.exact && items[n] == d.Class.ID && len(items) == len(c.items)+1; named && d.To < mix.Steps {
			to = mix.Clean
		}
		if to < c.verdict || to == c.verdict && c.mend == nil {
			c.verdict, c.mend, c.mendItem = to, d, items[n]
		}
	}
}

// covers reports whether a claim speaks of all of the mix: by its items, or with
// the mend that it names beside them.
func (c *claim) covers(items []mix.ID) bool {
	return len(c.items) == len(items) || c.mend != nil && c.exact && c.mend.Class.ID == c.mendItem && len(c.items)+1 == len(items)
}

// prove settles what a rule can prove here.
func (o *oracle) prove(c *claim, supposed bool, items []mix.ID) {
	if c.narrower {
		c.doubt(compat.SomeMembers)
	}
	c.reached = c.verdict
	switch {
	case c.part == compat.OffGate:
	case c.verdict == mix.Clean && c.exact && c.covers(items) && c.open == 0:
		c.clean = true
	case c.verdict <= mix.Clean, c.narrow, supposed:
		c.part, c.verdict = compat.Informative, mix.Unknown
	}
}

// before orders claims of one verdict: which of them decides.
func before(a, b *claim) int {
	return cmp.Or(
		-cmp.Compare(a.verdict, b.verdict),
		cmp.Compare(min(a.open, 1), min(b.open, 1)),
		boolOrder(a.narrower, b.narrower), boolOrder(a.larger, b.larger), cmp.Compare(a.size(), b.size()),
		-cmp.Compare(a.grade, b.grade), -cmp.Compare(a.basis, b.basis), -cmp.Compare(a.stated, b.stated),
		cmp.Compare(a.rank, b.rank), cmp.Compare(a.id(), b.id()),
		slices.Compare(backwards(a.items), backwards(b.items)),
	)
}

func backwards(ids []mix.ID) []mix.ID {
	list := slices.Clone(ids)
	slices.Reverse(list)
	return list
}

// id is what claims of one kind are told apart by.
func (c *claim) id() string {
	if c.heap != nil {
		return key(c.heap.products)
	}
	return c.name
}

func (c *claim) size() int {
	if c.larger {
		return len(c.heap.products)
	}
	return 0
}

func boolOrder(a, b bool) int {
	n := map[bool]int{true: 1}
	return n[a] - n[b]
}
