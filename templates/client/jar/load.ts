// The loads of a job, exact. As internal/jar/load.go.

import { int, type Num } from "../unit/number";
import type { Area, SprayVolume, Volume } from "../unit/quantity";
import * as u from "../unit/units";
import type { Step } from "./order";
import { type Problem, Problems } from "./problem";
import { checkProducts, type Product } from "./product";
import { type Dose, dosesIn, firstWater, inUnit, room } from "./recipe";

/** More loads than this is a wrong unit. */
export const maxLoads = 1000;

export interface LoadRequest {
  area: Area;
  sprayVolume: SprayVolume;
  tank: Volume; // what the tank holds
  maxFill: Volume; // how far it is filled; zero: the tank
  minimum: Volume; // least fill at which it still agitates
  heel: Volume; // what the pump cannot reach
  firstWater: Num;
  products: Product[];
  steps: Step[];
}

/** One fill of the sprayer. */
export interface Load {
  area: Area;
  volume: Volume; // mixed for this load
  fill: Volume; // in the tank when it is ready
  full: boolean;
  water: Volume;
  firstWater: Volume;
  topUp: Volume;
  doses: Dose[];
}

export interface Plan {
  area: Area;
  sprayVolume: SprayVolume;
  areaPerLoad: Area;
  loads: Load[];
  total: Dose[]; // what to buy
  leftOver: Volume; // the heel, mixed and not sprayed
  evened: boolean; // the last two loads share their area evenly
  belowMinimum: boolean;
}

function fillOf(q: LoadRequest): Volume {
  return q.maxFill.isZero() ? q.tank : q.maxFill;
}

function check(q: LoadRequest): Problem[] {
  const wrong: Problem[] = [];
  const add = (code: Problem["code"]): number => wrong.push({ code, product: "" });
  if (q.area.sign() <= 0) add("no-area");
  if (q.sprayVolume.sign() <= 0) add("no-spray-volume");
  if (q.tank.sign() <= 0) add("no-tank");
  else if (badFill(q)) add("bad-fill");
  if (!inUnit(q.firstWater)) add("bad-share");
  return q.sprayVolume.sign() > 0 ? wrong.concat(checkProducts(q.products, q.sprayVolume)) : wrong;
}

function badFill(q: LoadRequest): boolean {
  const fill = fillOf(q);
  const negative = q.maxFill.sign() < 0 || q.minimum.sign() < 0 || q.heel.sign() < 0;
  return negative || q.maxFill.cmp(q.tank) > 0 || q.heel.cmp(fill) >= 0 || q.minimum.cmp(fill) > 0;
}

/** Works the loads out; throws Problems. */
export function plan(q: LoadRequest): Plan {
  const wrong = check(q);
  if (wrong.length > 0) throw new Problems(wrong);
  const full = fillOf(q).sub(q.heel);
  const spray = over(q.sprayVolume, q.area);
  if (spray.per(full).cmp(int(maxLoads)) > 0) throw new Problems([{ code: "too-many-loads", product: "" }]);
  const shares = parts(q, spray, full);
  const loads = shares.parts.map((sprays, i) => load(q, sprays, full, i === 0));
  const [total] = dosesIn(q.products, q.steps, spray.add(q.heel), q.sprayVolume);
  return {
    area: q.area,
    sprayVolume: q.sprayVolume,
    areaPerLoad: covers(full, q.sprayVolume),
    loads,
    total,
    leftOver: q.heel,
    evened: shares.evened,
    belowMinimum: shares.belowMinimum,
  };
}

/** What each load sprays: full ones, then the rest; the last two even when the rest would be below the minimum. */
function parts(q: LoadRequest, spray: Volume, full: Volume): { parts: Volume[]; evened: boolean; belowMinimum: boolean } {
  const n = spray.per(full).floor();
  const list: Volume[] = Array.from({ length: Number(n.n) }, () => full);
  const rest = spray.sub(full.times(n));
  if (rest.sign() > 0) list.push(rest);
  const last = list.length - 1;
  const tail = list[last]!;
  if (tail.add(q.heel).cmp(q.minimum) >= 0) return { parts: list, evened: false, belowMinimum: false };
  const half = tail.add(full).over(int(2));
  if (last > 0 && half.add(q.heel).cmp(q.minimum) >= 0) {
    list[last - 1] = list[last] = half;
    return { parts: list, evened: true, belowMinimum: false };
  }
  return { parts: list, evened: false, belowMinimum: true };
}

/** The load that sprays a volume; the heel is mixed once, with the first. */
function load(q: LoadRequest, sprays: Volume, full: Volume, first: boolean): Load {
  const fill = sprays.add(q.heel);
  const volume = first ? fill : sprays;
  const [doses, taken] = dosesIn(q.products, q.steps, volume, q.sprayVolume);
  room(doses, taken, volume);
  const water = volume.sub(taken);
  const before = firstWater(q.firstWater, volume, water);
  return {
    area: covers(sprays, q.sprayVolume),
    volume,
    fill,
    full: sprays.cmp(full) === 0,
    water,
    firstWater: before,
    topUp: water.sub(before),
    doses,
  };
}

/** The volume of spray on an area. */
export function over(v: SprayVolume, a: Area): Volume {
  return u.milliliter.of(v.base.mul(a.base));
}

/** The area that a volume of spray covers. */
export function covers(v: Volume, perArea: SprayVolume): Area {
  return u.squareMeter.of(v.base.quo(perArea.base));
}
