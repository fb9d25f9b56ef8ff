package planner

// The JSON that the client reads. Its TypeScript is written from these structs.

// Schema is the version of the JSON; the client refuses any other.
const Schema = 1

// Core is what the planner cannot start without.
type Core struct {
	Schema     int         `json:"schema"`
	Published  string      `json:"published"` // day of the publication, "" when not stated
	PerShard   int         `json:"per_shard"` // products in a shard
	PerSays    int         `json:"per_says"`  // rules in a file of what they say
	Keys       []string    `json:"keys"`      // IDs, sorted
	Needed     []string    `json:"needed"`    // symptoms without which no jar is clean
	Signatures []Signature `json:"signatures"`
	Carriers   []Carrier   `json:"carriers"` // by ID
	Places     []Place     `json:"places"`
	Gates      []Gate      `json:"gates"`
	Rules      []Rule      `json:"rules"` // interactions, then notices, each by ID
	Steps      []Step      `json:"steps"` // of the order of addition
	FirstWater string      `json:"first_water"`
	Jar        string      `json:"jar"` // the office's usual jar
	Least      Least       `json:"least"`
	Actives    []string    `json:"actives"`

	// Of each product, by ID.
	IDs   []string            `json:"ids"` // "" when it follows from the name
	Names []string            `json:"names"`
	Of    []int               `json:"of"`    // its signature
	Holds [][]int             `json:"holds"` // its active ingredients
	Also  map[string][]string `json:"also"`  // by place: other names and misspellings
}

// Least is the smallest amount that a tool of the office measures: where it stops to
// trust the finest. "" when it has none.
type Least struct {
	Liquid string `json:"liquid,omitempty"` // mL
	Dry    string `json:"dry,omitempty"`    // g
}

// Signature is a set of classes that products share.
type Signature struct {
	Keys     []int    `json:"keys"`
	Handling []string `json:"handling,omitempty"` // hazards of handling
	Hides    []string `json:"hides,omitempty"`    // symptoms that its presence hides
}

// Carrier is a class that the liquid of the tank may belong to.
type Carrier struct {
	Key   int   `json:"key"`
	Above []int `json:"above"`          // keys of it and its classes
	When  []int `json:"when,omitempty"` // gates by which a water is known to belong here
}

// Place is a district.
type Place struct {
	ID     string `json:"id"`
	PartOf string `json:"part_of,omitempty"`
}

// Gate is a condition. Low and High are exact numbers in the base unit of the
// factor, whole or as a fraction.
type Gate struct {
	Factor   string `json:"factor"`
	Low      string `json:"low,omitempty"`
	LowOpen  bool   `json:"low_open,omitempty"`
	High     string `json:"high,omitempty"`
	HighOpen bool   `json:"high_open,omitempty"`
	Ref      string `json:"ref,omitempty"`   // vessel, place, crop or carrier class
	First    string `json:"first,omitempty"` // order: IDs
	Then     string `json:"then,omitempty"`
}

// Rule is an interaction or a notice.
type Rule struct {
	ID       string   `json:"id"`
	Notice   bool     `json:"notice,omitempty"`
	Members  []int    `json:"members"` // keys
	Verdict  string   `json:"verdict"`
	Stated   string   `json:"stated,omitempty"` // when it differs
	Kind     string   `json:"kind"`
	Grade    string   `json:"grade"`
	Hazards  []string `json:"hazards,omitempty"`
	Care     []string `json:"care,omitempty"`
	Symptoms []string `json:"symptoms,omitempty"`
	Firm     bool     `json:"firm,omitempty"`
	Law      bool     `json:"law,omitempty"`
	Demand   bool     `json:"demand,omitempty"`
	Lapsed   bool     `json:"lapsed,omitempty"` // not in force on the day of publication
	When     []int    `json:"when,omitempty"`   // gates
	Mends    []Mend   `json:"mends,omitempty"`
	Doubts   []Doubt  `json:"doubts,omitempty"`
}

// Mend is a class whose presence softens a rule.
type Mend struct {
	Key int    `json:"key"`
	To  string `json:"to"`
}

