import { MIN_PER_H } from '../../units.ts';
import { type HikingRule, type Leg, slopeRatio, summed } from './leg.ts';

// The rule knows no limit, and its time grows without one. A leg steeper than 45° takes the time of its rise at 45° (design).
const STEEPEST_SLOPE = 1;

/**
 * Walking speed on a path, km/h, from the signed slope as a ratio (rise over run); fastest at −0.05.
 * W. Tobler 1993, NCGIA Technical Report 93-1.
 */
export function toblerKmH(slope: number): number {
  return 6 * Math.exp(-3.5 * Math.abs(slope + 0.05));
}

function toblerMin(leg: Leg): number {
  const slope = Math.max(-STEEPEST_SLOPE, Math.min(STEEPEST_SLOPE, slopeRatio(leg)));
  const lengthM = Math.max(leg.horizontalM, (leg.climbM + leg.dropM) / STEEPEST_SLOPE);
  return (MIN_PER_H * lengthM) / 1000 / toblerKmH(slope);
}

/** Tobler's hiking function on path. For a lone walker: 30-45 % faster than the rules for groups. */
export const tobler: HikingRule = summed(toblerMin);
