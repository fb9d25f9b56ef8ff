package page

import (
	"slices"
	"strings"
	"testing"

	"tankleaf.example/internal/compat"
	"tankleaf.example/internal/mix"
)

// TestHissingLids is the demo's lead story, read as on its page: a bicarbonate
// fungicide with an acidifier, each alone quiet; what stood beside them, their order,
// water, volume and warmth changed nothing; a defoamer took the foam and left the
// gas; other acids and other bicarbonates did the same.
func TestHissingLids(t *testing.T) {
	l := demo(t)
	l.paged = map[[2]mix.ID]bool{{"sallowmere", "tartpitcher"}: true}
	_, v := caseFor(t, l, "hissing-lids", mix.Gas)
	const pair = "Sallowmere 80 SP with Tartpitcher SL"
	if v.Stamp != stampEstablished || v.Says[0] != "From "+pair+". It reacted with nothing else in the jar, and each smaller part of it stayed quiet." {
		t.Errorf("%s: %q", v.Stamp, v.Says)
	}
	if len(v.Leads) != 1 || v.Leads[0].Verdict != mix.Never || v.Leads[0].Name.Text != pair {
		t.Errorf("the cause does not lead to the verdict on the pair: %+v", v.Leads)
	}
	if len(v.Plan) != 0 {
		t.Errorf("nothing is open, and there is a plan: %v", v.Plan)
	}
	same := factorNames(v.Factors.Same)
	for _, want := range []string{"The order", "The spray volume", "The water", "The temperature", "A crowded fill", "Open or closed", "A defoamer or the like"} {
		if !slices.Contains(same, want) {
			t.Errorf("%q made no difference to the gas; told are %q", want, same)
		}
	}
	_, foam := caseFor(t, l, "hissing-lids", mix.Foam)
	if !slices.Contains(factorNames(foam.Factors.Differ), "A defoamer or the like") {
		t.Errorf("the defoamer took the foam: %q", factorNames(foam.Factors.Differ))
	}
	if len(v.Lifts) == 0 || v.Lifts[0].Claim != "Any Carbonate or bicarbonate with any Acidic material would react. No clean record contradicts it; for the members that nobody tested it is a guess." {
		t.Errorf("as wide as the records allow: %+v", v.Lifts)
	}
	for _, p := range v.Lifts[0].Places {
		if len(p.Tested) < 3 || len(p.Untested) == 0 {
			t.Errorf("%s: %d tested, %d untested", p.Class.Name.Text, len(p.Tested), len(p.Untested))
		}
	}
}

func factorNames(list []FactorLine) []string {
	var names []string
	for _, f := range list {
		names = append(names, f.Name)
	}
	return names
}

// TestEachJarTells: a row that is news says what is left, the row that settles it
// says so once, and rows after it speak of another cause.
func TestEachJarTells(t *testing.T) {
	l := demo(t)
	c, v := caseFor(t, l, "hissing-lids", mix.Gas)
	var told []string
	for _, r := range v.Shrink {
		if (r.Tells != "") != r.News {
			t.Errorf("%v: news %v, tells %q", r.Jars, r.News, r.Tells)
		}
		if r.Tells != "" {
			told = append(told, r.Jars[0].Name.Text+": "+r.Tells)
		}
	}
	at := slices.IndexFunc(told, func(s string) bool { return strings.Contains(s, "Established now") })
	if at < 1 || told[at] != "qv-2026-014: Established now: from Sallowmere 80 SP with Tartpitcher SL." {
		t.Fatalf("told %q", told)
	}
	for i, s := range told {
		second := strings.HasSuffix(s, "That leaves less room for a second cause.")
		if second != (i > at) {
			t.Errorf("%d of %d: %q", i, at, s)
		}
	}
	if first := told[0]; !strings.HasSuffix(first, "One cause could still explain it all in 25 ways.") {
		t.Errorf("five products hold 25 sets of up to three: %q", first)
	}
	if before := told[at-1]; !strings.HasSuffix(before, "If one cause explains it all, it comes from Sallowmere 80 SP with Tartpitcher SL.") {
		t.Errorf("before it was run by itself: %q", before)
	}
	if found := c.Causes; len(found) == 0 {
		t.Error("the case has no cause")
	}
}

