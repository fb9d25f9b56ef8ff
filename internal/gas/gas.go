// Package gas works out how much carbon dioxide the carbonates of a mix could give
// off at most, were there acid enough, and what pressure that would raise under a
// lid: stoichiometry, the ideal gas, and Henry's law.
//
//	label ──▶ grams of carbonate in the vessel ──▶ mol of gas ──▶ volume
//	                                                    │
//	                 liquid, headspace, temperature ────┴────▶ kPa above the start
//
// It ranks hazards and explains them. It never clears a mix: a small figure is
// still a closed vessel, and other gases are not in it. All figures are upper
// bounds: enough acid, a lid that does not yield, no gas lost.
//
// Every constant stands with its source. Quantities of a book are exact and leave
// that exactness here, where nothing is dosed by the result.
package gas

import (
	"math"
	"slices"

	"tankleaf.example/internal/mix"
	"tankleaf.example/internal/unit"
)

const (
	// gasConstant in J/(mol K), exact since 2019: Avogadro's constant times Boltzmann's
	// (SI Brochure, 9th edition), printed to ten digits as in CODATA 2018.
	gasConstant = 8.314462618
	// henry25 is the solubility of carbon dioxide in water at 298.15 K in
	// mol/(m³ Pa), henrySlope d ln H / d(1/T) in K: Sander, Atmos. Chem. Phys. 23
	// (2023) 10901, who lists 3.3 to 3.4e-4 and 2300 to 2400.
	henry25    = 3.3e-4
	henrySlope = 2400
	// atmosphere in Pa, exact by definition.
	atmosphere  = 101325
	zeroCelsius = 273.15
	// Temperatures outside 0 to 60 °C are no tank's, and Henry's law was not
	// fitted for them.
	coldest, hottest = 0, 60
)

// Standard atomic weights, IUPAC abridged (from memory). The table of 1995 (Pure Appl.
// Chem. 68 (1996) 2339) rounds to them.
const (
	weightH  = 1.008
	weightC  = 12.011
	weightN  = 14.007
	weightO  = 15.999
	weightNa = 22.990
	weightMg = 24.305
	weightK  = 39.098
	weightCa = 40.078
)

const (
	bicarbonateIon = weightH + weightC + 3*weightO // HCO3-
	carbonateIon   = weightC + 3*weightO           // CO3 2-
	carbonDioxide  = weightC + 2*weightO
	waterMolecule  = 2*weightH + weightO
)

// Carbonate is a material that gives off carbon dioxide with acid.
type Carbonate struct {
	Names []string // ISO or chemical names as labels write them, lower case
	Molar float64  // g/mol
	Gas   float64  // mol of carbon dioxide a mol: HCO3- + H+ → CO2 + H2O, CO3 2- + 2 H+ → CO2 + H2O
}

// PerGram returns the mol of carbon dioxide from one gram.
func (c Carbonate) PerGram() float64 { return c.Gas / c.Molar }

// Carbonates lists the materials with a known gas potential.
func Carbonates() []Carbonate {
	return []Carbonate{
		{[]string{"sodium bicarbonate", "sodium hydrogen carbonate"}, weightNa + bicarbonateIon, 1},
		{[]string{"potassium bicarbonate", "potassium hydrogen carbonate"}, weightK + bicarbonateIon, 1},
		{[]string{"ammonium bicarbonate", "ammonium hydrogen carbonate"}, weightN + 4*weightH + bicarbonateIon, 1},
		{[]string{"sodium carbonate", "soda ash"}, 2*weightNa + carbonateIon, 1},
		{[]string{"sodium carbonate decahydrate", "washing soda"}, 2*weightNa + carbonateIon + 10*waterMolecule, 1},
		{[]string{"potassium carbonate"}, 2*weightK + carbonateIon, 1},
		{[]string{"calcium carbonate", "limestone"}, weightCa + carbonateIon, 1},
		{[]string{"magnesium carbonate"}, weightMg + carbonateIon, 1},
		{[]string{"calcium magnesium carbonate", "dolomite"}, weightCa + weightMg + 2*carbonateIon, 2},
		{[]string{"sodium sesquicarbonate", "trona"}, 3*weightNa + weightH + 2*carbonateIon + 2*waterMolecule, 2},
	}
}

// CarbonateOf returns the carbonate of a name.
func CarbonateOf(name string) (Carbonate, bool) {
	for _, c := range Carbonates() {
		if slices.Contains(c.Names, name) {
			return c, true
		}
	}
	return Carbonate{}, false
}

// Enclosed is a vessel as gas sees it.
type Enclosed struct {
	Liquid, Headspace float64 // L
	Celsius           float64 // 0 to 60
}

// known reports whether the numbers make a vessel.
func (v Enclosed) known() bool {
	return v.Liquid > 0 && v.Headspace >= 0 && v.Celsius >= coldest && v.Celsius <= hottest
}

// Volume returns the litres of dry gas that moles fill at one atmosphere.
func Volume(moles, celsius float64) float64 {
	return 1000 * moles * gasConstant * (celsius + zeroCelsius) / atmosphere
}

