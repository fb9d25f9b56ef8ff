// How much of an active is left after a mix has waited at a pH, from published
// half-lives. As internal/jar/standing.go, where sources and caveats stand. Numbers
// are floats: these are curves, never doses.

/** A half-life at a pH or over a range of it, in minutes. */
export interface Point {
  ph: [number, number];
  stable: boolean;
  about: boolean;
  low: number; // 0: no lower end
  high: number; // Infinity: no upper end
}

export type Reach = "not-published" | "published" | "interpolated" | "stable";

/** What one source says of an active at one pH. */
export interface Life {
  record: number; // which of the records
  reach: Reach;
  low: number;
  high: number;
}

/** Between two neighboring points the logarithm is interpolated; beyond the outermost, and beside a point without a number, nothing is known. */
export function lifeAt(points: readonly Point[], ph: number, record: number): Life {
  const none: Life = { record, reach: "not-published", low: 0, high: Infinity };
  for (const [i, p] of points.entries()) {
    const before = points[i - 1];
    if (ph < p.ph[0]) return before ? between(before, p, ph, none) : none;
    if (ph > p.ph[1]) continue;
    if (p.stable) return { ...none, reach: "stable" };
    return { record, reach: "published", low: p.low, high: p.high };
  }
  return none;
}

function between(a: Point, b: Point, ph: number, none: Life): Life {
  if (a.stable || b.stable) return none;
  const share = (ph - a.ph[1]) / (b.ph[0] - a.ph[1]);
  const low = along(a.low, b.low, share);
  const high = along(a.high, b.high, share);
  if (low === 0 && high === Infinity) return none;
  return { record: none.record, reach: "interpolated", low, high };
}

/** A share of the way from a to b on the log scale; an open end is open all the way. */
function along(a: number, b: number, share: number): number {
  if (a === 0 || b === 0) return 0;
  if (a === Infinity || b === Infinity) return Infinity;
  return Math.exp(Math.log(a) * (1 - share) + Math.log(b) * share);
}

/** What all sources say of one active at one pH: the spread is theirs. */
export interface Standing {
  lives: Life[];
  silent: number;
  known: boolean;
  low: number;
  high: number;
}

export function standingAt(records: readonly (readonly Point[])[], ph: number): Standing {
  const lives = records.map((points, i) => lifeAt(points, ph, i));
  const said = lives.filter((l) => l.reach !== "not-published");
  const counted = said.filter((l) => l.reach !== "stable");
  const known = counted.length > 0;
  const stable = said.length > counted.length;
  return {
    lives: said,
    silent: lives.length - said.length,
    known,
    low: known ? Math.min(...counted.map((l) => l.low)) : 0,
    high: known && !stable ? Math.max(...counted.map((l) => l.high)) : known ? Infinity : 0,
  };
}

/** The least and the most that may be left after so many minutes; undefined when no source gives a half-life: then nothing is known. */
export function leftOf(s: Standing, minutes: number): [least: number, most: number] | undefined {
  if (!s.known) return undefined;
  const left = (halfLife: number): number => 2 ** (-minutes / halfLife);
  const least = minutes === 0 ? 1 : s.low > 0 ? left(s.low) : 0;
  return [least, s.high === Infinity ? 1 : left(s.high)];
}
