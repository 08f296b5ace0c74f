import { remaining } from '../../capability/detraining.ts';
import { effortKj } from '../../capability/effort.ts';
import { handOuting } from '../../capability/hand-outing.ts';
import type { AgeBand, Design } from '../../design.ts';

/** The rules of the training plan for one age band, as they are said. */
export type StatedRules = Readonly<ReturnType<typeof statedRules>>;

/** The same, with what they reckon by. */
export type TrainingRules = Readonly<ReturnType<typeof trainingRules>>;

/** Any day will do: the work does not depend on it. */
const SOME_DAY = '2000-01-01';

/** The rules in force; days are whole, intervals never below the least that the settings name. */
export function statedRules(ageBand: AgeBand, { training, limits }: Design) {
  const isMinor = ageBand !== 'adult';
  const step = isMinor ? training.stepMinor : training.stepAdult;
  const daysBetween = Math.ceil(training.daysBetween);
  const leastRecoveryDays = Math.ceil(training.leastRecoveryDays);
  return {
    /** Largest step, as a multiple of what is shown on its day: the design's, and never beyond a stretch. */
    mostGrowth: Math.min(1 + step, isMinor ? limits.stretchMinor : limits.stretchAdult),
    assessment: isMinor ? training.assessmentMinor : training.assessmentAdult,
    easedShare: isMinor ? training.easedMinor : training.easedAdult,
    daysBetween,
    mostDaysBetween: Math.max(daysBetween, Math.floor(training.mostDaysBetween)),
    leastRecoveryDays,
    mostRecoveryDays: Math.max(leastRecoveryDays, Math.floor(training.mostRecoveryDays)),
    /** Training days to one route at most. */
    mostSteps: Math.floor(training.mostSteps),
    weekday: training.weekday,
    horizonDays: Math.floor(training.horizonDays),
  };
}

export function trainingRules(ageBand: AgeBand, design: Design) {
  const kept = new Map<number, number>();
  return {
    ...statedRules(ageBand, design),
    /** Share of what a day showed that is left so many days later. */
    keeps: (days: number): number => {
      const known = kept.get(days);
      if (known !== undefined) return known;
      const share = remaining(days, ageBand, design.detraining);
      kept.set(days, share);
      return share;
    },
    /** Work of a day there and back, kJ for one person. */
    effortOf: (distanceM: number, gainM: number): number =>
      effortKj(handOuting({ date: SOME_DAY, distanceM, gainM }).quantities, ageBand, design),
  };
}
