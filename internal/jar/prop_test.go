package jar_test

import (
	"testing"

	"pgregory.net/rapid"
	"tankleaf.example/internal/jar"
	"tankleaf.example/internal/mix"
	"tankleaf.example/internal/unit"
)

var byArea = []string{"pt/ac", "fl oz/ac", "L/ha", "lb/ac", "oz/ac", "g/ha", "fl oz/1000 sq ft"}
var byVolume = []string{"qt/100 gal", "% v/v", "lb/100 gal", "% w/v", "ppm", "mL/100 L"}

// number draws a positive number with few digits.
func number(most int64) *rapid.Generator[unit.Number] {
	return rapid.Custom(func(t *rapid.T) unit.Number {
		return unit.Frac(rapid.Int64Range(1, most*8).Draw(t, "eighths"), 8)
	})
}

// product draws a product small enough to leave room for water.
func product(name string, units []string) *rapid.Generator[jar.Product] {
	return rapid.Custom(func(t *rapid.T) jar.Product {
		r, err := unit.ParseRate("1 " + rapid.SampledFrom(units).Draw(t, "unit"))
		if err != nil {
			t.Fatal(err)
		}
		p := jar.Product{Name: name, Rate: r.Times(number(3).Draw(t, "rate").Quo(unit.Int(4)))}
		p.Form = rapid.SampledFrom([]mix.Form{"", "EC", "SC", "WG", "SP"}).Draw(t, "form")
		p.Density = unit.GramPerMilliliter.Of(unit.Frac(rapid.Int64Range(5, 20).Draw(t, "density"), 10))
		p.Position = rapid.SampledFrom([]int{0, 0, 0, 1, 2, 5}).Draw(t, "position")
		return p
	})
}

func products(units []string) *rapid.Generator[[]jar.Product] {
	return rapid.Custom(func(t *rapid.T) []jar.Product {
		var all []jar.Product
		for i := range rapid.IntRange(1, 5).Draw(t, "products") {
			all = append(all, product(string(rune('a'+i)), units).Draw(t, "product"))
		}
		return all
	})
}

func request(units []string) *rapid.Generator[jar.Request] {
	return rapid.Custom(func(t *rapid.T) jar.Request {
		return jar.Request{
			Jar:         unit.FluidOunce.Of(number(128).Draw(t, "jar")),
			SprayVolume: unit.GallonPerAcre.Of(number(60).Draw(t, "spray").Add(unit.Int(10))),
			WaterShare:  unit.Frac(rapid.Int64Range(1, 100).Draw(t, "share"), 100),
			FirstWater:  unit.Frac(rapid.Int64Range(0, 100).Draw(t, "first"), 100),
			Products:    products(units).Draw(t, "products"),
			Steps:       table,
		}
	})
}

func mixed() []string { return append(append([]string{}, byArea...), byVolume...) }

// work runs a request that has room for water, and skips one that has not.
func work(t *rapid.T, q jar.Request) jar.Recipe {
	r, err := q.Recipe()
	if err != nil {
		t.Skip(err)
	}
	return r
}

// Scaling the jar, or every rate, scales every dose alike and exactly.
func TestDosesAreLinear(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		q := request(mixed()).Draw(t, "request")
		k := number(10).Draw(t, "k").Quo(unit.Int(20))
		a := work(t, q)
		bigger := q
		bigger.Jar = q.Jar.Times(k)
		b := work(t, bigger)
		stronger := q
		stronger.Products = append([]jar.Product{}, q.Products...)
		for i := range stronger.Products {
			stronger.Products[i].Rate = stronger.Products[i].Rate.Times(k)
		}
		c, err := stronger.Recipe()
		for i := range a.Doses {
			want := a.Doses[i].Amount.Times(k).Base()
			if !b.Doses[i].Amount.Base().Equal(want) {
				t.Fatalf("jar × %v: dose %d is %v, want %v", k.Short(3), i, b.Doses[i].Amount.Base().Short(9), want.Short(9))
			}
			if err == nil && !c.Doses[i].Amount.Base().Equal(want) {
				t.Fatalf("rate × %v: dose %d is %v, want %v", k.Short(3), i, c.Doses[i].Amount.Base().Short(9), want.Short(9))
			}
		}
	})
}

// The parts of a jar sum to the whole exactly, and as printed to within half of the
// last digit of each part.
func TestPartsSum(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		q := request(mixed()).Draw(t, "request")
		r := work(t, q)
		sum := r.FirstWater.Add(r.TopUp)
		if !sum.Equal(r.Water) || r.FirstWater.Sign() < 0 || r.TopUp.Sign() < 0 {
			t.Fatalf("first %v and top-up %v make %v", r.FirstWater, r.TopUp, r.Water)
		}
		printed := r.FirstWater.Base().Round(3).Add(r.TopUp.Base().Round(3))
		for _, d := range r.Doses {
			sum = sum.Add(d.Takes)
			printed = printed.Add(d.Takes.Base().Round(3))
		}
		if !sum.Equal(r.Finished) || r.Finished.Cmp(q.Jar) > 0 {
			t.Fatalf("parts make %v of %v in a jar of %v", sum, r.Finished, q.Jar)
		}
		off := printed.Sub(r.Finished.Base().Round(3))
		if off.Sign() < 0 {
			off = off.Neg()
		}
		if limit := unit.Frac(int64(len(r.Doses)+3), 2000); off.Cmp(limit) > 0 {
			t.Fatalf("printed parts are off by %s mL, more than %s", off.Short(6), limit.Short(6))
		}
	})
}

