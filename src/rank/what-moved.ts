import { at, numberAt } from '../array.ts';
import { CRITERION_NAMES, type CriterionName } from './criteria/index.ts';
import type { TableRanking } from './ranking.ts';
import { logOf } from './score.ts';
import { NOT_YET, VERDICTS, type Verdict } from './verdict.ts';

/** A route's place in a list. */
export interface Placing {
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
  readonly from: Placing;
  readonly to: Placing;
  /** The criteria that did it: those with another verdict, else the one that counts most. */
  readonly criteria: readonly {
    readonly name: CriterionName;
    readonly from: Verdict;
    readonly to: Verdict;
  }[];
}

/** A smaller change of score is not told (design): it is within the last figure shown. */
const LEAST_TOLD = 0.005;

const verdictAt = (ranks: Uint8Array, place: number): Verdict => at(VERDICTS, at(ranks, place));

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
  const placingOf = (ranking: TableRanking, listed: Uint32Array, which: number): Placing => ({
    rank: at(listed, which),
    verdict: verdictAt(ranking.verdicts, which),
    score: numberAt(ranking.scores, which),
  });
  return Array.from(after.order).flatMap((which): Move[] => {
    const from = placingOf(before, places, which);
    const to = placingOf(after, newPlaces, which);
    const isChoosable = (ranking: TableRanking) => at(ranking.verdicts, which) <= NOT_YET;
    const isScored = isChoosable(before) || isChoosable(after);
    const isSame = from.verdict === to.verdict;
    if (isSame && (!isScored || Math.abs(from.score - to.score) < LEAST_TOLD)) return [];
    const changes = CRITERION_NAMES.map((name, c) => {
      const place = c * size + which;
      return {
        name,
        from: verdictAt(before.ranks, place),
        to: verdictAt(after.ranks, place),
        by: Math.abs(logOf(numberAt(after.values, place)) - logOf(numberAt(before.values, place))),
      };
    });
    const judgedAnew = changes.filter((change) => change.from !== change.to);
    const most = changes.filter(({ by }) => by > 0).sort((a, b) => b.by - a.by);
    const told = judgedAnew.length > 0 ? judgedAnew : most.slice(0, 1);
    return [{ which, from, to, criteria: told.map(({ by: _, ...change }) => change) }];
  });
}
