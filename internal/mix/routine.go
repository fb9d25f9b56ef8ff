package mix

import (
	"tankleaf.example/internal/diag"
	"tankleaf.example/internal/unit"
)

// Routine is how an office runs its jars: when they are read, how they are mixed,
// what stands on the bench and how it is cleared away.
type Routine struct {
	At         diag.Pos
	Readings   []unit.Duration // after the last product, ascending
	Inversions int             // of the vessel after each addition
	Headspace  unit.Number     // share of the vessel left free, 0 to 1
	Crowded    unit.Number     // share of the water in a crowded fill, 0 to 1
	Spare      unit.Number     // of products and water, beyond what the cards ask for
	Work       Work
	Kit        []KitItem
	Wash       []Text // clean-up and disposal, one instruction a line
	Labels     []LabelStock
	Sources    []Cite
}

// Work is how long the hands take for one of each; standing is not in it.
type Work struct {
	Setup    unit.Duration // label a jar and pour its first water
	Addition unit.Duration // measure one product, pour it, mix
	Stock    unit.Duration // make one stock
	Reading  unit.Duration // look at one jar once and write it down
	Wash     unit.Duration // empty and wash one jar
}

// Per says for how many a thing of the kit is there. The zero Per is for nobody.
type Per uint8

const (
	NoPer Per = iota
	PerPerson
	PerGroup
	PerJar
	PerRoom
)

var perNames = []string{"none", "person", "group", "jar", "room"}

func (p Per) String() string               { return enumName(p, perNames, "Per") }
func (p Per) MarshalText() ([]byte, error) { return []byte(p.String()), nil }

// ParsePer returns the share named by a word of the data files.
func ParsePer(s string) (Per, bool) { v, ok := enumValue[Per](s, perNames); return v, ok && v != 0 }

// KitItem is a thing a bench day needs beside products, water, jars and measuring
// tools.
type KitItem struct {
	At      diag.Pos
	ID      ID
	Name    Text
	Wear    bool // protective equipment
	Per     Per
	Count   int // for each of them
	Sources []Cite
}

// LabelStock is a sheet of labels as it is sold, by its plain dimensions.
type LabelStock struct {
	At            diag.Pos
	ID            ID
	Name          Text
	Paper         string // "letter" or "a4"
	Width, Height unit.Length
	Across, Down  int         // labels on a sheet
	Left, Top     unit.Length // of the first label from the sheet's edge
	StepX, StepY  unit.Length // from one label to the next
	Sources       []Cite
}

// Sequence is an order of addition as one source publishes it. Where a source is
// only read in part, what comes after its last step is not known.
type Sequence struct {
	At      diag.Pos
	ID      ID
	Name    Text
	Start   [2]unit.Number // share of the water before the first product, low and high; zero: not stated
	Steps   []OrderStep    // first to last; sources stand at the sequence
	Partial bool           // the source was read to the last step and not beyond
	Note    Text           // how the source's words were read
	Sources []Cite
}

// UsualRoutine is the routine of an office that states none: readings at once, after
// 15 and 30 minutes, 2 hours and overnight, 10 inversions an addition, a quarter of
// the vessel free. From memory and common practice; published stands are 5 minutes
// (Univ. of Arizona 1999) and 15 (Utah State Univ. 2012).
func UsualRoutine() Routine {
	minutes := func(n int64) unit.Duration { return unit.Minute.Of(unit.Int(n)) }
	return Routine{
		Readings:   []unit.Duration{minutes(0), minutes(15), minutes(30), minutes(120), minutes(960)},
		Inversions: 10,
		Headspace:  unit.Frac(1, 4),
		Crowded:    unit.Frac(1, 4),
		Spare:      unit.Frac(1, 10),
		Work:       Work{Setup: minutes(3), Addition: minutes(2), Stock: minutes(4), Reading: minutes(1), Wash: minutes(4)},
	}
}
