import { type Milestone, milestonesOn } from '../capability/milestones.ts';
import type { Design } from '../design.ts';
import { addDays, daysBetween, isRealDate } from '../earth/local-time.ts';
import { EngineError } from '../errors.ts';
import type { CriterionName } from '../rank/criteria/index.ts';
import { type Fit, fitOf } from '../rank/fit.ts';
import type { Judgement } from '../rank/judgement.ts';
import { type Readiness, readinessOf } from '../rank/readiness.ts';
import { type Verdict, verdictRank } from '../rank/verdict.ts';
import { attributionOf } from '../route/attribution.ts';
import type { Route } from '../route/describe-route.ts';
import { baseFrom, everWorkKj } from './training/base.ts';
import { firstDayFor } from './training/days.ts';
import type { Rung, Shape } from './training/ladder.ts';
import { type NearerAim, nearerAim } from './training/nearer.ts';
import { inTheWayOf, recordUntil, type TrainingInput, withOutings } from './training/question.ts';
import { type StatedRules, statedRules, type TrainingRules, trainingRules } from './training/rules.ts';
import { nearestDay, type ScheduleQuestion, schedule } from './training/schedule.ts';
import { asWalked, stepsOf, type TrainingStep } from './training/steps.ts';
import { type Amounts, type Quantity, type TrainingTarget, targetOf } from './training/target.ts';

/**
 * One of the three days of training before a summit (common practice, no source).
 * `done`: walked, and still worth enough on the trip's date. `again`: walked, but time takes too much of it.
 * `planned`: not walked yet. `notNeeded`: not walked, and what was shown is enough without it.
 */
export interface MilestoneState {
  readonly name: Milestone['name'];
  readonly state: 'done' | 'again' | 'planned' | 'notNeeded';
  /** When the last of those who go had it; `null` where it was not walked lately. */
  readonly date: string | null;
  readonly by: string | null;
}

const NEEDS: Record<Milestone['name'], readonly CriterionName[]> = {
  distanceDay: ['distance'],
  gainDay: ['gain'],
  bothDay: ['distance', 'gain', 'effort'],
};

/** The first step that brings a milestone; to keep one that fades, the last. */
function stepFor(
  name: Milestone['name'],
  isAgain: boolean,
  steps: readonly TrainingStep[],
  target: TrainingTarget,
): string | null {
  const isFar = ({ distanceM }: TrainingStep) => distanceM >= target.distanceM;
  const isHigh = ({ gainM }: TrainingStep) => gainM >= target.gainM;
  const has = {
    distanceDay: isFar,
    gainDay: isHigh,
    bothDay: (step: TrainingStep) => isFar(step) && isHigh(step),
  }[name];
  const found = isAgain ? steps.findLast(has) : steps.find(has);
  return (found ?? steps.at(-1))?.date ?? null;
}

/** From the readiness for the trip's date, of the record up to today, and the fit of the route by it. */
function milestoneStates(
  readiness: Readiness,
  fit: Fit,
  target: TrainingTarget,
  steps: readonly TrainingStep[],
  { today, design }: TrainingInput,
): readonly MilestoneState[] {
  const { value, high } = fit.route.measures.gainM ?? { value: target.gainM, high: target.gainM };
  const demand = { distanceM: target.distanceM, gainM: value, gainHighM: high };
  const milestones = milestonesOn(readiness.past, readiness.goers, today, design)(demand);
  return milestones.map(({ name, done, date }) => {
    const isEnough = NEEDS[name].every((wanted) => verdictOf(fit, wanted) === 'fits');
    const state = done ? (isEnough ? 'done' : 'again') : isEnough ? 'notNeeded' : 'planned';
    const by = state === 'again' || state === 'planned' ? stepFor(name, done, steps, target) : null;
    return { name, state, date, by };
  });
}

/** Why a route is not for this season. */
export type NotThisSeason =
  | { readonly code: 'tooManySteps'; readonly days: number }
  | { readonly code: 'outOfReach' }
  /** Its season is over by the time the steps lead to it. */
  | { readonly code: 'outOfSeason'; readonly days: number; readonly on: string };

/**
 * The training for one route. `ready`: nothing needed. `train`: the steps lead there in time. `tooShort`: they do not;
 * the steps lead to `leadsTo`. `notThisSeason`: no steps are given, and `why` says why. `past`: the trip's date has gone
 * by. `unknown`: what the route asks is not known.
 * No label of a member is in it.
 */
