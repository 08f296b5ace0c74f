import type { Note } from '../errors.ts';
import type { HandRecord } from './hand-outing.ts';
import { tradeRuleMin } from './rules/trade-rule.ts';

// What a day on foot can be, on the generous side (design).
const FASTEST_SHARE = 0.35; // of the trade rule's time; the fastest real climb at hand took 0.41
const SLOWEST_SHARE = 5;
const LONGEST_M = 60_000;
const SHORTEST_M = 300;
const GREATEST_CLIMB_M = 3500;
const STEEPEST_MEAN_RATIO = 0.6; // of the climbing half of the way
/** Lowest ground that anyone starts from, metres: a climb cannot reach lower than its top less this. */
const LOWEST_GROUND_M = -430;

/**
 * What looks wrong in a day entered by hand, with the slip that would explain it; empty where nothing does. Figures
 * are left as they are: whoever entered them corrects or confirms them.
 */
export function implausible(record: HandRecord): Note[] {
  const { distanceM, gainM } = record;
  const movingMin = record.movingMin ?? null;
  const topM = record.maxElevationM ?? null;
  const found: Note[] = [];
  const add = (text: string) => found.push({ code: 'outing-implausible', text });
  if (distanceM > 0 && distanceM < SHORTEST_M && record.repeats !== true) {
    add(`${distanceM} m is a very short day: is the distance in kilometres or miles?`);
  }
  if (distanceM > LONGEST_M) add(`${distanceM} m is a very long day: is the distance right?`);
  if (gainM > GREATEST_CLIMB_M) add(`${gainM} m is a very big climb: is it in feet?`);
  if (distanceM > 0 && gainM / (distanceM / 2) > STEEPEST_MEAN_RATIO && record.repeats !== true) {
    add(`${gainM} m of climb in ${distanceM} m there and back is steeper than a path: is the climb in feet?`);
  }
  if (topM !== null && gainM > topM - LOWEST_GROUND_M) {
    add(
      `a climb of ${gainM} m to a top of ${topM} m would start below the lowest ground on Earth: check both`,
    );
  }
  const ruleMin = tradeRuleMin(distanceM, gainM);
  if (movingMin !== null && ruleMin > 0) {
    if (movingMin < FASTEST_SHARE * ruleMin) {
      add(`${movingMin} min is far too fast for the distance and the climb: is the time in hours?`);
    }
    if (movingMin > SLOWEST_SHARE * ruleMin) {
      add(
        `${movingMin} min of moving is very slow for the distance and the climb: were stops counted, or days?`,
      );
    }
  }
  return found;
}
