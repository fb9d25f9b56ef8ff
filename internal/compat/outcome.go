package compat

import (
	"fmt"

	"tankleaf.example/internal/mix"
	"tankleaf.example/internal/unit"
)

// State is what an observation says about one symptom.
type State uint8

const (
	NotSeen State = iota // not recorded: nobody looked, or not in a way the criterion can judge
	Clear                // looked for by the criterion and not there
	Reacted              // there
)

var stateNames = []string{"not-recorded", "clear", "reacted"}

func (s State) String() string {
	if int(s) < len(stateNames) {
		return stateNames[s]
	}
	return fmt.Sprintf("State(%d)", uint8(s))
}

// MarshalText writes the state as its name.
func (s State) MarshalText() ([]byte, error) { return []byte(s.String()), nil }

// Sign is what an observation says about one symptom, by the criteria. The zero
// Sign says that it was not recorded.
type Sign struct {
	Symptom   mix.Symptom
	State     State
	Reading   int            // index of the reading, or rating, that decided, when it reacted
	Criterion *mix.Criterion // the criterion that decided; nil when the book has none for the symptom
	Softer    bool           // it redispersed fully, which the criterion counts as mendable
	Verdict   mix.Verdict    // what the reaction means; Unknown unless it reacted
	Hazard    mix.Hazard     // what the reaction does to people
	// Unjudged says that something was seen which the criteria could not judge:
	// a head of foam in a vessel of unknown size, a sign seen only before the
	// time that counts. It is neither a reaction nor clear.
	Unjudged bool
}

// Outcome is what an observation says, symptom by symptom. It is computed from
// the readings by the criteria of the book, never typed.
type Outcome struct {
	Observation *mix.Observation
	Signs       []Sign // those that reacted, were clear or could not be judged, by symptom
}

// Sign returns what the observation says about one symptom.
func (o *Outcome) Sign(s mix.Symptom) Sign {
	for _, sign := range o.Signs {
		if sign.Symptom == s {
			return sign
		}
	}
	return Sign{Symptom: s}
}

// Verdict returns the worst that any reaction means; Unknown when nothing
// reacted. That nothing reacted does not make an observation clean: see
// [Outcome.Clean].
func (o *Outcome) Verdict() mix.Verdict {
	worst := mix.Unknown
	for _, s := range o.Signs {
		worst = max(worst, s.Verdict)
	}
	return worst
}

// Clean reports whether every needed symptom was recorded and clear, and nothing
// else reacted or was seen in the vessel without being judged. An empty list of needed
// symptoms makes nothing clean.
func (o *Outcome) Clean(needed []mix.Symptom) bool {
	for _, s := range o.Signs {
		if s.State == Reacted || s.Unjudged && inJar.has(s.Symptom) {
			return false
		}
	}
	for _, s := range needed {
		if o.Sign(s).State != Clear {
			return false
		}
	}
	return len(needed) > 0
}

func (o *Outcome) states(want State) symptomSet {
	var set symptomSet
	for _, s := range o.Signs {
		if s.State == want {
			set = set.with(s.Symptom)
		}
	}
	return set
}

// criteria holds the criteria of a book by symptom.
type criteria map[mix.Symptom][]*mix.Criterion

func newCriteria(b *mix.Book) criteria {
	c := criteria{}
	for i := range b.Criteria {
		k := &b.Criteria[i]
		c[k.Symptom] = append(c[k.Symptom], k)
	}
	return c
}

// needed returns the symptoms without which no jar is clean.
func (c criteria) needed() []mix.Symptom {
	var all []mix.Symptom
	for _, s := range mix.Symptoms() {
		for _, k := range c[s] {
			if k.Needed {
				all = append(all, s)
				break
			}
		}
	}
	return all
}

// outcome judges one observation.
func (c criteria) outcome(o *mix.Observation) *Outcome {
	out := &Outcome{Observation: o}
	for _, s := range mix.Symptoms() {
		var sign Sign
		switch {
		case s.ShowsInJar():
			sign = c.sign(o, s)
		case s == mix.Control || s == mix.Injury:
			sign = c.rated(o, s)
		}
		if sign.State != NotSeen || sign.Unjudged {
			out.Signs = append(out.Signs, sign)
		}
	}
	return out
}

// sign judges one symptom. It is clear when each criterion was looked at and
// none was met. A symptom without a criterion is never clear, and any trace of
// it counts, so that an incomplete book errs towards caution.
func (c criteria) sign(o *mix.Observation, s mix.Symptom) Sign {
	found := Sign{Symptom: s}
	list := c[s]
	if len(list) == 0 {
		list = []*mix.Criterion{nil}
	}
	looked := 0
	for _, k := range list {
		met, judged := examine(o, s, k)
		if judged && k != nil {
			looked++
		}
		if met.Verdict > found.Verdict {
			found = met
		}
	}
	switch {
	case found.State == Reacted:
	case looked == len(list):
		found.State = Clear
	default:
		found.Unjudged = anySign(o, s)
	}
	return found
}

// examine holds all readings against one criterion, nil for "any trace". Of
// several readings that meet it the one that means worst decides, of equals the
// first.
func examine(o *mix.Observation, s mix.Symptom, k *mix.Criterion) (found Sign, judged bool) {
	found.Symptom = s
	for i := range o.Readings {
		r := &o.Readings[i]
		if k != nil && !counts(k, r) {
			continue
		}
		switch level(o, r, s, k) {
		case mix.Fails:
			judged = true
		case mix.Holds:
			judged = true
			if met := reaction(o, i, s, k); met.Verdict > found.Verdict {
				found = met
			}
		case mix.NotKnown:
		}
	}
	return found, judged
}

