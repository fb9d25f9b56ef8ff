package compat_test

import (
	"testing"

	"tankleaf.example/internal/mix"
	"tankleaf.example/internal/unit"
)

// orchard is the book most cases start from: acids and carbonates make gas,
// oils and powders leave flakes that an agent mends.
func orchard() *book {
	b := newBook()
	b.class("acid", "")
	b.class("phosphite", "acid")
	b.class("carbonate", "")
	b.class("oil", "")
	b.class("powder", "")
	b.class("agent", "")
	b.class("defoamer", "", func(c *mix.Class) { c.Suppresses = []mix.Symptom{mix.Foam} })
	b.class("sulfur", "powder")
	b.product("a1", "phosphite")
	b.product("a2", "acid")
	b.product("c1", "carbonate")
	b.product("o1", "oil")
	b.product("o2", "oil")
	b.product("p1", "sulfur")
	b.product("p2", "powder")
	b.product("d1", "defoamer")
	b.product("g1", "agent")
	b.product("n1", "")
	b.product("n2", "")
	b.says("fizz", "never:acid carbonate:gas foam", func(n *mix.Interaction) { n.Hazards = []mix.Hazard{mix.Pressure} })
	b.says("curds", "apart:oil powder:flakes", func(n *mix.Interaction) {
		n.Mends = []mix.Mend{{Class: mix.Ref{ID: "agent"}, To: mix.Steps}}
	})
	return b
}

