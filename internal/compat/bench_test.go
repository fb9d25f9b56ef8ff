package compat_test

import (
	"fmt"
	"math/rand/v2"
	"testing"

	"tankleaf.example/internal/compat"
	"tankleaf.example/internal/mix"
)

// scale is the size of a generated book.
type scale struct{ products, classes, interactions, observations int }

// large is the size an office may reach: see the design's notes on scale.
var large = scale{products: 10_000, classes: 400, interactions: 800, observations: 20_000}

// generate makes a book of a size, the same each time. Classes form shallow
// trees; a product belongs to one chemistry, one salt and one role; half the
// observations are of a few much-tested products.
func generate(s scale) *book {
	r := rand.New(rand.NewPCG(1, 2))
	b := newBook()
	class := func() string { return fmt.Sprintf("class-%d", r.IntN(s.classes)) }
	for i := range s.classes {
		parents := ""
		if i >= 40 {
			parents = fmt.Sprintf("class-%d", r.IntN(i/4))
		}
		b.class(fmt.Sprintf("class-%d", i), parents, func(c *mix.Class) { c.Matrix = i < 60 })
	}
	kinds := make([]string, s.products/8)
	for i := range kinds {
		kinds[i] = class() + " " + class() + " " + class()
	}
	for i := range s.products {
		b.product(fmt.Sprintf("product-%d", i), kinds[r.IntN(len(kinds))])
		p := &b.Products[i]
		purpose := mix.Ref{ID: mix.ID(fmt.Sprintf("purpose-%d", r.IntN(40)))}
		for range 1 + r.IntN(5) {
			p.Uses = append(p.Uses, mix.Use{Purpose: purpose,
				Crop:   mix.Ref{ID: mix.ID(fmt.Sprintf("crop-%d", r.IntN(20)))},
				Timing: mix.Ref{ID: mix.ID(fmt.Sprintf("timing-%d", r.IntN(3)))}})
		}
	}
	verdicts := []string{"clean", "steps", "steps", "apart", "apart", "never"}
	symptoms := []string{"gas", "foam", "flakes", "gel", "control", "injury"}
	for i := range s.interactions {
		b.says(fmt.Sprintf("rule-%d", i), verdicts[r.IntN(len(verdicts))]+":"+class()+" "+class()+":"+symptoms[r.IntN(len(symptoms))])
	}
	some := func() int {
		if r.IntN(2) == 0 {
			return r.IntN(min(200, s.products))
		}
		return r.IntN(s.products)
	}
	seen := []string{"clean", "clean", "clean", "gas=none foam=0 flakes=heavy", "gas=none foam=200 flakes=none", "gas=firm"}
	for i := range s.observations {
		what := fmt.Sprintf("product-%d", some())
		for range 1 + r.IntN(3) {
			what += fmt.Sprintf(" product-%d", some())
		}
		b.jar(fmt.Sprintf("jar-%d", i), fmt.Sprintf("20%02d-%02d-%02d", 10+r.IntN(16), 1+r.IntN(12), 1+r.IntN(28)), what+": "+seen[r.IntN(len(seen))])
	}
	return b
}

func BenchmarkNew(b *testing.B) {
	x := mix.NewIndex(&generate(large).Book)
	for b.Loop() {
		compat.New(x)
	}
}

func BenchmarkClassMatrix(b *testing.B) {
	x := mix.NewIndex(&generate(large).Book)
	for b.Loop() {
		b.StopTimer()
		m := compat.New(x).ClassMatrix()
		b.StartTimer()
		all := m.Classes()
		for i, c := range all {
			for _, d := range all[i:] {
				m.Cell(c.ID, d.ID)
			}
		}
	}
}

// BenchmarkPartners is the work of one product page once its signature is known.
func BenchmarkPartners(b *testing.B) {
	g := generate(large)
	j := g.judge()
	n, found := 0, 0
	for b.Loop() {
		found += len(j.Partners(g.Products[n%len(g.Products)].ID))
		n++
	}
	b.ReportMetric(float64(found)/float64(n), "partners/op")
}

// BenchmarkMix12 judges random mixes of twelve products.
func BenchmarkMix12(b *testing.B) {
	g := generate(large)
	j := g.judge()
	r := rand.New(rand.NewPCG(3, 4))
	for b.Loop() {
		var m []mix.ID
		for range 12 {
			m = append(m, g.Products[r.IntN(len(g.Products))].ID)
		}
		j.Mix(m, mix.Situation{})
	}
}

// BenchmarkWhatIf asks of mixes of ten thousand products, four of them and twelve,
// what each change of one would do: hundreds serve a purpose.
func BenchmarkWhatIf(b *testing.B) {
	g := generate(large)
	j := g.judge()
	for _, n := range []int{2, 4, 12} {
		b.Run(fmt.Sprint(n), func(b *testing.B) {
			r := rand.New(rand.NewPCG(3, 4))
			for b.Loop() {
				var m []mix.ID
				for range n {
					m = append(m, g.Products[r.IntN(len(g.Products))].ID)
				}
				j.WhatIf(m, mix.Situation{})
			}
		})
	}
}

func BenchmarkPairs(b *testing.B) {
	x := mix.NewIndex(&generate(large).Book)
	for b.Loop() {
		n := 0
		for range compat.New(x).Pairs() {
			n++
		}
		b.ReportMetric(float64(n), "pairs/op")
	}
}

// BenchmarkGaps ranks the gaps of books of different sizes: the time grows with
// the signatures squared, not with the products squared.
func BenchmarkGaps(b *testing.B) {
	for _, n := range []int{1_000, 10_000} {
		b.Run(fmt.Sprint(n), func(b *testing.B) {
			j := generate(scale{products: n, classes: 400, interactions: 800, observations: 2 * n}).judge()
			for b.Loop() {
				j.Gaps(50)
			}
			b.ReportMetric(float64(len(j.Index().Signatures())), "signatures")
		})
	}
}

// BenchmarkInvestigate asks for the causes in 60 records of twelve products, in
// which two pairs react and a third of the records hold neither.
func BenchmarkInvestigate(b *testing.B) {
	g := newBook()
	for i := range 12 {
		g.class(fmt.Sprint("class-", i), "")
		g.product(fmt.Sprint("p", i), fmt.Sprint("class-", i))
	}
	r := rand.New(rand.NewPCG(5, 6))
	for n := range 60 {
		held := map[int]bool{}
		what := ""
		for len(held) < 2+r.IntN(9) {
			held[r.IntN(12)] = true
		}
		for p := range 12 {
			if held[p] {
				what += fmt.Sprint(" p", p)
			}
		}
		seen := "clean"
		if held[0] && held[1] || held[2] && held[3] {
			seen = "gas=firm foam=0 flakes=none"
		}
		g.jar(fmt.Sprint("j", n), fmt.Sprintf("2026-%02d-%02d", 1+n/28, 1+n%28), what+": "+seen, func(o *mix.Observation) {
			o.Investigation = mix.Ref{ID: "x"}
		})
	}
	j := g.judge()
	for b.Loop() {
		if list := j.Investigate("x"); len(list) != 1 || list[0].Next == nil && list[0].Possible != 1 {
			b.Fatal("no case")
		}
	}
}
