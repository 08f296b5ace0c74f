import { MIN_PER_H } from '../../units.ts';
import { type HikingRule, slopeRatio, summed } from './leg.ts';

const FLAT_M_PER_H = 5000;
const CLIMB_M_PER_H = 600;

/**
 * Walking time of a length and a climb, minutes; descent adds nothing.
 * @example naismithMin(8000, 900) // 186: 3.1 h
 */
export function naismithMin(horizontalM: number, climbM: number): number {
  return MIN_PER_H * (horizontalM / FLAT_M_PER_H + climbM / CLIMB_M_PER_H);
}

// W. W. Naismith 1892, Scottish Mountaineering Club Journal 2:136: an hour for every three miles on the map and one
// more for every 2,000 feet of ascent. In its usual metric rounding, 1.5 % faster. For fit men on good ground:
// 30-45 % faster than the rules for groups.
export const naismith: HikingRule = summed((leg) => naismithMin(leg.horizontalM, leg.climbM));

// Limits of the corrections as printed in the GRASS GIS r.walk manual: 5° and 12°.
const MODERATE_SLOPE = 0.0875;
const STEEP_SLOPE = 0.2125;
const CORRECTION_MIN_PER_M = 10 / 300;

/**
 * Langmuir's correction for the way down, minutes: −10 per 300 m of drop on 5-12°, +10 when steeper, else 0.
 * E. Langmuir 1984, Mountaincraft and Leadership.
 */
function langmuirDownMin(horizontalM: number, dropM: number): number {
  const slope = -slopeRatio({ horizontalM, climbM: 0, dropM });
  if (slope >= STEEP_SLOPE) return dropM * CORRECTION_MIN_PER_M;
  if (slope >= MODERATE_SLOPE) return -dropM * CORRECTION_MIN_PER_M;
  return 0;
}

/** Naismith's 5 km/h and 600 m/h with Langmuir's corrections (Langmuir 1984). For fit walkers. */
export const langmuir: HikingRule = summed(
  (leg) => naismithMin(leg.horizontalM, leg.climbM) + langmuirDownMin(leg.horizontalM, leg.dropM),
);

/**
 * Langmuir's time for a group, that of its slowest member, minutes: 4 km/h and 450 m/h, before any correction
 * for the way down. E. Langmuir 2013, Mountaincraft and Leadership, 4th edition.
 * @example langmuirGroupMin(16_000, 1350) // 420: 7 h
 */
export function langmuirGroupMin(horizontalM: number, climbM: number): number {
  return MIN_PER_H * (horizontalM / 4000 + climbM / 450);
}

/** The group formula with the same corrections for the way down (Langmuir 2013). */
export const langmuirGroup: HikingRule = summed(
  (leg) => langmuirGroupMin(leg.horizontalM, leg.climbM) + langmuirDownMin(leg.horizontalM, leg.dropM),
);