func TestVerdict(t *testing.T) {
	nothing := func(*book) {}
	for _, c := range []struct {
		why   string
		mix   string
		given func(*book)
		want  mix.Verdict
		grade mix.Grade
	}{
		{"no evidence", "n1 n2", nothing, mix.Unknown, mix.NoGrade},
		{"no such items", "x y", nothing, mix.Unknown, mix.NoGrade},
		{"1: a statement on classes holds for their products", "o1 p2", nothing, mix.Apart, mix.Inference},
		{"1: and for classes below them", "oil sulfur", nothing, mix.Apart, mix.Inference},
		{"1: as stated it has its source's grade", "oil powder", nothing, mix.Apart, mix.Study},
		{"1: members are distinct items", "o1 n1", func(b *book) {
			b.says("two-oils", "apart:oil oil:layers")
		}, mix.Unknown, mix.NoGrade},
		{"1: two products of one class are distinct", "o1 o2", func(b *book) {
			b.says("two-oils", "apart:oil oil:layers")
		}, mix.Apart, mix.Inference},
		{"1: a product in both classes is still one item", "both n1", func(b *book) {
			b.product("both", "oil powder")
		}, mix.Unknown, mix.NoGrade},
		{"1: a three-way statement needs all three", "n1 o1 p2", func(b *book) {
			b.product("s1", "soap")
			b.class("soap", "")
			b.says("three", "never:oil powder soap:gel")
		}, mix.Apart, mix.Inference},
		{"1: a reaction in a subset is expected in the mix", "n1 n2 p1", func(b *book) {
			b.jar("j", "2026-05-01", "n1 n2: flakes=heavy")
		}, mix.Apart, mix.SingleJar},
		{"1: a reaction in a superset may be due to the rest", "n1 n2", func(b *book) {
			b.jar("j", "2026-05-01", "n1 n2 p1: flakes=heavy")
		}, mix.Unknown, mix.NoGrade},
		{"1: a clean superset speaks for the smaller mix", "n1 n2", func(b *book) {
			b.jar("j", "2026-05-01", "n1 n2 p1: clean")
		}, mix.Clean, mix.SingleJar},
		{"1: but not about foam when it held a defoamer", "n1 n2", func(b *book) {
			b.jar("j", "2026-05-01", "n1 n2 d1: clean")
		}, mix.Unknown, mix.NoGrade},
		{"1: the defoamer's own mix it does speak for", "n1 n2 d1", func(b *book) {
			b.jar("j", "2026-05-01", "n1 n2 d1: clean")
		}, mix.Clean, mix.SingleJar},
		{"1: a clean subset says nothing of the larger mix", "n1 n2 p1", func(b *book) {
			b.clean3("j", "n1 n2")
		}, mix.Unknown, mix.NoGrade},
		{"2: a hazard is never, whatever verdict is written", "n1 n2", func(b *book) {
			b.says("mild", "steps:n1 n2:gas", func(n *mix.Interaction) { n.Hazards = []mix.Hazard{mix.Pressure} })
		}, mix.Never, mix.Study},
		{"2: heat with steps and no hazard has its steps", "n1 n2", func(b *book) {
			b.says("dilute", "steps:n1 n2:heat")
		}, mix.Steps, mix.Study},
		{"2: but no jars relax it", "o1 p2", func(b *book) {
			b.Interactions = nil
			b.says("warm", "steps:oil powder:gas")
			b.clean3("j", "o1 p2")
		}, mix.Steps, mix.Inference},
		{"2: a notice that forbids", "n1 n2", func(b *book) { b.notice("no", mix.Forbids, "n1 n2") }, mix.Never, mix.Rule},
		{"2: what a rule requires of one product is no evidence on the pair", "n1 n2", func(b *book) {
			b.notice("so", mix.Requires, "n1")
		}, mix.Unknown, mix.NoGrade},
		{"2: nor is what it requires of the pair", "n1 n2", func(b *book) {
			b.notice("so", mix.Requires, "n1 n2")
		}, mix.Unknown, mix.NoGrade},
		{"2: it makes steps of a mix that is known to be clean", "n1 n2", func(b *book) {
			b.notice("so", mix.Requires, "n1")
			b.clean3("j", "n1 n2")
		}, mix.Steps, mix.Rule},
		{"2: also of a part that is, when more goes in", "n1 n2 p1", func(b *book) {
			b.notice("so", mix.Requires, "n1")
			b.clean3("j", "n1 n2")
		}, mix.Steps, mix.Rule},
		{"2: not of a part that it asks nothing of", "n1 n2 p1", func(b *book) {
			b.notice("so", mix.Requires, "p1")
			b.clean3("j", "n1 n2")
		}, mix.Unknown, mix.NoGrade},
		{"2: and leaves what is worse as it was", "oil powder", func(b *book) {
			b.notice("so", mix.Requires, "oil")
		}, mix.Apart, mix.Study},
		{"2: permission is not evidence", "n1 n2", func(b *book) { b.notice("may", mix.Allows, "n1 n2") }, mix.Unknown, mix.NoGrade},
		{"2: clean jars do not cancel a hazard", "a1 c1", func(b *book) { b.clean3("j", "a1 c1") }, mix.Never, mix.Inference},
		{"3: three independent clean jars relax a class statement", "o1 p2", func(b *book) {
			b.clean3("j", "o1 p2")
		}, mix.Clean, mix.Jars},
		{"3: two do not", "o1 p2", func(b *book) {
			b.clean3("j", "o1 p2")
			b.Observations = b.Observations[:2]
		}, mix.Apart, mix.Inference},
		{"3: three of one day, water and batch do not", "o1 p2", func(b *book) {
			b.clean3("j", "o1 p2", func(o *mix.Observation) { o.Date = date("2026-05-01") })
		}, mix.Apart, mix.Inference},
		{"3: three that never looked for flakes do not", "o1 p2", func(b *book) {
			b.clean3("j", "o1 p2", func(o *mix.Observation) { o.Readings[0].Flakes = mix.NotRecorded })
		}, mix.Apart, mix.Inference},
		{"3: three field reports do not", "o1 p2", func(b *book) { b.clean3("j", "o1 p2", field) }, mix.Apart, mix.Inference},
		{"3: three under half the label rate do not", "o1 p2", func(b *book) {
			b.Products[3].Rate = mix.RateRange{Low: must(unit.ParseRate("2 qt/ac")), High: must(unit.ParseRate("4 qt/ac"))}
			b.clean3("j", "o1 p2")
		}, mix.Apart, mix.Inference},
		{"3: a reaction among them keeps the statement", "o1 p2", func(b *book) {
			b.clean3("j", "o1 p2")
			b.jar("bad", "2026-06-01", "o1 p2: gas=none foam=100 flakes=none")
		}, mix.Apart, mix.Inference},
		{"3: a statement on the very products is not relaxed", "o1 p2", func(b *book) {
			b.says("named", "steps:o1 p2:flakes")
			b.clean3("j", "o1 p2")
		}, mix.Steps, mix.Study},
		{"3: a jar cannot relax what it cannot show", "o1 p2", func(b *book) {
			b.says("burn", "apart:oil powder:injury")
			b.clean3("j", "o1 p2")
		}, mix.Apart, mix.Inference},
		{"3: other products of the class are not relaxed", "o2 p2", func(b *book) { b.clean3("j", "o1 p2") }, mix.Apart, mix.Inference},
		{"3: nor beside one, in a larger mix", "o1 o2 p2", func(b *book) { b.clean3("j", "o1 p2") }, mix.Apart, mix.Inference},
		{"4: a foam that is gone does not clear gas", "a1 c1 d1", func(b *book) { b.clean3("j", "a1 c1 d1") }, mix.Never, mix.Inference},
		{"4: gas decides over a nuisance", "n1 n2", func(b *book) {
			b.jar("j", "2026-05-01", "n1 n2: gas=firm foam=200 flakes=none")
		}, mix.Never, mix.SingleJar},
		{"3: a larger mix that once reacted relaxes nothing", "o1 p2", func(b *book) {
			b.clean3("j", "o1 p2 n1")
			b.jar("bad", "2026-06-01", "o1 p2 n1: gas=none foam=100 flakes=none")
		}, mix.Apart, mix.Inference},
		{"3: nor one in which something was seen and not judged", "o1 p2", func(b *book) {
			b.clean3("j", "o1 p2 n1")
			b.jar("bad", "2026-06-01", "o1 p2 n1: gas=none foam=100 flakes=none", func(o *mix.Observation) { o.Vessel = mix.Vessel{} })
		}, mix.Apart, mix.Inference},
		{"3: a clean larger mix does, and as far as it goes", "o1 p2", func(b *book) {
			b.clean3("j", "o1 p2 n1")
		}, mix.Clean, mix.Jars},
		{"3: not when the very products reacted, in whatever way", "o1 p2", func(b *book) {
			b.clean3("j", "o1 p2 n1")
			b.jar("bad", "2026-06-01", "o1 p2: gas=none foam=100 flakes=none")
		}, mix.Apart, mix.Inference},
		{"6: a mend softens", "o1 p2 g1", nothing, mix.Steps, mix.Inference},
		{"6: one that leaves nothing to do leaves itself, for products of a class", "o1 p2 g1", func(b *book) {
			b.Interactions[1].Mends[0].To = mix.Clean
		}, mix.Steps, mix.Inference},
		{"6: and nothing at all for what the source names", "oil powder agent", func(b *book) {
			b.Interactions[1].Mends[0].To = mix.Clean
		}, mix.Clean, mix.Study},
		{"6: a hazard has no mend", "a1 c1 g1", func(b *book) {
			b.Interactions[0].Mends = []mix.Mend{{Class: mix.Ref{ID: "agent"}, To: mix.Steps}}
		}, mix.Never, mix.Inference},
		{"6: only that statement", "o1 p2 g1", func(b *book) { b.says("burn", "apart:oil powder:injury") }, mix.Apart, mix.Inference},
		{"6: the mend is another item than those that react", "g2 o1", func(b *book) {
			b.product("g2", "agent powder")
		}, mix.Apart, mix.Inference},
		{"class inference is never clean", "o1 n1", func(b *book) {
			b.product("q", "")
			b.class("plain", "")
			b.Products[9].Classes = refs("plain")
			b.says("fine", "clean:oil plain:flakes")
		}, mix.Unknown, mix.NoGrade},
		{"a sourced statement is, of exactly what it names", "oil agent", func(b *book) {
			b.says("fine", "clean:oil agent:flakes")
		}, mix.Clean, mix.Study},
		{"but not while its condition is unknown", "oil agent", func(b *book) {
			b.says("fine", "clean:oil agent:flakes", func(n *mix.Interaction) {
				n.When = []mix.Gate{{Factor: mix.VesselFactor, Ref: mix.Ref{ID: "open"}}}
			})
		}, mix.Unknown, mix.NoGrade},
		{"nor of more than it names", "oil agent n1", func(b *book) {
			b.says("fine", "clean:oil agent:flakes")
		}, mix.Unknown, mix.NoGrade},
		{"a jar that looked for everything and found nothing", "n1 n2", func(b *book) {
			b.jar("j", "2026-05-01", "n1 n2: clean")
		}, mix.Clean, mix.SingleJar},
		{"what was not recorded is not none", "n1 n2", func(b *book) {
			b.jar("j", "2026-05-01", "n1 n2: foam=0 flakes=none")
		}, mix.Unknown, mix.NoGrade},
		{"a field report of nothing is not evidence of nothing", "n1 n2", func(b *book) {
			b.jar("j", "2026-05-01", "n1 n2: clean", field)
		}, mix.Unknown, mix.NoGrade},
		{"a field report of something is", "n1 n2", func(b *book) {
			b.jar("j", "2026-05-01", "n1 n2: gas=vented", field)
		}, mix.Never, mix.Report},
		{"a book without criteria makes nothing clean", "n1 n2", func(b *book) {
			b.Criteria = nil
			b.jar("j", "2026-05-01", "n1 n2: clean")
		}, mix.Unknown, mix.NoGrade},
		{"and takes any trace for a reaction", "n1 n2", func(b *book) {
			b.Criteria = nil
			b.jar("j", "2026-05-01", "n1 n2: flakes=trace")
		}, mix.Apart, mix.SingleJar},
		{"duplicates of a jar are one jar", "n1 n2", func(b *book) {
			b.clean3("j", "n1 n2", func(o *mix.Observation) { o.Date = date("2026-05-01") })
		}, mix.Clean, mix.SingleJar},
		{"a nuisance of one product alone is no matter of mixing", "n1 n2", func(b *book) {
			b.jar("j", "2026-05-01", "n1: flakes=heavy")
		}, mix.Unknown, mix.NoGrade},
		{"2: a hazard of one product alone is one in its mixes", "n1 n2", func(b *book) {
			b.jar("j", "2026-05-01", "n1: gas=vented")
		}, mix.Never, mix.SingleJar},
		{"one clean product is no clean mix", "n1", func(b *book) {
			b.jar("j", "2026-05-01", "n1: clean")
		}, mix.Unknown, mix.NoGrade},
		{"a class that was asked for shows the worst within it", "acid carbonate", func(b *book) {
			b.Interactions[0].Members = refs("phosphite carbonate")
		}, mix.Never, mix.Inference},
		{"but one product's jar says nothing of its class", "oil agent", func(b *book) {
			b.jar("j", "2026-05-01", "o1 g1: flakes=heavy")
		}, mix.Unknown, mix.NoGrade},
		{"nor against a statement on another part of the mix", "oil agent defoamer", func(b *book) {
			b.jar("j", "2026-05-01", "o1 d1: flakes=heavy")
			b.says("fine", "clean:oil agent:flakes")
		}, mix.Unknown, mix.NoGrade},
		{"except against a statement that the class is clean", "oil agent", func(b *book) {
			b.jar("j", "2026-05-01", "o1 g1: flakes=heavy")
			b.says("fine", "clean:oil agent:flakes")
		}, mix.Apart, mix.SingleJar},
	} {
		b := orchard()
		c.given(b)
		a := mixed(b.judge(), c.mix)
		if a.Verdict != c.want || a.Grade != c.grade {
			t.Errorf("%s: %s\nwant %v %v, got %s", c.mix, c.why, c.want, c.grade, tell(a))
		}
		if d := a.Deciding(); (d == nil) != (a.Verdict == mix.Unknown) {
			t.Errorf("%s: %s: a verdict has evidence, no verdict has none; got %s", c.mix, c.why, tell(a))
		}
	}
}

// TestRuleOnOneIsNoTest holds that a pair stays untested when all that is known
// is what a rule, or a water, does to one of the two.
func TestRuleOnOneIsNoTest(t *testing.T) {
	for _, c := range []struct {
		why   string
		given func(*book)
		want  mix.Verdict
	}{
		{"required steps", func(b *book) { b.notice("so", mix.Requires, "n1") }, mix.Unknown},
		{"a prohibition of one product", func(b *book) { b.notice("no", mix.Forbids, "n1") }, mix.Never},
	} {
		b := orchard()
		c.given(b)
		a := b.judge().Mix([]mix.ID{"n1", "n2"}, mix.Situation{})
		if a.Verdict != c.want || len(a.Untested) != 1 {
			t.Errorf("%s: %v with %d pairs untested, want %v and the pair untested", c.why, a.Verdict, len(a.Untested), c.want)
		}
		if len(a.Findings) != 1 {
			t.Errorf("%s: %d findings, want the rule to be shown", c.why, len(a.Findings))
		}
	}
}
