// Every unit, by its legal definition; the sources stand beside the same factors in
// Go (internal/unit/units.go), and a test compares them on random quantities.

import { frac, int, type Num } from "./number";
import { type Dimension, Unit } from "./quantity";

const footM = frac(3048, 10000);
const inchM = frac(254, 10000);
const mileM = frac(1609344, 1000);
const gallonML = frac(3785411784, 1000000);
const poundG = frac(45359237, 100000);
const acreM2 = frac(40468564224, 10000000);
const hectareM2 = int(10000);
const grainMG = frac(6479891, 100000);

function unit<D extends Dimension>(dim: D, name: string, factor: Num): Unit<D> {
  return new Unit(dim, name, factor);
}

export const milliliter = unit("volume", "mL", int(1));
export const liter = unit("volume", "L", int(1000));
export const fluidOunce = unit("volume", "fl oz", gallonML.quo(int(128)));
export const pint = unit("volume", "pt", gallonML.quo(int(8)));
export const quart = unit("volume", "qt", gallonML.quo(int(4)));
export const gallon = unit("volume", "gal", gallonML);

export const milligram = unit("mass", "mg", frac(1, 1000));
export const gram = unit("mass", "g", int(1));
export const kilogram = unit("mass", "kg", int(1000));
export const ounce = unit("mass", "oz", poundG.quo(int(16)));
export const pound = unit("mass", "lb", poundG);

export const squareMeter = unit("area", "m²", int(1));
export const squareFoot = unit("area", "sq ft", footM.mul(footM));
export const acre = unit("area", "ac", acreM2);
export const hectare = unit("area", "ha", hectareM2);

export const meter = unit("length", "m", int(1));
export const centimeter = unit("length", "cm", frac(1, 100));
export const millimeter = unit("length", "mm", frac(1, 1000));
export const inch = unit("length", "in", inchM);
export const foot = unit("length", "ft", footM);

export const gramPerMilliliter = unit("density", "g/mL", int(1));
export const kilogramPerLiter = unit("density", "kg/L", int(1));
export const gramPerLiter = unit("density", "g/L", frac(1, 1000));
export const poundPerGallon = unit("density", "lb/gal", poundG.quo(gallonML));

export const celsius = unit("temperature", "°C", int(1));
export const fahrenheit = new Unit("temperature", "°F", frac(5, 9), frac(-160, 9));

export const second = unit("duration", "s", frac(1, 60));
export const minute = unit("duration", "min", int(1));
export const hour = unit("duration", "h", int(60));
export const day = unit("duration", "d", int(1440));

export const milliliterPerMinute = unit("flow", "mL/min", int(1));
export const literPerMinute = unit("flow", "L/min", int(1000));
export const fluidOuncePerMinute = unit("flow", "fl oz/min", gallonML.quo(int(128)));
export const gallonPerMinute = unit("flow", "gal/min", gallonML);

export const meterPerMinute = unit("speed", "m/min", int(1));
export const kilometerPerHour = unit("speed", "km/h", frac(1000, 60));
export const milePerHour = unit("speed", "mph", mileM.quo(int(60)));
export const footPerMinute = unit("speed", "ft/min", footM);

export const gallonPerAcre = unit("depth", "gal/ac", gallonML.quo(acreM2));
export const literPerHectare = unit("depth", "L/ha", int(1000).quo(hectareM2));
export const gallonPerThousandSquareFeet = unit("depth", "gal/1000 sq ft", gallonML.quo(footM.mul(footM)).quo(int(1000)));
export const milliliterPerSquareMeter = unit("depth", "mL/m²", int(1));

export const partPerMillion = unit("content", "ppm", int(1));
export const milligramPerLiter = unit("content", "mg/L", int(1));
export const grainPerGallon = unit("content", "gpg", grainMG.quo(gallonML.quo(int(1000))));
