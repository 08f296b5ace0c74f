import { type Approach, approachTo } from '../approach/approach.ts';
import type { Milestone } from '../capability/milestones.ts';
import { type Timeline, walkDay } from '../day/walk-day.ts';
import type { Design } from '../design.ts';
import type { CohortInput } from '../ingest/cohort-file.ts';
import type { Route } from '../route/describe-route.ts';
import { classQuestion } from '../text/steep-ground-text.ts';
import { plural } from '../text/words.ts';
import type { UnitSystem } from '../units.ts';
import type { PlaceCertainty } from './certainty.ts';
import { routeEffortKj } from './criteria/effort.ts';
import { CRITERIA } from './criteria/index.ts';
import type { FitInput, Gap, Judgement } from './criterion.ts';
import { isTrained, type LeastOuting, leastOuting } from './least-outing.ts';
import { type FitRequest, type Readiness, wishesOf } from './readiness.ts';
import { scoreOf } from './score.ts';
import { type Verdict, verdictRank, worst } from './verdict.ts';

/** How one route fits one cohort on one date. */
export interface Fit {
  /** Place among the routes ranked with it; `null` for a route judged alone. */
  readonly rank: number | null;
  /** How sure that place is; `null` where it was not asked, and for a route judged alone. */
  readonly certainty: PlaceCertainty | null;
  readonly route: Route;
  readonly verdict: Verdict;
  readonly score: number;
  readonly judgements: readonly Judgement[];
  readonly timeline: Timeline | null;
  /** The drive from the cohort's meeting place. */
  readonly approach: Approach;
  readonly gap: readonly Gap[];
  /** `null` where no outing changes the verdict, and where it was not asked. */
  readonly leastOuting: LeastOuting | null;
  /** The three training days for this route; empty where its climb is not known. */
  readonly milestones: readonly Milestone[];
  readonly toCheck: readonly string[];
}

/** A route among others. */
export interface RankedFit extends Fit {
  readonly rank: number;
}

/** The drive from the cohort's meeting place to a route. */
function approachOf(route: Route, { home: from }: Pick<CohortInput, 'home'>, design: Design): Approach {
  const trailhead = route.attributes.trailhead ?? null;
  const home = from == null ? null : { lonDeg: from.lon, latDeg: from.lat };
  const stated = { roadKm: trailhead?.roadKm ?? null, roadMin: trailhead?.roadMin ?? null };
  return approachTo(home, route.trailhead, stated, design.drive);
}

/** All that the criteria look at, for one route. */
export function fitInputOf(
  route: Route,
  request: FitRequest,
  readiness: Readiness,
  units: UnitSystem,
): FitInput {
  const { record, date, design } = request;
  const { cohort } = record;
  return {
    route,
    cohort,
    ageBand: readiness.ageBand,
    // Nobody goes without a leader: one at least is counted where their number is not stated.
    party: cohort.participants + (cohort.leaders ?? 1),
    shown: readiness.shown,
    approach: approachOf(route, cohort, design),
    workKj: routeEffortKj(route, readiness.ageBand, design),
    timeline:
      route.measures.gainM === null || route.heightsMissing
        ? null
        : walkDay(route, readiness.pace, date, wishesOf(record), design),
    date,
    design,
    units,
  };
}

/** What to ask about a route that no criterion asks. */
function routeQuestions({ route, cohort, units }: FitInput): string[] {
  const questions: string[] = [];
  const steep = classQuestion(route, units);
  if (steep !== null) questions.push(steep);
  const { permit, trailhead } = route.attributes;
  if (route.measures.shape === 'oneWay') {
    const { pickUp } = route.attributes;
    questions.push(
      pickUp == null
        ? 'one way: transport from the end, or the way back if the group walks it (draw it in)'
        : `one way, the pick-up at its end: ${pickUp}`,
    );
  }
  if (route.notes.some((note) => note.code === 'begins-at-top')) {
    questions.push('the line begins at its top: whether it is the whole day');
  }
  if (route.notes.some((note) => note.code === 'treeline-doubtful')) {
    questions.push('the treeline stated: far from what this latitude has; are it and its unit right?');
  }
  if (permit?.who != null) {
    const { partiesPerDay = null } = permit;
    const few = partiesPerDay === null ? '' : `, ${plural(partiesPerDay, 'party', 'parties')} a day`;
    questions.push(`permit: ${permit.who}${few}`);
  }
  const spaces = trailhead?.parkingSpaces;
  const vehicles = cohort.vehicles?.length ?? 0;
  if (spaces != null && vehicles > spaces) {
    questions.push(`parking: ${plural(spaces, 'space')} for ${plural(vehicles, 'vehicle')}`);
  }
  return questions;
}

