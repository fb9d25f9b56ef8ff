package planner_test

import (
	"bytes"
	"encoding/json"
	"math/rand/v2"
	"os"
	"slices"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	"tankleaf.example/internal/compat"
	"tankleaf.example/internal/mix"
)

// tellWithout tells what leaving out each item makes of a mix, as differential.ts does.
func tellWithout(changes []compat.Change) []toldWithout {
	var out []toldWithout
	for i := range changes {
		if c := &changes[i]; c.In == "" {
			out = append(out, toldWithout{c.Out, tell(&c.Answer)})
		}
	}
	return out
}

// withoutVectors is testdata/vectors/without.json: mixes of the demonstration, and
// what is left of each when one product is left out. The client's tests read it too.
type withoutVectors struct {
	Schema int             `json:"schema"`
	Cases  []withoutVector `json:"cases"`
}

type withoutVector struct {
	Name string `json:"name"`
	Why  string `json:"why"`
	In   struct {
		Items []mix.ID `json:"items"`
		Place mix.ID   `json:"place,omitempty"`
		Crop  mix.ID   `json:"crop,omitempty"`
	} `json:"in"`
	Want []withoutAnswer `json:"want"`
}

type withoutAnswer struct {
	Out      mix.ID   `json:"out"`
	Verdict  string   `json:"verdict"`
	Hazards  []string `json:"hazards"`
	Untested int      `json:"untested"`
}

// TestWithoutVectors holds what Go says of a mix without each product to the vectors.
func TestWithoutVectors(t *testing.T) {
	data, err := os.ReadFile("../../testdata/vectors/without.json")
	if err != nil {
		t.Fatal(err)
	}
	var v withoutVectors
	d := json.NewDecoder(bytes.NewReader(data))
	d.DisallowUnknownFields()
	if err := d.Decode(&v); err != nil || v.Schema != 1 || len(v.Cases) == 0 {
		t.Fatalf("schema %d, %d cases, %v", v.Schema, len(v.Cases), err)
	}
	j := compat.New(mix.NewIndex(demo(t)))
	for _, c := range v.Cases {
		got := []withoutAnswer{}
		for _, w := range tellWithout(j.WhatIf(c.In.Items, mix.Situation{Place: c.In.Place, Crop: c.In.Crop})) {
			got = append(got, withoutAnswer{w.Out, w.Answer.Verdict, w.Answer.Hazards, len(w.Answer.Untested)})
		}
		if diff := cmp.Diff(c.Want, got); diff != "" || c.Why == "" {
			t.Errorf("%s (%s): -want +got\n%s", c.Name, c.Why, diff)
		}
	}
}

// dropShown is a button that leaves a product out, with what it says of the rest.
type dropShown struct {
	Out     mix.ID `json:"out"`
	Verdict string `json:"verdict"`
	Words   string `json:"words"`
}

const shownDrops = `[...document.querySelectorAll(".conflicts .drop")].map(b => ({out: b.dataset.out, verdict: b.querySelector("[data-verdict]")?.dataset.verdict ?? "", words: b.innerText}))`

// TestPlannerLeavesOut holds what the page says of leaving out a product of a conflict
// to what `tankleaf explain` says, and each tap to the mix that it promised.
func TestPlannerLeavesOut(t *testing.T) {
	s := openSite(t)
	d := &mixDrawer{Rand: rand.New(rand.NewPCG(8, 3)), book: s.book}
	shown := map[mix.Verdict]int{}
	for range 16 {
		ids := slices.DeleteFunc(d.question().Items, func(id mix.ID) bool { return s.judge.Index().Product(id) == nil })
		if a := s.judge.Mix(ids, mix.Situation{}); a.Verdict < mix.Apart || len(a.Items) < 2 {
			continue
		}
		s.open(plan(ids, "&area=40+ac&spray=20+gal/ac&tank=500+gal"), 768)
		s.settled()
		s.leavesOut(ids, shown)
	}
	if shown[mix.Never]+shown[mix.Apart] < 3 || shown[mix.Steps]+shown[mix.Clean]+shown[mix.Unknown] < 3 {
		t.Errorf("products left out gave %v", shown)
	}
}

// leavesOut compares the buttons of one mix with Go, and presses the first.
func (s *site) leavesOut(ids []mix.ID, shown map[mix.Verdict]int) {
	s.t.Helper()
	want := map[mix.ID]*compat.Answer{}
	for _, c := range s.judge.WhatIf(ids, mix.Situation{}) {
		if c.In == "" {
			want[c.Out] = &c.Answer
		}
	}
	drops := eval[[]dropShown](s, shownDrops)
	if len(drops) == 0 {
		s.t.Errorf("%v: no product can be left out", ids)
		return
	}
	for _, got := range drops {
		a := want[got.Out]
		shown[a.Verdict]++
		if len(a.Items) > 1 && got.Verdict != a.Verdict.String() {
			s.t.Errorf("%v without %s: the page says %s, Go %v", ids, got.Out, got.Verdict, a.Verdict)
		}
		if n := len(a.Untested); n > 0 && !strings.Contains(got.Words, s.words.T("planner.untested-short", "n", n)) {
			s.t.Errorf("%v without %s: %q does not tell of %d untested pairs", ids, got.Out, got.Words, n)
		}
		for _, h := range a.Hazards {
			if !strings.Contains(got.Words, s.words.Hazard(h)) {
				s.t.Errorf("%v without %s: %q does not name %v", ids, got.Out, got.Words, h)
			}
		}
	}
	first := want[drops[0].Out]
	eval[bool](s, `document.querySelector(".conflicts .drop").click(), true`)
	s.settled()
	if got := eval[string](s, `document.activeElement.id`); got != "answer" {
		s.t.Errorf("%v: the focus is at %q after leaving one out", ids, got)
	}
	if len(first.Items) > 1 {
		s.shows(first)
	}
}
