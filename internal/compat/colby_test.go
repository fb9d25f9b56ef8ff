package compat_test

import (
	"fmt"
	"math"
	"slices"
	"testing"

	"pgregory.net/rapid"

	"tankleaf.example/internal/compat"
	"tankleaf.example/internal/mix"
	"tankleaf.example/internal/unit"
)

func near(a, b, within float64) bool { return math.Abs(a-b) <= within }

// TestColby holds the formula in both forms that Colby prints (Weeds 15 (1967)
// 20, as cited by Merritt et al., Agronomy 10 (2020) 1131): on effects, and on
// what is left. The numbers are worked by hand.
func TestColby(t *testing.T) {
	for _, c := range []struct {
		effects []float64
		want    float64
		why     string
	}{
		{[]float64{60, 50}, 80, "60 + 50 - 60·50/100"},
		{[]float64{76, 41}, 85.84, "76 + 41 - 31.16"},
		{[]float64{76, 41, 0}, 85.84, "a third that does nothing changes nothing"},
		{[]float64{50, 50, 50}, 87.5, "X + Y + Z - (XY + XZ + YZ)/100 + XYZ/10000"},
		{[]float64{100, 30}, 100, "nothing is left for the second"},
		{[]float64{0, 0}, 0, "nothing does nothing"},
		{[]float64{30}, 30, "one alone"},
	} {
		if got := compat.Colby(c.effects...); !near(got, c.want, 1e-9) {
			t.Errorf("%v: %s: want %v, got %v", c.effects, c.why, c.want, got)
		}
	}
	rapid.Check(t, func(t *rapid.T) {
		x, y := rapid.Float64Range(0, 100).Draw(t, "x"), rapid.Float64Range(0, 100).Draw(t, "y")
		got := compat.Colby(x, y)
		if left := (100 - x) * (100 - y) / 100; !near(got, x+y-x*y/100, 1e-9) || !near(100-got, left, 1e-9) {
			t.Fatalf("%v and %v: the two printed forms differ from %v", x, y, got)
		}
	})
}

func TestAbbott(t *testing.T) {
	if got, ok := compat.Abbott(60, 20); !ok || !near(got, 50, 1e-9) {
		t.Errorf("half of what the untreated check left: got %v", got)
	}
	if _, ok := compat.Abbott(100, 100); ok {
		t.Error("a check that lost everything has nothing to judge by")
	}
}

func percent(n int64) mix.Value { return mix.Known(unit.Int(n)) }

// rating adds a field record of n1 and n2 with the control of the mix and of each
// alone, in percent.
func (b *book) rating(id string, s mix.Symptom, mixed, one, two int64, edit ...func(*mix.Rating)) {
	r := mix.Rating{Symptom: s, Target: "pigweed", Days: 21, Mix: percent(mixed), Untreated: percent(0),
		Singles: []mix.Single{{Product: mix.Ref{ID: "n1"}, Rating: percent(one)}, {Product: mix.Ref{ID: "n2"}, Rating: percent(two)}}}
	for _, f := range edit {
		f(&r)
	}
	b.jar(id, "2026-06-01", "n1 n2:", field, func(o *mix.Observation) {
		o.Readings, o.Ratings = nil, []mix.Rating{r}
	})
}

// TestJoint holds when an action is named. Singles are 60 and 50 throughout, so
// that 80 is expected.
func TestJoint(t *testing.T) {
	for _, c := range []struct {
		mixed []int64
		want  compat.Action
		why   string
	}{
		{[]int64{40}, compat.Undecided, "one rating names nothing, however far off"},
		{[]int64{40, 40}, compat.Undecided, "nor do two"},
		{[]int64{40, 45, 50}, compat.Antagonism, "three that agree"},
		{[]int64{20, 60, 90}, compat.Undecided, "three that disagree"},
		{[]int64{80, 80, 80}, compat.Additive, "just as expected"},
		{[]int64{75, 80, 85}, compat.Undecided, "three as scattered could still hide a difference"},
		{[]int64{79, 81, 80, 80, 79, 81}, compat.Additive, "six close to it"},
		{[]int64{95, 97, 96}, compat.Synergy, "more than expected"},
		{[]int64{76, 76, 76}, compat.Antagonism, "the interval is that of rounding, and leaves zero out"},
		{[]int64{77, 77, 77}, compat.Undecided, "three points under may be rounding"},
	} {
		b := orchard()
		for i, m := range c.mixed {
			b.rating(fmt.Sprint("r", i), mix.Control, m, 60, 50)
		}
		list := b.judge().JointOf(items("n2 n1"))
		if len(list) != 1 {
			t.Fatalf("%v: %d joint actions", c.mixed, len(list))
		}
		j := list[0]
		if j.Action != c.want {
			t.Errorf("%v: %s: want %v, got %v: %.1f (%.1f to %.1f)", c.mixed, c.why, c.want, j.Action, j.Mean, j.Low, j.High)
		}
		if len(j.Replicates) != len(c.mixed) || !near(j.Replicates[0].Expected, 80, 1e-9) {
			t.Errorf("%v: %+v", c.mixed, j)
		}
	}
}

