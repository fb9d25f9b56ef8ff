package compat_test

import (
	"fmt"
	"slices"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
	"tankleaf.example/internal/cause"
	"tankleaf.example/internal/compat"
	"tankleaf.example/internal/mix"
)

// gasCase is the case of gas over jars of investigation x: "a b: gas=none".
func gasCase(t *testing.T, jars ...string) *compat.Case {
	t.Helper()
	b := newBook()
	b.class("defoamer", "", func(c *mix.Class) { c.Suppresses = []mix.Symptom{mix.Foam} })
	b.product("d", "defoamer")
	for i, what := range jars {
		b.jar(fmt.Sprintf("j%02d", i), "2026-05-01", what, inX)
	}
	return caseOf(t, b.judge().Investigate("x"), mix.Gas)
}

// TestStatuses holds what is said of each mix that reacted.
func TestStatuses(t *testing.T) {
	for _, c := range []struct {
		why    string
		jars   []string
		mixes  []string
		causes string
	}{
		{"narrowed by what its parts did not do", []string{"a b c: gas=vented", "a b: gas=none", "c: gas=none"},
			[]string{"[a b c] narrowed causes [] possible [[a c] [b c] [a b c]]"}, "[]"},
		{"established by the pair itself", []string{"a b c: gas=vented", "a b: gas=vented", "a: gas=none", "b: gas=none"},
			[]string{"[a b] established causes [[a b]] possible [[a b]]", "[a b c] established causes [[a b]] possible [[a b]]"}, "[[a b]]"},
		{"contradicted by a larger one that stayed quiet", []string{"a b: gas=vented", "a b c: gas=none"},
			[]string{"[a b] contradicted causes [] possible [[a] [b] [a b]]"}, "[]"},
		{"contradicted by itself", []string{"a b: gas=vented", "a b: gas=none"},
			[]string{"[a b] contradicted causes [] possible [[a] [b] [a b]]"}, "[]"},
		{"one contradicted, another not", []string{"a b: gas=vented", "a b c: gas=none", "d e: gas=vented", "d: gas=none", "e: gas=none"},
			[]string{"[a b] contradicted causes [] possible [[a] [b] [a b]]", "[d e] established causes [[d e]] possible [[d e]]"}, "[[d e]]"},
		{"a quiet one with a stranger in it still rules out what it shares", []string{"a b: gas=vented", "a z: gas=none"},
			[]string{"[a b] narrowed causes [] possible [[b] [a b]]"}, "[]"},
	} {
		got := gasCase(t, c.jars...)
		if diff := cmp.Diff(c.mixes, mixes(got)); diff != "" || fmt.Sprint(got.Causes) != c.causes {
			t.Errorf("%s: causes %v (-want +got)\n%s", c.why, got.Causes, diff)
		}
	}
}

// TestNextJarIsWorthRunning: it is none that was run, it splits what is possible, and
// there is none when nothing is left to learn.
func TestNextJarIsWorthRunning(t *testing.T) {
	open := gasCase(t, "a b c: gas=vented")
	if n := open.Next; n == nil || n.IfReacts+n.IfClear < open.Possible || n.IfReacts >= open.Possible || n.IfClear >= open.Possible || n.Reacts <= 0 || n.Reacts >= 1 {
		t.Errorf("of %d possibilities: %+v", open.Possible, n)
	}
	if slices.Equal(open.Next.Products, items("a b c")) {
		t.Error("that jar was run")
	}
	done := gasCase(t, "a: gas=vented")
	if done.Next != nil || done.Possible != 1 {
		t.Errorf("a product that reacts alone leaves nothing to learn: %+v of %d", done.Next, done.Possible)
	}
}

