import type { PlaceCertainty } from '../rank/certainty.ts';
import { type RankedFit, rankedTogether } from '../rank/fit.ts';
import type { FitRequest } from '../rank/readiness.ts';
import type { Route } from '../route/describe-route.ts';
import { rankCertainty } from './certainty.ts';

export interface SureFit extends RankedFit {
  readonly certainty: PlaceCertainty;
}

/** Ranks routes for a cohort on a date, and says how sure the order is. It does not depend on the order given. */
export function rankRoutes(routes: readonly Route[], request: FitRequest): SureFit[] {
  const { facts, ranking, explainedFit } = rankedTogether(routes, request);
  const certainty = rankCertainty(facts, ranking);
  return Array.from(ranking.order, (i, index) => ({
    ...explainedFit(i),
    rank: index + 1,
    certainty: certainty.at(index + 1),
  }));
}
