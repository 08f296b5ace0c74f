import { at } from '../array.ts';
import type { Outing } from '../capability/outing.ts';
import { addDays, daysBetween } from '../earth/local-time.ts';
import type { CriterionName } from '../rank/criteria/index.ts';
import { type Fit, fitOf } from '../rank/fit.ts';
import type { Judgement } from '../rank/judgement.ts';
import { type CohortRecord, type Readiness, readinessOf } from '../rank/readiness.ts';
import { type Verdict, verdictRank } from '../rank/verdict.ts';
import { attributionOf } from '../route/attribution.ts';
import type { Route } from '../route/describe-route.ts';
import { firstDayFor, lastDays, stepDays } from './training/days.ts';
import { fittingNames } from './training/nearer.ts';
import { inTheWayOf, recordUntil, type TrainingInput, withOutings } from './training/question.ts';
import { type StatedRules, statedRules } from './training/rules.ts';
import { asWalked } from './training/steps.ts';
import { type TrainingPlan, trainingPlan } from './training-plan.ts';

interface LadderRung {
  readonly date: string;
  readonly name: string;
  readonly distanceM: number;
  readonly gainM: number;
  readonly rockClass: string | null;
  readonly verdict: Verdict;
}

/**
 * The known routes that lead to a target. `ready`: it fits without any. `ladder`: after these steps what was shown is
 * enough. `none`: no sequence of these routes in the time does it. `past`, `unknown`: as in a training plan.
 */
export interface RouteLadder {
  readonly state: 'ready' | 'ladder' | 'none' | 'past' | 'unknown';
  readonly target: string;
  readonly today: string;
  readonly tripDate: string;
  readonly rungs: readonly LadderRung[];
  /** What is missing where there is no ladder: the criteria that the best of the sequences leaves open. */
  readonly missing: readonly Judgement[];
  /** What no training changes and is worse than a stretch on the trip's date. */
  readonly inTheWay: readonly Judgement[];
  /** How many routes were tried, in up to how many steps; `null`: none, as no step could help. */
  /** The training on any ground, where these routes do not lead there; `null`: not asked. */
  readonly training: TrainingPlan | null;
  /** Known routes that fit on the trip's date, those with the most work first; where there is no ladder. */
  readonly nearer: readonly string[];
  readonly tried: { readonly routes: number; readonly steps: number } | null;
  readonly rules: StatedRules;
  readonly attribution: readonly string[];
}

const BY_STEPS: ReadonlySet<CriterionName> = new Set(['distance', 'gain', 'effort', 'rockClass']);

const NO_SEARCH = { training: null, nearer: [], tried: null } as const;

/** A sequence of steps with what has been shown after it. */
interface Climbed {
  readonly rungs: readonly LadderRung[];
  readonly walked: readonly Outing[];
  /** Distance, climb, work and class shown on the day after the last step: the same day for all compared. */
  readonly shown: readonly number[];
}

const shownOf = ({ shown }: Readiness): number[] => [
  shown.distanceM?.value ?? 0,
  shown.gainM?.value ?? 0,
  shown.effortKj?.value ?? 0,
  shown.rockClass === null ? 0 : shown.rockClass.value,
];

const isNoBetter = (a: Climbed, b: Climbed): boolean =>
  a.shown.every((value, i) => value <= at(b.shown, i) + 1e-9);

/** The sequences that no other of the same length is at least as good as in everything. */
function best(sequences: readonly Climbed[]): Climbed[] {
  let kept: Climbed[] = [];
  for (const one of sequences) {
    if (kept.some((other) => isNoBetter(one, other))) continue;
    kept = [...kept.filter((other) => !isNoBetter(other, one)), one];
  }
  return kept;
}

const open = ({ judgements }: Fit): Judgement[] =>
  judgements.filter(({ name, verdict }) => BY_STEPS.has(name) && verdict !== 'fits');

/** How near what was shown comes to the target: the least of the shares that distance, climb and work have reached. */
const nearness = (fit: Fit): number =>
  Math.min(
    ...fit.judgements
      .filter(({ name }) => name === 'distance' || name === 'gain' || name === 'effort')
      .map(({ demand, capacity }) => (demand === null || capacity === null ? 0 : capacity / demand)),
  );

/**
 * Days for `count` steps before the trip, counted from today: the last at the usual intervals, and none or more before
 * these at the longest. Empty where they do not fit in.
 */
function daysFor(
  count: number,
  { today, tripDate }: TrainingInput,
  firstDay: number,
  rules: StatedRules,
): readonly (readonly number[])[] {
  const lasts = lastDays(today, firstDay, daysBetween(today, tripDate), rules);
  const found: (readonly number[])[] = [];
  for (let rare = 0; rare < count; rare += 1) {
    const all = lasts.map((last) => stepDays(last, count - rare, rare, rules));
    const days = all.find(([first = -1]) => first >= firstDay);
    if (days !== undefined) found.push(days);
  }
  return found;
}

