package compat_test

import (
	"slices"
	"testing"

	"tankleaf.example/internal/compat"
	"tankleaf.example/internal/mix"
)

func sources(list string) func(*mix.Interaction) {
	return func(n *mix.Interaction) {
		n.Sources = nil
		for _, r := range refs(list) {
			n.Sources = append(n.Sources, mix.Cite{Ref: r})
		}
	}
}

// TestGradeOrder holds what the grades are for: of evidence that asks for the same
// caution the strongest decides and gives the answer its grade.
func TestGradeOrder(t *testing.T) {
	want := []mix.Grade{mix.Rule, mix.Study, mix.Jars, mix.SingleJar, mix.Report, mix.Practice, mix.Inference, mix.NoGrade}
	if !slices.IsSortedFunc(want, func(a, b mix.Grade) int { return int(b) - int(a) }) || int(want[0]) != len(want)-1 {
		t.Errorf("the grades are not in the order of the design, with practice below every record: %v", want)
	}
	says := func(source string) func(*book) {
		return func(b *book) { b.says("said", "apart:n1 n2:flakes", sources(source)) }
	}
	jars := func(days ...string) func(*book) {
		return func(b *book) {
			for _, d := range days {
				b.jar("j"+d, d, "n1 n2: flakes=heavy")
			}
		}
	}
	report := func(b *book) { b.jar("seen", "2026-05-01", "n1 n2: flakes=heavy", field) }
	byClass := func(b *book) {
		b.class("k1", "")
		b.class("k2", "")
		b.Products[9].Classes, b.Products[10].Classes = refs("k1"), refs("k2")
		b.says("kin", "apart:k1 k2:flakes")
	}
	for _, c := range []struct {
		why          string
		first, other func(*book)
		decides      string
		grade        mix.Grade
	}{
		{"a study before replicated jars", says("paper"), jars("2026-05-01", "2026-05-02"), "said", mix.Study},
		{"replicated jars before practice", says("practice"), jars("2026-05-01", "2026-05-02"), "[n1 n2]", mix.Jars},
		{"a single jar before practice: it can be followed to its record", says("practice"), jars("2026-05-01"), "[n1 n2]", mix.SingleJar},
		{"two of one day, water and batch are one", says("practice"), func(b *book) {
			b.jar("j1", "2026-05-01", "n1 n2: flakes=heavy")
			b.jar("j2", "2026-05-01", "n1 n2: flakes=heavy")
		}, "[n1 n2]", mix.SingleJar},
		{"a report before practice", says("practice"), report, "[n1 n2]", mix.Report},
		{"practice that names the products before their classes", says("practice"), byClass, "said", mix.Practice},
		{"no known source is worth a practice", says("gone"), jars("2026-05-01"), "[n1 n2]", mix.SingleJar},
		{"the trade press is worth a practice", says("press"), report, "[n1 n2]", mix.Report},
		{"memory is worth a practice", says("memory"), report, "[n1 n2]", mix.Report},
		{"of several sources the strongest counts", says("memory law"), says("paper"), "said", mix.Rule},
	} {
		b := orchard()
		c.first(b)
		c.other(b)
		a := mixed(b.judge(), "n1 n2")
		if a.Verdict != mix.Apart || a.Grade != c.grade || evidenceName(a.Deciding().Evidence) != c.decides {
			t.Errorf("%s: want apart by %s, %v; got %s", c.why, c.decides, c.grade, tell(a))
		}
	}
}

// TestGradeNeverSettlesTheVerdict: the more cautious side wins, whoever says it.
func TestGradeNeverSettlesTheVerdict(t *testing.T) {
	for _, c := range []struct {
		why, strong, weak, source string
		want                      mix.Verdict
		grade                     mix.Grade
	}{
		{"memory of a hazard beats a study of steps", "steps:n1 n2:foam", "never:n1 n2:gas", "memory", mix.Never, mix.Practice},
		{"practice of keeping apart beats a study of no reaction", "clean:n1 n2:flakes", "apart:n1 n2:flakes", "practice", mix.Apart, mix.Practice},
	} {
		b := orchard()
		b.says("strong", c.strong)
		b.says("weak", c.weak, sources(c.source))
		b.clean3("j", "n1 n2")
		if a := mixed(b.judge(), "n1 n2"); a.Verdict != c.want || a.Grade != c.grade {
			t.Errorf("%s: got %s", c.why, tell(a))
		}
	}
}

