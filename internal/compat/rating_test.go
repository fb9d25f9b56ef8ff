package compat_test

import (
	"fmt"
	"math"
	"slices"
	"testing"

	"tankleaf.example/internal/compat"
	"tankleaf.example/internal/mix"
	"tankleaf.example/internal/unit"
)

// TestReplicateTakesTheCheckOut holds one rating by hand. Singles of 60 and 50 over
// a check of 20 are 50 and 37.5 of what it left; together 68.75 are expected. A mix
// of 60 is 50 of what it left.
func TestReplicateTakesTheCheckOut(t *testing.T) {
	for _, c := range []struct {
		why                string
		edit               func(*mix.Rating)
		expected, observed float64
		usable             bool
	}{
		{"over a check of 20", func(r *mix.Rating) { r.Untreated = mix.Known(unit.Int(20)) }, 68.75, 50, true},
		{"over a check of nothing", func(r *mix.Rating) {}, 80, 60, true},
		{"no check was rated: nothing is taken out", func(r *mix.Rating) { r.Untreated = mix.Value{} }, 80, 60, true},
		{"a check of 100 leaves nothing to judge", func(r *mix.Rating) { r.Untreated = mix.Known(unit.Int(100)) }, 0, 0, false},
		{"one single was not rated", func(r *mix.Rating) { r.Singles[1].Rating = mix.Value{} }, 0, 0, false},
		{"one single is of another product", func(r *mix.Rating) { r.Singles[1].Product.ID = "p1" }, 0, 0, false},
		{"a third single changes nothing", func(r *mix.Rating) {
			r.Singles = append(r.Singles, mix.Single{Product: mix.Ref{ID: "p1"}, Rating: mix.Known(unit.Int(99))})
		}, 80, 60, true},
		{"the mix was not rated", func(r *mix.Rating) { r.Mix = mix.Value{} }, 0, 0, false},
	} {
		b := orchard()
		b.rating("r", mix.Control, 60, 60, 50, c.edit)
		j := b.judge().JointOf(items("n1 n2"))[0]
		if !c.usable {
			if len(j.Replicates) != 0 || j.Unusable != 1 || j.Action != compat.Undecided {
				t.Errorf("%s: got %+v", c.why, j)
			}
			continue
		}
		if len(j.Replicates) != 1 || j.Unusable != 0 {
			t.Errorf("%s: got %+v", c.why, j)
			continue
		}
		r := j.Replicates[0]
		if !near(r.Expected, c.expected, 1e-9) || !near(r.Observed, c.observed, 1e-9) || !near(r.Difference(), c.observed-c.expected, 1e-9) {
			t.Errorf("%s: want %v of %v expected, got %+v", c.why, c.observed, c.expected, r)
		}
	}
}

// TestJointIntervalEdges: the interval of equal ratings is that of rounding to the
// step (Student's t from a handbook).
func TestJointIntervalEdges(t *testing.T) {
	for _, c := range []struct {
		why   string
		mixed []int64
		want  compat.Action
		low   float64
	}{
		{"one rating has no interval", []int64{80}, compat.Undecided, math.Inf(-1)},
		{"two equal ones have a wide one: t of 1 is 12.706", []int64{80, 80}, compat.Undecided, -12.706 * 5 / math.Sqrt(12) / math.Sqrt2},
		{"three equal ones: t of 2 is 4.303", []int64{80, 80, 80}, compat.Additive, -4.303 * 5 / math.Sqrt(12) / math.Sqrt(3)},
		{"two points above, seven times: t of 6 is 2.447", []int64{82, 82, 82, 82, 82, 82, 82}, compat.Additive, 2 - 2.447*5/math.Sqrt(12)/math.Sqrt(7)},
		{"two below", []int64{78, 78, 78, 78, 78, 78, 78}, compat.Additive, -2 - 2.447*5/math.Sqrt(12)/math.Sqrt(7)},
	} {
		b := orchard()
		for i, m := range c.mixed {
			b.rating(fmt.Sprint("r", i), mix.Control, m, 60, 50)
		}
		j := b.judge().JointOf(items("n1 n2"))[0]
		if j.Action != c.want {
			t.Errorf("%s: want %v, got %v (%.2f to %.2f)", c.why, c.want, j.Action, j.Low, j.High)
		}
		if !near(j.Low, c.low, 0.01) && j.Low != c.low {
			t.Errorf("%s: want an interval from %.3f, got %.3f", c.why, c.low, j.Low)
		}
		if !near(j.High-j.Mean, j.Mean-j.Low, 1e-9) && !math.IsInf(j.High, 1) {
			t.Errorf("%s: the interval is not around the mean: %+v", c.why, j)
		}
	}
}

// TestAdditiveNeedsTheWholeInterval: an interval that leaves zero out and stays
// within the step of a rating is additive, for no eye tells it from nothing.
func TestAdditiveNeedsTheWholeInterval(t *testing.T) {
	b := orchard()
	for i := range 12 {
		b.rating(fmt.Sprint("r", i), mix.Control, 82, 60, 50)
	}
	j := b.judge().JointOf(items("n1 n2"))[0]
	if j.Low <= 0 || j.High > 5 || j.Action != compat.Additive {
		t.Errorf("two points above what is expected, twelve times: %v (%.2f to %.2f)", j.Action, j.Low, j.High)
	}
}

