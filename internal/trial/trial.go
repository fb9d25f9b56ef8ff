package trial

import (
	"fmt"

	"tankleaf.example/internal/jar"
	"tankleaf.example/internal/mix"
	"tankleaf.example/internal/unit"
)

// Question is what a trial is to answer.
type Question = mix.Question

// The questions, by their short names here.
const (
	NoQuestion = mix.NoQuestion
	Cause      = mix.AskCause
	Order      = mix.AskOrder
	Water      = mix.AskWater
	Substitute = mix.AskSubstitute
	Workshop   = mix.AskWorkshop
)

// ParseQuestion returns the question of a word.
func ParseQuestion(s string) (Question, bool) { return mix.ParseQuestion(s) }

// Questions lists the words of all questions.
func Questions() []string {
	var words []string
	for _, q := range mix.Questions() {
		words = append(words, q.String())
	}
	return words
}

func name[T ~uint8](v T, names []string, typ string) string {
	if int(v) < len(names) {
		return names[v]
	}
	return fmt.Sprintf("%s(%d)", typ, uint8(v))
}

// Role is what a jar is there for. The zero Role is none.
type Role uint8

const (
	NoRole     Role = iota
	Carrier         // carrier alone
	Alone           // one product alone
	Whole           // the mix as it is
	Part            // part of the mix
	OtherOrder      // the mix in another order
	OtherWater      // the mix in another water
	InPlace         // with one product in place of another
	Without         // with one product left out
	WithAid         // the mix with a helper: the other half of a pair
	Crowded         // the mix in little water
)

var roleNames = []string{"none", "carrier", "alone", "whole", "part", "other-order", "other-water", "in-place", "without",
	"with-aid", "crowded"}

// String returns the role's word in JSON.
func (r Role) String() string { return name(r, roleNames, "Role") }

// MarshalText writes the role as its word.
func (r Role) MarshalText() ([]byte, error) { return []byte(r.String()), nil }

// Opening is how a jar is mixed and opened. The zero Opening is the most careful.
type Opening uint8

const (
	// Vented: gas is possible. The jar stays open, at most with a lid laid on
	// loosely; it is stirred or swirled, never shaken, and nobody bends over it.
	Vented Opening = iota
	// Watched: nothing speaks for gas. The jar stands open for a minute after each
	// product; only when nothing rises and it stays cool is it closed, turned, and
	// opened again at once, away from the face.
	Watched
)

var openingNames = []string{"vented", "watched"}

// String returns the rule's word in JSON.
func (o Opening) String() string { return name(o, openingNames, "Opening") }

// MarshalText writes the rule as its word.
func (o Opening) MarshalText() ([]byte, error) { return []byte(o.String()), nil }

// Closed reports whether a record of the jar says that its vessel was closed.
func (o Opening) Closed() bool { return o == Watched }

// Trial is a set of jars that answers one question.
type Trial struct {
	Question  Question
	Products  []jar.Product // of the mix, then what is tried beside it
	Mix       []int         // indexes of the products of the mix as it is
	Replaced  int           // index of the product that others stand in for; -1: none
	Symptom   mix.Symptom   // of a search for the cause
	Seed      uint64
	Blocks    int // replicates
	Vessel    Vessel
	Jars      []Jar // in the order of runs
	Stocks    []StockBatch
	Plan      *Plan        // of a search for the cause, else nil
	LeftOut   []Jar        // for which there was no room: role, products, water and share of it
	Hazards   []mix.Hazard // of the mix as it is and of every jar
	Verdict   mix.Verdict  // of the mix as it is
	Untested  int          // pairs of the mix about which nothing is known
	Routine   mix.Routine  // that jars are run by
	Tolerance unit.Number  // of the bench
	Time      Time         // of one set
}

// Vessel is what the jars of a trial are made in.
type Vessel struct {
	Size unit.Volume // as it stands on the shelf
	Fill unit.Volume // finished volume of a jar at full water
}

// Jar is one vessel of a trial.
type Jar struct {
	Code     string
	Run      int // from 1
	Block    int // from 1
	Role     Role
	About    int   // the product that the role is about, -1: none
	Products []int // in order of addition
	Water    mix.ID
	Order    string // whose order it is, for the question of order
	Card     jar.Card
	Hazards  []mix.Hazard
	Opening  Opening
}

// StockBatch is one stock as a group makes it before the first jar.
type StockBatch struct {
	Product int // index
	Stock   jar.Stock
	Times   int // so often, when one cylinder does not hold it
}

// Names returns the names of products by index.
func (t *Trial) Names(list []int) []string {
	var names []string
	for _, i := range list {
		names = append(names, t.Products[i].Name)
	}
	return names
}
