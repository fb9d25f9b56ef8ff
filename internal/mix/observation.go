package mix

import (
	"tankleaf.example/internal/diag"
	"tankleaf.example/internal/unit"
)

// Extent is how much of a visible symptom there was. The zero Extent is "not
// recorded", which is never taken for none.
type Extent uint8

const (
	NotRecorded Extent = iota
	None
	Trace
	Some
	Heavy
)

var extentNames = []string{"not-recorded", "none", "trace", "some", "heavy"}

func (e Extent) String() string               { return enumName(e, extentNames, "Extent") }
func (e Extent) MarshalText() ([]byte, error) { return []byte(e.String()), nil }

// ParseExtent returns the extent named by a word of the data files.
func ParseExtent(s string) (Extent, bool) { return enumValue[Extent](s, extentNames) }

// GasSign is the strongest sign of gas at a reading.
type GasSign uint8

const (
	GasNotRecorded GasSign = iota
	NoGas
	Bubbles
	Firm   // walls or lid of the closed vessel firm to the touch
	Vented // hissed or lifted its lid on opening
)

var gasNames = []string{"not-recorded", "none", "bubbles", "firm", "vented"}

func (g GasSign) String() string               { return enumName(g, gasNames, "GasSign") }
func (g GasSign) MarshalText() ([]byte, error) { return []byte(g.String()), nil }

// ParseGasSign returns the sign named by a word of the data files.
func ParseGasSign(s string) (GasSign, bool) { return enumValue[GasSign](s, gasNames) }

// ResidueSign is what was left on the screen.
type ResidueSign uint8

const (
	ResidueNotRecorded ResidueSign = iota
	NoResidue
	RinsesOff // passes the screen or rinses off it
	Stays     // stays on screen or walls after rinsing
)

var residueNames = []string{"not-recorded", "none", "rinses-off", "stays"}

func (r ResidueSign) String() string               { return enumName(r, residueNames, "ResidueSign") }
func (r ResidueSign) MarshalText() ([]byte, error) { return []byte(r.String()), nil }

// ParseResidueSign returns the sign named by a word of the data files.
func ParseResidueSign(s string) (ResidueSign, bool) { return enumValue[ResidueSign](s, residueNames) }

// Redispersed is what gentle inversion did to what had settled or separated.
type Redispersed uint8

const (
	RedispersedNotRecorded Redispersed = iota
	Fully
	Partly
	NotAtAll
)

var redispersedNames = []string{"not-recorded", "fully", "partly", "not-at-all"}

func (r Redispersed) String() string               { return enumName(r, redispersedNames, "Redispersed") }
func (r Redispersed) MarshalText() ([]byte, error) { return []byte(r.String()), nil }

// ParseRedispersed returns the answer named by a word of the data files.
func ParseRedispersed(s string) (Redispersed, bool) {
	return enumValue[Redispersed](s, redispersedNames)
}

// Head is a head of foam, as a volume or a height. The zero Head is not recorded.
type Head struct {
	Recorded bool
	Volume   unit.Volume
	Height   unit.Length // used when Tall
	Tall     bool        // measured as a height
}

// Reading is what was seen in the vessel at one time.
type Reading struct {
	At          diag.Pos
	After       unit.Duration // since the last product went in
	Foam        Head
	Gas         GasSign
	Rise        Value // °C above the water's temperature at the start
	Flakes      Extent
	Gel         Extent
	Precipitate Extent
	Layers      Extent
	OilFilm     Extent
	Redisperse  Redispersed
	Inversions  int // number of inversions that Redisperse is about; 0: not recorded
	Screen      ResidueSign
	Mesh        int // of the screen; 0: not recorded
	PH          Value
	Note        Text
}

// Rating is a biological result: control of a target or injury of the crop, in
// percent, with its checks.
type Rating struct {
	At        diag.Pos
	Symptom   Symptom // Control or Injury
	Target    string  // "common lambsquarters", "apple leaf"
	Days      int     // after application
	Mix       Value   // 0 to 100
	Untreated Value
	Singles   []Single // each product alone, same rate
}

// Single is the rating of one product alone.
type Single struct {
	Product Ref
	Rating  Value
}

// Vessel is what the products met in.
type Vessel struct {
	At       diag.Pos
	Type     string // "jar", "cylinder", "bottle", "tank", "nurse-tank", "inductor"
	Size     unit.Volume
	Liquid   unit.Volume // finished volume in it; zero: Size
	Height   unit.Length // of the liquid column; zero: not recorded
	Closed   bool
	Recorded bool // whether open or closed was recorded
}

// Portion is a product in a mix with the rate it was used at.
type Portion struct {
	Ref
	Rate  unit.Rate // zero: not recorded
	Batch string
}

// Observation is one vessel, seen by one office. Products stand in their order
// of addition.
type Observation struct {
	At            diag.Pos
	ID            ID
	Field         bool // a field report; otherwise a jar test
	Title         Text
	Date          Date
	By            string // role, never a name: "office specialist", "county agent", "grower"
	Place         Ref
	Investigation Ref
	Products      []Portion
	OrderKnown    bool // false: the order of addition was not recorded
	SprayVolume   unit.SprayVolume
	WaterShare    Value // 0 to 1; crowded fill when below 1
	Vessel        Vessel
	Water         Ref
	Temperature   Value // °C of the water at the start
	PHBefore      Value
	Inversions    int // per addition
	Readings      []Reading
	Ratings       []Rating
	Note          Text
	Photo         string
	Record        string // the file's own text, for the page that shows the record
}

// Investigation is a named group of observations that answers one question.
type Investigation struct {
	At       diag.Pos
	ID       ID
	Title    Text
	Question Text
	Opened   Date
	About    Text
	Conclude Text // what the office concluded, in words
	Open     Text // what is still open
}

// Criterion says when a reading counts as a reaction, and what follows.
type Criterion struct {
	At      diag.Pos
	Symptom Symptom
	Extent  Extent        // flakes, gel, precipitate, layers, oil-film: at least this
	Gas     GasSign       // gas: at least this
	Residue ResidueSign   // residue: at least this
	Rise    Value         // heat: at least this many °C
	Share   Value         // foam: at least this share of the liquid's volume or height, 0 to 1
	After   unit.Duration // readings earlier than this do not count
	Verdict Verdict       // what a reaction means
	Hazard  Hazard        // what it does to people; NoHazard for a nuisance
	Mixes   bool          // a reaction that redisperses fully is Steps, not Verdict
	Needed  bool          // a jar is clean only when this symptom was recorded
	Says    Text          // the rule in words
	Sources []Cite
}
