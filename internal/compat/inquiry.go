package compat

import (
	"cmp"
	"slices"

	"tankleaf.example/internal/mix"
)

// inquiry is the judgement of one mix under way.
type inquiry struct {
	j        *Judge
	items    []mix.ID // sorted; a class may stand there twice for two of its members
	s        *setting
	carriers []mix.ID // known to be in the tank
	supposed []mix.ID // carriers that may be in the tank
	products bool     // all items are products
	held     []*holding
	doubts   []Doubt
}

// holding is a finding with what resolution needs to know of it.
type holding struct {
	Finding
	rule     *rule
	set      *jarSet
	items    itemSet
	all      bool       // it speaks of all items of the mix
	exact    bool       // it names the very items
	narrower bool       // it speaks of something below a class that was asked for
	narrow   bool       // and that something is a product
	symptoms symptomSet // none: of the mix as a whole
	hazards  hazardSet
	said     mix.Verdict // what it says once gates and mends are applied, whether or not it proves anything here
	clean    bool        // it is evidence that this mix is clean
	larger   bool        // its jars held more than this mix
}

func (j *Judge) judge(items []mix.ID, s *setting) Answer {
	if len(items) > MaxItems {
		panic("compat: too many items in a mix")
	}
	q := &inquiry{j: j, items: items, s: s, products: len(items) > 0}
	for _, c := range s.carriers {
		if !slices.Contains(items, c) {
			q.carriers = append(q.carriers, c)
		}
	}
	for _, c := range s.maybe {
		if !slices.Contains(items, c) {
			q.supposed = append(q.supposed, c)
		}
	}
	for _, id := range items {
		q.products = q.products && j.x.Product(id) != nil
	}
	q.hearRules()
	q.hearJars()
	q.hearMembers()
	return q.settle()
}

// hearRules brings in every statement and notice whose members can be matched to
// distinct items. What one item alone would do in a water that nobody said is in
// the tank is left to the page of that item; here it is a doubt.
func (q *inquiry) hearRules() {
	for _, r := range q.candidates() {
		for _, m := range q.j.matchings(r, q.items, q.carriers, q.supposed) {
			if len(m.suppose) > 0 && m.items.len() == 1 && len(q.items) > 1 {
				q.doubts = addEvidence(q.doubts, WaterMatters, r.evidence)
				continue
			}
			q.held = append(q.held, q.holdRule(r, m))
		}
	}
}

// candidates returns the rules each of whose members some item, or a carrier,
// can stand for.
func (q *inquiry) candidates() []*rule {
	ids := slices.Clone(q.supposed)
	for _, c := range q.carriers {
		ids = append(ids, q.j.x.Ancestors(c)...)
	}
	for _, item := range q.items {
		ids = q.j.near(ids, item)
	}
	slices.Sort(ids)
	hits := map[*rule]int{}
	for _, id := range slices.Compact(ids) {
		for _, r := range q.j.rules[id] {
			hits[r]++
		}
	}
	var list []*rule
	for r, n := range hits {
		if n == r.distinct {
			list = append(list, r)
		}
	}
	slices.SortFunc(list, func(a, b *rule) int { return a.place - b.place })
	return list
}

// near appends the members that an item can stand for.
func (j *Judge) near(ids []mix.ID, item mix.ID) []mix.ID {
	up := j.x.Ancestors(item)
	if up == nil {
		return append(ids, item)
	}
	ids = append(ids, up...)
	if j.x.Class(item) != nil {
		ids = append(ids, j.named[item]...)
	}
	return ids
}

// holdRule states what a rule says for this mix: its gates, its mend and its
// reach.
func (q *inquiry) holdRule(r *rule, m matching) *holding {
	h := &holding{
		rule: r, items: m.items, exact: m.exact,
		all:      m.items.len() == len(q.items),
		narrower: len(m.down) > 0, narrow: m.product,
		symptoms: r.symptoms, hazards: r.hazards,
	}
	h.Finding = Finding{
		Evidence: r.evidence, Verdict: r.verdict, Stated: r.stated,
		Grade: r.grade, Basis: r.grade,
		Symptoms: r.symptoms.list(), Hazards: r.hazards.list(),
		Matches: q.j.matches(r, m), Doubts: slices.Clone(r.doubts),
	}
	if !m.exact && !r.law {
		h.Grade = mix.Inference
	}
	for _, c := range m.suppose {
		h.Open = append(h.Open, mix.Gate{Factor: mix.CarrierClass, Ref: mix.Ref{ID: c}, Written: string(c)})
	}
	q.gate(h)
	q.mend(h)
	q.reach(h, m)
	return h
}

