package compat_test

import (
	"fmt"
	"slices"
	"testing"

	"tankleaf.example/internal/compat"
	"tankleaf.example/internal/mix"
	"tankleaf.example/internal/unit"
)

// TestRelaxation holds rule 3: that oils and powders leave flakes is relaxed for o1
// and p2 by three independent jars, and each way in which it must not be.
func TestRelaxation(t *testing.T) {
	three := func(edit ...func(*mix.Observation)) func(*book) {
		return func(b *book) { b.clean3("j", "o1 p2", edit...) }
	}
	rates := func(first, second string) func(*mix.Observation) {
		return func(o *mix.Observation) {
			o.Products[0].Rate, o.Products[1].Rate = must(unit.ParseRate(first)), must(unit.ParseRate(second))
		}
	}
	label := func(low string, given func(*book)) func(*book) {
		return func(b *book) {
			b.Products[3].Rate = mix.RateRange{Low: must(unit.ParseRate(low)), High: must(unit.ParseRate("9 qt/ac"))} // o1
			given(b)
		}
	}
	one := func(n int, edit func(*mix.Observation)) func(*book) {
		return func(b *book) {
			three()(b)
			edit(&b.Observations[n])
		}
	}
	for _, c := range []struct {
		why   string
		given func(*book)
		want  mix.Verdict
	}{
		{"three of three days", three(), mix.Clean},
		{"three waters of one day", func(b *book) {
			three(func(o *mix.Observation) { o.Date = date("2026-05-01") })(b)
			for i, w := range []mix.ID{"well", "rain", "river"} {
				b.Observations[i].Water.ID = w
			}
		}, mix.Clean},
		{"three batches of one day", func(b *book) {
			three(func(o *mix.Observation) { o.Date = date("2026-05-01") })(b)
			for i, lot := range []string{"B1", "B2", "B3"} {
				b.Observations[i].Products[1].Batch = lot
			}
		}, mix.Clean},
		{"two days only", one(2, func(o *mix.Observation) { o.Date = date("2026-05-02") }), mix.Apart},
		{"one of unknown day", one(2, func(o *mix.Observation) { o.Date = mix.Date{} }), mix.Apart},
		{"one a report", one(2, field), mix.Apart},
		{"one without gas looked for", one(2, func(o *mix.Observation) { o.Readings[0].Gas = mix.GasNotRecorded }), mix.Apart},
		{"one without the statement's own symptom", one(2, func(o *mix.Observation) { o.Readings[0].Flakes = mix.NotRecorded }), mix.Apart},
		{"one at an unknown rate", one(2, func(o *mix.Observation) { o.Products[1].Rate = unit.Rate{} }), mix.Apart},
		{"at the label's lowest rate", label("1 qt/ac", three()), mix.Clean},
		{"just below it", label("33 fl oz/ac", three()), mix.Apart},
		{"above it", label("1 pt/ac", three(rates("2 qt/ac", "1 qt/ac"))), mix.Clean},
		{"a rate that cannot be compared with the label's", label("2 % v/v", three()), mix.Clean},
		{"a larger mix, its own products enough", func(b *book) { b.clean3("j", "o1 p2 n1") }, mix.Clean},
		{"a larger mix, a stranger below its label", func(b *book) {
			b.Products[9].Rate = mix.RateRange{Low: must(unit.ParseRate("2 qt/ac")), High: must(unit.ParseRate("9 qt/ac"))} // n1
			b.clean3("j", "o1 p2 n1")
		}, mix.Apart},
		{"a larger mix with what hides a needed symptom", func(b *book) { b.clean3("j", "o1 p2 d1") }, mix.Apart},
		{"a larger mix with what hides the statement's own", func(b *book) {
			b.class("clearer", "", func(k *mix.Class) { k.Suppresses = []mix.Symptom{mix.Flakes} })
			b.product("k1", "clearer")
			b.clean3("j", "o1 p2 k1")
		}, mix.Apart},
		{"a larger mix with what mends it", func(b *book) { b.clean3("j", "o1 p2 g1") }, mix.Apart},
		{"a larger mix with what mends something else altogether", func(b *book) {
			b.says("sand", "steps:a1 c1:precipitate", func(n *mix.Interaction) { n.Mends = []mix.Mend{{Class: mix.Ref{ID: "n1"}, To: mix.Clean}} })
			b.clean3("j", "o1 p2 n1")
		}, mix.Clean},
		{"one jar of each of three mixes", func(b *book) {
			b.jar("j1", "2026-05-01", "o1 p2: clean")
			b.jar("j2", "2026-05-02", "o1 p2 n1: clean")
			b.jar("j3", "2026-05-03", "o1 p2 n2: clean")
		}, mix.Clean},
		{"a larger mix reacted: its jars count no more", func(b *book) {
			b.jar("j1", "2026-05-01", "o1 p2: clean")
			b.jar("j2", "2026-05-02", "o1 p2: clean")
			b.jar("j3", "2026-05-03", "o1 p2 n1: clean")
			b.jar("j4", "2026-05-04", "o1 p2 n1: gas=none foam=100 flakes=none")
		}, mix.Apart},
		{"a report of the pair", func(b *book) {
			three()(b)
			b.jar("seen", "2026-05-09", "o1 p2: flakes=heavy", field)
		}, mix.Apart},
		{"something seen in the pair and not judged", func(b *book) {
			b.clean3("big", "o1 p2 n1")
			b.jar("seen", "2026-05-09", "o1 p2: gas=none foam=40 flakes=none", func(o *mix.Observation) { o.Vessel = mix.Vessel{} })
		}, mix.Apart},
		{"a statement that names no symptom speaks of the mix as a whole", func(b *book) {
			b.Interactions[1].Symptoms = nil
			three()(b)
		}, mix.Apart},
		{"one that speaks of injury as well", func(b *book) {
			b.Interactions[1].Symptoms = []mix.Symptom{mix.Flakes, mix.Injury}
			three()(b)
		}, mix.Apart},
		{"one of law", func(b *book) {
			b.Interactions[1].Kind = mix.Legal
			three()(b)
		}, mix.Apart},
		{"one of heat that its steps deal with", func(b *book) {
			b.Interactions[1].Symptoms, b.Interactions[1].Verdict = []mix.Symptom{mix.Heat}, mix.Steps
			b.Criteria = append(b.Criteria, mix.Criterion{Symptom: mix.Heat, Rise: mix.Known(unit.Int(5)), Needed: true})
			three(func(o *mix.Observation) { o.Readings[0].Rise = mix.Known(unit.Int(0)) })(b)
		}, mix.Steps},
		{"a notice", func(b *book) {
			b.Interactions = nil
			b.notice("no", mix.Forbids, "oil powder")
			three()(b)
		}, mix.Never},
		{"a hazard", func(b *book) {
			b.Interactions[1].Hazards = []mix.Hazard{mix.ToxicGas}
			three()(b)
		}, mix.Never},
	} {
		b := orchard()
		b.Waters = []mix.WaterSource{{ID: "well"}, {ID: "rain"}, {ID: "river"}}
		c.given(b)
		a := mixed(b.judge(), "o1 p2")
		if a.Verdict != c.want {
			t.Errorf("%s: want %v, got %s", c.why, c.want, tell(a))
		}
		for _, f := range a.Findings {
			if n, ok := f.Evidence.(compat.Statement); ok && (f.Part == compat.Relaxed) != (c.want == mix.Clean) {
				t.Errorf("%s: %s is told as %v", c.why, n.ID, f.Part)
			}
		}
	}
}

