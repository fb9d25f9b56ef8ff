package mix

import (
	"tankleaf.example/internal/diag"
	"tankleaf.example/internal/unit"
)

// Active is one active ingredient by its ISO common name, with its content as
// the label states it.
type Active struct {
	At     diag.Pos
	Name   string // ISO common name, lower case
	Amount string // as labelled: "80 % w/w", "480 g/L", "4 lb/gal"; may be empty
}

// RateRange is the range of rates on a label, low to high, both of one basis.
type RateRange struct {
	At   diag.Pos
	Low  unit.Rate
	High unit.Rate
}

// IsZero reports whether there is no range.
func (r RateRange) IsZero() bool { return r.High.IsZero() }

// Use is one labelled use of a product.
type Use struct {
	At      diag.Pos
	Crop    Ref
	Timing  Ref       // a timing of that crop
	Purpose Ref       // what it is for: the partner for substitutes
	Rate    RateRange // zero: the product's own range
}

// Product is anything that goes in the tank.
type Product struct {
	At          diag.Pos
	ID          ID
	Name        string // invented in demonstration data; not translated
	Form        Form
	Dry         bool // the concentrate is weighed
	Bag         bool // packed in a sealed water-soluble bag
	Actives     []Active
	Density     unit.Density // of a liquid concentrate; zero: not known
	Rate        RateRange
	Uses        []Use
	Classes     []Ref               // as written
	SprayVolume [2]unit.SprayVolume // label minimum and maximum; zero: none stated
	Position    int                 // label's own place in the order of addition, from 1; 0: none
	About       Text
	Also        []string
	Sources     []Cite
}

// Crop is a crop with the timings that labels speak of.
type Crop struct {
	At      diag.Pos
	ID      ID
	Name    Text
	Timings []Timing
}

// Timing is a stage of a crop at which it is sprayed.
type Timing struct {
	At   diag.Pos
	ID   ID
	Name Text
}

// Purpose is what a product is used for: powdery mildew, broadleaf weeds, water
// conditioning.
type Purpose struct {
	At   diag.Pos
	ID   ID
	Name Text
}
