package jar

import (
	"fmt"

	"tankleaf.example/internal/mix"
	"tankleaf.example/internal/unit"
)

// MaxLoads is the most loads that a plan may have. More is a wrong unit: a season
// of the largest sprayers is below it.
const MaxLoads = 1000

// LoadRequest asks for the loads of a job.
type LoadRequest struct {
	Area        unit.Area
	SprayVolume unit.SprayVolume
	Tank        unit.Volume // what the tank holds
	MaxFill     unit.Volume // how far it is filled; zero: the tank
	Minimum     unit.Volume // least fill at which it still agitates; zero: none
	Heel        unit.Volume // what the pump cannot reach; zero: none
	FirstWater  unit.Number // 0 to 1 of the load's volume
	Products    []Product
	Steps       []mix.OrderStep
}

// Plan is the loads of a job, exact.
type Plan struct {
	Area         unit.Area
	SprayVolume  unit.SprayVolume
	AreaPerLoad  unit.Area // that a full load sprays
	Loads        []Load
	Total        []Dose      // what to buy: every load together, in order of addition
	LeftOver     unit.Volume // the heel, mixed and not sprayed
	Evened       bool        // the last two loads share their area evenly
	BelowMinimum bool        // a load is below the sprayer's minimum, and no sharing mends it
}

// Load is one fill of the sprayer.
type Load struct {
	Area       unit.Area   // that it sprays
	Volume     unit.Volume // of spray mixed for it: what it sprays, and the heel with the first
	Fill       unit.Volume // in the tank when it is ready
	Full       bool        // it sprays as much as a full tank can
	Water      unit.Volume // all of it
	FirstWater unit.Volume // before the first product
	TopUp      unit.Volume // after the last
	Doses      []Dose      // in order of addition
}

// fill returns how far the tank is filled.
func (q *LoadRequest) fill() unit.Volume {
	if q.MaxFill.IsZero() {
		return q.Tank
	}
	return q.MaxFill
}

func (q *LoadRequest) check() Problems {
	var ps Problems
	if q.Area.Sign() <= 0 {
		ps.add(NoArea, "", "there is no area to spray", `give the area, such as "80 ac"`)
	}
	if q.SprayVolume.Sign() <= 0 {
		ps.add(NoSprayVolume, "", "there is no spray volume", `give the spray volume, such as "15 gal/ac"`)
	}
	q.checkTank(&ps)
	if !inUnit(q.FirstWater) {
		ps.add(BadShare, "", fmt.Sprintf("first water %s %% is outside 0 to 100 %%",
			q.FirstWater.Mul(unit.Int(100)).Short(3)), "write 0 to 100 %")
	}
	if q.SprayVolume.Sign() > 0 {
		checkProducts(q.Products, q.SprayVolume, &ps)
	}
	return ps
}

func (q *LoadRequest) checkTank(ps *Problems) {
	switch {
	case q.Tank.Sign() <= 0:
		ps.add(NoTank, "", "the tank has no volume", `give what it holds, such as "500 gal"`)
	case q.MaxFill.Sign() < 0 || q.Minimum.Sign() < 0 || q.Heel.Sign() < 0:
		ps.add(BadFill, "", "a fill, minimum or heel is below zero", "leave it out when there is none")
	case q.MaxFill.Cmp(q.Tank) > 0:
		ps.add(BadFill, "", fmt.Sprintf("fill %v is more than the tank of %v holds", q.MaxFill, q.Tank),
			"write a fill up to the tank's volume")
	case q.Heel.Cmp(q.fill()) >= 0:
		ps.add(BadFill, "", fmt.Sprintf("heel %v leaves nothing of a fill of %v to spray", q.Heel, q.fill()),
			"write a heel below the fill")
	case q.Minimum.Cmp(q.fill()) > 0:
		ps.add(BadFill, "", fmt.Sprintf("minimum %v is more than a fill of %v", q.Minimum, q.fill()),
			"write a minimum up to the fill")
	}
}

// Plan works the loads out. A request that cannot be worked out gives [Problems],
// all of them at once.
func (q LoadRequest) Plan() (Plan, error) {
	if ps := q.check(); len(ps) > 0 {
		return Plan{}, ps
	}
	full := q.fill().Sub(q.Heel)
	spray := over(q.SprayVolume, q.Area)
	count := spray.Per(full)
	if count.Cmp(unit.Int(MaxLoads)) > 0 {
		return Plan{}, Problems{{Code: TooManyLoads,
			Msg:  fmt.Sprintf("the job takes more than %d loads", MaxLoads),
			Hint: "check the units of area, spray volume and tank"}}
	}
	p := Plan{Area: q.Area, SprayVolume: q.SprayVolume, AreaPerLoad: covers(full, q.SprayVolume), LeftOver: q.Heel}
	for i, sprays := range q.parts(&p, spray, full) {
		load, err := q.load(sprays, full, i == 0)
		if err != nil {
			return Plan{}, err
		}
		p.Loads = append(p.Loads, load)
	}
	p.Total, _ = doses(q.Products, q.Steps, spray.Add(q.Heel), q.SprayVolume)
	return p, nil
}

// parts returns what each load sprays: full ones, then the rest; the last two even
// when the rest would be below the minimum.
func (q *LoadRequest) parts(p *Plan, spray, full unit.Volume) []unit.Volume {
	n, _ := spray.Per(full).Floor().Int64()
	var parts []unit.Volume
	for range n {
		parts = append(parts, full)
	}
	rest := spray.Sub(full.Times(unit.Int(n)))
	if rest.Sign() > 0 {
		parts = append(parts, rest)
	}
	last := len(parts) - 1
	if parts[last].Add(q.Heel).Cmp(q.Minimum) >= 0 {
		return parts
	}
	if half := parts[last].Add(full).Over(unit.Int(2)); last > 0 && half.Add(q.Heel).Cmp(q.Minimum) >= 0 {
		parts[last-1], parts[last] = half, half
		p.Evened = true
		return parts
	}
	p.BelowMinimum = true
	return parts
}

// load returns the load that sprays a volume.
func (q *LoadRequest) load(sprays, full unit.Volume, first bool) (Load, error) {
	l := Load{Area: covers(sprays, q.SprayVolume), Volume: sprays, Fill: sprays.Add(q.Heel), Full: sprays.Cmp(full) == 0}
	if first {
		l.Volume = l.Fill
	}
	var taken unit.Volume
	l.Doses, taken = doses(q.Products, q.Steps, l.Volume, q.SprayVolume)
	if ps := room("load", l.Doses, taken, l.Volume); len(ps) > 0 {
		return Load{}, ps
	}
	l.Water = l.Volume.Sub(taken)
	l.FirstWater = firstWater(q.FirstWater, l.Volume, l.Water)
	l.TopUp = l.Water.Sub(l.FirstWater)
	return l, nil
}

// over returns the volume of spray on an area.
func over(v unit.SprayVolume, a unit.Area) unit.Volume {
	return unit.Milliliter.Of(v.Base().Mul(a.Base()))
}

// covers returns the area that a volume of spray covers.
func covers(v unit.Volume, perArea unit.SprayVolume) unit.Area {
	return unit.SquareMeter.Of(v.Base().Quo(perArea.Base()))
}
