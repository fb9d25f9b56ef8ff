package compat

import (
	"cmp"
	"container/heap"
	"maps"
	"math"
	"slices"

	"tankleaf.example/internal/mix"
)

// Slot is a crop at a timing, when products of different purposes go into one
// tank.
type Slot struct{ Crop, Timing mix.ID }

// Gap is a pair about which nothing is known, for all products of two
// signatures.
type Gap struct {
	Pair     [2]mix.ID   // the products of the two signatures that meet most often, sorted
	Products [2][]mix.ID // all products of the signatures of Pair, in that order
	Meet     float64     // how often they meet: see [Judge.Gaps]
	Slots    []Slot      // where the pair is labelled together, sorted
	Worst    mix.Verdict // the worst that is plausible; Unknown when nothing is known of their next of kin
	From     Evidence    // what makes it plausible; nil when Worst is Unknown
	Score    float64     // Meet times the weight of Worst
	Jar      []mix.ID    // the jar that settles most: Pair and what may join it, sorted
	Settles  int         // pairs without evidence that this jar would settle if it stayed clean
}

// weight is how much worse one outcome is than another. The numbers are the
// house's own and have no source; an outcome that nobody can name is taken for a
// mild one.
func weight(v mix.Verdict) float64 {
	switch v {
	case mix.Never:
		return 10
	case mix.Apart:
		return 3
	case mix.Unknown, mix.Clean, mix.Steps:
		return 1
	}
	panic("compat: no weight of " + v.String())
}

// Gaps returns the n most pressing gaps, by how often two products meet times
// the worst plausible outcome.
//
// Products meet where labels put them on one crop at one timing for different
// purposes. Each purpose of a slot is taken to be served by one of its products,
// all alike; the sum over slots of the chances that both are chosen is how often
// they meet. There are no figures of sales in it.
//
// The worst plausible outcome is the worst that is known of their next of kin:
// stated of a class of one and a near relation of the other, or seen in a jar of
// two products that share a class with them. A reaction seen only in a larger mix
// that held both counts as well.
//
// The work is linear in signatures squared; only the pairs that come out on top
// are judged.
func (j *Judge) Gaps(n int) []Gap {
	f := j.newField()
	h := f.candidates()
	var list []Gap
	for len(h) > 0 && len(list) < n {
		c := heap.Pop(&h).(candidate)
		if c.gap == nil && !f.look(&c) {
			continue
		}
		if len(h) > 0 && c.score < h[0].score {
			heap.Push(&h, c) // a closer look made it less pressing
			continue
		}
		list = append(list, *c.gap)
	}
	return list
}

// field is who is used where.
type field struct {
	j       *Judge
	slots   []Slot           // sorted
	serving map[service]int  // products that serve a purpose in a slot
	at      map[int][]mix.ID // products used in a slot, sorted
	kinds   []kind           // one a signature, in the order of the index
	suspect map[[2]int][]suspicion
	known   []analogy
}

// suspicion is a pair of products that reacted in a larger mix.
type suspicion struct {
	pair  [2]mix.ID
	set   *jarSet
	worst mix.Verdict
}

// service is a purpose in a slot.
type service struct {
	slot    int
	purpose mix.ID
}

// kind is the products of one signature.
type kind struct {
	products []mix.ID
	use      []load  // by slot, then purpose
	self     float64 // how often one product of it would meet itself
	kinship  kinship
}

// load is the share of a purpose in a slot that products serve.
type load struct {
	service
	share float64
}

func (j *Judge) newField() *field {
	f := &field{j: j, serving: map[service]int{}, at: map[int][]mix.ID{}, suspect: map[[2]int][]suspicion{}, known: j.analogies()}
	all := map[Slot]bool{}
	for _, id := range j.productIDs {
		for s := range j.slotsOf(id) {
			all[s] = true
		}
	}
	f.slots = slices.SortedFunc(maps.Keys(all), compareSlots)
	f.kinds = make([]kind, len(j.x.Signatures()))
	for _, id := range j.productIDs {
		for _, s := range f.services(id) {
			f.serving[s]++
			if here := f.at[s.slot]; len(here) == 0 || here[len(here)-1] != id {
				f.at[s.slot] = append(here, id)
			}
		}
		k := &f.kinds[j.x.Signature(id)]
		k.products = append(k.products, id)
	}
	for i := range f.kinds {
		f.fill(&f.kinds[i])
	}
	for _, s := range sorted(j.sets) {
		f.enter(s)
	}
	return f
}

// enter notes the pairs of a larger mix that reacted. Products that are in no
// book have no signature and are passed over.
func (f *field) enter(s *jarSet) {
	if len(s.Products) < 3 || s.reacted == 0 {
		return
	}
	for i, a := range s.Products {
		for _, b := range s.Products[i+1:] {
			k := [2]int{f.j.x.Signature(a), f.j.x.Signature(b)}
			slices.Sort(k[:])
			if k[0] >= 0 {
				f.suspect[k] = append(f.suspect[k], suspicion{[2]mix.ID{a, b}, s, s.verdict()})
			}
		}
	}
}

