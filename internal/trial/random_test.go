package trial

import (
	"slices"
	"testing"

	"pgregory.net/rapid"
)

// TestRandomIsSplitmix holds the generator to the first outputs that are published
// for the seed 1234567 (a well-known list of test values, from memory).
func TestRandomIsSplitmix(t *testing.T) {
	r := &random{state: 1234567}
	for i, want := range []uint64{6457827717110365317, 3203168211198807973, 9817491932198370423, 4593380528125082431, 16408922859458223821} {
		if got := r.next(); got != want {
			t.Errorf("output %d is %d, want %d", i, got, want)
		}
	}
}

func TestShuffled(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		n := rapid.IntRange(1, 60).Draw(t, "n")
		seed := rapid.Uint64().Draw(t, "seed")
		list := (&random{state: seed}).shuffled(n)
		if again := (&random{state: seed}).shuffled(n); !slices.Equal(list, again) {
			t.Fatal("one seed gives two orders")
		}
		slices.Sort(list)
		for i, v := range list {
			if i != v {
				t.Fatalf("not every number is there once: %v", list)
			}
		}
	})
}

// TestShuffleIsEven counts the places of the first of four over many seeds: each
// should be near a quarter. The bounds are five standard deviations.
func TestShuffleIsEven(t *testing.T) {
	const runs = 4000
	var at [4]int
	for seed := range uint64(runs) {
		at[slices.Index((&random{state: seed}).shuffled(4), 0)]++
	}
	for place, n := range at {
		if n < 1000-137 || n > 1000+137 {
			t.Errorf("place %d came %d times in %d", place, n, runs)
		}
	}
}

func TestCodes(t *testing.T) {
	list := (&random{state: 3}).codes(MaxJars)
	seen := map[string]bool{}
	for _, c := range list {
		if len(c) != 2 || seen[c] {
			t.Fatalf("code %q is not two signs or comes twice", c)
		}
		seen[c] = true
	}
	if len(seen) != 128 {
		t.Errorf("%d codes", len(seen))
	}
}
