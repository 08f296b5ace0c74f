import type { Approach } from '../approach/approach.ts';
import type { AgeBand, Design } from '../design.ts';
import { addDays, localTimeMs } from '../earth/local-time.ts';
import { MS_PER_MIN } from '../units.ts';
import type { Moment, Timeline } from './walk-day.ts';

/** The drive there and back around a day. Times in ms since 1970; `null`: the drive is not known. */
export interface Journey {
  readonly approach: Approach;
  /** Leaving the meeting place, so that everyone is ready at the trailhead by the start. */
  readonly departMs: number | null;
  /** Gathering there, before that, and getting up. */
  readonly meetMs: number | null;
  readonly wakeMs: number | null;
  readonly home: Moment | null;
  /** From the usual bedtime to getting up for the departure. */
  readonly sleepH: number | null;
  readonly leastSleepH: number;
  readonly tooLittleSleep: boolean;
}

const MOST_DRIVE_MIN = 24 * 60;

/** Whether this is a drive; one of over a day is a slip in the meeting place. `NaN`: not known. */
export const isDrive = (roadMin: number): boolean => roadMin <= MOST_DRIVE_MIN;

/** Minutes from getting up to the start, the drive apart. */
export const preparingMin = ({ readyMin, gatherMin, getUpMin }: Design['journey']): number =>
  readyMin + gatherMin + getUpMin;

/** Getting up for a start, ms since 1970. */
export const wakingMs = (startMs: number, roadMin: number, settings: Design['journey']): number =>
  startMs - (roadMin + preparingMin(settings)) * MS_PER_MIN;

/** When people are asleep before a date, ms since 1970: a bedtime after midnight is on the day itself. */
export function bedMs(date: string, zone: string, { bedtime }: Design['journey']): number {
  return localTimeMs(bedtime < '12:00' ? date : addDays(date, -1), bedtime, zone);
}

/** Departure, return and the night before: a pre-dawn start after a long drive is a short night. */
export function journeyOf(
  timeline: Timeline,
  end: Moment,
  approach: Approach,
  ageBand: AgeBand,
  design: Design['journey'],
): Journey {
  const leastSleepH = design.leastSleepH[ageBand];
  const { roadMin } = approach;
  if (roadMin === null || !isDrive(roadMin)) {
    const notKnown = { departMs: null, meetMs: null, wakeMs: null, home: null, sleepH: null };
    return { approach, ...notKnown, leastSleepH, tooLittleSleep: false };
  }
  const departMs = timeline.startMs - (roadMin + design.readyMin) * MS_PER_MIN;
  const meetMs = departMs - design.gatherMin * MS_PER_MIN;
  const driveMs = (roadMin + design.packUpMin) * MS_PER_MIN;
  const wakeMs = wakingMs(timeline.startMs, roadMin, design);
  const sleepH = Math.max(0, wakeMs - bedMs(timeline.date, timeline.zone, design)) / MS_PER_MIN / 60;
  const home = { p10Ms: end.p10Ms + driveMs, p50Ms: end.p50Ms + driveMs, p90Ms: end.p90Ms + driveMs };
  return {
    approach,
    departMs,
    meetMs,
    wakeMs,
    home,
    sleepH,
    leastSleepH,
    tooLittleSleep: sleepH < leastSleepH,
  };
}
