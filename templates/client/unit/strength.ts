// How much active ingredient a product holds, as labels state it. As
// internal/unit/strength.go.

import { spell } from "./format";
import { int, type Num, zero } from "./number";
import { compound, unknownUnit, wordsOf } from "./parse";
import { type Density, none } from "./quantity";
import { foldPercent } from "./rate";
import { scanNumber } from "./scan";
import { maxDecimals, Text } from "./text";
import * as u from "./units";
import { densities } from "./words";

/** Active per volume of product, or its share of the weight; one of them is zero. */
export interface Strength {
  perVolume: Density;
  share: Num;
}

const byWeight = ["%w/w", "%wt/wt", "%byweight", "%m/m"];
const byVolume = ["%w/v", "%wt/v", "%wt/vol", "%m/v"];

/** More than any material weighs; as in Go. */
const densest = u.gramPerMilliliter.of(int(23));

export function parseStrength(s: string): Strength {
  const t = new Text(s, "4 lb/gal");
  const n = scanNumber(t);
  t.skipSpace();
  const at = t.pos;
  const st = strength(t, n, t.rest(), at);
  if (n.sign() === 0) throw t.unlike("zero", 0);
  if (st.share.cmp(int(1)) > 0 || st.perVolume.cmp(densest) > 0) throw t.bad("out-of-range", 0);
  return st;
}

function strength(t: Text, n: Num, r: string, at: number): Strength {
  const folded = foldPercent(r);
  if (byWeight.includes(folded)) return { perVolume: none("density"), share: n.quo(int(100)) };
  if (folded === "g/kg") return { perVolume: none("density"), share: n.quo(int(1000)) };
  if (byVolume.includes(folded)) return { perVolume: u.gramPerMilliliter.of(n.quo(int(100))), share: zero };
  if (folded === "%") throw t.bad("ambiguous-unit", at, t.upTo(at) + " % w/w", t.upTo(at) + " % w/v");
  const unit = densities.find(compound(r) ?? r);
  if (unit) return { perVolume: unit.of(n), share: zero };
  const w = wordsOf(densities);
  w.what = "weight per volume or per weight";
  w.symbols = ["lb/gal", "g/L", "% w/w", "g/kg", "% w/v"];
  throw unknownUnit(t, r, at, w);
}

/** The strength as parseStrength reads it. */
export function strengthText(s: Strength): string {
  if (s.perVolume.isZero() && s.share.sign() === 0) return "not known";
  if (s.share.sign() > 0) return s.share.mul(int(100)).short(maxDecimals) + " % w/w";
  const lb = spell(s.perVolume.in(u.poundPerGallon));
  const g = spell(s.perVolume.in(u.gramPerLiter));
  if (lb !== undefined && (g === undefined || lb.length <= g.length)) return lb + " lb/gal";
  return g !== undefined ? g + " g/L" : u.gramPerLiter.format(s.perVolume, maxDecimals);
}
