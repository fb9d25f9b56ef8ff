package jar_test

import (
	"fmt"
	"slices"
	"testing"

	"github.com/google/go-cmp/cmp"
	"tankleaf.example/internal/jar"
	"tankleaf.example/internal/unit"
)

// job is the loads of one product.
func job(area, spray, tank, rate string) jar.LoadInput {
	return jar.LoadInput{Area: area, SprayVolume: spray, Tank: tank, Products: []jar.ProductInput{{Name: "a", Rate: rate}}}
}

// outline writes each load as "area acres, gallons mixed, gallons in the tank".
func outline(p jar.Plan) []string {
	var all []string
	for _, l := range p.Loads {
		all = append(all, fmt.Sprintf("%s ac %s gal %s gal", l.Area.In(unit.Acre).Short(3), l.Volume.In(unit.Gallon).Short(3),
			l.Fill.In(unit.Gallon).Short(3)))
	}
	return all
}

func TestLoads(t *testing.T) {
	with := func(in jar.LoadInput, change func(*jar.LoadInput)) jar.LoadInput { change(&in); return in }
	base := job("80 ac", "15 gal/ac", "500 gal", "1 pt/ac")
	for _, c := range []struct {
		in            jar.LoadInput
		want          []string
		evened, below bool
		why           string
	}{
		{base, []string{"33.333 ac 500 gal 500 gal", "33.333 ac 500 gal 500 gal", "13.333 ac 200 gal 200 gal"}, false, false,
			"two full loads and a part"},
		{with(base, func(in *jar.LoadInput) { in.Area = "66 2/3 ac" }),
			[]string{"33.333 ac 500 gal 500 gal", "33.333 ac 500 gal 500 gal"}, false, false, "full loads only"},
		{with(base, func(in *jar.LoadInput) { in.Area = "10 ac" }), []string{"10 ac 150 gal 150 gal"}, false, false, "one part load"},
		{with(base, func(in *jar.LoadInput) { in.MaxFill = "450 gal" }),
			[]string{"30 ac 450 gal 450 gal", "30 ac 450 gal 450 gal", "20 ac 300 gal 300 gal"}, false, false, "filled to a mark"},
		{with(base, func(in *jar.LoadInput) { in.Heel = "50 gal" }),
			[]string{"30 ac 500 gal 500 gal", "30 ac 450 gal 500 gal", "20 ac 300 gal 350 gal"}, false, false,
			"the heel is mixed once and stays"},
		{with(base, func(in *jar.LoadInput) { in.Minimum = "250 gal" }),
			[]string{"33.333 ac 500 gal 500 gal", "23.333 ac 350 gal 350 gal", "23.333 ac 350 gal 350 gal"}, true, false,
			"the last two share evenly"},
		{with(base, func(in *jar.LoadInput) { in.Minimum = "200 gal" }),
			[]string{"33.333 ac 500 gal 500 gal", "33.333 ac 500 gal 500 gal", "13.333 ac 200 gal 200 gal"}, false, false,
			"the minimum itself is enough"},
		{with(base, func(in *jar.LoadInput) { in.Area = "10 ac"; in.Minimum = "200 gal" }), []string{"10 ac 150 gal 150 gal"},
			false, true, "one load below the minimum cannot be shared"},
		{with(base, func(in *jar.LoadInput) { in.Area = "34 ac"; in.Minimum = "400 gal" }),
			[]string{"33.333 ac 500 gal 500 gal", "0.667 ac 10 gal 10 gal"}, false, true, "half of two is below it as well"},
		{with(base, func(in *jar.LoadInput) { in.Minimum = "350 gal" }),
			[]string{"33.333 ac 500 gal 500 gal", "23.333 ac 350 gal 350 gal", "23.333 ac 350 gal 350 gal"}, true, false,
			"half of two is just the minimum"},
		{with(base, func(in *jar.LoadInput) { in.MaxFill = "500 gal"; in.Minimum = "500 gal"; in.Area = "66 2/3 ac" }),
			[]string{"33.333 ac 500 gal 500 gal", "33.333 ac 500 gal 500 gal"}, false, false, "fill and minimum may be the whole tank"},
		{with(base, func(in *jar.LoadInput) { in.Area = "34 ac"; in.Minimum = "300 gal"; in.Heel = "50 gal" }),
			[]string{"17 ac 305 gal 305 gal", "17 ac 255 gal 305 gal"}, true, false, "the heel counts for the minimum"},
	} {
		p := plan(t, c.in)
		if diff := cmp.Diff(c.want, outline(p)); diff != "" || p.Evened != c.evened || p.BelowMinimum != c.below {
			t.Errorf("%s: evened %v, below %v (-want +got)\n%s", c.why, p.Evened, p.BelowMinimum, diff)
		}
	}
}

