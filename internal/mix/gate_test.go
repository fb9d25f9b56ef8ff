package mix_test

import (
	"testing"
	"time"

	"tankleaf.example/internal/mix"
	"tankleaf.example/internal/unit"
)

// TestInside: a gate between bounds, of which each may be missing, open or closed.
func TestInside(t *testing.T) {
	at := func(n int64) mix.Bound { return mix.Bound{Set: true, Value: unit.Int(n)} }
	open := func(n int64) mix.Bound { return mix.Bound{Set: true, Open: true, Value: unit.Int(n)} }
	for _, c := range []struct {
		why       string
		low, high mix.Bound
		fails     []int64
		holds     []int64
	}{
		{"over 300", open(300), mix.Bound{}, []int64{-1, 0, 299, 300}, []int64{301, 9000}},
		{"300 or more", at(300), mix.Bound{}, []int64{299}, []int64{300, 301}},
		{"under 5", mix.Bound{}, open(5), []int64{5, 6}, []int64{-9, 0, 4}},
		{"up to 5", mix.Bound{}, at(5), []int64{6}, []int64{-9, 0, 5}},
		{"5 to 7", at(5), at(7), []int64{4, 8}, []int64{5, 6, 7}},
		{"between 5 and 7", open(5), open(7), []int64{4, 5, 7, 8}, []int64{6}},
		{"above 5, up to 7", open(5), at(7), []int64{5, 8}, []int64{6, 7}},
		{"5 or more, under 7", at(5), open(7), []int64{4, 7}, []int64{5, 6}},
		{"exactly 0", at(0), at(0), []int64{-1, 1}, []int64{0}},
		{"no bound at all", mix.Bound{}, mix.Bound{}, nil, []int64{-5, 0, 5}},
		{"a bound that is not set stands for nothing", mix.Bound{Open: true, Value: unit.Int(5)}, mix.Bound{Open: true, Value: unit.Int(3)}, nil, []int64{0, 3, 4, 5, 9}},
	} {
		g := mix.Gate{Factor: mix.Hardness, Low: c.low, High: c.high}
		for _, n := range c.fails {
			if got := g.Inside(mix.Known(unit.Int(n))); got != mix.Fails {
				t.Errorf("%s: %d %v", c.why, n, got)
			}
		}
		for _, n := range c.holds {
			if got := g.Inside(mix.Known(unit.Int(n))); got != mix.Holds {
				t.Errorf("%s: %d %v", c.why, n, got)
			}
		}
		if got := g.Inside(mix.Value{N: unit.Int(6)}); got != mix.NotKnown {
			t.Errorf("%s: a value that is not known %v", c.why, got)
		}
	}
}

// TestNumber: each numeric factor has its own value, and the others have none.
func TestNumber(t *testing.T) {
	v := func(n int64) mix.Value { return mix.Known(unit.Int(n)) }
	s := mix.Situation{Hardness: v(1), PH: v(2), Bicarbonate: v(3), WaterTemp: v(4), CarrierRate: v(5), Standing: v(6), WaterShare: v(7)}
	for f := mix.NoFactor; f <= mix.CarrierClass; f++ {
		numeric := f >= mix.Hardness && f <= mix.WaterShare
		if f.Numeric() != numeric {
			t.Errorf("%v is a number: %v", f, f.Numeric())
		}
		if numeric {
			if got := s.Number(f); !got.N.Equal(unit.Int(int64(f))) {
				t.Errorf("%v is %s", f, got.N.Short(0))
			}
			continue
		}
		func() {
			defer func() {
				if recover() == nil {
					t.Errorf("%v has a number", f)
				}
			}()
			s.Number(f)
		}()
	}
}

func TestDates(t *testing.T) {
	for _, c := range []struct {
		text string
		ok   bool
		why  string
	}{
		{"2026-05-12", true, "a day"}, {"2024-02-29", true, "a leap day"}, {"2026-02-29", false, "a day of no calendar"},
		{"1900-01-01", true, "the first that is taken"}, {"1899-12-31", false, "a slip of the pen"}, {"1900-12-31", true, "of that year"},
		{"2026-5-12", false, "digits are missing"}, {"12.05.2026", false, "another form"}, {"", false, "nothing"}, {"2026-05-12T00:00:00Z", false, "a time"},
	} {
		d, ok := mix.ParseDate(c.text)
		if ok != c.ok || ok && d.String() != c.text || !ok && !d.IsZero() {
			t.Errorf("%q (%s): %v, %v", c.text, c.why, d, ok)
		}
	}
	first, _ := mix.ParseDate("2025-12-31")
	then, _ := mix.ParseDate("2026-01-01")
	for _, c := range []struct {
		a, b mix.Date
		want int
		why  string
	}{
		{first, then, -1, "the day before"}, {then, first, 1, "the day after"}, {then, then, 0, "the same"}, {mix.Date{}, first, -1, "no date comes first"},
	} {
		if got := c.a.Compare(c.b); got != c.want {
			t.Errorf("%s: %d", c.why, got)
		}
	}
	if at := then.Time(); !at.Equal(time.Date(2026, time.January, 1, 0, 0, 0, 0, time.UTC)) || at.Location() != time.UTC {
		t.Errorf("midnight is %v", at)
	}
	if text, err := then.MarshalText(); err != nil || string(text) != "2026-01-01" || (mix.Date{}).String() != "" || then.IsZero() {
		t.Errorf("%s, %v", text, err)
	}
}
