import { at } from '../array.ts';
import { CRITERION_NAMES, type CriterionName } from '../rank/criteria/index.ts';
import { factsOf } from '../rank/facts.ts';
import { explainedFitOf, type Fit, type RankedFit } from '../rank/fit.ts';
import { tableOf } from '../rank/rank-table.ts';
import { rankFacts } from '../rank/ranking.ts';
import { type FitRequest, type Readiness, readinessOf } from '../rank/readiness.ts';
import { rowOf } from '../rank/route-row.ts';
import { VERDICTS, type Verdict } from '../rank/verdict.ts';
import { whatMoved } from '../rank/what-moved.ts';
import type { Route } from '../route/describe-route.ts';
import type { ListCertainty } from '../sampling/certainty.ts';
import { rankRoutes } from '../sampling/rank-routes.ts';
import type { StoredCohort } from '../storage/cohorts.ts';
import type { Context } from './context.ts';
import type { StoredFit } from './explained-fits.ts';
import { requestOf, tripRequestOf } from './groups.ts';
import { checkDate, whatIf } from './question.ts';
import type { StoredRanking, StoredTable } from './rankings.ts';
import { getRoute } from './routes.ts';

/** A stored route for a stored cohort on a date. */
export interface RouteAsked {
  readonly cohortId: string;
  readonly routeId: string;
  readonly date: string;
}

/** A ranking of the store: for whom, when, and what is to be otherwise than it is stored (`null`: nothing). */
export interface RankingAsked {
  readonly cohortId: string;
  readonly date: string;
  /** As they came from outside; nothing of them is stored. */
  readonly changes: unknown;
}

export interface ShortlistAsked extends RankingAsked {
  /** Entries at most. */
  readonly limit: number;
  /** Only these; `null`: all. */
  readonly verdicts: readonly Verdict[] | null;
  /** Entries after this rank. */
  readonly afterRank: number;
}

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

/** All stored routes ranked for a cohort. */
export interface RankedStore {
  readonly cohort: StoredCohort;
  readonly asked: FitRequest;
  /** The question without the changes; `null`: none were asked for. */
  readonly before: FitRequest | null;
  readonly table: StoredTable;
  readonly ranking: StoredRanking;
}

export function rank(routes: readonly Route[], request: FitRequest): RankedFit[] {
  checkDate(request.date);
  return rankRoutes(routes, request);
}

/** A ranking as it would be with some changes, and what moved against the one without them. */
export function rankIf(routes: readonly Route[], before: FitRequest, changes: unknown) {
  const asked = whatIf(before, changes);
  const table = tableOf(routes.map((route) => rowOf(route, before.design)));
  const rankingFor = (request: FitRequest) => rankFacts(factsOf(table, request));
  const moves = whatMoved(rankingFor(before), rankingFor(asked));
  return {
    asked,
    ranked: rankRoutes(routes, asked),
    moved: moves.map(({ which, ...move }) => ({ name: at(table.names, which), ...move })),
  };
}

/** One route for a cohort, judged as in the shortlist. Its rank among others is not known. */
export function fitFor(route: Route, request: FitRequest): Fit {
  checkDate(request.date);
  return explainedFitOf(route, request);
}

/**
 * Ranks every stored route for a cohort on a date. With changes (`null`: none) it is the ranking as it would be; nothing
 * is stored then.
 */
export async function rankStore(
  context: Context,
  { cohortId, date, changes }: RankingAsked,
): Promise<RankedStore> {
  const { ground, rankings } = context;
  const find = changes === null ? tripRequestOf : requestOf;
  const { cohort, request } = await find(context, cohortId, date);
  const asked = changes === null ? request : whatIf(request, changes);
  const table = await rankings.tableNow(ground.design);
  return {
    cohort,
    asked,
    before: changes === null ? null : request,
    table,
    ranking: rankings.rankingFor(table, asked),
  };
}

/** What moved against the ranking without the changes; empty where none were asked for. */
export function movesIn({ rankings }: Context, { table, ranking, before }: RankedStore) {
  if (before === null) return [];
  return whatMoved(rankings.rankingFor(table, before), ranking).map(({ which, ...move }) => ({
    id: at(table.ids, which),
    name: at(table.table.names, which),
    ...move,
  }));
}

export type NamedMove = ReturnType<typeof movesIn>[number];

/**
 * The routes of some ranks in full, in the order given. Their `certainty` is `null`: it may still be sampled, and what
 * takes time is best made of them before `ranking.certainty` is awaited.
 */
export function explainRanks(
  { explained }: Context,
  { asked, table, ranking }: RankedStore,
  ranks: readonly number[],
): Promise<readonly StoredFit[]> {
  let readiness: Readiness | null = null;
  const explain = (route: Route) => {
    readiness ??= readinessOf(asked);
    return explainedFitOf(route, asked, readiness);
  };
  return explained(table, ranking, ranks, explain);
}

/** Fits with how sure their places are. */
export const withCertainty = (fits: readonly StoredFit[], certainty: ListCertainty): readonly StoredFit[] =>
  fits.map(({ id, fit }) => ({ id, fit: { ...fit, certainty: certainty.at(fit.rank ?? 0) } }));

/**
 * One page of a ranking of the store; with changes as it would be, and what moved. `nextAfterRank` is the rank after
 * which the next page begins, `null` on the last.
 */
export async function shortlist(
  context: Context,
  { limit, verdicts, afterRank, ...question }: ShortlistAsked,
) {
  const ranked = await rankStore(context, question);
  const { ranking, asked } = ranked;
  const wanted: number[] = [];
  for (let place = afterRank + 1; place <= ranking.order.length && wanted.length <= limit; place += 1) {
    const verdict = at(VERDICTS, at(ranking.verdicts, at(ranking.order, place - 1)));
    if (verdicts === null || verdicts.includes(verdict)) wanted.push(place);
  }
  const page = wanted.slice(0, limit);
  const fits = await explainRanks(context, ranked, page);
  return {
    asked,
    fits: withCertainty(fits, await ranking.certainty),
    nextAfterRank: wanted.length > page.length ? (page.at(-1) ?? null) : null,
    moved: movesIn(context, ranked),
  };
}

/** One stored route for a cohort on a date. */
export async function fitOfRoute(
  context: Context,
  { cohortId, routeId, date }: RouteAsked,
): Promise<{ readonly asked: FitRequest } & StoredFit> {
  const { request } = await tripRequestOf(context, cohortId, date);
  const { route } = await getRoute(context, routeId);
  return { asked: request, id: routeId, fit: fitFor(route, request) };
}

const known = (value: number | undefined): number | null =>
  value === undefined || Number.isNaN(value) ? null : value;

/** All routes of a ranking, the first first. */
export function listedRoutes({
  table: { table, ids },
  ranking,
}: Pick<RankedStore, 'table' | 'ranking'>): ListedRoute[] {
  const { order, verdicts, values, ranks } = ranking;
  const { distanceM, gainM, highM } = table.columns;
  return Array.from(order, (which, index) => ({
    rank: index + 1,
    id: at(ids, which),
    name: at(table.names, which),
    verdict: at(VERDICTS, at(verdicts, which)),
    distanceM: at(distanceM, which),
    gainM: known(gainM[which]),
    highM: known(highM[which]),
    valueOf(name) {
      const cell = CRITERION_NAMES.indexOf(name) * table.size + which;
      return VERDICTS[at(ranks, cell)] === 'incomplete' ? null : known(values[cell]);
    },
  }));
}
