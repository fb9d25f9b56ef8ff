// The fields of the plan, and what they say.

import type { Situation } from "../compat/situation";
import type { Book } from "../compat/book";
import { Choice, type Option } from "../page/choice";
import { type Child, h } from "../page/dom";
import { Field, type Reading } from "../page/field";
import { t } from "../page/words";
import { int, type Num } from "../unit/number";
import * as parse from "../unit/parse";
import type { Area, Duration, SprayVolume, Temperature, Volume } from "../unit/quantity";
import { likely, Refusal } from "../unit/text";
import type { Named, Words } from "./json";
import { type ChoiceKey, choiceKeys, type PlanState, type TextKey, textKeys } from "./state";

/** Reads ppm with or without the unit, or grains per gallon, as ppm. */
function content(s: string): Num {
  return /^[0-9.,/ ]*$/.test(s.trim()) ? parse.parseNumber(s) : parse.parseContent(s).base;
}

const phName = /^\s*ph[\s:=]*/i;

function ph(s: string): Num {
  return parse.parseNumber(s.replace(phName, ""));
}

/**
 * A reader that takes no slip of a unit or of zeros for a value. The bounds are set
 * wide, by common sense: no water, vessel or wait of a sprayer lies beyond them.
 */
function within<T>(read: (s: string) => T, base: (v: T) => Num, low: number, high: number, ...write: string[]): (s: string) => T {
  return (s) => {
    const v = read(s);
    if (base(v).cmp(int(low)) < 0 || base(v).cmp(int(high)) > 0) throw new Refusal("out-of-range", 0, write, "", true);
    return v;
  };
}

const inTank = (read: (s: string) => Volume): ((s: string) => Volume) => likely(read, () => ["gal", "L"]);

const number = (n: Num): Num => n;
const baseOf = (q: { base: Num }): Num => q.base;

export interface Fields {
  hardness: Field<Num>;
  ph: Field<Num>;
  bicarbonate: Field<Num>;
  temperature: Field<Temperature>;
  standing: Field<Duration>;
  area: Field<Area>;
  spray: Field<SprayVolume>;
  tank: Field<Volume>;
  fill: Field<Volume>;
  minimum: Field<Volume>;
  heel: Field<Volume>;
  jar: Field<Volume>;
}

export class Form {
  readonly fields: Fields;
  readonly choices: Record<ChoiceKey, Choice>;
  readonly ordered: HTMLInputElement;
  readonly metric: HTMLSelectElement;

  constructor(
    readonly book: Book,
    readonly words: Words,
    private readonly changed: () => void,
  ) {
    const field = <T>(id: TextKey, read: (s: string) => T): Field<T> =>
      new Field({ id, label: t(`planner.${id}`), hint: t(`planner.${id}-hint`), read, changed });
    this.fields = {
      hardness: field("hardness", within(content, number, 0, 100_000, "120 ppm")),
      ph: field("ph", within(ph, number, 0, 14, "7")),
      bicarbonate: field("bicarbonate", within(content, number, 0, 100_000, "250 ppm")),
      temperature: field("temperature", within(parse.parseTemperature, baseOf, -20, 60, "50 °F", "10 °C")), // °C
      standing: field("standing", within(parse.parseDuration, baseOf, 0, 365 * 1440, "2 h")), // min
      area: field("area", parse.parseArea),
      spray: field("spray", parse.parseSprayVolume),
      tank: field("tank", inTank(within(parse.parseVolume, baseOf, 0, 100_000_000, "500 gal", "2000 L"))), // mL
      fill: field("fill", inTank(parse.parseVolume)),
      minimum: field("minimum", inTank(parse.parseVolume)),
      heel: field("heel", inTank(parse.parseVolume)),
      jar: field("jar", likely(within(parse.parseVolume, baseOf, 0, 50_000, "1 qt", "1 L"), () => ["mL", "qt", "L"])), // mL
    };
    const choice = (key: ChoiceKey, list: readonly Named[], done = changed): Choice => new Choice(key, t(`planner.${key}`), options(list), done);
    this.choices = {
      crop: choice("crop", words.crops),
      place: choice("place", words.places),
      water: choice("water", words.waters, () => this.takeWater()),
      carrier: choice("carrier", words.carriers),
    };
    this.ordered = h("input", { type: "checkbox", id: "ordered", change: changed });
    this.metric = h("select", { id: "units", change: changed }, h("option", { value: "us" }, "gal, lb, ac"), h("option", { value: "metric" }, "L, kg, ha"));
  }

  /** Fills in what was measured of the chosen water. */
  private takeWater(): void {
    const w = this.words.waters.find((one) => one.id === this.choices.water.value);
    if (w) {
      this.fields.hardness.text = w.hardness === undefined ? "" : w.hardness + " ppm";
      this.fields.bicarbonate.text = w.bicarbonate === undefined ? "" : w.bicarbonate + " ppm";
      this.fields.ph.text = w.ph ?? "";
    }
    this.changed();
  }