// TestTwoMattersHaveNoSingleCause: two products that react alone, in two mixes.
func TestTwoMattersHaveNoSingleCause(t *testing.T) {
	l := demo(t)
	for _, c := range []struct {
		step  compat.Shrink
		known bool
		want  string
	}{
		{compat.Shrink{}, false, "No single cause explains it all; there are two at least."},
		{compat.Shrink{}, true, "That leaves less room for a second cause."},
		{compat.Shrink{Established: [][]mix.ID{{"sallowmere"}}}, true, "Established now: from Sallowmere 80 SP by itself."},
		{compat.Shrink{Single: [][]mix.ID{{"sallowmere"}, {"tartpitcher"}}}, false,
			"If one cause explains it all, it comes from Sallowmere 80 SP by itself, or from Tartpitcher SL by itself."},
	} {
		if got := l.tells(&c.step, c.known); got != c.want {
			t.Errorf("got %q, want %q", got, c.want)
		}
	}
}

// TestPlanToTheAnswer: while a cause is open its page draws the plan to the first
// answer on every way, and names it.
func TestPlanToTheAnswer(t *testing.T) {
	l := demo(t)
	_, v := caseFor(t, l, "foam-and-firm-walls", mix.Gas)
	want := []PlanLine{
		{0, "run Ploverdown 4.5 SL + Stillvane SL"},
		{1, "reacts: from Ploverdown 4.5 SL with Stillvane SL"},
		{1, "quiet: from Knotwimble 4 SL, Ploverdown 4.5 SL and Stillvane SL together"},
	}
	if !slices.Equal(v.Plan, want) {
		t.Errorf("got %v", v.Plan)
	}
	if _, v = caseFor(t, l, "sand-by-morning", mix.Precipitate); len(v.Plan) < 5 || v.Plan[2].Depth != 2 {
		t.Errorf("two matters take two jars: %v", v.Plan)
	}
}

// TestConflictInWords: what tells two sides apart is said as far as it goes, and
// never that nothing does when the quiet ones held something else.
func TestConflictInWords(t *testing.T) {
	l := demo(t)
	for _, c := range []struct {
		why  string
		k    compat.Clash
		want string
	}{
		{"known on all sides", compat.Clash{Differ: []compat.Circumstance{compat.ByOrder}, Explained: true}, "They differ in the order, and other records show that it matters."},
		{"not recorded somewhere", compat.Clash{Differ: []compat.Circumstance{compat.ByOrder}, Explained: true, Partly: true},
			"They differ in the order (as far as that was recorded), and other records show that it matters."},
		{"nothing shows that it matters", compat.Clash{Differ: []compat.Circumstance{compat.ByRates, compat.ByWater}}, "They differ in the rates and the water; whether that matters is not shown."},
		{"each in something else", compat.Clash{Explained: true}, "Each differs from each in something that other records show to matter."},
		{"something else in the jar", compat.Clash{Beside: []mix.ID{"marrykettle"}}, "The quiet ones held Marrykettle SL besides; whether that matters is not shown."},
		{"a riddle", compat.Clash{}, "Nothing that was recorded tells them apart."},
	} {
		c.k.Reacted, c.k.Clear = []mix.ID{"sallowmere"}, []mix.ID{"sallowmere"}
		if got := l.clash(&c.k); got.Differ != c.want {
			t.Errorf("%s: got %q", c.why, got.Differ)
		}
	}
	k := compat.Clash{Reacted: []mix.ID{"eggfurrow"}, Clear: []mix.ID{"eggfurrow"}, Beside: []mix.ID{"marrykettle"}}
	if got := l.clash(&k).Mix; got != "Eggfurrow 34 SL, inside Eggfurrow 34 SL and Marrykettle SL" {
		t.Errorf("got %q", got)
	}
}
