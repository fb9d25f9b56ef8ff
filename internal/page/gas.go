package page

import (
	"math"
	"strconv"
	"strings"

	"tankleaf.example/internal/gas"
	"tankleaf.example/internal/jar"
	"tankleaf.example/internal/mix"
	"tankleaf.example/internal/unit"
)

// GasView is what a vessel could give off at most.
type GasView struct {
	Most     string // volume, and how many times the liquid that is
	Pressure string // under a closed lid; "" when the vessel is not known well enough
	Rows     []GasRow
	Cites    []Cite
	Unknown  []Link // products with a carbonate in an amount that is not known
}

// GasRow is one carbonate.
type GasRow struct {
	From           Link
	Active         string
	Weight, Volume string
}

// The gas laws and the sources their constants are from; see gas.Of. An
// office need not have them in its own list.
var gasSources = []mix.Cite{{Ref: mix.Ref{ID: "sander"}}, {Ref: mix.Ref{ID: "codata14"}}}

// kPa in a pound per square inch: the pound-force over the square inch, both exact
// by the definitions of 1959 and standard gravity.
const kPaPerPSI = 0.45359237 * 9.80665 / (0.0254 * 0.0254) / 1000

// gas tells the upper bound of an observation's gas; nil when none of its products
// holds a carbonate.
func (l *leaf) gas(o *mix.Observation) *GasView {
	g := gas.Of(l.Index, o)
	v := &GasView{Unknown: l.items(g.Unknown)}
	held := len(g.Unknown) > 0
	for _, s := range g.Sources {
		row := GasRow{Active: s.Active, Weight: weightWords(s.Grams), Volume: l.gasVolume(gas.Volume(s.Moles, g.Enclosed.Celsius))}
		if s.Product != "" {
			row.From = l.item(s.Product)
			held = true
		} else {
			row.From, row.Active = Link{Name: l.name(o.Water.ID)}, l.t("gas-most.bicarbonate")
		}
		v.Rows = append(v.Rows, row)
	}
	if !held {
		return nil
	}
	if g.Moles > 0 {
		v.Most = l.t("gas-most.volume", "volume", l.gasVolume(g.Volume))
		if g.Enclosed.Liquid > 0 {
			v.Most = l.t("gas-most.times", "volume", l.gasVolume(g.Volume), "times", upward(g.Volume/g.Enclosed.Liquid))
		}
	}
	if g.Closed && g.Moles > 0 && g.Enclosed.Headspace > 0 {
		v.Pressure = l.t("gas-most.pressure", "pressure", l.pressure(g.Pressure), "temperature", l.temperature(mix.Known(number(g.Enclosed.Celsius))))
	}
	v.Cites = l.cites(gasSources)
	l.danger(mix.Pressure)
	return v
}

// gasOfCard tells the upper bound of a jar that is yet to be poured, were it closed in
// the vessel that its card names; nil when it holds no carbonate. made is the recipe
// as it is poured, which may be a larger jar than r.
func (l *leaf) gasOfCard(r *mix.Recipe, made *jar.Recipe) *GasView {
	o := mix.Observation{Products: r.Products, SprayVolume: r.SprayVolume, Water: r.Water, WaterShare: mix.Known(made.WaterShare),
		Vessel: mix.Vessel{Type: "jar", Size: l.vesselFor(made.Finished), Liquid: made.Finished, Closed: true, Recorded: true}}
	return l.gas(&o)
}

// gasFact says how much gas a measure of a product could give off: a pound or a
// kilogram of a dry one, a quart or a liter of a liquid. "" when it holds no
// carbonate, or in an amount that its label does not state so.
func (l *leaf) gasFact(p *mix.Product) string {
	var moles [2]float64 // by the US and the metric measure
	measures := [2]float64{unit.Pound.Of(unit.Int(1)).Base().Float(), 1000}
	keys := [2]string{"gas-most.pound", "gas-most.kilogram"}
	if !p.Dry {
		measures[0], keys = unit.Quart.Of(unit.Int(1)).Base().Float(), [2]string{"gas-most.quart", "gas-most.liter"}
	}
	for _, a := range p.Actives {
		c, ok := gas.CarbonateOf(a.Name)
		s, err := unit.ParseStrength(a.Amount)
		if !ok || err != nil {
			continue
		}
		content := s.Share.Float()
		if !p.Dry {
			content = s.PerVolume.Base().Float() + content*p.Density.Base().Float()
		}
		for i := range moles {
			moles[i] += measures[i] * content * c.PerGram()
		}
	}
	if moles[0] == 0 {
		return ""
	}
	first, second := 0, 1
	if l.book().Site.Metric {
		first, second = 1, 0
	}
	say := func(i int) string { return l.t(keys[i], "volume", l.gasVolume(gas.Volume(moles[i], 25))) }
	return l.t("gas-most.measures", "first", say(first), "second", say(second))
}

// gasVolume writes liters of gas in both systems, rounded up: it is an upper bound.
func (l *leaf) gasVolume(liters float64) string {
	gallons := upward(liters*1000/unit.Gallon.Of(unit.Int(1)).Base().Float()) + " gal"
	if l.book().Site.Metric {
		return l.both(upward(liters)+" L", gallons)
	}
	return l.both(gallons, upward(liters)+" L")
}

func (l *leaf) pressure(kPa float64) string {
	psi := upward(kPa/kPaPerPSI) + " psi"
	if l.book().Site.Metric {
		return l.both(upward(kPa)+" kPa", psi)
	}
	return l.both(psi, upward(kPa)+" kPa")
}

// weightWords writes a weight to three figures.
func weightWords(grams float64) string {
	if grams >= 1000 {
		return threeFigures(grams/1000) + " kg"
	}
	return threeFigures(grams) + " g"
}

// upward writes a number above 0 with two figures, the second rounded up.
func upward(f float64) string {
	if f <= 0 {
		return "0"
	}
	digits := int(math.Floor(math.Log10(f)))
	step := math.Pow(10, float64(digits-1))
	text := strconv.FormatFloat(math.Ceil(f/step-1e-9)*step, 'f', max(0, 1-digits), 64)
	if strings.Contains(text, ".") {
		text = strings.TrimRight(strings.TrimRight(text, "0"), ".")
	}
	return text
}

// number is a float as an exact number, to a thousandth.
func number(f float64) unit.Number { return unit.Frac(int64(math.Round(f*1000)), 1000) }