  /** Puts a state into the fields; returns how many of its choices this publication does not have. */
  put(s: PlanState): number {
    let strange = 0;
    for (const k of textKeys) this.fields[k].text = s.texts[k];
    for (const k of choiceKeys) if (!this.choices[k].choose(s.choices[k])) strange++;
    this.showChoices();
    this.ordered.checked = s.ordered;
    this.metric.value = s.metric ? "metric" : "us";
    return strange;
  }

  /** Leaves away what there is nothing to choose in. */
  private showChoices(): void {
    for (const c of Object.values(this.choices)) c.element.hidden = c.select.options.length < 2;
  }

  /** Takes the fields into a state. */
  take(s: PlanState): void {
    for (const k of textKeys) s.texts[k] = this.fields[k].text;
    for (const k of choiceKeys) s.choices[k] = this.choices[k].value;
    s.ordered = this.ordered.checked;
    s.metric = this.metric.value === "metric";
  }

  /** What is known of water, place and time; a field that cannot be read is not known. */
  situation(order: readonly string[]): Situation {
    const numbers: Situation["numbers"] = {};
    const know = <T>(factor: string, field: Field<T>, number: (v: T) => Num): void => {
      const r = field.check();
      if (r.is === "value") numbers[factor] = number(r.value);
    };
    const f = this.fields;
    know("hardness", f.hardness, (n) => n);
    know("ph", f.ph, (n) => n);
    know("bicarbonate", f.bicarbonate, (n) => n);
    know("temperature", f.temperature, (q) => q.base);
    know("standing", f.standing, (q) => q.base);
    know("spray_volume", f.spray, (q) => q.base);
    const { place, crop, carrier } = this.choices;
    return {
      numbers,
      ...(place.known !== "" && { place: place.known }),
      ...(crop.known !== "" && { crop: crop.known }),
      ...(carrier.known !== "" && { carrier: [carrier.known] }),
      ...(this.ordered.checked && { order: [...order] }),
    };
  }

  /** What the answer is judged for, in words: what is chosen, and what can be read. */
  given(): string[] {
    const { crop, place, carrier } = this.choices;
    const chosen = [crop, place, carrier].filter((c) => c.known !== "").map((c) => c.select.selectedOptions[0]!.textContent!);
    const read = (["hardness", "ph", "bicarbonate", "temperature", "standing"] as const).filter((k) => this.fields[k].check().is === "value");
    return [...chosen, ...read.map((k) => t("planner.given", { what: t(`planner.${k}`), value: withUnit(k, this.fields[k].text.trim()) }))];
  }

  /** The fields as they stand on the page. */
  element(): Child {
    const f = this.fields;
    const c = this.choices;
    return [
      h("fieldset", { class: "plan-group" }, h("legend", {}, t("planner.where")), h("div", { class: "fields choices" }, c.crop.element, c.place.element)),
      h(
        "fieldset",
        { class: "plan-group" },
        h("legend", {}, t("planner.water-group")),
        h("p", { class: "quiet" }, t("planner.water-how")),
        h("div", { class: "fields choices" }, c.water.element, c.carrier.element),
        h("div", { class: "fields" }, f.hardness.element, f.ph.element, f.bicarbonate.element, f.temperature.element, f.standing.element),
        h("label", { class: "tick" }, this.ordered, h("span", {}, t("planner.ordered"))),
      ),
      h(
        "fieldset",
        { class: "plan-group" },
        h("legend", {}, t("planner.job")),
        h("div", { class: "fields" }, f.area.element, f.spray.element, f.tank.element, h("div", { class: "field" }, h("label", { for: "units" }, t("planner.units")), this.metric)),
        h("details", { class: "more" }, h("summary", {}, t("planner.limits")), h("div", { class: "fields" }, f.fill.element, f.minimum.element, f.heel.element)),
      ),
    ];
  }
}

/** What was measured in ppm may be written without it, and a pH with its name before it. */
function withUnit(key: TextKey, text: string): string {
  if (key === "ph") return text.replace(phName, "");
  return /^[0-9.,/ ]*$/.test(text) ? text + " ppm" : text;
}

function options(list: readonly Named[]): Option[] {
  return [{ value: "", label: t("planner.not-said") }, ...list.map((n) => ({ value: n.id, label: n.name.text, ...(n.name.lang && { lang: n.name.lang }) }))];
}

/** The value of a field, undefined when there is none. */
export function valueOf<T>(r: Reading<T>): T | undefined {
  return r.is === "value" ? r.value : undefined;
}