export interface TrainingPlan {
  readonly state: 'ready' | 'train' | 'tooShort' | 'notThisSeason' | 'past' | 'unknown';
  readonly route: Route;
  readonly today: string;
  readonly tripDate: string;
  readonly target: TrainingTarget | null;
  readonly milestones: readonly MilestoneState[];
  readonly steps: readonly TrainingStep[];
  readonly why: NotThisSeason | null;
  /** What would do on the trip's date where this route does not; `null`: not asked, or nothing to name. */
  readonly nearer: NearerAim | null;
  /** The trip date that the steps lead to; `null` where there is none to give. */
  readonly leadsTo: string | null;
  /** Days that the trip is too early; `null` where it is not, or where no date within the horizon would do. */
  readonly shortByDays: number | null;
  /** How the route would fit on the date that the plan leads to, once its steps are walked; `null`: to none. */
  readonly verdictAfter: Verdict | null;
  /** What is worse than a stretch even then (without such a date: on the trip's), and no step changes. */
  readonly inTheWay: readonly Judgement[];
  /** Outings dated after today, which do not count. */
  readonly leftOut: number;
  readonly rules: StatedRules;
  /** Words that the tiles under the routes looked at and under the recorded days ask for. */
  readonly attribution: readonly string[];
}

/** What steps bring. A class that is only not walked yet is a stretch, and brought too. */
const BY_STEPS: ReadonlySet<CriterionName> = new Set(['distance', 'gain', 'effort']);

const ALL = { distanceM: true, gainM: true, effortKj: true };

const verdictOf = (fit: Fit, name: CriterionName): Verdict =>
  fit.judgements.find((judgement) => judgement.name === name)?.verdict ?? 'incomplete';

/** The milestones that deserve a day of their own: those that were not walked lately. */
function shapeFor({ past, goers }: Readiness, route: Route, today: string, design: Design): Shape {
  const { distanceM, gainM } = route.measures;
  const demand = { distanceM, gainM: gainM?.value ?? 0, gainHighM: gainM?.high ?? 0 };
  const done = milestonesOn(
    past,
    goers,
    today,
    design,
  )(demand)
    .filter((milestone) => milestone.done)
    .map(({ name }) => name);
  const days = (['distanceDay', 'gainDay'] as const).filter((name) => !done.includes(name));
  return [...days, 'bothDay'];
}

/** Where only the ground is new: a short day on it. */
function shortTarget(target: Amounts, { assessment, effortOf }: TrainingRules): Amounts {
  const distanceM = Math.min(target.distanceM, assessment.distanceM);
  const gainM = Math.min(target.gainM, assessment.gainM);
  return { distanceM, gainM, effortKj: effortOf(distanceM, gainM) };
}

function checkDate(date: string, pointer: string): void {
  if (isRealDate(date)) return;
  const text = `'${date.slice(0, 20)}' is not a date: write it as 2026-07-11`;
  throw new EngineError('bad-date', text, { pointer });
}

const NOTHING = {
  milestones: [],
  steps: [],
  why: null,
  nearer: null,
  leadsTo: null,
  shortByDays: null,
  verdictAfter: null,
  inTheWay: [],
} as const;

type Needed = Readonly<Record<Quantity, boolean>>;

type Plan = Pick<
  TrainingPlan,
  | 'state'
  | 'milestones'
  | 'steps'
  | 'why'
  | 'nearer'
  | 'leadsTo'
  | 'shortByDays'
  | 'verdictAfter'
  | 'inTheWay'
>;

interface Led {
  readonly rungs: readonly Rung[];
  /** `null`: to the trip's own date; else the nearest later day, from today. */
  readonly laterDay: number | null;
}

function questionFor(
  { route, today, design }: TrainingInput,
  now: Readiness,
  target: Amounts,
  needed: Needed,
  rules: TrainingRules,
): ScheduleQuestion {
  return {
    baseOn: baseFrom(now.past, now.goers, today, design),
    everKj: everWorkKj(now.past, now.goers, today, design),
    // A level route too needs a climb shown.
    target: { ...target, gainM: Math.max(1, target.gainM) },
    needed,
    shape: shapeFor(now, route, today, design),
    today,
    firstDay: firstDayFor(now.theirs, today, rules),
    rules,
  };
}

/** The steps that lead to the trip's date, else to the nearest later one that they can; `null`: to none. */
function stepsTo(whole: ScheduleQuestion, tripDay: number): Led | null {
  const { needed, rules } = whole;
  const question: ScheduleQuestion = Object.values(needed).some(Boolean)
    ? whole
    : { ...whole, target: shortTarget(whole.target, rules), shape: ['classDay'] };
  const inTime = schedule(question, tripDay);
  if (inTime !== null) return { rungs: inTime, laterDay: null };
  // By a later date what is enough on the trip's has faded too.
  const forLater: ScheduleQuestion = { ...whole, needed: ALL };
  const laterDay = nearestDay(forLater, tripDay);
  const rungs = laterDay === null ? null : schedule(forLater, laterDay);
  return rungs === null ? null : { rungs, laterDay };
}

