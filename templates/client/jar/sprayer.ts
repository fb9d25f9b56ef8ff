// The sums of a sprayer. As internal/jar/sprayer.go, where the sources stand.

import type { Num } from "../unit/number";
import type { Area, Density, Duration, Flow, Length, Speed, SprayVolume, Volume } from "../unit/quantity";
import * as u from "../unit/units";

/** What a boom puts on: flow of one nozzle ÷ (speed × nozzle spacing). */
export function sprayVolumeOf(flow: Flow, speed: Speed, spacing: Length): SprayVolume {
  return u.milliliterPerSquareMeter.of(flow.base.quo(speed.base.mul(spacing.base)));
}

/** The flow that one nozzle needs. */
export function flowFor(v: SprayVolume, speed: Speed, spacing: Length): Flow {
  return u.milliliterPerMinute.of(v.base.mul(speed.base).mul(spacing.base));
}

/** The speed at which a nozzle puts a spray volume on. */
export function speedFor(flow: Flow, v: SprayVolume, spacing: Length): Speed {
  return u.meterPerMinute.of(flow.base.quo(v.base.mul(spacing.base)));
}

/** The spray volume of a known volume on a known area. */
export function applied(v: Volume, a: Area): SprayVolume {
  return u.milliliterPerSquareMeter.of(v.base.quo(a.base));
}

/** The area of a strip. */
export function swath(length: Length, width: Length): Area {
  return u.squareMeter.of(length.base.mul(width.base));
}

/** The time for a distance at a speed. */
export function travel(distance: Length, speed: Speed): Duration {
  return u.minute.of(distance.base.quo(speed.base));
}

/** The speed of a distance in a time. */
export function speedOver(distance: Length, time: Duration): Speed {
  return u.meterPerMinute.of(distance.base.quo(time.base));
}

/** The factor on the flow of a carrier that finds the nozzle in a chart for water. */
export function carrierFactor(d: Density): Num {
  return d.in(u.gramPerMilliliter).sqrt();
}

/** The flow of water of a nozzle that lets a carrier through at the given flow. */
export function flowOfWater(carrier: Flow, d: Density): Flow {
  return carrier.times(carrierFactor(d));
}

/** The flow of a carrier through a nozzle whose flow of water is given. */
export function flowOfCarrier(water: Flow, d: Density): Flow {
  return water.over(carrierFactor(d));
}
