package dataset

import (
	"fmt"
	"slices"
	"strings"

	"tankleaf.example/internal/diag"
	"tankleaf.example/internal/mix"
	"tankleaf.example/internal/yamlpos"
)

// verdict is a verdict that a record may state; no evidence is stated by having
// no record.
func verdict(words ...mix.Verdict) yamlpos.Kind[mix.Verdict] {
	var names []string
	for _, v := range words {
		names = append(names, v.String())
	}
	k := yamlpos.Words("verdict", names, func(s string) (mix.Verdict, bool) {
		v, ok := mix.ParseVerdict(s)
		return v, ok && slices.Contains(words, v)
	})
	read := k.Read
	k.Read = func(n yamlpos.Node) (mix.Verdict, bool) {
		if v, ok := mix.ParseVerdict(n.Value()); ok && !slices.Contains(words, v) {
			n.Problem(fmt.Sprintf("verdict %q cannot be stated here", v), "write one of "+strings.Join(names, ", "))
			return mix.Unknown, false
		}
		return read(n)
	}
	return k
}

func (l *loader) interaction() yamlpos.Kind[mix.Interaction] {
	type i = mix.Interaction
	return yamlpos.Object[i]{
		Name:  "interaction",
		Start: func(r *i, at diag.Pos) { r.At = at },
		Check: l.checkInteraction,
		Fields: []yamlpos.Field[i]{
			must("id", l.newID(interactions, "interaction"), func(r *i, v mix.ID) { r.ID = v }, "names the interaction"),
			must("members", yamlpos.AtLeast(2, "members", many("members", l.itemRef())), func(r *i, v []mix.Ref) { r.Members = v }, "two or more classes or products"),
			must("kind", enum("kind", mix.ParseKind), func(r *i, v mix.Kind) { r.Kind = v }, "physical, chemical, biological or legal"),
			may("symptoms", many("symptoms", enum("symptom", mix.ParseSymptom)), func(r *i, v []mix.Symptom) { r.Symptoms = v }, "what goes wrong, or for verdict clean what was looked for"),
			must("verdict", verdict(mix.Clean, mix.Steps, mix.Apart, mix.Never), func(r *i, v mix.Verdict) { r.Verdict = v }, "clean, steps, apart or never"),
			may("hazards", many("hazards", enum("hazard", mix.ParseHazard)), func(r *i, v []mix.Hazard) { r.Hazards = v }, "to people or equipment; they call for verdict never"),
			must("what", l.text(), func(r *i, v mix.Text) { r.What = v }, "one line: what happens"),
			may("mechanism", l.text(), func(r *i, v mix.Text) { r.Mechanism = v }, "why it happens"),
			may("when", l.gates(), func(r *i, v []mix.Gate) { r.When = v }, "conditions that must all hold for it to apply"),
			may("worse", many("texts", l.text()), func(r *i, v []mix.Text) { r.Worse = v }, "what makes it worse"),
			may("steps", many("steps", l.text()), func(r *i, v []mix.Text) { r.Steps = v }, "what makes the mix workable; needed with verdict steps"),
			may("mends", many("mends", l.mend()), func(r *i, v []mix.Mend) { r.Mends = v }, "classes whose presence softens this statement"),
			may("instead", l.instead(), func(r *i, v mix.Instead) { r.Instead = v }, "what to use in place of one partner"),
			may("disputes", many("disputes", l.dispute()), func(r *i, v []mix.Dispute) { r.Disputes = v }, "published positions that disagree"),
			must("sources", l.cites(), func(r *i, v []mix.Cite) { r.Sources = v }, citesDoc),
		},
	}.Kind()
}

func (l *loader) mend() yamlpos.Kind[mix.Mend] {
	type m = mix.Mend
	return yamlpos.Object[m]{
		Name:  "mend",
		Start: func(r *m, at diag.Pos) { r.At = at },
		Fields: []yamlpos.Field[m]{
			must("class", l.classRef(), func(r *m, v mix.Ref) { r.Class = v }, "class whose member in the same mix softens the statement"),
			must("to", verdict(mix.Steps, mix.Clean), func(r *m, v mix.Verdict) { r.To = v }, "steps or clean"),
			must("how", l.text(), func(r *m, v mix.Text) { r.How = v }, "what to do with it: amount, place in the order"),
			must("sources", l.cites(), func(r *m, v []mix.Cite) { r.Sources = v }, citesDoc),
		},
	}.Kind()
}

