// The nearest of some names, for "did you mean". As diag.Nearest in Go.

/** The one name within two edits when no other is as near; otherwise "". */
export function nearest(got: string, names: string[]): string {
  let best = 3;
  let second = 3;
  let name = "";
  for (const n of names) {
    if (n === name || n === got) continue;
    const d = distance(got, n, 3);
    if (d < best) [best, second, name] = [d, best, n];
    else if (d < second) second = d;
  }
  return best > 2 || best === second || (best === 2 && [...got].length < 5) ? "" : name;
}

/**
 * The number of edits (insert, drop, change, swap of neighbors; restricted form)
 * between two texts, or limit when it is limit or more.
 */
export function distance(a: string, b: string, limit: number): number {
  const x = [...a];
  const y = [...b];
  if (Math.abs(x.length - y.length) >= limit) return limit;
  let older: number[] = [];
  let last = Array.from({ length: y.length + 1 }, (_, j) => j);
  for (let i = 1; i <= x.length; i++) {
    const now = [i];
    for (let j = 1; j <= y.length; j++) {
      const cost = x[i - 1] === y[j - 1] ? 0 : 1;
      let d = Math.min(last[j]! + 1, now[j - 1]! + 1, last[j - 1]! + cost);
      if (i > 1 && j > 1 && x[i - 1] === y[j - 2] && x[i - 2] === y[j - 1]) d = Math.min(d, older[j - 2]! + 1);
      now.push(d);
    }
    [older, last] = [last, now];
  }
  return Math.min(last[y.length]!, limit);
}
