package compat_test

import (
	"slices"
	"testing"

	"tankleaf.example/internal/compat"
	"tankleaf.example/internal/mix"
	"tankleaf.example/internal/unit"
)

// readings replaces the readings of a record: "5 min", "gas=none", ...
func readings(list ...string) func(*mix.Observation) {
	return func(o *mix.Observation) {
		o.Readings = nil
		for i := 0; i < len(list); i += 2 {
			o.Readings = append(o.Readings, reading(list[i], list[i+1]))
		}
	}
}

// outcomeOf judges one jar of n1 and n2 by the given criteria alone.
func outcomeOf(criteria []mix.Criterion, edit ...func(*mix.Observation)) *compat.Outcome {
	b := orchard()
	b.Criteria = criteria
	b.jar("j", "2026-05-01", "n1 n2:", edit...)
	return b.judge().Outcome("j")
}

// TestEachSymptom holds for every symptom that a jar shows what is below, at and
// above its criterion, and that what was not recorded is neither.
func TestEachSymptom(t *testing.T) {
	for _, c := range []struct {
		criterion        mix.Criterion
		below, at, above string
		hazard           mix.Hazard
	}{
		{mix.Criterion{Symptom: mix.Gas, Gas: mix.Firm}, "gas=bubbles", "gas=firm", "gas=vented", mix.Pressure},
		{mix.Criterion{Symptom: mix.Heat, Rise: mix.Known(unit.Int(5))}, "rise=4", "rise=5", "rise=6", mix.HotMix},
		{mix.Criterion{Symptom: mix.Foam, Share: mix.Known(unit.Frac(1, 10))}, "foam=69", "foam=70", "foam=71", 0},
		{mix.Criterion{Symptom: mix.Flakes, Extent: mix.Some}, "flakes=trace", "flakes=some", "flakes=heavy", 0},
		{mix.Criterion{Symptom: mix.Gel, Extent: mix.Some}, "gel=trace", "gel=some", "gel=heavy", 0},
		{mix.Criterion{Symptom: mix.Precipitate, Extent: mix.Heavy}, "precipitate=some", "precipitate=heavy", "precipitate=heavy", 0},
		{mix.Criterion{Symptom: mix.Layers, Extent: mix.Trace}, "layers=none", "layers=trace", "layers=some", 0},
		{mix.Criterion{Symptom: mix.OilFilm, Extent: mix.Some}, "oil-film=trace", "oil-film=some", "oil-film=heavy", 0},
		{mix.Criterion{Symptom: mix.Residue, Residue: mix.Stays}, "screen=rinses-off", "screen=stays", "screen=stays", 0},
	} {
		for _, verdict := range []mix.Verdict{mix.Steps, mix.Apart, mix.Never} {
			k := c.criterion
			k.Verdict = verdict
			s := k.Symptom
			want := verdict
			if c.hazard != 0 {
				want = mix.Never // gas and heat are hazards whatever the book says
			}
			for seen, state := range map[string]compat.State{"": compat.NotSeen, c.below: compat.Clear, c.at: compat.Reacted, c.above: compat.Reacted} {
				got := outcomeOf([]mix.Criterion{k}, readings("5 min", seen)).Sign(s)
				if got.State != state || got.Symptom != s {
					t.Errorf("%v at %q: want %v, got %+v", s, seen, state, got)
				}
				if reacted := state == compat.Reacted; reacted && (got.Verdict != want || got.Hazard != c.hazard) || !reacted && got.Verdict != 0 {
					t.Errorf("%v at %q, criterion %v: got %v, hazard %v", s, seen, verdict, got.Verdict, got.Hazard)
				}
			}
		}
	}
}

// TestSymptomsThatNoJarShows: no reading can say anything of them.
func TestSymptomsThatNoJarShows(t *testing.T) {
	all := "gas=vented rise=9 foam=500 flakes=heavy gel=heavy precipitate=heavy layers=heavy oil-film=heavy screen=stays"
	out := outcomeOf(nil, readings("5 min", all))
	var got []mix.Symptom
	for _, s := range out.Signs {
		got = append(got, s.Symptom)
		if s.State != compat.Reacted {
			t.Errorf("%v: any trace counts when the book has no criterion, got %v", s.Symptom, s.State)
		}
	}
	want := slices.DeleteFunc(mix.Symptoms(), func(s mix.Symptom) bool { return !s.ShowsInJar() })
	if !slices.Equal(got, want) {
		t.Errorf("want signs of %v, got %v", want, got)
	}
}