func (j *Judge) slotsOf(product mix.ID) map[Slot]bool {
	set := map[Slot]bool{}
	for _, u := range j.x.Product(product).Uses {
		set[Slot{u.Crop.ID, u.Timing.ID}] = true
	}
	return set
}

func compareSlots(a, b Slot) int {
	return cmp.Or(cmp.Compare(a.Crop, b.Crop), cmp.Compare(a.Timing, b.Timing))
}

// services returns the purposes that a product serves, slot by slot.
func (f *field) services(product mix.ID) []service {
	var list []service
	for _, u := range f.j.x.Product(product).Uses {
		n, _ := slices.BinarySearchFunc(f.slots, Slot{u.Crop.ID, u.Timing.ID}, compareSlots)
		list = append(list, service{n, u.Purpose.ID})
	}
	slices.SortFunc(list, compareServices)
	return slices.Compact(list)
}

func compareServices(a, b service) int {
	return cmp.Or(a.slot-b.slot, cmp.Compare(a.purpose, b.purpose))
}

// uses returns what share of each purpose one product serves.
func (f *field) uses(product mix.ID) []load {
	var list []load
	for _, s := range f.services(product) {
		list = append(list, load{s, 1 / float64(f.serving[s])})
	}
	return list
}

// fill sums the uses of a kind and places it among the analogies.
func (f *field) fill(k *kind) {
	total := map[service]float64{}
	for _, p := range k.products {
		use := f.uses(p)
		k.self += meet(use, use)
		for _, u := range use {
			total[u.service] += u.share
		}
	}
	for _, s := range slices.SortedFunc(maps.Keys(total), compareServices) {
		k.use = append(k.use, load{s, total[s]})
	}
	k.kinship = place(f.known, f.j.x.Classes(k.products[0]))
}

// meet sums over shared slots the chances that products with the two uses are
// chosen for different purposes.
func meet(a, b []load) float64 {
	total := 0.0
	for len(a) > 0 && len(b) > 0 {
		switch {
		case a[0].slot < b[0].slot:
			a = a[1:]
		case a[0].slot > b[0].slot:
			b = b[1:]
		default:
			slot := a[0].slot
			var here, there []load
			here, a = cutSlot(a, slot)
			there, b = cutSlot(b, slot)
			for _, u := range here {
				for _, v := range there {
					if u.purpose != v.purpose {
						total += u.share * v.share
					}
				}
			}
		}
	}
	return total
}

func cutSlot(list []load, slot int) (here, rest []load) {
	n := 0
	for n < len(list) && list[n].slot == slot {
		n++
	}
	return list[:n], list[n:]
}

// candidate is a pair of kinds that may be a gap.
type candidate struct {
	a, b  int
	meet  float64
	score float64 // at most, until gap is known
	gap   *Gap
}

// candidates returns all pairs of kinds that meet. They form a heap, so that no
// more of them are sorted than are asked for.
func (f *field) candidates() candidates {
	var h candidates
	for a := range f.kinds {
		for b := a; b < len(f.kinds); b++ {
			c := candidate{a: a, b: b, meet: meet(f.kinds[a].use, f.kinds[b].use)}
			if a == b {
				c.meet = math.Max(0, c.meet-f.kinds[a].self) / 2
			}
			if c.meet <= 1e-12 { // what rounding leaves of nothing
				continue
			}
			worst, _ := f.plausible(a, b)
			for _, s := range f.suspect[[2]int{a, b}] {
				worst = max(worst, s.worst)
			}
			c.score = c.meet * weight(worst)
			h = append(h, c)
		}
	}
	heap.Init(&h)
	return h
}

type candidates []candidate

func (h candidates) Len() int { return len(h) }
func (h candidates) Less(i, k int) bool {
	return cmp.Or(cmp.Compare(h[k].score, h[i].score), h[i].a-h[k].a, h[i].b-h[k].b) < 0
}
func (h candidates) Swap(i, k int) { h[i], h[k] = h[k], h[i] }
func (h *candidates) Push(x any)   { *h = append(*h, x.(candidate)) }
func (h *candidates) Pop() any {
	old := *h
	last := old[len(old)-1]
	*h = old[:len(old)-1]
	return last
}

// plausible returns the worst that the next of kin of two kinds make plausible.
func (f *field) plausible(x, y int) (mix.Verdict, Evidence) {
	n := f.kinds[x].kinship.worst(&f.kinds[y].kinship)
	if n < 0 {
		return mix.Unknown, nil
	}
	return f.known[n].verdict, f.known[n].evidence
}
