package compat

import (
	"tankleaf.example/internal/mix"
)

// Answer is what is known about one mix: the worst known verdict, everything
// that bears on it, and what is untested in it. The zero Answer says "no
// evidence".
type Answer struct {
	Items    []mix.ID     // as judged, sorted, without repeats
	Verdict  mix.Verdict  // the worst known; Unknown when nothing is
	Grade    mix.Grade    // of the finding that decides
	Kind     mix.Kind     // of the finding that decides, when it is an interaction
	Hazards  []mix.Hazard // of the mix, from every finding that applies
	Handling []mix.Hazard // that call for care and forbid nothing: of handling the items, of heat that steps deal with
	Findings []Finding    // the deciding one first, then by caution and grade
	Doubts   []Doubt      // on the answer as a whole, and those of the deciding finding
	Untested [][]mix.ID   // pairs of items about which nothing is known, in item order
	Symptoms []SymptomVerdict
}

// SymptomVerdict is the worst that is known of one symptom by itself. That one
// symptom is clean says nothing of the others.
type SymptomVerdict struct {
	Symptom mix.Symptom
	Verdict mix.Verdict // never Unknown: a symptom about which nothing is known is left out
}

// AnythingSaid reports whether there is any evidence at all that bears on the
// mix. It is no verdict: much may be said of a mix whose verdict is Unknown.
func (a *Answer) AnythingSaid() bool { return len(a.Findings) > 0 || len(a.Doubts) > 0 }

// Deciding returns the finding that decided, or nil when there is none.
func (a *Answer) Deciding() *Finding {
	if len(a.Findings) == 0 || a.Findings[0].Part != Decides {
		return nil
	}
	return &a.Findings[0]
}

// Evidence is something a reader can follow to its source: *[mix.Interaction],
// *[mix.Notice] or *[JarSet].
type Evidence interface{ evidence() }

// Interaction, Notice and JarSet are the evidence there is.
type (
	// Statement is a sourced interaction.
	Statement struct{ *mix.Interaction }
	// Ruling is a notice of law or label.
	Ruling struct{ *mix.Notice }
	// JarSet is all observations of one set of products.
	JarSet struct {
		Products []mix.ID
		Jars     []*mix.Observation // by date, then ID
		Counts   []Count            // one a symptom that was recorded at least once
	}
)

func (Statement) evidence() {}
func (Ruling) evidence()    {}
func (*JarSet) evidence()   {}

// Count is how often one symptom was seen in a set of jars.
type Count struct {
	Symptom     mix.Symptom
	Reacted     int     // jar tests that reacted
	Recorded    int     // jar tests in which the symptom was recorded at all
	Reports     int     // field reports that saw it; they enter no interval
	Independent int     // of those, differing in day, water or batch
	Low, High   float64 // exact two-sided 95 % interval of the share that reacts, 0 to 1
	Upper       float64 // one-sided 95 % upper bound, for Reacted 0
}

// Part is what a finding does in an answer.
type Part uint8

const (
	NoPart      Part = iota
	Decides          // its verdict is the answer's
	Agrees           // says the same, or less, without contradiction
	Outvoted         // says less caution, and the more cautious statement wins
	Relaxed          // a class statement that replicated jars of these very products overrule
	Softened         // a mend in the mix lowers its verdict
	OffGate          // a gate fails in this situation
	Informative      // shown, changes nothing
)

// Finding is one piece of evidence as it bears on the mix.
type Finding struct {
	Evidence Evidence
	Part     Part
	Verdict  mix.Verdict // what it says for this mix: after mends, and Unknown when it proves nothing here
	Stated   mix.Verdict // what it says by itself: as its author wrote it, or as its jars came out
	Grade    mix.Grade   // for this mix: Inference when it reaches the items through their classes
	Basis    mix.Grade   // of the evidence itself
	Symptoms []mix.Symptom
	Hazards  []mix.Hazard
	Matches  []Match    // which item stands for which member
	Open     []mix.Gate // gates that are not known to hold
	Failed   []mix.Gate // gates that fail (OffGate)
	Mend     *mix.Mend  // the mend that softens it
	MendItem mix.ID     // the item that is the mend
	Doubts   []Doubt
}

// Match says which item of the mix stands for a member of a statement, and the
// chain of classes from the item up to the member.
type Match struct {
	Item, Member mix.ID
	Path         []mix.ID // Item first, Member last
}

// DoubtCode names a qualification; its words are in the message catalogue under
// doubt.CODE.
type DoubtCode string

// The doubts there are. Each comment names the arguments its words use.
const (
	Conditional   DoubtCode = "conditional"     // gates: applies only when they hold
	SomeMembers   DoubtCode = "some-members"    // items: only for these more specific pairs within the classes
	Disagree      DoubtCode = "disagree"        // evidence: says otherwise
	CleanByLarger DoubtCode = "clean-by-larger" // evidence: clean only as part of a larger mix
	FewJars       DoubtCode = "few-jars"        // count: what so few jars still allow
	OneBatch      DoubtCode = "one-batch"       // count: jars of one water, batch and day are not independent
	JarBlind      DoubtCode = "jar-blind"       // symptoms: what a jar cannot show
	NotRecorded   DoubtCode = "not-recorded"    // symptoms: never recorded in these jars
	HazardStands  DoubtCode = "hazard-stands"   // evidence: clean jars do not cancel a hazard
	FromClass     DoubtCode = "from-class"      // these very products were never tested
	NoSourceSeen  DoubtCode = "no-source"       // rests on common practice, the trade press or memory
	Disputed      DoubtCode = "disputed"        // published sources disagree
	Old           DoubtCode = "old"             // years: the newest jar is that old
	Tentative     DoubtCode = "tentative"       // rests on a single jar or report
	ElsewhereOnly DoubtCode = "elsewhere"       // gates: the rule holds only in that place
	NotInForce    DoubtCode = "not-in-force"    // the notice has not begun or has ended
	Suspect       DoubtCode = "suspect"         // evidence: seen to react only inside larger mixes
	PairsOnly     DoubtCode = "pairs-only"      // its parts were seen, the whole mix never
	Lenient       DoubtCode = "lenient"         // number: clean jars that do not meet the statement's conditions
	Unjudged      DoubtCode = "unjudged"        // symptoms: something was seen that no criterion could judge
	Beyond        DoubtCode = "beyond"          // gates: what the jars were run at, where the mix lies outside
	Alone         DoubtCode = "alone"           // evidence: seen in one product by itself
	WaterMatters  DoubtCode = "water-matters"   // evidence: more is known of one of the items in some water
	Hidden        DoubtCode = "hidden"          // symptoms, items: items that hide the symptom in the larger mix

	OtherOrder     DoubtCode = "other-order"     // evidence: reacted when the products went in in another order
	PartRemembered DoubtCode = "part-remembered" // part of it rests on common practice or memory
)

// Doubt is a qualification shown beside a verdict.
type Doubt struct {
	Code     DoubtCode
	Evidence []Evidence // the other side, or what it rests on
	Gates    []mix.Gate
	Symptoms []mix.Symptom
	Items    []mix.ID
	Count    *Count
	Number   int
}
