package compat

import (
	"tankleaf.example/internal/mix"
	"tankleaf.example/internal/unit"
)

// bound adds to clean jars the doubt that this mix lies outside what they were
// run at, as far as the situation is known.
func (q *inquiry) bound() {
	for _, h := range q.held {
		if h.set == nil || h.Verdict != mix.Clean {
			continue
		}
		if outside := q.outside(h.set); len(outside) > 0 {
			h.Doubts = append(h.Doubts, Doubt{Code: Beyond, Gates: outside})
		}
	}
}

// outside returns what the jars were run at for each factor in which this mix
// lies outside of it. A mix that stands for less time, in more water or a larger
// spray volume, is inside.
func (q *inquiry) outside(s *jarSet) []mix.Gate {
	var list []mix.Gate
	for f := mix.Hardness; f.Numeric(); f++ {
		at := q.s.Number(f)
		low, high := q.j.ranAt(s, f)
		if !at.Known || !low.Known {
			continue
		}
		under, over := at.N.Cmp(low.N) < 0, at.N.Cmp(high.N) > 0
		switch f {
		case mix.Standing:
			under = false
		case mix.CarrierRate, mix.WaterShare:
			over = false
		case mix.Hardness, mix.PH, mix.Bicarbonate, mix.WaterTemp:
		case mix.NoFactor, mix.OrderFactor, mix.VesselFactor, mix.PlaceFactor, mix.CropFactor, mix.CarrierClass:
			continue // not numeric
		}
		if under || over {
			list = append(list, rangeGate(f, low.N, high.N))
		}
	}
	return list
}

// ranAt returns the least and the most of a factor that the jars recorded.
func (j *Judge) ranAt(s *jarSet, f mix.Factor) (low, high mix.Value) {
	for _, o := range s.tests() {
		situation := j.Situation(o)
		v := situation.Number(f)
		switch {
		case !v.Known:
		case !low.Known:
			low, high = v, v
		default:
			low, high = mix.Known(low.N.Min(v.N)), mix.Known(high.N.Max(v.N))
		}
	}
	return low, high
}

func rangeGate(f mix.Factor, low, high unit.Number) mix.Gate {
	return mix.Gate{
		Factor: f, Written: low.Short(3) + " to " + high.Short(3),
		Low: mix.Bound{Set: true, Value: low}, High: mix.Bound{Set: true, Value: high},
	}
}
