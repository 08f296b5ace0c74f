import { labelsOf } from '../../capability/demonstrated.ts';
import { handOuting } from '../../capability/hand-outing.ts';
import type { Outing } from '../../capability/outing.ts';
import { addDays, daysBetween } from '../../earth/local-time.ts';
import type { CohortRecord } from '../../rank/readiness.ts';
import type { Rung } from './ladder.ts';
import { withOutings } from './question.ts';
import type { TrainingRules } from './rules.ts';
import { type PlaceQuestion, type StepPlace, suitableRoutes } from './suitable-routes.ts';

/** One outing with everyone who goes. Metres; the climb is at the upper end where it is held against the route's. */
export interface TrainingStep extends Pick<Rung, 'kind' | 'distanceM' | 'gainM' | 'growth'>, StepPlace {
  readonly date: string;
  readonly daysBeforeTrip: number;
  /** Beyond these a day would be a leap. */
  readonly mostDistanceM: number;
  readonly mostGainM: number;
  /** Class of ground that the step has to be on; `null`: any that fits. */
  readonly rockClass: string | null;
  readonly isLast: boolean;
  /** Of the last: what is left of it on the trip's date, as a share. */
  readonly kept: number | null;
  readonly stair: { readonly heightM: number; readonly times: number };
}

/** The record is up to today, the known routes are without the trip's own. */
export interface StepsQuestion extends Omit<PlaceQuestion, 'rung' | 'date' | 'rockClass'> {
  readonly today: string;
  /** The trip date that the rungs lead to. */
  readonly leadsTo: string;
  /** Class of ground that has to be walked once; `null`: none. */
  readonly needsClass: string | null;
  readonly rules: TrainingRules;
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

/** The rungs of a ladder as steps with dates and the places where they can be walked. */
export function stepsOf(rungs: readonly Rung[], question: StepsQuestion): readonly TrainingStep[] {
  const { record, today, leadsTo, needsClass, rules, design } = question;
  const { stairM } = design.training;
  const steps: TrainingStep[] = [];
  const walked: Outing[] = [];
  for (const [i, rung] of rungs.entries()) {
    const isLast = i === rungs.length - 1;
    const date = addDays(today, rung.day);
    const daysBeforeTrip = daysBetween(date, leadsTo);
    // Last but one, so that the hardest day is not also the first on such ground.
    const rockClass = i === Math.max(0, rungs.length - 2) ? needsClass : null;
    const place = suitableRoutes({ ...question, rung, date, rockClass, record: withOutings(record, walked) });
    const { kind, distanceM, gainM, growth, most } = rung;
    const step: TrainingStep = {
      ...{ date, daysBeforeTrip, kind, distanceM, gainM, rockClass, growth, isLast, ...place },
      mostDistanceM: most.distanceM,
      mostGainM: most.gainM,
      kept: isLast ? rules.keeps(daysBeforeTrip) : null,
      stair: { heightM: stairM, times: Math.ceil(gainM / stairM) },
    };
    steps.push(step);
    walked.push(asWalked(step, record));
  }
  return steps;
}
