package office_test

import (
	"testing"

	"github.com/google/go-cmp/cmp"

	"tankleaf.example/internal/compat"
	"tankleaf.example/internal/mix"
	"tankleaf.example/internal/office"
	"tankleaf.example/internal/unit"
)

func TestSameSeedSameOffice(t *testing.T) {
	if diff := cmp.Diff(office.Make(office.Small, 1), office.Make(office.Small, 1)); diff != "" {
		t.Error(diff)
	}
	if cmp.Equal(office.Make(office.Small, 1), office.Make(office.Small, 2)) {
		t.Error("two seeds gave one office")
	}
}

// The pairs of a small office must meet every verdict, or tests over it hold less
// than they say.
func TestSmallOfficeMeetsEverything(t *testing.T) {
	x := mix.NewIndex(office.Make(office.Small, 1))
	j := compat.New(x)
	here := mix.Situation{Hardness: mix.Known(unit.Int(10)), WaterTemp: mix.Known(unit.Int(10)), Vessel: "open", Crop: "apple", Place: "upper"}
	verdicts, parts := map[mix.Verdict]int{}, map[compat.Part]int{}
	products := x.Book().Products
	for i := range products {
		for k := range i {
			a := j.Mix([]mix.ID{products[i].ID, products[k].ID}, here)
			verdicts[a.Verdict]++
			for _, f := range a.Findings {
				parts[f.Part]++
			}
		}
	}
	for _, v := range mix.Verdicts() {
		if verdicts[v] == 0 {
			t.Errorf("no pair is %v: %v", v, verdicts)
		}
	}
	for _, p := range []compat.Part{compat.Decides, compat.Agrees, compat.Outvoted, compat.Relaxed, compat.OffGate, compat.Informative} {
		if parts[p] == 0 {
			t.Errorf("no finding %v: %v", p, parts)
		}
	}
	for _, p := range products {
		if x.Product(p.ID) == nil || !mix.ValidID(string(p.ID)) {
			t.Errorf("product %q", p.ID)
		}
	}
}
