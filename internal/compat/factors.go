package compat

import (
	"slices"
	"strings"

	"tankleaf.example/internal/cause"
	"tankleaf.example/internal/mix"
)

// Circumstance is something that may differ between two jars of one mix.
type Circumstance string

// The circumstances that are compared.
const (
	ByOrder       Circumstance = "order"
	BySprayVolume Circumstance = "spray-volume"
	ByWaterShare  Circumstance = "water-share" // a crowded fill
	ByTemperature Circumstance = "temperature"
	ByWater       Circumstance = "water"
	ByVessel      Circumstance = "vessel" // open or closed
	ByDefoamer    Circumstance = "hides"  // what hides a symptom: a defoamer
)

var circumstances = []Circumstance{ByOrder, BySprayVolume, ByWaterShare, ByTemperature, ByWater, ByVessel, ByDefoamer}

// sameTemperature is how many °C apart two jars still count as equally warm: what
// a kitchen thermometer tells apart. Common practice, no source.
const sameTemperature = 2

// Records is two observations that were compared.
type Records [2]*mix.Observation

// Matched is what records say about one circumstance: those of one mix in which
// all others were recorded and equal and this one differed.
type Matched struct {
	Circumstance Circumstance
	Same, Differ []Records // the outcome was the same, or was not
	Unsure       int       // pairs that would match but for something not recorded
}

// Swap is what records say about one product in place of another, all else equal.
type Swap struct {
	Out, In      mix.ID // sorted
	Class        mix.ID // the narrowest they share; empty when none
	Same, Differ []Records
}

// conditions returns the circumstances of an observation in words, empty for what
// was not recorded. Temperatures are left to [Case.warmth], since whether two are
// alike hangs on those between them.
func (j *Judge) conditions(o *mix.Observation) map[Circumstance]string {
	c := map[Circumstance]string{
		ByWater:      string(o.Water.ID),
		ByWaterShare: "1",
		ByDefoamer:   "none",
	}
	var order, hiding []string
	for _, p := range o.Products {
		if j.hider(p.ID) {
			hiding = append(hiding, string(p.ID))
		} else {
			order = append(order, string(p.ID))
		}
	}
	if o.OrderKnown {
		c[ByOrder] = strings.Join(order, " ")
	}
	if len(hiding) > 0 {
		slices.Sort(hiding)
		c[ByDefoamer] = strings.Join(hiding, " ")
	}
	if !o.SprayVolume.IsZero() {
		c[BySprayVolume] = o.SprayVolume.Base().Rat().RatString()
	}
	if o.WaterShare.Known {
		c[ByWaterShare] = o.WaterShare.N.Rat().RatString()
	}
	if o.Vessel.Recorded {
		c[ByVessel] = map[bool]string{true: "closed", false: "open"}[o.Vessel.Closed]
	}
	return c
}

// hider reports whether a product hides any symptom.
func (j *Judge) hider(product mix.ID) bool {
	return slices.ContainsFunc(j.hides, func(c *mix.Class) bool { return j.x.IsA(product, c.ID) })
}

// records returns all observations of a case that recorded the symptom, those
// with something that hides it among them.
func (c *Case) records() []*mix.Observation {
	list := slices.Concat(c.Reacted, c.Clear)
	for _, o := range c.LeftOut {
		if c.judge.outcomes[o.ID].Sign(c.Symptom).State == Clear {
			list = append(list, o)
		}
	}
	slices.SortFunc(list, func(a, b *mix.Observation) int {
		return compareOutcomes(c.judge.outcomes[a.ID], c.judge.outcomes[b.ID])
	})
	return list
}

// warmth numbers the temperatures of records so that chains of them no more than
// sameTemperature apart share a number; 0 where none was recorded.
func warmth(list []*mix.Observation) []int {
	var known []float64
	for _, o := range list {
		if o.Temperature.Known {
			known = append(known, o.Temperature.N.Float())
		}
	}
	slices.Sort(known)
	known = slices.Compact(known)
	number := map[float64]int{}
	for i, t := range known {
		switch {
		case i == 0:
			number[t] = 1
		case t-known[i-1] <= sameTemperature:
			number[t] = number[known[i-1]]
		default:
			number[t] = number[known[i-1]] + 1
		}
	}
	out := make([]int, len(list))
	for i, o := range list {
		if o.Temperature.Known {
			out[i] = number[o.Temperature.N.Float()]
		}
	}
	return out
}

// matched compares records of one mix, what hides a symptom set aside as a
// circumstance.
func (c *Case) matched() []Matched {
	list := c.records()
	values := c.values(list)
	mixes := map[string]cause.Set{} // one element a mix is enough to tell them apart
	settings := make([]cause.Setting, len(list))
	for i, o := range list {
		k := setKey(c.judge.seen(o))
		if _, ok := mixes[k]; !ok {
			mixes[k] = cause.Set(len(mixes) + 1)
		}
		reacted := c.judge.outcomes[o.ID].Sign(c.Symptom).State == Reacted
		settings[i] = cause.Setting{Run: cause.Run{Members: mixes[k], Reacted: reacted}, Factors: values[i]}
	}
	var out []Matched
	for n, f := range cause.Matched(settings, len(circumstances)) {
		if len(f.Same)+len(f.Differ)+f.Unsure == 0 {
			continue
		}
		m := Matched{Circumstance: circumstances[n], Unsure: f.Unsure}
		m.Same, m.Differ = recordsOf(list, f.Same), recordsOf(list, f.Differ)
		out = append(out, m)
	}
	return out
}

