// A rate or spray volume against the range on a label. As internal/jar/fit.go.

import type { Num } from "../unit/number";
import type { Density, SprayVolume } from "../unit/quantity";
import { type Basis, isDryBasis, isPerArea, noRate, parseRate, type Rate, rateIn } from "../unit/rate";

/** "not-checked" is no range or one that cannot be compared; it is never within. */
export type Fit = "not-checked" | "within" | "below" | "above";

export function fitRate(r: Rate, [low, high]: readonly [Rate, Rate], perArea: SprayVolume, d: Density): Fit {
  if (high.isZero() || r.isZero()) return "not-checked";
  const n = basisNumber(r, high.basis, perArea, d);
  if (!n || (!low.isZero() && !low.comparable(high))) return "not-checked";
  if (n.cmp(high.base) > 0) return "above";
  return n.cmp(low.base) < 0 ? "below" : "within";
}

export function fitSpray(v: SprayVolume, [low, high]: readonly [SprayVolume, SprayVolume]): Fit {
  if (v.sign() <= 0 || (low.isZero() && high.isZero())) return "not-checked";
  if (v.cmp(low) < 0) return "below";
  return !high.isZero() && v.cmp(high) > 0 ? "above" : "within";
}

/** A rate as a number in the base unit of another basis; undefined when what is needed is not known. */
function basisNumber(r: Rate, b: Basis, perArea: SprayVolume, d: Density): Num | undefined {
  let n = r.base;
  if (isPerArea(r.basis) !== isPerArea(b)) {
    if (perArea.sign() <= 0) return undefined;
    n = isPerArea(b) ? n.mul(perArea.base) : n.quo(perArea.base);
  }
  if (isDryBasis(r.basis) !== isDryBasis(b)) {
    if (d.sign() <= 0) return undefined;
    n = isDryBasis(b) ? n.mul(d.base) : n.quo(d.base);
  }
  return n;
}

/** A rate in another unit, of any basis; undefined when what is needed is zero or the unit is none. */
export function convert(r: Rate, written: string, perArea: SprayVolume, d: Density): Rate | undefined {
  if (r.basis === "") return undefined;
  let like = noRate;
  try {
    like = parseRate("1 " + written);
  } catch {
    return undefined;
  }
  const n = basisNumber(r, like.basis, perArea, d);
  return n && rateIn(written, like.basis, n);
}
