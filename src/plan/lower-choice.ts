import { addDays } from '../earth/local-time.ts';
import { type Fit, fitOf } from '../rank/fit.ts';
import type { FitRequest, Readiness } from '../rank/readiness.ts';
import { type Verdict, verdictRank } from '../rank/verdict.ts';
import type { Route } from '../route/describe-route.ts';

export interface LowerChoice {
  readonly name: string;
  readonly distanceM: number;
  readonly gainM: number | null;
  readonly verdict: Verdict;
}

/**
 * The second, lower choice for the same day: of the known routes that fit, the one with the best score whose top is
 * lower and which climbs less than the chosen one. `null`: none among those known.
 */
export function lowerChoice(
  fit: Fit,
  known: readonly Route[],
  request: FitRequest,
  readiness: Readiness,
): LowerChoice | null {
  const { highM, gainM } = fit.route.measures;
  if (highM === null || gainM === null) return null;
  const [best] = known
    .filter((route) => route.name !== fit.route.name)
    .filter(
      ({ measures }) =>
        measures.highM !== null &&
        measures.gainM !== null &&
        measures.highM < highM &&
        measures.gainM.value < gainM.value,
    )
    .map((route) => fitOf(route, request, readiness))
    .filter(({ verdict }) => verdict === 'fits')
    .sort((a, b) => b.score - a.score || (a.route.name < b.route.name ? -1 : 1));
  if (best === undefined) return null;
  return {
    name: best.route.name,
    distanceM: best.route.measures.distanceM,
    gainM: best.route.measures.gainM?.value ?? null,
    verdict: best.verdict,
  };
}

/** A spare date to suggest: the first of the weeks after on which the route is no worse for the group. */
export function suggestedSpareDate(
  fit: Fit,
  request: FitRequest,
  readinessOn: (date: string) => Readiness,
): string | null {
  const { date, design } = request;
  for (let week = 1; week <= design.plan.spareWeeks; week += 1) {
    const spare = addDays(date, 7 * week);
    const then = fitOf(fit.route, { ...request, date: spare }, readinessOn(spare));
    if (verdictRank(then.verdict) <= verdictRank(fit.verdict)) return spare;
  }
  return null;
}