// TestUnreadSources holds the doubts on where a statement comes from: nothing that
// could be read, or part of it that could not.
func TestUnreadSources(t *testing.T) {
	mend := func(source string) func(*mix.Interaction) {
		return func(n *mix.Interaction) {
			n.Mends = []mix.Mend{{Class: mix.Ref{ID: "agent"}, To: mix.Steps, Sources: []mix.Cite{{Ref: mix.Ref{ID: mix.ID(source)}}}}}
		}
	}
	plain := func(*mix.Interaction) {}
	for _, c := range []struct {
		why, sources string
		edit         func(*mix.Interaction)
		grade        mix.Grade
		want         compat.DoubtCode
	}{
		{"published", "paper", plain, mix.Study, ""},
		{"law", "law", plain, mix.Rule, ""},
		{"two published", "paper law", plain, mix.Rule, ""},
		{"practice alone", "practice", plain, mix.Practice, compat.NoSourceSeen},
		{"memory alone", "memory", plain, mix.Practice, compat.NoSourceSeen},
		{"memory and practice", "memory practice", plain, mix.Practice, compat.NoSourceSeen},
		{"a source that is in no book", "gone", plain, mix.Practice, compat.NoSourceSeen},
		{"the press alone", "press", plain, mix.Practice, compat.NoSourceSeen},
		{"published, and memory", "paper memory", plain, mix.Study, compat.PartRemembered},
		{"the other way round", "practice paper", plain, mix.Study, compat.PartRemembered},
		{"published, and the press: both can be read", "paper press", plain, mix.Study, ""},
		{"published, its mend from practice", "paper", mend("practice"), mix.Study, compat.PartRemembered},
		{"published with its mend", "paper", mend("paper"), mix.Study, ""},
		{"nothing published is said once", "memory", mend("practice"), mix.Practice, compat.NoSourceSeen},
	} {
		b := orchard()
		b.says("said", "apart:n1 n2:flakes", sources(c.sources), c.edit)
		f := finding(t, mixed(b.judge(), "n1 n2"), "said")
		if f.Grade != c.grade {
			t.Errorf("%s: want %v, got %v", c.why, c.grade, f.Grade)
		}
		for _, code := range []compat.DoubtCode{compat.NoSourceSeen, compat.PartRemembered} {
			if hasDoubt(f.Doubts, code) != (code == c.want) {
				t.Errorf("%s: doubt %q: want %v in %v", c.why, code, code == c.want, f.Doubts)
			}
		}
	}
}

// TestUnreadNotice: a rule of law or label binds however we know of it, and the
// reader is told.
func TestUnreadNotice(t *testing.T) {
	for _, c := range []struct {
		sources string
		want    compat.DoubtCode
	}{{"law", ""}, {"memory", compat.NoSourceSeen}, {"law memory", compat.PartRemembered}} {
		b := orchard()
		b.notice("no", mix.Forbids, "n1 n2", func(n *mix.Notice) {
			n.Sources = nil
			for _, r := range refs(c.sources) {
				n.Sources = append(n.Sources, mix.Cite{Ref: r})
			}
		})
		a := mixed(b.judge(), "n1 n2")
		if a.Verdict != mix.Never || a.Grade != mix.Rule {
			t.Errorf("%s: got %s", c.sources, tell(a))
		}
		for _, code := range []compat.DoubtCode{compat.NoSourceSeen, compat.PartRemembered} {
			if hasDoubt(a.Doubts, code) != (code == c.want) {
				t.Errorf("%s: doubt %q: want %v in %s", c.sources, code, code == c.want, tell(a))
			}
		}
	}
}
