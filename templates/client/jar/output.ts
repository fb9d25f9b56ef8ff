// The JSON of recipes and plans: decimal strings with three decimals in mL, g or
// m². As internal/jar/json.go; the shapes are written from the Go structs.

import { text } from "../unit/format";
import type { Area, Volume } from "../unit/quantity";
import * as u from "../unit/units";
import type { AreaJSON, ItemJSON, PlanJSON, RecipeJSON, VolumeJSON } from "./json";
import type { Plan } from "./load";
import { decimals, type Dose, type Recipe } from "./recipe";

function volumeJSON(v: Volume): VolumeJSON {
  return { ml: v.base.fixed(decimals) };
}

function areaJSON(a: Area): AreaJSON {
  return { m2: a.base.fixed(decimals), ac: a.in(u.acre).fixed(decimals), ha: a.in(u.hectare).fixed(decimals) };
}

function itemJSON(d: Dose): ItemJSON {
  return {
    name: d.product.name,
    amount: d.amount.base().fixed(decimals),
    unit: d.amount.baseUnit(),
    ...(d.takes && { takes: d.takes.base.fixed(decimals) }),
    rate: d.product.rate.text(),
    label: d.label,
    spray_label: d.sprayLabel,
    ...(d.place.step && { step: d.place.step.id }),
    reason: d.place.reason,
    ...(d.place.cls !== "" && { class: d.place.cls }),
  };
}

export function recipeJSON(r: Recipe): RecipeJSON {
  return {
    jar: volumeJSON(r.jar),
    ...(!r.sprayVolume.isZero() && { spray_volume: text(r.sprayVolume) }),
    water_share: r.waterShare.fixed(decimals),
    finished: volumeJSON(r.finished),
    water: volumeJSON(r.water),
    first_water: volumeJSON(r.firstWater),
    top_up: volumeJSON(r.topUp),
    items: r.doses.map(itemJSON),
  };
}

export function planJSON(p: Plan): PlanJSON {
  return {
    area: areaJSON(p.area),
    spray_volume: text(p.sprayVolume),
    area_per_load: areaJSON(p.areaPerLoad),
    loads: p.loads.map((l) => ({
      area: areaJSON(l.area),
      volume: volumeJSON(l.volume),
      fill: volumeJSON(l.fill),
      full: l.full,
      water: volumeJSON(l.water),
      first_water: volumeJSON(l.firstWater),
      top_up: volumeJSON(l.topUp),
      items: l.doses.map(itemJSON),
    })),
    total: p.total.map(itemJSON),
    left_over: volumeJSON(p.leftOver),
    evened: p.evened,
    below_minimum: p.belowMinimum,
  };
}
