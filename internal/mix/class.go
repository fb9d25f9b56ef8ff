package mix

import "tankleaf.example/internal/diag"

// Axis is what makes the members of a class alike.
type Axis uint8

const (
	NoAxis Axis = iota
	Chemistry
	Salt
	Role
	Formulation
	Water // a water or another carrier, known by what is dissolved in it
)

var axisNames = []string{"none", "chemistry", "salt", "role", "formulation", "water"}

func (a Axis) String() string               { return enumName(a, axisNames, "Axis") }
func (a Axis) MarshalText() ([]byte, error) { return []byte(a.String()), nil }

// ParseAxis returns the axis named by a word of the data files.
func ParseAxis(s string) (Axis, bool) { v, ok := enumValue[Axis](s, axisNames); return v, ok && v != 0 }

// Class is a group expected to behave alike in the tank.
type Class struct {
	At      diag.Pos
	ID      ID
	Name    Text
	Axis    Axis
	Group   Ref    // the matrix group it is listed under
	KindOf  []Ref  // its parents; no cycles
	Forms   []Form // products with one of these formulation codes belong here without saying so
	About   Text
	Also    []string // other names and common misspellings, for search
	Matrix  bool     // shown in the printed matrix
	Carrier bool     // a water or other liquid of the tank, not a product
	When    []Gate   // for a carrier: which waters belong here (hardness over 300 ppm)
	Hazards []Hazard // of handling it, alone
	// Suppresses is the symptoms that its presence hides: a defoamer hides foam,
	// so that a quiet mix with a defoamer says nothing about foam without it.
	Suppresses []Symptom
	Sources    []Cite
}

// Group is a heading of the matrix: classes of one role side by side.
type Group struct {
	At   diag.Pos
	ID   ID
	Name Text
}
