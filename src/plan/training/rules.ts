import { remaining } from '../../capability/detraining.ts';
import { effortKj } from '../../capability/effort.ts';
import { handOuting } from '../../capability/hand-outing.ts';
import type { AgeBand, Design } from '../../design.ts';

/** The rules of the training plan for one age band, as they are said. */
export interface StatedRules {
  /** Largest step, as a multiple of what is shown on its day: the design's, and never beyond a stretch. */
  readonly mostGrowth: number;
  readonly assessment: { readonly distanceM: number; readonly gainM: number };
  readonly easedShare: number;
  readonly daysBetween: number;
  readonly mostDaysBetween: number;
  readonly leastRecoveryDays: number;
  readonly mostRecoveryDays: number;
  readonly weekday: number;
  readonly horizonDays: number;
}

export interface TrainingRules extends StatedRules {
  /** Share of what a day showed that is left so many days later. */
  readonly keeps: (days: number) => number;
  /** Work of a day there and back, kJ for one person. */
  readonly effortOf: (distanceM: number, gainM: number) => number;
}

/** Any day will do: the work does not depend on it. */
const SOME_DAY = '2000-01-01';

/** The rules in force; days are whole, intervals never below the least that the settings name. */
export function statedRules(ageBand: AgeBand, { training, limits }: Design): StatedRules {
  const isMinor = ageBand !== 'adult';
  const step = isMinor ? training.stepMinor : training.stepAdult;
  const daysBetween = Math.ceil(training.daysBetween);
  const leastRecoveryDays = Math.ceil(training.leastRecoveryDays);
  return {
    mostGrowth: Math.min(1 + step, isMinor ? limits.stretchMinor : limits.stretchAdult),
    assessment: isMinor ? training.assessmentMinor : training.assessmentAdult,
    easedShare: isMinor ? training.easedMinor : training.easedAdult,
    daysBetween,
    mostDaysBetween: Math.max(daysBetween, Math.floor(training.mostDaysBetween)),
    leastRecoveryDays,
    mostRecoveryDays: Math.max(leastRecoveryDays, Math.floor(training.mostRecoveryDays)),
    weekday: training.weekday,
    horizonDays: Math.floor(training.horizonDays),
  };
}

export function trainingRules(ageBand: AgeBand, design: Design): TrainingRules {
  const kept = new Map<number, number>();
  return {
    ...statedRules(ageBand, design),
    keeps: (days) => {
      const known = kept.get(days);
      if (known !== undefined) return known;
      const share = remaining(days, ageBand, design.detraining);
      kept.set(days, share);
      return share;
    },
    effortOf: (distanceM, gainM) =>
      effortKj(handOuting({ date: SOME_DAY, distanceM, gainM }).quantities, ageBand, design),
  };
}
