import { at } from '../array.ts';
import type { PlaceCertainty } from '../rank/certainty.ts';
import { explainedFitOf, type RankedFit } from '../rank/fit.ts';
import { tableOf } from '../rank/rank-table.ts';
import { type FitRequest, readinessOf } from '../rank/readiness.ts';
import { rowOf } from '../rank/route-row.ts';
import type { Route } from '../route/describe-route.ts';
import type { UnitSystem } from '../units.ts';
import { rankingOf } from './ranking.ts';

export interface SureFit extends RankedFit {
  readonly certainty: PlaceCertainty;
}

/** Ranks routes for a cohort on a date, and says how sure the order is. It does not depend on the order given. */
export function rankRoutes(routes: readonly Route[], request: FitRequest, units: UnitSystem): SureFit[] {
  const readiness = readinessOf(request);
  const table = tableOf(routes.map((route) => rowOf(route, request.design)));
  const { order, certainty } = rankingOf(table, request, readiness);
  return Array.from(order, (which, index) => {
    const fit = explainedFitOf(at(routes, which), request, readiness, units);
    return { ...fit, rank: index + 1, certainty: certainty.at(index + 1) };
  });
}
