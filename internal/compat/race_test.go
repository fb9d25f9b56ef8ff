package compat_test

import (
	"sync"
	"testing"

	"tankleaf.example/internal/mix"
)

// TestAskedFromManySides asks one judge everything at once, as a build does: the race
// detector finds what a question writes that another reads.
func TestAskedFromManySides(t *testing.T) {
	b := orchard()
	b.jar("j", "2026-05-01", "n1 n2: gas=vented")
	b.jar("k", "2026-05-02", "n1 n2 o1: flakes=heavy")
	j := b.judge()
	want := j.Pair("n1", "n2").Verdict
	var all sync.WaitGroup
	for range 8 {
		for _, ask := range []func(){
			func() { j.Digest() },
			func() { j.Gaps(5) },
			func() { j.Joints() },
			func() { j.Partners("n1") },
			func() { j.WhatIf(items("n1 n2 o1"), mix.Situation{}) },
			func() {
				if got := j.Mix(items("n1 n2"), mix.Situation{}).Verdict; got != want || got != mix.Never {
					t.Errorf("%v, alone %v", got, want)
				}
			},
		} {
			all.Go(ask)
		}
	}
	all.Wait()
}