// gate applies rule 5: a failing gate takes the statement out, an unknown one
// leaves it in with a doubt.
func (q *inquiry) gate(h *holding) {
	matched := q.itemsOf(h.items)
	for i := range h.rule.when {
		g := &h.rule.when[i]
		switch q.j.truth(g, q.s, matched) {
		case mix.Fails:
			h.Failed = append(h.Failed, *g)
		case mix.NotKnown:
			h.Open = append(h.Open, *g)
		case mix.Holds:
		}
	}
	if !h.rule.inForce {
		h.Doubts = append(h.Doubts, Doubt{Code: NotInForce})
	}
	if len(h.Failed) > 0 || !h.rule.inForce {
		h.Part, h.Verdict = OffGate, mix.Unknown
	}
	var place, other []mix.Gate
	for _, g := range h.Open {
		if g.Factor == mix.PlaceFactor {
			place = append(place, g)
		} else {
			other = append(other, g)
		}
	}
	if len(place) > 0 {
		h.Doubts = append(h.Doubts, Doubt{Code: ElsewhereOnly, Gates: place})
	}
	if len(other) > 0 {
		h.Doubts = append(h.Doubts, Doubt{Code: Conditional, Gates: other})
	}
}

// mend applies rule 6. Hazards and prohibitions have no mend. A mend that leaves nothing to
// do says so of these very items only; of others reached through their classes,
// or with more in the tank, the step that remains is to keep the mend in.
func (q *inquiry) mend(h *holding) {
	if h.rule.firm || h.Verdict < mix.Steps {
		return
	}
	for i := range h.rule.mends {
		d := &h.rule.mends[i]
		n := q.mending(h.items, d.Class.ID)
		if n < 0 {
			continue
		}
		to := max(d.To, mix.Clean)
		whole := h.exact && q.items[n] == d.Class.ID && h.items.len()+1 == len(q.items)
		if !whole {
			to = max(to, mix.Steps)
		}
		if to < h.Verdict || h.Mend == nil && to == h.Verdict {
			h.Verdict, h.Mend, h.MendItem = to, d, q.items[n]
			h.all = h.all || whole
		}
	}
}

// mending returns the position of the first item of the class that does not
// itself take part in the statement, -1 when there is none.
func (q *inquiry) mending(part itemSet, class mix.ID) int {
	for n, id := range q.items {
		if !part.has(n) && q.j.x.IsA(id, class) {
			return n
		}
	}
	return -1
}

// reach settles what a rule can prove here. A statement that nothing happens is
// evidence only for the very items it names, all of them, under conditions known
// to hold: neither membership in a class nor an unknown condition makes a mix
// clean. What is said of one product within a class that was asked for, or of a
// water that nobody said is in the tank, is shown and decides nothing.
func (q *inquiry) reach(h *holding, m matching) {
	if h.narrower {
		h.Doubts = append(h.Doubts, Doubt{Code: SomeMembers, Items: m.down})
	}
	h.said = h.Verdict
	if h.Part == OffGate {
		return
	}
	switch {
	case h.Verdict == mix.Unknown:
		h.Part = Informative
	case h.Verdict == mix.Clean:
		h.clean = h.exact && h.all && len(h.Open) == 0
		if !h.clean {
			h.Part, h.Verdict = Informative, mix.Unknown
		}
	case h.narrow || len(m.suppose) > 0:
		h.Part, h.Verdict = Informative, mix.Unknown
	}
}

func (q *inquiry) itemsOf(set itemSet) []mix.ID {
	var list []mix.ID
	for i, id := range q.items {
		if set.has(i) {
			list = append(list, id)
		}
	}
	return list
}

// compareHoldings orders findings: by caution, then those without conditions,
// then those that speak of the very items and nothing more, then by grade, then by identity so
// that the order of records changes nothing.
func compareHoldings(a, b *holding) int {
	return cmp.Or(
		cmp.Compare(b.Verdict, a.Verdict),
		cmp.Compare(min(len(a.Open), 1), min(len(b.Open), 1)),
		compareBool(a.narrower, b.narrower),
		compareBool(a.larger, b.larger),
		cmp.Compare(a.size(), b.size()),
		cmp.Compare(b.Grade, a.Grade),
		cmp.Compare(b.Basis, a.Basis),
		cmp.Compare(b.Stated, a.Stated),
		cmp.Compare(a.rank(), b.rank()),
		cmp.Compare(a.name(), b.name()),
		cmp.Compare(a.items, b.items),
	)
}

// compareBool puts false first.
func compareBool(a, b bool) int {
	switch {
	case a == b:
		return 0
	case b:
		return -1
	default:
		return 1
	}
}

// rank and name identify the evidence of a holding.
func (h *holding) rank() int {
	switch {
	case h.set != nil:
		return 2
	case h.rule.notice:
		return 1
	default:
		return 0
	}
}

// size is how many products a set of jars held; of larger mixes the nearest
// speaks first.
func (h *holding) size() int {
	if h.set == nil || !h.larger {
		return 0
	}
	return len(h.set.Products)
}

func (h *holding) name() string {
	if h.set != nil {
		return setKey(h.set.Products)
	}
	return string(h.rule.id)
}
