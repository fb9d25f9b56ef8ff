package compat_test

import (
	"fmt"
	"slices"
	"testing"

	"github.com/google/go-cmp/cmp"
	"pgregory.net/rapid"

	"tankleaf.example/internal/compat"
	"tankleaf.example/internal/mix"
	"tankleaf.example/internal/unit"
)

// TestDigestOfRules: rules stand in the order of their IDs, interactions first, with
// what follows from them before any mix is known.
func TestDigestOfRules(t *testing.T) {
	b := orchard()
	b.notice("a-law", mix.Requires, "oil", func(n *mix.Notice) { n.Place.ID = "lower" })
	b.notice("b-old", mix.Forbids, "powder", func(n *mix.Notice) { n.Until = date("2020-01-01") })
	b.says("warm", "steps:oil agent:heat", sources("practice"))
	var got []string
	for _, r := range b.judge().Digest().Rules {
		var doubts []compat.DoubtCode
		for _, d := range r.Doubts {
			doubts = append(doubts, d.Code)
		}
		got = append(got, fmt.Sprintf("%s %v %v %v/%v %v hazards %v care %v firm %v law %v notice %v demand %v in force %v %v gates %d mends %d %v",
			r.ID, r.Members, r.Kind, r.Verdict, r.Stated, r.Grade, r.Hazards, r.Care, r.Firm, r.Law, r.Notice, r.Demand, r.InForce, r.Symptoms, len(r.When), len(r.Mends), doubts))
	}
	want := []string{
		"curds [oil powder] physical apart/apart study hazards [] care [] firm false law false notice false demand false in force true [flakes] gates 0 mends 1 []",
		"fizz [acid carbonate] physical never/never study hazards [pressure] care [pressure] firm true law false notice false demand false in force true [gas foam] gates 0 mends 0 []",
		"warm [oil agent] physical steps/steps practice hazards [] care [heat] firm true law false notice false demand false in force true [heat] gates 0 mends 0 [no-source]",
		"a-law [oil] legal steps/steps rule hazards [] care [] firm true law true notice true demand true in force true [] gates 1 mends 0 []",
		"b-old [powder] legal never/never rule hazards [] care [] firm true law true notice true demand false in force false [] gates 0 mends 0 []",
	}
	if diff := cmp.Diff(want, got); diff != "" {
		t.Errorf("(-want +got)\n%s", diff)
	}
}

// TestDigestOfSets holds what follows from the jars of each set.
func TestDigestOfSets(t *testing.T) {
	b := orchard()
	warm := func(n int64) func(*mix.Observation) {
		return func(o *mix.Observation) { o.Temperature = mix.Known(unit.Int(n)) }
	}
	b.jar("j1", "2026-05-01", "n2 n1: gas=firm foam=300 flakes=none", warm(12))
	b.jar("j2", "2026-05-02", "n1 n2: gas=none foam=0 flakes=none", warm(24))
	b.jar("j3", "2026-05-03", "p1 n1: clean")
	b.jar("j4", "2026-05-03", "p2 n1: foam=40", func(o *mix.Observation) { o.Vessel = mix.Vessel{} })
	d := b.judge().Digest()
	if !slices.Equal(d.Needed, []mix.Symptom{mix.Gas, mix.Foam, mix.Flakes}) {
		t.Errorf("needed %v", d.Needed)
	}
	var got []string
	for _, s := range d.Sets {
		got = append(got, fmt.Sprintf("%v %d jars reacted %v %v clear %v unjudged %v hazards %v %v ran at %v", s.Products, len(s.Jars), s.Reacted, s.Worst,
			s.Clear, s.Unjudged, s.Hazards, s.Grade, gateNames(s.RanAt)))
	}
	want := []string{
		"[n1 n2] 2 jars reacted [gas foam] [never steps] clear [flakes] unjudged false hazards [pressure] jars ran at [temperature12 to 24 standing5 to 5 water_share1 to 1]",
		"[n1 p1] 1 jars reacted [] [] clear [gas foam flakes] unjudged false hazards [] single-jar ran at [standing5 to 5 water_share1 to 1]",
		"[n1 p2] 1 jars reacted [] [] clear [] unjudged true hazards [] single-jar ran at [standing5 to 5 water_share1 to 1]",
	}
	if diff := cmp.Diff(want, got); diff != "" {
		t.Errorf("(-want +got)\n%s", diff)
	}
}

func TestDigestOfOrders(t *testing.T) {
	b := orchard()
	b.clean3("right", "n2 n1")
	b.jar("turned", "2026-05-09", "n1 n2: gas=none foam=0 flakes=heavy")
	s := b.judge().Digest().Sets[0]
	if len(s.Orders) != 1 || !slices.Equal(s.Orders[0].Order, items("n2 n1")) {
		t.Fatalf("%+v", s.Orders)
	}
	sub := s.Orders[0].Set
	if len(sub.Jars) != 3 || len(sub.Reacted) != 0 || !slices.Equal(sub.Clear, []mix.Symptom{mix.Gas, mix.Foam, mix.Flakes}) || sub.Grade != mix.Jars {
		t.Errorf("the jars of that order alone: %+v", sub)
	}
	if !slices.Equal(s.Reacted, []mix.Symptom{mix.Flakes}) || len(s.Jars) != 4 {
		t.Errorf("beside all of them: %+v", s)
	}
}

