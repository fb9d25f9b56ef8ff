package main

import (
	"errors"
	"fmt"
	"os"
	"path/filepath"
	"strings"

	"tankleaf.example/internal/jar"
	"tankleaf.example/internal/mix"
	"tankleaf.example/internal/site"
	"tankleaf.example/internal/unit"
)

// What recipe and load share: products named on the command line, looked up in
// the office when there is one.

// rates collects --rate "NAME=1 pt/ac".
type rates []jar.ProductInput

func (r *rates) String() string { return "" }

func (r *rates) Set(s string) error {
	name, rate, ok := strings.Cut(s, "=")
	name, rate = strings.TrimSpace(name), strings.TrimSpace(rate)
	if !ok || name == "" || rate == "" {
		return fmt.Errorf(`write it as "NAME=1 pt/ac"`)
	}
	*r = append(*r, jar.ProductInput{Name: name, Rate: rate})
	return nil
}

// officeIfAny reads the office of the folder, or returns nil when the folder is
// none: doses may be worked out anywhere.
func (c *call) officeIfAny() (*site.Office, error) {
	if _, err := os.Stat(filepath.Join(c.dir, "data")); errors.Is(err, os.ErrNotExist) {
		return nil, nil
	}
	office, problems, err := c.read()
	if err != nil {
		return nil, err
	}
	if problems.Stops() {
		if c.json {
			return nil, c.reportJSON(problems, nil)
		}
		return nil, c.report(problems)
	}
	return office, nil
}

// halfFirst is the share of the water that goes in before the first product where
// no office says otherwise. Published orders start between a quarter and 70 %; half
// is common practice, no source.
var halfFirst = unit.Frac(1, 2)

// setting is what doses are worked out with: the office when the folder is one, and
// its first water and order of addition, or the defaults.
type setting struct {
	office *site.Office // nil: none
	ids    []mix.ID     // products that the office knows
	first  unit.Number
	steps  []mix.OrderStep
}

// setUp reads the office, when there is one, and puts its products in place of those
// that were named.
func (c *call) setUp(products []jar.Product) (setting, error) {
	office, err := c.officeIfAny()
	if err != nil || office == nil {
		return setting{first: halfFirst}, err
	}
	return setting{office, known(office, products), office.Book.Site.FirstWater, office.Book.Order}, nil
}

// follow takes the steps of a published order of the office instead of its own, and
// returns a line for each product of which that order says nothing.
func (s *setting) follow(id string, products []jar.Product) ([]string, error) {
	if s.office == nil {
		return nil, usagef("name an office with -C DIR", "--order %s: no office lists published orders here", id)
	}
	var known []string
	for i := range s.office.Book.Sequences {
		q := &s.office.Book.Sequences[i]
		if string(q.ID) == id {
			s.steps = q.Steps
			return silentLines(products, q), nil
		}
		known = append(known, string(q.ID))
	}
	return nil, usagef("known are "+strings.Join(known, ", "), "unknown published order %q", id)
}

func silentLines(products []jar.Product, q *mix.Sequence) []string {
	var lines []string
	for _, i := range jar.Silent(products, q) {
		lines = append(lines, fmt.Sprintf("%s: the order %s says nothing of it; it stands last for want of a place.", products[i].Name, q.ID))
	}
	return lines
}

// known replaces each product whose name is an id of the office by the office's
// own, so that density, code, classes and label range come with it.
func known(o *site.Office, products []jar.Product) (ids []mix.ID) {
	for i := range products {
		if p := o.Index.Product(mix.ID(products[i].Name)); p != nil {
			products[i] = jar.FromBook(o.Index, p, products[i].Rate)
			ids = append(ids, p.ID)
		}
	}
	return ids
}

// doseProblems prints what keeps a dose from being worked out.
func (c *call) doseProblems(err error) error {
	var ps jar.Problems
	if !errors.As(err, &ps) {
		return err
	}
	if c.json {
		if err := c.printJSON(map[string]any{"ok": false, "problems": ps.JSON()}); err != nil {
			return err
		}
		return errProblems
	}
	for _, p := range ps {
		c.complain(p.Msg, p.Hint)
	}
	return errProblems
}

// notes lists what a reader has to know about each dose beside its amount.
func notes(doses []jar.Dose, perArea unit.SprayVolume) []string {
	var lines []string
	for _, d := range doses {
		name, r := d.Product.Name, d.Product.Range
		if d.Label == jar.Above || d.Label == jar.Below {
			lines = append(lines, fmt.Sprintf("%s: %s is %s the label's range, %s to %s.", name, d.Product.Rate, d.Label, r.Low, r.High))
		}
		if fit := d.Product.FitSprayVolume(perArea); fit == jar.Above || fit == jar.Below {
			lines = append(lines, fmt.Sprintf("%s: %s is %s the spray volume on its label.", name, perArea, fit))
		}
		if d.Place.Step == nil && d.Place.Reason != jar.ByLabel {
			lines = append(lines, fmt.Sprintf("%s: nothing says when it goes in; its label decides.", name))
		}
		if d.Amount.Dry {
			lines = append(lines, fmt.Sprintf("%s: weigh it; a spoon is no measure.", name))
		}
	}
	return lines
}

// width returns the widest name, so that amounts stand under one another.
func width(doses []jar.Dose, least string) int {
	w := len([]rune(least))
	for _, d := range doses {
		w = max(w, len([]rune(d.Product.Name)))
	}
	return w
}

// ml writes a volume in mL as it stands in JSON: three decimals.
func ml(v unit.Volume) string { return v.Base().Fixed(3) }

const labelDecides = "The label of each product overrides this, its order above all."