// TestRelaxedIsShown: what was relaxed is told with both sides linked, and clean jars
// of a relaxed statement carry no doubt that they disagree.
func TestRelaxedIsShown(t *testing.T) {
	b := orchard()
	b.clean3("j", "o1 p2")
	a := mixed(b.judge(), "o1 p2")
	f := finding(t, a, "curds")
	if f.Part != compat.Relaxed || f.Verdict != mix.Unknown || f.Stated != mix.Apart || !hasDoubt(f.Doubts, compat.Disagree) {
		t.Errorf("%+v", f)
	}
	if len(a.Hazards) != 0 || len(a.Untested) != 0 {
		t.Errorf("hazards %v, untested %v", a.Hazards, a.Untested)
	}
	// With one more in the tank it stays relaxed for the two, and proves nothing of three.
	a = mixed(b.judge(), "o1 p2 n1")
	if a.Verdict != mix.Unknown || finding(t, a, "curds").Part != compat.Relaxed || len(a.Untested) != 2 {
		t.Errorf("%s, untested %v", tell(a), a.Untested)
	}
}

// TestLenientCounts: of the clean jars that oppose a statement, those that do not
// answer it are counted, and only while it stands.
func TestLenientCounts(t *testing.T) {
	noRate := func(o *mix.Observation) { o.Products[0].Rate = unit.Rate{} }
	for _, c := range []struct {
		why   string
		given func(*book)
		want  int
	}{
		{"none", func(b *book) { b.jar("j", "2026-05-01", "o1 p2: clean") }, 0},
		{"one of two", func(b *book) {
			b.jar("j1", "2026-05-01", "o1 p2: clean")
			b.jar("j2", "2026-05-02", "o1 p2: clean", noRate)
		}, 1},
		{"also in larger mixes", func(b *book) {
			b.jar("j1", "2026-05-01", "o1 p2: clean", noRate)
			b.jar("j2", "2026-05-02", "o1 p2 n1: clean", noRate)
		}, 2},
		{"reports are no jars", func(b *book) {
			b.jar("j1", "2026-05-01", "o1 p2: clean", noRate)
			b.jar("j2", "2026-05-02", "o1 p2: clean", noRate, field)
		}, 1},
		{"it was relaxed: nothing to count", func(b *book) {
			b.clean3("j", "o1 p2")
			b.jar("extra", "2026-05-09", "o1 p2: clean", noRate)
		}, 0},
	} {
		b := orchard()
		c.given(b)
		got := 0
		for _, d := range finding(t, mixed(b.judge(), "o1 p2"), "curds").Doubts {
			if d.Code == compat.Lenient {
				got = d.Number
			}
		}
		if got != c.want {
			t.Errorf("%s: want %d, got %d", c.why, c.want, got)
		}
	}
}

