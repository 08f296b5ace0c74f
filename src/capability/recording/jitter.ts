import { at, upperMedian } from '../../array.ts';
import type { Design } from '../../design.ts';
import { stepM } from '../../ingest/step-length.ts';
import { type Fix, onTheWay } from './line.ts';

/** Jitter is told from walking over steps of about this many seconds: at one second devices smooth it away (design). */
const STEP_S = 5;
/** Over a step of more seconds bends of the path look like jitter (design; 11 m at the trade's pace on level ground). */
const MOST_STEP_S = 10;
/** Fewer places to look at tell nothing (design). */
const LEAST_COUNT = 30;
/** Median length of a vector with two normal parts of spread 1 (Rayleigh): √(2 ln 2). */
const RAYLEIGH_MEDIAN = Math.sqrt(2 * Math.LN2);

/**
 * How far the bends of a recording may be the receiver's own, metres; 0 where its line counts as recorded.
 *
 * The error of a receiver wanders: from one fix to the next it changes by a variance of D seconds⁻¹ per axis, which
 * makes every step longer than it was, by D·Δt/(2 d²) of a step of d metres in Δt seconds (Ranacher et al. 2016, *Int.
 * J. Geogr. Inf. Sci.* 30(2):316–333: the error's variance and autocorrelation lengthen a distance; to first order).
 * D is read off the recording itself: the middle departure from a steady walk over three fixes, 2D·Δt where the changes
 * are independent. It holds for steps short against a bend; the middle one does not see the few at sharp turns.
 */
export function jitterM(fixes: readonly Fix[], limits: Design['recording']): number {
  const sparse: Fix[] = [];
  for (const fix of fixes) {
    const before = sparse.at(-1);
    if (before === undefined || fix.timeMs - before.timeMs >= STEP_S * 1000) sparse.push(fix);
  }
  const spreads: number[] = [];
  const speeds: number[] = [];
  sparse.forEach((b, i) => {
    const a = sparse[i - 1];
    const c = sparse[i + 1];
    if (a === undefined || c === undefined) return;
    const seconds = (c.timeMs - a.timeMs) / 1000;
    if (b.timeMs - a.timeMs > MOST_STEP_S * 1000 || c.timeMs - b.timeMs > MOST_STEP_S * 1000) return;
    const steady = onTheWay(a.point, c.point, (b.timeMs - a.timeMs) / (c.timeMs - a.timeMs));
    // The departure of the middle fix from a steady walk is half a second difference.
    spreads.push((2 * stepM(steady, b.point)) / Math.sqrt(seconds / 2));
    speeds.push(stepM(a.point, c.point) / seconds);
  });
  if (spreads.length < LEAST_COUNT) return limits.jitterUnknownM;
  const perSecond = (upperMedian(spreads) / RAYLEIGH_MEDIAN) ** 2 / 2;
  const stepS = upperMedian(fixes.slice(1).map(({ timeMs }, i) => (timeMs - at(fixes, i).timeMs) / 1000));
  const lengthening = perSecond / (2 * upperMedian(speeds) ** 2 * stepS);
  if (lengthening <= limits.jitterShare) return 0;
  return Math.min(limits.jitterMostM, Math.sqrt(perSecond * limits.jitterS));
}
