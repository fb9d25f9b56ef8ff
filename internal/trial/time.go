package trial

import (
	"tankleaf.example/internal/unit"
)

// Time is what a set of jars takes, by the routine's figures: an estimate for one
// group of hands.
type Time struct {
	Hands unit.Duration // working, standing not counted
	Day   unit.Duration // from the first jar to the last reading of the same day
	Later int           // readings that fall on the next day
}

// sameDay is the longest stand that is still read on the day of pouring: eight
// hours, a working day.
var sameDay = unit.Hour.Of(unit.Int(8))

// time adds up the work of all jars. In an adaptive plan that is the longest way
// through it; there jars wait for one another and no day is given.
func (t *Trial) time() Time {
	w := t.Routine.Work
	var e Time
	for _, s := range t.Stocks {
		e.Hands = e.Hands.Add(w.Stock.Times(unit.Int(int64(s.Times))))
	}
	pouring := e.Hands
	last := unit.Duration{}
	for _, r := range t.Routine.Readings {
		if r.Cmp(sameDay) > 0 {
			e.Later++
		} else {
			last = r
		}
	}
	readings := int64(len(t.Routine.Readings))
	for _, i := range t.once() {
		poured := w.Setup.Add(w.Addition.Times(unit.Int(int64(len(t.Jars[i].Products)))))
		pouring = pouring.Add(poured)
		e.Hands = e.Hands.Add(poured).Add(w.Reading.Times(unit.Int(readings))).Add(w.Wash)
	}
	if !t.adaptive() {
		e.Day = pouring.Add(last).Add(w.Reading)
	}
	return e
}

func (t *Trial) adaptive() bool { return t.Plan != nil && len(t.Plan.Steps) > 0 }

// once lists the jars that are poured when the trial is gone through: all, or in an
// adaptive plan the controls and the longest way to an end.
func (t *Trial) once() []int {
	if !t.adaptive() {
		return indexes(len(t.Jars))
	}
	var list []int
	inPlan := map[int]bool{}
	for _, s := range t.Plan.Steps {
		inPlan[s.Jar] = true
	}
	for i := range t.Jars {
		if !inPlan[i] {
			list = append(list, i)
		}
	}
	return append(list, t.longest(0)...)
}

// longest returns the jars of the longest way from a step on.
func (t *Trial) longest(step int) []int {
	if step < 0 {
		return nil
	}
	s := t.Plan.Steps[step]
	way, other := t.longest(s.Reacts.Step), t.longest(s.Clear.Step)
	if len(other) > len(way) {
		way = other
	}
	return append([]int{s.Jar}, way...)
}
