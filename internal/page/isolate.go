package page

import (
	"strings"

	"tankleaf.example/internal/compat"
	"tankleaf.example/internal/mix"
)

// CaseList is the cases of a question in words, for one who has no page to follow.
type CaseList struct {
	Title  string
	Cases  []CaseView
	Parted []PartedView
	Heads  CaseHeads
}

// CaseHeads is the words around cases.
type CaseHeads struct {
	None, Careful, Shrink, CanBe, Ruled, Clashes, Classes, Mattered, NoMatter, Generalize, Tested, Untested, Misread, LeftOut, Plan string
}

// Isolate puts cases into words in one language of the catalogues. The title is an
// investigation's, or the names of the items that were asked about.
func Isolate(in Inputs, lang mix.Lang, inv *mix.Investigation, items []mix.ID, cases []compat.Case) CaseList {
	l := looseLeaf(in, lang)
	list := CaseList{Title: l.names(items)}
	if inv != nil {
		list.Title = l.phrase(inv.Title).Text
	}
	list.Cases, list.Parted = l.cases(cases)
	list.Heads = CaseHeads{
		None: l.t("case.none"), Careful: l.t("case.next-careful"), Shrink: l.t("case.shrink"), CanBe: l.t("case.can-be"), Ruled: l.t("case.ruled"), Clashes: l.t("case.clashes"),
		Classes: l.t("case.class-level"), Mattered: l.t("case.mattered"), NoMatter: l.t("case.no-matter"), Generalize: l.t("case.generalize"),
		Tested: l.t("case.tested"), Untested: l.t("case.untested"), Misread: l.t("case.misread"), LeftOut: l.t("case.left-out"), Plan: l.t("case.plan"),
	}
	return list
}

// PlanLine is one line of a plan of jars: a result, and what it leads to.
type PlanLine struct {
	Depth int // jars before it
	Text  string
}

// Plan puts the plan of jars of a case into words, to at most so many jars in a
// row.
func Plan(in Inputs, lang mix.Lang, c *compat.Case, jars int) []PlanLine {
	return looseLeaf(in, lang).planLines(c.Plan(jars))
}

func (l *leaf) planLines(n *compat.PlanNode) []PlanLine {
	if n == nil || n.Jar == nil {
		return nil
	}
	lines := []PlanLine{{0, l.t("case.plan-run", "items", l.jarNames(n))}}
	return l.branches(lines, n, 0)
}

func (l *leaf) jarNames(n *compat.PlanNode) string {
	return strings.Join(l.namesOf(n.Jar.Products), " + ")
}

// branches appends what follows each result of a jar.
func (l *leaf) branches(lines []PlanLine, n *compat.PlanNode, depth int) []PlanLine {
	for _, b := range []struct {
		key string
		to  *compat.PlanNode
	}{{"case.plan-reacts", n.Reacts}, {"case.plan-quiet", n.Clear}} {
		if b.to == nil {
			continue
		}
		lines = append(lines, PlanLine{depth + 1, l.t(b.key, "then", l.then(b.to))})
		if b.to.Jar != nil {
			lines = l.branches(lines, b.to, depth+1)
		}
	}
	return lines
}

// then says where a result leads: to the causes, to the jar after it, or no
// further than the plan was asked for.
func (l *leaf) then(n *compat.PlanNode) string {
	switch {
	case n.Settled && len(n.Found) > 0:
		return l.t("case.plan-found", "causes", l.either(n.Found, "list.and-from"))
	case n.Settled:
		return l.t("case.plan-nothing")
	case n.Jar != nil:
		return l.t("case.plan-run", "items", l.jarNames(n))
	}
	return l.t("case.left", "n", l.words.Count(n.Possible))
}
