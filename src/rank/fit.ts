import type { Approach } from '../approach/approach.ts';
import { at, numberAt } from '../array.ts';
import type { Milestone } from '../capability/milestones.ts';
import { type Timeline, walkDay } from '../day/walk-day.ts';
import type { Route } from '../route/describe-route.ts';
import { zoneBorder } from '../route/zone-for.ts';
import type { PlaceCertainty } from './certainty.ts';
import type { Subject } from './criterion.ts';
import { type Facts, factsOf } from './facts.ts';
import { type Gap, gapsOf, type Judgement, judgementsOf } from './judgement.ts';
import { type LeastOuting, leastOuting } from './least-outing.ts';
import { type Question, routeQuestions } from './questions.ts';
import { tableOf } from './rank-table.ts';
import { rankFacts, type TableRanking } from './ranking.ts';
import { type FitRequest, type Readiness, readinessOf, wishesOf } from './readiness.ts';
import { rowOf } from './route-row.ts';
import { VERDICTS, type Verdict } from './verdict.ts';

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
  /** What would turn a `notYet` or `stretch` into `fits`, criterion by criterion. */
  readonly gap: readonly Gap[];
  /** `null` where no outing changes the verdict, and where it was not asked. */
  readonly leastOuting: LeastOuting | null;
  /** The three training days for this route; empty where its climb is not known. */
  readonly milestones: readonly Milestone[];
  /** What to ask before the trip, beside what the judgements ask. */
  readonly questions: readonly Question[];
}

/** A route among others. */
export interface RankedFit extends Fit {
  readonly rank: number;
}

function milestonesOf(route: Route, readiness: Readiness): readonly Milestone[] {
  const { distanceM, gainM } = route.measures;
  if (gainM === null || route.heightsMissing) return [];
  return readiness.milestonesOf({ distanceM, gainM: gainM.value, gainHighM: gainM.high });
}

function subjectAt(facts: Facts, i: number, route: Route): Subject {
  const { record, date, design } = facts.request;
  const isTimed = route.measures.gainM !== null && !route.heightsMissing;
  const timeline = isTimed ? walkDay(route, facts.readiness.pace, date, wishesOf(record), design) : null;
  return { facts, i, route, timeline };
}

const tableOfRoutes = (routes: readonly Route[], { design }: FitRequest) =>
  tableOf(routes.map((route) => rowOf(route, design)));

/** One route with a group's day on it: a table of one. */
export const subjectOf = (route: Route, request: FitRequest, readiness = readinessOf(request)): Subject =>
  subjectAt(factsOf(tableOfRoutes([route], request), request, readiness), 0, route);

function fitOfSubject(subject: Subject, { verdicts, scores }: TableRanking): Fit {
  const { facts, i, route, timeline } = subject;
  const judgements = judgementsOf(subject);
  const { date, design } = facts.request;
  const border = zoneBorder(route, date, design);
  return {
    rank: null,
    certainty: null,
    route,
    verdict: at(VERDICTS, at(verdicts, i)),
    score: numberAt(scores, i),
    judgements,
    timeline,
    approach: facts.approach(i),
    gap: gapsOf(judgements),
    leastOuting: null,
    milestones: milestonesOf(route, facts.readiness),
    questions: [
      ...(border === null ? [] : [{ code: 'zoneBorder' as const, ...border }]),
      ...routeQuestions(route, facts.request.record.cohort, facts.request.design),
      ...facts.readiness.questions,
    ],
  };
}

/** The same with the least outing that would make it fit. */
function explained(subject: Subject, ranking: TableRanking): Fit {
  const fit = fitOfSubject(subject, ranking);
  return { ...fit, leastOuting: leastOuting(subject, fit.verdict, fit.judgements) };
}

/** Judges one route by every criterion. */
export function fitOf(route: Route, request: FitRequest, readiness = readinessOf(request)): Fit {
  const subject = subjectOf(route, request, readiness);
  return fitOfSubject(subject, rankFacts(subject.facts));
}

/** The same with the least outing that would make it fit. */
export function explainedFitOf(route: Route, request: FitRequest, readiness = readinessOf(request)): Fit {
  const subject = subjectOf(route, request, readiness);
  return explained(subject, rankFacts(subject.facts));
}

/** Routes ranked together: their facts, their order, and each in full by its place in the table. */
export function rankedTogether(
  routes: readonly Route[],
  request: FitRequest,
  readiness = readinessOf(request),
) {
  const facts = factsOf(tableOfRoutes(routes, request), request, readiness);
  const ranking = rankFacts(facts);
  const subject = (i: number) => subjectAt(facts, i, at(routes, i));
  return {
    facts,
    ranking,
    fit: (i: number): Fit => fitOfSubject(subject(i), ranking),
    explainedFit: (i: number): Fit => explained(subject(i), ranking),
  };
}

/** Routes in order for a cohort, without how sure that order is: for those who need the order alone. */
export function orderRoutes(
  routes: readonly Route[],
  request: FitRequest,
  readiness = readinessOf(request),
): RankedFit[] {
  const { ranking, fit } = rankedTogether(routes, request, readiness);
  return Array.from(ranking.order, (i, index) => ({ ...fit(i), rank: index + 1 }));
}
