import { MIN_PER_H } from '../../units.ts';
import { type HikingRule, summed } from './leg.ts';

/** Units an hour, where a unit is a kilometre along or 100 m up or down. */
export const MUNTER_RATE = { up: 4, levelOrDown: 6 } as const;

/**
 * Time of a length and a height, up or down, at so many units an hour; minutes.
 * W. Munter, practice of alpine guides (read in secondary sources only).
 * @example munterMin(9500, 500, 4) // 217.5: 3 h 38 min
 */
export function munterMin(horizontalM: number, heightM: number, unitsPerH: number): number {
  return (MIN_PER_H * (horizontalM / 1000 + heightM / 100)) / unitsPerH;
}

/** Munter's units on foot: 4 an hour up, 6 level or down. */
export const munter: HikingRule = summed(({ horizontalM, climbM, dropM }) =>
  munterMin(horizontalM, climbM + dropM, climbM > 0 ? MUNTER_RATE.up : MUNTER_RATE.levelOrDown),
);