// TestManyMembers: of the reactions within a class a dozen are listed, the worst
// first, and all are counted.
// TestCleanWithItsMend: jars that stayed clean with a compatibility agent never speak
// for the mix without it, and of the mix with it the step to keep it in remains.
func TestCleanWithItsMend(t *testing.T) {
	b := orchard()
	b.clean3("j", "o1 p1 g1")
	j := b.judge()
	for _, c := range []struct {
		items string
		want  mix.Verdict
	}{{"o1 p1 g1", mix.Steps}, {"o1 p1", mix.Apart}, {"o1 p1 n1", mix.Apart}} {
		if a := j.Mix(items(c.items), mix.Situation{}); a.Verdict != c.want {
			t.Errorf("%s: want %v, got %s", c.items, c.want, tell(a))
		}
	}
	a := j.Mix(items("o1 p1"), mix.Situation{})
	told := false
	for _, f := range a.Findings {
		for _, d := range f.Doubts {
			told = told || d.Code == compat.Hidden && slices.Equal(d.Items, items("g1")) && slices.Equal(d.Symptoms, []mix.Symptom{mix.Flakes})
		}
	}
	if !told {
		t.Errorf("nothing says that the agent may have mended them: %s", tell(a))
	}
}

func TestManyMembers(t *testing.T) {
	b := orchard()
	for i := range 20 {
		oil, agent := fmt.Sprintf("oil%02d", i), fmt.Sprintf("agent%02d", i)
		b.product(oil, "oil")
		b.product(agent, "agent")
		seen := "gas=none foam=200 flakes=none"
		if i >= 15 {
			seen = "gas=vented"
		}
		b.jar("j"+oil, "2026-05-01", oil+" "+agent+": "+seen)
	}
	a := mixed(b.judge(), "oil agent")
	if a.Verdict != mix.Unknown || len(a.Findings) != 12 {
		t.Fatalf("%d findings: %s", len(a.Findings), tell(a))
	}
	worst := 0
	for _, f := range a.Findings {
		if f.Stated == mix.Never {
			worst++
		}
		if f.Part != compat.Informative || f.Grade != mix.SingleJar || !hasDoubt(f.Doubts, compat.SomeMembers) || len(f.Matches) != 2 {
			t.Errorf("%+v", f)
		}
		for _, m := range f.Matches {
			if len(m.Path) != 2 || m.Path[0] != m.Item || m.Path[1] != m.Member || (m.Item == "oil") != (m.Member[0] == 'o') {
				t.Errorf("which product stands for which class: %+v", f.Matches)
			}
		}
	}
	if worst != 5 {
		t.Errorf("the five worst are among them, got %d", worst)
	}
	for _, d := range a.Doubts {
		if d.Code == compat.SomeMembers && (d.Number != 20 || len(d.Evidence) != 12) {
			t.Errorf("all are counted, a dozen linked: %d, %d", d.Number, len(d.Evidence))
		}
	}
	if len(a.Hazards) != 1 || a.Hazards[0] != mix.Pressure {
		t.Errorf("the hazard that some of them are is shown: %v", a.Hazards)
	}
	// A product of one class beside the other class: only its own.
	if a := mixed(b.judge(), "oil03 agent"); len(a.Findings) != 1 {
		t.Errorf("%s", tell(a))
	}
	if a := mixed(b.judge(), "oil03 oil"); len(a.Findings) != 0 {
		t.Errorf("both products must belong to the two: %s", tell(a))
	}
}
