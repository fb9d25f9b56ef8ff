package compat_test

import (
	"cmp"
	"fmt"
	"slices"

	"tankleaf.example/internal/compat"
	"tankleaf.example/internal/mix"
)

// heap is all records of one set of products, as the oracle sees them.
type heap struct {
	products []mix.ID
	records  []*compat.Outcome
	sub      bool // of the records of one order
}

func newOracle(b *book) *oracle {
	j := b.judge()
	o := &oracle{x: j.Index(), book: &b.Book, out: map[mix.ID]*compat.Outcome{}}
	for _, s := range mix.Symptoms() {
		if slices.ContainsFunc(b.Criteria, func(k mix.Criterion) bool { return k.Needed && k.Symptom == s }) {
			o.need = append(o.need, s)
		}
	}
	heaps := map[string]*heap{}
	for i := range b.Observations {
		out := j.Outcome(b.Observations[i].ID)
		list := contents(out)
		if heaps[key(list)] == nil {
			heaps[key(list)] = &heap{products: list}
			o.sets = append(o.sets, heaps[key(list)])
		}
		heaps[key(list)].records = append(heaps[key(list)].records, out)
	}
	return o
}

// contents returns the products of a record, sorted, each once.
func contents(out *compat.Outcome) []mix.ID {
	var list []mix.ID
	for _, p := range out.Observation.Products {
		list = append(list, p.ID)
	}
	slices.Sort(list)
	return slices.Compact(list)
}

func (h *heap) name() string { return fmt.Sprint(h.products) }

// reacted returns the symptoms that any record saw, worst what they mean.
func (h *heap) reacted() (list []mix.Symptom, worst mix.Verdict, hazards []mix.Hazard) {
	for _, s := range mix.Symptoms() {
		var top compat.Sign
		for _, r := range h.records {
			if sign := r.Sign(s); sign.State == compat.Reacted && sign.Verdict > top.Verdict {
				top = sign
			}
		}
		if top.Verdict > 0 {
			list, worst = append(list, s), max(worst, top.Verdict)
			if top.Hazard != 0 {
				hazards = append(hazards, top.Hazard)
			}
		}
	}
	return list, worst, hazards
}

// clear returns the symptoms that some jar test looked for in vain and no record saw.
func (h *heap) clear() []mix.Symptom {
	saw, _, _ := h.reacted()
	var list []mix.Symptom
	for _, s := range mix.Symptoms() {
		if !slices.Contains(saw, s) && slices.ContainsFunc(h.tests(), func(r *compat.Outcome) bool { return r.Sign(s).State == compat.Clear }) {
			list = append(list, s)
		}
	}
	return list
}

func (h *heap) tests() []*compat.Outcome {
	var list []*compat.Outcome
	for _, r := range h.records {
		if !r.Observation.Field {
			list = append(list, r)
		}
	}
	return list
}

func (h *heap) unjudged() bool {
	return slices.ContainsFunc(h.records, func(r *compat.Outcome) bool {
		return slices.ContainsFunc(r.Signs, func(s compat.Sign) bool { return s.Unjudged && s.Symptom.ShowsInJar() })
	})
}

// quiet reports whether nothing was ever seen, and something was looked for.
func (h *heap) quiet() bool {
	saw, _, _ := h.reacted()
	return len(saw) == 0 && !h.unjudged() && slices.ContainsFunc(h.clear(), mix.Symptom.ShowsInJar)
}

func (h *heap) has(items []mix.ID) bool {
	return !slices.ContainsFunc(items, func(id mix.ID) bool { return !slices.Contains(h.products, id) })
}

func (h *heap) grade() mix.Grade {
	switch n := apart(h.tests()); {
	case len(h.tests()) == 0:
		return mix.Report
	case n > 1:
		return mix.Jars
	default:
		return mix.SingleJar
	}
}

