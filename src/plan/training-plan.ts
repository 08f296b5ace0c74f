import { milestonesFor } from '../capability/milestones.ts';
import type { Design } from '../design.ts';
import { addDays, daysBetween, isRealDate } from '../earth/local-time.ts';
import { EngineError } from '../errors.ts';
import type { CriterionName } from '../rank/criterion.ts';
import { type Fit, fitOf } from '../rank/fit.ts';
import { missingText } from '../rank/missing.ts';
import { type CohortRecord, type Readiness, readinessOf } from '../rank/readiness.ts';
import { type Verdict, verdictRank } from '../rank/verdict.ts';
import { attributionOf } from '../route/attribution.ts';
import type { Route } from '../route/describe-route.ts';
import type { UnitSystem } from '../units.ts';
import { baseFrom, everWorkKj } from './training/base.ts';
import type { Shape } from './training/ladder.ts';
import { type MilestoneState, milestoneStates } from './training/milestone-states.ts';
import { inTimeText, planNotes, tooFarText, tooShortText } from './training/plan-words.ts';
import { type TrainingRules, trainingRules } from './training/rules.ts';
import { nearestDay, type ScheduleQuestion, schedule } from './training/schedule.ts';
import { asWalked, stepsOf, type TrainingStep, withOutings } from './training/steps.ts';
import { type Amounts, type TrainingTarget, targetOf } from './training/target.ts';

export interface TrainingInput {
  /** The route of the trip. */
  readonly route: Route;
  readonly record: CohortRecord;
  /** `YYYY-MM-DD`; given, never read from a clock. */
  readonly today: string;
  readonly tripDate: string;
  /** Known routes; the cohort's drive limit says which are near. The trip's own route is no training for it. */
  readonly routes: readonly Route[];
  readonly design: Design;
  readonly units: UnitSystem;
}

/** How the route would fit on the date that the plan leads to, once all of its steps are walked. */
export interface FitAfter {
  readonly verdict: Verdict;
  /** What would still be worse than a stretch; distance, climb and work are not among it. */
  readonly inTheWay: readonly {
    readonly criterion: CriterionName;
    readonly verdict: Verdict;
    readonly reason: string;
  }[];
}

/**
 * The training for one route. `ready`: nothing needed. `train`: the steps lead there in time. `tooShort`: they do not;
 * the steps lead to `leadsTo`. `past`: the trip's date has gone by. `unknown`: what the route asks is not known.
 * No label of a member is in it.
 */
export interface TrainingPlan {
  readonly state: 'ready' | 'train' | 'tooShort' | 'past' | 'unknown';
  readonly today: string;
  readonly tripDate: string;
  readonly target: TrainingTarget | null;
  readonly milestones: readonly MilestoneState[];
  readonly steps: readonly TrainingStep[];
  /** The trip date that the steps lead to; `null` where there is none to give. */
  readonly leadsTo: string | null;
  /** Days that the trip is too early; `null` where it is not, or where no date within the horizon would do. */
  readonly shortByDays: number | null;
  readonly after: FitAfter | null;
  readonly text: string;
  readonly notes: readonly string[];
  /** Words that the tiles under the routes looked at and under the recorded days ask for. */
  readonly attribution: readonly string[];
}

/** What steps bring. A class that is only not walked yet is a stretch, and brought too. */
const BY_STEPS: ReadonlySet<CriterionName> = new Set(['distance', 'gain', 'effort']);

const READY =
  'What everyone who goes has shown of distance, climb and work is enough for this route on that date.';
const EVEN_THEN = 'Even then it would not fit: the notes say what else stands in the way.';

const ALL = { distanceM: true, gainM: true, effortKj: true };

const verdictOf = (fit: Fit, name: CriterionName): Verdict =>
  fit.judgements.find((judgement) => judgement.name === name)?.verdict ?? 'incomplete';

function afterOf(fit: Fit): FitAfter {
  const inTheWay = fit.judgements
    .filter(({ name, verdict }) => !BY_STEPS.has(name) && verdictRank(verdict) > verdictRank('stretch'))
    .map(({ name, verdict, reason }) => ({ criterion: name, verdict, reason }));
  return { verdict: fit.verdict, inTheWay };
}

