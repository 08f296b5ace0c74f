import type { Design } from '../design.ts';
import { localTimeMs } from '../earth/local-time.ts';
import { MS_PER_MIN } from '../units.ts';

export interface Deadline {
  /** When everyone must be below treeline, ms since 1970. */
  readonly atMs: number;
  /** The project's own deadline for the day, printed beside a program's. */
  readonly usualMs: number;
  readonly setBy: 'usual' | 'program';
  /** Where the usual one comes from, for people. */
  readonly usualText: string;
}

export const usualDeadlineMs = (
  byClockMs: number,
  solarNoonMs: number,
  { beforeSolarNoonMin }: Design['stormWindow'],
): number => Math.min(byClockMs, solarNoonMs - beforeSolarNoonMin * MS_PER_MIN);

/**
 * The deadline of a day: the earlier of 12:00 local and one hour before solar noon (off high open ground by midday
 * in storm season: common practice, no source), unless the program sets another.
 */
export function deadlineOf(
  date: string,
  zone: string,
  solarNoonMs: number,
  programClock: string | null,
  design: Design['stormWindow'],
): Deadline {
  const byClockMs = localTimeMs(date, design.latestClock, zone);
  const usualMs = usualDeadlineMs(byClockMs, solarNoonMs, design);
  const usualText =
    usualMs < byClockMs
      ? `${design.beforeSolarNoonMin} min before the sun is highest`
      : 'midday by the clock';
  if (programClock === null) return { atMs: usualMs, usualMs, setBy: 'usual', usualText };
  return { atMs: localTimeMs(date, programClock, zone), usualMs, setBy: 'program', usualText };
}
