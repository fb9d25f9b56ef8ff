package planner_test

import (
	"fmt"
	"math/rand/v2"
	"slices"
	"strconv"
	"strings"

	"tankleaf.example/internal/jar"
	"tankleaf.example/internal/mix"
	"tankleaf.example/internal/planner"
)

// drawer draws questions: most of them right, some wrong in the ways people are.
type drawer struct{ *rand.Rand }

func pick[T any](d *drawer, list []T) T { return list[d.IntN(len(list))] }

// one in n.
func (d *drawer) rarely(n int) bool { return d.IntN(n) == 0 }

// maybe returns s, or one time in two nothing.
func (d *drawer) maybe(s string) string {
	if d.rarely(2) {
		return ""
	}
	return s
}

func (d *drawer) question() []string {
	switch d.IntN(22) {
	case 20:
		return []string{"standing", pick(d, []string{"4", "5", "6.2", "7", "7.5", "8.9", "9", "11"}), strconv.Itoa(d.IntN(5000)), asJSON(d.halfLives())}
	case 21:
		return []string{"gas", d.positive(), d.decimal(), d.decimal(), strconv.Itoa(d.IntN(80) - 10)}
	case 0, 1, 2:
		return []string{"recipe", asJSON(d.recipe())}
	case 3, 4, 5:
		return []string{"load", asJSON(d.load())}
	case 6:
		return []string{"convert", d.rate(), pick(d, rateUnits), d.maybe(d.spray()), d.maybe(d.density())}
	case 7:
		low, high := d.rate(), d.rate()
		return []string{"fit", pick(d, []string{d.rate(), d.rate(), low, high}), low, high, d.maybe(d.spray()), d.maybe(d.density())}
	case 8:
		return []string{"active", d.number() + " " + pick(d, []string{"lb/ac", "oz/ac", "kg/ha", "g/ha", "lb/100 gal", "pt/ac"}),
			d.number() + " " + pick(d, unitsOf["strength"]), pick(d, rateUnits), d.maybe(d.density())}
	case 9:
		return []string{"nozzle", d.positive() + " " + pick(d, unitsOf["flow"]), d.positive() + " " + pick(d, unitsOf["speed"]),
			d.positive() + " " + pick(d, unitsOf["length"]), d.density()}
	case 10:
		return []string{"pace", d.positive() + " " + pick(d, unitsOf["length"]), d.positive() + " " + pick(d, unitsOf["length"]),
			d.positive() + " " + pick(d, unitsOf["time"]), d.number() + " " + pick(d, unitsOf["volume"])}
	case 11:
		q := []string{"water"}
		for range 5 {
			q = append(q, d.maybe(d.decimal()))
		}
		return q
	}
	noun := pick(d, nouns)
	return []string{"parse", noun, d.text(noun)}
}

// unitsOf is how units are written, right and wrong, by the noun of their parser.
var unitsOf = map[string][]string{
	"volume":       {"gal", "qt", "pt", "fl oz", "L", "mL", "gallons", "Fl. Oz.", "litre", "ml", "l", "US gal"},
	"weight":       {"lb", "oz", "kg", "g", "mg", "Lbs", "ounces", "KG", "gm", "kilo"},
	"area":         {"ac", "A", "ha", "sq ft", "m²", "acres", "ft2", "m^2"},
	"length":       {"in", "ft", "m", "cm", "mm", "inches", "feet"},
	"density":      {"g/mL", "kg/L", "lb/gal", "g/L", "pounds per gallon", "g/cm³"},
	"temperature":  {"°F", "°C", "f", "deg C", "Celsius", "ºF"},
	"time":         {"min", "h", "s", "d", "hours", "days"},
	"flow":         {"gal/min", "L/min", "fl oz/min", "mL/min", "GPM", "gallons per minute"},
	"speed":        {"mph", "km/h", "ft/min", "m/min", "mi/h", "kph"},
	"spray volume": {"gal/ac", "L/ha", "GPA", "gal/1000 sq ft", "mL/m²", "gallons per acre", "liters/hectare"},
	"content":      {"ppm", "mg/L", "gpg", "grains per gallon"},
	"amount":       {"gal", "lb", "oz", "fl oz", "mL", "g", "kg"},
	"percentage":   {"%", "percent", ""},
	"number":       {""}, "temperature rise": {"°C", "°F"},
	"strength": {"lb/gal", "g/L", "% w/w", "g/kg", "% w/v", "%", "% by weight"},
	"rate": {"pt/ac", "fl oz/ac", "lb/ac", "oz/A", "L/ha", "kg/ha", "qt/100 gal", "lb/100 gal", "mL/100 L", "% v/v", "%w/v",
		"ppm", "fl oz/1000 sq ft", "ounces per acre", "oz", "qt", "lb ai/ac", "percent vol/vol", "g/100 gal", "lb/0 ac", "pt/12345 gal"},
}

