package mix

import (
	"tankleaf.example/internal/diag"
	"tankleaf.example/internal/unit"
)

// Question is what a trial is to answer. The zero Question is none.
type Question uint8

const (
	NoQuestion    Question = iota
	AskCause               // which products make it react
	AskOrder               // does the order of addition matter
	AskWater               // does the water matter
	AskSubstitute          // what can stand in for one product
	AskWorkshop            // a demonstration
)

var questionNames = []string{"none", "cause", "order", "water", "substitute", "workshop"}

func (q Question) String() string               { return enumName(q, questionNames, "Question") }
func (q Question) MarshalText() ([]byte, error) { return []byte(q.String()), nil }

// ParseQuestion returns the question named by a word of the data files and of the
// command line.
func ParseQuestion(s string) (Question, bool) {
	v, ok := enumValue[Question](s, questionNames)
	return v, ok && v != 0
}

// Questions lists all questions but NoQuestion.
func Questions() []Question {
	return []Question{AskCause, AskOrder, AskWater, AskSubstitute, AskWorkshop}
}

// Trial is a trial that an office offers as a packet: what is asked, of which mix,
// and for how many people. The jars follow from it.
type Trial struct {
	At          diag.Pos
	ID          ID
	Title       Text
	Why         Text
	Question    Question
	Products    []Portion // a product without a rate goes in at the highest of its label
	SprayVolume unit.SprayVolume
	Jar         unit.Volume // finished volume; zero: chosen
	Jars        int         // at most; 0: as usual
	Replicates  int         // of each jar; 0: 1
	Seed        int         // of codes and runs
	WaterShare  unit.Number // 1: full water; below: crowded jars
	Waters      []Ref       // the first is the water of all jars
	Aid         Portion     // a helper, each mix with and without it; zero: none
	For         Ref         // what others stand in for; zero: found
	Substitutes []Portion
	Adaptive    bool // for the cause: each jar hangs on the one before
	AsUsed      bool // rates and spray volume outside the labels are meant
	Persons     int  // 0: as the groups make
	Groups      int  // 0: as the persons make
	Shared      bool // jars are dealt out among the groups
	Sources     []Cite
}
