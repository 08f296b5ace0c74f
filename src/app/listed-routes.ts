import { CRITERION_NAMES, type CriterionName } from '../rank/criterion.ts';
import type { TableRanking } from '../rank/rank-by-table.ts';
import { VERDICTS, type Verdict } from '../rank/verdict.ts';
import { type Move, whatMoved } from '../rank/what-moved.ts';
import type { LibraryTable } from './ranked-library.ts';

/** A route of a ranking in figures: what lists are filtered and ordered by. */
export interface ListedRoute {
  readonly rank: number;
  readonly id: string;
  readonly name: string;
  readonly verdict: Verdict;
  readonly distanceM: number;
  readonly gainM: number | null;
  readonly highM: number | null;
  /** The value of a criterion, 0 to 1; `null` where its verdict is `incomplete`. */
  readonly valueOf: (name: CriterionName) => number | null;
}

export type NamedMove = Omit<Move, 'which'> & { readonly id: string; readonly name: string };

const known = (value: number | undefined): number | null =>
  value === undefined || Number.isNaN(value) ? null : value;

/** All routes of a ranking, the first first. */
export function listedRoutes({ table, ids }: LibraryTable, ranking: TableRanking): ListedRoute[] {
  const { order, verdicts, values, ranks } = ranking;
  const { distanceM, gainM, highM } = table.columns;
  return Array.from(order, (which, index) => ({
    rank: index + 1,
    id: ids[which] ?? '',
    name: table.names[which] ?? '',
    verdict: VERDICTS[verdicts[which] ?? 0] ?? 'incomplete',
    distanceM: distanceM[which] ?? 0,
    gainM: known(gainM[which]),
    highM: known(highM[which]),
    valueOf(name) {
      const at = CRITERION_NAMES.indexOf(name) * table.size + which;
      return VERDICTS[ranks[at] ?? 0] === 'incomplete' ? null : known(values[at]);
    },
  }));
}

/** What differs between two rankings, with the routes by id and name. */
export function namedMoves(
  { table, ids }: LibraryTable,
  before: TableRanking,
  after: TableRanking,
): NamedMove[] {
  return whatMoved(before, after).map(({ which, ...move }) => ({
    id: ids[which] ?? '',
    name: table.names[which] ?? '',
    ...move,
  }));
}
