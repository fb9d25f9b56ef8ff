// The texts of a request, as a person or the page writes them. As
// internal/jar/input.go; the shapes are written from the Go structs.

import { type Num, zero } from "../unit/number";
import * as parse from "../unit/parse";
import { none } from "../unit/quantity";
import { noRate, parseRate } from "../unit/rate";
import { Refusal } from "../unit/text";
import { tankForms } from "./forms";
import type { LoadInput, ProductInput, RecipeInput, StepInput } from "./json";
import { type LoadRequest } from "./load";
import type { Step } from "./order";
import { type Code, type Problem, Problems } from "./problem";
import type { Product, State } from "./product";
import type { Request } from "./recipe";

/** Reads texts and gathers what is wrong with them. */
export class Reader {
  readonly problems: Problem[] = [];

  /** Reads one text; an empty one, and one that is wrong, gives what is left out. */
  take<T>(field: string, product: string, s: string | undefined, read: (s: string) => T, leftOut: T): T {
    if (s === undefined || s === "") return leftOut;
    try {
      return read(s);
    } catch (e) {
      if (e instanceof Refusal) this.problems.push({ code: "bad-text", product, refusal: e, field });
      else if (e instanceof Wrong) this.problems.push({ code: e.code, product, field });
      else throw e;
      return leftOut;
    }
  }

  check(): void {
    if (this.problems.length > 0) throw new Problems(this.problems);
  }
}

class Wrong extends Error {
  constructor(readonly code: Code) {
    super(code);
  }
}

/** Reads a request for one jar; throws Problems. */
export function recipeRequest(q: RecipeInput): Request {
  const r = new Reader();
  const out: Request = {
    jar: r.take("jar", "", q.jar, parse.parseVolume, none("volume")),
    sprayVolume: r.take("spray_volume", "", q.spray_volume, parse.parseSprayVolume, none("depth")),
    waterShare: r.take("water_share", "", q.water_share, parseShare, zero),
    firstWater: r.take("first_water", "", q.first_water, parse.parsePercent, zero),
    products: readProducts(r, q.products),
    steps: readSteps(q.steps),
  };
  r.check();
  return out;
}

/** Reads a request for the loads of a job; throws Problems. */
export function loadRequest(q: LoadInput): LoadRequest {
  const r = new Reader();
  const volume = (field: "tank" | "max_fill" | "minimum" | "heel") => r.take(field, "", q[field], parse.parseVolume, none("volume"));
  const out: LoadRequest = {
    area: r.take("area", "", q.area, parse.parseArea, none("area")),
    sprayVolume: r.take("spray_volume", "", q.spray_volume, parse.parseSprayVolume, none("depth")),
    tank: volume("tank"),
    maxFill: volume("max_fill"),
    minimum: volume("minimum"),
    heel: volume("heel"),
    firstWater: r.take("first_water", "", q.first_water, parse.parsePercent, zero),
    products: readProducts(r, q.products),
    steps: readSteps(q.steps),
  };
  r.check();
  return out;
}

/** Reads the share of water in a jar, which is never nothing. */
function parseShare(s: string): Num {
  const n = parse.parsePercent(s);
  if (n.sign() === 0) throw new Refusal("zero", 0, ["25 %"]);
  return n;
}

function readProducts(r: Reader, list: readonly ProductInput[] | null | undefined): Product[] {
  return (list ?? []).map((p) => readProduct(r, p));
}

export function readProduct(r: Reader, p: ProductInput): Product {
  const take = <T>(field: string, s: string | undefined, read: (s: string) => T, leftOut: T) => r.take(field, p.name, s, read, leftOut);
  const rate = take("rate", p.rate, parseRate, noRate);
  const density = take("density", p.density, parse.parseDensity, none("density"));
  return {
    name: p.name,
    rate,
    density,
    form: take("form", p.form, parseForm, ""),
    state: take("state", p.state, parseState, ""),
    bag: p.bag ?? false,
    position: p.position ?? 0,
    classes: p.classes ?? [],
    range: [take("range", p.range?.[0], parseRate, noRate), take("range", p.range?.[1], parseRate, noRate)],
    spray: [
      take("spray_range", p.spray_range?.[0], parse.parseSprayVolume, none("depth")),
      take("spray_range", p.spray_range?.[1], parse.parseSprayVolume, none("depth")),
    ],
  };
}

function parseForm(s: string): string {
  if (tankForms[s] === undefined) throw new Wrong("bad-code");
  return s;
}

function parseState(s: string): State {
  if (s !== "liquid" && s !== "dry") throw new Wrong("bad-state");
  return s;
}

export function readSteps(list: readonly StepInput[] | undefined): Step[] {
  return (list ?? []).map((s) => ({ id: s.id, bags: s.bags ?? false, forms: s.forms ?? [], classes: s.classes ?? [] }));
}
