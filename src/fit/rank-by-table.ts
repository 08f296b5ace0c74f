import type { Design } from '../design.ts';
import { CRITERION_NAMES } from './criterion.ts';
import { newOutcome } from './outcome.ts';
import type { CohortRecord, Readiness } from './rank-routes.ts';
import type { RankTable } from './rank-table.ts';
import { tableCriteria, tableRatios } from './table-criteria.ts';
import { type TableDay, tableDay } from './table-day.ts';
import { LEAST_VALUE } from './value.ts';
import { VERDICTS } from './verdict.ts';
import { wishesOf } from './wishes.ts';

/** Criteria a route. */
export const CRITERIA_EACH = CRITERION_NAMES.length;

/** Every route of a table judged and put in order. Arrays are by place in the table. */
export interface TableRanking {
  /** Places in the table, the best first. */
  readonly order: Uint32Array;
  /** Rank of each route's verdict, and its score. */
  readonly verdicts: Uint8Array;
  readonly scores: Float64Array;
  /** Rank of each criterion's verdict and its value, `CRITERIA_EACH` a route. */
  readonly ranks: Uint8Array;
  readonly values: Float64Array;
}

/** A ranking with what it was made from, for those who ask how sure it is. */
export interface TableJudgement extends TableRanking {
  readonly day: TableDay;
  readonly ratios: ReturnType<typeof tableRatios>;
}

/** The order: by verdict, score, name, and for equal names length and trailhead, never as the routes came. */
function orderOf(table: RankTable, verdicts: Uint8Array, scores: Float64Array): Uint32Array {
  const { distanceM, lonDeg, latDeg } = table.columns;
  const { names } = table;
  const compare = (a: number, b: number): number => {
    const byScore = (scores[b] ?? 0) - (scores[a] ?? 0);
    if (byScore !== 0) return byScore;
    const [nameA = '', nameB = ''] = [names[a], names[b]];
    if (nameA !== nameB) return nameA < nameB ? -1 : 1;
    return (
      (distanceM[a] ?? 0) - (distanceM[b] ?? 0) ||
      (lonDeg[a] ?? 0) - (lonDeg[b] ?? 0) ||
      (latDeg[a] ?? 0) - (latDeg[b] ?? 0)
    );
  };
  // Verdict by verdict: less to compare than all in one.
  const order = new Uint32Array(table.size);
  let filled = 0;
  for (let rank = 0; rank < VERDICTS.length; rank += 1) {
    const from = filled;
    for (let i = 0; i < table.size; i += 1) {
      if (verdicts[i] !== rank) continue;
      order[filled] = i;
      filled += 1;
    }
    order.subarray(from, filled).sort(compare);
  }
  return order;
}

/**
 * Judges and orders all routes of a table: the same verdicts and scores as `fitOf` gives one by one, in one pass over
 * typed columns.
 */
export function rankTable(
  table: RankTable,
  record: CohortRecord,
  readiness: Readiness,
  date: string,
  design: Design,
): TableJudgement {
  const { size } = table;
  const day = tableDay(table, readiness.pace, date, wishesOf(record), design);
  const ratios = tableRatios(table, readiness, design);
  const criteria = tableCriteria(table, record, readiness, day, ratios, date, design);

  const verdicts = new Uint8Array(size);
  const logs = new Float64Array(size);
  const ranks = new Uint8Array(size * CRITERIA_EACH);
  const values = new Float64Array(size * CRITERIA_EACH);
  const out = newOutcome();
  let total = 0;
  CRITERION_NAMES.forEach((name, c) => {
    const answer = criteria[name];
    const weight = design.weights[name];
    total += weight;
    for (let i = 0; i < size; i += 1) {
      answer(i, out);
      const at = i * CRITERIA_EACH + c;
      ranks[at] = out.rank;
      values[at] = out.value;
      if (out.rank > (verdicts[i] ?? 0)) verdicts[i] = out.rank;
      // The logarithm of full value is nothing, and most values are full.
      if (out.value !== 1) logs[i] = (logs[i] ?? 0) + weight * Math.log(Math.max(LEAST_VALUE, out.value));
    }
  });
  const scores = logs.map((log) => (total > 0 ? Math.exp(log / total) : 0));
  return { order: orderOf(table, verdicts, scores), verdicts, scores, ranks, values, day, ratios };
}
