package unit

import "strconv"

// System is the family of units in which a reader sees quantities. It never
// changes an amount, only its spelling. The zero System is US.
type System uint8

const (
	US     System = iota // gal, qt, fl oz, lb, oz, ac
	Metric               // L, mL, kg, g, ha
)

// Systems lists every system.
var Systems = []System{US, Metric}

// String returns the system's name in data and addresses: "us" or "metric".
func (s System) String() string {
	switch s {
	case US:
		return "us"
	case Metric:
		return "metric"
	}
	return "System(" + strconv.Itoa(int(s)) + ")"
}

// ParseSystem reads the name of a system.
func ParseSystem(s string) (System, error) {
	for _, sys := range Systems {
		if s == sys.String() {
			return sys, nil
		}
	}
	return US, &SyntaxError{Code: UnknownUnit, Msg: `unknown system of units "` + s + `"`, Hint: `write "us" or "metric"`}
}
