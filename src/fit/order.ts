import type { RankTable } from './rank-table.ts';

/** Steps in which a score is first compared, and routes at most that are sorted so: verdict, score and place fit 53 bits. */
const SCORE_STEPS = 2 ** 33;
const MOST_PACKED = 2 ** 17;

type Compare = (a: number, b: number) => number;

/** Sorts numbers that hold verdict, score in steps and place: many times quicker than asking `compare` each time. */
function packedOrder(verdicts: Uint8Array, scores: Float64Array, compare: Compare): Uint32Array {
  const size = verdicts.length;
  const keys = new Float64Array(size);
  for (let i = 0; i < size; i += 1) {
    const behind = Math.floor((1 - (scores[i] ?? 0)) * (SCORE_STEPS - 1));
    keys[i] = ((verdicts[i] ?? 0) * SCORE_STEPS + behind) * MOST_PACKED + i;
  }
  keys.sort();
  const order = new Uint32Array(size);
  let from = 0;
  for (let place = 0; place < size; place += 1) {
    const key = keys[place] ?? 0;
    order[place] = key % MOST_PACKED;
    const step = Math.floor(key / MOST_PACKED);
    if (Math.floor((keys[from] ?? 0) / MOST_PACKED) !== step) from = place;
    // The last of a run within one step, which the whole rule puts in order.
    const next = place + 1 < size ? Math.floor((keys[place + 1] ?? 0) / MOST_PACKED) : -1;
    if (next !== step && place > from) order.subarray(from, place + 1).sort(compare);
  }
  return order;
}

/**
 * Places of a table in order: by verdict, score, name, and for equal names length and trailhead, never as the routes
 * came.
 *
 * @param scores 0 to 1
 */
export function orderOf(table: RankTable, verdicts: Uint8Array, scores: Float64Array): Uint32Array {
  const { distanceM, lonDeg, latDeg } = table.columns;
  const { names } = table;
  const compare: Compare = (a, b) => {
    const first = (verdicts[a] ?? 0) - (verdicts[b] ?? 0) || (scores[b] ?? 0) - (scores[a] ?? 0);
    if (first !== 0) return first;
    const [nameA = '', nameB = ''] = [names[a], names[b]];
    if (nameA !== nameB) return nameA < nameB ? -1 : 1;
    return (
      (distanceM[a] ?? 0) - (distanceM[b] ?? 0) ||
      (lonDeg[a] ?? 0) - (lonDeg[b] ?? 0) ||
      (latDeg[a] ?? 0) - (latDeg[b] ?? 0)
    );
  };
  if (table.size <= MOST_PACKED) return packedOrder(verdicts, scores, compare);
  return Uint32Array.from({ length: table.size }, (_, i) => i).sort(compare);
}
