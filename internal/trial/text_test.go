package trial_test

import (
	"bytes"
	"errors"
	"strings"
	"testing"

	"tankleaf.example/internal/jar"
	"tankleaf.example/internal/mix"
	"tankleaf.example/internal/trial"
	"tankleaf.example/internal/unit"
)

// text writes a trial as plain text for two people.
func text(t *testing.T, q trial.Request) string {
	t.Helper()
	tr := plan(t, q)
	k := kit(t, tr, trial.People{Persons: 2})
	var b bytes.Buffer
	if err := tr.WriteText(&b, &k); err != nil {
		t.Fatal(err)
	}
	return b.String()
}

// TestText looks for what a person must find in the plan of each kind.
func TestText(t *testing.T) {
	aid := product(t, "foamwren")
	for _, c := range []struct {
		q    trial.Request
		want []string
		why  string
	}{
		{func() trial.Request {
			q := ask(t, trial.Cause, "100 gal/ac", "tartpitcher", "foamwren", "brimbarrow", "larkstile")
			q.Adaptive, q.Jars = true, 6
			return q
		}(), []string{"Which products make it react?", "No record shows the reaction", "Pour the controls, then:", "  1. ", "if it reacts go to",
			"plan again with the results"}, "a plan in which each jar hangs on the one before"},
		{func() trial.Request {
			q := ask(t, trial.Cause, "100 gal/ac", orchard...)
			q.Symptom = mix.Gas
			return q
		}(), []string{"Explanations open: ", "Kit for 2 people in 1 group, 8 jars, ", "  open  ", "carrier alone"}, "jars of one day"},
		{func() trial.Request {
			q := ask(t, trial.Order, "100 gal/ac", "larkstile=0.5 oz/ac", "firkinlow=5.5 fl oz/ac")
			q.AsUsed = true
			return q
		}(), []string{"Make first, in each group", "stock of Larkstile 35 WG, 1 in 1", "shake before drawing", "of the stock 1 in 1", "% off"}, "a stock"},
		{func() trial.Request {
			q := ask(t, trial.Workshop, "100 gal/ac", "tartpitcher=1 qt/100 gal", "sallowmere=5 lb/ac")
			q.Jars = 12
			q.Aid, q.Waters = &aid, []mix.ID{"standard-hard", "rain-tank"}
			return q
		}(), []string{"Hazard: pressure. Jars marked open stay open", "with Foamwren 10 EW: ", "in 25 % of the water: ", "the mix in another water: ",
			"another order (reversed): ", "calcium chloride ", "Splash goggles", "2 + 1 spare"}, "a workshop with everything"},
		{func() trial.Request {
			q := ask(t, trial.Substitute, "100 gal/ac", "tartpitcher=1 qt/100 gal", "larkstile=4 oz/ac")
			q.For, q.Jars = "tartpitcher", 5
			q.Substitutes = []jar.Product{product(t, "mellowbeck")}
			return q
		}(), []string{"in place of Tartpitcher SL: ", "without Tartpitcher SL: "}, "substitutes"},
	} {
		got := text(t, c.q)
		for _, w := range c.want {
			if !strings.Contains(got, w) {
				t.Errorf("%s: %q is not in\n%s", c.why, w, got)
			}
		}
		if strings.Contains(got, "%!") || strings.Contains(got, "(nil)") {
			t.Errorf("%s: a format gone wrong in\n%s", c.why, got)
		}
	}
}

// TestHazardComesFirst holds that nothing is printed before what is dangerous.
func TestHazardComesFirst(t *testing.T) {
	if got := text(t, ask(t, trial.Order, "100 gal/ac", "tartpitcher=1 qt/100 gal", "sallowmere=5 lb/ac")); !strings.HasPrefix(got, "Hazard: ") {
		t.Errorf("the plan begins with %q", got[:40])
	}
}

// full refuses to take any more.
type full struct{}

func (full) Write([]byte) (int, error) { return 0, errors.New("disk full") }

func TestTextStopsAtAnError(t *testing.T) {
	tr := workshop(t)
	k := kit(t, tr, trial.People{Persons: 2})
	if err := tr.WriteText(full{}, &k); err == nil {
		t.Error("a full disk goes unnoticed")
	}
	if err := tr.WriteSheet(full{}, "x"); err == nil {
		t.Error("a full disk goes unnoticed under the sheet")
	}
}

// TestVessels holds the finished volume to the headspace and to round figures.
func TestVessels(t *testing.T) {
	for _, c := range []struct{ jar, size, fill, why string }{
		{"600 mL", "1 qt", "600 mL", "a quart leaves a quarter of it free up to 709 mL"},
		{"350 mL", "1 pt", "350 mL", "a pint does it"},
		{"", "250 mL", "180 mL", "the smallest in which all can be measured, down to a round figure"},
	} {
		q := ask(t, trial.Order, "20 gal/ac", "thatchmoor=3 lb/ac", "skeinlow=6 fl oz/ac")
		if c.jar != "" {
			q.Jar = must(t, unit.ParseVolume, c.jar)
		}
		if v := plan(t, q).Vessel; v.Size.String() != c.size || v.Fill.Base().Short(0)+" mL" != c.fill {
			t.Errorf("%s (%s): %v of mix in %v", c.jar, c.why, v.Fill, v.Size)
		}
	}
}

// TestLeftOutInWords: seven jars leave out a pair in all the water and two in a quarter
// of it, and say so of the pair alone that needs it.
func TestLeftOutInWords(t *testing.T) {
	q := ask(t, trial.Workshop, "100 gal/ac", orchard...)
	aid := product(t, "foamwren")
	q.Aid, q.Jars = &aid, 7
	got := text(t, q)
	for _, want := range []string{
		"\nleft out for want of jars: with Foamwren 10 EW: Foamwren 10 EW, Firkinlow 2.5 SC, Wrenbasket 30 SG, Larkstile 35 WG\n",
		"\nleft out for want of jars: in 25 % of the water: Larkstile 35 WG, Wrenbasket 30 SG, Firkinlow 2.5 SC\n",
		"\nleft out for want of jars: with Foamwren 10 EW: Foamwren 10 EW, Larkstile 35 WG, Wrenbasket 30 SG, Firkinlow 2.5 SC, in 25 % of the water\n",
	} {
		if !strings.Contains(got, want) {
			t.Errorf("no %q in\n%.900s", want, got)
		}
	}
}

// TestHoursOfWork: three jars of two products are 12 + 16 + 16 minutes of work, told to
// five minutes, and hours only where there are some.
func TestHoursOfWork(t *testing.T) {
	q := ask(t, trial.Order, "100 gal/ac", "larkstile=4 oz/ac", "firkinlow=5.5 fl oz/ac")
	q.Jars = 3
	if got := text(t, q); !strings.Contains(got, "\nabout 45 min of work for one group, 2 h ") {
		t.Errorf("no 45 minutes in\n%s", got)
	}
}
