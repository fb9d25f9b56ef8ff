package jar

import "strings"

// Code names a kind of problem, for catalogues of messages.
type Code string

// The kinds of problem that stop a recipe or a plan of loads.
const (
	BadText       Code = "bad-text"        // a quantity that cannot be read
	NoProducts    Code = "no-products"     // nothing goes in
	NoName        Code = "no-name"         // a product without a name
	TwoOfAName    Code = "two-of-a-name"   // one product listed twice
	NoJar         Code = "no-jar"          // jar volume missing or zero
	NoRate        Code = "no-rate"         // a product without a rate
	NoSprayVolume Code = "no-spray-volume" // a rate by area without a spray volume
	NoDensity     Code = "no-density"      // weight rate of a liquid, or the reverse
	Overfull      Code = "overfull"        // the products alone fill the jar or tank
	TooSmall      Code = "too-small"       // a dose that would print as nothing
	BadShare      Code = "bad-share"       // a share outside 0 to 1
	BadState      Code = "bad-state"       // neither liquid nor dry
	BadCode       Code = "bad-code"        // no formulation code of a spray tank
	NoArea        Code = "no-area"         // area missing or zero
	NoTank        Code = "no-tank"         // tank missing, zero or not above its heel
	BadFill       Code = "bad-fill"        // a limit of filling that no tank can meet
	TooManyLoads  Code = "too-many-loads"  // surely a wrong unit
)

// Problem is one reason why there is no recipe or no plan.
type Problem struct {
	Code    Code   // its kind
	Product string // the product's name; "" when it is about the whole
	Msg     string // what is wrong: lower case, no full stop
	Hint    string // what to write instead
}

// Error returns what is wrong, without the hint.
func (p Problem) Error() string { return p.Msg }

// Problems is everything that is wrong with one request, in order of reading.
type Problems []Problem

// Error joins all problems, one a line.
func (p Problems) Error() string {
	var lines []string
	for _, one := range p {
		lines = append(lines, one.Msg)
	}
	return strings.Join(lines, "\n")
}

// add appends a problem.
func (p *Problems) add(c Code, product, msg, hint string) {
	*p = append(*p, Problem{c, product, msg, hint})
}

// err returns p as an error, nil when there is no problem.
func (p Problems) err() error {
	if len(p) == 0 {
		return nil
	}
	return p
}
