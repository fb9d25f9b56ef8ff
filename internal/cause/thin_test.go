package cause

import "testing"

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
