package main

import (
	"fmt"
	"strings"

	"tankleaf.example/internal/compat"
	"tankleaf.example/internal/mix"
	"tankleaf.example/internal/page"
)

var gapsCommand = &command{
	name: "gaps",
	args: "[--top N] [--lang CODE] [--json]",
	does: "rank the untested pairs by how often they meet and how bad it could be",
	long: `
Pairs of products about which nothing is known, the most pressing first: how often
labels put the two into one tank, times the worst that is known of their next of
kin. That is a guess from their classes and no evidence. Each comes with the jar
that would settle most if it stayed quiet; where the guess is a hazard to people,
with a warning instead. N is 20 unless you say otherwise.

  tankleaf gaps
  tankleaf gaps --top 5
  tankleaf gaps --top 100 --json
`,
	run: runGaps,
}

// mostGaps is how many gaps one call may ask for: more than anybody can run.
const mostGaps = 10_000

func runGaps(c *call) error {
	top, lang := c.flags.Int("top", 20, ""), c.flags.String("lang", "", "")
	if err := c.want(0, 0); err != nil {
		return err
	}
	if *top < 1 || *top > mostGaps {
		return usagef(fmt.Sprintf("write a number from 1 to %d", mostGaps), "gaps: --top %d", *top)
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
	gaps := judge.Gaps(*top)
	if c.json {
		return c.printJSON(map[string]any{"gaps": gapsJSON(gaps)})
	}
	c.printGaps(page.Gaps(office.Inputs(judge), words, gaps))
	return nil
}

// gapJSON is a gap as --json prints it. Worst is a guess from the classes of the
// two and no verdict on them; From names what it follows from.
type gapJSON struct {
	Pair     [2]mix.ID   `json:"pair"`
	Products [2][]mix.ID `json:"products"`
	Meet     float64     `json:"meet"`
	Score    float64     `json:"score"`
	Slots    []slotJSON  `json:"slots"`
	Worst    mix.Verdict `json:"worst"`
	From     *fromJSON   `json:"from"`
	Jar      []mix.ID    `json:"jar"`
	Settles  int         `json:"settles"`
}

type slotJSON struct {
	Crop   mix.ID `json:"crop"`
	Timing mix.ID `json:"timing"`
}

type fromJSON struct {
	Kind     string   `json:"kind"`
	Evidence []mix.ID `json:"evidence"`
}

func gapsJSON(gaps []compat.Gap) []gapJSON {
	list := []gapJSON{}
	for i := range gaps {
		g := &gaps[i]
		j := gapJSON{Pair: g.Pair, Products: g.Products, Meet: g.Meet, Score: g.Score, Slots: []slotJSON{}, Worst: g.Worst, Jar: g.Jar, Settles: g.Settles}
		for _, s := range g.Slots {
			j.Slots = append(j.Slots, slotJSON{s.Crop, s.Timing})
		}
		if g.From != nil {
			kind, records, _ := evidenceJSON(g.From)
			j.From = &fromJSON{kind, records}
		}
		list = append(list, j)
	}
	return list
}

func (c *call) printGaps(g page.GapList) {
	fmt.Fprintf(c.out, "%s\n", g.Heads.Title)
	if len(g.Entries) == 0 {
		fmt.Fprintln(c.out, g.Heads.None)
		return
	}
	fmt.Fprintf(c.out, "%s\n", g.Heads.How)
	for _, e := range g.Entries {
		fmt.Fprintf(c.out, "\n%d. %s · %s\n", e.N, e.Pair[0].Name.Text, e.Pair[1].Name.Text)
		if e.Alike != "" {
			fmt.Fprintf(c.out, "   %s\n", e.Alike)
		}
		fmt.Fprintf(c.out, "   %s\n", strings.TrimSpace(e.Worst+" "+e.From.Text+cites(e.From.Cites)+recordNames(e.Records)))
		fmt.Fprintf(c.out, "   %s %s\n", g.Heads.Meets, strings.Join(withMore(e.Meets, e.More), "; "))
		if e.Careful {
			fmt.Fprintf(c.out, "   %s\n", g.Heads.Careful)
			continue
		}
		fmt.Fprintf(c.out, "   %s\n", strings.TrimSpace(g.Heads.Jar+" "+linkNames(e.Jar, " + ")+". "+e.Settles))
	}
	c.printSources(g.Heads.Sources, g.Sources)
}

func withMore(list []string, more string) []string {
	if more == "" {
		return list
	}
	return append(list[:len(list):len(list)], more)
}

// linkNames joins the names of links.
func linkNames(links []page.Link, between string) string {
	names := make([]string, len(links))
	for i, l := range links {
		names[i] = l.Name.Text
	}
	return strings.Join(names, between)
}

// recordNames names records in brackets.
func recordNames(links []page.Link) string {
	if len(links) == 0 {
		return ""
	}
	return " (" + linkNames(links, ", ") + ")"
}

// printSources lists sources by their numbers.
func (c *call) printSources(title string, sources []page.SourceView) {
	if len(sources) > 0 {
		fmt.Fprintf(c.out, "\n%s\n", title)
	}
	for i, s := range sources {
		fmt.Fprintf(c.out, "  [%d] %s\n", i+1, sourceLine(s))
	}
}
