package compat

import (
	"tankleaf.example/internal/mix"
)

// oldAfter is the age in years from which the newest jar of a set is called old.
// Formulations change under one name; five years is common practice for keeping
// a bulletin before it is reviewed, and has no source.
const oldAfter = 5

// enoughJars is how many independent clean jars with no reaction leave a
// one-sided bound under 5 %: 1 - 0.05^(1/59) = 4.95 %. Fewer are called few.
const enoughJars = 59

// jarDoubts returns what qualifies a set of jars whatever mix it is used for.
func (j *Judge) jarDoubts(s *jarSet) []Doubt {
	var list []Doubt
	if len(s.Jars) == 1 {
		list = append(list, Doubt{Code: Tentative, Number: 1})
	}
	if c := j.weakest(s); c != nil {
		if s.reacted == 0 && c.Recorded < enoughJars {
			list = append(list, Doubt{Code: FewJars, Count: c})
		}
		if c.Recorded > 1 && c.Independent < c.Recorded {
			list = append(list, Doubt{Code: OneBatch, Count: c})
		}
	}
	if s.clean() {
		list = append(list, Doubt{Code: JarBlind, Symptoms: (notInJar &^ s.clear).list()})
	}
	if missing := j.missing(s); missing != 0 {
		list = append(list, Doubt{Code: NotRecorded, Symptoms: missing.list()})
	}
	if s.unjudged {
		list = append(list, Doubt{Code: Unjudged, Symptoms: s.notJudged().list()})
	}
	if years := j.age(s); years >= oldAfter {
		list = append(list, Doubt{Code: Old, Number: years})
	}
	return list
}

// weakest returns the count with the fewest jars: of the symptoms that reacted
// when there are any, otherwise of those a clean jar needs, otherwise of all.
func (j *Judge) weakest(s *jarSet) *Count {
	among := s.reacted
	if among == 0 {
		among = s.clear & j.needed
	}
	if among == 0 {
		among = s.clear
	}
	var weak *Count
	for _, x := range among.list() {
		if c := s.count(x); c != nil && (weak == nil || c.Recorded < weak.Recorded) {
			weak = c
		}
	}
	return weak
}

// missing returns the symptoms that a jar can show and no jar of the set
// recorded, of those that the book has criteria for.
func (j *Judge) missing(s *jarSet) symptomSet {
	var asked symptomSet
	for x := range j.criteria {
		if x.ShowsInJar() {
			asked = asked.with(x)
		}
	}
	return asked &^ (s.clear | s.reacted | s.notJudged())
}

func (s *jarSet) notJudged() symptomSet {
	var set symptomSet
	for _, out := range s.outcomes {
		for _, sign := range out.Signs {
			if sign.Unjudged {
				set = set.with(sign.Symptom)
			}
		}
	}
	return set
}

// age returns the full years from the newest jar to the day of publication; 0
// without either day.
func (j *Judge) age(s *jarSet) int {
	today := j.x.Book().Site.Published
	newest := s.Jars[len(s.Jars)-1].Date // they are in the order of their days
	if today.IsZero() || newest.IsZero() {
		return 0
	}
	years := today.Year - newest.Year
	if today.Month < newest.Month || today.Month == newest.Month && today.Day < newest.Day {
		years--
	}
	return max(years, 0)
}

// fromClass is the doubt that these very items were never tested.
func fromClass(items []mix.ID) Doubt { return Doubt{Code: FromClass, Items: items} }
