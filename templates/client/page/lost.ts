// Names the parts of an address that were not understood.

import { list, t } from "./words";

/** How many parts are named, and how much of each is shown: somebody else wrote them. */
const [mostParts, partLength] = [5, 40];

export function lostNames(parts: readonly string[]): string {
  const short = parts.slice(0, mostParts).map((p) => t("planner.quoted", { text: p.length > partLength ? p.slice(0, partLength) + "…" : p }));
  return list(parts.length > mostParts ? [...short, "…"] : short);
}