// counts reports whether a reading is late enough. Gas and heat count from the
// start, whatever the criterion says: a lid that lifts at once is a hazard.
func counts(k *mix.Criterion, r *mix.Reading) bool {
	return isHazard(k.Symptom) || r.After.Cmp(k.After) >= 0
}

func isHazard(s mix.Symptom) bool { return s == mix.Gas || s == mix.Heat || s == mix.Fire }

// reaction states what reading i means once it meets the criterion.
func reaction(o *mix.Observation, i int, s mix.Symptom, k *mix.Criterion) Sign {
	sign := Sign{Symptom: s, State: Reacted, Reading: i, Criterion: k, Verdict: mix.Apart}
	if k != nil {
		sign.Verdict, sign.Hazard = max(k.Verdict, mix.Steps), k.Hazard
	}
	if sign.Hazard == mix.NoHazard {
		sign.Hazard = hazardOf(s)
	}
	if endangers(sign.Hazard) {
		sign.Verdict = mix.Never
		return sign
	}
	if k != nil && k.Mixes && redispersed(o, i) == mix.Fully {
		sign.Softer, sign.Verdict = true, mix.Steps
	}
	return sign
}

// redispersed returns the first answer recorded at reading i or later: what had
// settled by then is what was inverted.
func redispersed(o *mix.Observation, i int) mix.Redispersed {
	for _, r := range o.Readings[i:] {
		if r.Redisperse != mix.RedispersedNotRecorded {
			return r.Redisperse
		}
	}
	return mix.RedispersedNotRecorded
}

// hazardOf returns what a symptom does to people when its author names nothing
// else.
func hazardOf(s mix.Symptom) mix.Hazard {
	if s == mix.Gas {
		return mix.Pressure
	}
	if s == mix.Heat {
		return mix.HotMix
	}
	if s == mix.Fire {
		return mix.FireHazard
	}
	return mix.NoHazard
}

// endangers reports whether a hazard of a mix forbids it. That the concentrate
// must be handled with care is true of many products that mix well.
func endangers(h mix.Hazard) bool { return h != mix.NoHazard && h != mix.Concentrate }

// level tells whether a reading reaches the criterion, or with a nil criterion
// whether it shows any trace. NotKnown when it was not recorded or cannot be
// measured against the criterion.
func level(o *mix.Observation, r *mix.Reading, s mix.Symptom, k *mix.Criterion) mix.Truth {
	if k == nil {
		k = &mix.Criterion{}
	}
	switch s {
	case mix.Gas:
		return reaches(r.Gas, mix.Bubbles, k.Gas)
	case mix.Residue:
		return reaches(r.Screen, mix.RinsesOff, k.Residue)
	case mix.Heat:
		return over(r.Rise, k.Rise)
	case mix.Foam:
		return over(foamShare(o, r), k.Share)
	case mix.Flakes:
		return reaches(r.Flakes, mix.Trace, k.Extent)
	case mix.Gel:
		return reaches(r.Gel, mix.Trace, k.Extent)
	case mix.Precipitate:
		return reaches(r.Precipitate, mix.Trace, k.Extent)
	case mix.Layers:
		return reaches(r.Layers, mix.Trace, k.Extent)
	case mix.OilFilm:
		return reaches(r.OilFilm, mix.Trace, k.Extent)
	case mix.NoSymptom, mix.Fire, mix.Loss, mix.Vapour, mix.Control, mix.Injury: // no reading shows them
	}
	return mix.NotKnown
}

// reaches compares words: got 0 is not recorded, first is the least word that
// is a sign at all, and the criterion asks for at least want.
func reaches[T ~uint8](got, first, want T) mix.Truth {
	switch {
	case got == 0:
		return mix.NotKnown
	case got >= max(first, want):
		return mix.Holds
	default:
		return mix.Fails
	}
}

// over compares numbers: more than nothing, and at least want when that is set.
func over(got, want mix.Value) mix.Truth {
	switch {
	case !got.Known:
		return mix.NotKnown
	case got.N.Sign() > 0 && (!want.Known || got.N.Cmp(want.N) >= 0):
		return mix.Holds
	default:
		return mix.Fails
	}
}

// foamShare returns the head of foam as a share of the liquid, by volume or by
// height as it was measured.
func foamShare(o *mix.Observation, r *mix.Reading) mix.Value {
	h, v := r.Foam, &o.Vessel
	switch {
	case !h.Recorded:
		return mix.Value{}
	case h.Tall && h.Height.IsZero(), !h.Tall && h.Volume.IsZero():
		return mix.Known(unit.Int(0))
	case h.Tall:
		return share(h.Height, v.Height)
	case v.Liquid.IsZero():
		return share(h.Volume, v.Size)
	default:
		return share(h.Volume, v.Liquid)
	}
}

func share[Q interface {
	IsZero() bool
	Per(Q) unit.Number
}](part, whole Q) mix.Value {
	if whole.IsZero() {
		return mix.Value{}
	}
	return mix.Known(part.Per(whole))
}

// anySign reports whether any reading shows a trace of the symptom.
func anySign(o *mix.Observation, s mix.Symptom) bool {
	for i := range o.Readings {
		r := &o.Readings[i]
		tall := r.Foam.Recorded && (r.Foam.Volume.Sign() > 0 || r.Foam.Height.Sign() > 0)
		if s == mix.Foam && tall || level(o, r, s, nil) == mix.Holds {
			return true
		}
	}
	return false
}