// TestJointInterval holds the interval against Student's table: t of 2 degrees of
// freedom at 97.5 % is 4.303 (handbook value).
func TestJointInterval(t *testing.T) {
	b := orchard()
	for i, m := range []int64{60, 70, 80} {
		b.rating(fmt.Sprint("r", i), mix.Control, m, 60, 50)
	}
	j := b.judge().JointOf(items("n1 n2"))[0]
	half := 4.303 * 10 / math.Sqrt(3) // differences -20, -10, 0: standard deviation 10
	if !near(j.Mean, -10, 1e-9) || !near(j.Low, -10-half, 0.01) || !near(j.High, -10+half, 0.01) {
		t.Errorf("want -10 ± %.2f, got %.2f (%.2f to %.2f)", half, j.Mean, j.Low, j.High)
	}
}

func TestUnusableRatings(t *testing.T) {
	b := orchard()
	b.rating("whole", mix.Control, 70, 60, 50)
	b.rating("no-single", mix.Control, 70, 60, 50, func(r *mix.Rating) { r.Singles = r.Singles[:1] })
	b.rating("not-rated", mix.Control, 70, 60, 50, func(r *mix.Rating) { r.Singles[0].Rating = mix.Value{} })
	b.rating("no-mix", mix.Control, 70, 60, 50, func(r *mix.Rating) { r.Mix = mix.Value{} })
	b.rating("other-day", mix.Control, 70, 60, 50, func(r *mix.Rating) { r.Days = 7 })
	list := b.judge().Joints()
	if len(list) != 2 || list[0].Days != 7 || len(list[1].Replicates) != 1 || list[1].Unusable != 3 {
		t.Errorf("what was not rated is not nought, and days are kept apart: %+v", list)
	}
}

// TestRatedOutcome holds what ratings do to verdicts: one that did much worse
// than expected is a report of a reaction.
func TestRatedOutcome(t *testing.T) {
	for _, c := range []struct {
		symptom         mix.Symptom
		mixed, one, two int64
		given           func(*book)
		want            mix.Verdict
		why             string
	}{
		{mix.Control, 70, 60, 50, nothing, mix.Apart, "ten points less control than expected"},
		{mix.Control, 71, 60, 50, nothing, mix.Unknown, "nine may be two readings by eye"},
		{mix.Control, 99, 60, 50, nothing, mix.Unknown, "better control is no reaction"},
		{mix.Injury, 25, 5, 5, nothing, mix.Apart, "more injury than expected"},
		{mix.Injury, 2, 10, 10, nothing, mix.Unknown, "less injury"},
		{mix.Injury, 25, 5, 5, func(b *book) {
			b.Criteria = append(b.Criteria, mix.Criterion{Symptom: mix.Injury, Share: mix.Known(unit.Frac(1, 2)), Verdict: mix.Apart})
		}, mix.Unknown, "below the book's own criterion"},
		{mix.Injury, 25, 5, 5, func(b *book) {
			b.Criteria = append(b.Criteria, mix.Criterion{Symptom: mix.Injury, Share: mix.Known(unit.Frac(1, 10)), Verdict: mix.Steps})
		}, mix.Steps, "at the book's own criterion, with its verdict"},
	} {
		b := orchard()
		c.given(b)
		b.rating("r", c.symptom, c.mixed, c.one, c.two)
		a := mixed(b.judge(), "n1 n2")
		if a.Verdict != c.want || c.want != mix.Unknown && (a.Grade != mix.Report || !slices.Equal(a.Findings[0].Symptoms, []mix.Symptom{c.symptom})) {
			t.Errorf("%v %d beside %d and %d: %s: got %s", c.symptom, c.mixed, c.one, c.two, c.why, tell(a))
		}
	}
}

func TestRatingDoesNotSpoilCleanJars(t *testing.T) {
	b := orchard()
	b.jar("j", "2026-05-01", "n1 n2: clean")
	b.rating("no-single", mix.Control, 70, 60, 50, func(r *mix.Rating) { r.Singles = nil })
	if a := mixed(b.judge(), "n1 n2"); a.Verdict != mix.Clean {
		t.Errorf("a jar says nothing of control either way: %s", tell(a))
	}
}
