package cause_test

import (
	"slices"
	"testing"

	"github.com/google/go-cmp/cmp"
	"pgregory.net/rapid"

	. "tankleaf.example/internal/cause"
)

func TestSetString(t *testing.T) {
	for _, tt := range []struct {
		s    Set
		want string
	}{{0, "{}"}, {Of(5), "{5}"}, {Of(63, 0, 2, 0), "{0 2 63}"}} {
		if got := tt.s.String(); got != tt.want {
			t.Errorf("%#x is %s, want %s", uint64(tt.s), got, tt.want)
		}
	}
}

func TestSetElements(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		list := rapid.SliceOf(rapid.IntRange(0, MaxElements-1)).Draw(t, "list")
		s := Of(list...)
		want := slices.Compact(slices.Sorted(slices.Values(list)))
		got := s.Elements()
		if !slices.Equal(got, want) || s.Len() != len(want) || Of(got...) != s {
			t.Fatalf("elements of %v are %v", list, got)
		}
		for e := -2; e < MaxElements+2; e++ {
			if s.Has(e) != slices.Contains(list, e) {
				t.Fatalf("%v has %d: %v", s, e, s.Has(e))
			}
		}
		for e := range s.All() {
			if e != got[0] {
				t.Fatalf("the first of %v is %d", got, e)
			}
			break
		}
	})
}

func TestSetContains(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		a, b := Set(rapid.Uint64().Draw(t, "a")), Set(rapid.Uint64().Draw(t, "b"))
		if rapid.Bool().Draw(t, "inside") {
			b &= a
		}
		want := true
		for e := range b.All() {
			want = want && a.Has(e)
		}
		if a.Contains(b) != want || !a.Contains(a) || !a.Contains(0) {
			t.Fatalf("%v contains %v: %v", a, b, a.Contains(b))
		}
	})
}

func TestSetCompare(t *testing.T) {
	got := []Set{Of(0, 5), Of(3), Of(0, 1, 2), Of(1, 4), 0, Of(2)}
	slices.SortFunc(got, Set.Compare)
	want := []Set{0, Of(2), Of(3), Of(1, 4), Of(0, 5), Of(0, 1, 2)}
	if d := cmp.Diff(want, got); d != "" {
		t.Errorf("(-want +got):\n%s", d)
	}
}

func TestOfOutOfRange(t *testing.T) {
	for _, e := range []int{-1, MaxElements} {
		func() {
			defer func() {
				if recover() == nil {
					t.Errorf("Of(%d) does not panic", e)
				}
			}()
			Of(e)
		}()
	}
}
