package mix

import (
	"fmt"
	"slices"
)

// enum gives the enumerations their names: names[v] is the word used in data.
func enumName[T ~uint8](v T, names []string, typ string) string {
	if int(v) < len(names) {
		return names[v]
	}
	return fmt.Sprintf("%s(%d)", typ, uint8(v))
}

func enumValue[T ~uint8](word string, names []string) (T, bool) {
	i := slices.Index(names, word)
	return T(max(i, 0)), i >= 0
}

// Verdict is what we tell the reader about a mix. Unknown is not a point on the
// scale between the others: it is never shown, sorted or filtered as fine.
type Verdict uint8

const (
	Unknown Verdict = iota // no evidence
	Clean                  // mixed cleanly, with its reach stated
	Steps                  // workable when the listed steps are followed
	Apart                  // separate tanks or separate days
	Never                  // hazard to people or equipment, or forbidden
)

var verdictNames = []string{"unknown", "clean", "steps", "apart", "never"}

func (v Verdict) String() string               { return enumName(v, verdictNames, "Verdict") }
func (v Verdict) MarshalText() ([]byte, error) { return []byte(v.String()), nil }

// ParseVerdict returns the verdict named by a word of the data files.
func ParseVerdict(s string) (Verdict, bool) { return enumValue[Verdict](s, verdictNames) }

// Verdicts lists all verdicts from Unknown up.
func Verdicts() []Verdict { return []Verdict{Unknown, Clean, Steps, Apart, Never} }

// Grade is the strength of evidence; a higher value is stronger. Of several pieces
// that ask for the same caution the strongest gives the answer its grade. What is
// taught or remembered stands below everything that somebody wrote down when it
// happened, since nobody can follow it to a record; it names the very items, which
// a class does not.
type Grade uint8

const (
	NoGrade   Grade = iota
	Inference       // from the class of the products alone
	Practice        // common practice, the trade press, or from memory
	Report          // a field report
	SingleJar       // one jar test
	Jars            // replicated jar tests, k of n
	Study           // a published study, bulletin or handbook
	Rule            // law or label
)

var gradeNames = []string{"none", "inference", "practice", "report", "single-jar", "jars", "study", "rule"}

func (g Grade) String() string               { return enumName(g, gradeNames, "Grade") }
func (g Grade) MarshalText() ([]byte, error) { return []byte(g.String()), nil }

// Kind is the nature of an interaction.
type Kind uint8

const (
	NoKind Kind = iota
	Physical
	Chemical
	Biological
	Legal
)

var kindNames = []string{"none", "physical", "chemical", "biological", "legal"}

func (k Kind) String() string               { return enumName(k, kindNames, "Kind") }
func (k Kind) MarshalText() ([]byte, error) { return []byte(k.String()), nil }

// ParseKind returns the kind named by a word of the data files.
func ParseKind(s string) (Kind, bool) { v, ok := enumValue[Kind](s, kindNames); return v, ok && v != 0 }

// Symptom is one kind of thing that goes wrong in a mix. Symptoms are judged one
// by one: a symptom is not a cause, and its absence clears no other.
type Symptom uint8

const (
	NoSymptom   Symptom = iota
	Gas                 // bubbles, hiss, firm walls, vent on opening
	Heat                // temperature rise
	Fire                // ignition or violent decomposition
	Foam                // a head that stays
	Flakes              // flocs, curds, clumps
	Gel                 // gel, putty, strings
	Precipitate         // crystals, sediment that will not redisperse
	Layers              // separation into layers
	OilFilm             // free oil on top or on the walls
	Residue             // what stays on a screen
	Loss                // active breaks down or is bound; a jar cannot show it
	Vapour              // volatility, drift of vapor; a jar cannot show it
	Control             // weaker (or better) control; a jar cannot show it
	Injury              // crop injury; a jar cannot show it
)

var symptomNames = []string{"none", "gas", "heat", "fire", "foam", "flakes", "gel", "precipitate", "layers",
	"oil-film", "residue", "loss", "vapor", "control", "injury"}

func (s Symptom) String() string               { return enumName(s, symptomNames, "Symptom") }
func (s Symptom) MarshalText() ([]byte, error) { return []byte(s.String()), nil }

// ParseSymptom returns the symptom named by a word of the data files.
func ParseSymptom(s string) (Symptom, bool) {
	v, ok := enumValue[Symptom](s, symptomNames)
	return v, ok && v != 0
}

// Symptoms lists all symptoms but NoSymptom.
func Symptoms() []Symptom {
	var all []Symptom
	for s := Gas; s <= Injury; s++ {
		all = append(all, s)
	}
	return all
}

// ShowsInJar reports whether a jar can show the symptom at all. A clean jar says
// nothing about the others (Univ. of Nebraska-Lincoln Extension G2350; Michigan
// State Univ. Extension on tank-mix partners).
func (s Symptom) ShowsInJar() bool { return s >= Gas && s <= Residue && s != Fire }

// Hazard is a way in which a mix hurts people or equipment.
type Hazard uint8

const (
	NoHazard    Hazard = iota
	Pressure           // a closed vessel, lid, inductor or hose under gas pressure
	ToxicGas           // hydrogen sulfide, chlorine, ammonia, ...
	HotMix             // heat, boil-over, spatter
	FireHazard         // fire or violent decomposition
	Concentrate        // handling of corrosive or acutely toxic concentrate
)

var hazardNames = []string{"none", "pressure", "toxic-gas", "heat", "fire", "concentrate"}

func (h Hazard) String() string               { return enumName(h, hazardNames, "Hazard") }
func (h Hazard) MarshalText() ([]byte, error) { return []byte(h.String()), nil }

// ParseHazard returns the hazard named by a word of the data files.
func ParseHazard(s string) (Hazard, bool) {
	v, ok := enumValue[Hazard](s, hazardNames)
	return v, ok && v != 0
}

// Hazards lists all hazards but NoHazard.
func Hazards() []Hazard { return []Hazard{Pressure, ToxicGas, HotMix, FireHazard, Concentrate} }
