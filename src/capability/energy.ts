import { type Leg, slopeRatio } from './rules/leg.ts';

const MIN_GRADE_PERCENT = -40;
const MAX_GRADE_PERCENT = 45;

/**
 * Metabolic rate of walking, W per kg of body and pack together, from speed along the slope (m/s, 0 or more) and
 * signed grade (percent: 10 is 10 %). Grades beyond the studied range count as its ends.
 *
 * LCDA graded: Looney, Santee, Hansen, Bonventre, Chalmers, Potter 2019, Med Sci Sports Exerc 51(9):1954-1960;
 * 95 adults, up to 1.96 m/s, −40 to +45 %; standard error 0.42 W/kg on slopes. Day packs only: under-estimates
 * heavy loads. No model here is validated on minors.
 * @example lcdaWattPerKg(1, 0) // 3.62
 * @throws RangeError on a negative speed.
 */
export function lcdaWattPerKg(speedMS: number, gradePercent: number): number {
  if (!(speedMS >= 0)) throw new RangeError(`walking speed ${speedMS} m/s is not 0 or more`);
  const S = speedMS;
  const G = Math.max(MIN_GRADE_PERCENT, Math.min(MAX_GRADE_PERCENT, gradePercent));
  // The inner base is 1.1: copies that print 1.11 are wrong.
  return 1.44 + 1.94 * S ** 0.43 + 0.24 * S ** 4 + 0.34 * S * G * (1 - 1.05 ** (1 - 1.1 ** (G + 32)));
}

/**
 * Metabolic work of a leg up, down or level walked in so many minutes, kJ, for `massKg` of body and pack.
 * @throws RangeError where a leg of some length has no time.
 */
export function legWorkKj(leg: Leg, minutes: number, massKg: number): number {
  const heightM = leg.climbM + leg.dropM;
  if (leg.horizontalM + heightM === 0 && minutes === 0) return 0;
  if (!(minutes > 0))
    throw new RangeError(`a leg of ${leg.horizontalM} m cannot be walked in ${minutes} min`);
  const seconds = 60 * minutes;
  // The treadmills of the study measured speed along the belt, so along the slope.
  const speedMS = Math.hypot(leg.horizontalM, heightM) / seconds;
  return (lcdaWattPerKg(speedMS, 100 * slopeRatio(leg)) * seconds * massKg) / 1000;
}
