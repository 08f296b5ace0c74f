import type { Design } from '../design.ts';
import { NOT_YET } from '../rank/outcome.ts';
import { rankTable, type TableJudgement, type TableRanking } from '../rank/rank-by-table.ts';
import type { RankTable } from '../rank/rank-table.ts';
import type { FitRequest, Readiness } from '../rank/readiness.ts';
import { certaintyOf, drawnGroup, drawOrder, type ListCertainty } from './acceptability.ts';
import { figuresAt, type RouteFigures } from './route-figures.ts';

/** All routes of a table in order for a cohort on a date, and how sure that order is. */
export interface Ranking extends TableRanking {
  readonly certainty: ListCertainty;
}

/**
 * The routes of a judged table that are drawn, the first first: the leading ones, of those that can be chosen or worked
 * up to. What is incomplete or ruled out stands behind them in every draw.
 */
export function leadingOf(
  table: RankTable,
  judged: TableJudgement,
  readiness: Readiness,
  design: Design,
): readonly RouteFigures[] {
  const leading = judged.order
    .subarray(0, Math.floor(design.acceptability.leading))
    .filter((i) => (judged.verdicts[i] ?? 0) <= NOT_YET);
  return Array.from(leading, (i) => figuresAt(table, judged, readiness, i, design));
}

/** Ranks a table. It does not depend on the order of its rows; the same input gives the same answer to the last digit. */
export function rankingOf(table: RankTable, request: FitRequest, readiness: Readiness): Ranking {
  const judged = rankTable(table, request, readiness);
  const { order, verdicts, scores, ranks, values } = judged;
  const leading = leadingOf(table, judged, readiness, request.design);
  const certainty = certaintyOf(drawOrder(leading, drawnGroup(request.record, readiness), request.design));
  return { order, verdicts, scores, ranks, values, certainty };
}
