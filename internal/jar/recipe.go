package jar

import (
	"fmt"

	"tankleaf.example/internal/mix"
	"tankleaf.example/internal/unit"
)

// Request asks for one jar.
type Request struct {
	Jar         unit.Volume      // finished volume at full water
	SprayVolume unit.SprayVolume // may be zero when no rate is by area
	WaterShare  unit.Number      // 0 to 1; below 1 is a crowded fill, zero is full water
	FirstWater  unit.Number      // 0 to 1 of the finished volume; zero: products first
	Products    []Product
	Steps       []mix.OrderStep // the table of the order of addition
}

// Recipe is one jar, exact. Water stands for whatever the carrier is.
type Recipe struct {
	Jar         unit.Volume
	SprayVolume unit.SprayVolume
	WaterShare  unit.Number // 1: full water
	Finished    unit.Volume // water and doses; the jar at full water
	Water       unit.Volume // all of it
	FirstWater  unit.Volume // before the first product
	TopUp       unit.Volume // after the last
	Doses       []Dose      // in order of addition
}

// Dose is one line of a recipe or of a load.
type Dose struct {
	Product    Product
	Place      Place
	Amount     unit.Amount // by weight when dry, else by volume
	Takes      unit.Volume // what it adds to the finished volume
	TakesKnown bool        // false: a dry product of unknown density, Takes is zero
	Label      Fit         // the rate against the label's range
	SprayLabel Fit         // the spray volume against the label's range
}

// FromRecipe returns the request that a recipe of the book makes. Products that
// the book does not have are left out; a reader of data has reported them.
func FromRecipe(x *mix.Index, r *mix.Recipe) Request {
	q := Request{Jar: r.Jar, SprayVolume: r.SprayVolume, WaterShare: r.WaterShare,
		FirstWater: x.Book().Site.FirstWater, Steps: x.Book().Order}
	for _, portion := range r.Products {
		if p := x.Product(portion.ID); p != nil {
			q.Products = append(q.Products, FromBook(x, p, portion.Rate))
		}
	}
	return q
}

// share returns the water share with its zero value filled in.
func (q *Request) share() unit.Number {
	if q.WaterShare.Sign() == 0 {
		return unit.Int(1)
	}
	return q.WaterShare
}

// inUnit reports whether n lies in 0 to 1.
func inUnit(n unit.Number) bool { return n.Sign() >= 0 && n.Cmp(unit.Int(1)) <= 0 }

func (q *Request) check() Problems {
	var ps Problems
	if q.Jar.Sign() <= 0 {
		ps.add(NoJar, "", "the jar has no volume", `give its volume, such as "1 qt"`)
	}
	if !inUnit(q.WaterShare) {
		ps.add(BadShare, "", fmt.Sprintf("water share %s %% is outside 0 to 100 %%",
			q.WaterShare.Mul(unit.Int(100)).Short(3)), "write above 0 to 100 %")
	}
	if !inUnit(q.FirstWater) {
		ps.add(BadShare, "", fmt.Sprintf("first water %s %% is outside 0 to 100 %%",
			q.FirstWater.Mul(unit.Int(100)).Short(3)), "write 0 to 100 %")
	}
	checkProducts(q.Products, q.SprayVolume, &ps)
	return ps
}

// Recipe works the request out. A request that cannot be worked out gives
// [Problems], all of them at once.
func (q Request) Recipe() (Recipe, error) {
	if ps := q.check(); len(ps) > 0 {
		return Recipe{}, ps
	}
	r := Recipe{Jar: q.Jar, SprayVolume: q.SprayVolume, WaterShare: q.share()}
	var taken unit.Volume
	r.Doses, taken = doses(q.Products, q.Steps, q.Jar, q.SprayVolume)
	if ps := room("jar", r.Doses, taken, q.Jar); len(ps) > 0 {
		return Recipe{}, ps
	}
	r.Water = q.Jar.Sub(taken).Times(r.WaterShare)
	r.Finished = r.Water.Add(taken)
	r.FirstWater = firstWater(q.FirstWater, r.Finished, r.Water)
	r.TopUp = r.Water.Sub(r.FirstWater)
	return r, nil
}

// firstWater is a share of the finished volume, at most all the water.
func firstWater(share unit.Number, finished, water unit.Volume) unit.Volume {
	if first := finished.Times(share); first.Cmp(water) < 0 {
		return first
	}
	return water
}

// doses returns the lines of a volume of finished spray in order of addition, and
// what they take up together.
func doses(products []Product, steps []mix.OrderStep, spray unit.Volume, perArea unit.SprayVolume) ([]Dose, unit.Volume) {
	var taken unit.Volume
	var lines []Dose
	for _, placed := range Order(products, steps) {
		p := products[placed.Given]
		d := Dose{Product: p, Place: placed.Place, Amount: p.dose(spray, perArea), Label: p.fit(perArea),
			SprayLabel: p.FitSprayVolume(perArea)}
		d.Takes, d.TakesKnown = p.takes(d.Amount)
		taken = taken.Add(d.Takes)
		lines = append(lines, d)
	}
	return lines, taken
}

// room reports doses that leave no room for water, and doses so small that they
// would print as nothing: a zero on a recipe reads as "leave it out".
func room(vessel string, lines []Dose, taken, volume unit.Volume) Problems {
	var ps Problems
	if taken.Cmp(volume) >= 0 {
		ps.add(Overfull, "", fmt.Sprintf("the products alone take %s mL of a %s of %s mL", taken.Base().Short(1), vessel,
			volume.Base().Short(1)), "check the rates and the spray volume: there is no room for water")
	}
	for _, d := range lines {
		if d.Amount.Base().Round(decimals).Sign() == 0 {
			ps.add(TooSmall, d.Product.Name, fmt.Sprintf("the dose of %s in a %s of %s mL is below 0.001 %s", d.Product.Name,
				vessel, volume.Base().Short(1), d.Amount.BaseUnit()), "take a larger "+vessel+", or check the rate and its unit")
		}
	}
	return ps
}