function milestonesOf(route: Route, readiness: Readiness): readonly Milestone[] {
  const { distanceM, gainM } = route.measures;
  if (gainM === null || route.heightsMissing) return [];
  return readiness.milestonesOf({ distanceM, gainM: gainM.value, gainHighM: gainM.high });
}

/** Judges one route by every criterion. */
export function fitOf(route: Route, request: FitRequest, readiness: Readiness, units: UnitSystem): Fit {
  return judged(fitInputOf(route, request, readiness, units), readiness);
}

function judged(input: FitInput, readiness: Readiness): Fit {
  const { route, design } = input;
  const judgements = CRITERIA.map((criterion) => criterion.judge(input));
  const toCheck = [
    ...judgements.flatMap(({ toCheck: text }) => (text === undefined ? [] : [text])),
    ...routeQuestions(input),
    ...readiness.toCheck,
  ];
  return {
    rank: null,
    certainty: null,
    route,
    verdict: worst(judgements.map((judgement) => judgement.verdict)),
    score: scoreOf(judgements, design.weights),
    judgements,
    timeline: input.timeline,
    approach: input.approach,
    gap: judgements.flatMap(({ gap }) => (gap === undefined ? [] : [gap])),
    leastOuting: null,
    milestones: milestonesOf(route, readiness),
    toCheck,
  };
}

/**
 * The same with the least outing that would make it fit, found by judging it again. That outing has no time: neither the
 * pace nor the day on paper changes with it.
 */
export function explainedFitOf(
  route: Route,
  request: FitRequest,
  readiness: Readiness,
  units: UnitSystem,
): Fit {
  const input = fitInputOf(route, request, readiness, units);
  const fit = judged(input, readiness);
  const found = leastOuting({
    fit,
    input,
    request,
    readiness,
    judgedWith: (outing) => {
      const after = { ...input, shown: readiness.shownWith(outing) };
      const judgedAgain = CRITERIA.filter(({ name }) => isTrained(name)).map(({ judge }) => judge(after));
      return fit.judgements.map((before) => judgedAgain.find(({ name }) => name === before.name) ?? before);
    },
    units,
  });
  return { ...fit, leastOuting: found };
}

const compare = <T extends string | number>(a: T, b: T): number => (a < b ? -1 : a > b ? 1 : 0);

/** `fits` first, then by score, ties by name. */
function compareFits(a: Fit, b: Fit): number {
  return (
    verdictRank(a.verdict) - verdictRank(b.verdict) ||
    b.score - a.score ||
    compare(a.route.name, b.route.name) ||
    // Two routes of one name and score: something of their own decides, never the order in which they came.
    compare(a.route.measures.distanceM, b.route.measures.distanceM) ||
    compare(a.route.trailhead.lonDeg, b.route.trailhead.lonDeg) ||
    compare(a.route.trailhead.latDeg, b.route.trailhead.latDeg)
  );
}

/** Routes in order for a cohort, without how sure that order is: for those who need the order alone. */
export function orderRoutes(
  routes: readonly Route[],
  request: FitRequest,
  readiness: Readiness,
  units: UnitSystem,
): RankedFit[] {
  return routes
    .map((route) => fitOf(route, request, readiness, units))
    .sort(compareFits)
    .map((fit, index) => ({ ...fit, rank: index + 1 }));
}
