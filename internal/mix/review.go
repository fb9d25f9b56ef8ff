package mix

import "tankleaf.example/internal/diag"

// Review is a record by which an office answers for verdicts that soften from one
// publication to the next.
type Review struct {
	At           diag.Pos
	ID           ID
	Date         Date
	By           string  // a role
	Softens      [][]Ref // mixes, by their items or classes of them; one name: all mixes with it
	Because      Text
	Observations []Ref
	Sources      []Cite
}