// odd are units that no parser, or only another one, takes.
var odd = []string{"tsp", "cups", "ML", "Mg", "#", "a", "HA", "xyz", "galn", "oz/", "/ac", "% w/w", "acers", "\u212ag", "m\u0130n", "ac ft", "gal gal"}

var rateUnits = []string{"pt/ac", "fl oz/ac", "lb/ac", "oz/ac", "L/ha", "g/ha", "qt/100 gal", "lb/100 gal", "% v/v", "% w/v", "ppm", "fl oz/1000 sq ft", "gal"}

var nouns = func() []string {
	var list []string
	for n := range unitsOf {
		list = append(list, n)
	}
	slices.Sort(list)
	return list
}()

// text is a quantity for a noun, sometimes spoilt.
func (d *drawer) text(noun string) string {
	u := pick(d, unitsOf[noun])
	if d.rarely(12) {
		u = pick(d, odd)
	}
	if d.rarely(15) {
		u = pick(d, unitsOf[pick(d, nouns)])
	}
	s := d.number() + pick(d, []string{" ", "", " ", "\u00a0", "  "}) + u
	for d.rarely(4) {
		s = d.spoil(s)
	}
	return s
}

// spoil changes a text by one insertion, one removal or one exchange.
func (d *drawer) spoil(s string) string {
	chars := []rune(s)
	at := d.IntN(len(chars) + 1)
	c := pick(d, []rune(" ,.-+/'’_e½⁄~–−\t\u00a0\u202f\u2009\u3000\u0085\ufeffX1230o%tp\u212a\u0130\x01\"😀"))
	switch {
	case at == len(chars) || d.rarely(2):
		return string(slices.Insert(chars, at, c))
	case d.rarely(2):
		return string(slices.Delete(chars, at, at+1))
	}
	chars[at] = c
	return string(chars)
}

// number is a number as the trade writes it.
func (d *drawer) number() string {
	switch d.IntN(12) {
	case 0:
		return fmt.Sprintf("%d/%d", d.IntN(20), 1+d.IntN(64))
	case 1:
		return fmt.Sprintf("%d %d/%d", d.IntN(30), d.IntN(9), 1+d.IntN(16))
	case 2:
		return fmt.Sprintf("%d%c", 1+d.IntN(9), pick(d, []rune("½⅓⅔¼¾⅛⅞")))
	case 3:
		return strconv.Itoa(d.IntN(1_000_000_000))
	case 4:
		return "0"
	}
	return d.decimal()
}

// decimal is a decimal that every parser reads.
func (d *drawer) decimal() string {
	whole := strconv.Itoa(d.IntN(pick(d, []int{1, 10, 100, 1000})))
	if d.rarely(3) {
		return whole
	}
	return whole + "." + fmt.Sprintf("%09d", d.IntN(1_000_000_000))[:1+d.IntN(pick(d, []int{1, 3, 9}))]
}

// positive is a decimal above 0.
func (d *drawer) positive() string {
	for {
		if s := d.decimal(); strings.Trim(s, "0.") != "" {
			return s
		}
	}
}

func (d *drawer) rate() string    { return d.positive() + " " + pick(d, rateUnits[:12]) }
func (d *drawer) spray() string   { return d.positive() + " " + pick(d, unitsOf["spray volume"][:4]) }
func (d *drawer) density() string { return d.positive() + " " + pick(d, unitsOf["density"][:4]) }

// halfLives draws what up to three sources say of an active.
func (d *drawer) halfLives() [][]planner.HalfPoint {
	list := [][]planner.HalfPoint{}
	for range d.IntN(4) {
		points := []planner.HalfPoint{}
		for ph := 4.0 + float64(d.IntN(2)); ph < 10; ph += 0.5 + float64(d.IntN(3)) {
			p := planner.HalfPoint{PH: [2]float64{ph, ph}, Stable: d.rarely(8)}
			if d.rarely(4) {
				p.PH[1] = ph + 0.25
			}
			if !p.Stable && !d.rarely(6) {
				p.Low = float64(1 + d.IntN(50_000))
			}
			if !p.Stable && !d.rarely(6) {
				p.High = p.Low + float64(d.IntN(9_000))
			}
			if !p.Stable && p.Low == 0 && p.High == 0 {
				p.Low = 60
			}
			points = append(points, p)
		}
		list = append(list, points)
	}
	return list
}

