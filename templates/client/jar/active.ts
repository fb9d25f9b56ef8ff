// The rate of product that carries a rate of active ingredient. As
// internal/jar/active.go.

import type { Density } from "../unit/quantity";
import { none } from "../unit/quantity";
import { isDryBasis, isPerArea, type Rate, rateIn } from "../unit/rate";
import type { Strength } from "../unit/strength";
import { convert } from "./fit";
import { Problems } from "./problem";

/** active ÷ strength, in the given unit; throws Problems. */
export function fromActive(active: Rate, s: Strength, written: string, d: Density): Rate {
  if (!isDryBasis(active.basis)) throw new Problems([{ code: "no-rate", product: "" }]);
  if (s.perVolume.isZero() && s.share.sign() === 0) throw new Problems([{ code: "no-density", product: "" }]);
  const out = convert(ofProduct(active, s), written, none("depth"), d);
  if (!out) throw new Problems([{ code: "bad-text", product: "" }]);
  return out;
}

function ofProduct(active: Rate, s: Strength): Rate {
  if (s.share.sign() > 0) return rateIn(active.unit, active.basis, active.base.quo(s.share));
  const n = active.base.quo(s.perVolume.base);
  return isPerArea(active.basis) ? rateIn("L/ha", "volume per area", n) : rateIn("L/100 L", "volume per volume of spray", n);
}
