// The state of a plan, all of it as its reader typed it, and its form in the
// address. An address from elsewhere or from an older publication is read as far as
// it can be; what is not understood is handed back as it stands, never guessed at.

import { pair, readPairs } from "../page/address";

/** One product of the plan. rate "" is "not written": the middle of the label's range. */
export interface Line {
  id: string;
  rate: string;
}

/** The texts of the plan's fields, by their names in the address. */
export const textKeys = ["hardness", "ph", "bicarbonate", "temperature", "standing", "area", "spray", "tank", "fill", "minimum", "heel", "jar"] as const;
export type TextKey = (typeof textKeys)[number];

/** What is chosen from lists. */
export const choiceKeys = ["crop", "place", "water", "carrier"] as const;
export type ChoiceKey = (typeof choiceKeys)[number];

export interface PlanState {
  lines: Line[];
  texts: Record<TextKey, string>;
  choices: Record<ChoiceKey, string>;
  ordered: boolean; // products go in in the order shown
  metric: boolean;
  published: string; // of the publication that the plan was made with
}

/** The most products of a plan. */
export const maxLines = 12;

export function emptyState(metric: boolean): PlanState {
  const blank = <K extends string>(keys: readonly K[]) => Object.fromEntries(keys.map((k) => [k, ""])) as Record<K, string>;
  return { lines: [], texts: blank(textKeys), choices: blank(choiceKeys), ordered: false, metric, published: "" };
}

/** The plan as it stands in the address, without "#". */
export function toAddress(s: PlanState): string {
  if (s.lines.length === 0 && Object.values({ ...s.texts, ...s.choices }).every((v) => v === "")) return "";
  const q: string[] = ["v=1"];
  const put = (key: string, value: string): number => (value === "" ? 0 : q.push(pair(key, value)));
  put("d", s.published);
  for (const l of s.lines) put("p", l.rate === "" ? l.id : `${l.id}:${l.rate}`);
  for (const k of choiceKeys) put(k, s.choices[k]);
  for (const k of textKeys) put(k, s.texts[k]);
  if (s.ordered) put("ordered", "1");
  put("units", s.metric ? "metric" : "us");
  return q.join("&");
}

export interface Read {
  state: PlanState;
  lost: string[]; // parts of the address that were not understood
}

/** Reads an address; a plan of an empty one is empty. */
export function fromAddress(hash: string, metric: boolean): Read {
  const state = emptyState(metric);
  return { state, lost: readPairs(hash, (key, value) => take(state, key, value)) };
}

function take(s: PlanState, key: string, value: string): boolean {
  if (key === "v") return value === "1";
  if (key === "d") s.published = value;
  else if (key === "ordered") s.ordered = value === "1";
  else if (key === "units") s.metric = value === "metric";
  else if (key === "p") return takeLine(s, value);
  else if ((textKeys as readonly string[]).includes(key)) s.texts[key as TextKey] = value;
  else if ((choiceKeys as readonly string[]).includes(key)) s.choices[key as ChoiceKey] = value;
  else return false;
  return true;
}

function takeLine(s: PlanState, value: string): boolean {
  const cut = value.indexOf(":");
  const id = cut < 0 ? value : value.slice(0, cut);
  if (!/^[a-z0-9]+(-[a-z0-9]+)*$/.test(id) || s.lines.length >= maxLines || s.lines.some((l) => l.id === id)) return false;
  s.lines.push({ id, rate: cut < 0 ? "" : value.slice(cut + 1) });
  return true;
}
