// The calculators. Each works in exact numbers; what is shown is rounded once.

import { fromActive } from "../jar/active";
import { convert } from "../jar/fit";
import { Problems } from "../jar/problem";
import * as sprayer from "../jar/sprayer";
import { ammoniumSulfate, carbonatePerCalcium, carbonatePerMagnesium, hardnessOf, type Ion, ions, sulfatePerPPM } from "../jar/water";
import { t } from "../page/words";
import { Amount } from "../unit/amount";
import { between, possible } from "../unit/between";
import { text } from "../unit/format";
import { int, type Num, zero } from "../unit/number";
import * as parse from "../unit/parse";
import type { Area, Density, Dimension, Duration, Flow, Length, Quantity, Speed, SprayVolume, System, Unit, Volume } from "../unit/quantity";
import { none } from "../unit/quantity";
import { isDryBasis, isPerArea, parseRate, type Rate } from "../unit/rate";
import { partsText } from "../unit/split";
import { parseStrength, type Strength, strengthText } from "../unit/strength";
import { likely, Refusal } from "../unit/text";
import * as u from "../unit/units";
import * as words from "../unit/words";
import { amountShown, areaShown, sprayShown, tankShown } from "../planner/show";
import type { Ask, Calculator, Result } from "./calc";

const ask = <T>(key: string, hint: string, read: (s: string) => T, optional = false): Ask<T> => ({ key, hint, read, optional });

const readRate = possible(parseRate);
const readVolume = between(parse.parseVolume, "0.01 mL", "100000 L");
const inTank = likely(readVolume, () => ["gal", "L"]);
const readSpray = between(parse.parseSprayVolume, "0.01 gal/ac", "200000 gal/ac");

const asks = {
  rate: ask("rate", "1.5 pt/ac, 2 lb/100 gal, 0.25 % v/v", readRate),
  area: ask("area", "80 ac, 32 ha, 5000 sq ft", between(parse.parseArea, "0.1 sq ft", "10000000 ac")),
  spray: ask("spray", "15 gal/ac, 140 L/ha", readSpray),
  tank: ask("tank", "500 gal, 2000 L", inTank),
  flow: ask("flow", "0.4 gal/min, 1.5 L/min", between(parse.parseFlow, "0.001 gal/min", "1000 gal/min")),
  speed: ask("speed", "5 mph, 8 km/h", between(parse.parseSpeed, "0.1 mph", "300 mph")),
  spacing: ask("spacing", "20 in, 50 cm", between(parse.parseLength, "0.5 in", "1000 ft")),
  density: ask("density", "10.7 lb/gal, 1.28 g/mL", between(parse.parseDensity, "0.05 g/mL", "5 g/mL")),
};
const optional = <T>(a: Ask<T>): Ask<T> => ({ ...a, optional: true });

/** What a rate comes to on an area or in a volume of spray; dry by the rate's own kind. */
function amountOf(r: Rate, base: Num): Amount {
  const n = r.base.mul(base);
  return isDryBasis(r.basis) ? Amount.dry(u.gram.of(n)) : Amount.liquid(u.milliliter.of(n));
}

const answer = (label: string, s: { first: string; second: string }): Result["answers"][number] => ({ label, ...s });

function inBoth<D extends Dimension>(q: Quantity<D>, us: Unit<D>, metric: Unit<D>, s: System, decimals: [number, number]): { first: string; second: string } {
  const a = us.format(q, decimals[0]);
  const b = metric.format(q, decimals[1]);
  return s === "us" ? { first: a, second: b } : { first: b, second: a };
}

