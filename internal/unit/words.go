package unit

import (
	"slices"
	"strings"

	"tankleaf.example/internal/diag"
)

// vocabulary is how the units of one dimension are written. Order matters: the
// first units are preferred in print when two are as short.
type vocabulary[D dimension] struct {
	noun    string // "volume"
	what    string // what a unit of it measures, for "is a unit of weight"
	example string // "1.5 pt"
	units   []Unit[D]
	names   map[string]Unit[D]
	rare    map[string]bool // symbols that print only when much shorter than others
}

// name gives a unit its spellings beside its own symbol. A spelling that starts
// with "=" counts only in exactly these letters, where case tells units apart
// (mL and ML, A and a); all others count in any case.
type name[D dimension] struct {
	unit      Unit[D]
	spellings string // separated by "|"
	rare      bool   // understood, and seldom used in print
}

func newVocabulary[D dimension](noun, what, example string, names ...name[D]) *vocabulary[D] {
	v := &vocabulary[D]{noun: noun, what: what, example: example, names: map[string]Unit[D]{}, rare: map[string]bool{}}
	for _, n := range names {
		v.units = append(v.units, n.unit)
		v.rare[n.unit.Name] = n.rare
		v.add("="+n.unit.Name, n.unit)
		for s := range strings.SplitSeq(n.spellings, "|") {
			v.add(s, n.unit)
		}
	}
	return v
}

// add panics on a spelling given twice: it would mean one text, two units.
func (v *vocabulary[D]) add(spelling string, u Unit[D]) {
	if spelling == "" {
		return
	}
	if old, ok := v.names[spelling]; ok && old.Name != u.Name {
		panic("unit: " + spelling + " names both " + old.Name + " and " + u.Name)
	}
	v.names[spelling] = u
}

// find returns the unit that s names.
func (v *vocabulary[D]) find(s string) (Unit[D], bool) {
	if u, ok := v.names["="+s]; ok {
		return u, true
	}
	u, ok := v.names[foldName(s)]
	return u, ok
}

func (v *vocabulary[D]) has(s string) bool { _, ok := v.find(s); return ok }

// symbol returns the canonical spelling of s.
func (v *vocabulary[D]) symbol(s string) (string, bool) {
	u, ok := v.find(s)
	return u.Name, ok
}

// symbols lists the canonical spellings: "gal, qt, pt".
func (v *vocabulary[D]) symbols() string {
	var s []string
	for _, u := range v.units {
		s = append(s, u.Name)
	}
	return strings.Join(s, ", ")
}

// near returns the one unit that s may have been meant to be, or "". Two spellings
// of one unit are no rivals.
func (v *vocabulary[D]) near(s string) string {
	var all []string
	for n := range v.names {
		all = append(all, strings.TrimPrefix(n, "="))
	}
	slices.Sort(all)
	all = slices.Compact(all)
	s = foldName(s)
	if u, ok := v.find(diag.Nearest(s, all)); ok {
		return u.Name
	}
	only := ""
	for _, n := range all {
		u, ok := v.find(diag.Nearest(s, []string{n}))
		if ok && only != "" && only != u.Name {
			return ""
		}
		if ok {
			only = u.Name
		}
	}
	return only
}

// foldName takes case and full stops away: "Fl. Oz." is "fl oz".
func foldName(s string) string { return strings.ToLower(strings.ReplaceAll(s, ".", "")) }

var volumes = newVocabulary("volume", "volume", "1.5 pt",
	name[volume]{unit: Gallon, spellings: "gal|gals|gallon|gallons|us gal"},
	name[volume]{unit: Quart, spellings: "qt|qts|quart|quarts"},
	name[volume]{unit: Pint, spellings: "pt|pts|pint|pints"},
	name[volume]{unit: FluidOunce, spellings: "fl oz|floz|fl ozs|fluid oz|fluid ounce|fluid ounces"},
	name[volume]{unit: Liter, spellings: "=l|liter|liters|litre|litres"},
	name[volume]{unit: Milliliter, spellings: "=ml|milliliter|milliliters|millilitre|millilitres"},
)

var masses = newVocabulary("weight", "weight", "2 lb",
	name[mass]{unit: Pound, spellings: "lb|lbs|pound|pounds"},
	name[mass]{unit: Ounce, spellings: "oz|ozs|ounce|ounces|oz wt|wt oz|oz av"},
	name[mass]{unit: Kilogram, spellings: "=Kg|=KG|kilogram|kilograms|kilo|kilos"},
	name[mass]{unit: Gram, spellings: "=gm|gram|grams|gramme|grammes"},
	name[mass]{unit: Milligram, spellings: "milligram|milligrams", rare: true},
)

var areas = newVocabulary("area", "area", "80 ac",
	name[area]{unit: Acre, spellings: "=A|ac|acre|acres"},
	name[area]{unit: Hectare, spellings: "=Ha|hectare|hectares"},
	name[area]{unit: SquareFoot, spellings: "sq ft|sqft|ft2|ft²|sq feet|sq foot|square foot|square feet|ft^2"},
	name[area]{unit: SquareMeter, spellings: "m2|m^2|sq m|sqm|square meter|square meters|square metre|square metres"},
)

var lengths = newVocabulary("length", "length", "20 in",
	name[length]{unit: Inch, spellings: "in|inch|inches"},
	name[length]{unit: Foot, spellings: "ft|foot|feet"},
	name[length]{unit: Meter, spellings: "=m|meter|meters|metre|metres"},
	name[length]{unit: Centimeter, spellings: "=cm|centimeter|centimeters|centimetre|centimetres"},
	name[length]{unit: Millimeter, spellings: "=mm|millimeter|millimeters|millimetre|millimetres"},
)

