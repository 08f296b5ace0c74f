import { at } from '../../array.ts';
import { isDrive, wakingMs } from '../../day/journey.ts';
import { MS_PER_MIN } from '../../units.ts';
import type { AnyReason, Criterion } from '../criterion.ts';
import { type Missing, missingOf } from '../missing.ts';
import { answer, compare } from '../outcome.ts';
import { AS_RANKED } from '../shift.ts';
import { curveOf, LEAST_VALUE } from '../value.ts';
import { FITS, INCOMPLETE, RULED_OUT, STRETCH } from '../verdict.ts';

const MIN_PER_H = 60;

/** So much beyond either limit is a stretch. */
const STRETCH_MIN = 60;

/** Value of the hours asleep as a share of what the age needs, where both limits are kept (design). */
const sleepValue = curveOf([
  [0, 0.2],
  [0.5, 0.4],
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

/** One day from waking to the return of a slow day; minutes of both limits that it goes beyond, below 0 within them. */
function dayHours(facts: Parameters<(typeof hours)['over']>[0]) {
  const { day, approach, readiness, request } = facts;
  const { journey } = request.design;
  const wakingFromMs = journey.earliestWakingH[readiness.ageBand] * MIN_PER_H * MS_PER_MIN;
  return (i: number) => {
    const { roadMin } = approach(i);
    const isKnown = roadMin !== null && isDrive(roadMin);
    const drivenMin = isKnown ? roadMin : 0;
    const startMs = day.startMs(i, AS_RANKED);
    const wakeMs = wakingMs(startMs, drivenMin, journey);
    const awayMin = day.endMin(i, AS_RANKED) + journey.packUpMin + drivenMin;
    const homeMs = startMs + awayMin * MS_PER_MIN;
    const earliestWakingMs = day.midnightMs(i) + wakingFromMs;
    const awakeMin = (homeMs - wakeMs) / MS_PER_MIN;
    return {
      ...{ isKnown, wakeMs, homeMs, earliestWakingMs, awakeMin },
      earlyMin: (earliestWakingMs - wakeMs) / MS_PER_MIN,
      longMin: awakeMin - journey.mostAwakeH * MIN_PER_H,
      sleepH: Math.max(0, wakeMs - day.bedMs(i)) / MS_PER_MIN / MIN_PER_H,
    };
  };
}

/**
 * The hours around the walk: when a group of this age is woken, and how long the driver has been awake at the end of the
 * drive home. Less sleep than the age needs rules nothing out and counts in the order. The hours are those of the start
 * as it is planned: a slower trial is no other night.
 */
export const hours: Criterion<'hours', HoursReason> = {
  name: 'hours',
  unit: 'min',
  isShifted: false,
  over(facts) {
    const { journey } = facts.request.design;
    const hoursAt = dayHours(facts);
    const leastSleepH = journey.leastSleepH[facts.readiness.ageBand];
    return (i, _shift, out) => {
      const { isKnown, awakeMin, earlyMin, longMin, sleepH } = hoursAt(i);
      const value = leastSleepH > 0 ? sleepValue(sleepH / leastSleepH) : 1;
      const beyondMin = Math.max(earlyMin, longMin);
      if (Number.isNaN(beyondMin)) answer(out, 'unknown', INCOMPLETE, LEAST_VALUE);
      else if (beyondMin <= 0) answer(out, isKnown ? 'within' : 'noDrive', FITS, value);
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
      compare(out, awakeMin, journey.mostAwakeH * MIN_PER_H);
    };
  },
  reason({ facts, i, route }, { code }) {
    if (code === 'unknown') return { code, missing: missingOf(route) };
    const { wakeMs, homeMs, earliestWakingMs } = dayHours(facts)(i);
    const { table, request } = facts;
    return {
      code: code as 'noDrive' | 'within' | 'early' | 'long',
      wakeMs,
      homeMs,
      earliestWakingMs,
      mostAwakeH: request.design.journey.mostAwakeH,
      zone: at(table.zones, at(table.zoneAt, i)),
      date: request.date,
    };
  },
};
