package cause_test

import (
	"testing"

	. "tankleaf.example/internal/cause"
)

// TestLimitOfPairs holds the documented size of a search: 12 elements with causes
// of up to 6, 16 with causes of up to 4, and nothing much above either.
func TestLimitOfPairs(t *testing.T) {
	for _, c := range []struct {
		elements, size int
		fits           bool
		why            string
	}{
		{12, 6, true, "2,509 sets, 3.1 million pairs of them"},
		{13, 6, false, "4,095 sets, 8.4 million pairs"},
		{16, 4, true, "2,516 sets, 3.2 million pairs"},
		{16, 5, false, "6,884 sets, 24 million pairs"},
	} {
		// All but one of them mixed cleanly, so few explanations are left to weigh.
		whole := full(c.elements)
		runs := []Run{{Members: whole, Reacted: true}, {Members: full(c.elements - 1)}}
		_, err := NewSearch(Question{Runs: runs, Within: whole, Limits: Limits{Causes: 2, Size: c.size}})
		if (err == nil) != c.fits {
			t.Errorf("%d elements with causes of up to %d: %v; %s", c.elements, c.size, err, c.why)
		}
	}
}