// TestTimeOfReading holds from when on a reading counts.
func TestTimeOfReading(t *testing.T) {
	late := func(s mix.Symptom) mix.Criterion {
		return mix.Criterion{Symptom: s, Verdict: mix.Apart, After: must(unit.ParseDuration("15 min"))}
	}
	for _, c := range []struct {
		why      string
		symptom  mix.Symptom
		readings []string
		want     compat.State
		unjudged bool
	}{
		{"at the very minute", mix.Flakes, []string{"15 min", "flakes=some"}, compat.Reacted, false},
		{"a minute early, and nothing later", mix.Flakes, []string{"14 min", "flakes=some"}, compat.NotSeen, true},
		{"nothing early, and nothing later", mix.Flakes, []string{"14 min", "flakes=none"}, compat.NotSeen, false},
		{"early, gone later", mix.Flakes, []string{"14 min", "flakes=some", "1 h", "flakes=none"}, compat.Clear, false},
		{"early, and not recorded later", mix.Flakes, []string{"14 min", "flakes=some", "1 h", "gas=none"}, compat.NotSeen, true},
		{"gone early, there later", mix.Flakes, []string{"14 min", "flakes=none", "1 h", "flakes=some"}, compat.Reacted, false},
		{"clear at one time, there at another", mix.Flakes, []string{"15 min", "flakes=none", "1 h", "flakes=some", "2 h", "flakes=none"}, compat.Reacted, false},
		{"gas counts from the start", mix.Gas, []string{"0 min", "gas=bubbles"}, compat.Reacted, false},
		{"so does heat", mix.Heat, []string{"0 min", "rise=1"}, compat.Reacted, false},
		{"that there was none at the start is looked for in vain", mix.Gas, []string{"0 min", "gas=none"}, compat.Clear, false},
	} {
		got := outcomeOf([]mix.Criterion{late(c.symptom)}, readings(c.readings...)).Sign(c.symptom)
		if got.State != c.want || got.Unjudged != c.unjudged {
			t.Errorf("%s: want %v, unjudged %v; got %+v", c.why, c.want, c.unjudged, got)
		}
	}
}

// TestWhichCriterionDecides holds what several criteria of one symptom, and several
// readings, come to.
func TestWhichCriterionDecides(t *testing.T) {
	flakes := func(e mix.Extent, v mix.Verdict) mix.Criterion {
		return mix.Criterion{Symptom: mix.Flakes, Extent: e, Verdict: v}
	}
	for _, c := range []struct {
		why      string
		criteria []mix.Criterion
		readings []string
		want     int // of the criteria
		reading  int
		verdict  mix.Verdict
	}{
		{"the one that is met", []mix.Criterion{flakes(mix.Heavy, mix.Never), flakes(mix.Trace, mix.Steps)}, []string{"5 min", "flakes=some"}, 1, 0, mix.Steps},
		{"of two that are met the worse", []mix.Criterion{flakes(mix.Trace, mix.Steps), flakes(mix.Some, mix.Apart)}, []string{"5 min", "flakes=heavy"}, 1, 0, mix.Apart},
		{"of two that mean the same the first", []mix.Criterion{flakes(mix.Some, mix.Apart), flakes(mix.Trace, mix.Apart)}, []string{"5 min", "flakes=heavy"}, 0, 0, mix.Apart},
		{"of two readings the worse", []mix.Criterion{flakes(mix.Trace, mix.Steps), flakes(mix.Heavy, mix.Apart)}, []string{"5 min", "flakes=trace", "1 h", "flakes=heavy"}, 1, 1, mix.Apart},
		{"of two alike the first", []mix.Criterion{flakes(mix.Trace, mix.Apart)}, []string{"5 min", "flakes=some", "1 h", "flakes=heavy"}, 0, 0, mix.Apart},
		{"one that asks for nothing still asks for steps", []mix.Criterion{flakes(mix.Trace, mix.Clean)}, []string{"5 min", "flakes=some"}, 0, 0, mix.Steps},
	} {
		got := outcomeOf(c.criteria, readings(c.readings...)).Sign(mix.Flakes)
		if got.Criterion == nil || got.Criterion.Extent != c.criteria[c.want].Extent || got.Reading != c.reading || got.Verdict != c.verdict {
			t.Errorf("%s: got %+v", c.why, got)
		}
	}
}

