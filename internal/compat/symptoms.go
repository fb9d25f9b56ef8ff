package compat

import "tankleaf.example/internal/mix"

// symptomSet is a set of symptoms, bit s standing for symptom s.
type symptomSet uint32

func symptomsOf(list []mix.Symptom) symptomSet {
	var s symptomSet
	for _, x := range list {
		s = s.with(x)
	}
	return s
}

func (s symptomSet) with(x mix.Symptom) symptomSet { return s | 1<<x }
func (s symptomSet) has(x mix.Symptom) bool        { return s>>x&1 == 1 }
func (s symptomSet) contains(t symptomSet) bool    { return t&^s == 0 }

// list returns the symptoms in the order of their definition; nil for none.
func (s symptomSet) list() []mix.Symptom {
	var all []mix.Symptom
	for _, x := range mix.Symptoms() {
		if s.has(x) {
			all = append(all, x)
		}
	}
	return all
}

// inJar is the symptoms that a jar can show, notInJar the others.
var inJar, notInJar = func() (yes, no symptomSet) {
	for _, x := range mix.Symptoms() {
		if x.ShowsInJar() {
			yes = yes.with(x)
		} else {
			no = no.with(x)
		}
	}
	return yes, no
}()

// hazardSet is a set of hazards, bit h standing for hazard h.
type hazardSet uint32

func hazardsOf(list []mix.Hazard) hazardSet {
	var s hazardSet
	for _, x := range list {
		s = s.with(x)
	}
	return s
}

func (s hazardSet) with(x mix.Hazard) hazardSet {
	if x == mix.NoHazard {
		return s
	}
	return s | 1<<x
}

// endanger reports whether one of the hazards forbids a mix.
func (s hazardSet) endanger() bool {
	for _, h := range s.list() {
		if endangers(h) {
			return true
		}
	}
	return false
}

func (s hazardSet) list() []mix.Hazard {
	var all []mix.Hazard
	for _, x := range mix.Hazards() {
		if s>>x&1 == 1 {
			all = append(all, x)
		}
	}
	return all
}
