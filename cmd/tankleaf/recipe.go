package main

import (
	"fmt"
	"slices"
	"strings"

	"tankleaf.example/internal/jar"
	"tankleaf.example/internal/unit"
)

var recipeCommand = &command{
	name: "recipe",
	args: `--jar "1 qt" [--spray-volume "15 gal/ac"] --rate "NAME=1 pt/ac"… [--water-share "25 %"] [--order ID] [--json]`,
	does: "scale field rates to one jar",
	long: `
Scales field rates to a jar: dose = rate × jar ÷ spray volume for a rate by area,
rate × jar for a rate by volume of spray. A name that is a product of the office
brings its density, formulation code and label range along; any other name is
taken as it is. Doses are in mL or g, to three decimals, in order of addition.
--water-share makes a crowded fill: the same doses in a part of the water, as
products meet in an induction bowl. --order takes a published order of the office
instead of its own.

With the tools of the office each dose is also given as it can be poured, by which
tool, and by how much that is off. Where that is past the tolerance, a larger jar
on the shelf and stocks of 1 in 10 or 1 in 100 are proposed.

  tankleaf recipe --jar "1 qt" --spray-volume "15 gal/ac" --rate "A=1 pt/ac"
  tankleaf recipe --jar "500 mL" --rate "A=0.25 % v/v" --rate "B=2 lb/100 gal" --json
  tankleaf recipe --jar "1 qt" --spray-volume "100 gal/ac" --rate "A=5 lb/ac" --water-share "25 %"
  tankleaf recipe --jar "250 mL" --spray-volume "10 gal/ac" --rate "A=0.33 oz/ac" --order manitoba
`,
	run: runRecipe,
}

func runRecipe(c *call) error {
	var in jar.RecipeInput
	var products rates
	var order string
	c.flags.StringVar(&in.Jar, "jar", "", "")
	c.flags.StringVar(&in.SprayVolume, "spray-volume", "", "")
	c.flags.StringVar(&in.WaterShare, "water-share", "", "")
	c.flags.StringVar(&order, "order", "", "")
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
	var silent []string
	if order != "" {
		if silent, err = at.follow(order, q.Products); err != nil {
			return err
		}
	}
	q.FirstWater, q.Steps = at.first, at.steps
	r, err := q.Recipe()
	if err != nil {
		return c.doseProblems(err)
	}
	offer, err := at.offer(q)
	if err != nil {
		return c.doseProblems(err)
	}
	if c.json {
		return c.printJSON(struct {
			jar.RecipeJSON
			Poured  *jar.ProposalJSON `json:"poured,omitempty"`
			Verdict *verdictJSON      `json:"verdict,omitempty"`
		}{r.JSON(), offerJSON(offer), c.verdict(at.office, at.ids)})
	}
	c.warn(at.office, at.ids)
	c.printRecipe(r)
	if offer != nil {
		c.printOffer(offer)
	}
	fmt.Fprintf(c.out, "\n%s\n", strings.Join(slices.Concat(silent, notes(r.Doses, r.SprayVolume), []string{labelDecides}), "\n"))
	return nil
}

func (c *call) printRecipe(r jar.Recipe) {
	head := r.Jar.String() + " jar"
	if !r.SprayVolume.IsZero() {
		head += " at " + r.SprayVolume.String()
	}
	if r.WaterShare.Cmp(unit.Int(1)) < 0 {
		head += fmt.Sprintf(", crowded fill: %s %% of the water", r.WaterShare.Mul(unit.Int(100)).Short(1))
	}
	fmt.Fprintf(c.out, "%s\n\n", head)
	w := width(r.Doses, "first water")
	line := func(no, name, amount, unit string) {
		fmt.Fprintf(c.out, "%3s  %-*s  %12s %s\n", no, w, name, amount, unit)
	}
	line("", "first water", ml(r.FirstWater), "mL")
	for i, d := range r.Doses {
		line(fmt.Sprint(i+1), d.Product.Name, d.Amount.Base().Fixed(3), d.Amount.BaseUnit())
	}
	line("", "top up", ml(r.TopUp), "mL")
	line("", "finished", ml(r.Finished), "mL")
}
