package page

import (
	"strings"
	"testing"

	"tankleaf.example/internal/compat"
	"tankleaf.example/internal/mix"
)

// fears is a shed with jars: fizz and sour gave gas under a lid.
func fears() *mix.Book {
	b := shed()
	b.Crops = []mix.Crop{{ID: "apple", Name: en("Apple"), Timings: []mix.Timing{{ID: "bloom", Name: en("Bloom")}, {ID: "fall", Name: en("Fall")}}}}
	b.Interactions[0].Hazards = []mix.Hazard{mix.ToxicGas}
	b.Criteria = []mix.Criterion{{Symptom: mix.Gas, Gas: mix.Bubbles, Verdict: mix.Never, Hazard: mix.Pressure}}
	b.Observations = []mix.Observation{{ID: "ob-9", Products: []mix.Portion{{Ref: ref("fizz")}, {Ref: ref("sour")}},
		Readings: []mix.Reading{{Gas: mix.Firm}}}}
	return b
}

func TestGapInWords(t *testing.T) {
	b := fears()
	slots := []compat.Slot{{Crop: "apple", Timing: "bloom"}, {Crop: "apple", Timing: "fall"}, {Crop: "apple", Timing: "bloom"},
		{Crop: "apple", Timing: "fall"}, {Crop: "apple", Timing: "bloom"}}
	pair, kinds := [2]mix.ID{"fizz", "sour"}, [2][]mix.ID{{"fizz", "other"}, {"sour"}}
	statement := compat.Statement{Interaction: &b.Interactions[0]}
	for _, c := range []struct {
		gap                              compat.Gap
		alike, worst, from, settles, why string
		careful                          bool
	}{
		{compat.Gap{Pair: pair, Products: kinds, Slots: slots, Jar: []mix.ID{"fizz", "sour"}, Settles: 1},
			"stands for 2 pairs of products of the same classes", "How bad it could be, nothing tells.", "", "", "nothing is known of its kin", false},
		{compat.Gap{Pair: pair, Products: [2][]mix.ID{{"fizz"}, {"sour"}}, Slots: slots[:1], Worst: mix.Apart, From: statement, Jar: []mix.ID{"fizz", "sour", "third"}, Settles: 3},
			"", "Could be as bad as “Keep apart”.", "They clash.", "If it stays quiet it settles 3 pairs.", "a statement on its kin, and a jar that settles more", false},
		{compat.Gap{Pair: pair, Products: kinds, Slots: slots[:1], Worst: mix.Never, From: statement, Jar: pair[:], Settles: 1},
			"stands for 2 pairs of products of the same classes", "Could be as bad as “Never together”.", "They clash.", "", "a hazard is no jar for everybody", true},
	} {
		l := leafOf(t, b, 0, "unknown.html")
		e := l.gapEntry(&c.gap, 7)
		if e.N != 7 || e.Alike != c.alike || e.Worst != c.worst || e.From.Text != c.from || e.Settles != c.settles || e.Careful != c.careful {
			t.Errorf("%s: got %+v", c.why, e)
		}
		if len(c.gap.Slots) > mostSlots && (len(e.Meets) != mostSlots || e.More != "and 1 more timing") {
			t.Errorf("%s: meets on %q, %q", c.why, e.Meets, e.More)
		}
		if c.gap.From != nil && (!l.hazards[mix.ToxicGas] || e.From.Href == "") {
			t.Errorf("%s: the hazard of what it follows from, and the way to it, belong on the page", c.why)
		}
	}
}

func TestGapFromAJar(t *testing.T) {
	b := fears()
	l := leafOf(t, b, 0, "unknown.html")
	set := &compat.JarSet{Products: []mix.ID{"fizz", "sour"}, Jars: []*mix.Observation{&b.Observations[0]},
		Counts: []compat.Count{{Symptom: mix.Gas, Reacted: 1, Recorded: 1}}}
	e := l.gapEntry(&compat.Gap{Pair: [2]mix.ID{"fizz", "sour"}, Worst: mix.Never, From: set}, 1)
	if e.From.Text != "Fizz SP and Sour SL together: gas in 1 of 1 jar." || e.From.Href != "observation/ob-9.html" || !l.hazards[mix.Pressure] {
		t.Errorf("got %+v, hazards %v", e.From, l.hazards)
	}
}

func TestPairsOfKinds(t *testing.T) {
	for _, c := range []struct {
		kinds [2][]mix.ID
		want  int
		why   string
	}{
		{[2][]mix.ID{{"a"}, {"b"}}, 1, "a pair"},
		{[2][]mix.ID{{"a", "b"}, {"c", "d", "e"}}, 6, "each with each"},
		{[2][]mix.ID{{"a", "b", "c"}, {"a", "b", "c"}}, 3, "of one kind each pair once"},
	} {
		if got := pairsOf(c.kinds); got != c.want {
			t.Errorf("got %d, want %d: %s", got, c.want, c.why)
		}
	}
}

func TestGapsWithoutAPage(t *testing.T) {
	b := fears()
	x := mix.NewIndex(b)
	in := Inputs{Index: x, Judge: compat.New(x), Messages: leafOf(t, b, 0, "index.html").Messages}
	got := Gaps(in, "es", []compat.Gap{{Pair: [2]mix.ID{"fizz", "sour"}, Worst: mix.Apart, From: compat.Statement{Interaction: &b.Interactions[0]}}})
	if len(got.Entries) != 1 || len(got.Sources) != 1 || got.Heads.Title != "Lo que más merece un frasco" || !strings.Contains(got.Entries[0].Worst, "Mantener") {
		t.Errorf("got %+v", got)
	}
}
