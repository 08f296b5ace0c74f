import { packedSort } from './packed-sort.ts';
import type { RankTable } from './rank-table.ts';

/**
 * Places of a table in order: by verdict, score, name, and for equal names length and trailhead, never as the routes
 * came.
 *
 * @param scores 0 to 1
 */
export function orderOf(table: RankTable, verdicts: Uint8Array, scores: Float64Array): Uint32Array {
  const { distanceM, lonDeg, latDeg } = table.columns;
  const { names } = table;
  const compare = (a: number, b: number): number => {
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
  const order = new Uint32Array(table.size);
  packedSort(table.size)(
    verdicts,
    scores.map((score) => 1 - score),
    compare,
    order,
  );
  return order;
}
