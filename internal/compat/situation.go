package compat

import (
	"slices"

	"tankleaf.example/internal/mix"
	"tankleaf.example/internal/unit"
)

// setting is a situation with what follows from it: the carrier classes that
// its water belongs to.
type setting struct {
	mix.Situation
	carriers []mix.ID // carrier classes known to be in the tank, sorted
	maybe    []mix.ID // carrier classes that may be, sorted
}

func (j *Judge) setting(s mix.Situation) *setting {
	t := &setting{Situation: s, carriers: slices.Clone(s.Carrier)}
	for _, c := range j.waters {
		if waterIs(c, &s) == mix.Holds {
			t.carriers = append(t.carriers, c.ID)
		}
	}
	slices.Sort(t.carriers)
	t.carriers = slices.Compact(t.carriers)
	for _, c := range j.liquids {
		if j.inCarrier(t, c.ID) == mix.NotKnown {
			t.maybe = append(t.maybe, c.ID)
		}
	}
	return t
}

// waterIs tells whether the water of a situation belongs to a carrier class that
// is known by what is dissolved in it.
func waterIs(c *mix.Class, s *mix.Situation) mix.Truth {
	all := mix.Holds
	for i := range c.When {
		g := &c.When[i]
		truth := mix.NotKnown
		if g.Factor.Numeric() {
			truth = g.Inside(s.Number(g.Factor))
		}
		all = both(all, truth)
	}
	return all
}

// both is the three-valued "and": one failure fails, else one unknown is unknown.
func both(a, b mix.Truth) mix.Truth {
	switch {
	case a == mix.Fails || b == mix.Fails:
		return mix.Fails
	case a == mix.NotKnown || b == mix.NotKnown:
		return mix.NotKnown
	default:
		return mix.Holds
	}
}

// truth tells whether a gate holds. The items are those that stand for the
// members of the statement whose gate it is; only an order gate looks at them.
func (j *Judge) truth(g *mix.Gate, s *setting, items []mix.ID) mix.Truth {
	switch g.Factor {
	case mix.OrderFactor:
		return j.inOrder(g, s.Order, items)
	case mix.VesselFactor:
		return equal(mix.ID(s.Vessel), g.Ref.ID)
	case mix.CropFactor:
		return equal(s.Crop, g.Ref.ID)
	case mix.PlaceFactor:
		return j.inPlace(s.Place, g.Ref.ID)
	case mix.CarrierClass:
		return j.inCarrier(s, g.Ref.ID)
	case mix.Hardness, mix.PH, mix.Bicarbonate, mix.WaterTemp, mix.CarrierRate, mix.Standing, mix.WaterShare:
		return g.Inside(s.Number(g.Factor))
	case mix.NoFactor:
	}
	return mix.NotKnown
}

func equal(got, want mix.ID) mix.Truth {
	switch got {
	case "":
		return mix.NotKnown
	case want:
		return mix.Holds
	default:
		return mix.Fails
	}
}

// inOrder holds when one of the items that is First went in before another that
// is Then, and fails only when every such pair is known to have gone in the
// other way round.
func (j *Judge) inOrder(g *mix.Gate, order, items []mix.ID) mix.Truth {
	result := mix.NotKnown
	for _, a := range items {
		for _, b := range items {
			if a == b || !j.x.IsA(a, g.First.ID) || !j.x.IsA(b, g.Then.ID) {
				continue
			}
			ia, ib := slices.Index(order, a), slices.Index(order, b)
			if ia < 0 || ib < 0 {
				return mix.NotKnown
			}
			if ia < ib {
				return mix.Holds
			}
			result = mix.Fails
		}
	}
	return result
}

// inPlace holds in a place and all its parts. In a larger whole it is not known.
func (j *Judge) inPlace(here, place mix.ID) mix.Truth {
	switch {
	case here == "":
		return mix.NotKnown
	case j.within(here, place):
		return mix.Holds
	case j.within(place, here):
		return mix.NotKnown
	default:
		return mix.Fails
	}
}

// within reports whether part is whole or lies in it. The number of steps is
// bounded, so that places in a circle, which data must not have, end it too.
func (j *Judge) within(part, whole mix.ID) bool {
	for range len(j.x.Book().Places) + 1 {
		if part == whole {
			return true
		}
		p := j.x.Place(part)
		if p == nil || p.PartOf.ID == "" {
			return false
		}
		part = p.PartOf.ID
	}
	return false
}

// inCarrier tells whether the liquid of the tank belongs to a carrier class.
func (j *Judge) inCarrier(s *setting, class mix.ID) mix.Truth {
	for _, c := range s.carriers {
		if j.x.IsA(c, class) {
			return mix.Holds
		}
	}
	c := j.x.Class(class)
	if c != nil && len(c.When) > 0 {
		return waterIs(c, &s.Situation)
	}
	if s.Carrier != nil {
		return mix.Fails
	}
	return mix.NotKnown
}

// Situation returns what an observation recorded of its water, vessel, place and
// time. Standing is the time of its last reading, up to which it was watched.
func (j *Judge) Situation(o *mix.Observation) mix.Situation {
	s := mix.Situation{
		PH:         o.PHBefore,
		WaterTemp:  o.Temperature,
		WaterShare: o.WaterShare,
		Place:      o.Place.ID,
	}
	if w := j.x.Water(o.Water.ID); w != nil {
		s.Hardness, s.Bicarbonate = w.Hardness, w.Bicarbonate
		if !s.PH.Known {
			s.PH = w.PH
		}
	}
	if !s.WaterShare.Known {
		s.WaterShare = mix.Known(unit.Int(1)) // what a record leaves out: full water
	}
	if !o.SprayVolume.IsZero() {
		s.CarrierRate = mix.Known(o.SprayVolume.Base())
	}
	for _, r := range o.Readings {
		if t := r.After.Base(); !s.Standing.Known || t.Cmp(s.Standing.N) > 0 {
			s.Standing = mix.Known(t)
		}
	}
	if o.OrderKnown {
		for _, p := range o.Products {
			s.Order = append(s.Order, p.ID)
		}
	}
	switch v := o.Vessel; {
	case v.Recorded && v.Closed:
		s.Vessel = "closed"
	case v.Recorded:
		s.Vessel = "open"
	}
	return s
}
