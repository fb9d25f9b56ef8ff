package unit_test

import (
	"strings"
	"testing"

	"tankleaf.example/internal/unit"
)

// TestLongWordsAreCutInMessages: what was read is quoted whole up to forty characters,
// and with its beginning beyond.
func TestLongWordsAreCutInMessages(t *testing.T) {
	for _, c := range []struct{ in, quoted, why string }{
		{strings.Repeat("x", 40), `"` + strings.Repeat("x", 40) + `"`, "forty are shown"},
		{strings.Repeat("x", 41), `"` + strings.Repeat("x", 39) + `…"`, "of more the first"},
		{strings.Repeat("é", 50), `"` + strings.Repeat("é", 39) + `…"`, "counted in characters"},
	} {
		_, err := unit.ParseRate(c.in)
		if err == nil || !strings.Contains(err.Error(), c.quoted) {
			t.Errorf("%s: %v has no %s", c.why, err, c.quoted)
		}
	}
}
