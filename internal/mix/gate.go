package mix

import (
	"fmt"
	"time"

	"tankleaf.example/internal/diag"
	"tankleaf.example/internal/unit"
)

// Factor is something about water, vessel, place or time on which a statement
// may depend.
type Factor uint8

const (
	NoFactor     Factor = iota
	Hardness            // ppm as CaCO3
	PH                  // of the water or the mix, 0 to 14
	Bicarbonate         // ppm
	WaterTemp           // °C
	CarrierRate         // spray volume, mL/m²
	Standing            // minutes since the last product went in
	WaterShare          // water present when products meet, share of the full amount, 0 to 1
	OrderFactor         // First went in before Then
	VesselFactor        // "open" or "closed"
	PlaceFactor         // id of a place
	CropFactor          // id of a crop
	CarrierClass        // id of a carrier class
)

var factorNames = []string{"none", "hardness", "ph", "bicarbonate", "temperature", "spray_volume", "standing",
	"water_share", "order", "vessel", "place", "crop", "carrier"}

func (f Factor) String() string               { return enumName(f, factorNames, "Factor") }
func (f Factor) MarshalText() ([]byte, error) { return []byte(f.String()), nil }

// ParseFactor returns the factor named by a key of the data files.
func ParseFactor(s string) (Factor, bool) {
	v, ok := enumValue[Factor](s, factorNames)
	return v, ok && v != 0
}

// Numeric reports whether the factor is a number with bounds.
func (f Factor) Numeric() bool { return f >= Hardness && f <= WaterShare }

// Bound is one end of a range of a numeric factor, in the base unit named at the
// factor.
type Bound struct {
	Set   bool
	Open  bool // the bound itself is outside
	Value unit.Number
}

// Gate is one condition. A statement applies when all its gates hold; a gate
// whose factor is not known is taken to hold, and the reader is told so.
type Gate struct {
	At          diag.Pos
	Factor      Factor
	Low, High   Bound  // numeric factors
	Ref         Ref    // vessel word, place, crop or carrier class
	First, Then Ref    // order: classes or products
	Written     string // the bound as the author wrote it: "> 300 ppm"
}

// Truth is the answer to whether a gate holds.
type Truth uint8

const (
	NotKnown Truth = iota
	Holds
	Fails
)

var truthNames = []string{"not-known", "holds", "fails"}

func (t Truth) String() string { return enumName(t, truthNames, "Truth") }

// Value is a number that may be unknown. The zero Value is not known.
type Value struct {
	Known bool
	N     unit.Number
}

// Known returns a known value.
func Known(n unit.Number) Value { return Value{true, n} }

// Inside tells whether v lies between the gate's bounds.
func (g Gate) Inside(v Value) Truth {
	if !v.Known {
		return NotKnown
	}
	low, high := v.N.Cmp(g.Low.Value), v.N.Cmp(g.High.Value)
	if g.Low.Set && (low < 0 || low == 0 && g.Low.Open) || g.High.Set && (high > 0 || high == 0 && g.High.Open) {
		return Fails
	}
	return Holds
}

// Situation is what is known about one mix apart from its products. The zero
// Situation knows nothing, so every gate is taken to hold.
type Situation struct {
	Hardness, PH, Bicarbonate Value  // ppm, pH, ppm
	WaterTemp                 Value  // °C
	CarrierRate               Value  // mL/m²
	Standing                  Value  // minutes
	WaterShare                Value  // 0 to 1
	Order                     []ID   // products in order of addition; nil: not known
	Vessel                    string // "open", "closed" or "" when not known
	Place, Crop               ID
	Carrier                   []ID // carrier classes; nil: not known
}

// Number returns the situation's value of a numeric factor.
func (s *Situation) Number(f Factor) Value {
	switch f {
	case Hardness:
		return s.Hardness
	case PH:
		return s.PH
	case Bicarbonate:
		return s.Bicarbonate
	case WaterTemp:
		return s.WaterTemp
	case CarrierRate:
		return s.CarrierRate
	case Standing:
		return s.Standing
	case WaterShare:
		return s.WaterShare
	case NoFactor, OrderFactor, VesselFactor, PlaceFactor, CropFactor, CarrierClass:
	}
	panic(fmt.Sprintf("mix: %v is not a number", f))
}

// Date is a calendar day, "2026-05-12". The zero Date is no date.
type Date struct {
	Year  int
	Month time.Month
	Day   int
}

// ParseDate reads year-month-day and refuses days that no calendar has.
func ParseDate(s string) (Date, bool) {
	t, err := time.Parse(time.DateOnly, s)
	if err != nil || t.Year() < 1900 {
		return Date{}, false
	}
	return Date{t.Year(), t.Month(), t.Day()}, true
}

// IsZero reports whether there is no date.
func (d Date) IsZero() bool { return d == Date{} }

// Time returns midnight UTC of the day.
func (d Date) Time() time.Time { return time.Date(d.Year, d.Month, d.Day, 0, 0, 0, 0, time.UTC) }

// Compare orders dates; no date comes first.
func (d Date) Compare(e Date) int { return d.Time().Compare(e.Time()) }

func (d Date) String() string {
	if d.IsZero() {
		return ""
	}
	return fmt.Sprintf("%04d-%02d-%02d", d.Year, d.Month, d.Day)
}

// MarshalText writes the date as ParseDate reads it.
func (d Date) MarshalText() ([]byte, error) { return []byte(d.String()), nil }
