package cause

import (
	"slices"
	"testing"
)

// TestThin: of the explanations by two causes as many are kept as there is room for
// beside all others, evenly, and each stands for those left out behind it.
func TestThin(t *testing.T) {
	for _, c := range []struct{ few, two, most, kept, each int }{
		{3, 4, 100, 7, 1},       // room for all
		{90, 200, 100, 100, 21}, // 10 places for 200: every 21st, 10 of them
		{50, 100, 100, 84, 3},   // 50 places for 100: every third, 34 of them
		{120, 5, 100, 121, 6},   // no place at all: one stands for all
		{0, 10, 5, 4, 3},        // every third
		{4, 0, 2, 4, 1},         // none of two causes
	} {
		s := &Search{}
		for range c.few {
			s.alive = append(s.alive, hypothesis{a: 1})
			s.weight = append(s.weight, 1)
		}
		for range c.two {
			s.alive = append(s.alive, hypothesis{a: 1, b: 2})
			s.weight = append(s.weight, 2)
		}
		p := &picker{s: s}
		p.thin(c.most)
		if len(p.alive) != c.kept || len(p.weight) != c.kept {
			t.Errorf("%+v: %d kept", c, len(p.alive))
		}
		for i, h := range p.alive {
			want := 1.0
			if h.b != 0 {
				want = 2 * float64(c.each)
			}
			if p.weight[i] != want {
				t.Errorf("%+v: %+v weighs %v, want %v", c, h, p.weight[i], want)
			}
		}
	}
}

// TestBetterExplanation: the likelier one first, then the one of fewer causes, then by
// the smaller cause, whichever of the two stands first.
func TestBetterExplanation(t *testing.T) {
	s := &Search{
		alive:  []hypothesis{{a: 7}, {a: 1, b: 2}, {a: 2, b: 1}, {a: 1, b: 4}, {a: 4}, {a: 6, b: 1}},
		weight: []float64{1, 1, 1, 1, 2, 1},
	}
	for _, c := range []struct {
		i, j, want int
		why        string
	}{
		{4, 0, -1, "likelier"}, {0, 1, -1, "one cause before two, though it is larger"}, {1, 2, 0, "the same two the other way round"},
		{1, 3, -1, "the same smaller cause, then the other one"}, {2, 3, -1, "also the other way round"}, {3, 5, -1, "one element before two"}, {0, 0, 0, "itself"},
	} {
		if got := s.compare(c.i, c.j); got != c.want || s.compare(c.j, c.i) != -c.want {
			t.Errorf("%s: %v and %v compare as %d", c.why, s.alive[c.i], s.alive[c.j], got)
		}
	}
}

// TestSmallest: sets in any order and more than once; those given are left as they were.
func TestSmallest(t *testing.T) {
	given := []Set{Of(0, 1, 2), Of(1, 2), Of(0, 3), Of(3), Of(1, 2), Of(0, 1)}
	before := slices.Clone(given)
	if got := smallest(given); !slices.Equal(got, []Set{Of(3), Of(0, 1), Of(1, 2)}) {
		t.Errorf("got %v", got)
	}
	if !slices.Equal(given, before) {
		t.Errorf("the list given became %v", given)
	}
}
