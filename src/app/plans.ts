/** The day on one stored route, and the training that leads to it. */
import { at } from '../array.ts';
import { quantileMin } from '../capability/pace-model.ts';
import { arrivalsAt } from '../day/arrivals.ts';
import { geodesicM, type Place } from '../earth/geodesic.ts';
import { type RouteLadder, routeLadder } from '../plan/route-ladder.ts';
import type { TrainingInput } from '../plan/training/question.ts';
import { type TrainingPlan, trainingPlan } from '../plan/training-plan.ts';
import { makeTripPlan, type TripPlan, type TripPlanInput } from '../plan/trip-plan.ts';
import { readinessOf } from '../rank/readiness.ts';
import type { Route } from '../route/describe-route.ts';
import type { StoredCohort } from '../storage/cohorts.ts';
import type { StoredRoute } from '../storage/routes.ts';
import { type Context, todayOf } from './context.ts';
import { requestOf, tripRequestOf } from './groups.ts';
import type { StoredTable } from './rankings.ts';
import { homeOf } from './recordings.ts';
import { getRoute } from './routes.ts';
import { fitFor, type RouteAsked } from './shortlist.ts';

export interface TrainingAsked extends RouteAsked {
  /** Training starts after this day; `null`: after the day of the clock. */
  readonly from: string | null;
}

export interface TripPlanAsked extends RouteAsked {
  /** `HH:MM`, chosen by the leader; `null`: the start worked out. */
  readonly start: string | null;
  /** `null`: one is suggested. */
  readonly spareDate: string | null;
  /** Whether a warm day is forecast; `null`: not known. */
  readonly warm: boolean | null;
  /** Training starts after this day; `null`: after the day of the clock. */
  readonly today: string | null;
}

/** The day on one route in full, from files or from the store: numbers for programs, pages for people. */
export function planTrip(route: Route, input: Omit<TripPlanInput, 'fit'>): TripPlan {
  return makeTripPlan({ ...input, fit: fitFor(route, input) });
}

/** Routes that a plan looks through at most, for its lower choice and for training: it stays quick (design). */
export const MOST_KNOWN = 200;

/** Ids of the routes whose trailheads lie nearest to a place, the nearest first; no stored line is read for it. */
export function nearestTo(
  place: Place,
  ids: readonly string[],
  { lonDeg, latDeg }: Pick<StoredTable['table']['columns'], 'lonDeg' | 'latDeg'>,
  except: string,
  most: number = MOST_KNOWN,
): readonly string[] {
  return ids
    .map((id, i) => ({ id, awayM: geodesicM(place, { lonDeg: at(lonDeg, i), latDeg: at(latDeg, i) }) }))
    .filter(({ id }) => id !== except)
    .sort((a, b) => a.awayM - b.awayM)
    .slice(0, most)
    .map(({ id }) => id);
}

/** The stored routes that a plan of one looks through: all others, or the nearest of many. */
async function otherRoutes(
  { store, ground, rankings }: Context,
  { id, route }: StoredRoute,
  { cohort }: StoredCohort,
): Promise<readonly Route[]> {
  const { table, ids } = await rankings.tableNow(ground.design);
  const near = nearestTo(homeOf(cohort) ?? route.trailhead, ids, table.columns, id);
  const stored = new Map((await store.routes.many(near)).map((one) => [one.id, one.route]));
  return near.flatMap((one) => stored.get(one) ?? []);
}

/** The day on one route in full: numbers for programs, pages for people. No label of a member is in it. */
export async function tripPlan(
  context: Context,
  { cohortId, routeId, date, start, spareDate, warm, today }: TripPlanAsked,
) {
  const { cohort, request } = await tripRequestOf(context, cohortId, date);
  const stored = await getRoute(context, routeId);
  const plan = planTrip(stored.route, {
    ...request,
    record: { ...request.record, start },
    today: today ?? todayOf(context),
    known: await otherRoutes(context, stored, cohort),
    spareDate,
    warm,
  });
  return { cohort, route: stored, plan };
}

/**
 * Minutes after the start at which the group is at places along a route, middle of their doubt, stops and meals
 * counted; `null`: not all heights under the line are known.
 */
export async function minutesAlong(
  context: Context,
  { cohortId, routeId, date }: RouteAsked,
  distancesM: readonly number[],
): Promise<readonly number[] | null> {
  const { request } = await requestOf(context, cohortId, date);
  const { route } = await getRoute(context, routeId);
  if (route.heightsMissing) return null;
  const { pace } = readinessOf(request);
  const places = distancesM.map((distanceM) => ({ kind: 'along', distanceM }));
  return arrivalsAt(places, route, pace, request.design).map(({ after }) => quantileMin(after, 0.5));
}

/** What a training plan and a ladder are asked: the route to lead to, and all that is known beside it. */
async function trainingInput(
  context: Context,
  { cohortId, routeId, date, from }: TrainingAsked,
): Promise<TrainingInput> {
  const { cohort, request } = await tripRequestOf(context, cohortId, date);
  const stored = await getRoute(context, routeId);
  return {
    route: stored.route,
    record: request.record,
    today: from ?? todayOf(context),
    tripDate: date,
    routes: await otherRoutes(context, stored, cohort),
    design: request.design,
  };
}

/** The training for one route alone; `from` `null`: it starts after the day of the clock. */
export async function trainingFor(context: Context, asked: TrainingAsked): Promise<TrainingPlan> {
  return trainingPlan(await trainingInput(context, asked));
}

/** The known routes that lead a cohort to one of them, as `routeLadder`; at most the 200 nearest are looked at. */
export async function ladderTo(context: Context, asked: TrainingAsked): Promise<RouteLadder> {
  return routeLadder(await trainingInput(context, asked));
}
