package planner_test

import (
	"bytes"
	"encoding/json"
	"fmt"
	"math/rand/v2"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"
	"time"

	"github.com/chromedp/chromedp"
	"github.com/google/go-cmp/cmp"

	"tankleaf.example/internal/client"
	"tankleaf.example/internal/compat"
	"tankleaf.example/internal/mix"
	"tankleaf.example/internal/office"
	"tankleaf.example/internal/planner"
)

// toldChanges is what changes of one item make of a mix, as differential.ts tells it.
type toldChanges struct {
	Without []toldWithout `json:"without"`
	Instead []toldInstead `json:"instead"`
}

type toldWithout struct {
	Out    mix.ID     `json:"out"`
	Left   int        `json:"left"`
	Answer toldAnswer `json:"answer"`
}

type toldInstead struct {
	Out   mix.ID     `json:"out"`
	Found int        `json:"found"`
	Best  []toldSwap `json:"best"`
}

type toldSwap struct {
	In       mix.ID     `json:"in"`
	Left     int        `json:"left"`
	Untested []mix.ID   `json:"untested"`
	Answer   toldAnswer `json:"answer"`
}

func tellChanges(all compat.Changes) *toldChanges {
	out := &toldChanges{[]toldWithout{}, []toldInstead{}}
	for i := range all.Without {
		c := &all.Without[i]
		out.Without = append(out.Without, toldWithout{c.Out, c.Left, tell(&c.Answer)})
	}
	for _, r := range all.Instead {
		one := toldInstead{r.Out, r.Found, []toldSwap{}}
		for i := range r.Best {
			c := &r.Best[i]
			one.Best = append(one.Best, toldSwap{c.In, c.Left, append([]mix.ID{}, c.Untested...), tell(&c.Answer)})
		}
		out.Instead = append(out.Instead, one)
	}
	return out
}

// changeVectors is testdata/vectors/whatif.json: mixes of the demonstration, what is
// left of each when one product is left out, and what may take a product's place. The
// client's tests read it too.
type changeVectors struct {
	Schema int            `json:"schema"`
	Cases  []changeVector `json:"cases"`
}

type changeVector struct {
	Name string `json:"name"`
	Why  string `json:"why"`
	In   struct {
		Items []mix.ID `json:"items"`
		Place mix.ID   `json:"place,omitempty"`
		Crop  mix.ID   `json:"crop,omitempty"`
	} `json:"in"`
	Want changeAnswer `json:"want"`
}

type changeAnswer struct {
	Without []withoutAnswer `json:"without"`
	Instead []insteadAnswer `json:"instead"`
}

type withoutAnswer struct {
	Out      mix.ID   `json:"out"`
	Verdict  string   `json:"verdict"`
	Hazards  []string `json:"hazards"`
	Untested int      `json:"untested"`
	Left     int      `json:"left"`
}

type insteadAnswer struct {
	Out   mix.ID   `json:"out"`
	Found int      `json:"found"`
	Best  []string `json:"best"` // "ID, verdict, untested N, left N"
}

func answerChanges(all compat.Changes) changeAnswer {
	got := changeAnswer{[]withoutAnswer{}, []insteadAnswer{}}
	for _, w := range tellChanges(all).Without {
		got.Without = append(got.Without, withoutAnswer{w.Out, w.Answer.Verdict, w.Answer.Hazards, len(w.Answer.Untested), w.Left})
	}
	for _, r := range all.Instead {
		one := insteadAnswer{r.Out, r.Found, nil}
		for _, c := range r.Best {
			one.Best = append(one.Best, fmt.Sprintf("%s, %v, untested %d, left %d", c.In, c.Answer.Verdict, len(c.Untested), c.Left))
		}
		got.Instead = append(got.Instead, one)
	}
	return got
}

// TestChangeVectors holds what Go says of changes of a mix to the vectors; -update
// writes what it says.
func TestChangeVectors(t *testing.T) {
	const path = "../../testdata/vectors/whatif.json"
	data, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	var v changeVectors
	d := json.NewDecoder(bytes.NewReader(data))
	d.DisallowUnknownFields()
	if err := d.Decode(&v); err != nil || v.Schema != 1 || len(v.Cases) == 0 {
		t.Fatalf("schema %d, %d cases, %v", v.Schema, len(v.Cases), err)
	}
	j := compat.New(mix.NewIndex(demo(t)))
	for i := range v.Cases {
		c := &v.Cases[i]
		got := answerChanges(j.WhatIf(c.In.Items, mix.Situation{Place: c.In.Place, Crop: c.In.Crop}))
		if *update {
			c.Want = got
		}
		if diff := cmp.Diff(c.Want, got); diff != "" || c.Why == "" {
			t.Errorf("%s (%s): -want +got\n%s", c.Name, c.Why, diff)
		}
	}
	if *update {
		writeVectors(t, path, v)
	}
}

