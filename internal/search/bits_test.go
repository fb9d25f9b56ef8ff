package search

import (
	"math/bits"
	"slices"
	"testing"

	"pgregory.net/rapid"
)

// TestBitsRoundTrip writes lists and keys and reads them back.
func TestBitsRoundTrip(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		all := rapid.IntRange(1, 20_000).Draw(t, "all")
		docs := rapid.SliceOfNDistinct(rapid.IntRange(0, all-1), 1, min(all, 60), rapid.ID[int]).Draw(t, "docs")
		slices.Sort(docs)
		var list []occurrence
		for _, d := range docs {
			list = append(list, occurrence{d, rapid.IntRange(1, 300).Draw(t, "weight")})
		}
		keys := rapid.SliceOfNDistinct(rapid.StringMatching(`[a-zéω0-9.,-]{1,50}`), 1, 9, rapid.ID[string]).Draw(t, "keys")
		slices.Sort(keys)
		var forms []entry
		for _, k := range keys {
			forms = append(forms, entry{key: k, list: list})
		}
		ix := &Index{root: root{Docs: all}, used: map[string]bool{}, formed: map[int]*formPart{}, parts: map[string][]string{"p0": {writeForms(forms, all)}}}
		p := ix.formPart(0)
		if !slices.Equal(p.keys, keys) {
			t.Fatalf("keys %q came back as %q", keys, p.keys)
		}
		for _, got := range p.lists {
			if !slices.Equal(got, list) {
				t.Fatalf("%v came back as %v", list, got)
			}
		}
	})
}

// TestNumbersRoundTrip does the same for numbers and for words with end marks.
func TestNumbersRoundTrip(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		var w keyWriter
		want := rapid.SliceOf(rapid.IntRange(0, 1<<40)).Draw(t, "numbers")
		for _, v := range want {
			writeNumber(&w.b, v)
		}
		r := numbers{s: w.b.String()}
		for _, v := range want {
			if got := r.next(); got != v {
				t.Fatalf("%d came back as %d", v, got)
			}
		}
		if r.more() {
			t.Fatal("something is left")
		}
		keys := rapid.SliceOf(rapid.StringMatching(`[a-z:é]{1,70}`)).Draw(t, "keys")
		var k keyWriter
		for _, key := range keys {
			k.add(key, 'Q')
		}
		var got []string
		readKeys(k.b.String(), isUpper, func(key string, end byte) { got = append(got, key) })
		if !slices.Equal(got, keys) {
			t.Fatalf("%q came back as %q", keys, got)
		}
	})
}

// TestCutOff wants a part that was cut off anywhere to be read without panic.
func TestCutOff(t *testing.T) {
	text := writeForms([]entry{{key: "foam", list: []occurrence{{3, 9}, {700, 1}}}, {key: "gas", list: []occurrence{{0, 2}}}}, 1000)
	for i := range text {
		ix := &Index{root: root{Docs: 1000}, used: map[string]bool{}, formed: map[int]*formPart{}, parts: map[string][]string{"p0": {text[:i]}}}
		for _, list := range ix.formPart(0).lists {
			if len(list) > 2 {
				t.Errorf("cut at %d: list of %d", i, len(list))
			}
		}
	}
}

// TestLogarithm compares with the number of bits, which is exact.
func TestLogarithm(t *testing.T) {
	for _, n := range []int{1, 2, 3, 1000, 1 << 20, 1<<40 + 1} {
		got := logarithm(float64(n))
		if low := bits.Len(uint(n)) - 1; got < float64(low) || got >= float64(low+1) {
			t.Errorf("log2(%d) = %v", n, got)
		}
	}
}

// TestTypoLists wants every word one edit away from a word of five letters or
// more to be in one of the two ranges that are read.
func TestTypoLists(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		word := rapid.StringMatching(`[a-d]{5,14}`).Draw(t, "word")
		typed := edited(t, word)
		if typed == word {
			return
		}
		if !oneEdit(word, typed) || !oneEdit(typed, word) {
			t.Fatalf("%q and %q are one edit apart", word, typed)
		}
		near := func(key func(string) string) bool {
			a, b := key(word), key(typed)
			return a[:2] == b[:2] && a[2]+1 >= b[2] && b[2]+1 >= a[2]
		}
		if !near(firstKey) && !near(lastKey) {
			t.Fatalf("%q is not found for %q", word, typed)
		}
	})
}

func edited(t *rapid.T, w string) string {
	i := rapid.IntRange(0, len(w)-2).Draw(t, "place")
	c := rapid.StringMatching(`[a-d]`).Draw(t, "letter")
	switch rapid.IntRange(0, 3).Draw(t, "edit") {
	case 0:
		return w[:i] + c + w[i+1:]
	case 1:
		return w[:i] + w[i+1:]
	case 2:
		return w[:i] + c + w[i:]
	}
	return w[:i] + w[i+1:i+2] + w[i:i+1] + w[i+2:]
}
