package compat_test

import (
	"slices"

	"tankleaf.example/internal/mix"
)

// known returns the carriers that are known to be in the tank, and those that may be.
func (o *oracle) known(s *mix.Situation) (sure, maybe []mix.ID) {
	for _, c := range o.book.Classes {
		if slices.Contains(s.Carrier, c.ID) || c.Carrier && len(c.When) > 0 && o.waterIs(&c, s) == mix.Holds {
			sure = append(sure, c.ID)
		}
	}
	for _, c := range o.book.Classes {
		if c.Carrier && o.carried(s, sure, c.ID) == mix.NotKnown {
			maybe = append(maybe, c.ID)
		}
	}
	slices.Sort(sure)
	slices.Sort(maybe)
	return sure, maybe
}

func (o *oracle) waterIs(c *mix.Class, s *mix.Situation) mix.Truth {
	var got []mix.Truth
	for _, g := range c.When {
		got = append(got, g.Inside(s.Number(g.Factor)))
	}
	switch {
	case slices.Contains(got, mix.Fails):
		return mix.Fails
	case slices.Contains(got, mix.NotKnown):
		return mix.NotKnown
	}
	return mix.Holds
}

func (o *oracle) carried(s *mix.Situation, sure []mix.ID, class mix.ID) mix.Truth {
	for _, k := range sure {
		if o.x.IsA(k, class) {
			return mix.Holds
		}
	}
	switch c := o.x.Class(class); {
	case c != nil && len(c.When) > 0:
		return o.waterIs(c, s)
	case s.Carrier != nil:
		return mix.Fails
	}
	return mix.NotKnown
}

// holds tells whether a gate holds for the items of a statement.
func (o *oracle) holds(g mix.Gate, s *mix.Situation, items []mix.ID) mix.Truth {
	same := func(got, want mix.ID) mix.Truth {
		return map[bool]mix.Truth{true: mix.Holds, false: mix.Fails}[got == want]
	}
	switch g.Factor {
	case mix.VesselFactor:
		if s.Vessel != "" {
			return same(mix.ID(s.Vessel), g.Ref.ID)
		}
	case mix.CropFactor:
		if s.Crop != "" {
			return same(s.Crop, g.Ref.ID)
		}
	case mix.PlaceFactor:
		return o.inPlace(s.Place, g.Ref.ID)
	case mix.CarrierClass:
		sure, _ := o.known(s)
		return o.carried(s, sure, g.Ref.ID)
	case mix.OrderFactor:
		return o.inOrder(g, s.Order, items)
	case mix.Hardness, mix.PH, mix.Bicarbonate, mix.WaterTemp, mix.CarrierRate, mix.Standing, mix.WaterShare:
		return g.Inside(s.Number(g.Factor))
	case mix.NoFactor:
	}
	return mix.NotKnown
}

func (o *oracle) inPlace(here, place mix.ID) mix.Truth {
	above := func(id mix.ID) (all []mix.ID) {
		for p := o.x.Place(id); p != nil && len(all) < 9; p = o.x.Place(p.PartOf.ID) {
			all = append(all, p.ID)
		}
		return all
	}
	switch {
	case slices.Contains(above(here), place):
		return mix.Holds
	case here == "", slices.Contains(above(place), here):
		return mix.NotKnown
	}
	return mix.Fails
}

func (o *oracle) inOrder(g mix.Gate, order, items []mix.ID) mix.Truth {
	any, right := false, false
	for _, a := range items {
		for _, b := range items {
			if a != b && o.x.IsA(a, g.First.ID) && o.x.IsA(b, g.Then.ID) {
				i, k := slices.Index(order, a), slices.Index(order, b)
				if i < 0 || k < 0 {
					return mix.NotKnown
				}
				any, right = true, right || i < k
				if right {
					return mix.Holds
				}
			}
		}
	}
	if any {
		return mix.Fails
	}
	return mix.NotKnown
}
