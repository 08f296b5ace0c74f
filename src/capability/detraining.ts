import { type AgeBand, DESIGN, type Design } from '../design.ts';

/** Loss fitted to Coyle et al. 1984; the windows are design, shorter for minors, who lose more (Zheng et al. 2022). */
type Loss = Omit<Design['detraining'], 'rockClassDays' | 'rockClassOnceDays' | 'oldDays'>;

/** 1 up to `from`, 0 after `to`, and level at both ends, so that nothing jumps from one day to the next. */
function smoothFade(value: number, from: number, to: number): number {
  const u = Math.max(0, Math.min(1, (value - from) / (to - from)));
  return 1 - u * u * (3 - 2 * u);
}

/**
 * Share of what an outing showed that is still there so many days later, 0 to 1.
 *
 * Loss of aerobic capacity (1 − 0.159·(1 − e^(−t/22 d)), fitted to Coyle et al. 1984: −7 % at 12 days, −14 % at 56,
 * −16 % at 84) times the fading of the outing's own weight after the window (design).
 * @example remaining(28, 'adult') // 0.8855
 * @throws RangeError on a negative number of days.
 */
export function remaining(days: number, ageBand: AgeBand, loss: Loss = DESIGN.detraining): number {
  if (!(days >= 0)) throw new RangeError(`an outing ${days} days before the trip is not in the past`);
  if (days === 0) return 1; // also where a program sets a window or time constant of 0
  const { lossMax, lossDays, windowDaysMinor, windowDaysAdult } = loss;
  const windowDays = ageBand === 'adult' ? windowDaysAdult : windowDaysMinor;
  const kept = 1 - lossMax * (1 - Math.exp(-days / lossDays));
  return kept * smoothFade(days, windowDays, 2 * windowDays);
}
