import type { RouteLadder } from '../plan/route-ladder.ts';
import type { MilestoneState } from '../plan/training/milestone-states.ts';
import type { TrainingStep } from '../plan/training/steps.ts';
import type { SuitableRoute } from '../plan/training/suitable-routes.ts';
import type { TrainingPlan } from '../plan/training-plan.ts';
import type { CriterionName, Judgement } from '../rank/criterion.ts';
import type { Verdict } from '../rank/verdict.ts';
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

type Told<T> = T & { readonly text: string };

export interface StepView
  extends Omit<TrainingStep, 'growth' | 'isLast' | 'kept' | 'routes' | 'repeats' | 'stair'> {
  /** Whether its size stands on nothing that was recorded. */
  readonly isAssumption: boolean;
  readonly text: string;
  readonly why: string;
  readonly routes: readonly Told<SuitableRoute>[];
  readonly repeats: Told<SuitableRoute> | null;
  readonly stair: Told<TrainingStep['stair']>;
}

/** A criterion that is not met, and why. */
export interface ReasonView {
  readonly criterion: CriterionName;
  readonly reason: string;
}

/** A training plan as programs read it, and what pages print. */
export interface TrainingPlanView
  extends Pick<
    TrainingPlan,
    'state' | 'today' | 'tripDate' | 'target' | 'leadsTo' | 'shortByDays' | 'attribution'
  > {
  readonly milestones: readonly Told<MilestoneState>[];
  readonly steps: readonly StepView[];
  readonly after: {
    readonly verdict: Verdict;
    readonly inTheWay: readonly (ReasonView & { readonly verdict: Verdict })[];
  } | null;
  readonly text: string;
  readonly notes: readonly string[];
}

function stepView(step: TrainingStep, units: UnitSystem): StepView {
  const { growth, isLast, kept, routes, repeats, stair, ...numbers } = step;
  const routeView = (route: SuitableRoute) => ({ ...route, text: suitableRouteText(route, units) });
  return {
    ...numbers,
    isAssumption: growth === null,
    text: stepText(step, units),
    why: stepWhy(step),
    routes: routes.map(routeView),
    repeats: repeats === null ? null : routeView(repeats),
    stair: { ...stair, text: stairText(stair, units) },
  };
}

const reasonView = ({ name, reason }: Judgement): ReasonView => ({ criterion: name, reason });

/** A training plan with its words. */
export function trainingView(plan: TrainingPlan, units: UnitSystem): TrainingPlanView {
  const { state, today, tripDate, target, leadsTo, shortByDays, attribution, verdictAfter, inTheWay } = plan;
  return {
    ...{ today, tripDate, target, attribution, state },
    milestones: plan.milestones.map((milestone) => ({ ...milestone, text: milestoneText(milestone) })),
    steps: plan.steps.map((step) => stepView(step, units)),
    leadsTo,
    shortByDays,
    after:
      verdictAfter === null
        ? null
        : {
            verdict: verdictAfter,
            inTheWay: inTheWay.map((judgement) => ({ ...reasonView(judgement), verdict: judgement.verdict })),
          },
    text: trainingText(plan),
    notes: trainingNotes(plan),
  };
}

/** A ladder of routes as programs and people read it. */
export interface LadderView
  extends Pick<RouteLadder, 'state' | 'target' | 'today' | 'tripDate' | 'rungs' | 'attribution'> {
  /** What is missing where there is no ladder. */
  readonly missing: readonly ReasonView[];
  /** What no training changes and is worse than a stretch on the trip's date. */
  readonly inTheWay: readonly ReasonView[];
  readonly text: string;
}

/** A ladder of routes with its words. */
export function ladderView(ladder: RouteLadder, units: UnitSystem): LadderView {
  const { state, target, today, tripDate, rungs, attribution } = ladder;
  return {
    ...{ target, today, tripDate, rungs, state, attribution },
    missing: ladder.missing.map(reasonView),
    inTheWay: ladder.inTheWay.map(reasonView),
    text: ladderSentence(ladder, units),
  };
}
