// Calculators that rest on published figures beside arithmetic: standing time and
// gas potential.

import { coldest, gasVolume, hottest, pressureRise, solubility, zeroCelsius } from "../compat/gas";
import { leftOf, type Point, standingAt } from "../jar/standing";
import { list, t } from "../page/words";
import { between } from "../unit/between";
import type { Num } from "../unit/number";
import * as parse from "../unit/parse";
import type { Duration, Mass, Temperature, Volume } from "../unit/quantity";
import * as u from "../unit/units";
import type { Bench, HalfPoint, Lasting } from "../planner/json";
import type { Calculator, Result } from "./calc";

const readPH = between(parse.parseNumber, "0", "14");
const readVolume = between(parse.parseVolume, "0.01 mL", "100000 L");

function pointOf(p: HalfPoint): Point {
  return { ph: p.ph, stable: p.stable ?? false, about: p.about ?? false, low: p.low ?? 0, high: p.high ?? Infinity };
}

/** Minutes in words a person would use. */
function lasting(minutes: number): string {
  if (minutes < 90) return figures(minutes) + " min";
  return minutes < 2880 ? figures(minutes / 60) + " h" : figures(minutes / 1440) + " d";
}

const share = (n: number): string => (n < 0.001 ? "< 0.1" : String(Math.floor(n * 1000 + 0.5) / 10)) + " %";

/** How much of an active is left after a wait, by published half-lives. */
export function standing(bench: Bench): Calculator {
  return {
    id: "standing",
    pick: { key: "active", options: bench.actives.map((a) => ({ value: a.active, label: a.active })) },
    asks: [
      { key: "ph", hint: "8.2", read: readPH },
      { key: "wait", hint: "4 h, 1 d", read: between(parse.parseDuration, "0 s", "365 d") },
    ],
    work(v) {
      const active = bench.actives.find((a) => a.active === v["active"]);
      if (!active) return t("calculators.pick-active");
      return standingResult(active, v["ph"] as Num, v["wait"] as Duration);
    },
  };
}

function standingResult(active: Lasting, ph: Num, wait: Duration): ReturnType<Calculator["work"]> {
  const s = standingAt(active.records.map((r) => r.points.map(pointOf)), ph.float());
  const left = leftOf(s, wait.base.float());
  const who = s.lives.map((l) => list([...active.records[l.record]!.who, active.records[l.record]!.where ?? ""].filter((w) => w !== "")));
  const said = who.length > 0 ? [t("calculators.lasting-by", { who: [...new Set(who)].join("; ") })] : [];
  if (!left) return { answers: [{ label: t("calculators.out.left"), first: t("lasting.not-known") }], numbers: [], notes: [t("calculators.lasting-silent"), ...said] };
  const [least, most] = left;
  const low = s.low === 0 ? "" : lasting(s.low);
  const high = s.high === Infinity ? t("lasting.no-end") : lasting(s.high);
  return {
    answers: [
      { label: t("calculators.out.left"), first: share(least) === share(most) ? share(least) : t("rate.range", { low: share(least), high: share(most) }) },
      { label: t("calculators.out.half-life"), first: low === high || low === "" ? high : t("rate.range", { low, high }) },
    ],
    numbers: [...(s.low > 0 ? [halved(wait, s.low, least)] : []), ...(s.high !== Infinity && s.high !== s.low ? [halved(wait, s.high, most)] : [])],
    notes: [t("lasting.no-leave"), ...said],
  };
}

const halved = (wait: Duration, life: number, left: number): string => `½ ^ (${lasting(wait.base.float())} ÷ ${lasting(life)}) = ${share(left)}`;

/** The gas that a carbonate could give off at most. */
export function gas(bench: Bench): Calculator {
  return {
    id: "gas",
    pick: { key: "material", options: bench.carbonates.map((c) => ({ value: c.id, label: c.name })) },
    asks: [
      { key: "weight", hint: "5 lb, 20 g", read: between(parse.parseMass, "0.001 g", "100000 kg") },
      { key: "liquid", hint: "700 mL, 500 gal", read: readVolume },
      { key: "vessel", hint: "1 qt, 1 L", read: readVolume, optional: true },
      { key: "temperature", hint: "77 °F, 25 °C", read: between(parse.parseTemperature, `${coldest} °C`, `${hottest} °C`) },
    ],
    work(v, s) {
      const material = bench.carbonates.find((c) => c.id === v["material"]);
      if (!material) return t("calculators.pick-material");
      const { weight, liquid, vessel, temperature } = v as { weight: Mass; liquid: Volume; vessel?: Volume; temperature: Temperature };
      const celsius = temperature.base.float();
      const moles = weight.base.float() * material.per_gram;
      const liters = gasVolume(moles, celsius);
      const both = (label: string, us: string, metric: string): Result["answers"][number] => ({ label, first: s === "us" ? us : metric, second: s === "us" ? metric : us });
      const answers = [both(t("gas-most.gas"), figures(liters / 3.785411784) + " gal", figures(liters) + " L")];
      const numbers = [`${u.gram.format(weight, 1)} × ${figures(material.per_gram)} mol/g = ${figures(moles)} mol`, gasNumbers(moles, celsius, liters)];
      if (vessel) {
        const filled = liquid.base.float() / 1000;
        const rise = pressureRise(moles, filled, vessel.base.float() / 1000 - filled, celsius);
        if (rise === undefined) return t("calculators.overfull");
        numbers.push(pressureNumbers(moles, vessel.base.float() / 1000 - filled, filled, celsius, rise));
        answers.push(both(t("calculators.out.pressure"), figures(rise / 6.894757) + " psi", figures(rise) + " kPa"));
      }
      return { answers, numbers, notes: [t("gas-most.never")] };
    },
  };
}

/** n R T ÷ p, with R in J/(mol K), which is kPa L/(mol K). */
function gasNumbers(moles: number, celsius: number, liters: number): string {
  return `${figures(moles)} mol × 8.3145 × ${figures(celsius + zeroCelsius)} K ÷ 101.325 kPa = ${figures(liters)} L`;
}

/** n ÷ (headspace ÷ R T + Henry's constant × liquid), in liters, kPa and mol. */
function pressureNumbers(moles: number, headspace: number, liquid: number, celsius: number, rise: number): string {
  return `${figures(moles)} mol ÷ (${figures(headspace)} L ÷ (8.3145 × ${figures(celsius + zeroCelsius)} K) + ${figures(solubility(celsius) * 1000)} mol/(m³ kPa) × ${figures(liquid)} L ÷ 1000) = ${figures(rise)} kPa`;
}

/** Three figures; these are curves and bounds of gas, never doses. */
function figures(n: number): string {
  if (n >= 100) return String(Math.floor(n + 0.5));
  if (n > 0 && n < 0.001) return "< 0.001";
  return n === 0 ? "0" : n.toPrecision(3).replace(/\.?0+$/, "");
}