/** Amount for an area, water and loads for it. */
const load: Calculator = {
  id: "load",
  asks: [asks.rate, asks.area, optional(asks.spray), optional(asks.tank)],
  work(v, s) {
    const { rate, area, spray, tank } = v as { rate: Rate; area: Area; spray?: SprayVolume; tank?: Volume };
    if (!isPerArea(rate.basis) && !spray) return t("calculators.needs-spray");
    const water = spray && u.milliliter.of(spray.base.mul(area.base));
    const all = isPerArea(rate.basis) ? amountOf(rate, area.base) : amountOf(rate, water!.base);
    const terms = isPerArea(rate.basis) ? [rate.text(), text(area)] : [rate.text(), text(spray!), text(area)];
    const numbers = [`${terms.join(" × ")} = ${partsText(all.split(s))}`];
    if (water) numbers.push(`${text(spray!)} × ${text(area)} = ${tankShown(water, s).first}`);
    const answers = [answer(t("calculators.out.product"), amountShown(all, s))];
    if (water) answers.push(answer(t("calculators.out.spray"), tankShown(water, s)));
    if (spray && tank) {
      const covers = u.squareMeter.of(tank.base.quo(spray.base));
      const per = isPerArea(rate.basis) ? amountOf(rate, covers.base) : amountOf(rate, tank.base);
      answers.push(answer(t("calculators.out.covers"), areaShown(covers, s)), answer(t("calculators.out.per-tank"), amountShown(per, s)));
      answers.push({ label: t("calculators.out.loads"), first: water!.per(tank).short(2) });
      numbers.push(`${text(tank)} ÷ ${text(spray)} = ${areaShown(covers, s).first}`, `${tankShown(water!, s).first} ÷ ${text(tank)} = ${water!.per(tank).short(2)}`);
    }
    return { answers, numbers };
  },
};

/** Flow, speed, spacing and spray volume: leave one empty. */
const nozzle: Calculator = {
  id: "nozzle",
  asks: [optional(asks.flow), optional(asks.speed), optional(asks.spacing), optional(asks.spray)],
  work(v, s) {
    const { flow, speed, spacing, spray } = v as { flow?: Flow; speed?: Speed; spacing?: Length; spray?: SprayVolume };
    if (!spacing || [flow, speed, spray].filter((q) => q === undefined).length !== 1) return t("calculators.leave-one");
    if (flow && speed) {
      const put = sprayer.sprayVolumeOf(flow, speed, spacing);
      return { answers: [answer(t("calculators.ask.spray"), sprayShown(put, s))], numbers: [nozzleNumbers(s, flow, speed, spacing, put)] };
    }
    if (speed && spray) {
      const needed = sprayer.flowFor(spray, speed, spacing);
      return { answers: [answer(t("calculators.ask.flow"), inBoth(needed, u.gallonPerMinute, u.literPerMinute, s, [3, 2]))], numbers: [nozzleNumbers(s, needed, speed, spacing, spray)] };
    }
    const at = sprayer.speedFor(flow!, spray!, spacing);
    return { answers: [answer(t("calculators.ask.speed"), inBoth(at, u.milePerHour, u.kilometerPerHour, s, [1, 1]))], numbers: [nozzleNumbers(s, flow!, at, spacing, spray!)] };
  },
};

/** In the units of the usual formula. */
function nozzleNumbers(s: System, flow: Flow, speed: Speed, spacing: Length, put: SprayVolume): string {
  if (s === "metric") return `600 × ${u.literPerMinute.format(flow, 3)} ÷ (${u.kilometerPerHour.format(speed, 1)} × ${u.meter.format(spacing, 2)}) = ${u.literPerHectare.format(put, 1)}`;
  return `5940 × ${u.gallonPerMinute.format(flow, 3)} ÷ (${u.milePerHour.format(speed, 1)} × ${u.inch.format(spacing, 1)}) = ${u.gallonPerAcre.format(put, 1)}`;
}

/** Speed from a measured distance, flow from a caught volume. */
const pace: Calculator = {
  id: "pace",
  asks: [ask("distance", "200 ft, 100 m", between(parse.parseLength, "1 ft", "100000 m")), ask("time", "27 s", between(parse.parseDuration, "0.1 s", "24 h")), ask("caught", "32 fl oz, 950 mL", readVolume, true)],
  work(v, s) {
    const { distance, time, caught } = v as { distance: Length; time: Duration; caught?: Volume };
    const speed = sprayer.speedOver(distance, time);
    const answers = [answer(t("calculators.ask.speed"), inBoth(speed, u.milePerHour, u.kilometerPerHour, s, [1, 1]))];
    const numbers = [`${text(distance)} ÷ ${text(time)} = ${answers[0]!.first}`];
    if (caught) {
      const flow = inBoth(u.milliliterPerMinute.of(caught.base.quo(time.base)), u.gallonPerMinute, u.literPerMinute, s, [3, 2]);
      answers.push(answer(t("calculators.ask.flow"), flow));
      numbers.push(`${text(caught)} ÷ ${text(time)} = ${flow.first}`);
    }
    return { answers, numbers };
  },
};

