package cause

import (
	"errors"
	"fmt"
	"slices"
)

// Run is one observation of one outcome: these elements were together and the
// outcome was seen, or was looked for and not seen. A run in which nobody
// looked is no Run; leave it out.
type Run struct {
	Members Set
	Reacted bool
}

// Conflict is a reacting run that lies inside a clean one. No cause can
// explain both, so one of them was misread or something outside the sets
// differed between them.
type Conflict struct {
	Reacting, Clean Set
}

// Rates says how often a run is misread. The zero value means never. Repeats
// of a run are taken to be misread independently of each other; the caller
// knows whether that is fair.
type Rates struct {
	Missed float64 // share of reactions read as clean, 0 or more and under 0.5
	False  float64 // share of clean runs read as reacting, likewise
}

var errRates = errors.New("a rate of misread runs must be 0 or more and under 0.5")

// check reports rates out of range; NaN is out of range too.
func (r Rates) check() error {
	for _, x := range []float64{r.Missed, r.False} {
		if !(x >= 0 && x < 0.5) {
			return fmt.Errorf("%v: %w", x, errRates)
		}
	}
	return nil
}

// exact reports that runs are never misread.
func (r Rates) exact() bool { return r == Rates{} }

// evidence is the runs with order and repeats taken out, and with the runs
// that speak against each other set aside.
//
// A clean run in conflict excludes no cause any more: were it the misread one,
// the exclusion would be a wrong certainty. The price is only that more
// causes stay possible.
type evidence struct {
	reacting  []Set // every distinct reacting set, disputed or not
	sound     []Set // the reacting sets in no conflict
	clean     []Set // the clean sets in no conflict, widest only
	conflicts []Conflict
}

// sift sorts the runs into evidence. The empty set counts as a clean run:
// nothing at all does not react.
func sift(runs []Run) evidence {
	var ev evidence
	clean := []Set{0}
	for _, r := range runs {
		if r.Reacted {
			ev.reacting = append(ev.reacting, r.Members)
			continue
		}
		clean = append(clean, r.Members)
	}
	ev.reacting, clean = tidy(ev.reacting), tidy(clean)
	disputed := map[Set]bool{}
	for _, r := range ev.reacting {
		before := len(ev.conflicts)
		for _, c := range clean {
			if c.Contains(r) {
				ev.conflicts = append(ev.conflicts, Conflict{r, c})
				disputed[c] = true
			}
		}
		if len(ev.conflicts) == before {
			ev.sound = append(ev.sound, r)
		}
	}
	ev.clean = widest(slices.DeleteFunc(clean, func(c Set) bool { return disputed[c] }))
	return ev
}

// ruledOut reports whether s lies inside a clean run and so cannot react.
func (ev *evidence) ruledOut(s Set) bool { return anyContains(ev.clean, s) }

// established reports whether s is a cause whatever else is true: it reacted
// itself, and every set one element smaller lies inside a clean run.
func (ev *evidence) established(s Set) bool {
	if !slices.Contains(ev.sound, s) {
		return false
	}
	for e := range s.All() {
		if !ev.ruledOut(s &^ Of(e)) {
			return false
		}
	}
	return true
}

// causes lists the established causes. Each is a smallest sound reacting run,
// because a smaller reacting set inside it would be in conflict with the
// clean run that covers it.
func (ev *evidence) causes() []Set {
	var found []Set
	for _, r := range ev.sound {
		if ev.established(r) {
			found = append(found, r)
		}
	}
	return found
}
