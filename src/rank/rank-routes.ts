import { type Approach, approachTo } from '../approach/approach.ts';
import {
  type Demonstrated,
  demonstrated,
  demonstratedWith,
  type Goers,
  labelsOf,
  wasThere,
} from '../capability/demonstrated.ts';
import { remaining } from '../capability/detraining.ts';
import { joinDays } from '../capability/join-days.ts';
import { type Milestone, type MilestoneDemand, milestonesOn } from '../capability/milestones.ts';
import type { Outing } from '../capability/outing.ts';
import { fitPaceModel, noFasterThanPrior, type PaceModel } from '../capability/pace-model.ts';
import { type Timeline, walkDay } from '../day/walk-day.ts';
import type { AgeBand, Design } from '../design.ts';
import { daysBetween } from '../earth/local-time.ts';
import type { CohortInput } from '../ingest/cohort-file.ts';
import type { Route } from '../route/describe-route.ts';
import type { Standing } from '../sampling/acceptability.ts';
import { rankingOf } from '../sampling/ranking.ts';
import { classQuestion } from '../text/steep-ground-text.ts';
import { plural } from '../text/words.ts';
import type { UnitSystem } from '../units.ts';
import { routeEffortKj } from './criteria/effort.ts';
import { CRITERIA } from './criteria/index.ts';
import type { FitInput, Gap, Judgement } from './criterion.ts';
import { isTrained, type LeastOuting, leastOuting } from './least-outing.ts';
import { tableOf } from './rank-table.ts';
import { rowOf } from './route-row.ts';
import { scoreOf } from './score.ts';
import { type Verdict, verdictRank, worst } from './verdict.ts';
import { wishesOf } from './wishes.ts';

/** A cohort with its outings measured. */
export interface CohortRecord {
  readonly cohort: CohortInput;
  readonly outings: readonly Outing[];
  /** A start that the leader chose for the day (`HH:MM`); missing or `null`: the one worked out. */
  readonly start?: string | null;
}