var classIDs = []mix.ID{"acid", "oil", "water-conditioner", "defoamer"}

func (d *drawer) steps() []jar.StepInput {
	var list []jar.StepInput
	for i := range d.IntN(6) {
		s := jar.StepInput{ID: mix.ID(fmt.Sprintf("step-%d", i)), Bags: d.rarely(5)}
		for d.rarely(2) {
			s.Forms = append(s.Forms, pick(d, mix.Forms()))
		}
		for d.rarely(3) {
			s.Classes = append(s.Classes, pick(d, classIDs))
		}
		list = append(list, s)
	}
	return list
}

// products draws up to seven things to mix.
func (d *drawer) products() []jar.ProductInput {
	list := []jar.ProductInput{}
	for i := range d.IntN(8) {
		p := jar.ProductInput{Name: string(rune('a' + i)), Rate: d.smallRate(), Bag: d.rarely(8),
			Density: "1." + strconv.Itoa(d.IntN(99)+1) + " g/mL"}
		if d.rarely(6) {
			p.Density = ""
		}
		if !d.rarely(3) {
			p.Form = string(pick(d, []mix.Form{"EC", "SC", "SL", "WG", "WP", "SG", "OD", "XX", "CS"}))
		}
		if p.State = ""; d.rarely(4) {
			p.State = pick(d, []string{"liquid", "dry"})
		}
		if d.rarely(60) {
			p.Form = pick(d, []string{"DF", "GR", "xx", "ec"})
		}
		if d.rarely(6) {
			p.Position = 1 + d.IntN(5)
		}
		for d.rarely(3) {
			p.Classes = append(p.Classes, pick(d, classIDs))
		}
		if d.rarely(2) {
			p.Range = [2]string{d.maybe(d.smallRate()), pick(d, []string{d.smallRate(), p.Rate})}
		}
		if d.rarely(3) {
			p.Spray = [2]string{d.maybe("5 gal/ac"), pick(d, []string{"", d.spray(), d.spray(), "15 gal/ac", "140 L/ha"})}
		}
		list = append(list, p)
	}
	if len(list) > 1 && d.rarely(40) {
		list[1].Name = list[0].Name
	}
	if len(list) > 0 && d.rarely(40) {
		list[0].Rate = pick(d, []string{"", "2 L", "1,5 L/ha", "0 pt/ac"})
	}
	return list
}

// smallRate is a rate as labels have them.
func (d *drawer) smallRate() string {
	return pick(d, []string{"1", "0.5", "2.5", "12.8", "0.025", "1/3", "1 1/2", d.positive()}) + " " +
		pick(d, []string{"pt/ac", "fl oz/ac", "oz/ac", "lb/ac", "L/ha", "g/ha", "qt/100 gal", "lb/100 gal", "% v/v", "ppm"})
}

func (d *drawer) recipe() jar.RecipeInput {
	q := jar.RecipeInput{Jar: pick(d, []string{"1 qt", "500 mL", "1 pt", "1 L", d.text("volume")}),
		SprayVolume: pick(d, []string{"15 gal/ac", "140 L/ha", "10 GPA", d.maybe(d.text("spray volume"))}),
		FirstWater:  pick(d, []string{"50 %", "0 %", "", "33.3 %"}), WaterShare: pick(d, []string{"", "", "25 %", "100 %", "1/3 %", "0 %"}),
		Products: d.products(), Steps: d.steps()}
	return q
}

// load draws a job. Tanks of any size are rare: a small one makes hundreds of loads,
// which take longer to write down than all other questions together.
func (d *drawer) load() jar.LoadInput {
	return jar.LoadInput{Area: pick(d, []string{"80 ac", "12.5 ha", "3 ac", d.text("area")}),
		SprayVolume: pick(d, []string{"15 gal/ac", "140 L/ha", "22.5 gal/ac", d.text("spray volume")}),
		Tank:        pick(d, []string{"500 gal", "1200 gal", "2000 L", "750 gal", "1000 L", "300 gal", "2500 L", "600 gal", "1000 gal", "1500 L", d.text("volume")}), MaxFill: d.maybe(d.maybe("400 gal")),
		Minimum: d.maybe(strconv.Itoa(d.IntN(300)) + " gal"), Heel: d.maybe(pick(d, []string{"5 gal", "20 L", "0 gal", d.text("volume")})),
		FirstWater: pick(d, []string{"50 %", "", "75 %"}), Products: d.products(), Steps: d.steps()}
}
