// What is entered into the calculators, all of it as it was typed, and its form in
// the address.

import { pair, readPairs } from "../page/address";

export interface CalcState {
  texts: Record<string, string>; // by the key of the field; those that are not empty
  metric: boolean;
  at: string; // the calculator that was used last, "" for none
}

/** What an address may hold. */
export interface CalcKeys {
  fields: readonly string[]; // CALCULATOR-FIELD, in the order of the page
  calculators: readonly string[];
  metric: boolean; // units that come first when nothing is said
}

/** The address of what was entered, without "#": the way to the calculator while that is nothing. */
export function toAddress(s: CalcState, keys: CalcKeys): string {
  const filled = keys.fields.filter((k) => (s.texts[k] ?? "") !== "");
  if (filled.length === 0 && s.metric === keys.metric) return s.at;
  const q = [pair("v", "1"), ...(s.at === "" ? [] : [pair("at", s.at)]), ...filled.map((k) => pair(k, s.texts[k]!))];
  return [...q, pair("units", s.metric ? "metric" : "us")].join("&");
}

export interface Read {
  state: CalcState;
  lost: string[]; // parts of the address that were not understood
}

/** Reads an address. A field that comes twice is filled in once, so that neither text is lost unseen. */
export function fromAddress(hash: string, keys: CalcKeys): Read {
  const state: CalcState = { texts: {}, metric: keys.metric, at: "" };
  const came = new Set<string>();
  const lost = readPairs(hash, (key, value) => {
    if (came.has(key) || !take(state, keys, key, value)) return false;
    came.add(key);
    return true;
  });
  return { state, lost };
}

function take(s: CalcState, keys: CalcKeys, key: string, value: string): boolean {
  if (key === "v") return value === "1";
  if (key === "at") {
    s.at = keys.calculators.includes(value) ? value : "";
    return s.at !== "";
  }
  if (key === "units") {
    s.metric = value === "us" || value === "metric" ? value === "metric" : keys.metric;
    return value === "us" || value === "metric";
  }
  if (!keys.fields.includes(key)) return false;
  if (value !== "") s.texts[key] = value;
  return true;
}
