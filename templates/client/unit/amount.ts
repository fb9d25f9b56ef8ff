// An amount of product: a volume of liquid or a weight.

import type { Num } from "./number";
import { type Mass, none, type System, type Volume } from "./quantity";
import { type Part, splitMass, splitVolume } from "./split";

export class Amount {
  private constructor(
    readonly isDry: boolean,
    readonly volume: Volume,
    readonly mass: Mass,
  ) {}

  static dry(m: Mass): Amount {
    return new Amount(true, none("volume"), m);
  }
  static liquid(v: Volume): Amount {
    return new Amount(false, v, none("mass"));
  }

  /** In mL, or in g when it is dry. */
  base(): Num {
    return this.isDry ? this.mass.base : this.volume.base;
  }
  baseUnit(): "mL" | "g" {
    return this.isDry ? "g" : "mL";
  }
  split(s: System): Part[] {
    return this.isDry ? splitMass(this.mass, s) : splitVolume(this.volume, s);
  }
}
