import { MIN_PER_H } from '../../units.ts';
import { type HikingRule, summed } from './leg.ts';

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
