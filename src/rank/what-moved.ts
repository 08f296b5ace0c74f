import { CRITERION_NAMES, type CriterionName } from './criterion.ts';
import { NOT_YET } from './outcome.ts';
import type { TableRanking } from './rank-by-table.ts';
import { LEAST_VALUE } from './value.ts';
import { VERDICTS, type Verdict } from './verdict.ts';

/** Where a route stands in a list. */
export interface Stand {
  readonly rank: number;
  readonly verdict: Verdict;
  readonly score: number;
}

/**
 * A route whose own verdict or score is another: not one that only makes room for others, nor one that stays ruled out
 * or incomplete.
 */
export interface Move {
  /** Its place in the table. */
  readonly which: number;
  readonly from: Stand;
  readonly to: Stand;
  /** The criteria that did it: those with another verdict, else the one that counts most. */
  readonly criteria: readonly {
    readonly name: CriterionName;
    readonly from: Verdict;
    readonly to: Verdict;
  }[];
}

/** A smaller change of score is not told (design): it is within the last figure shown. */
const LEAST_TOLD = 0.005;

const verdictAt = (ranks: Uint8Array, at: number): Verdict => VERDICTS[ranks[at] ?? 0] ?? 'incomplete';

/** The place of each route in the order, from 1. */
function placesOf({ order }: TableRanking): Uint32Array {
  const places = new Uint32Array(order.length);
  order.forEach((which, index) => {
    places[which] = index + 1;
  });
  return places;
}

/** What differs between two rankings of one table, in the order of the second. */
export function whatMoved(before: TableRanking, after: TableRanking): Move[] {
  const size = after.order.length;
  const [places, newPlaces] = [placesOf(before), placesOf(after)];
  const standOf = (ranking: TableRanking, at: Uint32Array, which: number): Stand => ({
    rank: at[which] ?? 0,
    verdict: verdictAt(ranking.verdicts, which),
    score: ranking.scores[which] ?? 0,
  });
  const logAt = (ranking: TableRanking, at: number) =>
    Math.log(Math.max(LEAST_VALUE, ranking.values[at] ?? 0));
  return Array.from(after.order).flatMap((which): Move[] => {
    const from = standOf(before, places, which);
    const to = standOf(after, newPlaces, which);
    const isChoosable = (ranking: TableRanking) => (ranking.verdicts[which] ?? 0) <= NOT_YET;
    const isScored = isChoosable(before) || isChoosable(after);
    const isSame = from.verdict === to.verdict;
    if (isSame && (!isScored || Math.abs(from.score - to.score) < LEAST_TOLD)) return [];
    const changes = CRITERION_NAMES.map((name, c) => {
      const at = c * size + which;
      return {
        name,
        from: verdictAt(before.ranks, at),
        to: verdictAt(after.ranks, at),
        by: Math.abs(logAt(after, at) - logAt(before, at)),
      };
    });
    const judgedAnew = changes.filter((change) => change.from !== change.to);
    const most = changes.filter(({ by }) => by > 0).sort((a, b) => b.by - a.by);
    const told = judgedAnew.length > 0 ? judgedAnew : most.slice(0, 1);
    return [{ which, from, to, criteria: told.map(({ by: _, ...change }) => change) }];
  });
}