/** How one route fits one cohort on one date. */
export interface Fit {
  /** Place among the routes ranked with it; `null` for a route judged alone. */
  readonly rank: number | null;
  /** How sure that place is; `null` where it was not asked, and for a route judged alone. */
  readonly standing: Standing | null;
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

export interface RankedFit extends Fit {
  readonly rank: number;
}

export interface SureFit extends RankedFit {
  readonly standing: Standing;
}

/** What is learned of a cohort for a date, once for all routes. */
export interface Readiness {
  readonly shown: Demonstrated;
  readonly pace: PaceModel;
  readonly ageBand: AgeBand;
  readonly goers: Goers;
  /** Outings up to the date, and of these the ones with somebody who goes. */
  readonly past: readonly Outing[];
  readonly theirs: readonly Outing[];
  /** How much an outing counts for the pace, 0 to 1. */
  readonly weightOf: (outing: Outing) => number;
  /** What everyone who goes will have shown with one more day on the record, of up to the date. */
  readonly shownWith: (day: Outing) => Demonstrated;
  readonly milestonesOf: (demand: MilestoneDemand) => readonly Milestone[];
  /** What to ask about the cohort, whatever the route. */
  readonly toCheck: readonly string[];
}

const upTo = (date: string, outings: readonly Outing[]): readonly Outing[] =>
  outings.filter((outing) => daysBetween(outing.date, date) >= 0);

export function readinessOf(record: CohortRecord, date: string, design: Design): Readiness {
  const { cohort } = record;
  const outings = joinDays(record.outings, design);
  const ageBand = cohort.ageBand ?? '12-14';
  const past = upTo(date, outings);
  const goers = { members: cohort.members ?? null, going: cohort.going ?? null, ageBand };
  const labels = labelsOf(goers);
  const shownWith = demonstratedWith(past, goers, date, design);
  const shown = shownWith(null);

  // Only days with somebody who goes, and the less the longer ago: the pace of others, or of years ago, is not theirs.
  const theirs = past.filter((outing) => wasThere(outing, labels));
  const weightOf = (outing: Outing) => remaining(daysBetween(outing.date, date), ageBand, design.detraining);
  const fitted = fitPaceModel(theirs, design, weightOf);
  const clocked = theirs.filter((outing) => outing.parts.length > 0 && weightOf(outing) > 0);
  const unknown = (labels ?? []).filter((label) => !clocked.some((outing) => wasThere(outing, [label])));
  const pace = unknown.length > 0 && fitted.outings > 0 ? noFasterThanPrior(fitted) : fitted;

  const toCheck: string[] = [];
  if (cohort.ageBand == null) toCheck.push('age band not stated (minors’ limits were used)');
  if (cohort.leaders === 0) toCheck.push('no leader goes');
  if (cohort.leaders == null) toCheck.push('number of leaders not stated (one was counted)');
  if (shown.assumedForAll)
    toCheck.push('who was on the outings is not stated: they were taken to count for everyone who goes');
  const going = cohort.going?.length ?? 0;
  const labelled = going > 0 ? going : (labels?.length ?? cohort.participants);
  if (labelled < cohort.participants) {
    toCheck.push(
      `labels name ${labelled} of ${cohort.participants} participants: the others are taken to have shown the same`,
    );
  }
  if (unknown.length > 0 && fitted.outings > 0) {
    toCheck.push(
      'someone who goes has no clocked outing on record: no pace faster than the trade rule was assumed',
    );
  }
  const later = outings.length - past.length;
  if (later > 0)
    toCheck.push(`${plural(later, 'outing')} after the trip’s date ${later === 1 ? 'was' : 'were'} left out`);
  if (outings.some((outing) => outing.notes.some((note) => note.code === 'time-implausible'))) {
    toCheck.push('an outing’s moving time is implausible and was left out of the pace');
  }
  return {
    shown,
    pace,
    ageBand,
    goers,
    past,
    theirs,
    weightOf,
    shownWith: (day) =>
      // A day beside others of its date may be one of them, or a part of it.
      record.outings.some((outing) => outing.date === day.date)
        ? demonstrated(upTo(date, joinDays([...record.outings, day], design)), goers, date, design)
        : shownWith(day),
    milestonesOf: milestonesOn(past, goers, date, design),
    toCheck,
  };
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
  record: CohortRecord,
  readiness: Readiness,
  date: string,
  design: Design,
  units: UnitSystem,
): FitInput {
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
export function fitOf(
  route: Route,
  record: CohortRecord,
  readiness: Readiness,
  date: string,
  design: Design,
  units: UnitSystem,
): Fit {
  return judged(fitInputOf(route, record, readiness, date, design, units), readiness);
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
    standing: null,
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
  record: CohortRecord,
  readiness: Readiness,
  date: string,
  design: Design,
  units: UnitSystem,
): Fit {
  const input = fitInputOf(route, record, readiness, date, design, units);
  const fit = judged(input, readiness);
  const found = leastOuting({
    fit,
    input,
    record,
    readiness,
    judgedWith: (outing) => {
      const after = { ...input, shown: readiness.shownWith(outing) };
      const judgedAgain = CRITERIA.filter(({ name }) => isTrained(name)).map(({ judge }) => judge(after));
      return fit.judgements.map((before) => judgedAgain.find(({ name }) => name === before.name) ?? before);
    },
    date,
    design,
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
  record: CohortRecord,
  readiness: Readiness,
  date: string,
  design: Design,
  units: UnitSystem,
): RankedFit[] {
  return routes
    .map((route) => fitOf(route, record, readiness, date, design, units))
    .sort(compareFits)
    .map((fit, index) => ({ ...fit, rank: index + 1 }));
}

/** Ranks routes for a cohort on a date, and says how sure the order is. It does not depend on the order given. */
export function rankRoutes(
  routes: readonly Route[],
  record: CohortRecord,
  date: string,
  design: Design,
  units: UnitSystem,
): SureFit[] {
  const readiness = readinessOf(record, date, design);
  const table = tableOf(routes.map((route) => rowOf(route, design)));
  const { order, standings } = rankingOf(table, record, readiness, date, design);
  return [...order].flatMap((which, index) => {
    const route = routes[which];
    if (route === undefined) return [];
    const fit = explainedFitOf(route, record, readiness, date, design, units);
    return [{ ...fit, rank: index + 1, standing: standings.at(index + 1) }];
  });
}