func (l *loader) instead() yamlpos.Kind[mix.Instead] {
	type i = mix.Instead
	return yamlpos.Object[i]{
		Name:  "instead",
		Start: func(r *i, at diag.Pos) { r.At = at },
		Fields: []yamlpos.Field[i]{
			may("text", l.text(), func(r *i, v mix.Text) { r.Text = v }, "in words"),
			may("use", many("items", l.itemRef()), func(r *i, v []mix.Ref) { r.Use = v }, "classes or products to use"),
		},
		Check: func(_ *i, f yamlpos.Found) {
			if !f.Has("text") && !f.Has("use") {
				f.Problem("instead names nothing", "add text: or use:")
			}
		},
	}.Kind()
}

func (l *loader) dispute() yamlpos.Kind[mix.Dispute] {
	type d = mix.Dispute
	return yamlpos.Object[d]{
		Name:  "position",
		Start: func(r *d, at diag.Pos) { r.At = at },
		Fields: []yamlpos.Field[d]{
			must("says", l.text(), func(r *d, v mix.Text) { r.Says = v }, "what is held there"),
			must("sources", l.cites(), func(r *d, v []mix.Cite) { r.Sources = v }, citesDoc),
		},
	}.Kind()
}

// callsForNever tells the hazards that no step or separation inside one tank can
// take away. Handling a concentrate is dangerous with and without a partner.
func callsForNever(h mix.Hazard) bool { return h != mix.NoHazard && h != mix.Concentrate }

func (l *loader) checkInteraction(r *mix.Interaction, f yamlpos.Found) {
	for _, h := range r.Hazards {
		if callsForNever(h) && r.Verdict != mix.Never && r.Verdict != mix.Unknown {
			f.At("verdict").Problem(fmt.Sprintf("verdict %v with the hazard %v", r.Verdict, h), "write never: a hazard has no other verdict")
		}
	}
	if r.Verdict == mix.Steps && len(r.Steps) == 0 {
		f.At("verdict").Problem("verdict steps without steps", "add steps: a list of what to do")
	}
	if r.Verdict == mix.Never && len(r.Steps) > 0 {
		f.At("steps").Problem("steps with verdict never", "nothing makes it workable: remove them, or say under instead what to do")
	}
	if len(r.Symptoms) == 0 && r.Kind != mix.Legal && r.Kind != mix.NoKind {
		f.At("symptoms").Problem(fmt.Sprintf("%v interaction without symptoms", r.Kind), "add symptoms: what is seen, or looked for")
	}
	checkRepeats(f.At("symptoms"), r.Symptoms)
	checkRepeats(f.At("hazards"), r.Hazards)
	checkMends(r, f)
	l.twice(r.Members)
	for _, u := range r.Instead.Use {
		if slices.ContainsFunc(r.Members, func(m mix.Ref) bool { return m.ID == u.ID }) {
			l.problems.Add(u.At, fmt.Sprintf("%q is a member of this interaction", u.ID), "name what to use in its place")
		}
	}
}

func checkRepeats[T interface {
	comparable
	String() string
}](at yamlpos.Node, list []T) {
	for i, v := range list {
		if slices.Contains(list[:i], v) {
			at.Problem(fmt.Sprintf("%q is listed twice", v.String()), "name it once")
		}
	}
}

func checkMends(r *mix.Interaction, f yamlpos.Found) {
	for _, m := range r.Mends {
		switch {
		case r.Verdict == mix.Never, slices.ContainsFunc(r.Hazards, callsForNever):
			f.At("mends").Problem("mends of a hazard or a prohibition", "remove them: neither can be mended")
			return
		case r.Verdict != mix.Unknown && m.To >= r.Verdict:
			f.At("mends").Problem(fmt.Sprintf("a mend to %v does not soften verdict %v", m.To, r.Verdict), "write a softer one, or remove the mend")
			return
		}
	}
}