// S7, Montana State Univ., MT 2000-14: 300 gal at 40 GPA, 1 qt an acre: 7.5 acres
// and 7.5 qt a tank. S12, Texas A&M: 2 lb per 100 gal in 500 gal are 10 lb.
func TestPublishedLoads(t *testing.T) {
	p := plan(t, job("15 ac", "40 gal/ac", "300 gal", "1 qt/ac"))
	if got := p.AreaPerLoad.String(); got != "7.5 ac" || len(p.Loads) != 2 {
		t.Errorf("S7: %s a load and %d loads, want 7.5 ac and 2", got, len(p.Loads))
	}
	if got := p.Loads[0].Doses[0].Amount.Volume.In(unit.Quart).Short(6); got != "7.5" {
		t.Errorf("S7: %s qt a tank, want 7.5", got)
	}
	p = plan(t, job("50 ac", "10 gal/ac", "500 gal", "2 lb/100 gal"))
	if got := p.Loads[0].Doses[0].Amount.Mass.String(); got != "10 lb" {
		t.Errorf("S12: %s, want 10 lb", got)
	}
}

func TestLoadAmounts(t *testing.T) {
	in := job("80 ac", "15 gal/ac", "500 gal", "1 pt/ac")
	in.Heel, in.FirstWater = "50 gal", "50 %"
	in.Products = append(in.Products, jar.ProductInput{Name: "b", Rate: "1 qt/100 gal", Range: [2]string{"1 pt/100 gal", "1 pt/100 gal"}})
	p := plan(t, in)
	for i, want := range []struct{ a, b string }{{"4 gal + 21.3 fl oz", "1 gal + 1 qt"}, {"3 gal + 3 qt", "1 gal + 16 fl oz"},
		{"2 gal + 2 qt", "3 qt"}} {
		got := p.Loads[i].Doses
		if a, b := got[0].Amount.Split(unit.US).String(), got[1].Amount.Split(unit.US).String(); a != want.a || b != want.b {
			t.Errorf("load %d: %s and %s, want %s and %s", i+1, a, b, want.a, want.b)
		}
	}
	if a, b := p.Total[0].Amount, p.Total[1].Amount; a.Split(unit.US).String() != "10 gal + 1 qt + 21.3 fl oz" ||
		b.Split(unit.US).String() != "3 gal + 16 fl oz" {
		t.Errorf("total %s and %s", a.Split(unit.US), b.Split(unit.US))
	}
	if p.Total[1].Label != jar.Above || p.Loads[2].Doses[1].Label != jar.Above || p.Total[0].Label != jar.NotChecked {
		t.Error("a rate above its label must be marked in every load and in the total")
	}
	l := p.Loads[1]
	if got := l.Water.Add(l.Doses[0].Takes).Add(l.Doses[1].Takes); !got.Equal(l.Volume) {
		t.Errorf("water and products make %v of %v", got, l.Volume)
	}
	if got := l.FirstWater.In(unit.Gallon).Short(3); got != "225" {
		t.Errorf("first water %s gal, want half of 450", got)
	}
	if !l.Full || p.Loads[2].Full || p.LeftOver.In(unit.Gallon).Short(3) != "50" {
		t.Error("full loads and the heel left over must be told")
	}
}

