package page

import (
	"fmt"
	"os"
	"testing"

	"github.com/google/go-cmp/cmp"

	"tankleaf.example/internal/dataset"
	"tankleaf.example/internal/mix"
)

// TestWhatWasLeftOutIsInTheReadersLanguage: jars for which there was no room are told
// of as the leader's key tells of those that are poured, on Spanish pages in Spanish.
func TestWhatWasLeftOutIsInTheReadersLanguage(t *testing.T) {
	b, problems := dataset.Load(os.DirFS("../.."))
	if problems.Stops() {
		t.Fatal(problems)
	}
	english, spanish := leafOf(t, b, 0, "packet/x.html"), leafOf(t, b, 1, "es/packet/x.html")
	for _, c := range []struct {
		trial  mix.ID
		jars   int
		en, es []string
	}{
		{"onion-tank-order", 7, []string{"Skeinlow 2.1 EC alone", "Sapwhittle 2 SC alone", "Slipwhistle 90 SL alone"},
			[]string{"Skeinlow 2.1 EC solo", "Sapwhittle 2 SC solo", "Slipwhistle 90 SL solo"}},
		{"petal-fall-waters", 8, []string{"Clawmere Zn 9 alone, in Standard hard water"}, []string{"Clawmere Zn 9 solo, en Agua dura normalizada"}},
		{"petal-fall-workshop", 8, []string{
			"in 25 % of the water: Larkstile 35 WG → Wrenbasket 30 SG → Firkinlow 2.5 SC",
			"with Foamwren 10 EW: Foamwren 10 EW → Larkstile 35 WG → Wrenbasket 30 SG → Firkinlow 2.5 SC, in 25 % of the water"},
			[]string{"en 25 % del agua: Larkstile 35 WG → Wrenbasket 30 SG → Firkinlow 2.5 SC",
				"con Foamwren 10 EW: Foamwren 10 EW → Larkstile 35 WG → Wrenbasket 30 SG → Firkinlow 2.5 SC, en 25 % del agua"}},
		{"onion-tank-order", 4, []string{
			"Another order: Sapwhittle 2 SC → Thatchmoor 75 WG → Skeinlow 2.1 EC → Slipwhistle 90 SL",
			"Another order: Thatchmoor 75 WG → Skeinlow 2.1 EC → Sapwhittle 2 SC → Slipwhistle 90 SL",
			"Thatchmoor 75 WG alone", "Skeinlow 2.1 EC alone", "Sapwhittle 2 SC alone", "Slipwhistle 90 SL alone"},
			[]string{"Otro orden: Sapwhittle 2 SC → Thatchmoor 75 WG → Skeinlow 2.1 EC → Slipwhistle 90 SL",
				"Otro orden: Thatchmoor 75 WG → Skeinlow 2.1 EC → Sapwhittle 2 SC → Slipwhistle 90 SL",
				"Thatchmoor 75 WG solo", "Skeinlow 2.1 EC solo", "Sapwhittle 2 SC solo", "Slipwhistle 90 SL solo"}},
	} {
		asked := *mix.NewIndex(b).Trial(c.trial)
		asked.ID, asked.Jars = mix.ID(fmt.Sprint(c.trial, c.jars)), c.jars // plans are kept by id
		p := english.packet(&asked)
		if p.err != nil {
			t.Fatal(p.err)
		}
		tr := p.packet.Trial
		var en, es []string
		for i := range tr.LeftOut {
			en, es = append(en, english.missing(tr, &tr.LeftOut[i])), append(es, spanish.missing(tr, &tr.LeftOut[i]))
		}
		if diff := cmp.Diff(c.en, en); diff != "" {
			t.Errorf("%s in English (-want +got)\n%s", c.trial, diff)
		}
		if diff := cmp.Diff(c.es, es); diff != "" {
			t.Errorf("%s in Spanish (-want +got)\n%s", c.trial, diff)
		}
	}
}
