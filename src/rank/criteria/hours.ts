import { at } from '../../array.ts';
import { isDrive, preparingMin, wakingMs } from '../../day/journey.ts';
import { MS_PER_MIN } from '../../units.ts';
import type { AnyReason, Criterion } from '../criterion.ts';
import type { Facts } from '../facts.ts';
import { type Missing, missingOf } from '../missing.ts';
import { answer, compare } from '../outcome.ts';
import { AS_RANKED, type Shift } from '../shift.ts';
import { curveOf, LEAST_VALUE } from '../value.ts';
import { FITS, INCOMPLETE, RULED_OUT, STRETCH } from '../verdict.ts';

const MIN_PER_H = 60;

/** So much beyond either limit is a stretch. */
const STRETCH_MIN = 60;

/** Value of the hours asleep as a share of what the age needs, where both limits are kept (design). */
const sleepValue = curveOf([
  [0, 0.2],
  [0.5, 0.5],
  [0.75, 0.9],
  [1, 1],
]);

/** The most that a stretch is worth (design). */
const STRETCH_VALUE = 0.4;

export type HoursReason = AnyReason &
  (
    | { readonly code: 'unknown'; readonly missing: Missing }
    | {
        /** `early`: woken before the age's limit; `long`: awake longer than a driver may be. */
        readonly code: 'noDrive' | 'within' | 'early' | 'long';
        readonly wakeMs: number;
        /** Of a slow day; without a drive, the return to the trailhead. */
        readonly homeMs: number;
        readonly earliestWakingMs: number;
        readonly mostAwakeH: number;
        readonly zone: string;
        readonly date: string;
      }
  );

/** The clock of a route's day, ms since 1970: getting up, being home from a slow day, the earliest that the age is woken. */
function clocksOf(facts: Facts) {
  const { day, approach, readiness, request } = facts;
  const { journey } = request.design;
  const fromMs = journey.earliestWakingH[readiness.ageBand] * MIN_PER_H * MS_PER_MIN;
  return {
    /** Minutes of the drive there; 0 where it is not known. */
    driveMin(i: number): number {
      const { roadMin } = approach(i);
      return roadMin !== null && isDrive(roadMin) ? roadMin : 0;
    },
    wakeMs: (i: number, driveMin: number, shift: Shift) => wakingMs(day.startMs(i, shift), driveMin, journey),
    /** Minutes from getting up to being home. */
    awakeMin: (i: number, driveMin: number, shift: Shift) =>
      preparingMin(journey) + 2 * driveMin + day.endMin(i, shift) + journey.packUpMin,
    earliestWakingMs: (i: number) => day.midnightMs(i) + fromMs,
  };
}

/**
 * The hours around the walk: when a group of this age is woken, and how long the driver has been awake at the end of the
 * drive home. Less sleep than the age needs rules nothing out and counts in the order.
 */
export const hours: Criterion<'hours', HoursReason> = {
  name: 'hours',
  unit: 'min',
  isShifted: true,
  over(facts) {
    const { day, readiness, request } = facts;
    const { mostAwakeH, leastSleepH } = request.design.journey;
    const needH = leastSleepH[readiness.ageBand];
    const clocks = clocksOf(facts);
    return (i, shift, out) => {
      const driveMin = clocks.driveMin(i);
      const wakeMs = clocks.wakeMs(i, driveMin, shift);
      const awakeMin = clocks.awakeMin(i, driveMin, shift);
      const earlyMin = (clocks.earliestWakingMs(i) - wakeMs) / MS_PER_MIN;
      const longMin = awakeMin - mostAwakeH * MIN_PER_H;
      const sleepH = Math.max(0, wakeMs - day.bedMs(i)) / MS_PER_MIN / MIN_PER_H;
      const value = needH > 0 ? sleepValue(sleepH / needH) : 1;
      const beyondMin = Math.max(earlyMin, longMin);
      if (Number.isNaN(beyondMin)) answer(out, 'unknown', INCOMPLETE, LEAST_VALUE);
      else if (beyondMin <= 0) answer(out, driveMin > 0 ? 'within' : 'noDrive', FITS, value);
      else {
        const isStretch = beyondMin <= STRETCH_MIN;
        const code = earlyMin >= longMin ? 'early' : 'long';
        answer(
          out,
          code,
          isStretch ? STRETCH : RULED_OUT,
          isStretch ? Math.min(value, STRETCH_VALUE) : LEAST_VALUE,
        );
      }
      compare(out, awakeMin, mostAwakeH * MIN_PER_H);
    };
  },
  reason({ facts, i, route }, { code }) {
    if (code === 'unknown') return { code, missing: missingOf(route) };
    const { table, request } = facts;
    const clocks = clocksOf(facts);
    const driveMin = clocks.driveMin(i);
    const wakeMs = clocks.wakeMs(i, driveMin, AS_RANKED);
    return {
      code: code as 'noDrive' | 'within' | 'early' | 'long',
      wakeMs,
      homeMs: wakeMs + clocks.awakeMin(i, driveMin, AS_RANKED) * MS_PER_MIN,
      earliestWakingMs: clocks.earliestWakingMs(i),
      mostAwakeH: request.design.journey.mostAwakeH,
      zone: at(table.zones, at(table.zoneAt, i)),
      date: request.date,
    };
  },
};
