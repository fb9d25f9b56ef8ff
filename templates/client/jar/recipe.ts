// One jar, exact. As internal/jar/recipe.go.

import type { Amount } from "../unit/amount";
import { int, type Num, one } from "../unit/number";
import type { SprayVolume, Volume } from "../unit/quantity";
import { type Fit, fitRate, fitSpray } from "./fit";
import { order, type Placed, type Step } from "./order";
import { type Problem, Problems } from "./problem";
import { checkProducts, doseOf, noVolume, type Product, takes } from "./product";

export interface Request {
  jar: Volume;
  sprayVolume: SprayVolume; // may be zero when no rate is by area
  waterShare: Num; // zero is full water
  firstWater: Num; // share of the finished volume
  products: Product[];
  steps: Step[];
}

/** One line of a recipe or of a load. */
export interface Dose {
  product: Product;
  place: Placed;
  amount: Amount;
  takes: Volume | undefined; // undefined: a dry product of unknown density
  label: Fit;
  sprayLabel: Fit;
}

export interface Recipe {
  jar: Volume;
  sprayVolume: SprayVolume;
  waterShare: Num;
  finished: Volume;
  water: Volume;
  firstWater: Volume;
  topUp: Volume;
  doses: Dose[]; // in order of addition
}

/** Decimals of every amount in JSON; a dose that rounds to nothing there is refused. */
export const decimals = 3;

export function inUnit(n: Num): boolean {
  return n.sign() >= 0 && n.cmp(int(1)) <= 0;
}

/** Works a request out; throws Problems, all of them at once. */
export function recipe(q: Request): Recipe {
  const wrong: Problem[] = [];
  if (q.jar.sign() <= 0) wrong.push({ code: "no-jar", product: "" });
  for (const share of [q.waterShare, q.firstWater]) {
    if (!inUnit(share)) wrong.push({ code: "bad-share", product: "" });
  }
  wrong.push(...checkProducts(q.products, q.sprayVolume));
  if (wrong.length > 0) throw new Problems(wrong);
  const waterShare = q.waterShare.sign() === 0 ? one : q.waterShare;
  const [doses, taken] = dosesIn(q.products, q.steps, q.jar, q.sprayVolume);
  room(doses, taken, q.jar);
  const water = q.jar.sub(taken).times(waterShare);
  const finished = water.add(taken);
  const first = firstWater(q.firstWater, finished, water);
  return { jar: q.jar, sprayVolume: q.sprayVolume, waterShare, finished, water, firstWater: first, topUp: water.sub(first), doses };
}

/** A share of the finished volume, at most all the water. */
export function firstWater(share: Num, finished: Volume, water: Volume): Volume {
  const first = finished.times(share);
  return first.cmp(water) < 0 ? first : water;
}

/** The lines of a volume of finished spray in order, and what they take up together. */
export function dosesIn(products: readonly Product[], steps: readonly Step[], spray: Volume, perArea: SprayVolume): [Dose[], Volume] {
  let taken = noVolume;
  const lines = order(products, steps).map((place) => {
    const product = products[place.given]!;
    const amount = doseOf(product, spray, perArea);
    const adds = takes(product, amount);
    if (adds) taken = taken.add(adds);
    const label = fitRate(product.rate, product.range, perArea, product.density);
    return { product, place, amount, takes: adds, label, sprayLabel: fitSpray(perArea, product.spray) };
  });
  return [lines, taken];
}

/** Refuses doses that leave no room for water, or that would print as nothing. */
export function room(lines: readonly Dose[], taken: Volume, volume: Volume): void {
  const wrong: Problem[] = [];
  if (taken.cmp(volume) >= 0) wrong.push({ code: "overfull", product: "" });
  for (const d of lines) {
    if (d.amount.base().round(decimals).sign() === 0) wrong.push({ code: "too-small", product: d.product.name });
  }
  if (wrong.length > 0) throw new Problems(wrong);
}
