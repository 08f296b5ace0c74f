import type { Design } from '../design.ts';
import { CRITERION_NAMES } from './criterion.ts';
import { orderOf } from './order.ts';
import { newOutcome } from './outcome.ts';
import type { RankTable } from './rank-table.ts';
import { type FitRequest, type Readiness, wishesOf } from './readiness.ts';
import { tableCriteria, tableRatios } from './table-criteria.ts';
import { type TableDay, tableDay } from './table-day.ts';
import { LEAST_VALUE } from './value.ts';

/** Every route of a table judged and put in order. Arrays are by place in the table. */
export interface TableRanking {
  /** Places in the table, the best first. */
  readonly order: Uint32Array;
  /** Rank of each route's verdict, and its score. */
  readonly verdicts: Uint8Array;
  readonly scores: Float64Array;
  /** Rank of each criterion's verdict and its value, criterion by criterion: that of criterion c at `c * size + i`. */
  readonly ranks: Uint8Array;
  readonly values: Float64Array;
}

/** A ranking with what it was made from, for those who ask how sure it is. */
export interface TableJudgement extends TableRanking {
  readonly day: TableDay;
  readonly ratios: ReturnType<typeof tableRatios>;
}

/** The weighted geometric mean as `scoreOf` has it, from the products of the values of each weight. */
function scoresOf(
  products: ReadonlyMap<number, Float64Array>,
  size: number,
  weights: Design['weights'],
): Float64Array {
  const scores = new Float64Array(size);
  const total = Object.values(weights).reduce((sum, weight) => sum + weight, 0);
  if (total <= 0) return scores;
  for (const [weight, product] of products) {
    for (let i = 0; i < size; i += 1) scores[i] = (scores[i] ?? 0) + weight * Math.log(product[i] ?? 1);
  }
  for (let i = 0; i < size; i += 1) scores[i] = Math.exp((scores[i] ?? 0) / total);
  return scores;
}

/**
 * Judges and orders all routes of a table: the same verdicts and scores as `fitOf` gives one by one, in one pass over
 * typed columns.
 */
export function rankTable(table: RankTable, request: FitRequest, readiness: Readiness): TableJudgement {
  const { record, date, design } = request;
  const { size } = table;
  const day = tableDay(table, readiness.pace, date, wishesOf(record), design);
  const ratios = tableRatios(table, readiness, design);
  const criteria = tableCriteria(table, request, readiness, day, ratios);

  const verdicts = new Uint8Array(size);
  const ranks = new Uint8Array(size * CRITERION_NAMES.length);
  const values = new Float64Array(size * CRITERION_NAMES.length);
  // A logarithm is dear: the values of criteria that weigh the same are multiplied first.
  const products = new Map<number, Float64Array>();
  const out = newOutcome();
  CRITERION_NAMES.forEach((name, c) => {
    const answer = criteria[name];
    const weight = design.weights[name];
    const product = products.get(weight) ?? new Float64Array(size).fill(1);
    products.set(weight, product);
    for (let i = 0, at = c * size; i < size; i += 1, at += 1) {
      answer(i, out);
      ranks[at] = out.rank;
      values[at] = out.value;
      if (out.rank > (verdicts[i] ?? 0)) verdicts[i] = out.rank;
      product[i] = (product[i] ?? 1) * Math.max(LEAST_VALUE, out.value);
    }
  });
  const scores = scoresOf(products, size, design.weights);
  return { order: orderOf(table, verdicts, scores), verdicts, scores, ranks, values, day, ratios };
}
