package main

import (
	"fmt"
	"slices"
	"strings"

	"tankleaf.example/internal/compat"
	"tankleaf.example/internal/mix"
	"tankleaf.example/internal/page"
	"tankleaf.example/internal/site"
)

var isolateCommand = &command{
	name: "isolate",
	args: "[INVESTIGATION | ITEM…] [--plan N] [--lang CODE] [--json]",
	does: "tell what may have caused each symptom, and the jar that tells most next",
	long: `
Works from the records of an investigation, or of a mix of products and what was
seen in parts of it; without a name, from every investigation. A class stands for
those of its products that have records. For each symptom it
tells what is established, narrowed down or contradicted, what was ruled out by
which record, the same at the level of classes, what made a difference and what
made none, and the jar whose result would tell most. --plan goes on from there: the
jars that follow from each result, N in a row at most.

  tankleaf isolate foam-and-firm-walls
  tankleaf isolate sallowmere tartpitcher foamwren
  tankleaf isolate bicarbonate acidic-material
  tankleaf isolate three-way-haze --plan 3
  tankleaf isolate --json
`,
	run: runIsolate,
}

// longestPlan is how many jars in a row a plan may have: no plan of the demo office
// needs as many, and each more doubles what is printed.
const longestPlan = 12

// inquiry is one question: the records of an investigation, or of a mix.
type inquiry struct {
	investigation *mix.Investigation
	items         []mix.ID
	cases         []compat.Case
}

func runIsolate(c *call) error {
	plan, lang := c.flags.Int("plan", 0, ""), c.flags.String("lang", "", "")
	if err := c.want(0, 12); err != nil {
		return err
	}
	if *plan < 0 || *plan > longestPlan {
		return usagef(fmt.Sprintf("write a number from 0 to %d", longestPlan), "isolate: --plan %d", *plan)
	}
	office, err := c.mustRead()
	if err != nil {
		return err
	}
	words, err := language(office, *lang)
	if err != nil {
		return err
	}
	judge := compat.New(office.Index)
	asked, err := inquiries(office, judge, c.args)
	if err != nil {
		return err
	}
	if c.json {
		return c.printJSON(map[string]any{"inquiries": inquiriesJSON(judge, asked, *plan)})
	}
	in := office.Inputs(judge)
	for i := range asked {
		if i > 0 {
			fmt.Fprintln(c.out)
		}
		c.printInquiry(in, words, &asked[i], *plan)
	}
	return nil
}

// inquiries finds what is asked about: every investigation, one, or a mix.
func inquiries(o *site.Office, judge *compat.Judge, args []string) ([]inquiry, error) {
	if len(args) == 0 {
		var all []inquiry
		for i := range o.Book.Investigations {
			inv := &o.Book.Investigations[i]
			all = append(all, inquiry{investigation: inv, cases: judge.Investigate(inv.ID)})
		}
		return all, nil
	}
	if inv := o.Index.Investigation(mix.ID(args[0])); inv != nil && len(args) == 1 {
		return []inquiry{{investigation: inv, cases: judge.Investigate(inv.ID)}}, nil
	}
	found, err := items(o, args)
	if err != nil {
		if len(args) == 1 {
			return nil, unknownID("investigation, product or class", args[0], append(investigationNames(o), itemNames(o)...))
		}
		return nil, err
	}
	held, err := withRecords(o, found)
	if err != nil {
		return nil, err
	}
	return []inquiry{{items: found, cases: judge.CasesOf(held)}}, nil
}

// withRecords returns the products that items stand for: a product for itself, a class
// for those of its products that some observation holds.
func withRecords(o *site.Office, asked []mix.ID) ([]mix.ID, error) {
	seen := map[mix.ID]bool{}
	for i := range o.Book.Observations {
		for _, p := range o.Book.Observations[i].Products {
			seen[p.ID] = true
		}
	}
	var list []mix.ID
	for _, id := range asked {
		if o.Index.Product(id) != nil {
			list = append(list, id)
			continue
		}
		before := len(list)
		for i := range o.Book.Products {
			if p := o.Book.Products[i].ID; seen[p] && o.Index.IsA(p, id) {
				list = append(list, p)
			}
		}
		if len(list) == before {
			return nil, usagef("records are of products: name some, or a class that has any in a record", "no record holds a product of class %q", id)
		}
	}
	slices.Sort(list)
	return slices.Compact(list), nil
}

func investigationNames(o *site.Office) []string {
	return ids(o.Book.Investigations, func(i *mix.Investigation) mix.ID { return i.ID })
}

// inquiryNames lists what isolate may be asked about, for completion.
func (c *call) inquiryNames() []string {
	office, _, err := c.read()
	if err != nil {
		return nil
	}
	return append(investigationNames(office), itemNames(office)...)
}

