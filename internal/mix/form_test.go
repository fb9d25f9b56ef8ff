package mix_test

import (
	"slices"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
	"tankleaf.example/internal/mix"
)

// international is the list of codes of CropLife International, Technical Monograph
// 2, 7th edition, revised March 2017, as in the transcription read, in its order.
const international = `AE AL AP BR CB CP CS DC DP DS DT EC EG EO EP ES EW FS FU GA GD GE GL GR GS GW HN KK KL KN LB LN LS
	MC ME MR OD OF OL OP PA PR RB SC SD SE SG SL SO SP ST SU TB TC TK UL VP WG WP WS WT XX ZC ZE ZW`

func TestFormsAreTheInternationalList(t *testing.T) {
	var want []mix.Form
	for _, f := range strings.Fields(international) {
		want = append(want, mix.Form(f))
	}
	if diff := cmp.Diff(want, mix.Forms()); diff != "" {
		t.Errorf("(-want +got)\n%s", diff)
	}
}

// Codes that are taken for one another, by the words of the list.
func TestFormMeanings(t *testing.T) {
	for f, word := range map[mix.Form]string{
		"EC": "emulsifiable concentrate", "EW": "oil-in-water", "EO": "water-in-oil", "SC": "suspension concentrate",
		"SE": "suspo-emulsion", "CS": "capsule", "SG": "soluble granule", "SP": "soluble powder", "WG": "dispersible granule",
		"WP": "wettable", "SL": "soluble concentrate", "OD": "oil dispersion", "ZC": "CS and SC", "ZE": "CS and SE",
		"ZW": "CS and EW", "ME": "micro-emulsion", "WS": "seed", "FS": "seed", "GR": "granule",
	} {
		if got := f.Meaning(); !strings.Contains(got, word) {
			t.Errorf("%s means %q, want %q in it", f, got, word)
		}
	}
}

func TestTankForms(t *testing.T) {
	solids := strings.Fields("EG EP SG SP ST WG WP WT")
	for _, f := range mix.Forms() {
		if want := slices.Contains(solids, string(f)); f.Solid() != want {
			t.Errorf("%s is weighed: %v, want %v", f, f.Solid(), want)
		}
		if f.Solid() && !f.ForTank() {
			t.Errorf("%s is weighed for a tank and not for a tank", f)
		}
	}
	for _, f := range []mix.Form{"GR", "DP", "FS", "TC", "UL", "AE", "", "ec", "WDG"} {
		if f.ForTank() {
			t.Errorf("%q is not diluted in a spray tank", f)
		}
	}
	for trade, want := range map[string]mix.Form{"F": "SC", "DF": "WG", "WDG": "WG", "E": "EC", "S": "SL"} {
		if got, ok := mix.FormFor(trade); !ok || got != want || !got.Known() {
			t.Errorf("%s is %q, want %q", trade, got, want)
		}
	}
	if mix.Form("DF").Known() {
		t.Error("letters of the trade are no international codes")
	}
}