// TestTooMany: with more suspects than can be searched the records are listed and
// nothing is claimed; with fewer than that and many, one mix at a time is searched.
func TestTooMany(t *testing.T) {
	many := func(from, to int) string {
		var list []string
		for i := from; i < to; i++ {
			list = append(list, fmt.Sprintf("s%02d", i))
		}
		return strings.Join(list, " ")
	}
	c := gasCase(t, many(0, 65)+": gas=vented", many(0, 2)+": gas=none")
	if !c.TooMany || c.Mixes != nil || c.Causes != nil || c.Next != nil || len(c.Reacted) != 1 || len(c.Clear) != 1 || len(c.Suspects) != 65 {
		t.Errorf("65 suspects: %+v", c)
	}
	if beliefs, next := c.Beliefs(compat.MisreadRates); beliefs != nil || next != nil || c.Plan(0) != nil || c.Shrinking() != nil {
		t.Error("nothing is searched among 65 products")
	}
	c = gasCase(t, many(0, 16)+": gas=vented")
	if c.TooMany || c.Next == nil {
		t.Errorf("16 products are searched at once: %+v", c.Next)
	}
	c = gasCase(t, many(0, 15)+": gas=vented", many(20, 25)+": gas=vented", many(20, 23)+": gas=none")
	if c.Next == nil || c.Possible == 0 {
		t.Fatal("the smallest mix that is open is searched by itself")
	}
	for _, p := range c.Next.Products {
		if p < "s20" {
			t.Errorf("the jar is of that mix: %v", c.Next.Products)
		}
	}
	c = gasCase(t, many(0, 17)+": gas=vented")
	if c.TooMany || c.Next != nil || c.Possible != 0 || len(c.Mixes) != 1 || c.Mixes[0].Status != cause.Narrowed || !c.Mixes[0].Partial {
		t.Errorf("17 in one mix: what is possible is listed as far as it goes, and no jar is guessed: %+v", c.Next)
	}
}

// TestSearchIgnoresWhatIsSettled: of 17 suspects in two mixes the established one
// takes no part in the search for the other.
func TestSearchIgnoresWhatIsSettled(t *testing.T) {
	c := gasCase(t, "a: gas=vented", "b01 b02 b03 b04 b05 b06 b07 b08: gas=vented", "c01 c02 c03 c04 c05 c06 c07 c08 c09: gas=vented")
	if c.Next == nil {
		t.Fatal("no jar")
	}
	for _, p := range c.Next.Products {
		if !strings.HasPrefix(string(p), "b") {
			t.Errorf("the smallest open mix is of b: %v", c.Next.Products)
		}
	}
}

// TestBeliefs hold probabilities that misread jars leave.
func TestBeliefs(t *testing.T) {
	c := gasCase(t, "a b c: gas=vented", "a b: gas=none", "a: gas=none")
	beliefs, next := c.Beliefs(compat.MisreadRates)
	if len(beliefs) == 0 || next == nil {
		t.Fatal("none")
	}
	for i, b := range beliefs {
		if holds := slices.Contains(b.Products, "c"); holds != (i < 4) {
			t.Errorf("what needs a misread jar comes after what needs none: %v", beliefs)
		}
		if b.P <= 0 || b.P > 1 || i > 0 && b.P > beliefs[i-1].P {
			t.Errorf("the likeliest first: %v", beliefs)
		}
	}
	if none, jar := c.Beliefs(cause.Rates{Missed: -0.1}); none != nil || jar != nil {
		t.Error("rates below nothing")
	}
}

// TestShrinking tells jar by jar what is left, in the order of days.
func TestShrinking(t *testing.T) {
	b := newBook()
	for i, what := range []string{"a b c: gas=vented", "a b: gas=none", "b c: gas=vented", "c: gas=none", "b: gas=none"} {
		b.jar(fmt.Sprint("j", 9-i), fmt.Sprintf("2026-05-0%d", i+1), what, inX)
	}
	c := caseOf(t, b.judge().Investigate("x"), mix.Gas)
	var got []string
	last := c.Total
	for _, s := range c.Shrinking() {
		got = append(got, fmt.Sprint(s.Observation.ID, " ", s.Reacted, " ", s.Single, " ", s.Established))
		if s.Possible > last || s.Possible == 0 {
			t.Errorf("%s leaves %d of %d", s.Observation.ID, s.Possible, last)
		}
		last = s.Possible
	}
	if want := []string{
		"j9 true [[a] [b] [c] [a b] [a c] [b c] [a b c]] []",
		"j8 false [[c] [a c] [b c] [a b c]] []",
		"j7 true [[c] [b c]] []",
		"j6 false [[b c]] [[b c]]",
		"j5 false [[b c]] []",
	}; !slices.Equal(got, want) {
		t.Errorf("want %v, got %v", want, got)
	}
	if last != c.Possible || fmt.Sprint(c.Causes) != "[[b c]]" {
		t.Errorf("%d left, causes %v", last, c.Causes)
	}
}

