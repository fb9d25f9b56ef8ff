// Ammonium sulfate from ions, and hardness from calcium and magnesium. As
// internal/jar/water.go, where the sources and caveats stand.

import { frac, type Num, zero } from "../unit/number";
import type { Content } from "../unit/quantity";
import { parseRate, type Rate } from "../unit/rate";

/** The ions of the equation, each in ppm of the ion itself. */
export const ions = ["potassium", "sodium", "calcium", "magnesium", "iron"] as const;
export type Ion = (typeof ions)[number];

/** lb/100 gal for each ppm of an ion. */
export const sulfatePerPPM: Record<Ion, Num> = {
  potassium: frac(2, 1000),
  sodium: frac(5, 1000),
  calcium: frac(9, 1000),
  magnesium: frac(14, 1000),
  iron: frac(42, 1000),
};

export interface Conditioning {
  rate: Rate; // lb/100 gal
  missing: Ion[]; // not measured, counted as none: the rate is then too low
}

/** What the published equation gives; undefined when no ion was measured. */
export function ammoniumSulfate(water: Partial<Record<Ion, Num>>): Conditioning | undefined {
  let sum = zero;
  const missing: Ion[] = [];
  for (const ion of ions) {
    const n = water[ion];
    if (n === undefined) missing.push(ion);
    else sum = sum.add(n.mul(sulfatePerPPM[ion]));
  }
  if (missing.length === ions.length) return undefined;
  return { rate: parseRate("1 lb/100 gal").times(sum), missing };
}

/** ppm as calcium carbonate for each ppm of the ion. */
export const carbonatePerCalcium = frac(1000869, 400780);
export const carbonatePerMagnesium = frac(1000869, 243050);

/** The hardness as calcium carbonate of a water with so much of the two ions. */
export function hardnessOf(calcium: Content, magnesium: Content): Content {
  return calcium.times(carbonatePerCalcium).add(magnesium.times(carbonatePerMagnesium));
}