// TestJointsAreToldApart by products, symptom, target and day, and stand in that
// order; replicates by day and ID.
func TestJointsAreToldApart(t *testing.T) {
	b := orchard()
	target := func(name string, days int) func(*mix.Rating) {
		return func(r *mix.Rating) { r.Target, r.Days = name, days }
	}
	b.rating("z", mix.Control, 70, 60, 50, target("pigweed", 21))
	b.rating("a", mix.Control, 70, 60, 50, target("pigweed", 21))
	b.rating("early", mix.Control, 70, 60, 50, target("pigweed", 21))
	b.Observations[2].Date = date("2026-05-01")
	b.rating("day", mix.Control, 70, 60, 50, target("pigweed", 7))
	b.rating("plant", mix.Control, 70, 60, 50, target("lambsquarters", 21))
	b.rating("leaf", mix.Injury, 7, 6, 5, target("apple leaf", 21))
	b.rating("other", mix.Control, 70, 60, 50, target("pigweed", 21))
	b.Observations[6].Products[0].ID = "a1" // n1's rating is missing there
	b.jar("alone", "2026-06-01", "n1:", func(o *mix.Observation) { o.Ratings = b.Observations[0].Ratings })
	b.jar("never", "2026-06-01", "p1 p2: clean")
	var got []string
	for _, j := range b.judge().Joints() {
		line := fmt.Sprintf("%v %v %s %d unusable %d:", j.Products, j.Symptom, j.Target, j.Days, j.Unusable)
		for _, r := range j.Replicates {
			line += " " + string(r.Observation.ID)
		}
		got = append(got, line)
	}
	want := []string{
		"[a1 n2] control pigweed 21 unusable 1:",
		"[n1 n2] control lambsquarters 21 unusable 0: plant",
		"[n1 n2] control pigweed 7 unusable 0: day",
		"[n1 n2] control pigweed 21 unusable 0: early a z",
		"[n1 n2] injury apple leaf 21 unusable 0: leaf",
	}
	if !slices.Equal(got, want) {
		t.Errorf("want\n%v\ngot\n%v", want, got)
	}
	if got := b.judge().JointOf(items("n1 p1")); got != nil {
		t.Errorf("never rated together: %v", got)
	}
	if got := b.judge().JointOf(items("n2 n1 n2")); len(got) != 4 {
		t.Errorf("in any order, and each once: %d", len(got))
	}
}

// TestRatingsOfOneRecord holds what several ratings of one record come to.
func TestRatingsOfOneRecord(t *testing.T) {
	rating := func(mixed int64, singles ...int64) mix.Rating {
		r := mix.Rating{Symptom: mix.Control, Mix: percent(mixed)}
		for i, s := range singles {
			r.Singles = append(r.Singles, mix.Single{Product: mix.Ref{ID: mix.ID(fmt.Sprint("n", i+1))}, Rating: percent(s)})
		}
		return r
	}
	worse, fine, lacking := rating(50, 60, 50), rating(80, 60, 50), rating(80, 60)
	for _, c := range []struct {
		why      string
		ratings  []mix.Rating
		state    compat.State
		reading  int
		unjudged bool
	}{
		{"as expected", []mix.Rating{fine}, compat.Clear, 0, false},
		{"worse", []mix.Rating{worse}, compat.Reacted, 0, false},
		{"a product alone was not rated", []mix.Rating{lacking}, compat.NotSeen, 0, true},
		{"one as expected and one that cannot be judged", []mix.Rating{fine, lacking}, compat.NotSeen, 0, true},
		{"one worse beside one that cannot be judged", []mix.Rating{lacking, worse}, compat.Reacted, 1, false},
		{"one worse after one as expected", []mix.Rating{fine, worse}, compat.Reacted, 1, false},
		{"the first of two that are worse", []mix.Rating{worse, worse}, compat.Reacted, 0, false},
		{"none", nil, compat.NotSeen, 0, false},
	} {
		b := orchard()
		b.jar("r", "2026-06-01", "n1 n2:", field, func(o *mix.Observation) { o.Readings, o.Ratings = nil, c.ratings })
		j := b.judge()
		got := j.Outcome("r").Sign(mix.Control)
		if got.State != c.state || got.Reading != c.reading || got.Unjudged != c.unjudged || got.Symptom != mix.Control {
			t.Errorf("%s: want %v, rating %d, unjudged %v; got %+v", c.why, c.state, c.reading, c.unjudged, got)
		}
		if s := j.Outcome("r").Sign(mix.Injury); s.State != compat.NotSeen || s.Unjudged {
			t.Errorf("%s: says nothing of injury, got %+v", c.why, s)
		}
	}
}

// TestRatingCriterion: a rating asks for steps at least and for a day apart at most,
// and the limit is the book's, by the first criterion that has one.
func TestRatingCriterion(t *testing.T) {
	share := func(percent int64, v mix.Verdict) mix.Criterion {
		return mix.Criterion{Symptom: mix.Control, Share: mix.Known(unit.Frac(percent, 100)), Verdict: v}
	}
	for _, c := range []struct {
		why      string
		criteria []mix.Criterion
		mixed    int64
		want     mix.Verdict
	}{
		{"never is for hazards", []mix.Criterion{share(10, mix.Never)}, 40, mix.Apart},
		{"a criterion asks for something", []mix.Criterion{share(10, mix.Clean)}, 40, mix.Steps},
		{"at the limit", []mix.Criterion{share(20, mix.Apart)}, 60, mix.Apart},
		{"short of it", []mix.Criterion{share(20, mix.Apart)}, 61, mix.Unknown},
		{"the first with a limit", []mix.Criterion{{Symptom: mix.Control, Verdict: mix.Steps}, share(20, mix.Apart), share(5, mix.Steps)}, 60, mix.Apart},
	} {
		b := orchard()
		b.Criteria = c.criteria
		b.rating("r", mix.Control, c.mixed, 60, 50)
		if got := b.judge().Outcome("r").Sign(mix.Control); got.Verdict != c.want {
			t.Errorf("%s: want %v, got %+v", c.why, c.want, got)
		}
	}
}