/** The milestones that deserve a day of their own: those that were not walked lately. */
function shapeFor({ past, goers }: Readiness, fit: Fit, today: string, design: Design): Shape {
  const { distanceM, gainM } = fit.route.measures;
  const demand = { distanceM, gainM: gainM?.value ?? 0, gainHighM: gainM?.high ?? 0 };
  const done = milestonesFor(past, goers, today, demand, design)
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

/**
 * The steps that turn a route into one that fits on the trip's date, given what everyone who goes has shown up to
 * `today`. Pure: the same record gives the same plan, and an outing recorded gives a new one. Dates are `YYYY-MM-DD`;
 * no step lies before the day after `today`.
 *
 * @throws EngineError `bad-date` where `today` or `tripDate` is no date.
 */
export function trainingPlan(input: TrainingInput): TrainingPlan {
  const { route, today, tripDate, design, units } = input;
  checkDate(today, '/today');
  checkDate(tripDate, '/date');
  const outings = input.record.outings.filter((outing) => daysBetween(outing.date, today) >= 0);
  const leftOut = input.record.outings.length - outings.length;
  const record: CohortRecord = { ...input.record, outings };
  const now = readinessOf({ record, date: today, design });
  const target = targetOf(route, now.ageBand, design);
  const tripDay = daysBetween(today, tripDate);
  const none = { steps: [], leadsTo: null, shortByDays: null, after: null, notes: [] };
  const attribution = attributionOf([route, ...input.routes, ...input.record.outings]);
  const head = { today, tripDate, target, attribution };
  if (tripDay < 0) {
    const text = `The trip’s date, ${tripDate}, lies before today, ${today}: choose a later one.`;
    return { ...head, ...none, state: 'past', milestones: [], text };
  }
  if (target === null) {
    const text = `What the route asks is not known, so nothing can be planned for it: ${missingText(route)}.`;
    return { ...head, ...none, state: 'unknown', milestones: [], text };
  }

  const request = { record, date: tripDate, design };
  const readiness = readinessOf(request);
  const fit = fitOf(route, request, readiness, units);
  const rules = trainingRules(now.ageBand, design);
  const milestonesWith = (steps: readonly TrainingStep[]) =>
    milestoneStates(readiness, fit, target, today, steps, design);
  const needed = {
    distanceM: verdictOf(fit, 'distance') !== 'fits',
    gainM: verdictOf(fit, 'gain') !== 'fits',
    effortKj: verdictOf(fit, 'effort') !== 'fits',
  };
  const needsAmounts = needed.distanceM || needed.gainM || needed.effortKj;
  const needsClass = verdictOf(fit, 'rockClass') === 'stretch' ? target.rockClass : null;
  if (!needsAmounts && needsClass === null) {
    const after = afterOf(fit);
    return {
      ...head,
      state: 'ready',
      milestones: milestonesWith([]),
      steps: [],
      leadsTo: tripDate,
      shortByDays: null,
      after,
      text: after.inTheWay.length === 0 ? READY : `${READY} ${EVEN_THEN}`,
      notes: planNotes([], rules, leftOut, after.inTheWay),
    };
  }

  // A day of rest for what was walked last: the usual days between two steps.
  const lastOuting = now.theirs.map(({ date }) => daysBetween(today, date));
  const whole: ScheduleQuestion = {
    baseOn: baseFrom(now.past, now.goers, today, design),
    everKj: everWorkKj(now.past, now.goers, today, design),
    // A level route too needs a climb shown.
    target: { ...target, gainM: Math.max(1, target.gainM) },
    needed,
    shape: shapeFor(now, fit, today, design),
    today,
    firstDay: Math.max(1, ...lastOuting.map((day) => day + rules.daysBetween)),
    rules,
  };
  const question: ScheduleQuestion = needsAmounts
    ? whole
    : { ...whole, target: shortTarget(whole.target, rules), shape: ['classDay'] };
  const inTime = schedule(question, tripDay);
  // By a later date what is enough on the trip's has faded too.
  const forLater: ScheduleQuestion = { ...whole, needed: ALL };
  const laterDay = inTime === null ? nearestDay(forLater, tripDay) : null;
  const rungs = inTime ?? (laterDay === null ? null : schedule(forLater, laterDay));
  if (rungs === null) {
    const notes = planNotes([], rules, leftOut, afterOf(fit).inTheWay);
    return {
      ...head,
      ...none,
      state: 'tooShort',
      milestones: milestonesWith([]),
      text: tooFarText(rules),
      notes,
    };
  }

  const leadsTo = laterDay === null ? tripDate : addDays(today, laterDay);
  const steps = stepsOf(rungs, {
    record,
    today,
    leadsTo,
    needsClass,
    gainDoubt: target.gainDoubt,
    known: input.routes.filter((known) => known !== route && known.name !== route.name),
    rules,
    design,
    units,
  });
  const walked = steps.map((step) => asWalked(step, record));
  const trained = withOutings(record, walked);
  const then = { record: trained, date: leadsTo, design };
  const readyThen = readinessOf(then);
  const after = afterOf(fitOf(route, then, readyThen, units));
  const shortByDays = laterDay === null ? null : laterDay - tripDay;
  const led =
    shortByDays === null ? inTimeText(steps) : tooShortText(steps, tripDate, leadsTo, shortByDays, rules);
  return {
    ...head,
    state: shortByDays === null ? 'train' : 'tooShort',
    milestones: milestonesWith(steps),
    steps,
    leadsTo,
    shortByDays,
    after,
    text: after.inTheWay.length === 0 ? led : `${led} ${EVEN_THEN}`,
    notes: planNotes(steps, rules, leftOut, after.inTheWay),
  };
}