/** The nozzle for a carrier that is heavier than water. */
const carrier: Calculator = {
  id: "carrier",
  asks: [asks.density, asks.flow],
  work(v, s) {
    const { density, flow } = v as { density: Density; flow: Flow };
    const factor = sprayer.carrierFactor(density);
    const inChart = sprayer.flowOfWater(flow, density);
    return {
      answers: [
        answer(t("calculators.out.in-chart"), inBoth(inChart, u.gallonPerMinute, u.literPerMinute, s, [3, 2])),
        { label: t("calculators.out.factor"), first: factor.short(3) },
      ],
      numbers: [`${text(flow)} × √${u.gramPerMilliliter.format(density, 3)} = ${text(flow)} × ${factor.short(3)} = ${inBoth(inChart, u.gallonPerMinute, u.literPerMinute, s, [3, 2]).first}`],
    };
  },
};

const rateUnits = ["fl oz/ac", "pt/ac", "qt/ac", "oz/ac", "lb/ac", "L/ha", "mL/ha", "kg/ha", "g/ha", "% v/v", "fl oz/100 gal", "qt/100 gal", "oz/100 gal", "lb/100 gal", "mL/100 L", "g/100 L", "fl oz/1000 sq ft", "oz/1000 sq ft"];

/** Units of rates, those of a system first. */
function firstOf(s: System, written: readonly string[]): string[] {
  const metric = (w: string): boolean => /(ha|100 L)$/.test(w);
  return [...written].sort((a, b) => Number(metric(s === "us" ? a : b)) - Number(metric(s === "us" ? b : a)));
}

/** One rate in every unit that it can be written in. */
const rates: Calculator = {
  id: "rates",
  asks: [asks.rate, optional(asks.spray), optional(asks.density)],
  work(v, s) {
    const { rate, spray, density } = v as { rate: Rate; spray?: SprayVolume; density?: Density };
    const made = firstOf(s, rateUnits)
      .filter((written) => written !== rate.unit)
      .map((written) => convert(rate, written, spray ?? none("depth"), density ?? none("density")))
      .filter((r) => r !== undefined);
    const answers = made.map((r) => ({ label: "", first: rateText(r) }));
    const notes = [!spray && t("calculators.with-spray"), !density && t("calculators.with-density")].filter((n): n is string => n !== false);
    return { answers, numbers: rateNumbers(rate, made, spray, density), notes };
  },
};

const rateText = (r: Rate): string => figures(r.number()) + " " + r.unit;

/** One line for each way in which the rate was turned: into another unit, by spray volume, by density. */
function rateNumbers(rate: Rate, made: readonly Rate[], spray?: SprayVolume, density?: Density): string[] {
  const like = (perArea: boolean, dry: boolean): Rate | undefined => made.find((r) => isPerArea(r.basis) === perArea && isDryBasis(r.basis) === dry);
  const [perArea, dry] = [isPerArea(rate.basis), isDryBasis(rate.basis)];
  const same = like(perArea, dry);
  const bySpray = spray && like(!perArea, dry);
  const byDensity = density && like(perArea, !dry);
  return [
    ...(same ? [`${rate.text()} = ${figures(rate.number())} × ${figures(same.number().quo(rate.number()))} ${same.unit} = ${rateText(same)}`] : []),
    ...(bySpray ? [`${rate.text()} ${perArea ? "÷" : "×"} ${text(spray)} = ${rateText(bySpray)}`] : []),
    ...(byDensity ? [`${rate.text()} ${dry ? "÷" : "×"} ${text(density)} = ${rateText(byDensity)}`] : []),
  ];
}

/** About four figures. */
function figures(n: Num): string {
  let decimals = 0;
  while (decimals < 8 && n.mul(int(10n ** BigInt(decimals))).cmp(int(1000)) < 0) decimals++;
  return n.short(decimals);
}

/** One quantity in every unit of its dimension. */
const units: Calculator = {
  id: "units",
  asks: [ask("quantity", "1.5 pt, 2 lb, 80 ac, 50 °F, 342 ppm", readAny)],
  work(v) {
    const q = v["quantity"] as AnyQuantity;
    return { answers: q.list.map((first) => ({ label: "", first })), numbers: q.numbers };
  },
};