func recordsOf(list []*mix.Observation, pairs []cause.Pair) []Records {
	var out []Records
	for _, p := range pairs {
		out = append(out, Records{list[p.First], list[p.Second]})
	}
	return out
}

// seen returns the products of an observation but those that hide a symptom.
func (j *Judge) seen(o *mix.Observation) []mix.ID {
	return slices.DeleteFunc(products(o), j.hider)
}

// values numbers the conditions of records, 0 for what was not recorded.
func (c *Case) values(list []*mix.Observation) [][]int {
	warm := warmth(list)
	numbers := map[string]int{}
	out := make([][]int, len(list))
	for i, o := range list {
		got := c.judge.conditions(o)
		for _, k := range circumstances {
			n := 0
			if v := got[k]; v != "" {
				if numbers[v] == 0 {
					numbers[v] = len(numbers) + 1
				}
				n = numbers[v]
			}
			if k == ByTemperature {
				n = warm[i]
			}
			out[i] = append(out[i], n)
		}
	}
	return out
}

// differ returns the circumstances that are recorded for two observations and not
// the same; of the order, that of the products they share.
func (j *Judge) differ(a, b *mix.Observation) []Circumstance {
	c := &Case{judge: j}
	v := c.values([]*mix.Observation{j.onlyShared(a, b), j.onlyShared(b, a)})
	var list []Circumstance
	for n, k := range circumstances {
		if v[0][n] != 0 && v[1][n] != 0 && v[0][n] != v[1][n] {
			list = append(list, k)
		}
	}
	return list
}

// onlyShared returns a record without the products that another has not, but for
// those that hide a symptom.
func (j *Judge) onlyShared(a, b *mix.Observation) *mix.Observation {
	out := *a
	shared := products(b)
	out.Products = slices.DeleteFunc(slices.Clone(a.Products), func(p mix.Portion) bool {
		_, both := slices.BinarySearch(shared, p.ID)
		return !both && !j.hider(p.ID)
	})
	return &out
}

// swaps compares records of mixes that differ in one product, where nothing else
// is known to differ.
func (c *Case) swaps() []Swap {
	list := c.records()
	byPair := map[[2]mix.ID]*Swap{}
	for n, a := range list {
		for _, b := range list[n+1:] {
			out, in, ok := c.swapped(a, b)
			if !ok {
				continue
			}
			k := [2]mix.ID{min(out, in), max(out, in)}
			if byPair[k] == nil {
				byPair[k] = &Swap{Out: k[0], In: k[1], Class: c.judge.shared(k[0], k[1])}
			}
			byPair[k].add(c, Records{a, b})
		}
	}
	var all []Swap
	for _, s := range byPair {
		all = append(all, *s)
	}
	slices.SortFunc(all, func(a, b Swap) int {
		return slices.Compare([]mix.ID{a.Out, a.In}, []mix.ID{b.Out, b.In})
	})
	return all
}

func (s *Swap) add(c *Case, r Records) {
	one, two := c.judge.outcomes[r[0].ID].Sign(c.Symptom), c.judge.outcomes[r[1].ID].Sign(c.Symptom)
	if one.State == two.State {
		s.Same = append(s.Same, r)
	} else {
		s.Differ = append(s.Differ, r)
	}
}

// swapped reports whether two records differ in one product of two or more and,
// as far as is recorded, in nothing else.
func (c *Case) swapped(a, b *mix.Observation) (out, in mix.ID, ok bool) {
	left, right := c.judge.seen(a), c.judge.seen(b)
	if len(left) != len(right) || len(left) < 2 {
		return "", "", false
	}
	only := func(x, y []mix.ID) []mix.ID {
		return slices.DeleteFunc(slices.Clone(x), func(id mix.ID) bool { return slices.Contains(y, id) })
	}
	gone, come := only(left, right), only(right, left)
	if len(gone) != 1 {
		return "", "", false
	}
	other := *b
	other.Products = slices.Clone(b.Products)
	for i := range other.Products {
		if other.Products[i].ID == come[0] {
			other.Products[i].ID = gone[0]
		}
	}
	return gone[0], come[0], len(c.judge.differ(a, &other)) == 0
}

// shared returns the narrowest class that two products share, of chemistry or
// salt before others; empty when there is none.
func (j *Judge) shared(a, b mix.ID) mix.ID {
	var best mix.ID
	rank := -1
	for _, id := range j.x.Classes(a) {
		c := j.x.Class(id)
		if c == nil || !j.x.IsA(b, id) {
			continue
		}
		r := len(j.x.Ancestors(id))
		if c.Axis == mix.Chemistry || c.Axis == mix.Salt {
			r += 1000
		}
		if r > rank {
			best, rank = id, r
		}
	}
	return best
}
