// What keeps the products of a mix from one tank. As internal/compat/conflict.go, which
// a test holds this to.

import type { Verdict } from "./book";
import type { Answer, Finding } from "./judge";

/** From this verdict on a finding is a conflict: keep apart. */
export const conflicting: Verdict = 3;

/** Items that may not share a tank, with all the evidence that says so. */
export interface Conflict {
  items: string[]; // in item order
  verdict: Verdict;
  findings: Finding[]; // in the answer's order
}

/**
 * The conflicts of a mix by the items that they are about, the most cautious first. What
 * is said of more items than another conflict names belongs to that one.
 */
export function conflictsOf(a: Answer): Conflict[] {
  const all = graveOf(a).sort((x, y) => x.items.length - y.items.length);
  const list: Conflict[] = [];
  for (const { finding, items } of all) {
    const known = list.find((c) => c.items.every((id) => items.includes(id)));
    if (!known) list.push({ items, verdict: finding.verdict, findings: [finding] });
    else {
      known.findings.push(finding);
      if (finding.verdict > known.verdict) known.verdict = finding.verdict;
    }
  }
  for (const c of list) c.findings.sort((x, y) => a.findings.indexOf(x) - a.findings.indexOf(y));
  return list.sort((x, y) => y.verdict - x.verdict);
}

/** The findings of conflicts, each with the items that it is about. */
export function graveOf(a: Answer): { finding: Finding; items: string[] }[] {
  return a.findings.filter((f) => f.verdict >= conflicting).map((finding) => ({ finding, items: aboutOf(a, finding) }));
}

function aboutOf(a: Answer, f: Finding): string[] {
  const e = f.evidence;
  const about = a.items.filter((item) => (e.kind === "jars" ? e.products.includes(item.place) : f.matches.some((m) => m.item === item.id)));
  return (about.length > 0 ? about : a.items).map((item) => item.id);
}