interface AnyQuantity {
  list: string[];
  numbers: string[];
}

/** From the unit that was written to the first other: how many of one are in the other. */
function unitNumbers(q: Quantity<Dimension>, units: readonly Unit<Dimension>[], typed: string, read: (s: string) => Quantity<Dimension>): string[] {
  const one = read("1" + typed.trim().replace(/^[-−]?[\d.\s/\u00a0½⅓⅔¼¾⅛⅜⅝⅞⁄]+/u, " "));
  const own = units.find((unit) => one.in(unit).cmp(int(1)) === 0);
  const other = units.find((unit) => unit !== own);
  if (!own || !other) return [];
  const [n, result] = [figures4(q.in(own)), `${figures4(q.in(other))} ${other.name}`];
  if (own.name === "°F") return [`(${n} − 32) ÷ 1.8 = ${result}`];
  if (own.name === "°C") return [`${n} × 1.8 + 32 = ${result}`];
  return [`${n} ${own.name} = ${n} × ${figures(own.factor.quo(other.factor))} ${other.name} = ${result}`];
}

const vocabularies = [
  [words.volumes, parse.parseVolume],
  [words.masses, parse.parseMass],
  [words.areas, parse.parseArea],
  [words.lengths, parse.parseLength],
  [words.sprayVolumes, parse.parseSprayVolume],
  [words.flows, parse.parseFlow],
  [words.speeds, parse.parseSpeed],
  [words.temperatures, parse.parseTemperature],
  [words.durations, parse.parseDuration],
  [words.densities, parse.parseDensity],
  [words.contents, parse.parseContent],
] as const;

/** Reads a quantity of whichever dimension its unit is of. */
function readAny(s: string): AnyQuantity {
  let first: unknown;
  for (const [v, read] of vocabularies) {
    try {
      const q = read(s) as Quantity<Dimension>;
      const units = v.units as readonly Unit<Dimension>[];
      return { list: units.map((unit) => figures4(q.in(unit)) + " " + unit.name), numbers: unitNumbers(q, units, s, read as (s: string) => Quantity<Dimension>) };
    } catch (e) {
      if (!(e instanceof Refusal)) throw e;
      if (first === undefined || !["wrong-unit", "unknown-unit"].includes(e.code)) first ??= e;
    }
  }
  throw first;
}

const figures4 = (n: Num): string => (n.sign() < 0 ? "-" + figures(n.neg()) : n.sign() === 0 ? "0" : figures(n));

const ppm = (s: string): Num => (/^[0-9.,/ ]*$/.test(s.trim()) ? parse.parseNumber(s) : parse.parseContent(s).base);

/** A hard water, the example of the source of the equation. */
const ionHints: Record<Ion, string> = { potassium: "5 ppm", sodium: "50 ppm", calcium: "100 ppm", magnesium: "40 ppm", iron: "1 ppm" };

/** Hardness, and ammonium sulfate from the ions. */
const water: Calculator = {
  id: "water",
  asks: ions.map((ion) => ask(ion, ionHints[ion], between(ppm, "0", "100000"), true)),
  work(v, s) {
    const measured = v as Partial<Record<Ion, Num>>;
    const c = ammoniumSulfate(measured);
    if (!c) return t("calculators.needs-ion");
    const answers: Result["answers"] = [];
    const { calcium, magnesium } = measured;
    if (calcium && magnesium) {
      const hard = hardnessOf(u.partPerMillion.of(calcium), u.partPerMillion.of(magnesium));
      answers.push({ label: t("calculators.out.hardness"), first: u.partPerMillion.format(hard, 0), second: u.grainPerGallon.format(hard, 1) });
    }
    const pounds = c.rate.number().short(1) + " lb/100 gal";
    const kilograms = convert(c.rate, "kg/100 L", none("depth"), none("density"))!.number().short(2) + " kg/100 L";
    answers.push({ label: t("calculators.out.sulfate"), first: s === "us" ? pounds : kilograms, second: s === "us" ? kilograms : pounds });
    const terms = ions.filter((ion) => measured[ion]).map((ion) => `${sulfatePerPPM[ion].short(3)} × ${measured[ion]!.short(3)}`);
    const missing = c.missing.map((ion) => t(`calculators.ask.${ion}`)).join(", ");
    return {
      answers,
      numbers: [`${terms.join(" + ")} = ${c.rate.number().short(2)} lb/100 gal`, ...hardNumbers(measured)],
      notes: [...(c.missing.length > 0 ? [t("calculators.missing-ions", { ions: missing })] : []), t("calculators.sulfate-caveat")],
    };
  },
};

