package compat_test

import (
	"fmt"
	"slices"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
	"pgregory.net/rapid"

	"tankleaf.example/internal/compat"
	"tankleaf.example/internal/mix"
	"tankleaf.example/internal/unit"
)

// The invariants of the judgement, over random books. Each test names the one it
// holds.

var (
	classIDs   = []mix.ID{"c0", "c1", "c2", "c3", "c4", "c5", "hard", "soft"}
	productIDs = []mix.ID{"p0", "p1", "p2", "p3", "p4", "p5"}
	someIDs    = slices.Concat(classIDs[:6], productIDs)
)

func drawBook(t *rapid.T) *book {
	b := newBook()
	for i := range 6 {
		c := mix.Class{ID: classIDs[i], Matrix: i%2 == 0, Forms: rapid.SampledFrom([][]mix.Form{nil, nil, {"EC"}}).Draw(t, "forms")}
		for k := range i {
			if rapid.IntRange(0, 3).Draw(t, "kind of") == 0 {
				c.KindOf = append(c.KindOf, mix.Ref{ID: classIDs[k]})
			}
		}
		if rapid.IntRange(0, 4).Draw(t, "hides") == 0 {
			c.Suppresses = []mix.Symptom{mix.Foam}
		}
		b.Classes = append(b.Classes, c)
	}
	b.Classes = append(b.Classes,
		mix.Class{ID: "hard", Carrier: true, When: []mix.Gate{over(mix.Hardness, 300)}},
		mix.Class{ID: "soft", Carrier: true, KindOf: refs(rapid.SampledFrom([]string{"", "c0"}).Draw(t, "soft is"))})
	for _, id := range productIDs {
		p := mix.Product{ID: id, Form: rapid.SampledFrom([]mix.Form{"SC", "EC"}).Draw(t, "form")}
		for range rapid.IntRange(0, 2).Draw(t, "classes") {
			p.Classes = append(p.Classes, mix.Ref{ID: rapid.SampledFrom(classIDs[:6]).Draw(t, "class")})
		}
		b.Products = append(b.Products, p)
	}
	for n := range rapid.IntRange(0, 5).Draw(t, "interactions") {
		b.Interactions = append(b.Interactions, drawInteraction(t, fmt.Sprintf("i%d", n)))
	}
	for n := range rapid.IntRange(0, 2).Draw(t, "notices") {
		b.Notices = append(b.Notices, drawNotice(t, fmt.Sprintf("n%d", n)))
	}
	for n := range rapid.IntRange(0, 12).Draw(t, "observations") {
		b.Observations = append(b.Observations, drawObservation(t, fmt.Sprintf("o%d", n)))
	}
	if rapid.Bool().Draw(t, "campaign") { // enough clean jars of one pair to relax a statement
		pair := rapid.SliceOfNDistinct(rapid.SampledFrom(productIDs[:4]), 2, 2, rapid.ID).Draw(t, "campaign of")
		b.clean3("campaign", string(pair[0]+" "+pair[1]), func(o *mix.Observation) { o.Temperature = mix.Known(unit.Int(30)) })
	}
	if rapid.Bool().Draw(t, "orders") { // jars of one pair that reacted in one order of two
		pair := rapid.SliceOfNDistinct(rapid.SampledFrom(productIDs[:4]), 2, 2, rapid.ID).Draw(t, "orders of")
		b.clean3("in-order", string(pair[0]+" "+pair[1]))
		b.jar("turned", "2026-05-09", string(pair[1]+" "+pair[0])+": gas=none foam=0 flakes=heavy")
	}
	b.Waters = []mix.WaterSource{{ID: "well", Hardness: mix.Known(unit.Int(400))}, {ID: "rain", Hardness: mix.Known(unit.Int(5))}}
	return b
}

func over(f mix.Factor, n int64) mix.Gate {
	return mix.Gate{Factor: f, Low: mix.Bound{Set: true, Value: unit.Int(n)}, Written: fmt.Sprintf("> %d", n)}
}