// solubility returns Henry's constant of carbon dioxide in mol/(m³ Pa).
func solubility(celsius float64) float64 {
	return henry25 * math.Exp(henrySlope*(1/(celsius+zeroCelsius)-1/298.15))
}

// Dissolved returns the grams of carbon dioxide that a litre of water holds under
// one atmosphere of it.
func Dissolved(celsius float64) float64 {
	return solubility(celsius) * atmosphere * carbonDioxide / 1000
}

// Pressure returns by how many kPa the pressure of a closed vessel rises when
// moles of carbon dioxide share themselves between its headspace (ideal gas) and
// its liquid (Henry's law): n / (Vg/RT + H·Vl). Without a lid that yields, change
// of volume, or water vapor it is an upper bound. A vessel that is not known
// returns false.
func (v Enclosed) Pressure(moles float64) (kPa float64, ok bool) {
	if !v.known() {
		return 0, false
	}
	room := v.Headspace/1000/(gasConstant*(v.Celsius+zeroCelsius)) + solubility(v.Celsius)*v.Liquid/1000
	return moles / room / 1000, true
}

// Source is a carbonate in a mix with what it could give off.
type Source struct {
	Product mix.ID // empty: bicarbonate in the water
	Active  string
	Grams   float64 // of the carbonate itself
	Moles   float64 // of carbon dioxide, at most
}

// Potential is what a vessel could give off at most.
type Potential struct {
	Sources  []Source
	Unknown  []mix.ID // products that hold a carbonate in an amount that is not known
	Moles    float64
	Volume   float64 // L of dry gas at one atmosphere and the vessel's temperature
	Pressure float64 // kPa above the start, were the vessel closed; 0 when Closed is false
	Closed   bool    // the vessel's size, liquid and temperature are known, so that Pressure means something
	Enclosed Enclosed
}

// Of returns the gas potential of the vessel of an observation at its own
// doses. Without a temperature it is worked at 25 °C.
func Of(x *mix.Index, o *mix.Observation) Potential {
	liquid := o.Vessel.Liquid
	if liquid.IsZero() {
		liquid = o.Vessel.Size
	}
	g := Potential{Enclosed: Enclosed{
		Liquid:    liters(liquid),
		Headspace: liters(o.Vessel.Size) - liters(liquid),
		Celsius:   25,
	}}
	if o.Temperature.Known {
		g.Enclosed.Celsius = o.Temperature.N.Float()
	}
	full := liquid
	if o.WaterShare.Known && o.WaterShare.N.Sign() > 0 {
		full = liquid.Over(o.WaterShare.N) // a crowded fill holds the doses of all its water
	}
	for i := range o.Products {
		g.add(x, &o.Products[i], full, o.SprayVolume)
	}
	if w := x.Water(o.Water.ID); w != nil && w.Bicarbonate.Known && w.Bicarbonate.N.Sign() > 0 {
		grams := w.Bicarbonate.N.Float() / 1000 * g.Enclosed.Liquid
		g.Sources = append(g.Sources, Source{Active: "bicarbonate", Grams: grams, Moles: grams / bicarbonateIon})
	}
	g.sum()
	return g
}

func liters(v unit.Volume) float64 { return v.Base().Float() / 1000 }

func (g *Potential) sum() {
	for _, s := range g.Sources {
		g.Moles += s.Moles
	}
	g.Volume = Volume(g.Moles, g.Enclosed.Celsius)
	g.Pressure, g.Closed = g.Enclosed.Pressure(g.Moles)
}

// add adds the carbonates of one product at its rate.
func (g *Potential) add(x *mix.Index, p *mix.Portion, full unit.Volume, spray unit.SprayVolume) {
	product := x.Product(p.ID)
	if product == nil {
		return
	}
	for _, a := range product.Actives {
		c, ok := CarbonateOf(a.Name)
		if !ok {
			continue
		}
		grams, known := gramsOf(product, a, p.Rate, full, spray)
		if !known {
			g.Unknown = append(g.Unknown, p.ID)
			continue
		}
		g.Sources = append(g.Sources, Source{p.ID, a.Name, grams, grams * c.PerGram()})
	}
}

// gramsOf returns the grams of an active in a vessel of the given full volume. It
// needs the rate, the content, for an area rate the spray volume, and where weight
// and volume meet the density.
func gramsOf(p *mix.Product, a mix.Active, rate unit.Rate, full unit.Volume, spray unit.SprayVolume) (float64, bool) {
	content, err := unit.ParseStrength(a.Amount)
	if err != nil || rate.IsZero() || full.IsZero() {
		return 0, false
	}
	dose := rate.Base().Float() * full.Base().Float() // of product, in g or mL
	if rate.Basis().PerArea() {
		if spray.IsZero() {
			return 0, false
		}
		dose /= spray.Base().Float()
	}
	density := p.Density.Base().Float()
	switch {
	case rate.Basis().Dry() && content.Share.Sign() > 0:
		return dose * content.Share.Float(), true
	case !rate.Basis().Dry() && !content.PerVolume.IsZero():
		return dose * content.PerVolume.Base().Float(), true
	case density <= 0:
		return 0, false
	case rate.Basis().Dry():
		return dose / density * content.PerVolume.Base().Float(), true
	default:
		return dose * density * content.Share.Float(), true
	}
}
