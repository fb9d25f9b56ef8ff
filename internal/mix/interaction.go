package mix

import "tankleaf.example/internal/diag"

// SourceKind tells what a source is. The zero kind is not allowed in data.
type SourceKind uint8

const (
	NoSource SourceKind = iota
	Law
	Label
	Standard
	Paper
	Bulletin
	Handbook
	Press
	CommonPractice // no source: taught in the trade
	Memory         // a value remembered, not yet verified
)

var sourceKindNames = []string{"none", "law", "label", "standard", "paper", "bulletin", "handbook", "press",
	"practice", "memory"}

func (k SourceKind) String() string               { return enumName(k, sourceKindNames, "SourceKind") }
func (k SourceKind) MarshalText() ([]byte, error) { return []byte(k.String()), nil }

// ParseSourceKind returns the kind named by a word of the data files.
func ParseSourceKind(s string) (SourceKind, bool) {
	v, ok := enumValue[SourceKind](s, sourceKindNames)
	return v, ok && v != 0
}

// Grade is the grade of a statement that rests on a source of this kind.
func (k SourceKind) Grade() Grade {
	switch k {
	case Law, Label:
		return Rule
	case Standard, Paper, Bulletin, Handbook:
		return Study
	case Press, CommonPractice, Memory:
		return Practice
	case NoSource:
		return NoGrade
	}
	panic("mix: no grade for " + k.String())
}

// Source is a bibliography entry.
type Source struct {
	At      diag.Pos
	ID      ID
	Kind    SourceKind
	Title   string // in its own language, not translated
	Authors string
	Year    int // 0: not known
	Where   string
	Link    string // https address or doi; may be empty
	Partial bool   // only an abstract or an opening was read
}

// Cite is a reference to a source with an optional place in it.
type Cite struct {
	Ref
	Place string // "table 3", "p. 12"
}

// Interaction is a sourced statement that its members react, or do not.
type Interaction struct {
	At        diag.Pos
	ID        ID
	Members   []Ref // two or more classes or products; matched to distinct items of a mix
	Kind      Kind
	Symptoms  []Symptom
	Verdict   Verdict // never Unknown
	Hazards   []Hazard
	What      Text // one line: what happens
	Mechanism Text
	When      []Gate // all must hold for it to apply
	Worse     []Text
	Steps     []Text // what makes it workable; required when Verdict is Steps
	Mends     []Mend
	Instead   Instead
	Disputes  []Dispute
	Sources   []Cite
}

// Mend says that a member of a class in the same mix softens this statement, and
// only this one. Hazards and prohibitions have none.
type Mend struct {
	At      diag.Pos
	Class   Ref
	To      Verdict // Steps or Clean
	How     Text
	Sources []Cite
}

// Instead says what to use in place of one partner.
type Instead struct {
	At   diag.Pos
	Text Text
	Use  []Ref // classes or products
}

// Dispute is a published position that disagrees with the statement.
type Dispute struct {
	At      diag.Pos
	Says    Text
	Sources []Cite
}

// Effect is what a notice does.
type Effect uint8

const (
	NoEffect Effect = iota
	Forbids         // the mix is unlawful there: verdict never
	Requires        // the mix is lawful only with the stated steps: verdict steps
	Allows          // label or law names the mix as allowed
	Informs         // shown, changes no verdict
)

var effectNames = []string{"none", "forbids", "requires", "allows", "informs"}

func (e Effect) String() string               { return enumName(e, effectNames, "Effect") }
func (e Effect) MarshalText() ([]byte, error) { return []byte(e.String()), nil }

// ParseEffect returns the effect named by a word of the data files.
func ParseEffect(s string) (Effect, bool) {
	v, ok := enumValue[Effect](s, effectNames)
	return v, ok && v != 0
}

// Notice is a rule of law or label, for one place or everywhere.
type Notice struct {
	At      diag.Pos
	ID      ID
	Law     bool  // of law; otherwise of a label
	Place   Ref   // zero: everywhere
	Members []Ref // one or more classes or products
	Effect  Effect
	When    []Gate
	Title   Text
	Says    Text
	Steps   []Text
	From    Date // first day it holds; zero: always
	Until   Date // last day it holds; zero: open
	Sources []Cite
}