func drawInteraction(t *rapid.T, id string) mix.Interaction {
	n := mix.Interaction{
		ID:       mix.ID(id),
		Kind:     rapid.SampledFrom([]mix.Kind{mix.Physical, mix.Chemical, mix.Legal}).Draw(t, "kind"),
		Verdict:  rapid.SampledFrom([]mix.Verdict{mix.Clean, mix.Steps, mix.Apart, mix.Never}).Draw(t, "verdict"),
		Symptoms: rapid.SliceOfNDistinct(rapid.SampledFrom([]mix.Symptom{mix.Gas, mix.Foam, mix.Flakes, mix.Injury}), 0, 2, rapid.ID).Draw(t, "symptoms"),
		Sources:  []mix.Cite{{Ref: mix.Ref{ID: rapid.SampledFrom([]mix.ID{"paper", "practice"}).Draw(t, "source")}}},
	}
	for range rapid.IntRange(2, 3).Draw(t, "members") {
		n.Members = append(n.Members, mix.Ref{ID: rapid.SampledFrom(append(someIDs, "hard", "soft")).Draw(t, "member")})
	}
	if n.Verdict > mix.Clean && rapid.IntRange(0, 3).Draw(t, "hazard") == 0 {
		n.Hazards = []mix.Hazard{rapid.SampledFrom(mix.Hazards()).Draw(t, "which")}
	}
	switch rapid.IntRange(0, 4).Draw(t, "gate") {
	case 0:
		n.When = []mix.Gate{over(mix.WaterTemp, 20)}
	case 1:
		n.When = []mix.Gate{{Factor: mix.OrderFactor, First: n.Members[0], Then: n.Members[1]}}
	}
	if rapid.Bool().Draw(t, "mended") {
		n.Mends = []mix.Mend{{Class: mix.Ref{ID: rapid.SampledFrom(classIDs[:6]).Draw(t, "mend")},
			To: rapid.SampledFrom([]mix.Verdict{mix.Clean, mix.Steps}).Draw(t, "to")}}
	}
	return n
}

func drawNotice(t *rapid.T, id string) mix.Notice {
	return mix.Notice{
		ID: mix.ID(id), Law: true,
		Effect:  rapid.SampledFrom([]mix.Effect{mix.Forbids, mix.Requires, mix.Allows, mix.Informs}).Draw(t, "effect"),
		Members: []mix.Ref{{ID: rapid.SampledFrom(someIDs).Draw(t, "member")}, {ID: rapid.SampledFrom(someIDs).Draw(t, "member")}},
		Until:   rapid.SampledFrom([]mix.Date{{}, date("2025-01-01")}).Draw(t, "until"),
	}
}

func drawObservation(t *rapid.T, id string) mix.Observation {
	o := mix.Observation{
		ID: mix.ID(id), Field: rapid.IntRange(0, 4).Draw(t, "field") == 0,
		Date:       date(fmt.Sprintf("2026-0%d-01", rapid.IntRange(1, 5).Draw(t, "month"))),
		Water:      mix.Ref{ID: rapid.SampledFrom([]mix.ID{"", "well", "rain"}).Draw(t, "water")},
		OrderKnown: rapid.Bool().Draw(t, "order known"),
		Vessel:     mix.Vessel{Liquid: must(unit.ParseVolume("700 mL"))},
	}
	if rapid.Bool().Draw(t, "warm") {
		o.Temperature = mix.Known(unit.Int(30))
	}
	for _, p := range rapid.SliceOfNDistinct(rapid.SampledFrom(productIDs[:4]), 1, 3, rapid.ID).Draw(t, "products") {
		o.Products = append(o.Products, mix.Portion{Ref: mix.Ref{ID: p}, Rate: must(unit.ParseRate("1 qt/ac")),
			Batch: rapid.SampledFrom([]string{"", "B1", "B2"}).Draw(t, "batch")})
	}
	o.Readings = []mix.Reading{reading("5 min", "gas=none foam=0 flakes=none")}
	if rapid.IntRange(0, 2).Draw(t, "quiet") > 0 { // mostly, so that clean verdicts and relaxed statements are not rare
		return o
	}
	r := &o.Readings[0]
	r.Gas = rapid.SampledFrom([]mix.GasSign{mix.NoGas, mix.GasNotRecorded, mix.Vented}).Draw(t, "gas")
	r.Flakes = rapid.SampledFrom([]mix.Extent{mix.None, mix.NotRecorded, mix.Heavy}).Draw(t, "flakes")
	r.Redisperse = rapid.SampledFrom([]mix.Redispersed{mix.RedispersedNotRecorded, mix.Fully}).Draw(t, "back")
	if rapid.Bool().Draw(t, "foam recorded") {
		r.Foam.Volume = must(unit.ParseVolume(rapid.SampledFrom([]string{"0 mL", "300 mL"}).Draw(t, "foam")))
	} else {
		r.Foam = mix.Head{}
	}
	return o
}

