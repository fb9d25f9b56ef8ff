package mix

import (
	"tankleaf.example/internal/diag"
	"tankleaf.example/internal/unit"
)

// Site is what an office says about itself and its publication.
type Site struct {
	At            diag.Pos
	Office        Text
	Title         Text
	Tagline       Text
	Contact       Text
	Demonstration Text          // shown on every page; zero: real data
	Languages     []Lang        // first is the office's own
	Metric        bool          // units shown first
	Published     Date          // the day of this publication; no date in the data may be later
	Tolerance     unit.Number   // largest relative error of a poured dose, 0 to 1
	Jars          []unit.Volume // jar sizes at hand, ascending
	FirstWater    unit.Number   // share of the finished volume that goes in before products, 0 to 1
}

// Place is a district for which notices may be written.
type Place struct {
	At     diag.Pos
	ID     ID
	Name   Text
	PartOf Ref // zero: a whole
	About  Text
}

// WaterSource is a water that was measured.
type WaterSource struct {
	At                        diag.Pos
	ID                        ID
	Name                      Text
	Place                     Ref
	Hardness, PH, Bicarbonate Value // ppm as CaCO3, pH, ppm
	Calcium, Magnesium        Value // ppm of the ion
	Sodium, Potassium, Iron   Value // ppm of the ion
	Measured                  Date
	MadeFrom                  []Reagent // for a water that is made up from pure water; nil: it is drawn
	Sources                   []Cite
}

// Reagent is what a made water holds of one reagent.
type Reagent struct {
	At     diag.Pos
	Name   string       // "calcium chloride"
	Amount unit.Content // mg of the reagent in a liter of water
}

// ToolKind is what a tool measures with.
type ToolKind uint8

const (
	NoTool ToolKind = iota
	Syringe
	Pipette
	Cylinder
	Scale
)

var toolNames = []string{"none", "syringe", "pipette", "cylinder", "scale"}

func (k ToolKind) String() string               { return enumName(k, toolNames, "ToolKind") }
func (k ToolKind) MarshalText() ([]byte, error) { return []byte(k.String()), nil }

// ParseToolKind returns the kind named by a word of the data files.
func ParseToolKind(s string) (ToolKind, bool) {
	v, ok := enumValue[ToolKind](s, toolNames)
	return v, ok && v != 0
}

// Tool is something the office measures doses with.
type Tool struct {
	At         diag.Pos
	ID         ID
	Name       Text
	Kind       ToolKind
	Low, High  unit.Amount // what it can measure
	Graduation unit.Amount // smallest step
	Sources    []Cite
}

// OrderStep is one place in the order of addition.
type OrderStep struct {
	At      diag.Pos
	ID      ID
	Name    Text
	Bags    bool   // products in water-soluble bags
	Forms   []Form // codes that go in here
	Classes []Ref  // members of these classes go in here, whatever their code
	Do      Text   // how: "slurry first", "wait until dispersed"
	Wait    unit.Duration
	Sources []Cite
}

// OrderDispute is a question on which published orders disagree.
type OrderDispute struct {
	At        diag.Pos
	Question  Text
	Positions []Dispute
}

// Recipe is a jar test ready to print: field rates and one vessel.
type Recipe struct {
	At          diag.Pos
	ID          ID
	Title       Text
	Why         Text
	Products    []Portion
	Jar         unit.Volume
	SprayVolume unit.SprayVolume
	WaterShare  unit.Number // 1: full water; below: crowded fill
	Water       Ref
	Sources     []Cite
}

// Caution is a block of safety text. Hazard NoHazard marks the general block,
// which closes every page.
type Caution struct {
	At      diag.Pos
	Hazard  Hazard
	Title   Text
	Lines   []Text
	Sources []Cite
}

// Book is everything an office states: the whole of data/.
type Book struct {
	Site           Site
	Groups         []Group
	Classes        []Class
	Products       []Product
	Crops          []Crop
	Purposes       []Purpose
	Interactions   []Interaction
	Notices        []Notice
	Observations   []Observation
	Investigations []Investigation
	Sources        []Source
	Places         []Place
	Waters         []WaterSource
	Tools          []Tool
	Order          []OrderStep
	Disputes       []OrderDispute
	Sequences      []Sequence
	Routine        Routine
	Recipes        []Recipe
	Trials         []Trial
	Cautions       []Caution
	Criteria       []Criterion
	Reviews        []Review
	HalfLives      []HalfLife // one a source and active
}