/** The routes that can be steps, by name. */
const stepRoutes = ({ routes, route: target }: TrainingInput): Route[] =>
  routes
    .filter(
      ({ name, measures, heightsMissing }) =>
        name !== target.name && measures.gainM !== null && !heightsMissing,
    )
    .sort((a, b) => (a.name < b.name ? -1 : a.name > b.name ? 1 : 0));

/**
 * The sequences of steps on these days, each within the limits of the ones before: on its day it fits or is a stretch.
 * Only those that no other betters are kept.
 *
 * @param record up to today
 * @param known routes that can be steps, in the order in which equal ones are preferred
 */
function sequencesOn(
  days: readonly number[],
  record: CohortRecord,
  known: readonly Route[],
  { today, tripDate, design }: TrainingInput,
): readonly Climbed[] {
  let sequences: readonly Climbed[] = [{ rungs: [], walked: [], shown: [0, 0, 0, 0] }];
  for (const [i, day] of days.entries()) {
    const date = addDays(today, day);
    const next = addDays(today, days[i + 1] ?? daysBetween(today, tripDate));
    sequences = best(
      sequences.flatMap(({ rungs, walked }) => {
        const before = { record: withOutings(record, walked), date, design };
        const ready = readinessOf(before);
        return known.flatMap((route): Climbed[] => {
          const fit = fitOf(route, before, ready);
          const { distanceM, gainM } = route.measures;
          if (gainM === null || verdictRank(fit.verdict) > verdictRank('stretch')) return [];
          const rung: LadderRung = {
            date,
            name: route.name,
            distanceM,
            gainM: gainM.value,
            rockClass: route.attributes.rockClass ?? null,
            verdict: fit.verdict,
          };
          const all = [...walked, asWalked(rung, record)];
          const after = readinessOf({ record: withOutings(record, all), date: next, design });
          return [{ rungs: [...rungs, rung], walked: all, shown: shownOf(after) }];
        });
      }),
    );
  }
  return sequences;
}

/**
 * The shortest sequence of known routes that leads from what everyone who goes has shown to a target, each step within
 * the limits of the ones before: on its day it fits or is a stretch, by the same engine, with the steps before it as
 * walked. Breadth first, so no shorter one of these routes at such intervals exists; of equally short ones the one
 * that is first by name. Pure; dates are `YYYY-MM-DD`.
 */
export function routeLadder(input: TrainingInput): RouteLadder {
  const { route: target, record: given, today, tripDate, design } = input;
  const record = recordUntil(given, today);
  const readiness = readinessOf({ record, date: today, design });
  const rules = statedRules(readiness.ageBand, design);
  const attribution = attributionOf([target, ...input.routes, ...given.outings]);
  const dates = { today, tripDate };
  const none = { target: target.name, ...dates, rungs: [], missing: [], ...NO_SEARCH, rules, attribution };
  if (daysBetween(today, tripDate) < 0) return { ...none, state: 'past', inTheWay: [] };
  const targetWith = (walked: readonly Outing[]): Fit =>
    fitOf(target, { record: withOutings(record, walked), date: tripDate, design });
  const now = targetWith([]);
  const head = {
    ...none,
    inTheWay: inTheWayOf(now, BY_STEPS),
  };
  if (open(now).length === 0) return { ...head, state: 'ready' };
  const isAbove = open(now).find(({ name, verdict }) => name === 'rockClass' && verdict === 'ruledOut');
  const known = stepRoutes(input);
  const nearer = () =>
    fittingNames(known, { record, date: tripDate, design }).slice(0, design.training.routesEach);
  if (isAbove !== undefined) return { ...head, state: 'none', missing: [isAbove], nearer: nearer() };

  const firstDay = firstDayFor(readiness.theirs, today, rules);
  let nearest: { readonly fit: Fit; readonly steps: number } = { fit: now, steps: 0 };
  let room = 0;
  for (let count = 1; count <= design.training.mostRungs; count += 1) {
    const ways = daysFor(count, input, firstDay, rules);
    if (ways.length === 0) break;
    room = count;
    for (const days of ways) {
      for (const { rungs, walked } of sequencesOn(days, record, known, input)) {
        const fit = targetWith(walked);
        if (open(fit).length === 0)
          return { ...head, state: 'ladder', rungs, inTheWay: inTheWayOf(fit, BY_STEPS) };
        if (nearness(fit) > nearness(nearest.fit)) nearest = { fit, steps: rungs.length };
      }
    }
  }
  const unknown = open(now).filter(({ verdict }) => verdict === 'incomplete');
  if (unknown.length > 0 && nearest.steps === 0) return { ...head, state: 'unknown', missing: unknown };
  return {
    ...head,
    state: 'none',
    missing: open(nearest.fit),
    training: trainingPlan(input),
    nearer: nearer(),
    tried: { routes: known.length, steps: room },
  };
}