const seasonOf = (fit: Fit): number => verdictRank(verdictOf(fit, 'season'));

/** Where the steps lead, or why to nothing this season and what would do instead. */
function ledTo(
  input: TrainingInput,
  whole: ScheduleQuestion,
  fit: Fit,
  target: TrainingTarget,
  needsClass: string | null,
): Omit<Plan, 'milestones'> {
  const { route, today, tripDate, design } = input;
  const { rules } = whole;
  const record = recordUntil(input.record, today);
  const tripDay = daysBetween(today, tripDate);
  const nearer = () => nearerAim({ ...input, record }, whole);
  const notThisSeason = (why: NotThisSeason) => ({
    ...NOTHING,
    ...{ state: 'notThisSeason' as const, why, nearer: nearer(), inTheWay: inTheWayOf(fit, BY_STEPS) },
  });
  const led = stepsTo(whole, tripDay);
  if (led === null) return notThisSeason({ code: 'outOfReach' });
  const { rungs, laterDay } = led;
  const days = rungs.length;
  if (days > rules.mostSteps) return notThisSeason({ code: 'tooManySteps', days });
  const leadsTo = laterDay === null ? tripDate : addDays(today, laterDay);
  const steps = stepsOf(rungs, {
    ...{ record, today, leadsTo, needsClass, rules, design },
    gainDoubt: target.gainDoubt,
    tripHighM: target.highM,
    known: input.routes.filter((known) => known !== route && known.name !== route.name),
  });
  const walked = steps.map((step) => asWalked(step, record));
  const fitAfter = fitOf(route, { record: withOutings(record, walked), date: leadsTo, design });
  if (seasonOf(fitAfter) > Math.max(seasonOf(fit), verdictRank('stretch'))) {
    return notThisSeason({ code: 'outOfSeason', days, on: leadsTo });
  }
  return {
    state: laterDay === null ? 'train' : 'tooShort',
    steps,
    why: null,
    nearer: laterDay === null ? null : nearer(),
    leadsTo,
    shortByDays: laterDay === null ? null : laterDay - tripDay,
    verdictAfter: fitAfter.verdict,
    inTheWay: inTheWayOf(fitAfter, BY_STEPS),
  };
}

/**
 * The steps that turn a route into one that fits on the trip's date, given what everyone who goes has shown up to
 * `today`. Pure: the same record gives the same plan, and an outing recorded gives a new one. Dates are `YYYY-MM-DD`;
 * no step lies before the day after `today`.
 *
 * @throws EngineError `bad-date` where `today` or `tripDate` is no date.
 */
export function trainingPlan(input: TrainingInput): TrainingPlan {
  const { route, today, tripDate, design } = input;
  checkDate(today, '/today');
  checkDate(tripDate, '/date');
  const record = recordUntil(input.record, today);
  const now = readinessOf({ record, date: today, design });
  const rules = trainingRules(now.ageBand, design);
  const target = targetOf(route, now.ageBand, design);
  const tripDay = daysBetween(today, tripDate);
  const head = {
    route,
    today,
    tripDate,
    target,
    ...NOTHING,
    leftOut: input.record.outings.length - record.outings.length,
    rules: statedRules(now.ageBand, design),
    attribution: attributionOf([route, ...input.routes, ...input.record.outings]),
  };
  if (tripDay < 0) return { ...head, state: 'past' };
  if (target === null) return { ...head, state: 'unknown' };

  const request = { record, date: tripDate, design };
  const readiness = readinessOf(request);
  const fit = fitOf(route, request, readiness);
  const inTheWay = inTheWayOf(fit, BY_STEPS);
  const milestonesWith = (steps: readonly TrainingStep[]) =>
    milestoneStates(readiness, fit, target, steps, input);
  const needed = {
    distanceM: verdictOf(fit, 'distance') !== 'fits',
    gainM: verdictOf(fit, 'gain') !== 'fits',
    effortKj: verdictOf(fit, 'effort') !== 'fits',
  };
  const needsClass = verdictOf(fit, 'rockClass') === 'stretch' ? target.rockClass : null;
  if (needsClass === null && !Object.values(needed).some(Boolean)) {
    const then = { leadsTo: tripDate, verdictAfter: fit.verdict, inTheWay };
    return { ...head, state: 'ready', milestones: milestonesWith([]), ...then };
  }
  const whole = questionFor(input, now, target, needed, rules);
  const led = ledTo(input, whole, fit, target, needsClass);
  return { ...head, ...led, milestones: milestonesWith(led.steps) };
}
