package unit_test

import (
	"errors"
	"testing"

	"tankleaf.example/internal/unit"
)

// TestStrengthIsNoMoreThanAMaterialWeighs: such a content is a slip of the unit, and
// would print as what cannot be read.
func TestStrengthIsNoMoreThanAMaterialWeighs(t *testing.T) {
	for in, fits := range map[string]bool{"23 g/mL": true, "23.1 g/mL": false, "23000 g/L": true, "23001 g/L": false, "1000000g/mL": false} {
		_, err := unit.ParseStrength(in)
		var se *unit.SyntaxError
		if fits != (err == nil) || err != nil && (!errors.As(err, &se) || se.Code != unit.OutOfRange) {
			t.Errorf("%q: %v", in, err)
		}
	}
}
