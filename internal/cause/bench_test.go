package cause_test

import (
	"math/rand/v2"
	"testing"
	"time"

	. "tankleaf.example/internal/cause"
)

// instances are 60 runs of 12 elements each, of kinds that are hard in
// different ways.
func instances() map[string]Question {
	is := truth{Of(1, 4, 7), Of(2, 9)}
	rng := rand.New(rand.NewPCG(1, 60))
	draw := func(size int) Set {
		var s Set
		for s.Len() < size {
			s |= Of(rng.IntN(12))
		}
		return s
	}
	var mixed, large, small []Run
	for i := range 60 {
		mixed = append(mixed, is.run(draw(2+i%9)))
		// Large runs that react and hold no other: most possible causes.
		large = append(large, Run{full(12) &^ draw(2), true})
		small = append(small, Run{draw(2), false})
	}
	mixed[0], small[0] = Run{full(12), true}, Run{full(12), true}
	rates := Rates{Missed: 0.05, False: 0.02}
	return map[string]Question{
		"mixed":         {Runs: mixed},
		"large":         {Runs: large},
		"small":         {Runs: small},
		"mixed misread": {Runs: mixed, Rates: rates},
		"small misread": {Runs: small, Rates: rates},
	}
}

// answer is all that a page about the runs asks for.
func answer(q Question) (Report, Step, []Explanation, []Belief, error) {
	rep := Explain(q.Runs)
	s, err := NewSearch(q)
	if err != nil {
		return rep, Step{}, nil, nil, err
	}
	step, _ := s.Next()
	return rep, step, s.Explanations(10), s.Beliefs(), nil
}

// BenchmarkSearch12Elements60Runs fails when an answer takes 50 ms on one core.
func BenchmarkSearch12Elements60Runs(b *testing.B) {
	for name, q := range instances() {
		b.Run(name, func(b *testing.B) {
			b.ReportAllocs()
			n := 0
			for b.Loop() {
				n++
				if _, _, _, _, err := answer(q); err != nil {
					b.Fatal(err)
				}
			}
			if each := b.Elapsed() / time.Duration(n); each > 50*time.Millisecond {
				b.Errorf("%v, want under 50 ms", each)
			}
		})
	}
}

func BenchmarkPlan10Elements(b *testing.B) {
	for name, causes := range map[string]int{"one": 1, "two": 2} {
		b.Run(name, func(b *testing.B) {
			b.ReportAllocs()
			for b.Loop() {
				s, err := NewSearch(Question{Runs: []Run{{full(10), true}}, Limits: Limits{Causes: causes}})
				if err != nil {
					b.Fatal(err)
				}
				s.Plan(0)
			}
		})
	}
}

func BenchmarkFixed12Runs12Elements(b *testing.B) {
	s, err := NewSearch(Question{Runs: []Run{{full(12), true}}})
	if err != nil {
		b.Fatal(err)
	}
	for b.Loop() {
		s.Fixed(12)
	}
}

func BenchmarkExplain64Elements2000Runs(b *testing.B) {
	rng := rand.New(rand.NewPCG(2, 3))
	is := truth{Of(3, 40), Of(17, 22, 60)}
	var runs []Run
	for range 2000 {
		var s Set
		for range 8 {
			s |= Of(rng.IntN(MaxElements))
		}
		runs = append(runs, is.run(s))
	}
	b.ReportAllocs()
	for b.Loop() {
		Explain(runs)
	}
}
