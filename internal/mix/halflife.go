package mix

import (
	"tankleaf.example/internal/diag"
	"tankleaf.example/internal/unit"
)

// HalfLife is what one source says of how long one active, or every active of a
// class, lasts in water. Sources that disagree are records of their own, side by
// side; nobody averages them.
type HalfLife struct {
	At          diag.Pos
	ID          ID
	Active      string      // ISO common name as products write it; empty when Class is set
	Class       Ref         // when the source speaks of a class; zero otherwise
	Temperature Value       // °C of the water; not known when the source does not say
	Points      []HalfPoint // by pH, rising; empty when the source gives no number
	Note        Text        // what the source says in words, or what is wrong with its print
	Sources     []Cite
}

// HalfPoint is a half-life at one pH, or over a range of pH for which the source
// gives one answer.
type HalfPoint struct {
	At        diag.Pos
	PH        [2]unit.Number // low and high, equal for a single pH
	Stable    bool           // called stable, without a number; the rest is then zero
	About     bool           // the source says about
	Low, High Bound          // minutes; High not set: at least Low; Low not set: less than High
}

// HalfLivesOf returns what is published on an active, in the order of IDs. Names
// are compared as they are written: a salt of an acid is another active.
func (b *Book) HalfLivesOf(active string) []*HalfLife {
	var found []*HalfLife
	for i := range b.HalfLives {
		if h := &b.HalfLives[i]; active != "" && h.Active == active {
			found = append(found, h)
		}
	}
	return found
}

// HalfLivesOfClass returns what is published on a class by itself, in the order of
// IDs.
func (b *Book) HalfLivesOfClass(class ID) []*HalfLife {
	var found []*HalfLife
	for i := range b.HalfLives {
		if h := &b.HalfLives[i]; class != "" && h.Class.ID == class {
			found = append(found, h)
		}
	}
	return found
}
