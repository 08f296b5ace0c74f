import type { TrainingRules } from './rules.ts';
import type { Amounts } from './target.ts';

/** Larger than rounding in floating point, far smaller than a step. */
const HAIR = 1e-9;

/**
 * The last big outing that is still worth the target when `kept` of it is left on the trip's date: distance and climb
 * over what is left, whole metres rounded up, and both a little larger where the route is more work than a day there
 * and back of its size.
 *
 * @param kept share that is left, above 0
 */
export function finalDay(target: Amounts, kept: number, effortOf: TrainingRules['effortOf']): Amounts {
  const dayOf = (scale: number) => {
    const distanceM = Math.ceil((scale * target.distanceM) / kept);
    const gainM = Math.ceil((scale * target.gainM) / kept);
    return { distanceM, gainM, effortKj: effortOf(distanceM, gainM) };
  };
  const wantedKj = (target.effortKj / kept) * (1 + HAIR);
  let low = 1;
  let high = 1;
  while (dayOf(high).effortKj < wantedKj && high < 64) high *= 2;
  if (high === 1) return dayOf(1);
  for (let i = 0; i < 40; i += 1) {
    const middle = (low + high) / 2;
    if (dayOf(middle).effortKj >= wantedKj) high = middle;
    else low = middle;
  }
  return dayOf(high);
}