// TestPlanDepth: a plan to some depth ends there, with what is then still possible.
func TestPlanDepth(t *testing.T) {
	c := gasCase(t, "a b c: gas=vented")
	p := c.Plan(1)
	if p.Jar == nil || p.Possible != c.Possible || p.Settled || p.Found != nil {
		t.Fatalf("at the start: %+v", p)
	}
	for name, n := range map[string]*compat.PlanNode{"reacts": p.Reacts, "clear": p.Clear} {
		if n == nil || n.Jar != nil || n.Reacts != nil || n.Clear != nil {
			t.Errorf("after one jar that %s the plan goes on: %+v", name, n)
		}
	}
	if p.Reacts.Possible != c.Next.IfReacts || p.Clear.Possible != c.Next.IfClear {
		t.Errorf("want %d and %d, got %d and %d", c.Next.IfReacts, c.Next.IfClear, p.Reacts.Possible, p.Clear.Possible)
	}
}

// TestConflictRecords: on both sides all records are listed, and only what all of
// them differ in.
func TestConflictRecords(t *testing.T) {
	b := newBook()
	rain := func(o *mix.Observation) { o.Water.ID = "rain" }
	b.jar("r1", "2026-05-01", "a b: gas=vented", recorded())
	b.jar("r2", "2026-05-02", "a b: gas=vented", recorded())
	b.jar("c1", "2026-05-03", "a b c: gas=none", recorded(rain, func(o *mix.Observation) { o.Vessel.Closed = false }))
	b.jar("c2", "2026-05-04", "a b c: gas=none", recorded(rain))
	c := caseOf(t, b.judge().Investigate("x"), mix.Gas)
	if len(c.Conflicts) != 1 {
		t.Fatalf("%+v", c.Conflicts)
	}
	k := c.Conflicts[0]
	ids := func(list []*mix.Observation) (all []mix.ID) {
		for _, o := range list {
			all = append(all, o.ID)
		}
		return all
	}
	if !slices.Equal(ids(k.ReactedJars), items("r1 r2")) || !slices.Equal(ids(k.ClearJars), items("c1 c2")) ||
		!slices.Equal(k.Reacted, items("a b")) || !slices.Equal(k.Clear, items("a b")) {
		t.Errorf("records %v and %v of %v inside %v", ids(k.ReactedJars), ids(k.ClearJars), k.Reacted, k.Clear)
	}
	if !slices.Equal(k.Differ, []compat.Circumstance{compat.ByWater}) || k.Explained {
		t.Errorf("all differ in the water alone, and nothing shows that it matters: %+v", k)
	}
	// Two jars of one mix that differ in the water alone, and came out different.
	b.jar("m1", "2026-05-05", "a z: gas=vented", recorded())
	b.jar("m2", "2026-05-06", "a z: gas=none", recorded(rain))
	c = caseOf(t, b.judge().Investigate("x"), mix.Gas)
	if len(c.Conflicts) != 2 || !c.Conflicts[0].Explained || !c.Conflicts[1].Explained || len(c.Otherwise) != 3 || len(c.Clear) != 0 {
		t.Errorf("now it does: %+v, set aside %v, clear %v", c.Conflicts, ids(c.Otherwise), ids(c.Clear))
	}
	for _, m := range c.Mixes {
		if m.Status == cause.Contradicted {
			t.Errorf("what is set aside contradicts nothing: %+v", m)
		}
	}
}
