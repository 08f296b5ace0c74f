import { labelsOf } from '../../capability/demonstrated.ts';
import { handOuting } from '../../capability/hand-outing.ts';
import type { Outing } from '../../capability/outing.ts';
import type { Design } from '../../design.ts';
import { addDays, daysBetween } from '../../earth/local-time.ts';
import type { CohortRecord } from '../../rank/readiness.ts';
import type { Route } from '../../route/describe-route.ts';
import type { UnitSystem } from '../../units.ts';
import type { Rung, StepKind } from './ladder.ts';
import type { TrainingRules } from './rules.ts';
import { routeText, stairText, stepText, stepWhy } from './step-words.ts';
import { type SuitableRoute, suitableRoutes } from './suitable-routes.ts';

export type ToldRoute = SuitableRoute & { readonly text: string };

/** One outing with everyone who goes. Metres; the climb is at the upper end where it is held against the route's. */
export interface TrainingStep {
  readonly date: string;
  readonly daysBeforeTrip: number;
  readonly kind: StepKind;
  readonly distanceM: number;
  readonly gainM: number;
  /** Beyond these a day would be a leap. */
  readonly mostDistanceM: number;
  readonly mostGainM: number;
  /** Class of ground that the step has to be on; `null`: any that fits. */
  readonly rockClass: string | null;
  /** Whether its size stands on nothing that was recorded. */
  readonly isAssumption: boolean;
  readonly text: string;
  readonly why: string;
  /** Known routes that would do, best first. */
  readonly routes: readonly ToldRoute[];
  /** A low hill to go up several times; `null`: none known. */
  readonly repeats: ToldRoute | null;
  readonly stair: { readonly heightM: number; readonly times: number; readonly text: string };
}

export interface StepsQuestion {
  /** Up to today. */
  readonly record: CohortRecord;
  readonly today: string;
  /** The trip date that the rungs lead to. */
  readonly leadsTo: string;
  /** Class of ground that has to be walked once; `null`: none. */
  readonly needsClass: string | null;
  /** Doubt of the target's climb, as a share. */
  readonly gainDoubt: number;
  /** Known routes, without the trip's own. */
  readonly known: readonly Route[];
  readonly rules: TrainingRules;
  readonly design: Design;
  readonly units: UnitSystem;
}

/** The step's day as an outing of everyone who goes, for the engine to judge what comes after. */
export function asWalked(
  step: Pick<TrainingStep, 'date' | 'distanceM' | 'gainM' | 'rockClass'>,
  { cohort }: CohortRecord,
): Outing {
  const { date, distanceM, gainM, rockClass } = step;
  const { members = null, going = null } = cohort;
  return handOuting({ date, distanceM, gainM, rockClass, members: labelsOf({ members, going }) });
}

/** The record with more outings. */
export const withOutings = (record: CohortRecord, more: readonly Outing[]): CohortRecord => ({
  ...record,
  outings: [...record.outings, ...more],
});

/** The rungs of a ladder as steps with dates, words and the places where they can be walked. */
export function stepsOf(rungs: readonly Rung[], question: StepsQuestion): readonly TrainingStep[] {
  const { record, today, leadsTo, needsClass, rules, design, units } = question;
  const { stairM } = design.training;
  const told = (route: SuitableRoute): ToldRoute => ({ ...route, text: routeText(route, units) });
  const steps: TrainingStep[] = [];
  const walked: Outing[] = [];
  for (const [i, rung] of rungs.entries()) {
    const isLast = i === rungs.length - 1;
    const date = addDays(today, rung.day);
    const daysBeforeTrip = daysBetween(date, leadsTo);
    // Last but one, so that the hardest day is not also the first on such ground.
    const rockClass = i === Math.max(0, rungs.length - 2) ? needsClass : null;
    const place = suitableRoutes({
      ...question,
      rung,
      date,
      rockClass,
      record: withOutings(record, walked),
    });
    const stair = { heightM: stairM, times: Math.ceil(rung.gainM / stairM) };
    const step: TrainingStep = {
      date,
      daysBeforeTrip,
      kind: rung.kind,
      distanceM: rung.distanceM,
      gainM: rung.gainM,
      mostDistanceM: rung.most.distanceM,
      mostGainM: rung.most.gainM,
      rockClass,
      isAssumption: rung.growth === null,
      text: stepText(rung, isLast, rockClass, units),
      why: stepWhy(rung, isLast ? daysBeforeTrip : null, isLast ? rules.keeps(daysBeforeTrip) : null),
      routes: place.routes.map(told),
      repeats: place.repeats === null ? null : told(place.repeats),
      stair: { ...stair, text: stairText(stair, units) },
    };
    steps.push(step);
    walked.push(asWalked(step, record));
  }
  return steps;
}