// More water never means more product: neither a larger spray volume, for rates by
// area, nor a fuller jar.
func TestMoreWaterNeverMoreProduct(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		q := request(byArea).Draw(t, "request")
		a := work(t, q)
		more := q
		more.SprayVolume = q.SprayVolume.Times(unit.Int(1).Add(number(3).Draw(t, "more")))
		b := work(t, more)
		full := q
		full.WaterShare = unit.Int(1)
		c := work(t, full)
		for i := range a.Doses {
			if a.Doses[i].Amount.Base().Cmp(b.Doses[i].Amount.Base()) <= 0 {
				t.Fatalf("dose %d grew from %v to %v with more spray", i, a.Doses[i].Amount, b.Doses[i].Amount)
			}
			if !a.Doses[i].Amount.Base().Equal(c.Doses[i].Amount.Base()) {
				t.Fatalf("dose %d changed with the share of water", i)
			}
		}
		if a.Finished.Cmp(c.Finished) > 0 || !c.Finished.Equal(q.Jar) {
			t.Fatalf("finished %v at share %s, %v at full water", a.Finished, q.WaterShare.Short(3), c.Finished)
		}
	})
}

// The loads of a job sum to its area and to the total of each product, exactly, and
// none is above the fill.
func TestLoadsSum(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		gal := func(n unit.Number) unit.Volume { return unit.Gallon.Of(n) }
		q := jar.LoadRequest{Area: unit.Acre.Of(number(300).Draw(t, "area")),
			SprayVolume: unit.GallonPerAcre.Of(number(40).Draw(t, "spray").Add(unit.Int(10))),
			Tank:        gal(number(1000).Draw(t, "tank").Add(unit.Int(200))),
			Heel:        gal(unit.Int(rapid.Int64Range(0, 20).Draw(t, "heel"))),
			Minimum:     gal(unit.Int(rapid.Int64Range(0, 200).Draw(t, "minimum"))),
			Products:    products(mixed()).Draw(t, "products"), Steps: table}
		p, err := q.Plan()
		if err != nil {
			t.Skip(err)
		}
		var area unit.Area
		volume := q.Heel.Times(unit.Int(-1))
		sums := make([]unit.Amount, len(p.Total))
		for i, l := range p.Loads {
			area, volume = area.Add(l.Area), volume.Add(l.Volume)
			for j, d := range l.Doses {
				if d.Product.Name != p.Total[j].Product.Name {
					t.Fatalf("load %d: %s stands at %d", i, d.Product.Name, j)
				}
				sums[j] = sums[j].Add(d.Amount)
			}
			if l.Fill.Cmp(q.Tank) > 0 || l.Volume.Sign() <= 0 {
				t.Fatalf("load %d fills %v of a tank of %v", i, l.Fill, q.Tank)
			}
			if l.Fill.Cmp(q.Minimum) < 0 != (p.BelowMinimum && i == len(p.Loads)-1) {
				t.Fatalf("load %d of %v at a minimum of %v, below %v", i, l.Fill, q.Minimum, p.BelowMinimum)
			}
		}
		if !area.Equal(q.Area) || !volume.Equal(jar.Needed(q.SprayVolume, q.Area)) {
			t.Fatalf("loads cover %v of %v with %v", area, q.Area, volume)
		}
		for j, d := range p.Total {
			if !sums[j].Base().Equal(d.Amount.Base()) {
				t.Fatalf("%s: loads hold %v, total %v", d.Product.Name, sums[j], d.Amount)
			}
		}
	})
}

// The order of addition is a rearrangement that keeps the steps in sequence where
// no label says otherwise.
func TestOrderIsStable(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		ps := products(mixed()).Draw(t, "products")
		seen := map[int]bool{}
		lastRank, lastGiven := -1, -1
		for _, placed := range jar.Order(ps, table) {
			if seen[placed.Given] {
				t.Fatalf("product %d twice", placed.Given)
			}
			seen[placed.Given] = true
			if placed.Place.Reason == jar.ByLabel {
				continue
			}
			rank := len(table)
			for i := range table {
				if placed.Place.Step == &table[i] {
					rank = i
				}
			}
			if rank < lastRank || rank == lastRank && placed.Given < lastGiven {
				t.Fatalf("step %d after %d, given %d after %d", rank, lastRank, placed.Given, lastGiven)
			}
			lastRank, lastGiven = rank, placed.Given
		}
		if len(seen) != len(ps) {
			t.Fatalf("%d of %d products placed", len(seen), len(ps))
		}
	})
}
