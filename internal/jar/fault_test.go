package jar_test

import (
	"math"
	"strings"
	"testing"

	"tankleaf.example/internal/jar"
	"tankleaf.example/internal/mix"
	"tankleaf.example/internal/unit"
)

// TestPourWithTheLeastError: when no tool passes, the one that comes closest is
// taken, though it is filled more often than another.
func TestPourWithTheLeastError(t *testing.T) {
	b := &jar.Bench{Tools: []mix.Tool{
		tool(t, "once, syringe, 1 mL, 10 mL, 1 mL"),       // 1 mL, 29 % off
		tool(t, "twice, syringe, 0.8 mL, 0.8 mL, 0.8 mL"), // 1.6 mL, 14 % off
	}}
	for range 2 {
		p := b.Pour(must(t, unit.ParseAmount, "1.4 mL"))
		if p.Tool == nil || p.Tool.ID != "twice" || len(p.Draws) != 2 {
			t.Errorf("poured %v in %d draws", p.Poured, len(p.Draws))
		}
		b.Tools[0], b.Tools[1] = b.Tools[1], b.Tools[0] // in either order
	}
}

// TestTroubleNamesWhatIsOff: a dose that is drawn well in water that is not is
// told by the error of the rate.
func TestTroubleNamesWhatIsOff(t *testing.T) {
	b := &jar.Bench{Tools: []mix.Tool{
		tool(t, "fine, syringe, 0.1 mL, 10 mL, 0.01 mL"),
		tool(t, "coarse, cylinder, 100 mL, 1000 mL, 100 mL"),
	}}
	p, err := b.Propose(ask(t, "250 mL", "20 gal/ac", "a EC 1 pt/ac"))
	if err != nil || p.Passes() {
		t.Fatalf("passes %v, %v", p.Passes(), err)
	}
	l := p.Asked.Doses[0]
	if !b.Within(l.Error) || b.Within(l.Rate) {
		t.Fatalf("the dose is %s off, the rate %s: the test shows little", l.Error.Short(3), l.Rate.Short(3))
	}
	want := l.Rate.Max(l.Rate.Neg()).Mul(unit.Int(100)).Short(1) + " % off"
	if !strings.Contains(p.Trouble[0].Msg, want) {
		t.Errorf("%q does not say %q", p.Trouble[0].Msg, want)
	}
}

// TestLeftAtOnce: before any time has passed all is there, whatever is known of the
// rest; and what has no upper end may stay whole.
func TestLeftAtOnce(t *testing.T) {
	for _, c := range []struct {
		s           jar.Standing
		hours       int64
		least, most float64
		why         string
	}{
		{jar.Standing{Known: true, Low: 0, High: 60}, 0, 1, 1, "shorter than was measured, and no time has passed"},
		{jar.Standing{Known: true, Low: 0, High: 60}, 1, 0, 0.5, "shorter than was measured: perhaps nothing"},
		{jar.Standing{Known: true, Low: 60, High: math.Inf(1)}, 1, 0.5, 1, "stable, says one"},
		{jar.Standing{Low: 60, High: 60}, 0, 0, 0, "not known"},
	} {
		least, most, ok := c.s.Left(unit.Hour.Of(unit.Int(c.hours)))
		if ok != c.s.Known || !near9(least, c.least) || !near9(most, c.most) {
			t.Errorf("%s: %g to %g, %v", c.why, least, most, ok)
		}
	}
}
