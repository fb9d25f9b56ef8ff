// From what a reader typed to the requests of the arithmetic.

import type { Book } from "../compat/book";
import type { Product as Label, Use } from "../compat/json";
import { readProduct, Reader } from "../jar/input";
import { type LoadRequest } from "../jar/load";
import type { Step } from "../jar/order";
import type { Product } from "../jar/product";
import type { Request } from "../jar/recipe";
import { int, type Num, zero } from "../unit/number";
import { parsePercent } from "../unit/parse";
import { none, type SprayVolume, type Volume } from "../unit/quantity";
import { noRate, parseRate, Rate, rateIn } from "../unit/rate";

/** The range that applies: of the use on the crop, else of the product. */
export function labelRange(label: Label, crop: string): [string, string] {
  const use = label.uses?.find((u: Use) => crop !== "" && u.crop === crop && u.rate !== undefined && u.rate[1] !== "");
  return use?.rate ?? label.rate ?? ["", ""];
}

const rates = new Map<string, Rate>();

/** A rate of a label, read once. */
function labelRate(s: string): Rate {
  const known = rates.get(s) ?? parseRate(s);
  rates.set(s, known);
  return known;
}

/** The middle of a range, in the unit of its upper end; "" when there is no range. */
export function middle([low, high]: readonly [string, string]): string {
  if (high === "") return "";
  const top = labelRate(high);
  const bottom = low === "" ? top : labelRate(low);
  if (!bottom.comparable(top)) return high;
  const half = rateIn(top.unit, top.basis, bottom.base.add(top.base).quo(int(2)));
  return tidy(half, bottom, top).text();
}

/** The rate with as few decimals as keep it inside the range. */
function tidy(r: Rate, low: Rate, high: Rate): Rate {
  for (let decimals = 0; decimals < 6; decimals++) {
    const n = r.number().round(decimals).mul(r.factor);
    const off = n.sub(r.base);
    const near = (off.sign() < 0 ? off.neg() : off).mul(int(50)).cmp(r.base) <= 0;
    if (near && n.cmp(low.base) >= 0 && n.cmp(high.base) <= 0) return new Rate(r.basis, n, r.unit, r.factor);
  }
  return r;
}

/** A product of the plan as the arithmetic takes it, without a rate. */
export function productOf(book: Book, place: number, label: Label, crop: string): Product {
  const [low, high] = labelRange(label, crop);
  const signature = book.core.signatures[book.core.of[place]!]!;
  const p = readProduct(new Reader(), {
    name: book.core.names[place]!,
    rate: "",
    form: label.form ?? "",
    state: label.dry ? "dry" : "liquid",
    density: label.density ?? "",
    bag: label.bag ?? false,
    position: label.position ?? 0,
    classes: signature.keys.map((k) => book.core.keys[k]!),
    spray_range: label.spray ?? ["", ""],
  });
  return { ...p, range: [low === "" ? noRate : labelRate(low), high === "" ? noRate : labelRate(high)] };
}

export function stepsOf(book: Book): Step[] {
  return book.core.steps.map((s) => ({ id: s.id, bags: s.bags ?? false, forms: s.forms ?? [], classes: s.classes ?? [] }));
}

/** The share of water that goes in first, as the office teaches it. */
export function firstWaterShare(book: Book): Num {
  return parsePercent(book.core.first_water);
}

export interface Job {
  products: Product[];
  steps: Step[];
  firstWater: Num;
  sprayVolume: SprayVolume;
}

export function loadRequestOf(job: Job, area: LoadRequest["area"], tank: Volume, limits: Partial<Record<"maxFill" | "minimum" | "heel", Volume>>): LoadRequest {
  const noVolume = none("volume");
  return { ...job, area, tank, maxFill: limits.maxFill ?? noVolume, minimum: limits.minimum ?? noVolume, heel: limits.heel ?? noVolume };
}

export function jarRequestOf(job: Job, jar: Volume): Request {
  return { ...job, jar, waterShare: zero };
}