// twice notes members to be looked at once it is known which are products: two
// of one class react with each other, but a product with itself is no mix.
func (l *loader) twice(members []mix.Ref) {
	for i, m := range members {
		if slices.ContainsFunc(members[:i], func(r mix.Ref) bool { return r.ID == m.ID }) {
			l.repeats = append(l.repeats, m)
		}
	}
}

func (l *loader) notice() yamlpos.Kind[mix.Notice] {
	type n = mix.Notice
	return yamlpos.Object[n]{
		Name:  "notice",
		Start: func(r *n, at diag.Pos) { r.At = at },
		Check: checkNotice,
		Fields: []yamlpos.Field[n]{
			must("id", l.newID(notices, "notice"), func(r *n, v mix.ID) { r.ID = v }, "names the notice"),
			must("basis", word("basis", "law", "label"), func(r *n, v string) { r.Law = v == "law" }, "law or label"),
			may("place", l.ref(places, "place"), func(r *n, v mix.Ref) { r.Place = v }, "where it holds; left out: everywhere"),
			must("members", some("members", l.itemRef()), func(r *n, v []mix.Ref) { r.Members = v }, "one or more classes or products"),
			must("effect", enum("effect", mix.ParseEffect), func(r *n, v mix.Effect) { r.Effect = v }, "forbids, requires, allows or informs"),
			may("when", l.gates(), func(r *n, v []mix.Gate) { r.When = v }, "conditions that must all hold for it to apply"),
			must("title", l.text(), func(r *n, v mix.Text) { r.Title = v }, "shown to readers"),
			must("says", l.text(), func(r *n, v mix.Text) { r.Says = v }, "the rule in words"),
			may("steps", many("steps", l.text()), func(r *n, v []mix.Text) { r.Steps = v }, "needed with effect requires"),
			may("from", anyDate(), func(r *n, v mix.Date) { r.From = v }, "first day it holds"),
			may("until", anyDate(), func(r *n, v mix.Date) { r.Until = v }, "last day it holds"),
			must("sources", l.cites(), func(r *n, v []mix.Cite) { r.Sources = v }, citesDoc),
		},
	}.Kind()
}

func checkNotice(r *mix.Notice, f yamlpos.Found) {
	if r.Effect == mix.Requires && len(r.Steps) == 0 {
		f.At("effect").Problem("effect requires without steps", "add steps: a list of what is required")
	}
	if !r.From.IsZero() && !r.Until.IsZero() && r.From.Compare(r.Until) > 0 {
		f.At("until").Problem("notice ends before it begins", "exchange from and until")
	}
}

func (l *loader) source() yamlpos.Kind[mix.Source] {
	type s = mix.Source
	return yamlpos.Object[s]{
		Name:  "source",
		Start: func(r *s, at diag.Pos) { r.At = at },
		Check: func(r *s, f yamlpos.Found) {
			if r.Year > l.today.Year && !l.today.IsZero() {
				f.At("year").Problem(fmt.Sprintf("year %d lies after the day of publication", r.Year), "check the year")
			}
		},
		Fields: []yamlpos.Field[s]{
			must("id", l.newID(sources, "source"), func(r *s, v mix.ID) { r.ID = v }, "names the source"),
			must("kind", enum("kind", mix.ParseSourceKind), func(r *s, v mix.SourceKind) { r.Kind = v }, "what it is; practice: taught in the trade without one; memory: not yet verified"),
			must("title", line("a title"), func(r *s, v string) { r.Title = v }, "in its own language"),
			may("authors", line("names"), func(r *s, v string) { r.Authors = v }, "as cited"),
			may("year", count("year", 1700, 2200), func(r *s, v int) { r.Year = v }, "of publication"),
			may("where", line("text"), func(r *s, v string) { r.Where = v }, "journal, publisher, office"),
			may("link", link(), func(r *s, v string) { r.Link = v }, "https address"),
			may("partial", yamlpos.Bool(), func(r *s, v bool) { r.Partial = v }, "true: only an abstract or an opening was read"),
		},
	}.Kind()
}
