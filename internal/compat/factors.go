package compat

import (
	"slices"
	"strings"

	"tankleaf.example/internal/cause"
	"tankleaf.example/internal/mix"
	"tankleaf.example/internal/unit"
)

// Circumstance is something that may differ between two jars of one mix.
type Circumstance string

// The circumstances that are compared.
const (
	ByOrder       Circumstance = "order"
	ByRates       Circumstance = "rates"
	BySprayVolume Circumstance = "spray-volume"
	ByWaterShare  Circumstance = "water-share" // a crowded fill
	ByTemperature Circumstance = "temperature"
	ByWater       Circumstance = "water"
	ByVessel      Circumstance = "vessel" // open or closed
	ByDefoamer    Circumstance = "hides"  // what hides a symptom: a defoamer
	ByMend        Circumstance = "mends"  // what a source says prevents it: a compatibility agent
)

var circumstances = []Circumstance{ByOrder, ByRates, BySprayVolume, ByWaterShare, ByTemperature, ByWater, ByVessel, ByDefoamer, ByMend}

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
func (c *Case) conditions(o *mix.Observation) map[Circumstance]string {
	w := map[Circumstance]string{
		ByWater:      string(o.Water.ID),
		ByWaterShare: "1",
	}
	order, hiding, mending := c.roles(o)
	w[ByDefoamer], w[ByMend] = orNone(hiding), orNone(mending)
	if o.OrderKnown {
		w[ByOrder] = strings.Join(order, " ")
	}
	w[ByRates] = rates(o, order)
	if !o.SprayVolume.IsZero() {
		w[BySprayVolume] = o.SprayVolume.Base().Rat().RatString()
	}
	if o.WaterShare.Known {
		w[ByWaterShare] = o.WaterShare.N.Rat().RatString()
	}
	if o.Vessel.Recorded {
		w[ByVessel] = map[bool]string{true: "closed", false: "open"}[o.Vessel.Closed]
	}
	return w
}

// roles parts the products of a record, each part in the order of addition: those
// whose reaction is looked at, what hides a symptom, and what mends this one.
func (c *Case) roles(o *mix.Observation) (acting, hiding, mending []string) {
	mends := c.judge.mendsIn(o, c.Symptom)
	for _, p := range o.Products {
		switch {
		case c.judge.hider(p.ID):
			hiding = append(hiding, string(p.ID))
		case slices.Contains(mends, p.ID):
			mending = append(mending, string(p.ID))
		default:
			acting = append(acting, string(p.ID))
		}
	}
	return acting, hiding, mending
}

// rates is how much of each of some products went in, "" when one was not recorded.
func rates(o *mix.Observation, of []string) string {
	var list []string
	for _, p := range o.Products {
		if !slices.Contains(of, string(p.ID)) {
			continue
		}
		if p.Rate.IsZero() {
			return ""
		}
		list = append(list, string(p.ID)+" "+p.Rate.Basis().String()+" "+p.Rate.Base().Rat().RatString())
	}
	return orNone(list)
}

// orNone is a list as one word, whatever its order.
func orNone(list []string) string {
	if len(list) == 0 {
		return "none"
	}
	slices.Sort(list)
	return strings.Join(list, " ")
}

// mendKey is a record and a symptom.
type mendKey struct {
	record  mix.ID
	symptom mix.Symptom
}

// mendsIn returns the products of a record in the presence of which a source
// softens what it says of the others about the symptom. It goes by the record's
// ID: one of which only a part is compared has the mends of the whole.
func (j *Judge) mendsIn(o *mix.Observation, s mix.Symptom) []mix.ID {
	k := mendKey{o.ID, s}
	known, ok := j.mending.Load(k)
	if !ok {
		if out := j.outcomes[o.ID]; out != nil {
			o = out.Observation
		}
		known, _ = j.mending.LoadOrStore(k, j.findMends(o, s))
	}
	return known.([]mix.ID)
}

func (j *Judge) findMends(o *mix.Observation, s mix.Symptom) []mix.ID {
	if !slices.ContainsFunc(o.Products, func(p mix.Portion) bool { return j.mender(p.ID) }) {
		return nil
	}
	a := j.Mix(products(o), mix.Situation{})
	var list []mix.ID
	for i := range a.Findings {
		f := &a.Findings[i]
		if f.Mend != nil && slices.Contains(f.Symptoms, s) && !slices.Contains(list, f.MendItem) {
			list = append(list, f.MendItem)
		}
	}
	return list
}

// mender reports whether a product is of a class that some statement names as its
// mend.
func (j *Judge) mender(product mix.ID) bool {
	return slices.ContainsFunc(j.mends, func(class mix.ID) bool { return j.x.IsA(product, class) })
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

// matched compares records of one mix, what hides a symptom or mends it set aside
// as a circumstance.
func (c *Case) matched() []Matched {
	list := c.records()
	values := c.values(list)
	mixes := map[string]cause.Set{} // one element a mix is enough to tell them apart
	settings := make([]cause.Setting, len(list))
	for i, o := range list {
		k := setKey(c.seen(o))
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

// seen returns the products of an observation, sorted, but those that hide a
// symptom or mend this one.
func (c *Case) seen(o *mix.Observation) []mix.ID {
	mends := c.judge.mendsIn(o, c.Symptom)
	return slices.DeleteFunc(products(o), func(id mix.ID) bool { return c.judge.hider(id) || slices.Contains(mends, id) })
}

// values numbers the conditions of records, 0 for what was not recorded.
func (c *Case) values(list []*mix.Observation) [][]int {
	warm := warmth(list)
	numbers := map[string]int{}
	out := make([][]int, len(list))
	for i, o := range list {
		got := c.conditions(o)
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
func (c *Case) differ(a, b *mix.Observation) []Circumstance {
	known, _ := c.unlike(a, b)
	return known
}

// unlike returns the circumstances in which two observations are known to differ,
// and those in which they may for all that was recorded.
func (c *Case) unlike(a, b *mix.Observation) (known, open []Circumstance) {
	v := c.values([]*mix.Observation{c.onlyShared(a, b), c.onlyShared(b, a)})
	for n, k := range circumstances {
		switch {
		case v[0][n] == 0 || v[1][n] == 0:
			open = append(open, k)
		case v[0][n] != v[1][n]:
			known = append(known, k)
		}
	}
	return known, open
}

// onlyShared returns a record without the products that another has not, but for
// those that hide a symptom or mend this one.
func (c *Case) onlyShared(a, b *mix.Observation) *mix.Observation {
	out := *a
	shared, mends := products(b), c.judge.mendsIn(a, c.Symptom)
	out.Products = slices.DeleteFunc(slices.Clone(a.Products), func(p mix.Portion) bool {
		_, both := slices.BinarySearch(shared, p.ID)
		return !both && !c.judge.hider(p.ID) && !slices.Contains(mends, p.ID)
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
	left, right := c.seen(a), c.seen(b)
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
			other.Products[i].ID, other.Products[i].Rate = gone[0], rateOf(a, gone[0]) // each has a rate of its own
		}
	}
	return gone[0], come[0], len(c.differ(a, &other)) == 0
}

// rateOf returns at which rate a record held a product.
func rateOf(o *mix.Observation, id mix.ID) unit.Rate {
	for _, p := range o.Products {
		if p.ID == id {
			return p.Rate
		}
	}
	return unit.Rate{}
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
