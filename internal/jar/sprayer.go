package jar

import "tankleaf.example/internal/unit"

// SprayVolumeOf returns what a boom puts on: flow of one nozzle ÷ (speed × nozzle
// spacing). With GPM, mph and inches this is the usual 5940 × GPM ÷ (mph × in)
// (Mesa County, stationary calibration); 5940 is 43,560 × 12 ÷ 88 exactly. Speed
// and spacing must not be zero. For a band or a hand gun, spacing is the width
// that one nozzle treats.
func SprayVolumeOf(flow unit.Flow, speed unit.Speed, spacing unit.Length) unit.SprayVolume {
	return unit.MilliliterPerSquareMeter.Of(flow.Base().Quo(speed.Base().Mul(spacing.Base())))
}

// FlowFor returns the flow that one nozzle needs.
func FlowFor(v unit.SprayVolume, speed unit.Speed, spacing unit.Length) unit.Flow {
	return unit.MilliliterPerMinute.Of(v.Base().Mul(speed.Base()).Mul(spacing.Base()))
}

// SpeedFor returns the speed at which a nozzle puts a spray volume on; spray
// volume and spacing must not be zero.
func SpeedFor(flow unit.Flow, v unit.SprayVolume, spacing unit.Length) unit.Speed {
	return unit.MeterPerMinute.Of(flow.Base().Quo(v.Base().Mul(spacing.Base())))
}

// Applied returns the spray volume of a known volume on a known area, as in the
// refill method; the area must not be zero.
func Applied(v unit.Volume, a unit.Area) unit.SprayVolume {
	return unit.MilliliterPerSquareMeter.Of(v.Base().Quo(a.Base()))
}

// Covered returns the area that a volume covers at a spray volume, not zero: acres
// in a tank.
func Covered(v unit.Volume, perArea unit.SprayVolume) unit.Area { return covers(v, perArea) }

// Needed returns the volume of spray for an area.
func Needed(perArea unit.SprayVolume, a unit.Area) unit.Volume { return over(perArea, a) }

// Swath returns the area of a strip.
func Swath(length, width unit.Length) unit.Area {
	return unit.SquareMeter.Of(length.Base().Mul(width.Base()))
}

// Travel returns the time for a distance at a speed, not zero.
func Travel(distance unit.Length, speed unit.Speed) unit.Duration {
	return unit.Minute.Of(distance.Base().Quo(speed.Base()))
}

// SpeedOver returns the speed of a distance in a time, not zero.
func SpeedOver(distance unit.Length, time unit.Duration) unit.Speed {
	return unit.MeterPerMinute.Of(distance.Base().Quo(time.Base()))
}

// CarrierFactor is what the flow of a carrier has to be multiplied by to find the
// nozzle in a chart made with water: the square root of its density in g/mL. At
// one pressure an orifice lets a liquid through in inverse proportion to the
// square root of its density (Bernoulli's equation), so that a heavy carrier needs
// a nozzle with a larger flow of water. Charts count water as 8.34 lb/gal (from
// memory); 1 g/mL is 8.345 lb/gal, which moves the factor by less than 1 in 1000.
// The factor is cut off after twelve decimals.
func CarrierFactor(d unit.Density) unit.Number { return d.In(unit.GramPerMilliliter).Sqrt() }

// FlowOfWater returns the flow of water, as a nozzle chart prints it, that a nozzle
// must have to let a carrier of density d through at the given flow.
func FlowOfWater(carrier unit.Flow, d unit.Density) unit.Flow { return carrier.Times(CarrierFactor(d)) }

// FlowOfCarrier returns the flow of a carrier of density d, not zero, through a
// nozzle whose flow of water is given.
func FlowOfCarrier(water unit.Flow, d unit.Density) unit.Flow { return water.Over(CarrierFactor(d)) }
