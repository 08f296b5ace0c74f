import Type from 'typebox';
import type { RouteLadder } from '../plan/route-ladder.ts';
import type { TrainingStep } from '../plan/training/steps.ts';
import type { SuitableRoute } from '../plan/training/suitable-routes.ts';
import type { TrainingPlan } from '../plan/training-plan.ts';
import type { Judgement } from '../rank/judgement.ts';
import * as t from '../schema.ts';
import { reasonText } from '../text/criteria/index.ts';
import {
  ladderSentence,
  milestoneText,
  nearerText,
  stairText,
  stepText,
  stepWhy,
  suitableRouteText,
  trainingNotes,
  trainingText,
} from '../text/training-words.ts';
import type { UnitSystem } from '../units.ts';
import { criterionName, verdict } from './shortlist-view.ts';

const trainingRoute = t.closed({
  name: t.text,
  distanceM: t.number,
  gainM: t.number,
  times: Type.Integer(),
  addDistanceM: t.number,
  addGainM: t.number,
  verdict,
  text: t.text,
});

const stepSchema = t.closed({
  date: t.text,
  daysBeforeTrip: Type.Integer(),
  kind: t.oneOf(['assessment', 'step', 'distanceDay', 'gainDay', 'bothDay', 'classDay']),
  distanceM: t.number,
  gainM: t.number,
  mostDistanceM: t.number,
  mostGainM: t.number,
  rockClass: t.textOrNull,
  isAssumption: t.boolean,
  text: t.text,
  why: t.text,
  routes: t.list(trainingRoute),
  repeats: t.orNull(trainingRoute),
  stair: t.closed({ heightM: t.number, times: Type.Integer(), text: t.text }),
});

/** What would do on the trip's date instead. */
const nearerSchema = t.closed({
  distanceM: t.number,
  gainM: t.number,
  dates: t.list(t.text),
  routes: t.list(t.text),
  text: t.text,
});

/** The training that turns a route into one that fits. */
export const trainingPlanSchema = t.closed({
  state: t.oneOf(['ready', 'train', 'tooShort', 'notThisSeason', 'past', 'unknown']),
  today: t.text,
  tripDate: t.text,
  target: t.orNull(
    t.closed({
      distanceM: t.number,
      gainM: t.number,
      effortKj: t.number,
      gainDoubt: t.number,
      highM: t.numberOrNull,
      rockClass: t.textOrNull,
    }),
  ),
  milestones: t.list(
    t.closed({
      name: t.oneOf(['distanceDay', 'gainDay', 'bothDay']),
      state: t.oneOf(['done', 'again', 'planned', 'notNeeded']),
      date: t.textOrNull,
      by: t.textOrNull,
      text: t.text,
    }),
  ),
  steps: t.list(stepSchema),
  why: t.orNull(
    t.closed({
      code: t.oneOf(['tooManySteps', 'outOfReach', 'outOfSeason']),
      /** Training days that it would take; `null`: none within the horizon. */
      days: t.orNull(Type.Integer()),
      on: t.textOrNull,
    }),
  ),
  nearer: t.orNull(nearerSchema),
  leadsTo: t.textOrNull,
  shortByDays: t.orNull(Type.Integer()),
  after: t.orNull(
    t.closed({
      verdict,
      inTheWay: t.list(t.closed({ criterion: criterionName, verdict, reason: t.text })),
    }),
  ),
  text: t.text,
  notes: t.list(t.text),
  attribution: t.attribution,
});

/** A criterion that is not met, and why. */
const reasonSchema = t.closed({ criterion: criterionName, reason: t.text });
const left = t.list(reasonSchema);

/** The shortest sequence of known routes that leads to the target. */
export const ladderSchema = t.closed({
  state: t.oneOf(['ready', 'ladder', 'none', 'past', 'unknown']),
  target: t.text,
  today: t.text,
  tripDate: t.text,
  rungs: t.list(
    t.closed({
      date: t.text,
      name: t.text,
      distanceM: t.number,
      gainM: t.number,
      rockClass: t.textOrNull,
      verdict,
    }),
  ),
  missing: left,
  inTheWay: left,
  daysNeeded: t.orNull(Type.Integer()),
  nearerAim: t.orNull(nearerSchema),
  nearer: t.list(t.text),
  text: t.text,
  attribution: t.attribution,
});

export type TrainingPlanView = t.Shaped<typeof trainingPlanSchema>;
export type LadderView = t.Shaped<typeof ladderSchema>;
export type StepView = t.Shaped<typeof stepSchema>;
type ReasonView = t.Shaped<typeof reasonSchema>;

function stepView(step: TrainingStep, units: UnitSystem): StepView {
  const { growth, isLast, kept, routes, repeats, stair, ...numbers } = step;
  const routeView = (route: SuitableRoute) => ({ ...route, text: suitableRouteText(route, units) });
  return {
    ...numbers,
    isAssumption: growth === null,
    text: stepText(step, units),
    why: stepWhy(step),
    routes: routes.map(routeView),
    repeats: repeats && routeView(repeats),
    stair: { ...stair, text: stairText(stair, units) },
  };
}

const reasonView = (judgement: Judgement, units: UnitSystem): ReasonView => ({
  criterion: judgement.name,
  reason: reasonText(judgement, units),
});

const nearerView = ({ nearer, tripDate }: TrainingPlan, units: UnitSystem) =>
  nearer && { ...nearer, text: nearerText(nearer, tripDate, units) };

/** Training days that lead there, or would; `null`: none within the horizon, or not asked. */
function daysOf({ why, steps }: TrainingPlan): number | null {
  if (why === null) return steps.length;
  return 'days' in why ? why.days : null;
}

/** A training plan with its words. */
export function trainingView(plan: TrainingPlan, units: UnitSystem): TrainingPlanView {
  const { state, today, tripDate, target, leadsTo, shortByDays, attribution, verdictAfter, inTheWay, why } =
    plan;
  return {
    ...{ today, tripDate, target, attribution, state },
    milestones: plan.milestones.map((milestone) => ({ ...milestone, text: milestoneText(milestone) })),
    steps: plan.steps.map((step) => stepView(step, units)),
    why: why && { code: why.code, days: 'days' in why ? why.days : null, on: 'on' in why ? why.on : null },
    nearer: nearerView(plan, units),
    leadsTo,
    shortByDays,
    after: verdictAfter && {
      verdict: verdictAfter,
      inTheWay: inTheWay.map((judgement) => ({
        ...reasonView(judgement, units),
        verdict: judgement.verdict,
      })),
    },
    text: trainingText(plan, units),
    notes: trainingNotes(plan, units),
  };
}

/** A ladder of routes with its words. */
export function ladderView(ladder: RouteLadder, units: UnitSystem): LadderView {
  const { state, target, today, tripDate, rungs, attribution, training, nearer } = ladder;
  return {
    ...{ target, today, tripDate, rungs, state, attribution, nearer },
    daysNeeded: training && daysOf(training),
    nearerAim: training && nearerView(training, units),
    missing: ladder.missing.map((judgement) => reasonView(judgement, units)),
    inTheWay: ladder.inTheWay.map((judgement) => reasonView(judgement, units)),
    text: ladderSentence(ladder, units),
  };
}
