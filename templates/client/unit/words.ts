// How units are written, dimension by dimension, with the spellings that are
// understood. The lists are those of internal/unit/words.go, in the same order: the
// first units are preferred in print when two are as short.

import { nearest } from "./near";
import type { Dimension, Unit } from "./quantity";
import { fold, hasOwn } from "./text";
import * as u from "./units";

type Spelling<D extends Dimension> = [unit: Unit<D>, spellings: string, rare?: "rare"];

/** The units of one dimension and their spellings. */
export class Vocabulary<D extends Dimension> {
  readonly units: Unit<D>[] = [];
  readonly rare = new Set<string>();
  private readonly names = new Map<string, Unit<D>>();

  /** what: the dimension in message keys; example: one text that would be right. */
  constructor(
    readonly noun: string,
    readonly what: string,
    readonly example: string,
    spellings: Spelling<D>[],
  ) {
    for (const [unit, list, rare] of spellings) {
      this.units.push(unit);
      if (rare) this.rare.add(unit.name);
      this.names.set("=" + unit.name, unit);
      for (const s of list.split("|")) if (s !== "") this.names.set(s, unit);
    }
  }

  find(s: string): Unit<D> | undefined {
    return this.names.get("=" + s) ?? this.names.get(fold(s));
  }

  symbol(s: string): string | undefined {
    return this.find(s)?.name;
  }

  has(s: string): boolean {
    return this.find(s) !== undefined;
  }

  symbols(): string[] {
    return this.units.map((unit) => unit.name);
  }

  /** The unit in which the dimension is kept. */
  base(): Unit<D> {
    const found = this.units.find((unit) => unit.factor.n === 1n && unit.factor.d === 1n && unit.offset.sign() === 0);
    if (!found) throw new Error("no base unit of " + this.noun);
    return found;
  }

  /** The one unit that s may have been meant to be, or "". */
  near(s: string): string {
    const all = [...new Set([...this.names.keys()].map((n) => n.replace(/^=/, "")))].sort();
    s = fold(s);
    const best = this.find(nearest(s, all));
    if (best) return best.name;
    let only = "";
    for (const n of all) {
      const unit = this.find(nearest(s, [n]));
      if (unit && only !== "" && only !== unit.name) return "";
      if (unit) only = unit.name;
    }
    return only;
  }
}

export const volumes = new Vocabulary("volume", "volume", "1.5 pt", [
  [u.gallon, "gal|gals|gallon|gallons|us gal"],
  [u.quart, "qt|qts|quart|quarts"],
  [u.pint, "pt|pts|pint|pints"],
  [u.fluidOunce, "fl oz|floz|fl ozs|fluid oz|fluid ounce|fluid ounces"],
  [u.liter, "=l|liter|liters|litre|litres"],
  [u.milliliter, "=ml|milliliter|milliliters|millilitre|millilitres"],
]);

export const masses = new Vocabulary("weight", "weight", "2 lb", [
  [u.pound, "lb|lbs|pound|pounds"],
  [u.ounce, "oz|ozs|ounce|ounces|oz wt|wt oz|oz av"],
  [u.kilogram, "=Kg|=KG|kilogram|kilograms|kilo|kilos"],
  [u.gram, "=gm|gram|grams|gramme|grammes"],
  [u.milligram, "milligram|milligrams", "rare"],
]);

export const areas = new Vocabulary("area", "area", "80 ac", [
  [u.acre, "=A|ac|acre|acres"],
  [u.hectare, "=Ha|hectare|hectares"],
  [u.squareFoot, "sq ft|sqft|ft2|ft²|sq feet|sq foot|square foot|square feet|ft^2"],
  [u.squareMeter, "m2|m^2|sq m|sqm|square meter|square meters|square metre|square metres"],
]);

