import { type LightningBackground, lightningBackground } from '../day/lightning-background.ts';
import type { Timeline } from '../day/walk-day.ts';
import type { Design } from '../design.ts';
import { addDays } from '../earth/local-time.ts';
import { type Fit, fitOf } from '../rank/fit.ts';
import { type PlanParty, partyOf } from '../rank/party.ts';
import { type CohortRecord, type FitRequest, type Readiness, readinessOf } from '../rank/readiness.ts';
import { type Verdict, verdictRank } from '../rank/verdict.ts';
import type { Route } from '../route/describe-route.ts';
import { type DayDetails, dayDetails } from './day-details.ts';
import { type TrainingPlan, trainingPlan } from './training-plan.ts';

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

/** The chosen route as a day: values, from which programs and people are told. */
export interface TripPlan {
  readonly fit: Fit;
  readonly record: CohortRecord;
  readonly date: string;
  readonly party: PlanParty;
  readonly paceFrom: { readonly clockedOutings: number; readonly stopsMinPerHour: number };
  /** `null` where no height under the line is known. */
  readonly details: DayDetails | null;
  readonly training: TrainingPlan;
  /** `null` outside the published regions, and where there are no details. */
  readonly lightning: LightningBackground | null;
  readonly lowerChoice: LowerChoice | null;
  /** `YYYY-MM-DD`, and whether the leader named it or it is a suggestion; `null`: none found. */
  readonly spareDate: { readonly date: string; readonly isSuggestion: boolean } | null;
}

export interface TripPlanInput {
  readonly fit: Fit;
  readonly record: CohortRecord;
  readonly date: string;
  /** `YYYY-MM-DD`; given, never read from a clock. Training starts after it. */
  readonly today: string;
  /** Routes that the program knows: for the lower choice and for training. */
  readonly known: readonly Route[];
  /** Named by the leader; `null`: one is suggested. */
  readonly spareDate: string | null;
  /** Whether a warm day is forecast; `null`: not known. */
  readonly warm: boolean | null;
  readonly design: Design;
}

const isTimed = (fit: Fit): fit is Fit & { readonly timeline: Timeline } => fit.timeline !== null;

export function makeTripPlan(input: TripPlanInput): TripPlan {
  const { fit, record, date, today, known, warm, design } = input;
  const request = { record, date, design };
  const readiness = readinessOf(request);
  const readinessOn = (on: string): Readiness => readinessOf({ record, date: on, design });
  const spare = input.spareDate ?? suggestedSpareDate(fit, request, readinessOn);
  return {
    fit,
    record,
    date,
    party: partyOf(record.cohort),
    paceFrom: {
      clockedOutings: readiness.pace.outings,
      stopsMinPerHour: Math.round(readiness.pace.stopsMinPerHour * 10) / 10,
    },
    details: isTimed(fit) ? dayDetails(fit, record, readiness, warm, design) : null,
    training: trainingPlan({ route: fit.route, record, today, tripDate: date, routes: known, design }),
    lightning: isTimed(fit) ? lightningBackground(fit.route.trailhead, Number(date.slice(5, 7))) : null,
    lowerChoice: lowerChoice(fit, known, request, readiness),
    spareDate: spare === null ? null : { date: spare, isSuggestion: input.spareDate === null },
  };
}
