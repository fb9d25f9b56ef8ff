package page

import (
	"strings"
	"testing"

	"tankleaf.example/internal/mix"
)

// TestChanges is what the page of a mix says of leaving one product out and of
// putting another in its place, on the demo's tank that hisses.
func TestChanges(t *testing.T) {
	l := demo(t)
	a := l.Judge.Mix([]mix.ID{"sallowmere", "tartpitcher", "foamwren"}, mix.Situation{})
	v := l.changes(&a, mix.Situation{})
	got := map[string]mix.Verdict{}
	for _, line := range v.Out {
		got[line.Text] = line.Verdict
	}
	for _, c := range []struct {
		text string
		want mix.Verdict
		why  string
	}{
		{"Without Foamwren 10 EW", mix.Never, "the defoamer was never the cause"},
		{"Without Sallowmere 80 SP", mix.Clean, "acid and defoamer were quiet in jars"},
		{"Without Tartpitcher SL", mix.Steps, "a notice asks for a vented inductor with carbonates in one district"},
	} {
		if v, ok := got[c.text]; !ok || v != c.want {
			t.Errorf("%s: %v, listed %v; want %v: %s", c.text, v, ok, c.want, c.why)
		}
	}
	outs := map[string]bool{}
	for _, s := range v.Swaps {
		outs[s.Out.Name.Text] = true
		for i, line := range s.In {
			if line.Verdict >= mix.Apart {
				t.Errorf("%s does not remove the conflict: %v", line.Text, line.Verdict)
			}
			untested := strings.Contains(strings.Join(line.Notes, ";"), "untested with ")
			if line.Verdict == mix.Unknown && !untested {
				t.Errorf("%s has no evidence and does not say with what it is untested: %q", line.Text, line.Notes)
			}
			if i > 0 && !untested && strings.Contains(strings.Join(s.In[i-1].Notes, ";"), "untested with ") {
				t.Errorf("%s stands after one that was not tested with all of the tank", line.Text)
			}
		}
	}
	if !outs["Sallowmere 80 SP"] || !outs["Tartpitcher SL"] || outs["Foamwren 10 EW"] || len(v.None) > 0 {
		t.Errorf("replaced: %v, %q; a change of the defoamer alone removes nothing", outs, v.None)
	}
}

func TestChangesSaidOfOthers(t *testing.T) {
	l := demo(t)
	for _, c := range []struct {
		items []mix.ID
		out   int
		none  bool
		why   string
	}{
		{[]mix.ID{"mellowbeck", "tartpitcher"}, 0, false, "a pair that asks for no caution: its rest is no mix, and nothing is sought"},
		{[]mix.ID{"captan", "oil"}, 0, false, "a class serves no purpose: nothing is sought"},
		{[]mix.ID{"lime-sulfur", "acidic-material", "oil"}, 3, false, "three classes: each left out"},
	} {
		a := l.Judge.Mix(c.items, mix.Situation{})
		v := l.changes(&a, mix.Situation{})
		if len(v.Out) != c.out || len(v.Swaps) != 0 || (len(v.None) > 0) != c.none {
			t.Errorf("%v: %d left out, %d replaced, %q: %s", c.items, len(v.Out), len(v.Swaps), v.None, c.why)
		}
	}
}

// TestNoReplacement: where a caution stands and nothing else serves the purpose, the
// page says so, for silence reads as if nobody had looked.
func TestNoReplacement(t *testing.T) {
	l := demo(t)
	found := false
	for _, list := range [][]mix.ID{{"sallowmere", "tartpitcher"}, {"slipwhistle", "damplatch"}} {
		a := l.Judge.Mix(list, mix.Situation{Crop: "no-such-crop"})
		v := l.changes(&a, mix.Situation{Crop: "no-such-crop"})
		if a.Verdict >= mix.Apart {
			found = true
			if len(v.Swaps) != 0 || len(v.None) != 1 || !strings.HasPrefix(v.None[0], "In place of ") {
				t.Errorf("%v: %d replacements, %q", list, len(v.Swaps), v.None)
			}
		}
	}
	if !found {
		t.Error("no mix of the list asks for caution")
	}
}
