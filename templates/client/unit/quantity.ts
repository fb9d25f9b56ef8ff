// Quantities of the field, one type a dimension, each kept in one base unit. Adding
// a weight to a volume does not compile.

import { Num, zero } from "./number";

/** The dimensions, with the base unit of each. */
export type Dimension =
  | "volume" // mL
  | "mass" // g
  | "area" // m²
  | "length" // m
  | "density" // g/mL
  | "temperature" // °C, a point on the scale
  | "duration" // min
  | "flow" // mL/min
  | "speed" // m/min
  | "depth" // mL/m², spray volume
  | "content"; // mg/L, dissolved in water

/** An exact amount of one dimension. */
export class Quantity<D extends Dimension> {
  constructor(
    readonly dim: D,
    readonly base: Num,
  ) {}

  add(p: Quantity<D>): Quantity<D> {
    return new Quantity(this.dim, this.base.add(p.base));
  }
  sub(p: Quantity<D>): Quantity<D> {
    return new Quantity(this.dim, this.base.sub(p.base));
  }
  times(n: Num): Quantity<D> {
    return new Quantity(this.dim, this.base.mul(n));
  }
  over(n: Num): Quantity<D> {
    return new Quantity(this.dim, this.base.quo(n));
  }
  /** The plain number this ÷ p. */
  per(p: Quantity<D>): Num {
    return this.base.quo(p.base);
  }
  cmp(p: Quantity<D>): -1 | 0 | 1 {
    return this.base.cmp(p.base);
  }
  sign(): -1 | 0 | 1 {
    return this.base.sign();
  }
  isZero(): boolean {
    return this.base.sign() === 0;
  }
  /** How many of unit u this is. */
  in(u: Unit<D>): Num {
    return this.base.sub(u.offset).quo(u.factor);
  }
}

export type Volume = Quantity<"volume">;
export type Mass = Quantity<"mass">;
export type Area = Quantity<"area">;
export type Length = Quantity<"length">;
export type Density = Quantity<"density">;
export type Temperature = Quantity<"temperature">;
export type Duration = Quantity<"duration">;
export type Flow = Quantity<"flow">;
export type Speed = Quantity<"speed">;
export type SprayVolume = Quantity<"depth">;
export type Content = Quantity<"content">;

/** None of a dimension. */
export function none<D extends Dimension>(dim: D): Quantity<D> {
  return new Quantity(dim, zero);
}

/** A named multiple of a dimension's base unit. */
export class Unit<D extends Dimension> {
  constructor(
    readonly dim: D,
    readonly name: string,
    readonly factor: Num, // base units in one of it
    readonly offset: Num = zero, // added after the factor, for temperature scales
  ) {}

  of(n: Num): Quantity<D> {
    return new Quantity(this.dim, n.mul(this.factor).add(this.offset));
  }

  /** "15 gal/ac", with at most so many decimals. */
  format(q: Quantity<D>, decimals: number): string {
    return q.in(this).short(decimals) + " " + this.name;
  }

  /** "946.353 mL", with exactly so many decimals. */
  fixed(q: Quantity<D>, decimals: number): string {
    return q.in(this).fixed(decimals) + " " + this.name;
  }
}

/** The family of units that a reader sees. */
export type System = "us" | "metric";
