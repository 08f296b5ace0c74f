import { approachTo } from '../approach/approach.ts';
import { type Demonstrated, demonstrated } from '../capability/demonstrated.ts';
import type { Outing } from '../capability/outing.ts';
import { fitPaceModel, type PaceModel } from '../capability/pace-model.ts';
import { type Timeline, walkDay } from '../day/walk-day.ts';
import type { AgeBand, Design } from '../design.ts';
import { daysBetween } from '../earth/local-time.ts';
import type { CohortInput } from '../ingest/cohort-file.ts';
import type { Route } from '../route/describe-route.ts';
import type { UnitSystem } from '../units.ts';
import { CRITERIA } from './criteria/index.ts';
import type { FitInput, Gap, Judgement } from './criterion.ts';
import { LEAST_VALUE } from './value.ts';
import { type Verdict, verdictRank, worst } from './verdict.ts';

/** A cohort with its outings measured. */
export interface CohortRecord {
  readonly cohort: CohortInput;
  readonly outings: readonly Outing[];
}

/** How one route fits one cohort on one date. */
export interface Fit {
  readonly route: Route;
  readonly verdict: Verdict;
  readonly score: number;
  readonly judgements: readonly Judgement[];
  readonly timeline: Timeline | null;
  readonly gap: readonly Gap[];
  readonly toCheck: readonly string[];
}

export interface RankedFit extends Fit {
  readonly rank: number;
}

/** What is learned of a cohort for a date, once for all routes. */
export interface Readiness {
  readonly shown: Demonstrated;
  readonly pace: PaceModel;
  readonly ageBand: AgeBand;
}

export function readinessOf({ cohort, outings }: CohortRecord, date: string, design: Design): Readiness {
  const ageBand = cohort.ageBand ?? '12-14';
  const past = outings.filter((outing) => daysBetween(outing.date, date) >= 0);
  const goers = { members: cohort.members ?? null, going: cohort.going ?? null, ageBand };
  return { shown: demonstrated(past, goers, date, design), pace: fitPaceModel(past, design), ageBand };
}

/** Weighted geometric mean of the values; a criterion without a value (`incomplete`) counts as the least. */
export function scoreOf(judgements: readonly Judgement[], weights: Design['weights']): number {
  let sum = 0;
  let total = 0;
  for (const { name, value } of judgements) {
    const weight = weights[name];
    sum += weight * Math.log(Math.max(LEAST_VALUE, value ?? LEAST_VALUE));
    total += weight;
  }
  return total > 0 ? Math.exp(sum / total) : 0;
}

/** All that the criteria look at, for one route. */
export function fitInputOf(
  route: Route,
  { cohort }: CohortRecord,
  readiness: Readiness,
  date: string,
  design: Design,
  units: UnitSystem,
): FitInput {
  const trailhead = route.attributes.trailhead ?? null;
  const home = cohort.home == null ? null : { lonDeg: cohort.home.lon, latDeg: cohort.home.lat };
  const wishes = {
    earliestStart: cohort.earliestStart ?? null,
    deadline: cohort.deadline ?? null,
    headlamps: cohort.headlamps ?? null,
  };
  const stated = { roadKm: trailhead?.roadKm ?? null, roadMin: trailhead?.roadMin ?? null };
  return {
    route,
    cohort,
    ageBand: readiness.ageBand,
    party: cohort.leaders == null ? null : cohort.participants + cohort.leaders,
    shown: readiness.shown,
    approach: approachTo(home, route.trailhead, stated, design.drive),
    timeline: route.measures.gainM === null ? null : walkDay(route, readiness.pace, date, wishes, design),
    date,
    design,
    units,
  };
}

/** Judges one route by every criterion. */
export function fitOf(
  route: Route,
  record: CohortRecord,
  readiness: Readiness,
  date: string,
  design: Design,
  units: UnitSystem,
): Fit {
  const input = fitInputOf(route, record, readiness, date, design, units);
  const { cohort, timeline } = input;
  const judgements = CRITERIA.map((criterion) => criterion.judge(input));
  const toCheck = judgements.flatMap(({ toCheck: text }) => (text === undefined ? [] : [text]));
  if (cohort.ageBand == null) toCheck.push('age band not stated (minors’ limits were used)');
  if (route.measures.shape === 'oneWay') toCheck.push('transport from the end: the route is one way');
  if (readiness.shown.assumedForAll) toCheck.push('who was on the outings: taken to count for everyone');
  return {
    route,
    verdict: worst(judgements.map((judgement) => judgement.verdict)),
    score: scoreOf(judgements, design.weights),
    judgements,
    timeline,
    gap: judgements.flatMap(({ gap }) => (gap === undefined ? [] : [gap])),
    toCheck,
  };
}

/** `fits` first, then by score, ties by name. */
function compareFits(a: Fit, b: Fit): number {
  return (
    verdictRank(a.verdict) - verdictRank(b.verdict) ||
    b.score - a.score ||
    (a.route.name < b.route.name ? -1 : a.route.name > b.route.name ? 1 : 0)
  );
}

/** Ranks routes for a cohort on a date. The order does not depend on the order given. */
export function rankRoutes(
  routes: readonly Route[],
  record: CohortRecord,
  date: string,
  design: Design,
  units: UnitSystem,
): RankedFit[] {
  const readiness = readinessOf(record, date, design);
  return routes
    .map((route) => fitOf(route, record, readiness, date, design, units))
    .sort(compareFits)
    .map((fit, index) => ({ ...fit, rank: index + 1 }));
}