// printInquiry prints the conclusion of each symptom, then what it rests on.
func (c *call) printInquiry(in page.Inputs, lang mix.Lang, q *inquiry, plan int) {
	list := page.Isolate(in, lang, q.investigation, q.items, q.cases)
	fmt.Fprintf(c.out, "%s\n", list.Title)
	if len(list.Cases) == 0 {
		fmt.Fprintf(c.out, "%s\n", list.Heads.None)
	}
	for _, p := range list.Parted {
		fmt.Fprintf(c.out, "%s\n", p.Text)
		for _, w := range p.Ways {
			fmt.Fprintf(c.out, "  %s %s\n", w.Text, linkNames(w.Jars, ", "))
		}
	}
	for i := range list.Cases {
		c.printCase(&list.Cases[i], &list.Heads)
		if plan > 0 {
			c.printJars(list.Heads.Plan, page.Plan(in, lang, &q.cases[i], plan))
		}
	}
}

func (c *call) printCase(v *page.CaseView, h *page.CaseHeads) {
	fmt.Fprintf(c.out, "\n%s: %s\n", v.Symptom, v.StampWords)
	for _, s := range v.Says {
		fmt.Fprintf(c.out, "  %s\n", s)
	}
	if n := v.Next; n != nil {
		fmt.Fprintf(c.out, "  %s: %s\n    %s\n    %s\n    %s\n", n.Head, linkNames(n.Items, " + "), n.Why, n.IfReacts, n.IfQuiet)
		if n.Careful {
			fmt.Fprintf(c.out, "    %s\n", h.Careful)
		}
	}
	for _, m := range v.Mixes {
		if len(m.Ruled) > 0 {
			fmt.Fprintf(c.out, "  %s (%s)\n", h.Ruled, m.Mix)
		}
		for _, r := range m.Ruled {
			fmt.Fprintf(c.out, "  - %s%s\n", r.Part, recordNames(r.Jars))
		}
	}
	for _, k := range v.Clashes {
		fmt.Fprintf(c.out, "  %s: %s. %s%s /%s\n", h.Clashes, k.Mix, k.Differ, recordNames(k.Reacted), recordNames(k.Clear))
	}
	c.printList(h.Classes, v.Classes)
	c.printList(h.Mattered, factorLines(v.Factors.Differ))
	c.printList(h.NoMatter, factorLines(v.Factors.Same))
	c.printList(h.Generalize, liftLines(v.Lifts, h))
	c.printList(h.Misread, beliefLines(v))
	if len(v.LeftOut) > 0 {
		fmt.Fprintf(c.out, "  %s %s\n", h.LeftOut, linkNames(v.LeftOut, ", "))
	}
}

func (c *call) printList(head string, lines []string) {
	if len(lines) == 0 {
		return
	}
	fmt.Fprintf(c.out, "  %s\n", head)
	for _, line := range lines {
		fmt.Fprintf(c.out, "  - %s\n", line)
	}
}

func factorLines(list []page.FactorLine) []string {
	var lines []string
	for _, f := range list {
		var pairs []string
		for _, p := range f.Pairs {
			pairs = append(pairs, p[0].Name.Text+" / "+p[1].Name.Text)
		}
		lines = append(lines, fmt.Sprintf("%s, %s (%s)", f.Name, f.Count, strings.Join(pairs, ", ")))
	}
	return lines
}

func liftLines(list []page.LiftView, h *page.CaseHeads) []string {
	var lines []string
	for _, f := range list {
		lines = append(lines, f.Claim)
		for _, p := range f.Places {
			line := fmt.Sprintf("%s: %s: %s", p.Class.Name.Text, h.Tested, linkNames(p.Tested, ", "))
			if len(p.Untested) > 0 {
				line += strings.TrimRight(fmt.Sprintf("; %s: %s %s", h.Untested, linkNames(p.Untested, ", "), p.More), " ")
			}
			lines = append(lines, line)
		}
	}
	return lines
}

func beliefLines(v *page.CaseView) []string {
	if len(v.Beliefs) == 0 {
		return nil
	}
	lines := []string{v.Rates}
	for _, b := range v.Beliefs {
		lines = append(lines, b.P+"  "+b.Cause)
	}
	if v.Repeat != "" {
		lines = append(lines, v.Repeat)
	}
	return lines
}

func (c *call) printJars(head string, lines []page.PlanLine) {
	if len(lines) == 0 {
		return
	}
	fmt.Fprintf(c.out, "  %s\n", head)
	for _, line := range lines {
		fmt.Fprintf(c.out, "  %s- %s\n", strings.Repeat("  ", line.Depth), line.Text)
	}
}