export const lengths = new Vocabulary("length", "length", "20 in", [
  [u.inch, "in|inch|inches"],
  [u.foot, "ft|foot|feet"],
  [u.meter, "=m|meter|meters|metre|metres"],
  [u.centimeter, "=cm|centimeter|centimeters|centimetre|centimetres"],
  [u.millimeter, "=mm|millimeter|millimeters|millimetre|millimetres"],
]);

export const densities = new Vocabulary("density", "density", "1.28 g/mL", [
  [u.gramPerMilliliter, "=g/cm3|=g/cm³|=g/cc"],
  [u.kilogramPerLiter, "=kg/dm3"],
  [u.poundPerGallon, ""],
  [u.gramPerLiter, "", "rare"],
]);

export const temperatures = new Vocabulary("temperature", "temperature", "50 °F", [
  [u.fahrenheit, "f|deg f|degrees f|° f|fahrenheit|degrees fahrenheit|ºf"],
  [u.celsius, "c|deg c|degrees c|° c|celsius|degrees celsius|ºc"],
]);

export const durations = new Vocabulary("time", "time", "30 min", [
  [u.minute, "min|mins|minute|minutes"],
  [u.hour, "h|hr|hrs|hour|hours"],
  [u.second, "s|sec|secs|second|seconds"],
  [u.day, "d|day|days", "rare"],
]);

export const flows = new Vocabulary("flow", "flow", "0.5 gal/min", [
  [u.gallonPerMinute, "gpm"],
  [u.literPerMinute, ""],
  [u.fluidOuncePerMinute, ""],
  [u.milliliterPerMinute, ""],
]);

export const speeds = new Vocabulary("speed", "speed", "5 mph", [
  [u.milePerHour, "mph|mi/h|miles per hour|miles/hour|mile/h|miles/h"],
  [u.kilometerPerHour, "=kph|=kmh|=km/hr|kilometers per hour|kilometres per hour"],
  [u.footPerMinute, "fpm", "rare"],
  [u.meterPerMinute, "", "rare"],
]);

export const sprayVolumes = new Vocabulary("spray volume", "spray volume", "15 gal/ac", [
  [u.gallonPerAcre, "gpa"],
  [u.literPerHectare, ""],
  [u.gallonPerThousandSquareFeet, "", "rare"],
  [u.milliliterPerSquareMeter, "", "rare"],
]);

export const contents = new Vocabulary("content", "content in water", "120 ppm", [
  [u.partPerMillion, "ppm|parts per million"],
  [u.milligramPerLiter, "", "rare"],
  [u.grainPerGallon, "gpg|grain/gal|grains/gal|grains per gallon"],
]);

/** The vocabularies in the order in which a foreign unit is looked for. */
const others = [volumes, masses, areas, lengths, sprayVolumes, flows, speeds, temperatures, durations, densities, contents];

/** Names the dimension of a unit's spelling, "" when it is none of ours. */
export function whatIs(s: string): string {
  return others.find((v) => v.has(s))?.what ?? "";
}

/** Spellings that look like a unit and must not be guessed at, with what to write. */
const traps: Record<string, string[]> = {
  a: ["ac", "ha"],
  ML: ["mL"],
  Ml: ["mL"],
  M: [],
  Mg: ["mg"],
  MG: ["mg"],
  G: ["gal", "g"],
  H: ["h", "ha"],
  HA: ["ha"],
  "#": ["lb"],
  "%": ["% v/v", "% w/v"],
  "% w/w": ["% w/v"],
};

const spoons = new Set(
  "tsp tsps teaspoon teaspoons tbsp tbsps tbs tablespoon tablespoons cup cups spoon spoons capful capfuls".split(" "),
);

/** The fixed answer to a spelling that must not be guessed at. */
export function trap(s: string): { code: "ambiguous-unit" | "kitchen-unit"; write: string[] } | undefined {
  if (hasOwn(traps, s)) return { code: "ambiguous-unit", write: traps[s] ?? [] };
  if (spoons.has(fold(s))) return { code: "kitchen-unit", write: ["fl oz", "mL", "oz", "g"] };
  return undefined;
}
