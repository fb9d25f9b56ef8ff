// What the arithmetic needs to know of one thing that goes in, and its dose. As
// internal/jar/product.go.

import { Amount } from "../unit/amount";
import type { Num } from "../unit/number";
import { type Density, none, type SprayVolume, type Volume } from "../unit/quantity";
import { isDryBasis, isPerArea, type Rate } from "../unit/rate";
import * as u from "../unit/units";
import { tankForms } from "./forms";
import type { Code, Problem } from "./problem";

export type State = "" | "liquid" | "dry";

export interface Product {
  name: string;
  rate: Rate;
  form: string; // international code, "" for none
  state: State;
  density: Density; // zero: not known
  bag: boolean;
  position: number; // the label's own place in the order, from 1; 0: none
  classes: readonly string[];
  range: [low: Rate, high: Rate];
  spray: [low: SprayVolume, high: SprayVolume]; // zero: none
}

/** Whether the product is weighed. */
export function isDry(p: Product): boolean {
  if (p.state !== "") return p.state === "dry";
  const solid = tankForms[p.form];
  return solid !== undefined && p.form !== "XX" ? solid : isDryBasis(p.rate.basis);
}

/** What a rate comes to in a volume of finished spray, by the rate's own basis. */
function needs(r: Rate, spray: Volume, perArea: SprayVolume): Num {
  const n = r.base.mul(spray.base);
  return isPerArea(r.basis) ? n.quo(perArea.base) : n;
}

/** The amount in a volume of finished spray: by weight when dry, else by volume. */
export function doseOf(p: Product, spray: Volume, perArea: SprayVolume): Amount {
  let n = needs(p.rate, spray, perArea);
  const dry = isDry(p);
  if (isDryBasis(p.rate.basis) !== dry) n = dry ? n.mul(p.density.base) : n.quo(p.density.base);
  return dry ? Amount.dry(u.gram.of(n)) : Amount.liquid(u.milliliter.of(n));
}

/** The volume that a dose adds; undefined when it is not known. */
export function takes(p: Product, a: Amount): Volume | undefined {
  if (!a.isDry) return a.volume;
  return p.density.isZero() ? undefined : u.milliliter.of(a.mass.base.quo(p.density.base));
}

/** What is wrong with a list of products. */
export function checkProducts(products: readonly Product[], perArea: SprayVolume): Problem[] {
  const list: Problem[] = [];
  if (products.length === 0) list.push({ code: "no-products", product: "" });
  const seen = new Set<string>();
  for (const p of products) {
    const code = check(p, perArea);
    if (code) list.push({ code, product: p.name });
    if (p.name !== "" && seen.has(p.name)) list.push({ code: "two-of-a-name", product: p.name });
    seen.add(p.name);
  }
  return list;
}

/** What keeps a product from being dosed. */
function check(p: Product, perArea: SprayVolume): Code | undefined {
  if (p.name === "") return "no-name";
  if (p.rate.isZero()) return "no-rate";
  if (isPerArea(p.rate.basis) && perArea.sign() <= 0) return "no-spray-volume";
  if (isDryBasis(p.rate.basis) !== isDry(p) && p.density.sign() <= 0) return "no-density";
  return undefined;
}

export const noVolume = none("volume");