var densities = newVocabulary("density", "density", "1.28 g/mL",
	name[density]{unit: GramPerMilliliter, spellings: "=g/cm3|=g/cm³|=g/cc"},
	name[density]{unit: KilogramPerLiter, spellings: "=kg/dm3"},
	name[density]{unit: PoundPerGallon},
	name[density]{unit: GramPerLiter, rare: true},
)

var temperatures = newVocabulary("temperature", "temperature", "50 °F",
	name[temperature]{unit: Fahrenheit, spellings: "f|deg f|degrees f|° f|fahrenheit|degrees fahrenheit|ºf"},
	name[temperature]{unit: Celsius, spellings: "c|deg c|degrees c|° c|celsius|degrees celsius|ºc"},
)

var durations = newVocabulary("time", "time", "30 min",
	name[duration]{unit: Minute, spellings: "min|mins|minute|minutes"},
	name[duration]{unit: Hour, spellings: "h|hr|hrs|hour|hours"},
	name[duration]{unit: Second, spellings: "s|sec|secs|second|seconds"},
	name[duration]{unit: Day, spellings: "d|day|days", rare: true},
)

var flows = newVocabulary("flow", "flow", "0.5 gal/min",
	name[flow]{unit: GallonPerMinute, spellings: "gpm"},
	name[flow]{unit: LiterPerMinute},
	name[flow]{unit: FluidOuncePerMinute},
	name[flow]{unit: MilliliterPerMinute},
)

var speeds = newVocabulary("speed", "speed", "5 mph",
	name[speed]{unit: MilePerHour, spellings: "mph|mi/h|miles per hour|miles/hour|mile/h|miles/h"},
	name[speed]{unit: KilometerPerHour, spellings: "=kph|=kmh|=km/hr|kilometers per hour|kilometres per hour"},
	name[speed]{unit: FootPerMinute, spellings: "fpm", rare: true},
	name[speed]{unit: MeterPerMinute, rare: true},
)

var sprayVolumes = newVocabulary("spray volume", "spray volume", "15 gal/ac",
	name[depth]{unit: GallonPerAcre, spellings: "gpa"},
	name[depth]{unit: LiterPerHectare},
	name[depth]{unit: GallonPerThousandSquareFeet, rare: true},
	name[depth]{unit: MilliliterPerSquareMeter, rare: true},
)

var contents = newVocabulary("content", "content in water", "120 ppm",
	name[content]{unit: PartPerMillion, spellings: "ppm|parts per million"},
	name[content]{unit: MilligramPerLiter, rare: true},
	name[content]{unit: GrainPerGallon, spellings: "gpg|grain/gal|grains/gal|grains per gallon"},
)

// others are the vocabularies that tell what a unit is when it is not what was
// asked for.
var others = []struct {
	what string
	has  func(string) bool
}{
	{volumes.what, volumes.has}, {masses.what, masses.has}, {areas.what, areas.has},
	{lengths.what, lengths.has}, {sprayVolumes.what, sprayVolumes.has}, {flows.what, flows.has},
	{speeds.what, speeds.has}, {temperatures.what, temperatures.has}, {durations.what, durations.has},
	{densities.what, densities.has}, {contents.what, contents.has},
}

// whatIs names the dimension of a unit's spelling, "" when it is none of ours.
func whatIs(s string) string {
	for _, o := range others {
		if o.has(s) {
			return o.what
		}
	}
	return ""
}

// traps are spellings that look like a unit and must not be guessed at.
var traps = map[string]struct{ msg, hint string }{
	"a":     {`"a" may be an acre or an are`, `write "ac" for acres, "ha" for hectares`},
	"ML":    {`"ML" is a million liters`, `write "mL" for milliliters`},
	"Ml":    {`"Ml" may be milliliters or a million liters`, `write "mL" for milliliters`},
	"M":     {`"M" is no unit here`, `write the unit in full`},
	"Mg":    {`"Mg" is a million grams`, `write "mg" for milligrams`},
	"MG":    {`"MG" may be milligrams or a million grams`, `write "mg" for milligrams`},
	"G":     {`"G" may be gallons or grams`, `write "gal" or "g"`},
	"H":     {`"H" may be hours or hectares`, `write "h" or "ha"`},
	"HA":    {`"HA" is not how hectares are written`, `write "ha"`},
	"#":     {`"#" may be pounds or a count`, `write "lb"`},
	"%":     {`"%" does not say of what`, `write "% v/v" for volume in volume, "% w/v" for weight in volume`},
	"% w/w": {`"% w/w" needs the density of the spray`, `write "% w/v", weight in volume of spray`},
}

// spoons are the kitchen measures. A spoon of powder weighs what it likes: one
// ounce is 2 to 6 level tablespoons by product (New England vegetable guide,
// dilution table), so neither dry nor liquid doses are given in spoons.
var spoons = []string{"tsp", "tsps", "teaspoon", "teaspoons", "tbsp", "tbsps", "tbs", "tablespoon", "tablespoons",
	"cup", "cups", "spoon", "spoons", "capful", "capfuls"}

// trap returns the fixed answer to a spelling that must not be guessed at.
func trap(s string) (code Code, msg, hint string, ok bool) {
	if t, found := traps[s]; found {
		return AmbiguousUnit, t.msg, t.hint, true
	}
	if slices.Contains(spoons, foldName(s)) {
		return KitchenUnit, `"` + s + `" is a kitchen measure, which doses nothing exactly`,
			`write liquids in "fl oz" or "mL" and weigh dry products in "oz" or "g"`, true
	}
	return "", "", "", false
}
