package compat_test

import (
	"fmt"
	"testing"

	"github.com/google/go-cmp/cmp"
	"tankleaf.example/internal/compat"
	"tankleaf.example/internal/mix"
)

// salts is a book of two families: bases b1 to b4 in two kinds, and acids a1 to a3,
// beside a wetter w that belongs to a role.
func salts() *book {
	b := newBook()
	chem := func(c *mix.Class) { c.Axis = mix.Chemistry }
	b.class("base", "", chem)
	b.class("soda", "base", chem)
	b.class("potash", "base", chem)
	b.class("acid", "", chem)
	b.class("wetting", "", func(c *mix.Class) { c.Axis = mix.Role })
	b.class("defoamer", "", func(c *mix.Class) { c.Axis, c.Suppresses = mix.Role, []mix.Symptom{mix.Foam} })
	for id, classes := range map[string]string{"b1": "soda", "b2": "soda", "b3": "potash", "b4": "potash", "a1": "acid", "a2": "acid wetting",
		"a3": "acid", "w": "wetting", "def": "defoamer", "none": ""} {
		b.product(id, classes)
	}
	return b
}

// inX puts a record into investigation x.
func inX(o *mix.Observation) { o.Investigation = mix.Ref{ID: "x"} }

func liftLines(c *compat.Case) []string {
	var all []string
	for _, l := range c.Lifts {
		line := fmt.Sprint(l.Cause, ":")
		for _, p := range l.Places {
			line += fmt.Sprintf(" %s=%s tested %v untested %v;", p.Product, p.Class, p.Tested, p.Untested)
		}
		all = append(all, line)
	}
	return all
}

// TestLifts holds how far an established cause is lifted, and by what.
func TestLifts(t *testing.T) {
	gas, none := ": gas=vented", ": gas=none"
	for _, c := range []struct {
		why   string
		in    []string // of the investigation
		far   []string // elsewhere in the book
		field bool     // those elsewhere are reports
		want  []string
	}{
		{"one pair alone lifts nothing: it is guesswork", []string{"a1 b1" + gas, "a1" + none, "b1" + none}, nil, false, nil},
		{"another member in each place", []string{"a1 b1" + gas, "a1" + none, "b1" + none, "a1 b2" + gas, "a2 b1" + gas, "b2" + none, "a2" + none}, nil, false, []string{
			"[a1 b1]: a1=acid tested [a1 a2] untested [a3]; b1=base tested [b1 b2] untested [b3 b4];"}},
		{"records elsewhere count as much", []string{"a1 b1" + gas, "a1" + none, "b1" + none}, []string{"a1 b2" + gas, "a2 b1" + gas}, false, []string{
			"[a1 b1]: a1=acid tested [a1 a2] untested [a3]; b1=base tested [b1 b2] untested [b3 b4];"}},
		{"a clean one elsewhere keeps the claim narrower", []string{"a1 b1" + gas, "a1" + none, "b1" + none}, []string{"a1 b2" + gas, "a2 b1" + gas, "a1 b3" + none}, false, []string{
			"[a1 b1]: a1=acid tested [a1 a2] untested [a3]; b1=soda tested [b1 b2] untested [];"}},
		{"clean with everything of the family: no wider than the product", []string{"a1 b1" + gas, "a1" + none, "b1" + none}, []string{"a2 b1" + gas, "a1 b2" + none}, false, []string{
			"[a1 b1]: a1=acid tested [a1 a2] untested [a3]; b1=b1 tested [b1] untested [];"}},
		{"a quiet report keeps nothing narrower", []string{"a1 b1" + gas, "a1" + none, "b1" + none, "a1 b2" + gas, "a2 b1" + gas}, []string{"a1 b3" + none}, true, []string{
			"[a1 b1]: a1=acid tested [a1 a2] untested [a3]; b1=base tested [b1 b2] untested [b3 b4];"}},
		{"what was not looked at neither", []string{"a1 b1" + gas, "a1" + none, "b1" + none, "a1 b2" + gas, "a2 b1" + gas}, []string{"a1 b3: foam=0"}, false, []string{
			"[a1 b1]: a1=acid tested [a1 a2] untested [a3]; b1=base tested [b1 b2] untested [b3 b4];"}},
		{"a reaction with no example in it bears on nothing", []string{"a1 b1" + gas, "a1" + none, "b1" + none, "a1 b2" + gas, "a2 b1" + gas}, []string{"none w" + gas}, false, []string{
			"[a1 b1]: a1=acid tested [a1 a2] untested [a3]; b1=base tested [b1 b2] untested [b3 b4];"}},
	} {
		b := salts()
		for i, what := range c.in {
			b.jar(fmt.Sprint("x", i), "2026-05-01", what, inX)
		}
		for i, what := range c.far {
			b.jar(fmt.Sprint("far", i), "2026-05-02", what, func(o *mix.Observation) { o.Field = c.field })
		}
		got := liftLines(caseOf(t, b.judge().Investigate("x"), mix.Gas))
		if len(got) > 1 {
			got = got[:1] // the best tested
		}
		if diff := cmp.Diff(c.want, got); diff != "" {
			t.Errorf("%s (-want +got)\n%s", c.why, diff)
		}
	}
}

