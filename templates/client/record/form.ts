// The parts of the form, in the order of the data files.

import { fill, h } from "../page/dom";
import { t } from "../page/words";
import type { Choices, Named } from "./choices";
import { boxes, choice, type Control, type Kit, line, type LineOptions, type Option, type Place } from "./control";
import { type Draft, emptyPortion, emptyRating, emptyReading, seenAnything } from "./draft";

/** The form over a draft. It builds elements and reports what was changed. */
export class Form {
  readonly element: HTMLElement;
  private fixed: Control[] = [];
  private lists = new Map<HTMLElement, Control[]>();

  constructor(
    private readonly d: Draft,
    private readonly c: Choices,
    private readonly kit: Kit,
  ) {
    const names = h("datalist", { id: "product-names" }, c.products.map((p) => h("option", { value: p.name })));
    this.element = h("div", { class: "record-form" }, names, this.about(), this.mix(), this.vessel(), this.readings(), this.ratings(), this.rest());
  }

  /** All controls, in the order of the page. */
  get controls(): Control[] {
    return [...this.fixed, ...[...this.lists.values()].flat()];
  }

  private place<K extends string>(o: Record<K, string>, key: K, at: string): Place {
    return { at, get: () => o[key], set: (s) => void (o[key] = s as Record<K, string>[K]) };
  }

  private keep(c: Control): HTMLElement {
    this.fixed.push(c);
    return c.element;
  }

  private top(key: "title" | "date" | "spray_volume" | "water_share" | "temperature" | "ph_before" | "inversions" | "note" | "id", o: LineOptions): HTMLElement {
    return this.keep(line(this.place(this.d, key, key), this.kit, o));
  }

  private about(): HTMLElement {
    const d = this.d;
    return group(
      t("record.about"),
      this.keep(boxes(this.place(d, "kind", "kind"), this.kit, t("record.kind"), [
        { value: "jar", label: t("observation.jar") },
        { value: "field", label: t("observation.field") },
      ], "")),
      this.top("title", { label: t("record.title-of"), hint: t("record.title-hint") }),
      h("div", { class: "card-fields" },
        this.top("date", { label: t("recipe.blank-date"), type: "date" }),
        this.keep(choice(this.place(d, "by", "by"), this.kit, t("fact.by"), this.c.roles.map((r) => ({ value: r, label: t(`by.${r.replace(/ /g, "-")}`) })))),
      ),
      this.keep(choice(this.place(d, "place", "place"), this.kit, t("fact.place"), named(this.c.places))),
      this.c.investigations.length > 0 &&
        this.keep(choice(this.place(d, "investigation", "investigation"), this.kit, t("record.investigation"), named(this.c.investigations))),
    );
  }

  private mix(): HTMLElement {
    const list = this.listOf(() => this.d.products, (p, i) => this.portion(p, i), () => this.d.products.push(emptyPortion()), t("record.add-product"));
    return group(
      t("record.mix"),
      h("p", { class: "quiet" }, t("record.mix-how")),
      list,
      this.keep(boxes(this.place(this.d, "order", "order"), this.kit, t("record.order"), [
        { value: "recorded", label: t("record.order-yes") },
        { value: "not-recorded", label: t("record.order-no") },
      ])),
      h("div", { class: "card-fields" },
        this.top("spray_volume", { label: t("fact.spray-volume"), hint: t("record.example", { text: "20 gal/ac" }) }),
        this.top("water_share", { label: t("fact.water-share"), hint: t("record.share-hint") }),
      ),
    );
  }

  private portion(p: Draft["products"][number], i: number): Control[] {
    const at = `products.${i}.`;
    return [
      line(this.place(p as unknown as Record<string, string>, "product", at + "product"), this.kit, { label: t("record.product", { n: i + 1 }), list: "product-names" }),
      line(this.place(p as unknown as Record<string, string>, "rate", at + "rate"), this.kit, { label: t("record.rate"), hint: t("record.example", { text: "1.5 pt/ac" }) }),
      line(this.place(p as unknown as Record<string, string>, "batch", at + "batch"), this.kit, { label: t("record.batch") }),
    ];
  }

  private vessel(): HTMLElement {
    const v = this.d.vessel as unknown as Record<string, string>;
    const at = (key: string): Place => this.place(v, key, "vessel." + key);
    const size = (key: string, label: string, example: string) => this.keep(line(at(key), this.kit, { label, hint: t("record.example", { text: example }) }));
    return group(
      t("record.vessel"),
      this.keep(choice(at("type"), this.kit, t("fact.vessel"), this.c.vessels.map((w) => ({ value: w, label: t(`vessel.${w}`) })))),
      h("div", { class: "card-fields" }, size("size", t("record.size"), "1 qt"), size("liquid", t("record.liquid"), "700 mL"), size("height", t("record.height"), "90 mm")),
      this.keep(boxes(at("closed"), this.kit, t("record.closed"), [
        { value: "true", label: t("vessel.closed") },
        { value: "false", label: t("vessel.open") },
      ])),
      this.keep(choice(this.place(this.d, "water", "water"), this.kit, t("fact.water"), named(this.c.waters))),
      h("div", { class: "card-fields" },
        this.top("temperature", { label: t("fact.temperature"), hint: t("record.example", { text: "15 °C" }) }),
        this.top("ph_before", { label: t("fact.ph-before"), hint: t("record.example", { text: "7.6" }), numeric: true }),
        this.top("inversions", { label: t("fact.inversions"), hint: t("record.example", { text: "10" }), numeric: true }),
      ),
    );
  }

