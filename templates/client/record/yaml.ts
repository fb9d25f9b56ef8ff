// The record as the text of its file, keys in the order of the data files. What is
// not recorded is left out: a key without a value would say that it was looked for.

import { type Choices, productOf } from "./choices";
import { type Draft, pouredAnything, ratedAnything, type Rating, type Reading, seenAnything } from "./draft";

/** The record of a draft that check lets pass. */
export function yamlOf(d: Draft, c: Choices): string {
  const out = ["# yaml-language-server: $schema=../../schema/observation.json"];
  const put = (key: string, value: string) => (value === "" ? 0 : out.push(`${key}: ${value}`));
  const text = (s: string) => words(s, c, 0);
  put("id", scalar(d.id));
  put("kind", d.kind);
  put("title", text(d.title));
  put("date", d.date.trim());
  put("by", scalar(d.by));
  put("place", scalar(d.place));
  put("investigation", scalar(d.investigation));
  const mix = d.products.filter(pouredAnything);
  out.push("products:", ...mix.map((p) => "  - " + flow([["product", productOf(c, p.product)!.id], ["rate", p.rate], ["batch", p.batch]])));
  put("order", d.order);
  put("spray_volume", scalar(d.spray_volume));
  put("water_share", scalar(d.water_share));
  const v = d.vessel;
  if (v.type !== "") put("vessel", flow([["type", v.type], ["size", v.size], ["liquid", v.liquid], ["height", v.height], ["closed", v.closed]]));
  put("water", scalar(d.water));
  put("temperature", scalar(d.temperature));
  put("ph_before", scalar(d.ph_before));
  put("inversions", d.inversions.trim());
  const readings = d.readings.filter(seenAnything);
  if (readings.length > 0) out.push("readings:", ...readings.flatMap((r) => reading(r, c)));
  const ratings = d.ratings.filter(ratedAnything);
  if (ratings.length > 0) out.push("ratings:", ...ratings.flatMap((r) => rating(r, d, c)));
  put("note", text(d.note));
  return out.join("\n") + "\n";
}

function reading(r: Reading, c: Choices): string[] {
  const lines: string[] = [];
  const put = (key: string, value: string) => (value === "" ? 0 : lines.push(`${lines.length === 0 ? "  - " : "    "}${key}: ${value}`));
  put("after", scalar(r["after"]!));
  for (const { field } of c.signs) {
    put(field, scalar(r[field]!));
    if (field === "redispersed") put("inversions", r["inversions"]!.trim());
    if (field === "screen") put("mesh", r["mesh"]!.trim());
  }
  put("note", words(r["note"]!, c, 4));
  return lines;
}

function rating(r: Rating, d: Draft, c: Choices): string[] {
  const lines = [`  - symptom: ${r.symptom}`, `    target: ${quoted(r.target)}`, `    days: ${r.days.trim()}`, `    mix: ${scalar(r.mix)}`];
  if (r.untreated.trim() !== "") lines.push(`    untreated: ${scalar(r.untreated)}`);
  const singles = r.singles.flatMap((s, n) => {
    const product = productOf(c, d.products[n]?.product ?? "");
    return s.trim() === "" || !product ? [] : ["      - " + flow([["product", product.id], ["rating", s]])];
  });
  if (singles.length > 0) lines.push("    singles:", ...singles);
  return lines;
}

/** A mapping on one line, without what is empty. */
function flow(pairs: [key: string, text: string][]): string {
  return "{" + pairs.filter(([, s]) => s.trim() !== "").map(([key, s]) => `${key}: ${scalar(s)}`).join(", ") + "}";
}

/** Words of a person, in the language of the page; where that is not the office's own, its reader is told. */
function words(s: string, c: Choices, indent: number): string {
  if (s.trim() === "") return "";
  if (c.lang === c.own) return quoted(s);
  const start = "\n" + " ".repeat(indent + 2);
  return `${start}${c.own}: ${quoted(c.untranslated)}${start}${c.lang}: ${quoted(s)}`;
}

/** Texts that mean something else to YAML when they stand without quotes. */
const special = /^(true|false|null|yes|no|on|off|y|n|~)$/i;

/** A value that no reader of YAML mistakes: plain where that is safe. */
export function scalar(text: string): string {
  const s = text.trim();
  if (s === "") return "";
  const safe = /^[0-9A-Za-z][0-9A-Za-z°%.\/ -]*$/.test(s) && (!special.test(s) || s === "true" || s === "false");
  return safe ? s : quoted(s);
}

/** A text in double quotes, on one line. */
export function quoted(text: string): string {
  const s = text.trim().replace(/\r\n?/g, "\n");
  return '"' + s.replace(/["\\]/g, "\\$&").replace(/\n/g, "\\n").replace(/\t/g, "\\t") + '"';
}
