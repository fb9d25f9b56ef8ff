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
)

// The invariants of the judgement, over random books. Each test names the one it
// holds.

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
		id := oneOf(t, "named", "first", "new", "zuletzt") // before and after all others
		about := rapid.Bool().Draw(t, "about the mix")
		if rapid.Bool().Draw(t, "statement") {
			n := drawInteraction(t, id)
			n.Verdict = max(n.Verdict, mix.Steps)
			n.Mends = nil // one that is met says that the mix is clean
			for i := range n.Members {
				if about {
					n.Members[i].ID = rapid.SampledFrom(m).Draw(t, "of the mix")
				}
			}
			b.Interactions = append(b.Interactions, n)
		} else {
			o := drawObservation(t, id)
			o.Readings[0].Flakes = mix.Heavy
			if held := onlyProducts(m); about && len(held) > 0 {
				o.Products = o.Products[:1]
				o.Products[0].ID = held[0]
				for _, p := range held[1:] {
					o.Products = append(o.Products, mix.Portion{Ref: mix.Ref{ID: p}})
				}
			}
			b.Observations = append(b.Observations, o)
		}
		after := b.judge().Mix(m, s)
		if softer(before.Verdict, after.Verdict) {
			t.Fatalf("%v: a reaction softened %s\nto %s", m, tell(before), tell(after))
		}
	})
}

func onlyProducts(items []mix.ID) []mix.ID {
	return slices.DeleteFunc(slices.Clone(items), func(id mix.ID) bool { return !slices.Contains(productIDs, id) })
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
