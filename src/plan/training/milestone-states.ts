import { type Milestone, milestonesOn } from '../../capability/milestones.ts';
import type { Design } from '../../design.ts';
import { daysBetween } from '../../earth/local-time.ts';
import type { CriterionName } from '../../rank/criteria/index.ts';
import type { Fit } from '../../rank/fit.ts';
import type { Readiness } from '../../rank/readiness.ts';
import type { TrainingTarget } from './target.ts';

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

interface DatedSize {
  readonly date: string;
  readonly distanceM: number;
  readonly gainM: number;
}

/** The first step that brings a milestone; to keep one that fades, the last. */
function stepFor(
  name: Milestone['name'],
  isAgain: boolean,
  steps: readonly DatedSize[],
  target: TrainingTarget,
): string | null {
  const isFar = ({ distanceM }: DatedSize) => distanceM >= target.distanceM;
  const isHigh = ({ gainM }: DatedSize) => gainM >= target.gainM;
  const has = {
    distanceDay: isFar,
    gainDay: isHigh,
    bothDay: (step: DatedSize) => isFar(step) && isHigh(step),
  }[name];
  const found = isAgain ? steps.findLast(has) : steps.find(has);
  return (found ?? steps.at(-1))?.date ?? null;
}

export interface MilestoneQuestion {
  /** Of the record up to today, for the trip's date. */
  readonly readiness: Readiness;
  /** Of the route on the trip's date, from that record. */
  readonly fit: Fit;
  readonly target: TrainingTarget;
  readonly today: string;
  readonly steps: readonly DatedSize[];
  readonly design: Design;
}

export function milestoneStates(question: MilestoneQuestion): readonly MilestoneState[] {
  const { readiness, fit, target, today, steps, design } = question;
  const { value, high } = fit.route.measures.gainM ?? { value: target.gainM, high: target.gainM };
  const demand = { distanceM: target.distanceM, gainM: value, gainHighM: high };
  const past = readiness.past.filter((outing) => daysBetween(outing.date, today) >= 0);
  return milestonesOn(
    past,
    readiness.goers,
    today,
    design,
  )(demand).map(({ name, done, date }) => {
    const isEnough = NEEDS[name].every(
      (wanted) => fit.judgements.find((judgement) => judgement.name === wanted)?.verdict === 'fits',
    );
    const state = done ? (isEnough ? 'done' : 'again') : isEnough ? 'notNeeded' : 'planned';
    const by = state === 'again' || state === 'planned' ? stepFor(name, done, steps, target) : null;
    return { name, state, date, by };
  });
}