// Doubt is a qualification that does not depend on the mix.
type Doubt struct {
	Code     string   `json:"code"`
	Symptoms []string `json:"symptoms,omitempty"`
	N        int      `json:"n,omitempty"`
	Count    *Count   `json:"count,omitempty"`
}

// Count is how often a symptom was seen in a set of jars.
type Count struct {
	Symptom     string  `json:"symptom"`
	Reacted     int     `json:"reacted,omitempty"`
	Recorded    int     `json:"recorded,omitempty"`
	Reports     int     `json:"reports,omitempty"`
	Independent int     `json:"independent,omitempty"`
	Upper       float64 `json:"upper,omitempty"` // share from 0 to 1
}

// Step is a place in the order of addition.
type Step struct {
	ID      string   `json:"id"`
	Bags    bool     `json:"bags,omitempty"`
	Forms   []string `json:"forms,omitempty"`
	Classes []string `json:"classes,omitempty"`
	Wait    string   `json:"wait,omitempty"`
}

// Shard is what is known of some products in a row, beyond the core.
type Shard struct {
	First    int       `json:"first"` // place of the first
	Products []Product `json:"products"`
	Sets     []Set     `json:"sets"` // of jars that held one of them
	Opposed  []Opposed `json:"opposed"`
}

// Product is the label of a product. Quantities are texts of the package unit.
type Product struct {
	Form     string    `json:"form,omitempty"`
	Dry      bool      `json:"dry,omitempty"`
	Bag      bool      `json:"bag,omitempty"`
	Density  string    `json:"density,omitempty"`
	Position int       `json:"position,omitempty"`
	Rate     [2]string `json:"rate,omitzero"`
	Spray    [2]string `json:"spray,omitzero"`
	Uses     []Use     `json:"uses,omitempty"`
}

// Use is a labelled use; references are IDs.
type Use struct {
	Crop    string    `json:"crop,omitempty"`
	Timing  string    `json:"timing,omitempty"`
	Purpose string    `json:"purpose,omitempty"`
	Rate    [2]string `json:"rate,omitzero"`
}

// Set is all jars of one set of products.
type Set struct {
	N        int       `json:"n"`        // its place among all sets
	Products []int     `json:"products"` // places
	Jars     []string  `json:"jars"`     // IDs of the records
	Reacted  []string  `json:"reacted,omitempty"`
	Worst    []string  `json:"worst,omitempty"` // verdict of each that reacted
	Clear    []string  `json:"clear,omitempty"`
	Unjudged bool      `json:"unjudged,omitempty"`
	Hazards  []string  `json:"hazards,omitempty"`
	Grade    string    `json:"grade"`
	Counts   []Count   `json:"counts,omitempty"` // of what reacted
	Doubts   []Doubt   `json:"doubts,omitempty"`
	RanAt    []Gate    `json:"ran_at,omitempty"` // what its tests were run at
	Orders   []Ordered `json:"orders,omitempty"` // that stayed clean where others reacted
}

// Ordered is the jars of a set that went in in one order.
type Ordered struct {
	Order []int `json:"order"` // places
	Set   Set   `json:"set"`
}

// Opposed is what quiet jars of some products do to a rule.
type Opposed struct {
	Rule     int   `json:"rule"`
	Products []int `json:"products"`           // places, in order
	Carriers []int `json:"carriers,omitempty"` // members that the liquid of the tank stands for
	Relaxes  bool  `json:"relaxes,omitempty"`
	Lenient  int   `json:"lenient,omitempty"`
}

// Uses says which products serve a purpose on a crop, and what is known of each by
// itself: with it one that is not loaded can be judged beside others that are.
type Uses struct {
	Crops    []string `json:"crops"`
	Purposes []string `json:"purposes"`
	Of       [][]int  `json:"of"` // of each product: purpose and crop by turns; crop -1 for none

	Sets    []Set     `json:"sets"`    // of jars that held one product, and make it never
	Opposed []Opposed `json:"opposed"` // of one product
}