// TestDigestOpposed holds which statements quiet jars bear on, and how.
func TestDigestOpposed(t *testing.T) {
	lines := func(b *book) []string {
		d := b.judge().Digest()
		var all []string
		for _, o := range d.Opposed {
			all = append(all, fmt.Sprintf("%s %v carriers %v relaxes %v lenient %d", d.Rules[o.Rule].ID, o.Products, o.Carriers, o.Relaxes, o.Lenient))
		}
		return all
	}
	hard := func(b *book) {
		b.class("water", "", func(c *mix.Class) { c.Carrier = true })
		b.class("hard", "water", func(c *mix.Class) { c.Carrier, c.When = true, []mix.Gate{over(mix.Hardness, 300)} })
		b.Waters = []mix.WaterSource{{ID: "well", Hardness: mix.Known(unit.Int(400))}}
		b.says("scum", "apart:oil hard:flakes")
	}
	for _, c := range []struct {
		why   string
		given func(*book)
		want  []string
	}{
		{"three clean jars relax a class statement", func(b *book) { b.clean3("j", "o1 p2") }, []string{"curds [o1 p2] carriers [] relaxes true lenient 0"}},
		{"two answer it and do not", func(b *book) {
			b.clean3("j", "o1 p2")
			b.Observations = b.Observations[1:]
		}, nil},
		{"those that do not answer it are counted", func(b *book) {
			b.clean3("j", "o1 p2", func(o *mix.Observation) { o.Products[0].Rate = unit.Rate{} })
		}, []string{"curds [o1 p2] carriers [] relaxes false lenient 3"}},
		{"in a larger mix, for each part that it reaches", func(b *book) { b.clean3("j", "o1 o2 p2") }, []string{
			"curds [o1 p2] carriers [] relaxes true lenient 0", "curds [o2 p2] carriers [] relaxes true lenient 0"}},
		{"jars of both together and of each", func(b *book) {
			b.clean3("big", "o1 p2 n1")
			b.jar("own", "2026-05-09", "o1 p2: clean", func(o *mix.Observation) { o.Products[0].Rate = unit.Rate{} })
		}, []string{"curds [o1 p2] carriers [] relaxes true lenient 1"}},
		{"a hazard is opposed and not relaxed", func(b *book) {
			b.clean3("j", "a1 c1", func(o *mix.Observation) { o.Products[0].Rate = unit.Rate{} })
		}, []string{"fizz [a1 c1] carriers [] relaxes false lenient 3"}},
		{"jars that reacted oppose nothing", func(b *book) {
			b.clean3("j", "o1 p2")
			b.jar("bad", "2026-05-09", "o1 p2: flakes=heavy")
		}, nil},
		{"law is no matter of jars", func(b *book) {
			b.Interactions[1].Kind = mix.Legal
			b.clean3("j", "o1 p2", func(o *mix.Observation) { o.Products[0].Rate = unit.Rate{} })
		}, nil},
		{"the water of the jars stands for a member", func(b *book) {
			hard(b)
			b.clean3("j", "o1 n1")
		}, []string{"scum [o1] carriers [1] relaxes true lenient 0"}},
		{"a soft one does not", func(b *book) {
			hard(b)
			b.Waters[0].Hardness = mix.Known(unit.Int(4))
			b.clean3("j", "o1 n1")
		}, []string{"scum [o1] carriers [1] relaxes false lenient 3"}},
	} {
		b := orchard()
		c.given(b)
		if diff := cmp.Diff(c.want, lines(b)); diff != "" {
			t.Errorf("%s (-want +got)\n%s", c.why, diff)
		}
	}
}

// TestDigestSaysWhatTheJudgeDoes: for pairs of products that a statement reaches, what
// the digest says of quiet jars is what the judge does.
func TestDigestSaysWhatTheJudgeDoes(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		b := drawBook(t)
		j := b.judge()
		d := j.Digest()
		for _, p := range productIDs {
			for _, r := range productIDs {
				if p >= r {
					continue
				}
				a := j.Mix([]mix.ID{p, r}, mix.Situation{})
				for _, f := range a.Findings {
					n, ok := f.Evidence.(compat.Statement)
					if !ok || f.Part == compat.OffGate || len(f.Matches) != 2 || f.Verdict == mix.Unknown && f.Part != compat.Relaxed {
						continue
					}
					held := []mix.ID{f.Matches[0].Item, f.Matches[1].Item}
					slices.Sort(held)
					k := slices.IndexFunc(d.Opposed, func(o compat.Opposed) bool {
						return d.Rules[o.Rule].ID == n.ID && slices.Equal(o.Products, held) && len(o.Carriers) == 0
					})
					relaxed := k >= 0 && d.Opposed[k].Relaxes && !named(n, held)
					if relaxed != (f.Part == compat.Relaxed) {
						t.Fatalf("%v %s: the digest says %v: %s", held, n.ID, relaxed, tell(a))
					}
					if lenient := k >= 0 && d.Opposed[k].Lenient > 0; hasDoubt(f.Doubts, compat.Lenient) && !lenient {
						t.Fatalf("%v %s: lenient jars that the digest has not: %s", held, n.ID, tell(a))
					}
				}
			}
		}
	})
}

// named reports whether a statement names the very items.
func named(n compat.Statement, held []mix.ID) bool {
	for _, m := range n.Members {
		if !slices.Contains(held, m.ID) {
			return false
		}
	}
	return true
}
