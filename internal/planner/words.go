package planner

// What the client shows in one language. Texts of an office that are not in the
// edition's language say in which they are.

// Phrase is a text; Lang is empty when it is in the edition's language.
type Phrase struct {
	Text string `json:"text"`
	Lang string `json:"lang,omitempty"`
}

// Named is a record with its name.
type Named struct {
	ID   string `json:"id"`
	Name Phrase `json:"name"`
}

// Words are the names that the planner shows.
type Words struct {
	Keys     []Phrase            `json:"keys"` // of Core.Keys
	Also     map[string][]string `json:"also"` // by place of the key: other names and misspellings
	Crops    []Named             `json:"crops"`
	Places   []Named             `json:"places"`
	Carriers []Named             `json:"carriers"` // liquids that a reader chooses, not known by what is dissolved
	Purposes []Named             `json:"purposes"`
	Waters   []Water             `json:"waters"`
	Gates    []string            `json:"gates"` // of Core.Gates
	Steps    []StepWords         `json:"steps"` // of Core.Steps
	Forms    map[string]string   `json:"forms"` // meaning of formulation codes
	Cautions []Caution           `json:"cautions"`
	Example  string              `json:"example"` // address of a mix to begin with, "" for none
}

// Water is a water that was measured; numbers are texts, "" when not known.
type Water struct {
	Named
	Hardness    string `json:"hardness,omitempty"`
	PH          string `json:"ph,omitempty"`
	Bicarbonate string `json:"bicarbonate,omitempty"`
	Measured    string `json:"measured,omitempty"` // day in words
}

// StepWords name a step in the order of addition and say how.
type StepWords struct {
	Name Phrase `json:"name"`
	Do   Phrase `json:"do"`
}

// Caution is the box of a hazard.
type Caution struct {
	Hazard string   `json:"hazard"`
	Title  Phrase   `json:"title"`
	Lines  []Phrase `json:"lines"`
}

// Saying is what a rule says.
type Saying struct {
	What    Phrase   `json:"what"`
	Why     Phrase   `json:"why,omitzero"`
	Steps   []Phrase `json:"steps,omitempty"`
	Mends   []Phrase `json:"mends,omitempty"` // of its mends, in order
	Instead Phrase   `json:"instead,omitzero"`
	Use     []string `json:"use,omitempty"` // IDs
	Who     []string `json:"who"`           // who says so
}

// Says is what some rules in a row say.
type Says struct {
	First int      `json:"first"`
	Rules []Saying `json:"rules"`
}

// Bench is what the calculators know beyond arithmetic.
type Bench struct {
	Actives    []Lasting   `json:"actives"` // by name
	Carbonates []Carbonate `json:"carbonates"`
}

// Lasting is what is published on how long an active lasts in water.
type Lasting struct {
	Active  string   `json:"active"`
	Records []Record `json:"records"`
}

// Record is what one source gives.
type Record struct {
	Points []HalfPoint `json:"points"`
	Where  string      `json:"where,omitempty"` // temperature of the water, in words
	Who    []string    `json:"who"`
}

// HalfPoint is a half-life at a pH or over a range of it, in minutes. They are for
// curves, never for a dose, so they cross as numbers. Low 0: no lower end; High 0: no
// upper end.
type HalfPoint struct {
	PH     [2]float64 `json:"ph"`
	Stable bool       `json:"stable,omitempty"`
	About  bool       `json:"about,omitempty"`
	Low    float64    `json:"low,omitempty"`
	High   float64    `json:"high,omitempty"`
}

// Carbonate is a material that gives off carbon dioxide with acid.
type Carbonate struct {
	ID      string  `json:"id"` // the same in every language
	Name    string  `json:"name"`
	PerGram float64 `json:"per_gram"` // mol of gas
}
