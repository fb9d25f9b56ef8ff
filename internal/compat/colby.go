package compat

import (
	"cmp"
	"fmt"
	"math"
	"slices"

	"gonum.org/v1/gonum/stat"
	"gonum.org/v1/gonum/stat/distuv"

	"tankleaf.example/internal/mix"
)

// Colby returns the effect, in percent, that products are expected to have
// together if each acts on what the others leave: for two, X + Y - XY/100; for
// more, 100 less the product of what each leaves (Colby, Weeds 15 (1967) 20).
func Colby(effects ...float64) float64 {
	left := 100.0
	for _, x := range effects {
		left *= (100 - x) / 100
	}
	return 100 - left
}

// Abbott returns an effect in percent with that of the untreated check taken out
// of it (Abbott, J. Econ. Entomol. 18 (1925) 265; the opening was read, the formula
// is from memory). A check of 100 leaves nothing to judge by.
func Abbott(effect, untreated float64) (corrected float64, ok bool) {
	if untreated >= 100 {
		return 0, false
	}
	return 100 * (effect - untreated) / (100 - untreated), true
}

// ratingStep is the step to which effects are read by eye, in percent: common
// practice, no source. Differences within it are none.
const ratingStep = 5

// ratingLimit is the difference from what was expected, in percent, from which
// one rating counts as a reaction when the book has no criterion: two steps of
// reading by eye. Common practice, no source.
const ratingLimit = 2 * ratingStep

// Replicate is one rating of a mix beside its products alone.
type Replicate struct {
	Observation        *mix.Observation
	Rating             *mix.Rating
	Expected, Observed float64 // percent, the untreated check taken out
}

// Difference returns observed less expected, in percent.
func (r Replicate) Difference() float64 { return r.Observed - r.Expected }

// replicate works out one rating. It cannot when the mix, or a product of it
// alone, was not rated.
func replicate(o *mix.Observation, r *mix.Rating) (Replicate, bool) {
	out := Replicate{Observation: o, Rating: r}
	untreated := 0.0
	if r.Untreated.Known {
		untreated = r.Untreated.N.Float()
	}
	alone := map[mix.ID]float64{}
	for _, s := range r.Singles {
		if s.Rating.Known {
			alone[s.Product.ID] = s.Rating.N.Float()
		}
	}
	var effects []float64
	for _, p := range products(o) {
		x, rated := alone[p]
		x, ok := Abbott(x, untreated)
		if !rated || !ok {
			return out, false
		}
		effects = append(effects, x)
	}
	if !r.Mix.Known || len(effects) < 2 {
		return out, false
	}
	out.Expected = Colby(effects...)
	out.Observed, _ = Abbott(r.Mix.N.Float(), untreated)
	return out, true
}

// worse returns by how much a mix did worse than expected: less control, or more
// injury.
func (r Replicate) worse() float64 {
	if r.Rating.Symptom == mix.Control {
		return -r.Difference()
	}
	return r.Difference()
}

// rated judges control or injury in one observation: worse than expected by the
// limit of the criterion or more. What the products alone do was not recorded
// makes it unjudged.
func (c criteria) rated(o *mix.Observation, s mix.Symptom) Sign {
	found := Sign{Symptom: s}
	for i := range o.Ratings {
		if o.Ratings[i].Symptom != s {
			continue
		}
		rep, ok := replicate(o, &o.Ratings[i])
		if !ok {
			found.Unjudged = true
			continue
		}
		if found.State == NotSeen {
			found.State = Clear
		}
		if k, limit := c.ratingCriterion(s); rep.worse() >= limit {
			met := Sign{Symptom: s, State: Reacted, Reading: i, Criterion: k, Verdict: mix.Apart}
			if k != nil {
				met.Verdict = min(max(k.Verdict, mix.Steps), mix.Apart)
			}
			if found.State != Reacted {
				found = met
			}
		}
	}
	if found.State == Reacted {
		found.Unjudged = false
	} else if found.Unjudged {
		found.State = NotSeen
	}
	return found
}

func (c criteria) ratingCriterion(s mix.Symptom) (*mix.Criterion, float64) {
	for _, k := range c[s] {
		if k.Share.Known {
			return k, 100 * k.Share.N.Float()
		}
	}
	return nil, ratingLimit
}

// Action is how products act together, as far as replicates show.
type Action uint8

