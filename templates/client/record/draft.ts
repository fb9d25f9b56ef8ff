// An observation as its writer has typed it so far: texts, none of them read yet. The
// keys are those of the data files; "" is "not recorded".

import type { Choices } from "./choices";

export interface Portion {
  product: string; // name or id
  rate: string;
  batch: string;
}

/** What a reading is about, by key; after and the signs among them. */
export type Reading = Record<string, string>;

export interface Rating {
  symptom: string;
  target: string;
  days: string;
  mix: string;
  untreated: string;
  singles: string[]; // one a product, in the order of the mix
}

export interface Vessel {
  type: string;
  size: string;
  liquid: string;
  height: string;
  closed: string; // "true" or "false"
}

export interface Draft {
  id: string;
  kind: string;
  title: string;
  date: string;
  by: string;
  place: string;
  investigation: string;
  products: Portion[];
  order: string;
  spray_volume: string;
  water_share: string;
  vessel: Vessel;
  water: string;
  temperature: string;
  ph_before: string;
  inversions: string;
  readings: Reading[];
  ratings: Rating[];
  note: string;
}

/** The keys of a reading beside those of the signs. */
export const readingKeys = ["after", "inversions", "mesh", "note"] as const;

export const emptyPortion = (): Portion => ({ product: "", rate: "", batch: "" });

export function emptyReading(c: Choices, after = ""): Reading {
  const r: Reading = {};
  for (const k of [...readingKeys, ...c.signs.map((s) => s.field)]) r[k] = "";
  r["after"] = after;
  return r;
}

export const emptyRating = (): Rating => ({ symptom: "", target: "", days: "", mix: "", untreated: "", singles: [] });

/** A new observation, with the office's times of reading. */
export function emptyDraft(c: Choices, id: string): Draft {
  return {
    id, kind: "jar", title: "", date: "", by: "", place: "", investigation: "",
    products: [emptyPortion(), emptyPortion()], order: "", spray_volume: "", water_share: "",
    vessel: { type: "", size: "", liquid: "", height: "", closed: "" },
    water: "", temperature: "", ph_before: "", inversions: "",
    readings: c.times.map((t) => emptyReading(c, t)), ratings: [], note: "",
  };
}

/** A draft that was kept, with every key that the form asks for today. */
export function adopt(c: Choices, kept: Partial<Draft>): Draft {
  const fresh = emptyDraft(c, "");
  return {
    ...fresh,
    ...kept,
    vessel: { ...fresh.vessel, ...kept.vessel },
    products: (kept.products ?? []).map((p) => ({ ...emptyPortion(), ...p })),
    readings: (kept.readings ?? []).map((r) => ({ ...emptyReading(c), ...r })),
    ratings: (kept.ratings ?? []).map((r) => ({ ...emptyRating(), ...r })),
  };
}

/** Whether anything was seen at a reading: a time alone says nothing. */
export function seenAnything(r: Reading): boolean {
  return Object.entries(r).some(([key, text]) => key !== "after" && text.trim() !== "");
}

/** Whether a rating was begun. */
export function ratedAnything(r: Rating): boolean {
  return [r.symptom, r.target, r.days, r.mix, r.untreated, ...r.singles].some((s) => s.trim() !== "");
}

/** Whether a line of the mix was begun. */
export function pouredAnything(p: Portion): boolean {
  return [p.product, p.rate, p.batch].some((s) => s.trim() !== "");
}

const letters = "23456789bcdfghjkmnpqrstvwxz";

/** A name for the record that nobody else is likely to choose. dice gives numbers from 0 to 1. */
export function newID(day: string, dice: () => number): string {
  let end = "";
  for (let i = 0; i < 5; i++) end += letters[Math.floor(dice() * letters.length)];
  return `${day === "" ? "jar" : day}-${end}`;
}

/** What is filled in from the address of the page: the mix of a recipe. */
export function fromAddress(d: Draft, query: string): Draft {
  const q = new URLSearchParams(query);
  if (q.get("v") !== "1") return d;
  const portions = q.getAll("p").map((s) => {
    const at = s.indexOf(":");
    return { ...emptyPortion(), product: at < 0 ? s : s.slice(0, at), rate: at < 0 ? "" : s.slice(at + 1) };
  });
  return {
    ...d,
    products: portions.length > 0 ? portions : d.products,
    order: portions.length > 0 ? "recorded" : d.order,
    spray_volume: q.get("spray") ?? d.spray_volume,
    water_share: q.get("share") ?? d.water_share,
    water: q.get("water") ?? d.water,
    vessel: { ...d.vessel, type: portions.length > 0 ? "jar" : d.vessel.type, liquid: q.get("liquid") ?? d.vessel.liquid },
    title: q.get("title") ?? d.title,
  };
}
