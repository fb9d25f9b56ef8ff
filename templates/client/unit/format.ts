// How quantities are written back: in the unit that makes the exact number shortest.
// As internal/unit/format.go.

import { type Num, pow10 } from "./number";
import type { Dimension, Quantity } from "./quantity";
import { maxDecimals, maxDigits, maxFraction } from "./text";
import * as words from "./words";
import { Vocabulary } from "./words";

/** Exactly and as the parsers read it; undefined when it does not fit. */
export function spell(n: Num): string | undefined {
  const m = n.sign() < 0 ? n.neg() : n;
  if (m.cmp(pow10(maxDigits)) >= 0) return undefined;
  const s = m.round(maxDecimals).equals(m) ? m.short(maxDecimals) : mixedFraction(m);
  return s === undefined || n.sign() >= 0 ? s : "-" + s;
}

function mixedFraction(n: Num): string | undefined {
  const whole = n.floor();
  const f = n.sub(whole);
  if (f.sign() === 0 || f.d >= 10n ** BigInt(maxFraction)) return undefined;
  const s = `${f.n}/${f.d}`;
  return whole.sign() > 0 ? whole.short(0) + " " + s : s;
}

/** How much a reader dislikes a spelling. */
function spellCost(s: string, rare: boolean): number {
  return 2 * s.length + (s.includes(".") ? 1 : 0) + (s.includes("/") ? 6 : 0) + (rare ? 6 : 0);
}

const vocabularies: { [D in Dimension]: Vocabulary<D> } = {
  volume: words.volumes,
  mass: words.masses,
  area: words.areas,
  length: words.lengths,
  density: words.densities,
  temperature: words.temperatures,
  duration: words.durations,
  flow: words.flows,
  speed: words.speeds,
  depth: words.sprayVolumes,
  content: words.contents,
};

/** The quantity in the unit that spells it shortest; the parser reads it back. */
export function text<D extends Dimension>(q: Quantity<D>): string {
  const v = vocabularies[q.dim] as Vocabulary<D>;
  let best = q.base.short(maxDecimals) + " " + v.base().name;
  let least = 0;
  for (const unit of v.units) {
    const s = spell(q.in(unit));
    if (s === undefined) continue;
    const cost = spellCost(s, v.rare.has(unit.name));
    if (least === 0 || cost < least) [best, least] = [s + " " + unit.name, cost];
  }
  return best;
}