// TestCriterionHazards: a criterion may name its own hazard, and one of handling
// the concentrate forbids no mix.
func TestCriterionHazards(t *testing.T) {
	for hazard, want := range map[mix.Hazard]mix.Verdict{mix.NoHazard: mix.Apart, mix.Concentrate: mix.Apart, mix.ToxicGas: mix.Never, mix.FireHazard: mix.Never} {
		k := mix.Criterion{Symptom: mix.Gel, Extent: mix.Some, Verdict: mix.Apart, Hazard: hazard, Mixes: true}
		got := outcomeOf([]mix.Criterion{k}, readings("5 min", "gel=some back=fully")).Sign(mix.Gel)
		if want == mix.Apart {
			want = mix.Steps // it redispersed
		}
		if got.Verdict != want || got.Hazard != hazard || got.Softer != (want == mix.Steps) {
			t.Errorf("%v: a hazard does not redisperse: got %+v", hazard, got)
		}
	}
	gas := mix.Criterion{Symptom: mix.Gas, Gas: mix.Bubbles, Verdict: mix.Steps, Hazard: mix.ToxicGas}
	if got := outcomeOf([]mix.Criterion{gas}, readings("5 min", "gas=bubbles")).Sign(mix.Gas); got.Hazard != mix.ToxicGas {
		t.Errorf("the criterion's own hazard stands: %+v", got)
	}
}

// TestRedispersal: only a criterion that says so is softened, and only by full
// redispersal at or after the reading.
func TestRedispersal(t *testing.T) {
	for _, c := range []struct {
		why      string
		mixes    bool
		readings []string
		want     mix.Verdict
	}{
		{"the criterion does not count it", false, []string{"5 min", "flakes=heavy back=fully"}, mix.Apart},
		{"not recorded", true, []string{"5 min", "flakes=heavy"}, mix.Apart},
		{"not at all", true, []string{"5 min", "flakes=heavy back=not-at-all"}, mix.Apart},
		{"fully", true, []string{"5 min", "flakes=heavy back=fully"}, mix.Steps},
		{"fully before, not after", true, []string{"5 min", "flakes=none back=fully", "1 h", "flakes=heavy"}, mix.Apart},
		{"the first answer from there on", true, []string{"5 min", "flakes=heavy", "1 h", "flakes=none back=partly", "2 h", "flakes=none back=fully"}, mix.Apart},
	} {
		k := mix.Criterion{Symptom: mix.Flakes, Extent: mix.Some, Verdict: mix.Apart, Mixes: c.mixes}
		got := outcomeOf([]mix.Criterion{k}, readings(c.readings...)).Sign(mix.Flakes)
		if got.Verdict != c.want || got.Softer != (c.want == mix.Steps) {
			t.Errorf("%s: want %v, got %+v", c.why, c.want, got)
		}
	}
}