// apart counts records, greedily those that recorded most first, that differ from
// each other in a day, a water or a batch that both recorded.
func apart(list []*compat.Outcome) int {
	type facts map[string]string
	of := func(o *mix.Observation) facts {
		f := facts{"day": o.Date.String(), "water": string(o.Water.ID)}
		for _, p := range o.Products {
			f["batch of "+string(p.ID)] = p.Batch
		}
		return f
	}
	missing := func(o *mix.Observation) int {
		n := 0
		for _, v := range of(o) {
			if v == "" {
				n++
			}
		}
		return n
	}
	list = slices.Clone(list)
	slices.SortFunc(list, func(a, b *compat.Outcome) int {
		if n := missing(a.Observation) - missing(b.Observation); n != 0 {
			return n
		}
		return cmp.Or(a.Observation.Date.Compare(b.Observation.Date), cmp.Compare(a.Observation.ID, b.Observation.ID))
	})
	var kept []facts
	for _, r := range list {
		f := of(r.Observation)
		alike := func(k facts) bool {
			for name, v := range f {
				if v != "" && k[name] != "" && v != k[name] {
					return false
				}
			}
			return true
		}
		if !slices.ContainsFunc(kept, alike) {
			kept = append(kept, f)
		}
	}
	return len(kept)
}

// hides returns the symptoms that products of a heap hide or mend, other than some
// items. A statement without symptoms speaks of all.
func (o *oracle) hides(h *heap, items []mix.ID) []mix.Symptom {
	var list []mix.Symptom
	for _, p := range h.products {
		for _, id := range o.x.Ancestors(p) {
			if c := o.x.Class(id); c != nil && !slices.Contains(items, p) {
				list = append(list, c.Suppresses...)
				list = append(list, o.mends(id)...)
			}
		}
	}
	return list
}

func (o *oracle) mends(class mix.ID) []mix.Symptom {
	var list []mix.Symptom
	for i := range o.book.Interactions {
		n := &o.book.Interactions[i]
		for _, m := range n.Mends {
			switch {
			case m.Class.ID == class && len(n.Symptoms) == 0:
				list = append(list, mix.Symptoms()...)
			case m.Class.ID == class:
				list = append(list, n.Symptoms...)
			}
		}
	}
	return list
}

func less(list, gone []mix.Symptom) []mix.Symptom {
	return slices.DeleteFunc(slices.Clone(list), func(s mix.Symptom) bool { return slices.Contains(gone, s) })
}

func within(list, whole []mix.Symptom) bool { return len(less(list, whole)) == 0 }

// common reports whether two pieces of evidence speak of one symptom; that none is
// named speaks of all.
func common(a, b []mix.Symptom) bool {
	return len(a) == 0 || len(b) == 0 || len(less(a, b)) < len(a)
}

// jars returns what all heaps say of a mix, and which doubts they leave on it.
func (o *oracle) jars(items []mix.ID, s *mix.Situation) (all []*claim, doubts map[compat.DoubtCode]bool) {
	doubts = map[compat.DoubtCode]bool{}
	products := !slices.ContainsFunc(items, func(id mix.ID) bool { return o.x.Product(id) == nil })
	for _, h := range o.sets {
		var held []mix.ID
		for _, id := range items {
			if slices.Contains(h.products, id) {
				held = append(held, id)
			}
		}
		saw, worst, _ := h.reacted()
		switch {
		case len(held) == 0:
		case len(held) == len(h.products) && len(saw) > 0:
			if sub := o.inThisOrder(h, s.Order); sub != nil {
				off, on := o.reaction(h, held), o.calm(sub, held, items)
				off.part, off.verdict = compat.OffGate, mix.Unknown
				off.doubt(compat.OtherOrder)
				on.doubt(compat.OtherOrder)
				all = append(all, off, on)
				continue
			}
			c := o.reaction(h, held)
			if len(h.products) == 1 && worst != mix.Never {
				c.part, c.verdict = compat.Informative, mix.Unknown
				doubts[compat.Alone] = true
			}
			all = append(all, c)
		case len(held) == len(h.products):
			all = append(all, o.calm(h, held, items))
		case len(held) < len(items) || !products || len(items) < 2:
		case len(saw) > 0:
			doubts[compat.Suspect] = true
		case h.quiet():
			c := o.calm(h, held, items)
			c.larger = true
			c.symptoms = less(h.clear(), o.hides(h, items))
			c.clean = len(c.symptoms) > 0
			c.doubt(compat.CleanByLarger)
			if len(c.symptoms) < len(h.clear()) {
				c.doubt(compat.Hidden)
			}
			all = append(all, c)
		}
	}
	return all, doubts
}

