/** Whether the way from one station to a later one, up or down, is a leg of its own and no wiggle. */
export type Counts = (from: number, to: number) => boolean;

/** Drops what is no high or low between its neighbours around `at`; the ends stay. */
function straighten(turns: number[], heightsM: readonly number[], at: number): void {
  for (let k = Math.min(at + 1, turns.length - 2); k >= Math.max(1, at - 1); k -= 1) {
    const height = heightsM[turns[k] ?? 0] ?? 0;
    const before = heightsM[turns[k - 1] ?? 0] ?? 0;
    const after = heightsM[turns[k + 1] ?? 0] ?? 0;
    if ((height - before) * (after - height) >= 0) turns.splice(k, 1);
  }
}

/**
 * Indexes of a profile's turning points: first, last, and the highs and lows between which each leg counts. Of all
 * highs and lows the pair that differs least, and does not count, is taken out until every leg counts: its height
 * goes to the leg around it, so a leg counts with its full height. Reversing the profile reverses the result but for
 * ties.
 *
 * @param heightsM heights in metres, none missing
 * @example turningPoints([100, 103, 101, 110], (from, to) => Math.abs(h[to] - h[from]) >= 5) // [0, 3]
 */
export function turningPoints(heightsM: readonly number[], counts: Counts): number[] {
  const turns = heightsM.map((_, i) => i);
  for (let k = turns.length - 2; k > 0; k -= 1) straighten(turns, heightsM, k);
  const legM = (k: number): number =>
    Math.abs((heightsM[turns[k] ?? 0] ?? 0) - (heightsM[turns[k - 1] ?? 0] ?? 0));
  while (turns.length > 2) {
    let least = 0;
    for (let k = 1; k < turns.length; k += 1) {
      if (least > 0 && legM(k) >= legM(least)) continue;
      if (!counts(turns[k - 1] ?? 0, turns[k] ?? 0)) least = k;
    }
    if (least === 0) break;
    // The first and the last station stay.
    const from = Math.max(1, least - 1);
    const to = Math.min(turns.length - 2, least);
    turns.splice(from, to - from + 1);
    straighten(turns, heightsM, from);
  }
  return turns;
}
