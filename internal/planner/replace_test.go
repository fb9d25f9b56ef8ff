package planner_test

import (
	"fmt"
	"math/rand/v2"
	"slices"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	"tankleaf.example/internal/compat"
	"tankleaf.example/internal/message"
	"tankleaf.example/internal/mix"
	"tankleaf.example/internal/page"
	"tankleaf.example/templates"
)

// swapShown is a button that puts a product in the place of another.
type swapShown struct {
	Out     mix.ID `json:"out"`
	In      mix.ID `json:"in"`
	Verdict string `json:"verdict"`
	Words   string `json:"words"`
}

const shownSwaps = `[...document.querySelectorAll(".conflicts .swap")].map(b => ({out: b.dataset.out, in: b.dataset.in, verdict: b.querySelector("[data-verdict]").dataset.verdict, words: b.querySelector(".about").textContent}))`

// TestPlannerReplaces holds the replacements that the page offers to those that
// `tankleaf explain` lists: the same products in the same order, in the same words. By
// another way it holds each to what it promises: its conflict is gone, and it brings no
// other.
func TestPlannerReplaces(t *testing.T) {
	s := openSite(t)
	d := &mixDrawer{Rand: rand.New(rand.NewPCG(5, 3)), book: s.book}
	offered, untested := 0, 0
	for n := range 15 {
		ids := d.question().Items
		if n < 5 { // two of them alone
			ids = ids[:min(len(ids), 2)]
		}
		ids = slices.DeleteFunc(ids, func(id mix.ID) bool { return s.judge.Index().Product(id) == nil })
		before := s.judge.Mix(ids, mix.Situation{})
		if before.Verdict < mix.Apart || len(ids) < 2 {
			continue
		}
		s.open(plan(ids, ""), 1280)
		s.settled()
		s.wait(`!document.querySelector(".conflicts").innerText.includes(` + asJSON(s.words.T("planner.seeking")) + `)`)
		shown := eval[[]swapShown](s, shownSwaps)
		if diff := cmp.Diff(s.explained(&before), shown); diff != "" {
			t.Errorf("%v: -explain +page\n%s", before.Items, diff)
		}
		for _, c := range shown {
			offered++
			s.promised(&before, c)
			if strings.Contains(c.Words, "untested with") {
				untested++
			}
		}
	}
	if offered < 5 || untested == 0 {
		t.Errorf("only %d replacements were offered, %d of them untested with something", offered, untested)
	}
}

// explained returns the replacements that `tankleaf explain` lists, by conflict.
func (s *site) explained(a *compat.Answer) []swapShown {
	words, problems := message.Load(templates.FS)
	if problems.Stops() {
		s.t.Fatal(problems)
	}
	x := page.ExplainChanges(page.Inputs{Index: s.judge.Index(), Judge: s.judge, Messages: words}, "en", a, mix.Situation{})
	var list []swapShown
	for _, c := range a.Conflicts() {
		for i, r := range s.judge.WhatIf(a.Items, mix.Situation{}).Instead {
			if !slices.Contains(c.Items, r.Out) {
				continue
			}
			for k, line := range x.Changes.Swaps[i].In {
				told := append([]string{s.words.Verdict(line.Verdict)}, line.Notes...)
				list = append(list, swapShown{r.Out, r.Best[k].In, line.Verdict.String(), strings.Join(told, "; ")})
			}
		}
	}
	return list
}

// promised holds a replacement to what it promises, by the findings alone.
func (s *site) promised(before *compat.Answer, c swapShown) {
	after := s.judge.Mix(append(slices.DeleteFunc(slices.Clone(before.Items), func(id mix.ID) bool { return id == c.Out }), c.In), mix.Situation{})
	was, is := conflicts(before), conflicts(&after)
	if len(is) >= len(was) || slices.ContainsFunc(is, func(e string) bool { return !slices.Contains(was, e) || strings.Contains(e, string(c.In)) }) {
		s.t.Errorf("%v: %s for %s leaves %v of %v", before.Items, c.In, c.Out, is, was)
	}
	for _, pair := range after.Untested {
		if slices.Contains(pair, c.In) && !strings.Contains(c.Words, "untested with") {
			s.t.Errorf("%v: %s for %s is untested in %v and says %q", before.Items, c.In, c.Out, pair, c.Words)
		}
	}
}

// conflicts names the evidence that keeps a mix from one tank, with the products
// that it is about.
func conflicts(a *compat.Answer) []string {
	var list []string
	for _, f := range a.Findings {
		if f.Verdict < mix.Apart {
			continue
		}
		name := evidenceName(f.Evidence)
		for _, m := range f.Matches {
			name += " " + string(m.Item)
		}
		if set, ok := f.Evidence.(*compat.JarSet); ok {
			name += fmt.Sprint(set.Products)
		}
		list = append(list, name)
	}
	return list
}
