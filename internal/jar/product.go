package jar

import (
	"fmt"

	"tankleaf.example/internal/mix"
	"tankleaf.example/internal/unit"
)

// State tells how a product is measured. The zero State is "not stated": the
// formulation code decides, and without one the rate's own kind.
type State uint8

const (
	NotStated State = iota
	Liquid          // measured by volume
	Dry             // weighed, never measured by volume
)

var stateNames = []string{"", "liquid", "dry"}

// String returns the state's word in data: "", "liquid" or "dry".
func (s State) String() string {
	if int(s) < len(stateNames) {
		return stateNames[s]
	}
	return fmt.Sprintf("State(%d)", uint8(s))
}

// ParseState returns the state named by a word of the data files.
func ParseState(s string) (State, bool) {
	for i, n := range stateNames {
		if n == s {
			return State(i), true
		}
	}
	return NotStated, false
}

// Product is what the arithmetic needs to know of one thing that goes in. Name
// and Rate are needed, all else may be left zero.
type Product struct {
	Name        string
	ID          mix.ID // "" when it is not in the data
	Rate        unit.Rate
	Form        mix.Form
	State       State
	Density     unit.Density // liquid: of the concentrate; dry: of the heap or the solid
	Bag         bool         // in a sealed water-soluble bag
	Position    int          // the label's own place in the order, from 1; 0: none
	Classes     []mix.ID     // all classes it belongs to
	Range       mix.RateRange
	SprayVolume [2]unit.SprayVolume // the label's minimum and maximum; zero: none
}

// FromBook returns product p of the index's book at a rate.
func FromBook(x *mix.Index, p *mix.Product, rate unit.Rate) Product {
	state := Liquid
	if p.Dry {
		state = Dry
	}
	return Product{Name: p.Name, ID: p.ID, Rate: rate, Form: p.Form, State: state, Density: p.Density, Bag: p.Bag,
		Position: p.Position, Classes: x.Classes(p.ID), Range: p.Rate, SprayVolume: p.SprayVolume}
}

// dry reports whether the product is weighed.
func (p *Product) dry() bool {
	switch {
	case p.State != NotStated:
		return p.State == Dry
	case p.Form.ForTank() && p.Form != "XX":
		return p.Form.Solid()
	}
	return p.Rate.Basis().Dry()
}

// needs is what a rate by area or by volume comes to in a volume of finished
// spray, in mL or g by the rate's own basis. A rate by area covers the area that
// the spray would: volume ÷ spray volume.
func needs(r unit.Rate, spray unit.Volume, perArea unit.SprayVolume) unit.Number {
	if r.Basis().PerArea() {
		return r.Base().Mul(spray.Base()).Quo(perArea.Base())
	}
	return r.Base().Mul(spray.Base())
}

// dose returns the amount of p in a volume of finished spray as it is measured:
// by weight when dry, else by volume. check has passed.
func (p *Product) dose(spray unit.Volume, perArea unit.SprayVolume) unit.Amount {
	n := needs(p.Rate, spray, perArea)
	dry := p.dry()
	if p.Rate.Basis().Dry() != dry {
		if dry {
			n = n.Mul(p.Density.Base())
		} else {
			n = n.Quo(p.Density.Base())
		}
	}
	if dry {
		return unit.Amount{Dry: true, Mass: unit.Gram.Of(n)}
	}
	return unit.Amount{Volume: unit.Milliliter.Of(n)}
}

// takes returns the volume that a dose adds, and whether it is known.
func (p *Product) takes(a unit.Amount) (v unit.Volume, known bool) {
	switch {
	case !a.Dry:
		return a.Volume, true
	case p.Density.IsZero():
		return unit.Volume{}, false
	}
	return unit.Milliliter.Of(a.Mass.Base().Quo(p.Density.Base())), true
}

// check reports what keeps p from being dosed.
func (p *Product) check(perArea unit.SprayVolume, ps *Problems) {
	switch {
	case p.Name == "":
		ps.add(NoName, "", "a product has no name", "write its id or a name of your own before the rate")
	case p.Rate.IsZero():
		ps.add(NoRate, p.Name, fmt.Sprintf("%s has no rate", p.Name), `write a rate such as "1.5 pt/ac"`)
	case p.Rate.Basis().PerArea() && perArea.Sign() <= 0:
		ps.add(NoSprayVolume, p.Name,
			fmt.Sprintf("rate %q of %s is by area and there is no spray volume", p.Rate, p.Name),
			`give the spray volume, such as "15 gal/ac"`)
	case p.Rate.Basis().Dry() != p.dry() && p.Density.Sign() <= 0:
		p.noDensity(ps)
	}
}

func (p *Product) noDensity(ps *Problems) {
	if p.dry() {
		ps.add(NoDensity, p.Name,
			fmt.Sprintf("rate %q of %s is a volume, and a dry product is weighed", p.Rate, p.Name),
			`write a rate by weight, such as "2 oz/ac"`)
		return
	}
	ps.add(NoDensity, p.Name,
		fmt.Sprintf("rate %q of %s is a weight, and the density of this liquid is not known", p.Rate, p.Name),
		`write a rate by volume, such as "2 fl oz/ac", or give the density`)
}

// checkProducts reports what is wrong with a list of products.
func checkProducts(products []Product, perArea unit.SprayVolume, ps *Problems) {
	if len(products) == 0 {
		ps.add(NoProducts, "", "there is no product", "name at least one with its rate")
	}
	seen := map[string]bool{}
	for i := range products {
		p := &products[i]
		p.check(perArea, ps)
		if p.Name != "" && seen[p.Name] {
			ps.add(TwoOfAName, p.Name, p.Name+" is listed twice", "give it once, with the whole rate")
		}
		seen[p.Name] = true
	}
}
