import Type from 'typebox';
import type { RouteLadder } from '../plan/route-ladder.ts';
import type { TrainingStep } from '../plan/training/steps.ts';
import type { SuitableRoute } from '../plan/training/suitable-routes.ts';
import type { TrainingPlan } from '../plan/training-plan.ts';
import type { Judgement } from '../rank/judgement.ts';
import {
  attribution,
  boolean,
  closed,
  list,
  number,
  numberOrNull,
  oneOf,
  orNull,
  type Shaped,
  text,
  textOrNull,
} from '../schema.ts';
import { reasonText } from '../text/criteria/index.ts';
import {
  ladderSentence,
  milestoneText,
  stairText,
  stepText,
  stepWhy,
  suitableRouteText,
  trainingNotes,
  trainingText,
} from '../text/training-words.ts';
import type { UnitSystem } from '../units.ts';
import { criterionName, verdict } from './shortlist-view.ts';

const trainingRoute = closed({
  name: text,
  distanceM: number,
  gainM: number,
  times: Type.Integer(),
  addDistanceM: number,
  addGainM: number,
  verdict,
  text,
});

const stepSchema = closed({
  date: text,
  daysBeforeTrip: Type.Integer(),
  kind: oneOf(['assessment', 'step', 'distanceDay', 'gainDay', 'bothDay', 'classDay']),
  distanceM: number,
  gainM: number,
  mostDistanceM: number,
  mostGainM: number,
  rockClass: textOrNull,
  isAssumption: boolean,
  text,
  why: text,
  routes: list(trainingRoute),
  repeats: orNull(trainingRoute),
  stair: closed({ heightM: number, times: Type.Integer(), text }),
});

/** The training that turns a route into one that fits. */
export const trainingPlanSchema = closed({
  state: oneOf(['ready', 'train', 'tooShort', 'past', 'unknown']),
  today: text,
  tripDate: text,
  target: orNull(
    closed({
      distanceM: number,
      gainM: number,
      effortKj: number,
      gainDoubt: number,
      highM: numberOrNull,
      rockClass: textOrNull,
    }),
  ),
  milestones: list(
    closed({
      name: oneOf(['distanceDay', 'gainDay', 'bothDay']),
      state: oneOf(['done', 'again', 'planned', 'notNeeded']),
      date: textOrNull,
      by: textOrNull,
      text,
    }),
  ),
  steps: list(stepSchema),
  leadsTo: textOrNull,
  shortByDays: orNull(Type.Integer()),
  after: orNull(
    closed({
      verdict,
      inTheWay: list(closed({ criterion: criterionName, verdict, reason: text })),
    }),
  ),
  text,
  notes: list(text),
  attribution,
});

/** A criterion that is not met, and why. */
const reasonSchema = closed({ criterion: criterionName, reason: text });
const left = list(reasonSchema);

/** The shortest sequence of known routes that leads to the target. */
export const ladderSchema = closed({
  state: oneOf(['ready', 'ladder', 'none', 'past', 'unknown']),
  target: text,
  today: text,
  tripDate: text,
  rungs: list(
    closed({
      date: text,
      name: text,
      distanceM: number,
      gainM: number,
      rockClass: textOrNull,
      verdict,
    }),
  ),
  missing: left,
  inTheWay: left,
  text,
  attribution,
});

export type TrainingPlanView = Shaped<typeof trainingPlanSchema>;
export type LadderView = Shaped<typeof ladderSchema>;
export type StepView = Shaped<typeof stepSchema>;
type ReasonView = Shaped<typeof reasonSchema>;

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

/** A training plan with its words. */
export function trainingView(plan: TrainingPlan, units: UnitSystem): TrainingPlanView {
  const { state, today, tripDate, target, leadsTo, shortByDays, attribution, verdictAfter, inTheWay } = plan;
  return {
    ...{ today, tripDate, target, attribution, state },
    milestones: plan.milestones.map((milestone) => ({ ...milestone, text: milestoneText(milestone) })),
    steps: plan.steps.map((step) => stepView(step, units)),
    leadsTo,
    shortByDays,
    after: verdictAfter && {
      verdict: verdictAfter,
      inTheWay: inTheWay.map((judgement) => ({
        ...reasonView(judgement, units),
        verdict: judgement.verdict,
      })),
    },
    text: trainingText(plan),
    notes: trainingNotes(plan, units),
  };
}

/** A ladder of routes with its words. */
export function ladderView(ladder: RouteLadder, units: UnitSystem): LadderView {
  const { state, target, today, tripDate, rungs, attribution } = ladder;
  return {
    ...{ target, today, tripDate, rungs, state, attribution },
    missing: ladder.missing.map((judgement) => reasonView(judgement, units)),
    inTheWay: ladder.inTheWay.map((judgement) => reasonView(judgement, units)),
    text: ladderSentence(ladder, units),
  };
}