// TestLiftsByRole: classes of role lift only where those of chemistry give nothing.
func TestLiftsByRole(t *testing.T) {
	b := salts()
	b.class("mud", "", func(c *mix.Class) { c.Axis = mix.Role })
	b.product("m1", "mud")
	b.product("m2", "mud")
	for i, what := range []string{"m1 none: gas=vented", "m1: gas=none", "none: gas=none", "m2 none: gas=vented"} {
		b.jar(fmt.Sprint("x", i), "2026-05-01", what, inX)
	}
	want := []string{"[m1 none]: m1=mud tested [m1 m2] untested []; none=none tested [none] untested [];"}
	if diff := cmp.Diff(want, liftLines(caseOf(t, b.judge().Investigate("x"), mix.Gas))); diff != "" {
		t.Errorf("two causes that lead to one claim give it once (-want +got)\n%s", diff)
	}
}

// TestLiftUnderDefoamer: a jar in which something hides the symptom rules out no
// class, and a reaction in it counts.
func TestLiftUnderDefoamer(t *testing.T) {
	b := salts()
	for i, what := range []string{"a1 b1: foam=300", "a1: foam=0", "b1: foam=0", "a1 b2: foam=300", "a2 b1: foam=300"} {
		b.jar(fmt.Sprint("x", i), "2026-05-01", what, inX)
	}
	b.jar("far", "2026-05-02", "a1 b3 def: foam=0")
	got := liftLines(caseOf(t, b.judge().Investigate("x"), mix.Foam))
	if len(got) == 0 || got[0] != "[a1 b1]: a1=acid tested [a1 a2] untested [a3]; b1=base tested [b1 b2] untested [b3 b4];" {
		t.Errorf("got %v", got)
	}
}

// TestLiftOfInjury: what each product does alone needs no record, so that an injury
// beyond it is lifted as a pair.
func TestLiftOfInjury(t *testing.T) {
	b := salts()
	for i, pair := range []string{"a1 b1", "a1 b2", "a2 b1"} {
		b.jar(fmt.Sprint("x", i), "2026-05-01", pair+":", inX, field, func(o *mix.Observation) {
			o.Readings = nil
			r := mix.Rating{Symptom: mix.Injury, Mix: percent(40)}
			for _, p := range o.Products {
				r.Singles = append(r.Singles, mix.Single{Product: p.Ref, Rating: percent(2)})
			}
			o.Ratings = []mix.Rating{r}
		})
	}
	c := caseOf(t, b.judge().Investigate("x"), mix.Injury)
	if got := fmt.Sprint(c.Causes); got != "[[a1 b1] [a2 b1] [a1 b2]]" {
		t.Errorf("causes %s", got)
	}
	got := liftLines(c)
	if len(got) != 1 || got[0] != "[a1 b1]: a1=acid tested [a1 a2] untested [a3]; b1=base tested [b1 b2] untested [b3 b4];" {
		t.Errorf("got %v", got)
	}
	var classes []string
	for _, k := range c.Classes {
		classes = append(classes, fmt.Sprint(k.Places, k.Alone))
	}
	if len(classes) != 1 || classes[0] != "[[acid] [soda base]] true" {
		t.Errorf("by class: no class alone does it, for no product does: %v", classes)
	}
}

func classLines(c *compat.Case) []string {
	var all []string
	for _, k := range c.Classes {
		all = append(all, fmt.Sprint(k.Places, " alone ", k.Alone))
	}
	return all
}

// TestClassCauses holds the causes at the level of classes.
func TestClassCauses(t *testing.T) {
	for _, c := range []struct {
		why  string
		jars []string
		want []string
	}{
		{"common to all that reacted", []string{"a1 b1: gas=vented", "a2 b3: gas=vented"}, []string{"[[acid]] alone false", "[[base]] alone false"}},
		{"a class that was in a clean one is no cause", []string{"a1 b1: gas=vented", "a2 b3: gas=vented", "a3 none: gas=none"},
			[]string{"[[base]] alone false"}},
		{"two together that no clean one held", []string{"a1 b1: gas=vented", "a2 b3: gas=vented", "a3 none: gas=none", "b2 none: gas=none"},
			[]string{"[[acid] [base]] alone true"}},
		{"two where a third was there every time", []string{"a1 b1 w: gas=vented", "a3 b3 w: gas=vented", "a1 w: gas=none", "b1 w: gas=none"},
			[]string{"[[acid] [base]] alone false"}},
		{"three together", []string{"a1 b1 w: gas=vented", "a1 b1: gas=none", "a1 w: gas=none", "b1 w: gas=none"},
			[]string{"[[acid] [soda base] [wetting]] alone true"}}, // soda and base held the same products
		{"classes of just the same products stand together, the narrowest first", []string{"none b1: gas=vented", "none b2: gas=vented", "none a1: gas=none"},
			[]string{"[[soda base]] alone false"}}, // something else was there every time
		{"one alone", []string{"a1: gas=vented"}, []string{"[[acid]] alone true"}},
		{"no class in common", []string{"a1 none: gas=vented", "b1 none: gas=vented"}, nil},
	} {
		b := salts()
		for i, what := range c.jars {
			b.jar(fmt.Sprint("x", i), "2026-05-01", what, inX)
		}
		if diff := cmp.Diff(c.want, classLines(caseOf(t, b.judge().Investigate("x"), mix.Gas))); diff != "" {
			t.Errorf("%s (-want +got)\n%s", c.why, diff)
		}
	}
}
