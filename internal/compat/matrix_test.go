package compat_test

import (
	"fmt"
	"slices"
	"testing"

	"github.com/google/go-cmp/cmp"
	"tankleaf.example/internal/compat"
	"tankleaf.example/internal/mix"
)

func TestMatrix(t *testing.T) {
	b := orchard()
	b.Groups = []mix.Group{{ID: "acids"}, {ID: "empty"}, {ID: "rest"}}
	group := func(g string) func(*mix.Class) {
		return func(c *mix.Class) { c.Group = mix.Ref{ID: mix.ID(g)} }
	}
	for i := range b.Classes {
		group([]string{"rest", "acids"}[i%2])(&b.Classes[i])
	}
	b.class("stray", "")
	b.class("hidden", "", func(c *mix.Class) { c.Matrix = false })
	b.says("two-oils", "steps:oil oil:layers")
	m := b.judge().ClassMatrix()
	var got []string
	for _, g := range m.Groups {
		line := "none:"
		if g.Group != nil {
			line = string(g.Group.ID) + ":"
		}
		for _, c := range g.Classes {
			line += " " + string(c.ID)
		}
		got = append(got, line)
	}
	want := []string{"acids: phosphite oil agent sulfur", "rest: acid carbonate powder defoamer", "none: stray"}
	if diff := cmp.Diff(want, got); diff != "" {
		t.Errorf("groups in the order of the book, empty ones left out (-want +got)\n%s", diff)
	}
	for _, c := range []struct {
		a, b mix.ID
		want mix.Verdict
		why  string
	}{
		{"acid", "carbonate", mix.Never, "as stated"},
		{"carbonate", "acid", mix.Never, "either way round"},
		{"phosphite", "carbonate", mix.Never, "through its parent"},
		{"oil", "oil", mix.Steps, "two members of one class"},
		{"acid", "acid", mix.Unknown, "nothing said of two acids"},
		{"stray", "acid", mix.Unknown, "nothing said"},
	} {
		if a := m.Cell(c.a, c.b); a.Verdict != c.want {
			t.Errorf("%s × %s: %s: want %v, got %s", c.a, c.b, c.why, c.want, tell(*a))
		}
	}
	if n := len(b.judge().FullMatrix().Classes()); n != 10 {
		t.Errorf("the full matrix has all classes, got %d", n)
	}
	if n := len(b.judge().MatrixOf("oil", "acid").Classes()); n != 2 {
		t.Errorf("a cut-out has those asked for, got %d", n)
	}
}

func partnerLines(list []compat.Partner) []string {
	var all []string
	for _, p := range list {
		all = append(all, fmt.Sprint(p.Answer.Verdict, " ", p.Item))
	}
	return all
}

func TestPartners(t *testing.T) {
	b := orchard()
	b.jar("j1", "2026-05-01", "p1 n1: clean")
	b.jar("j2", "2026-05-01", "p1 n2: flakes=heavy")
	b.jar("j3", "2026-05-01", "p1 o1 n2: gas=vented")
	b.jar("alone", "2026-05-01", "p2: clean")
	b.notice("label", mix.Forbids, "p1 agent")
	j := b.judge()
	for _, c := range []struct {
		item mix.ID
		want []string
		why  string
	}{
		{"p1", []string{"never agent", "apart n2", "apart o1", "apart oil", "clean n1"},
			"statements by class, the very product's notices and jars, and what was in a jar with it"},
		{"p2", []string{"apart oil"}, "a jar of it alone makes no partner"},
		{"acid", []string{"never carbonate"}, "a class has the classes that statements name"},
		{"phosphite", []string{"never carbonate"}, "through its parent"},
		{"agent", []string{"never p1"}, "a product that a notice names beside the class"},
		{"d1", nil, "nothing said"},
	} {
		if diff := cmp.Diff(c.want, partnerLines(j.Partners(c.item))); diff != "" {
			t.Errorf("%s: %s (-want +got)\n%s", c.item, c.why, diff)
		}
	}
	got := partnerLines(slices.Collect(j.ProductPartners("o2")))
	if diff := cmp.Diff([]string{"apart p1", "apart p2"}, got); diff != "" {
		t.Errorf("each product that something is said of (-want +got)\n%s", diff)
	}
}

func TestPairs(t *testing.T) {
	b := orchard()
	b.jar("j1", "2026-05-01", "p1 n1: clean")
	b.jar("j2", "2026-05-01", "a1 n1 n2: flakes=heavy")
	b.jar("alone", "2026-05-01", "p2: flakes=heavy")
	var got []string
	for p, a := range b.judge().Pairs() {
		got = append(got, fmt.Sprint(p[0], " ", p[1], " ", a.Verdict))
	}
	want := []string{
		"a1 n1 unknown", "a1 n2 unknown", // suspect: reacted only in a larger mix
		"acid carbonate never", "carbonate phosphite never",
		"n1 n2 unknown", "n1 p1 clean",
		"oil powder apart", "oil sulfur apart",
	}
	if diff := cmp.Diff(want, got); diff != "" {
		t.Errorf("every pair with something to say, once, in order (-want +got)\n%s", diff)
	}
}

// TestSharedPairs holds that products of one signature are judged once, and that
// what is known of the very product stays with it.
func TestSharedPairs(t *testing.T) {
	b := orchard()
	b.product("o3", "oil")
	b.clean3("j", "o1 p2")
	j := b.judge()
	o2, o3 := j.Pair("o2", "p2"), j.Pair("o3", "p2")
	if o2.Verdict != mix.Apart || o3.Verdict != mix.Apart {
		t.Errorf("the class statement holds for the others: %s, %s", tell(*o2), tell(*o3))
	}
	if got := o3.Findings[0].Matches[0]; got.Item != "o3" || got.Path[0] != "o3" {
		t.Errorf("a shared answer names the product asked for, got %+v", got)
	}
	if a := j.Pair("p2", "o1"); a.Verdict != mix.Clean {
		t.Errorf("jars of the very pair: %s", tell(*a))
	}
}

func TestWhatIf(t *testing.T) {
	b := orchard()
	uses := func(id, purpose string) {
		for i := range b.Products {
			if b.Products[i].ID == mix.ID(id) {
				b.Products[i].Uses = []mix.Use{{Crop: mix.Ref{ID: "apple"}, Purpose: mix.Ref{ID: mix.ID(purpose)}}}
			}
		}
	}
	for _, u := range [][2]string{{"o1", "mites"}, {"o2", "mites"}, {"n1", "mites"}, {"n2", "mites"}, {"p2", "mildew"}, {"a1", "feed"}} {
		uses(u[0], u[1])
	}
	b.jar("j", "2026-05-01", "n2 p2 a1: clean")
	got := changeLines(b.judge().WhatIf(items("o1 p2 a1"), mix.Situation{}))
	want := []string{
		"a1> apart left 1", "o1> clean", "p2> unknown",
		"o1>n2 clean", "o1>n1 unknown ?a1 ?p2", // what is known first; the other oil is no better
	}
	if diff := cmp.Diff(want, got); diff != "" {
		t.Errorf("(-want +got)\n%s", diff)
	}
	if got := b.judge().WhatIf(items("o1"), mix.Situation{}); len(got.Without)+len(got.Instead) > 0 {
		t.Errorf("one item has nothing to change: %v", got)
	}
}
