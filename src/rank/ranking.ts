import { at, numberAt } from '../array.ts';
import { CRITERIA } from './criteria/index.ts';
import type { Facts } from './facts.ts';
import { newOutcome } from './outcome.ts';
import type { RankTable } from './rank-table.ts';
import { logOf } from './score.ts';
import { AS_RANKED } from './shift.ts';

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

/** By verdict, score, name, and for equal names length and trailhead, never as the routes came. */
function orderOf({ columns, names }: RankTable, verdicts: Uint8Array, scores: Float64Array) {
  const { distanceM, lonDeg, latDeg } = columns;
  const classes = Float64Array.from(verdicts);
  const compare = (a: number, b: number): number => {
    const first = numberAt(classes, a) - numberAt(classes, b) || numberAt(scores, b) - numberAt(scores, a);
    if (first !== 0) return first;
    const [nameA, nameB] = [at(names, a), at(names, b)];
    if (nameA !== nameB) return nameA < nameB ? -1 : 1;
    return (
      numberAt(distanceM, a) - numberAt(distanceM, b) ||
      numberAt(lonDeg, a) - numberAt(lonDeg, b) ||
      numberAt(latDeg, a) - numberAt(latDeg, b)
    );
  };
  return Uint32Array.from(Array.from(classes.keys()).sort(compare));
}

/** Judges and orders all routes of a table; the score is the weighted geometric mean of the values. */
export function rankFacts(facts: Facts): TableRanking {
  const { table, request } = facts;
  const { size } = table;
  const { weights } = request.design;
  const verdicts = new Uint8Array(size);
  const ranks = new Uint8Array(size * CRITERIA.length);
  const values = new Float64Array(size * CRITERIA.length);
  const scores = new Float64Array(size);
  const total = CRITERIA.reduce((sum, { name }) => sum + weights[name], 0);
  const out = newOutcome();
  CRITERIA.forEach(({ name, over }, c) => {
    const judge = over(facts);
    const share = total > 0 ? weights[name] / total : 0;
    for (let i = 0, place = c * size; i < size; i += 1, place += 1) {
      judge(i, AS_RANKED, out);
      ranks[place] = out.rank;
      values[place] = out.value;
      if (out.rank > at(verdicts, i)) verdicts[i] = out.rank;
      scores[i] = numberAt(scores, i) + share * logOf(out.value);
    }
  });
  for (let i = 0; i < size; i += 1) scores[i] = total > 0 ? Math.exp(numberAt(scores, i)) : 0;
  return { order: orderOf(table, verdicts, scores), verdicts, scores, ranks, values };
}