/** Hardness as calcium carbonate from the two ions that make it. */
function hardNumbers({ calcium, magnesium }: Partial<Record<Ion, Num>>): string[] {
  if (!calcium || !magnesium) return [];
  const hard = hardnessOf(u.partPerMillion.of(calcium), u.partPerMillion.of(magnesium));
  return [`${carbonatePerCalcium.short(3)} × ${calcium.short(3)} + ${carbonatePerMagnesium.short(3)} × ${magnesium.short(3)} = ${u.partPerMillion.format(hard, 0)}`];
}

/** The rate of product that carries a rate of active ingredient. */
const active: Calculator = {
  id: "active",
  asks: [ask("active-rate", "0.75 lb/ac, 840 g/ha", readRate), ask("strength", "4 lb/gal, 480 g/L, 80 % w/w", parseStrength), optional(asks.density)],
  work(v, s) {
    const { strength, density } = v as { strength: Strength; density?: Density };
    const rate = v["active-rate"] as Rate;
    const liquid = strength.share.sign() === 0;
    const written = liquid ? ["pt/ac", "fl oz/ac", "L/ha"] : ["lb/ac", "oz/ac", "kg/ha"];
    try {
      const all = firstOf(s, written).map((w) => fromActive(rate, strength, w, density ?? none("density")));
      return { answers: all.map((r) => ({ label: "", first: figures(r.number()) + " " + r.unit })), numbers: [`${rate.text()} ÷ ${strengthText(strength)} = ${rateText(all[0]!)}`] };
    } catch (e) {
      if (e instanceof Problems) return undefined;
      throw e;
    }
  },
};

/** Small areas: a rate per acre on a bed, in a backpack. */
const small: Calculator = {
  id: "small",
  asks: [asks.rate, ask("spray-small", "1 gal/1000 sq ft, 40 gal/ac", readSpray), ask("backpack", "4 gal, 15 L", inTank)],
  work(v, s) {
    const { rate, backpack } = v as { rate: Rate; backpack: Volume };
    const spray = v["spray-small"] as SprayVolume;
    const covers = u.squareMeter.of(backpack.base.quo(spray.base));
    const fill = isPerArea(rate.basis) ? amountOf(rate, covers.base) : amountOf(rate, backpack.base);
    const thousand = u.squareFoot.of(int(1000));
    const bed = isPerArea(rate.basis) ? amountOf(rate, thousand.base) : amountOf(rate, thousand.base.mul(spray.base));
    const foot = u.squareFoot.format(covers, 0);
    const meter = u.squareMeter.format(covers, 0);
    return {
      answers: [
        answer(t("calculators.out.per-fill"), fine(fill, s)),
        { label: t("calculators.out.fill-covers"), first: s === "us" ? foot : meter, second: s === "us" ? meter : foot },
        answer(t("calculators.out.per-thousand"), fine(bed, s)),
      ],
      numbers: [
        isPerArea(rate.basis) ? `${rate.text()} × ${text(backpack)} ÷ ${text(spray)} = ${fine(fill, s).first}` : `${rate.text()} × ${text(backpack)} = ${fine(fill, s).first}`,
        `${text(backpack)} ÷ ${text(spray)} = ${s === "us" ? foot : meter}`,
        isPerArea(rate.basis) ? `${rate.text()} × 1000 sq ft = ${fine(bed, s).first}` : `${rate.text()} × 1000 sq ft × ${text(spray)} = ${fine(bed, s).first}`,
      ],
      notes: fill.base().cmp(int(1)) < 0 ? [t("calculators.tiny")] : [],
    };
  },
};

/** Small amounts in mL or g first, since that is how they are measured. */
function fine(a: Amount, s: System): { first: string; second: string } {
  const metric = figures(a.base().sign() === 0 ? zero : a.base()) + " " + a.baseUnit();
  const us = partsText(a.split("us"));
  return s === "us" ? { first: us, second: metric } : { first: metric, second: us };
}

export const calculators: readonly Calculator[] = [load, small, nozzle, pace, carrier, rates, active, water, units];