func drawMix(t *rapid.T) []mix.ID {
	if rapid.Bool().Draw(t, "products of jars") {
		return rapid.SliceOfNDistinct(rapid.SampledFrom(productIDs[:4]), 1, 4, rapid.ID).Draw(t, "mix")
	}
	return rapid.SliceOfNDistinct(rapid.SampledFrom(someIDs), 1, 5, rapid.ID).Draw(t, "mix")
}

func drawSituation(t *rapid.T) mix.Situation {
	var s mix.Situation
	if rapid.Bool().Draw(t, "know hardness") {
		s.Hardness = mix.Known(unit.Int(rapid.SampledFrom([]int64{10, 400}).Draw(t, "hardness")))
	}
	if rapid.Bool().Draw(t, "know temperature") {
		s.WaterTemp = mix.Known(unit.Int(rapid.SampledFrom([]int64{10, 30}).Draw(t, "temperature")))
	}
	if rapid.Bool().Draw(t, "know carrier") {
		s.Carrier = []mix.ID{"soft"}
	}
	if rapid.Bool().Draw(t, "know order") {
		s.Order = rapid.Permutation(someIDs).Draw(t, "order")
	}
	return s
}

// softer reports whether the second verdict asks for less caution. Unknown and
// clean ask for none, but what was unknown may not become clean either.
func softer(before, after mix.Verdict) bool {
	if before >= mix.Steps {
		return after < before
	}
	return before == mix.Unknown && after == mix.Clean
}

func TestReactionNeverSoftens(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		b, m, s := drawBook(t), drawMix(t), drawSituation(t)
		before := b.judge().Mix(m, s)
		if rapid.Bool().Draw(t, "statement") {
			n := drawInteraction(t, "new")
			if n.Verdict < mix.Steps {
				n.Verdict = mix.Steps
			}
			b.Interactions = append(b.Interactions, n)
		} else {
			o := drawObservation(t, "new")
			o.Readings[0].Flakes = mix.Heavy
			b.Observations = append(b.Observations, o)
		}
		after := b.judge().Mix(m, s)
		if softer(before.Verdict, after.Verdict) {
			t.Fatalf("%v: a reaction softened %s\nto %s", m, tell(before), tell(after))
		}
	})
}

func TestProductNeverSoftens(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		b, m, s := drawBook(t), drawMix(t), drawSituation(t)
		more := rapid.SampledFrom(someIDs).Draw(t, "added")
		j := b.judge()
		before, after := j.Mix(m, s), j.Mix(append(slices.Clone(m), more), s)
		mended := false
		for _, n := range b.Interactions {
			for _, d := range n.Mends {
				mended = mended || j.Index().IsA(more, d.Class.ID)
			}
		}
		if before.Verdict >= mix.Steps && after.Verdict < before.Verdict && (!mended || before.Verdict == mix.Never) {
			t.Fatalf("%v and %v: a product softened %s\nto %s", m, more, tell(before), tell(after))
		}
	})
}

func TestClassInferenceIsNeverClean(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		b, m, s := drawBook(t), drawMix(t), drawSituation(t)
		a := b.judge().Mix(m, s)
		if a.Verdict != mix.Clean {
			return
		}
		for _, f := range a.Findings {
			if f.Verdict != mix.Clean {
				continue
			}
			switch e := f.Evidence.(type) {
			case *compat.JarSet:
				for _, id := range a.Items {
					if !slices.Contains(e.Products, id) {
						t.Fatalf("%v: clean by jars of %v", m, e.Products)
					}
				}
			case compat.Statement:
				named := map[mix.ID]bool{}
				for _, r := range e.Members {
					named[r.ID] = true
				}
				if f.Mend != nil {
					named[f.Mend.Class.ID] = true
				}
				for _, id := range a.Items {
					if !named[id] {
						t.Fatalf("%v: clean by %s, which does not name %s", m, e.ID, id)
					}
				}
			default:
				t.Fatalf("%v: clean by %s", m, evidenceName(f.Evidence))
			}
		}
	})
}

