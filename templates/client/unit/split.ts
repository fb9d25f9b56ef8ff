// Amounts as they are measured out: whole numbers of the larger units and one
// rounded number of the smallest. As internal/unit/split.go.

import { int, type Num, pow10 } from "./number";
import type { Dimension, Mass, Quantity, System, Unit, Volume } from "./quantity";
import * as u from "./units";

/** One term: 2 of "qt". */
export interface Part {
  number: Num;
  unit: string;
}

const maxSplitDecimals = 6;

interface Ladder<D extends Dimension> {
  units: Unit<D>[];
  decimals: number;
}

/** Over gal, qt and fl oz to 0.1 fl oz, or over L and mL to 1 mL; finer when small. */
export function splitVolume(v: Volume, s: System): Part[] {
  return split(v, s === "metric" ? { units: [u.liter, u.milliliter], decimals: 0 } : { units: [u.gallon, u.quart, u.fluidOunce], decimals: 1 });
}

/** Over lb and oz to 0.1 oz, or over kg and g to 1 g; finer when small. */
export function splitMass(m: Mass, s: System): Part[] {
  return split(m, s === "metric" ? { units: [u.kilogram, u.gram], decimals: 0 } : { units: [u.pound, u.ounce], decimals: 1 });
}

function split<D extends Dimension>(q: Quantity<D>, l: Ladder<D>): Part[] {
  const last = l.units[l.units.length - 1]!;
  let left = last.of(q.in(last).round(splitDecimals(q.in(last), l.decimals)));
  const parts: Part[] = [];
  for (const unit of l.units.slice(0, -1)) {
    const n = left.in(unit).floor();
    if (n.sign() > 0) {
      parts.push({ number: n, unit: unit.name });
      left = left.sub(unit.of(n));
    }
  }
  if (left.sign() > 0 || parts.length === 0) parts.push({ number: left.in(last), unit: last.name });
  return parts;
}

/** The decimals that keep three figures of n, at least the usual ones. */
function splitDecimals(n: Num, usual: number): number {
  let d = usual;
  for (; d < maxSplitDecimals && n.sign() > 0; d++) {
    if (n.mul(pow10(d)).cmp(int(100)) >= 0) return d;
  }
  return Math.max(d, usual);
}

/** "12 gal + 2 qt + 8.5 fl oz". */
export function partsText(parts: Part[]): string {
  return parts.map((p) => p.number.short(maxSplitDecimals) + " " + p.unit).join(" + ");
}
