package compat_test

import (
	"testing"

	"tankleaf.example/internal/compat"
	"tankleaf.example/internal/mix"
	"tankleaf.example/internal/unit"
)

func TestOutcome(t *testing.T) {
	jar := func(edit ...func(*mix.Observation)) func(*book) {
		return func(b *book) { b.jar("j", "2026-05-01", "n1 n2:", edit...) }
	}
	readings := func(list ...string) func(*mix.Observation) {
		return func(o *mix.Observation) {
			o.Readings = nil
			for i := 0; i < len(list); i += 2 {
				o.Readings = append(o.Readings, reading(list[i], list[i+1]))
			}
		}
	}
	for _, c := range []struct {
		why     string
		given   func(*book)
		symptom mix.Symptom
		want    compat.State
		verdict mix.Verdict
		hazard  mix.Hazard
	}{
		{"nothing recorded is not recorded", jar(), mix.Gas, compat.NotSeen, mix.Unknown, mix.NoHazard},
		{"looked for and not there", jar(readings("5 min", "gas=none")), mix.Gas, compat.Clear, mix.Unknown, mix.NoHazard},
		{"gas is a hazard", jar(readings("5 min", "gas=bubbles")), mix.Gas, compat.Reacted, mix.Never, mix.Pressure},
		{"one reading of gas among many is enough", jar(readings("0 min", "gas=none", "5 min", "gas=firm", "1 h", "gas=none")), mix.Gas, compat.Reacted, mix.Never, mix.Pressure},
		{"foam under a tenth is none", jar(readings("5 min", "foam=69")), mix.Foam, compat.Clear, mix.Unknown, mix.NoHazard},
		{"foam of a tenth is foam", jar(readings("5 min", "foam=70")), mix.Foam, compat.Reacted, mix.Steps, mix.NoHazard},
		{"foam that falls within the minute does not count", jar(readings("0 min", "foam=300", "1 min", "foam=20")), mix.Foam, compat.Clear, mix.Unknown, mix.NoHazard},
		{"foam seen too early and never again is not recorded", jar(readings("0 min", "foam=300")), mix.Foam, compat.NotSeen, mix.Unknown, mix.NoHazard},
		{"flakes below the criterion", jar(readings("5 min", "flakes=trace")), mix.Flakes, compat.Clear, mix.Unknown, mix.NoHazard},
		{"flakes", jar(readings("5 min", "flakes=some")), mix.Flakes, compat.Reacted, mix.Apart, mix.NoHazard},
		{"that redisperse fully are softer", jar(readings("5 min", "flakes=some back=fully")), mix.Flakes, compat.Reacted, mix.Steps, mix.NoHazard},
		{"partly is not fully", jar(readings("5 min", "flakes=some back=partly")), mix.Flakes, compat.Reacted, mix.Apart, mix.NoHazard},
		{"redispersed at the next reading", jar(readings("5 min", "flakes=some", "30 min", "flakes=some back=fully")), mix.Flakes, compat.Reacted, mix.Steps, mix.NoHazard},
		{"redispersed early, not after a night", jar(readings("5 min", "flakes=some back=fully", "16 h", "flakes=some back=not-at-all")), mix.Flakes, compat.Reacted, mix.Apart, mix.NoHazard},
		{"no criterion for gel: any trace counts", jar(readings("5 min", "gel=trace")), mix.Gel, compat.Reacted, mix.Apart, mix.NoHazard},
		{"no criterion for gel: none is not clear", jar(readings("5 min", "gel=none")), mix.Gel, compat.NotSeen, mix.Unknown, mix.NoHazard},
		{"no criterion for heat: any rise is a hazard", jar(readings("5 min", "rise=3")), mix.Heat, compat.Reacted, mix.Never, mix.HotMix},
		{"cooling is no rise", jar(readings("5 min", "rise=-3")), mix.Heat, compat.NotSeen, mix.Unknown, mix.NoHazard},
		{"foam in a vessel of unknown size", jar(readings("5 min", "foam=40"), func(o *mix.Observation) { o.Vessel = mix.Vessel{} }), mix.Foam, compat.NotSeen, mix.Unknown, mix.NoHazard},
		{"no foam in a vessel of unknown size", jar(readings("5 min", "foam=0"), func(o *mix.Observation) { o.Vessel = mix.Vessel{} }), mix.Foam, compat.Clear, mix.Unknown, mix.NoHazard},
		{"a vessel without a level is taken for full", jar(readings("5 min", "foam=60"), func(o *mix.Observation) {
			o.Vessel = mix.Vessel{Size: must(unit.ParseVolume("500 mL"))}
		}), mix.Foam, compat.Reacted, mix.Steps, mix.NoHazard},
		{"foam by height", jar(func(o *mix.Observation) {
			o.Vessel.Height = must(unit.ParseLength("100 mm"))
			o.Readings[0].Foam = mix.Head{Recorded: true, Tall: true, Height: must(unit.ParseLength("12 mm"))}
		}), mix.Foam, compat.Reacted, mix.Steps, mix.NoHazard},
		{"gas counts before the time of its criterion", func(b *book) {
			b.Criteria[0].After = must(unit.ParseDuration("10 min"))
			jar(readings("0 min", "gas=vented"))(b)
		}, mix.Gas, compat.Reacted, mix.Never, mix.Pressure},
		{"of two criteria the worse decides", func(b *book) {
			b.Criteria = append(b.Criteria, mix.Criterion{Symptom: mix.Foam, Share: mix.Known(unit.Frac(1, 2)), Verdict: mix.Apart})
			jar(readings("5 min", "foam=400"))(b)
		}, mix.Foam, compat.Reacted, mix.Apart, mix.NoHazard},
		{"not clear while one of them was not looked at", func(b *book) {
			b.Criteria = append(b.Criteria, mix.Criterion{Symptom: mix.Foam, Share: mix.Known(unit.Frac(1, 100)), After: must(unit.ParseDuration("30 min")), Verdict: mix.Steps})
			jar(readings("5 min", "foam=0"))(b)
		}, mix.Foam, compat.NotSeen, mix.Unknown, mix.NoHazard},
		{"a criterion may call its symptom a hazard", func(b *book) {
			b.Criteria[1].Hazard = mix.Pressure
			jar(readings("5 min", "foam=400"))(b)
		}, mix.Foam, compat.Reacted, mix.Never, mix.Pressure},
	} {
		b := orchard()
		c.given(b)
		got := b.judge().Outcome("j").Sign(c.symptom)
		if got.State != c.want || got.Verdict != c.verdict || got.Hazard != c.hazard {
			t.Errorf("%s: want %v %v %v, got %v %v %v", c.why, c.want, c.verdict, c.hazard, got.State, got.Verdict, got.Hazard)
		}
	}
}

func TestUnjudged(t *testing.T) {
	b := orchard()
	b.jar("j", "2026-05-01", "n1 n2: gas=none foam=40 flakes=none", func(o *mix.Observation) { o.Vessel = mix.Vessel{} })
	j := b.judge()
	if s := j.Outcome("j").Sign(mix.Foam); !s.Unjudged {
		t.Errorf("foam was seen and could not be measured: %+v", s)
	}
	a := mixed(j, "n1 n2")
	if a.Verdict != mix.Unknown || !hasDoubt(a.Findings[0].Doubts, compat.Unjudged) {
		t.Errorf("foam of unknown share is neither a reaction nor clean: %s", tell(a))
	}
}

func TestDecidingReading(t *testing.T) {
	b := orchard()
	b.jar("j", "2026-05-01", "n1 n2:", func(o *mix.Observation) {
		o.Readings = []mix.Reading{reading("5 min", "flakes=none"), reading("10 min", "flakes=some"), reading("1 h", "flakes=heavy")}
	})
	if s := b.judge().Outcome("j").Sign(mix.Flakes); s.Reading != 1 || s.Criterion == nil {
		t.Errorf("the first of equally bad readings decides, by the criterion of the book; got %+v", s)
	}
}