// TestHeadOfFoam holds against what a head of foam is measured, and that one which
// cannot be measured is neither there nor absent.
func TestHeadOfFoam(t *testing.T) {
	vessel := func(size, liquid, height string) mix.Vessel {
		var v mix.Vessel
		if size != "" {
			v.Size = must(unit.ParseVolume(size))
		}
		if liquid != "" {
			v.Liquid = must(unit.ParseVolume(liquid))
		}
		if height != "" {
			v.Height = must(unit.ParseLength(height))
		}
		return v
	}
	volume := func(v string) mix.Head { return mix.Head{Recorded: true, Volume: must(unit.ParseVolume(v))} }
	height := func(h string) mix.Head {
		return mix.Head{Recorded: true, Tall: true, Height: must(unit.ParseLength(h))}
	}
	for _, c := range []struct {
		why      string
		head     mix.Head
		vessel   mix.Vessel
		want     compat.State
		unjudged bool
	}{
		{"a tenth of the liquid", volume("50 mL"), vessel("1 L", "500 mL", ""), compat.Reacted, false},
		{"less than a tenth", volume("49 mL"), vessel("100 mL", "500 mL", ""), compat.Clear, false},
		{"a vessel without a level is full", volume("50 mL"), vessel("500 mL", "", ""), compat.Reacted, false},
		{"a head in mL over a liquid in mm", volume("50 mL"), vessel("", "", "10 mm"), compat.NotSeen, true},
		{"a tenth of the height", height("10 mm"), vessel("", "", "100 mm"), compat.Reacted, false},
		{"less", height("9 mm"), vessel("", "", "100 mm"), compat.Clear, false},
		{"a head in mm over a liquid in mL", height("9 mm"), vessel("1 L", "1 L", ""), compat.NotSeen, true},
		{"none in mL needs no vessel", volume("0 mL"), vessel("", "", ""), compat.Clear, false},
		{"nor none in mm", height("0 mm"), vessel("", "", ""), compat.Clear, false},
		{"not recorded", mix.Head{}, vessel("1 L", "1 L", "100 mm"), compat.NotSeen, false},
	} {
		k := mix.Criterion{Symptom: mix.Foam, Share: mix.Known(unit.Frac(1, 10)), Verdict: mix.Steps}
		got := outcomeOf([]mix.Criterion{k}, readings("5 min", ""), func(o *mix.Observation) {
			o.Vessel, o.Readings[0].Foam = c.vessel, c.head
		}).Sign(mix.Foam)
		if got.State != c.want || got.Unjudged != c.unjudged {
			t.Errorf("%s: want %v, unjudged %v; got %+v", c.why, c.want, c.unjudged, got)
		}
	}
}

// TestOutcomeAsAWhole holds what a record says over all symptoms.
func TestOutcomeAsAWhole(t *testing.T) {
	criteria := newBook().Criteria
	needed := []mix.Symptom{mix.Gas, mix.Foam, mix.Flakes}
	noVessel := func(o *mix.Observation) { o.Vessel = mix.Vessel{} }
	for _, c := range []struct {
		why    string
		seen   string
		needed []mix.Symptom
		edit   func(*mix.Observation)
		worst  mix.Verdict
		clean  bool
	}{
		{"all looked for in vain", "gas=none foam=0 flakes=none", needed, func(*mix.Observation) {}, mix.Unknown, true},
		{"nothing needed makes nothing clean", "gas=none foam=0 flakes=none", nil, func(*mix.Observation) {}, mix.Unknown, false},
		{"one not recorded", "gas=none foam=0", needed, func(*mix.Observation) {}, mix.Unknown, false},
		{"one that nobody needs", "gas=none foam=0", needed[:2], func(*mix.Observation) {}, mix.Unknown, true},
		{"one reacted that nobody needs", "gas=none foam=0 flakes=heavy", needed[:2], func(*mix.Observation) {}, mix.Apart, false},
		{"one seen and not judged that nobody needs", "gas=none foam=40 flakes=none", []mix.Symptom{mix.Gas}, noVessel, mix.Unknown, false},
		{"the worst of two", "gas=none foam=300 flakes=heavy", needed, func(*mix.Observation) {}, mix.Apart, false},
		{"whichever comes first", "gas=firm foam=300 flakes=none", needed, func(*mix.Observation) {}, mix.Never, false},
	} {
		out := outcomeOf(criteria, readings("5 min", c.seen), c.edit)
		if out.Verdict() != c.worst || out.Clean(c.needed) != c.clean {
			t.Errorf("%s: want %v, clean %v; got %v, %v", c.why, c.worst, c.clean, out.Verdict(), out.Clean(c.needed))
		}
	}
}

func TestStateNames(t *testing.T) {
	for state, want := range map[compat.State]string{compat.NotSeen: "not-recorded", compat.Clear: "clear", compat.Reacted: "reacted", 7: "State(7)"} {
		if got, err := state.MarshalText(); string(got) != want || err != nil {
			t.Errorf("want %s, got %s", want, got)
		}
	}
	for part, want := range map[compat.Part]string{compat.NoPart: "none", compat.Informative: "informative", 9: "Part(9)"} {
		if got := part.String(); got != want {
			t.Errorf("want %s, got %s", want, got)
		}
	}
	for action, want := range map[compat.Action]string{compat.Undecided: "undecided", compat.Synergy: "synergy", 9: "Action(9)"} {
		if got, err := action.MarshalText(); string(got) != want || err != nil {
			t.Errorf("want %s, got %s", want, got)
		}
	}
}
