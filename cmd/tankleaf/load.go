package main

import (
	"fmt"
	"strings"

	"tankleaf.example/internal/jar"
	"tankleaf.example/internal/unit"
)

var loadCommand = &command{
	name: "load",
	args: `--tank "500 gal" --spray-volume "15 gal/ac" --area "80 ac" --rate "NAME=1 pt/ac"… [--heel V] [--min V] [--json]`,
	does: "split a job into loads of the sprayer",
	long: `
Splits an area into full loads and a last part load, with the amount of each
product per load and in all. --heel is what the pump cannot reach; --min is the
least fill at which the tank still agitates.

  tankleaf load --tank "500 gal" --spray-volume "15 gal/ac" --area "80 ac" --rate "A=1 pt/ac"
  tankleaf load --tank "2000 L" --spray-volume "100 L/ha" --area "35 ha" --rate "A=1.2 L/ha" --json
`,
	run: runLoad,
}

func runLoad(c *call) error {
	var in jar.LoadInput
	var products rates
	c.flags.StringVar(&in.Tank, "tank", "", "")
	c.flags.StringVar(&in.SprayVolume, "spray-volume", "", "")
	c.flags.StringVar(&in.Area, "area", "", "")
	c.flags.StringVar(&in.Heel, "heel", "", "")
	c.flags.StringVar(&in.Minimum, "min", "", "")
	c.flags.Var(&products, "rate", "")
	if err := c.want(0, 0); err != nil {
		return err
	}
	in.Products = products
	q, err := in.Request()
	if err != nil {
		return c.doseProblems(err)
	}
	at, err := c.setUp(q.Products)
	if err != nil {
		return err
	}
	q.FirstWater, q.Steps = at.first, at.steps
	plan, err := q.Plan()
	if err != nil {
		return c.doseProblems(err)
	}
	if c.json {
		return c.printJSON(struct {
			jar.PlanJSON
			Verdict *verdictJSON `json:"verdict,omitempty"`
		}{plan.JSON(), c.verdict(at.office, at.ids)})
	}
	c.warn(at.office, at.ids)
	c.printPlan(plan, system(q))
	return nil
}

// system is the family of units the job was written in, told by the tank.
func system(q jar.LoadRequest) unit.System {
	if s := q.Tank.String(); strings.HasSuffix(s, " L") || strings.HasSuffix(s, " mL") {
		return unit.Metric
	}
	return unit.US
}

func (c *call) printPlan(p jar.Plan, s unit.System) {
	fmt.Fprintf(c.out, "%s at %s: %s\n", p.Area, p.SprayVolume, counted(len(p.Loads), "load", "loads"))
	for i, group := range alike(p.Loads) {
		if i > 0 || len(p.Loads) > 0 {
			fmt.Fprintln(c.out)
		}
		c.printLoad(p.Loads[group.first], group, s)
	}
	fmt.Fprintf(c.out, "\nIn all\n")
	c.printDoses(p.Total, s)
	if p.LeftOver.Sign() > 0 {
		fmt.Fprintf(c.out, "\n%s of spray stays in the tank at the end.\n", unit.SplitVolume(p.LeftOver, s))
	}
	if p.BelowMinimum {
		fmt.Fprintln(c.out, "\nA load is below the least fill at which the tank agitates.")
	}
	fmt.Fprintf(c.out, "\n%s\n", strings.Join(append(notes(p.Total, p.SprayVolume), labelDecides), "\n"))
}

// span is a run of loads that are poured alike.
type span struct{ first, last int }

func (g span) title() string {
	if g.first == g.last {
		return fmt.Sprintf("Load %d", g.first+1)
	}
	return fmt.Sprintf("Loads %d to %d, each", g.first+1, g.last+1)
}

// alike groups neighboring loads of the same area and volume.
func alike(loads []jar.Load) []span {
	var groups []span
	for i, l := range loads {
		if n := len(groups); n > 0 {
			if f := loads[groups[n-1].first]; f.Area.Cmp(l.Area) == 0 && f.Volume.Cmp(l.Volume) == 0 {
				groups[n-1].last = i
				continue
			}
		}
		groups = append(groups, span{i, i})
	}
	return groups
}

func (c *call) printLoad(l jar.Load, g span, s unit.System) {
	area := l.Area.In(unit.Acre).Short(2) + " ac"
	if s == unit.Metric {
		area = l.Area.In(unit.Hectare).Short(2) + " ha"
	}
	fmt.Fprintf(c.out, "%s: %s, %s of spray\n", g.title(), area, unit.SplitVolume(l.Volume, s))
	fmt.Fprintf(c.out, "     %-*s  %s\n", width(l.Doses, "first water"), "first water", unit.SplitVolume(l.FirstWater, s))
	c.printDoses(l.Doses, s)
	fmt.Fprintf(c.out, "     %-*s  %s\n", width(l.Doses, "first water"), "top up", unit.SplitVolume(l.TopUp, s))
}

func (c *call) printDoses(doses []jar.Dose, s unit.System) {
	w := width(doses, "first water")
	for i, d := range doses {
		fmt.Fprintf(c.out, "%3d  %-*s  %s\n", i+1, w, d.Product.Name, d.Amount.Split(s))
	}
}