  private readings(): HTMLElement {
    const list = this.listOf(() => this.d.readings, (r, i) => this.reading(r, i), () => this.d.readings.push(emptyReading(this.c)), t("record.add-reading"), (r, i) => this.readingHead(r, i));
    return h("section", { class: "record-part", id: "f-readings", tabindex: -1 }, h("h2", {}, t("record.readings")), h("p", { class: "quiet" }, t("record.readings-how")), list);
  }

  private readingHead(r: Record<string, string>, i: number): string {
    const n = Object.entries(r).filter(([key, s]) => key !== "after" && s.trim() !== "").length;
    const time = r["after"] === "" ? t("record.reading", { n: i + 1 }) : r["after"] === "0 min" ? t("duration.none") : r["after"]!;
    return seenAnything(r) ? t("record.reading-head", { time, n }) : t("record.reading-blank", { time });
  }

  private reading(r: Record<string, string>, i: number): Control[] {
    const at = `readings.${i}.`;
    const own = (key: string) => this.place(r, key, at + key);
    const controls = [line(own("after"), this.kit, { label: t("record.after"), hint: t("record.example", { text: "15 min" }) })];
    for (const s of this.c.signs) {
      if (s.words) controls.push(boxes(own(s.field), this.kit, s.name, s.words.map((w) => ({ value: w, label: t(`word.${w}`) }))));
      else controls.push(line(own(s.field), this.kit, { label: s.name, hint: t("record.example", { text: examples[s.field] ?? "" }), numeric: s.field === "ph" }));
      if (s.field === "redispersed") controls.push(line(own("inversions"), this.kit, { label: t("record.after-turns"), numeric: true }));
      if (s.field === "screen") controls.push(line(own("mesh"), this.kit, { label: t("record.mesh"), hint: t("record.example", { text: "50" }), numeric: true }));
    }
    controls.push(line(own("note"), this.kit, { label: t("record.note"), long: true }));
    return controls;
  }

  private ratings(): HTMLElement {
    const list = this.listOf(() => this.d.ratings, (r, i) => this.rating(r, i), () => this.d.ratings.push(emptyRating()), t("record.add-rating"));
    return h("details", { class: "record-part more" }, h("summary", {}, t("record.ratings")), h("p", { class: "quiet" }, t("record.ratings-how")), list);
  }

  private rating(r: Draft["ratings"][number], i: number): Control[] {
    const at = `ratings.${i}.`;
    const o = r as unknown as Record<string, string>;
    const percent = (key: string, label: string) => line(this.place(o, key, at + key), this.kit, { label, hint: t("record.example", { text: "62 %" }) });
    this.d.products.forEach((_, n) => (r.singles[n] ??= ""));
    return [
      boxes(this.place(o, "symptom", at + "symptom"), this.kit, t("rating.of"), [
        { value: "control", label: t("symptom.control") },
        { value: "injury", label: t("symptom.injury") },
      ]),
      line(this.place(o, "target", at + "target"), this.kit, { label: t("rating.target"), hint: t("record.target-hint") }),
      line(this.place(o, "days", at + "days"), this.kit, { label: t("record.days"), numeric: true }),
      percent("mix", t("rating.mix")),
      percent("untreated", t("rating.untreated")),
      ...this.d.products.map((p, n) => line(this.place(r.singles as unknown as Record<string, string>, String(n), `${at}singles.${n}`), this.kit, { label: t("record.single", { product: p.product || String(n + 1) }) })),
    ];
  }

  private rest(): HTMLElement {
    return group(t("record.rest"), this.top("note", { label: t("record.note"), long: true, hint: t("record.note-hint") }), this.top("id", { label: t("record.id"), hint: t("record.id-hint") }));
  }

  /** A list of cards that can grow. Cards of readings fold, and say in their heads what they hold. */
  private listOf<T>(items: () => T[], build: (item: T, i: number) => Control[], more: () => void, add: string, head?: (item: T, i: number) => string): HTMLElement {
    const box = h("div", { class: "cards" });
    const draw = () => {
      const open = [...box.querySelectorAll("details")].map((e) => e.open);
      const drawn = items().map((item, i) => build(item, i));
      this.lists.set(box, drawn.flat());
      fill(box, drawn.map((controls, i) => {
        const remove = h("button", { type: "button", class: "remove", click: () => { items().splice(i, 1); draw(); this.kit.changed(""); } }, t("record.remove"));
        const fields = h("div", { class: "card-fields" }, controls.map((c) => c.element));
        if (!head) return h("div", { class: "record-card" }, fields, remove);
        const title = h("summary", {}, head(items()[i]!, i));
        const card = h("details", { class: "record-card", input: () => fill(title, head(items()[i]!, i)), change: () => fill(title, head(items()[i]!, i)) }, title, fields, remove);
        card.open = open[i] ?? (i === 0 || i >= open.length && open.length > 0);
        return card;
      }));
    };
    draw();
    const button = h("button", { type: "button", class: "act", click: () => { more(); draw(); this.kit.changed(""); } }, add);
    return h("div", {}, box, button);
  }
}

const examples: Record<string, string> = { rise: "0.5 °C", foam: "40 mL, 12 mm", ph: "6.4" };

function group(title: string, ...children: (HTMLElement | false)[]): HTMLElement {
  return h("section", { class: "record-part" }, h("h2", {}, title), children);
}

function named(all: readonly Named[]): Option[] {
  return all.map((n) => ({ value: n.id, label: n.name, lang: n.lang }));
}
