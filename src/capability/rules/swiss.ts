import { MIN_PER_H } from '../../units.ts';
import { type HikingRule, type Leg, slopeRatio, summed } from './leg.ts';

// Coefficients C0 to C15 as published in the open code of the Swiss federal geoportal; the formula goes back to
// G. and S. Weber (1980s, more than 150 walked sections) and is the Swiss hiking federation's.
const C = [
  14.271, 3.6991, 2.5922, -1.4384, 0.32105, 0.81542, -0.090261, -0.20757, 0.010192, 0.028588, -0.00057466,
  -0.0021842, 1.5176e-5, 8.6894e-5, -1.3584e-7, -1.4026e-6,
] as const;

/** From here on the federal code leaves the polynomial (official validity ±25 %). */
const LINEAR_FROM_TENTHS = 4;
const UP_MIN_PER_TENTH = 17;
const DOWN_MIN_PER_TENTH = 9;

/**
 * Minutes a kilometre from the signed slope in tenths: 10 % is 1, not 0.1 and not 10.
 * @example swissMinPerKm(0) // 14.271: 4.2 km/h
 */
export function swissMinPerKm(slopeTenths: number): number {
  if (slopeTenths >= LINEAR_FROM_TENTHS) return UP_MIN_PER_TENTH * slopeTenths;
  if (slopeTenths <= -LINEAR_FROM_TENTHS) return -DOWN_MIN_PER_TENTH * slopeTenths;
  return C.reduceRight((sum, coefficient) => sum * slopeTenths + coefficient, 0);
}

function swissMin(leg: Leg): number {
  // Straight up or down the linear branch depends on the height alone.
  if (leg.horizontalM === 0) return (UP_MIN_PER_TENTH * leg.climbM + DOWN_MIN_PER_TENTH * leg.dropM) / 100;
  return (leg.horizontalM / 1000) * swissMinPerKm(10 * slopeRatio(leg));
}

export const swiss: HikingRule = summed(swissMin);

/** Units an hour, where a unit is a kilometre along or 100 m up or down. */
const MUNTER_RATE = { up: 4, levelOrDown: 6 } as const;

/**
 * Time of a length and a height, up or down, at so many units an hour; minutes.
 * W. Munter, practice of alpine guides (read in secondary sources only).
 * @example munterMin(9500, 500, 4) // 217.5: 3 h 38 min
 */
export function munterMin(horizontalM: number, heightM: number, unitsPerH: number): number {
  return (MIN_PER_H * (horizontalM / 1000 + heightM / 100)) / unitsPerH;
}

export const munter: HikingRule = summed(({ horizontalM, climbM, dropM }) =>
  munterMin(horizontalM, climbM + dropM, climbM > 0 ? MUNTER_RATE.up : MUNTER_RATE.levelOrDown),
);