const (
	Undecided  Action = iota // too few replicates, or they disagree
	Additive                 // as expected, within the step of a rating
	Antagonism               // less than expected
	Synergy                  // more than expected
)

var actionNames = []string{"undecided", "additive", "antagonism", "synergy"}

func (a Action) String() string {
	if int(a) < len(actionNames) {
		return actionNames[a]
	}
	return fmt.Sprintf("Action(%d)", uint8(a))
}

// MarshalText writes the action as its name.
func (a Action) MarshalText() ([]byte, error) { return []byte(a.String()), nil }

// Joint is the joint action of products on one target at one time, over all
// ratings of just these products.
type Joint struct {
	Products   []mix.ID    // sorted
	Symptom    mix.Symptom // control or injury
	Target     string
	Days       int
	Replicates []Replicate // by date, then ID
	Unusable   int         // ratings without the mix or one of the products alone
	Mean       float64     // of observed less expected, percent
	Low, High  float64     // its 95 % interval; infinite with fewer than two replicates
	Action     Action
}

// enoughReplicates is the number of replicates below which no action is named.
const enoughReplicates = 3

// decide names the action when the replicates carry it.
//
// Each replicate is compared with the expectation from its own singles, which
// takes field, day and rater out. The mean difference gets the t interval; Flint,
// Cornelius and Barrett (Weed Technol. 2 (1988) 304) test the same contrast on
// logarithms, which complete control leaves undefined. Equal ratings would make
// the interval vanish, so the spread is never taken below that of rounding to the
// step of a rating, step/√12. An interval inside one step is additive, one that
// leaves zero out is named, anything else is undecided.
func (j *Joint) decide() {
	n := len(j.Replicates)
	var d []float64
	for _, r := range j.Replicates {
		d = append(d, r.Difference())
	}
	j.Mean, j.Low, j.High = stat.Mean(d, nil), math.Inf(-1), math.Inf(1)
	if n < 2 {
		return
	}
	spread := max(stat.StdDev(d, nil), ratingStep/math.Sqrt(12))
	t := distuv.StudentsT{Sigma: 1, Nu: float64(n - 1)}.Quantile(1 - (1-Confidence)/2)
	half := t * spread / math.Sqrt(float64(n))
	j.Low, j.High = j.Mean-half, j.Mean+half
	switch {
	case n < enoughReplicates:
	case -ratingStep <= j.Low && j.High <= ratingStep:
		j.Action = Additive
	case j.High < 0:
		j.Action = Antagonism
	case j.Low > 0:
		j.Action = Synergy
	}
}

// jointKey is what makes ratings replicates of each other.
type jointKey struct {
	products string
	symptom  mix.Symptom
	target   string
	days     int
}

func compareJoints(a, b Joint) int {
	return cmp.Or(slices.Compare(a.Products, b.Products), cmp.Compare(a.Symptom, b.Symptom),
		cmp.Compare(a.Target, b.Target), cmp.Compare(a.Days, b.Days))
}

// Joints returns the joint action of all mixes that were rated, by products,
// symptom, target and day.
func (j *Judge) Joints() []Joint {
	var all []Joint
	for _, s := range sorted(j.sets) {
		all = append(all, j.JointOf(s.Products)...)
	}
	return all
}

// JointOf returns the joint action of one mix, in any order of its products.
func (j *Judge) JointOf(items []mix.ID) []Joint {
	list := slices.Clone(items)
	slices.Sort(list)
	s := j.sets[setKey(slices.Compact(list))]
	if s == nil || len(s.Products) < 2 {
		return nil
	}
	byKey := map[jointKey]*Joint{}
	for _, o := range s.Jars {
		for i := range o.Ratings {
			r := &o.Ratings[i]
			k := jointKey{setKey(s.Products), r.Symptom, r.Target, r.Days}
			if byKey[k] == nil {
				byKey[k] = &Joint{Products: s.Products, Symptom: r.Symptom, Target: r.Target, Days: r.Days}
			}
			byKey[k].add(o, r)
		}
	}
	var all []Joint
	for _, joint := range byKey {
		if len(joint.Replicates) > 0 {
			joint.decide()
		}
		all = append(all, *joint)
	}
	slices.SortFunc(all, compareJoints)
	return all
}

func (j *Joint) add(o *mix.Observation, r *mix.Rating) {
	if rep, ok := replicate(o, r); ok {
		j.Replicates = append(j.Replicates, rep)
	} else {
		j.Unusable++
	}
}
