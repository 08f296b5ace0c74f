import { MIN_PER_H } from '../../units.ts';
import type { HikingRule, Leg } from './leg.ts';

/**
 * Walking time of one whole leg by DIN 33466, minutes, no breaks: the longer of the time for the length and the
 * time for the height, and half the shorter. A leg may hold climb and drop at once; the standard is made for
 * whole legs, and cut into pieces the same way takes up to a third longer.
 * DIN 33466 (signposting of hiking paths): 4 km/h; 300 m/h up; 500 m/h down.
 * @example din33466Min({ horizontalM: 8000, climbM: 900, dropM: 0 }) // 240: 4 h
 */
export function din33466Min(leg: Leg): number {
  const lengthH = leg.horizontalM / 4000;
  const heightH = leg.climbM / 300 + leg.dropM / 500;
  return MIN_PER_H * (Math.max(lengthH, heightH) + Math.min(lengthH, heightH) / 2);
}

/** DIN 33466 leg by leg. */
export const din33466: HikingRule = (legs) => legs.reduce((sumMin, leg) => sumMin + din33466Min(leg), 0);