func TestLoadProblems(t *testing.T) {
	good := job("80 ac", "15 gal/ac", "500 gal", "1 pt/ac")
	for _, c := range []struct {
		change func(*jar.LoadInput)
		want   []jar.Code
		why    string
	}{
		{func(in *jar.LoadInput) { *in = jar.LoadInput{} }, []jar.Code{jar.NoArea, jar.NoSprayVolume, jar.NoTank}, "everything missing"},
		{func(in *jar.LoadInput) { in.Products = nil }, []jar.Code{jar.NoProducts}, "nothing to mix"},
		{func(in *jar.LoadInput) { in.Area = "0 ac" }, []jar.Code{jar.NoArea}, "no land"},
		{func(in *jar.LoadInput) { in.Tank = "0 gal" }, []jar.Code{jar.NoTank}, "no tank"},
		{func(in *jar.LoadInput) { in.MaxFill = "501 gal" }, []jar.Code{jar.BadFill}, "more than it holds"},
		{func(in *jar.LoadInput) { in.Heel = "500 gal" }, []jar.Code{jar.BadFill}, "nothing left to spray"},
		{func(in *jar.LoadInput) { in.Minimum = "600 gal" }, []jar.Code{jar.BadFill}, "never enough"},
		{func(in *jar.LoadInput) { in.Tank = "1 mL" }, []jar.Code{jar.TooManyLoads}, "a wrong unit"},
		{func(in *jar.LoadInput) { in.Products[0].Rate = "20 gal/ac" }, []jar.Code{jar.Overfull}, "no room for water"},
		{func(in *jar.LoadInput) { in.Products[0].Rate = "0.000000001 mg/ac" }, []jar.Code{jar.TooSmall}, "nothing to measure"},
		{func(in *jar.LoadInput) { in.Tank = "500" }, []jar.Code{jar.BadText}, "cannot be read"},
	} {
		in := good
		in.Products = slices.Clone(good.Products)
		c.change(&in)
		q, err := in.Request()
		if err == nil {
			_, err = q.Plan()
		}
		if got := codes(t, err); !slices.Equal(got, c.want) {
			t.Errorf("%s: got %v, want %v", c.why, got, c.want)
		}
	}
	if n := len(plan(t, job("1000 ac", "1 gal/ac", "1 gal", "1 fl oz/ac")).Loads); n != jar.MaxLoads {
		t.Errorf("the most loads: got %d, want %d", n, jar.MaxLoads)
	}
}

// Values that cannot be written are refused when they are set.
func TestLoadBounds(t *testing.T) {
	below, good := unit.Gallon.Of(unit.Int(-1)), unit.Gallon.Of(unit.Int(9))
	for _, c := range []struct {
		fill, minimum, heel unit.Volume
		first               unit.Number
		want                jar.Code
		msg                 string
	}{
		{below, good, unit.Volume{}, unit.Int(0), jar.BadFill, "a fill, minimum or heel is below zero"},
		{good, below, unit.Volume{}, unit.Int(0), jar.BadFill, "a fill, minimum or heel is below zero"},
		{good, good, below, unit.Int(0), jar.BadFill, "a fill, minimum or heel is below zero"},
		{good, good, unit.Volume{}, unit.Int(2), jar.BadShare, "first water 200 % is outside 0 to 100 %"},
	} {
		q := jar.LoadRequest{Area: unit.Acre.Of(unit.Int(1)), SprayVolume: unit.GallonPerAcre.Of(unit.Int(1)), Tank: good,
			MaxFill: c.fill, Minimum: c.minimum, Heel: c.heel, FirstWater: c.first,
			Products: []jar.Product{{Name: "a", Rate: must(t, unit.ParseRate, "1 % v/v")}}}
		_, err := q.Plan()
		if got := codes(t, err); !slices.Equal(got, []jar.Code{c.want}) || err.Error() != c.msg {
			t.Errorf("got %v: %v, want %s: %s", got, err, c.want, c.msg)
		}
	}
}
