// Amounts as they are shown: in the reader's units first, the other family beside.

import type { Amount } from "../unit/amount";
import { int, pow10 } from "../unit/number";
import type { Area, SprayVolume, System, Volume } from "../unit/quantity";
import { partsText, splitVolume } from "../unit/split";
import * as u from "../unit/units";

export interface Shown {
  first: string;
  second: string;
}

const other = (s: System): System => (s === "us" ? "metric" : "us");

export function amountShown(a: Amount, s: System): Shown {
  return { first: partsText(a.split(s)), second: partsText(a.split(other(s))) };
}

export function volumeShown(v: Volume, s: System): Shown {
  return { first: partsText(splitVolume(v, s)), second: partsText(splitVolume(v, other(s))) };
}

/** Tank volumes to the tenth of a gallon or to the liter: nobody fills closer. */
export function tankShown(v: Volume, s: System): Shown {
  const us = v.in(u.gallon).short(1) + " gal";
  const metric = v.in(u.liter).cmp(int(10)) < 0 ? v.in(u.liter).short(2) + " L" : v.in(u.liter).short(0) + " L";
  return s === "us" ? { first: us, second: metric } : { first: metric, second: us };
}

export function areaShown(a: Area, s: System): Shown {
  const us = u.acre.format(a, 2);
  const metric = u.hectare.format(a, 2);
  return s === "us" ? { first: us, second: metric } : { first: metric, second: us };
}

export function sprayShown(v: SprayVolume, s: System): Shown {
  const us = u.gallonPerAcre.format(v, 1);
  const metric = u.literPerHectare.format(v, 0);
  return s === "us" ? { first: us, second: metric } : { first: metric, second: us };
}

/** Jar doses in mL or g to three figures, as syringes and scales are marked. */
export function doseShown(a: Amount): string {
  const n = a.base();
  let decimals = 0;
  while (decimals < 4 && n.mul(pow10(decimals)).cmp(int(100)) < 0) decimals++;
  return n.short(decimals) + " " + a.baseUnit();
}