func TestEveryVerdictHasEvidence(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		b, m, s := drawBook(t), drawMix(t), drawSituation(t)
		a := b.judge().Mix(m, s)
		d := a.Deciding()
		switch {
		case a.Verdict == mix.Unknown:
			if d != nil || a.Grade != mix.NoGrade {
				t.Fatalf("unknown is decided by nothing: %s", tell(a))
			}
			return
		case d == nil || d.Verdict != a.Verdict || a.Grade == mix.NoGrade || d.Grade != a.Grade:
			t.Fatalf("verdict without evidence of it: %s", tell(a))
		}
		switch e := d.Evidence.(type) {
		case compat.Statement:
			if len(e.Sources) == 0 {
				t.Fatalf("no source to follow: %s", tell(a))
			}
		case compat.Ruling:
		case *compat.JarSet:
			if len(e.Jars) == 0 {
				t.Fatalf("no record to follow: %s", tell(a))
			}
		default:
			t.Fatalf("%T", e)
		}
		for _, f := range a.Findings {
			if f.Verdict > a.Verdict {
				t.Fatalf("a finding asks for more: %s", tell(a))
			}
		}
	})
}

func TestOrderChangesNothing(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		b, m, s := drawBook(t), drawMix(t), drawSituation(t)
		before := inFull(b.judge().Mix(m, s))
		c := &book{b.Book}
		c.Classes = rapid.Permutation(b.Classes).Draw(t, "classes")
		c.Products = rapid.Permutation(b.Products).Draw(t, "products")
		c.Interactions = rapid.Permutation(b.Interactions).Draw(t, "interactions")
		c.Notices = rapid.Permutation(b.Notices).Draw(t, "notices")
		c.Observations = rapid.Permutation(b.Observations).Draw(t, "observations")
		c.Criteria = rapid.Permutation(b.Criteria).Draw(t, "criteria")
		m = rapid.Permutation(m).Draw(t, "items")
		if after := inFull(c.judge().Mix(m, s)); before != after {
			t.Fatalf("order of records changed\n%s\nto\n%s", before, after)
		}
	})
}

func TestCleanJarsNeverCancelHazards(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		b, m, s := drawBook(t), drawMix(t), drawSituation(t)
		before := b.judge().Mix(m, s)
		if before.Verdict != mix.Never {
			return
		}
		held := strings.Join(strings.Fields(strings.Trim(fmt.Sprint(m), "[]")), " ")
		for n := range rapid.IntRange(1, 6).Draw(t, "jars") {
			b.jar(fmt.Sprintf("new%d", n), fmt.Sprintf("2026-08-0%d", n+1), held+": clean")
		}
		if after := b.judge().Mix(m, s); after.Verdict != mix.Never {
			t.Fatalf("%v: clean jars turned %s\ninto %s", m, tell(before), tell(after))
		}
	})
}

func TestPairIsMix(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		b := drawBook(t)
		shared := b.judge()
		for range 8 {
			p := rapid.SliceOfNDistinct(rapid.SampledFrom(someIDs), 2, 2, rapid.ID).Draw(t, "pair")
			fresh := b.judge().Mix(p, mix.Situation{})
			got, want := inFull(*shared.Pair(p[0], p[1])), inFull(fresh)
			if got != want {
				t.Fatalf("%v: (-mix +pair)\n%s", p, cmp.Diff(strings.Split(want, "\n"), strings.Split(got, "\n")))
			}
		}
	})
}

// inFull writes everything an answer says.
func inFull(a compat.Answer) string {
	var b strings.Builder
	fmt.Fprintln(&b, a.Items, a.Verdict, a.Grade, a.Kind, a.Hazards, a.Handling, a.Untested, a.Symptoms)
	writeDoubts(&b, a.Doubts)
	for _, f := range a.Findings {
		fmt.Fprintln(&b, f.Part, f.Verdict, f.Stated, f.Grade, f.Basis, evidenceName(f.Evidence), f.Symptoms, f.Hazards, f.MendItem)
		for _, m := range f.Matches {
			fmt.Fprintln(&b, " match", m.Item, m.Member, m.Path)
		}
		fmt.Fprintln(&b, " open", gateNames(f.Open), "failed", gateNames(f.Failed), f.Mend != nil)
		writeDoubts(&b, f.Doubts)
	}
	return b.String()
}

func gateNames(list []mix.Gate) []string {
	var all []string
	for _, g := range list {
		all = append(all, fmt.Sprint(g.Factor, g.Written, g.Ref.ID))
	}
	return all
}

func writeDoubts(b *strings.Builder, list []compat.Doubt) {
	for _, d := range list {
		fmt.Fprint(b, "  doubt ", d.Code, d.Items, d.Symptoms, gateNames(d.Gates), d.Number)
		for _, e := range d.Evidence {
			fmt.Fprint(b, " ", evidenceName(e))
		}
		if d.Count != nil {
			fmt.Fprint(b, *d.Count)
		}
		fmt.Fprintln(b)
	}
}