func writeVectors(t *testing.T, path string, v any) {
	t.Helper()
	data, err := json.MarshalIndent(v, "", " ")
	if err == nil {
		err = os.WriteFile(path, append(data, '\n'), 0o644)
	}
	if err != nil {
		t.Fatal(err)
	}
}

// TestReplacementsNotLoaded holds the client's replacements to Go's where it has loaded
// no more than the products of the mix, and who serves which purpose: of an office of
// many files it never loads them all.
func TestReplacementsNotLoaded(t *testing.T) {
	t.Parallel()
	ctx := openTab(t, 2*time.Minute)
	script := filepath.Join(t.TempDir(), "differential.js")
	bundle(t, client.Bundle, "differential.ts", script)
	openScript(t, ctx, script)
	b := office.Make(office.Size{Products: 420, Classes: 60, Interactions: 80, Observations: 900}, 2)
	j := compat.New(mix.NewIndex(b))
	pack := planner.New(j)
	if len(pack.Uses.Sets) == 0 {
		t.Error("no product of the office is never used by itself")
	}
	ask := func(loaded []mix.ID, q mixQuestion) (told toldAnswer) {
		got, err := chromedp.Run(ctx, chromedp.Evaluate[[]string](fmt.Sprintf("takeBook(%s,%s,%s), judgeAll([%s])",
			asJSON(pack.Core), asJSON(shardsOf(pack, loaded)), asJSON(pack.Uses), asJSON(q))))
		if err == nil {
			err = json.Unmarshal([]byte(got[0]), &told)
		}
		if err != nil {
			t.Fatal(err)
		}
		return told
	}
	d := &mixDrawer{Rand: rand.New(rand.NewPCG(4, 4)), book: b}
	found, alone := 0, 0
	for range 40 {
		q := d.question()
		q.Change = true
		told := ask(q.Items, q)
		all := j.WhatIf(q.Items, q.situation)
		if diff := cmp.Diff(answerChanges(all).Instead, retold(told.Change.Instead)); diff != "" {
			t.Errorf("%s: -Go +browser\n%s", asJSON(q), diff)
		}
		found += len(all.Instead)
		alone += len(told.Change.Instead)
	}
	if found < 10 || alone != found {
		t.Errorf("%d products could be replaced, in the browser %d", found, alone)
	}
	relaxed := 0
	for _, o := range j.Digest().Opposed { // what quiet jars of two do to a statement
		if o.Relaxes && len(o.Products) == 2 {
			relaxed++
			want := j.Mix(o.Products, mix.Situation{})
			if got := ask(o.Products[1:], mixQuestion{Items: o.Products, Numbers: map[string]string{}}); got.Verdict != want.Verdict.String() {
				t.Errorf("%v: Go %v, the browser %s", o.Products, want.Verdict, got.Verdict)
			}
		}
	}
	if relaxed == 0 {
		t.Error("no statement of the office is relaxed")
	}
}

// shardsOf returns the shards that hold some products.
func shardsOf(p *planner.Pack, ids []mix.ID) []planner.Shard {
	list := []planner.Shard{}
	for n, name := range p.Core.Names {
		id := p.Core.IDs[n]
		if id == "" {
			id = strings.ToLower(strings.ReplaceAll(name, " ", "-"))
		}
		s := p.Shards[n/p.Core.PerShard]
		if slices.Contains(ids, mix.ID(id)) && !slices.ContainsFunc(list, func(o planner.Shard) bool { return o.First == s.First }) {
			list = append(list, s)
		}
	}
	return list
}

// retold puts the browser's replacements as vectors do.
func retold(list []toldInstead) []insteadAnswer {
	out := []insteadAnswer{}
	for _, r := range list {
		one := insteadAnswer{r.Out, r.Found, nil}
		for _, c := range r.Best {
			one.Best = append(one.Best, fmt.Sprintf("%s, %s, untested %d, left %d", c.In, c.Answer.Verdict, len(c.Untested), c.Left))
		}
		out = append(out, one)
	}
	return out
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
	all := s.judge.WhatIf(ids, mix.Situation{})
	for i := range all.Without {
		want[all.Without[i].Out] = &all.Without[i].Answer
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
		if n := len(a.Untested); n > 0 && !strings.Contains(got.Words, s.words.T("whatif.untested", "n", n)) {
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
