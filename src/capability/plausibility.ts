import type { NoteOf } from '../notes.ts';
import type { HandRecord } from './hand-outing.ts';
import { tradeRuleMin } from './rules/trade-rule.ts';

type Doubt = NoteOf<'outing-implausible'>;

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
export function implausible(record: HandRecord): Doubt[] {
  const { distanceM, gainM } = record;
  const movingMin = record.movingMin ?? null;
  const topM = record.maxElevationM ?? null;
  const doubts: Doubt[] = [];
  const add = (values: Doubt['values']) => doubts.push({ code: 'outing-implausible', values });
  if (distanceM > 0 && distanceM < SHORTEST_M && record.repeats !== true) {
    add({ found: 'short', distanceM });
  }
  if (distanceM > LONGEST_M) add({ found: 'long', distanceM });
  if (gainM > GREATEST_CLIMB_M) add({ found: 'bigClimb', gainM });
  if (distanceM > 0 && gainM / (distanceM / 2) > STEEPEST_MEAN_RATIO && record.repeats !== true) {
    add({ found: 'steep', gainM, distanceM });
  }
  if (topM !== null && gainM > topM - LOWEST_GROUND_M) {
    add({ found: 'belowGround', gainM, topM });
  }
  const ruleMin = tradeRuleMin(distanceM, gainM);
  if (movingMin !== null && ruleMin > 0) {
    if (movingMin < FASTEST_SHARE * ruleMin) add({ found: 'fast', movingMin });
    if (movingMin > SLOWEST_SHARE * ruleMin) add({ found: 'slow', movingMin });
  }
  return doubts;
}