func (o *oracle) jarClaim(h *heap, held []mix.ID) *claim {
	c := &claim{name: h.name(), rank: 2, heap: h, items: held, exact: true, grade: h.grade(), basis: h.grade(), doubts: map[compat.DoubtCode]bool{}}
	o.jarDoubts(h, c)
	return c
}

func (o *oracle) reaction(h *heap, held []mix.ID) *claim {
	c := o.jarClaim(h, held)
	c.symptoms, c.stated, c.hazards = h.reacted()
	c.verdict, c.reached = c.stated, c.stated
	return c
}

func (o *oracle) calm(h *heap, held, items []mix.ID) *claim {
	c := o.jarClaim(h, held)
	c.part, c.symptoms = compat.Informative, h.clear()
	if h.quiet() {
		c.stated = mix.Clean
		c.clean = len(held) == len(items) && len(items) > 1
	}
	return c
}

// jarDoubts are those that hold whatever mix the jars are used for.
func (o *oracle) jarDoubts(h *heap, c *claim) {
	saw, _, _ := h.reacted()
	clear := h.clear()
	among := saw
	for _, other := range [][]mix.Symptom{slices.DeleteFunc(slices.Clone(clear), func(s mix.Symptom) bool { return !slices.Contains(o.need, s) }), clear} {
		if len(among) == 0 {
			among = other
		}
	}
	fewest, alike := -1, false
	for _, s := range among {
		var recorded []*compat.Outcome
		for _, r := range h.tests() {
			if r.Sign(s).State != compat.NotSeen {
				recorded = append(recorded, r)
			}
		}
		if n := len(recorded); fewest < 0 || n < fewest {
			fewest, alike = n, n > 1 && apart(recorded) < n
		}
	}
	put := func(when bool, code compat.DoubtCode) {
		if when {
			c.doubt(code)
		}
	}
	put(len(h.records) == 1, compat.Tentative)
	put(fewest >= 0 && fewest < 59 && len(saw) == 0, compat.FewJars)
	put(alike, compat.OneBatch)
	put(h.quiet(), compat.JarBlind)
	asked, notJudged := false, false
	for _, s := range mix.Symptoms() {
		judged := slices.ContainsFunc(h.records, func(r *compat.Outcome) bool { return r.Sign(s).Unjudged })
		notJudged = notJudged || judged && s.ShowsInJar()
		has := slices.ContainsFunc(o.book.Criteria, func(k mix.Criterion) bool { return k.Symptom == s })
		asked = asked || has && s.ShowsInJar() && !judged && !slices.Contains(saw, s) && !slices.Contains(clear, s)
	}
	put(asked, compat.NotRecorded)
	put(notJudged, compat.Unjudged)
	put(o.old(h), compat.Old)
}

func (o *oracle) old(h *heap) bool {
	newest, today := mix.Date{}, o.book.Site.Published
	for _, r := range h.records {
		if r.Observation.Date.Compare(newest) > 0 {
			newest = r.Observation.Date
		}
	}
	if newest == (mix.Date{}) || today == (mix.Date{}) {
		return false
	}
	newest.Year += 5
	return newest.Time().Compare(today.Time()) <= 0
}

// inThisOrder returns the records of one order when they speak for themselves.
func (o *oracle) inThisOrder(h *heap, order []mix.ID) *heap {
	_, worst, _ := h.reacted()
	if len(h.products) < 2 || worst == mix.Never || h.unjudged() {
		return nil
	}
	want := slices.DeleteFunc(slices.Clone(order), func(id mix.ID) bool { return !slices.Contains(h.products, id) })
	sub := &heap{products: h.products, sub: true}
	var clean []*compat.Outcome
	for _, r := range h.records {
		var went []mix.ID
		for _, p := range r.Observation.Products {
			went = append(went, p.ID)
		}
		known := r.Observation.OrderKnown && len(went) == len(h.products)
		reacts := slices.ContainsFunc(r.Signs, func(s compat.Sign) bool { return s.State == compat.Reacted })
		if reacts && (!known || slices.Equal(went, want)) {
			return nil
		}
		if known && slices.Equal(went, want) {
			sub.records = append(sub.records, r)
			if r.Clean(o.need) && !r.Observation.Field {
				clean = append(clean, r)
			}
		}
	}
	if apart(clean) < 3 {
		return nil
	}
	return sub
}
